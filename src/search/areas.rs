//! Areas of the World Geographical Scheme for Recording Plant Distributions, by code or name.
//!
//! The scheme (Brummitt 2001, edition 2) has continents (level 1, one digit), regions
//! (level 2, two digits) and botanical countries (level 3, letters). The catalogue records
//! native ranges at level 2; a country asked for is answered by the region that holds it.

use std::collections::BTreeMap;

use super::fold;
use crate::diagnostic::nearest;

/// What a person means by an area: one or more codes of level 1 or 2.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Area {
    /// The codes, any of which a plant may be native to.
    pub codes: Vec<String>,
    /// The name to show: of the area that answers, which may be wider than the one asked for.
    pub name: String,
    /// Whether the area that answers is wider than the one asked for.
    pub wider: bool,
}

/// The scheme, read once.
#[derive(Debug)]
pub struct Areas {
    /// By code.
    areas: BTreeMap<String, Entry>,
    /// Sorted words of a name → code, levels 1 and 2 before 3 where names are the same.
    by_name: BTreeMap<Vec<String>, String>,
}

#[derive(Debug)]
struct Entry {
    level: u8,
    name: String,
    parent: String,
}

const TABLE: &str = include_str!("../../data/wgsrpd.csv");

/// Names in daily use that the scheme words otherwise, with the codes that make them up.
const DAILY: &[(&str, &[&str], &str)] = &[
    ("asia", &["3", "4"], "Asia"),
    ("asian", &["3", "4"], "Asia"),
    ("tropical asia", &["4"], "Asia-Tropical"),
    ("temperate asia", &["3"], "Asia-Temperate"),
    ("southeast asia", &["41", "42", "43"], "Indo-China, Malesia and Papuasia"),
    ("southeast asian", &["41", "42", "43"], "Indo-China, Malesia and Papuasia"),
    ("south east asia", &["41", "42", "43"], "Indo-China, Malesia and Papuasia"),
    ("south asia", &["40"], "Indian Subcontinent"),
    ("east asia", &["36", "37", "38"], "China, Mongolia and Eastern Asia"),
    ("east asian", &["36", "37", "38"], "China, Mongolia and Eastern Asia"),
    ("african", &["2"], "Africa"),
    ("tropical africa", &["22", "23", "24", "25", "26"], "Tropical Africa"),
    ("west africa", &["22", "23"], "West and West-Central Tropical Africa"),
    ("west african", &["22", "23"], "West and West-Central Tropical Africa"),
    ("european", &["1"], "Europe"),
    ("australian", &["50"], "Australia"),
    ("indian", &["40"], "Indian Subcontinent"),
    ("chinese", &["36"], "China"),
    ("brazilian", &["84"], "Brazil"),
    ("america", &["7", "8"], "the Americas"),
    ("american", &["7", "8"], "the Americas"),
    ("americas", &["7", "8"], "the Americas"),
    ("north america", &["7"], "Northern America"),
    ("north american", &["7"], "Northern America"),
    ("south america", &["82", "83", "84", "85"], "South America"),
    ("south american", &["82", "83", "84", "85"], "South America"),
    ("central american", &["80"], "Central America"),
    ("usa", &["73", "74", "75", "76", "77", "78"], "the United States"),
    ("united states", &["73", "74", "75", "76", "77", "78"], "the United States"),
    ("canada", &["71", "72"], "Western and Eastern Canada"),
    ("new guinea", &["43"], "Papuasia"),
    ("united kingdom", &["10"], "Northern Europe"),
    ("russia", &["14", "30", "31"], "Eastern Europe, Siberia and Russian Far East"),
];

impl Areas {
    /// Reads the scheme that is carried in the program.
    pub fn read() -> Self {
        let mut areas = BTreeMap::new();
        let mut by_name = BTreeMap::new();
        let mut table = csv::Reader::from_reader(TABLE.as_bytes());
        // The table is carried in the program and read whole by a test: every record is good.
        for record in table.records().flatten() {
            let cell = |i| record.get(i).unwrap_or_default().to_owned();
            let (level, code, name, parent) = (cell(0), cell(1), cell(2), cell(3));
            by_name.entry(sorted_words(&name)).or_insert_with(|| code.clone());
            areas.insert(code, Entry { level: level.parse().unwrap_or(3), name, parent });
        }
        Self { areas, by_name }
    }

    /// The area meant by a code (`42`, `4`), a name of the scheme in any word order, or a
    /// name in daily use.
    pub fn find(&self, text: &str) -> Option<Area> {
        let trimmed = text.trim();
        if let Some(area) = self.answer(trimmed) {
            return Some(area);
        }
        let words = fold::words(trimmed);
        let joined = words.join(" ");
        if let Some((_, codes, name)) = DAILY.iter().find(|(daily, _, _)| *daily == joined) {
            let codes = codes.iter().map(|c| (*c).to_owned()).collect();
            return Some(Area { codes, name: (*name).to_owned(), wider: false });
        }
        self.answer(self.by_name.get(&sorted_words(trimmed))?)
    }

    fn answer(&self, code: &str) -> Option<Area> {
        let entry = self.areas.get(code)?;
        if entry.level < 3 {
            return Some(Area { codes: vec![code.to_owned()], name: entry.name.clone(), wider: false });
        }
        let region = self.areas.get(&entry.parent)?;
        // A region of one country is that country.
        let alone = self.areas.values().filter(|e| e.parent == entry.parent).count() == 1;
        Some(Area { codes: vec![entry.parent.clone()], name: region.name.clone(), wider: !alone })
    }

    /// The name of a code of any level.
    pub fn name(&self, code: &str) -> Option<&str> {
        self.areas.get(code).map(|e| e.name.as_str())
    }

    /// Names near a text that is no area, the best first.
    pub fn near(&self, text: &str) -> Vec<String> {
        let daily = DAILY.iter().map(|(name, _, _)| *name);
        nearest(text, self.areas.values().map(|e| e.name.as_str()).chain(daily), 3)
    }
}

fn sorted_words(name: &str) -> Vec<String> {
    let mut words = fold::words(name);
    words.sort();
    words
}
