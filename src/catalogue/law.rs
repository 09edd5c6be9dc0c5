//! What laws and official registers say about a taxon. Always shown with its dates.

use super::Row;
use super::plant::{TaxonId, unknown_word};
use super::vocabulary::vocabulary;
use crate::diagnostic::Findings;

vocabulary!(
    /// Whether an entry is law or only a register.
    LegalStanding {
        /// A statute, regulation or official order restricts keeping or trade.
        Law = "law",
        /// A law restricts release into nature only; keeping is not touched by it.
        ReleaseLaw = "release-law",
        /// A register lists the taxon as alien or invasive; that is not law.
        Register = "register",
    }
);

/// One row of `legal.csv`. Absence of a row never means that a plant is lawful.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LegalEntry {
    /// The name as the list writes it.
    pub name_as_listed: String,
    /// The taxon of the catalogue that the entry covers.
    pub taxon: TaxonId,
    /// ISO 3166 code of a country or part of one, or `EU`.
    pub jurisdiction: String,
    /// Law or register.
    pub standing: LegalStanding,
    /// What is restricted, in our words.
    pub effect: String,
    /// The instrument.
    pub instrument: String,
    /// Where in the instrument, or how complete the list carried is.
    pub provision: String,
    /// From when, as far as the source says.
    pub in_force_from: String,
    /// The day on which the source was checked, ISO 8601.
    pub checked_on: String,
    /// Where the entry comes from.
    pub source: String,
}

/// Members of the European Union, ISO 3166; its list binds them (Regulation (EU) 1143/2014).
const EU_MEMBERS: &[&str] = &[
    "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT", "LT",
    "LU", "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK",
];

impl LegalEntry {
    /// The columns of `legal.csv`, in file order.
    pub const COLUMNS: &'static [&'static str] = &[
        "nameAsListed",
        "taxonID",
        "jurisdiction",
        "standing",
        "effect",
        "instrument",
        "provision",
        "inForceFrom",
        "checkedOn",
        "sourceKey",
    ];

    /// Reads a row; `None` when anything in it is wrong, all of it reported.
    pub fn from_row(row: &Row, findings: &mut Findings) -> Option<Self> {
        let standing = row.cell("standing");
        let parsed = LegalStanding::from_word(standing.text);
        if parsed.is_none() {
            findings.push(unknown_word(&standing, "standing", standing.text, LegalStanding::WORDS));
        }
        for column in ["nameAsListed", "jurisdiction", "effect", "instrument", "inForceFrom", "checkedOn"] {
            let cell = row.cell(column);
            if cell.text.is_empty() {
                findings.push(cell.finding(format!("`{column}` is empty")));
            }
        }
        let text = |column: &str| row.text(column).to_owned();
        Some(Self {
            name_as_listed: text("nameAsListed"),
            taxon: TaxonId(text("taxonID")),
            jurisdiction: text("jurisdiction"),
            standing: parsed?,
            effect: text("effect"),
            instrument: text("instrument"),
            provision: text("provision"),
            in_force_from: text("inForceFrom"),
            checked_on: text("checkedOn"),
            source: text("sourceKey"),
        })
    }

    /// Whether the entry binds someone in `place`; see [`covers`].
    pub fn touches(&self, place: &str) -> bool {
        covers(&self.jurisdiction, place)
    }
}

/// Whether a law of `jurisdiction` binds someone in `place`: the same code, a part of the
/// place, the country it is part of, or the Union it is a member of.
pub fn covers(jurisdiction: &str, place: &str) -> bool {
    let country = |code: &str| code.split('-').next().unwrap_or_default().to_owned();
    let same = jurisdiction == place;
    let part_of_place = jurisdiction.starts_with(&format!("{place}-"));
    let place_is_part = country(place) == jurisdiction;
    let union = jurisdiction == "EU" && EU_MEMBERS.contains(&country(place).as_str());
    same || part_of_place || place_is_part || union
}
