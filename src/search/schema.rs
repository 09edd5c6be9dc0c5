//! The fields of the index.
//!
//! All text is folded before it is indexed (`fold`), so the tokenisers are the two that do
//! nothing: one splits at blanks, one takes the value whole.

use tantivy::schema::{
    FAST, Field, IndexRecordOption, NumericOptions, STORED, Schema, SchemaBuilder, TextFieldIndexing,
    TextOptions,
};

use super::Facet;
use crate::catalogue::Plant;

/// A text field with its weight in ranking.
#[derive(Debug, Clone, Copy)]
pub(super) struct TextField {
    pub name: &'static str,
    pub weight: f32,
}

/// The accepted name, cultivar included.
pub(super) const ACCEPTED: TextField = TextField { name: "accepted", weight: 8.0 };
/// Synonyms and trade names.
pub(super) const ALIAS: TextField = TextField { name: "alias", weight: 6.0 };
/// Vernacular names of all languages.
pub(super) const VERNACULAR: TextField = TextField { name: "vernacular", weight: 5.0 };
/// The words of the traits.
pub(super) const TRAITS: TextField = TextField { name: "traits", weight: 2.0 };
/// The note for the keeper.
pub(super) const NOTES: TextField = TextField { name: "notes", weight: 1.0 };
/// The family.
pub(super) const FAMILY: TextField = TextField { name: "familyWords", weight: 0.8 };

/// All text fields, the weightiest first.
pub(super) const TEXT: [TextField; 6] = [ACCEPTED, ALIAS, VERNACULAR, TRAITS, NOTES, FAMILY];
/// The text fields that hold names.
pub(super) const NAMES: [TextField; 3] = [ACCEPTED, ALIAS, VERNACULAR];

/// Whole names run together, for a query that is a name.
pub(super) const WHOLE: &str = "whole";
/// `facet:value` and `tag:word` terms, for filters and phrases.
pub(super) const TERMS: &str = "terms";
/// The taxon's key.
pub(super) const TAXON: &str = "taxon";
/// The names as written, one a line, the accepted one first.
pub(super) const WRITTEN: &str = "written";
/// One bit for each value of the closed facets.
pub(super) const BITS: &str = "bits";

/// How well known the taxon is, in points.
pub(super) const RENOWN: &str = "renown";

/// A numeric property of a plant: the range in which it grows, in the unit of the name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measure {
    Height,
    Ppfd,
    Temperature,
    Ph,
    Gh,
    Kh,
}

impl Measure {
    pub(super) const ALL: [Self; 6] =
        [Self::Height, Self::Ppfd, Self::Temperature, Self::Ph, Self::Gh, Self::Kh];

    /// The fields of the lower and the upper end.
    pub(super) const fn fields(self) -> [&'static str; 2] {
        match self {
            Self::Height => ["heightLo", "heightHi"],
            Self::Ppfd => ["ppfdLo", "ppfdHi"],
            Self::Temperature => ["temperatureLo", "temperatureHi"],
            Self::Ph => ["phLo", "phHi"],
            Self::Gh => ["ghLo", "ghHi"],
            Self::Kh => ["khLo", "khHi"],
        }
    }

    /// Both ends for a plant, in base units: its usual height, or where the suitability of
    /// its envelope is at least 0.5, that is between the middles of the two slopes.
    pub(super) fn of(self, plant: &Plant) -> [f64; 2] {
        use crate::units::Quantity;
        fn grows<Q: Quantity>(envelope: crate::catalogue::Envelope<Q>) -> [f64; 2] {
            let [abs_min, opt_min, opt_max, abs_max] = envelope.values().map(Quantity::base);
            [f64::midpoint(abs_min, opt_min), f64::midpoint(opt_max, abs_max)]
        }
        match self {
            Self::Height => [plant.height.lo().base(), plant.height.hi().base()],
            Self::Ppfd => grows(plant.light),
            Self::Temperature => grows(plant.temperature),
            Self::Ph => grows(plant.ph),
            Self::Gh => grows(plant.gh),
            Self::Kh => grows(plant.kh),
        }
    }
}

/// The first bit of a closed facet in [`BITS`].
pub(super) fn first_bit(facet: Facet) -> usize {
    Facet::CLOSED.iter().take_while(|f| **f != facet).map(|f| f.words().len()).sum()
}

/// The term of a facet value in [`TERMS`].
pub(super) fn facet_term(facet: Facet, value: &str) -> String {
    format!("{}:{value}", facet.word())
}

pub(super) fn schema() -> Schema {
    let mut schema = Schema::builder();
    // Neither how often a word stands in a field nor how long the field is says anything
    // here: a taxon with many synonyms is no worse an answer.
    let words = TextFieldIndexing::default()
        .set_tokenizer("whitespace")
        .set_fieldnorms(false)
        .set_index_option(IndexRecordOption::Basic);
    for field in TEXT {
        schema.add_text_field(field.name, TextOptions::default().set_indexing_options(words.clone()));
    }
    let terms = TextFieldIndexing::default()
        .set_tokenizer("raw")
        .set_fieldnorms(false)
        .set_index_option(IndexRecordOption::Basic);
    for name in [WHOLE, TERMS] {
        schema.add_text_field(name, TextOptions::default().set_indexing_options(terms.clone()));
    }
    schema.add_text_field(TAXON, STORED);
    schema.add_text_field(WRITTEN, STORED);
    schema.add_u64_field(BITS, FAST);
    schema.add_u64_field(RENOWN, FAST);
    for facet in Facet::OPEN {
        schema.add_text_field(facet.word(), TextOptions::default().set_fast("raw"));
    }
    for measure in Measure::ALL {
        add_range(&mut schema, measure);
    }
    schema.build()
}

fn add_range(schema: &mut SchemaBuilder, measure: Measure) {
    for name in measure.fields() {
        schema.add_f64_field(name, NumericOptions::default().set_fast());
    }
}

/// A field of [`schema`] by name.
pub(super) fn field(schema: &Schema, name: &str) -> Field {
    schema.get_field(name).expect("the name is one of this module's, and the schema was compared on opening")
}
