//! The names people use for a taxon: accepted, old, local and of the trade.

use super::Row;
use super::plant::{TaxonId, unknown_word};
use super::vocabulary::vocabulary;
use crate::diagnostic::Findings;

vocabulary!(
    /// What sort of name it is.
    NameKind {
        /// The accepted scientific name, with the cultivar if there is one.
        Accepted = "accepted",
        /// A scientific name no longer accepted.
        Synonym = "synonym",
        /// A common name of a language.
        Vernacular = "vernacular",
        /// A short or commercial form that people type.
        Trade = "trade",
    }
);
vocabulary!(
    /// The language of a name, ISO 639-1.
    Language {
        /// Scientific Latin.
        La = "la",
        /// English.
        En = "en",
        /// German.
        De = "de",
        /// French.
        Fr = "fr",
        /// Spanish.
        Es = "es",
        /// Dutch.
        Nl = "nl",
        /// Portuguese.
        Pt = "pt",
        /// Polish.
        Pl = "pl",
        /// Japanese, romanised.
        Ja = "ja",
    }
);

/// One row of `names.csv`. A name may belong to several taxa; it then stays ambiguous.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Name {
    /// The name as written.
    pub name: String,
    /// What sort of name it is.
    pub kind: NameKind,
    /// Its language.
    pub language: Language,
    /// The taxon it names.
    pub taxon: TaxonId,
    /// Where the name comes from.
    pub source: String,
}

impl Name {
    /// The columns of `names.csv`, in file order.
    pub const COLUMNS: &'static [&'static str] = &["name", "kind", "language", "taxonID", "sourceKey"];

    /// Reads a row; `None` when anything in it is wrong, all of it reported.
    pub fn from_row(row: &Row, findings: &mut Findings) -> Option<Self> {
        let (kind, language) = (row.cell("kind"), row.cell("language"));
        let parsed_kind = NameKind::from_word(kind.text);
        let parsed_language = Language::from_word(language.text);
        if parsed_kind.is_none() {
            findings.push(unknown_word(&kind, "kind", kind.text, NameKind::WORDS));
        }
        if parsed_language.is_none() {
            findings.push(unknown_word(&language, "language", language.text, Language::WORDS));
        }
        let name = row.cell("name");
        if name.text.trim().is_empty() {
            findings.push(name.finding("the name is empty"));
            return None;
        }
        Some(Self {
            name: name.text.to_owned(),
            kind: parsed_kind?,
            language: parsed_language?,
            taxon: TaxonId(row.text("taxonID").to_owned()),
            source: row.text("sourceKey").to_owned(),
        })
    }
}
