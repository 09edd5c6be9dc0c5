//! Search: words, facets and numbers over the taxa, ranked; and names as people write them.
//!
//! [`write()`] builds the index of a library folder, [`Index`] answers queries from it,
//! [`names::Resolver`] says which taxon a written name means. Not here: the records
//! themselves (`library`), how a result looks (`report`).

mod areas;
mod build;
mod collect;
mod directory;
mod error;
mod facet;
mod fold;
mod index;
pub mod names;
mod phrases;
mod query;
mod schema;
mod tags;
mod words;

pub use areas::{Area, Areas};
pub use build::write;
pub use error::SearchError;
pub use facet::{Facet, GAS_NEEDS, GROWTH_RATES, LIGHT_NEEDS, gas_need, grows_from, growth_rate, light_need};
pub use index::Index;
pub use query::{FacetCount, Hit, Query, Ranges, Results, Span};

/// The version of the index: part of the library's key. Raise it with any change to what is
/// indexed or how (schema, folding, tags, bands).
pub const INDEX_VERSION: u32 = 2;
