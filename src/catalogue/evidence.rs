//! Where values come from: claims about a trait, and the sources they rest on.

use super::plant::{TaxonId, unknown_word};
use super::vocabulary::vocabulary;
use super::{Plant, Row};
use crate::diagnostic::Findings;
use crate::units::Quantity;

vocabulary!(
    /// How a claim is known, the strongest first.
    EvidenceKind {
        /// Measured, in a data set or a paper.
        Measured = "measured",
        /// Stated in a publication or an official data set.
        Published = "published",
        /// Common practice among keepers; no source.
        Practice = "practice",
        /// From memory of literature that was not opened.
        Memory = "memory",
    }
);

/// One row of `sources.csv`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The key other files use.
    pub key: String,
    /// The citation.
    pub citation: String,
    /// Year of the version used.
    pub year: String,
    /// Licence of the source; facts are taken with citation.
    pub licence: String,
    /// DOI, ISBN or official number.
    pub identifier: String,
}

impl Source {
    /// The columns of `sources.csv`, in file order.
    pub const COLUMNS: &'static [&'static str] = &["key", "citation", "year", "licence", "identifier"];

    /// Reads a row; `None` when it has no key.
    pub fn from_row(row: &Row, findings: &mut Findings) -> Option<Self> {
        for column in ["key", "citation", "licence"] {
            let cell = row.cell(column);
            if cell.text.is_empty() {
                findings.push(cell.finding(format!("`{column}` is empty")));
            }
        }
        let text = |column: &str| row.text(column).to_owned();
        let key = text("key");
        (!key.is_empty()).then(|| Self {
            key,
            citation: text("citation"),
            year: text("year"),
            licence: text("licence"),
            identifier: text("identifier"),
        })
    }
}

/// One row of `evidence.csv`: what a source says of a trait of a taxon.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Claim {
    /// The taxon.
    pub taxon: TaxonId,
    /// The trait, one of [`Claim::TRAITS`].
    pub trait_name: String,
    /// A value, a range `a..b` or a word.
    pub statement: String,
    /// The unit of a number.
    pub unit: String,
    /// How it is known.
    pub kind: EvidenceKind,
    /// The source.
    pub source: String,
    /// Where in the source.
    pub locator: String,
    /// Why the value differs, when it does.
    pub note: String,
}

impl Claim {
    /// The columns of `evidence.csv`, in file order.
    pub const COLUMNS: &'static [&'static str] =
        &["taxonID", "trait", "statement", "unit", "kind", "sourceKey", "locator", "note"];

    /// The traits that claims can be about.
    pub const TRAITS: &'static [&'static str] = &[
        "acceptedName",
        "family",
        "native",
        "height",
        "growthForm",
        "placement",
        "light",
        "carbonUse",
        "co2",
        "growth",
        "temperature",
        "ph",
        "gh",
        "kh",
        "feeding",
        "emersed",
        "hazard",
    ];

    /// Reads a row; `None` when anything in it is wrong, all of it reported.
    pub fn from_row(row: &Row, findings: &mut Findings) -> Option<Self> {
        let (kind, trait_name, statement) = (row.cell("kind"), row.cell("trait"), row.cell("statement"));
        let parsed = EvidenceKind::from_word(kind.text);
        if parsed.is_none() {
            findings.push(unknown_word(&kind, "kind", kind.text, EvidenceKind::WORDS));
        }
        if !Self::TRAITS.contains(&trait_name.text) {
            findings.push(unknown_word(&trait_name, "trait", trait_name.text, Self::TRAITS));
        }
        if statement.text.is_empty() {
            findings.push(statement.finding("the claim states nothing"));
        }
        let text = |column: &str| row.text(column).to_owned();
        Some(Self {
            taxon: TaxonId(text("taxonID")),
            trait_name: text("trait"),
            statement: text("statement"),
            unit: text("unit"),
            kind: parsed?,
            source: text("sourceKey"),
            locator: text("locator"),
            note: text("note"),
        })
    }

    /// Whether the value in the catalogue agrees with the claim; `None` when the two cannot
    /// be compared by rule (field light indices, soil pH, life forms of other systems).
    ///
    /// Ranges agree when they overlap; a list agrees when ours has all that is claimed (native
    /// areas also by continent, unit `wgsrpd-1`); words agree when equal.
    pub fn agrees_with(&self, plant: &Plant) -> Option<bool> {
        let spans = |ends: [f64; 2]| self.range().map(|[lo, hi]| lo <= ends[1] && hi >= ends[0]);
        let outer = |v: [f64; 4]| spans([v[0], v[3]]);
        let all = |holds: &dyn Fn(&str) -> bool| Some(self.statement.split(';').all(holds));
        match (self.trait_name.as_str(), self.unit.as_str()) {
            ("acceptedName", "") => Some(self.statement == plant.scientific_name),
            ("family", "") => Some(self.statement == plant.family),
            ("carbonUse", "") => Some(self.statement == plant.carbon_use.word()),
            ("growthForm", "") => Some(self.statement == plant.growth_form.word()),
            ("emersed", "") => Some(self.statement == plant.emersed.word()),
            ("feeding", "") => Some(self.statement == plant.feeding.word()),
            ("native", "") => all(&|c| plant.native.iter().any(|n| n == c)),
            ("native", "wgsrpd-1") => all(&|c| plant.native.iter().any(|n| n.starts_with(c))),
            ("hazard", "") => all(&|c| plant.hazards.iter().any(|h| h.word() == c)),
            ("placement", "") => all(&|c| plant.placements.iter().any(|p| p.word() == c)),
            ("height", "cm") => spans([plant.height.lo().cm(), plant.height.hi().cm()]),
            ("growth", "1/d") => spans([plant.growth_per_day; 2]),
            ("light", "umol/m2/s") => outer(plant.light.values().map(Quantity::base)),
            ("co2", "mg/L") => spans([plant.co2_min.base(), plant.co2_opt.base()]),
            ("temperature", "degC") => outer(plant.temperature.values().map(Quantity::base)),
            ("ph", "pH") => outer(plant.ph.values().map(Quantity::base)),
            ("gh", "dGH") => outer(plant.gh.values().map(Quantity::base)),
            ("kh", "dKH") => outer(plant.kh.values().map(Quantity::base)),
            _ => None,
        }
    }

    fn range(&self) -> Option<[f64; 2]> {
        let (lo, hi) = self.statement.split_once("..").unwrap_or((&self.statement, &self.statement));
        Some([lo.parse().ok()?, hi.parse().ok()?])
    }
}
