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

/// The version of the index, part of the library's key: a fingerprint of everything that
/// decides what is indexed and how, so that no change of it can meet an index from before.
pub const INDEX_VERSION: u32 = fingerprint(&[
    include_bytes!("build.rs"),
    include_bytes!("facet.rs"),
    include_bytes!("fold.rs"),
    include_bytes!("schema.rs"),
    include_bytes!("tags.rs"),
]);

/// FNV-1a, 32 bits (Fowler, Noll and Vo; RFC 9923), over all the texts.
const fn fingerprint(texts: &[&[u8]]) -> u32 {
    let mut hash: u32 = 0x811c_9dc5;
    let mut i = 0;
    while i < texts.len() {
        let mut j = 0;
        while j < texts[i].len() {
            hash = (hash ^ texts[i][j] as u32).wrapping_mul(0x0100_0193);
            j += 1;
        }
        i += 1;
    }
    hash
}
