//! The library: the folder derived from the catalogue, so that a command opens it instead of
//! reading the tables again.
//!
//! `<root>/<schema version>-<data hash>/` holds `catalogue.sqlite` (this room) and `index/`
//! (filled by the caller with `search`), and a marker file that says whose folder it is and
//! what is complete. It can always be deleted: the data files are the truth.
//! Not here: checking the tables (`catalogue`), finding words in them (`search`).

mod error;
mod folder;
mod key;
mod marker;
mod read;
mod schema;
mod write;

pub use error::LibraryError;
pub use folder::{Fill, FillError, Folder, ensure, rebuild};
pub use key::{DataKey, default_own, default_root, key};
pub use read::Library;
pub use schema::SCHEMA_VERSION;
pub use write::write;

/// The name of the database inside a library folder.
pub const DATABASE: &str = "catalogue.sqlite";
/// The name of the search index inside a library folder.
pub const INDEX: &str = "index";
