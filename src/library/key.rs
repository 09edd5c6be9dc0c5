//! Which library belongs to which data.

use std::fmt;
use std::path::PathBuf;
use std::sync::Arc;

use sha2::{Digest, Sha256};

use super::schema::{DDL, SCHEMA_VERSION};
use crate::diagnostic::Document;

/// The name of the library of one state of the data: `<schema version>-<16 hex digits>`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DataKey(String);

impl DataKey {
    /// The name of the folder.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether a folder name has the form of a key.
    pub(super) fn looks_like(name: &str) -> bool {
        let Some((version, hash)) = name.split_once('-') else { return false };
        let hex = |b: u8| b.is_ascii_digit() || (b'a'..=b'f').contains(&b);
        !version.is_empty()
            && version.bytes().all(|b| b.is_ascii_digit())
            && hash.len() == HASH_DIGITS
            && hash.bytes().all(hex)
    }
}

impl fmt::Display for DataKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

/// 64 bits: two states of a catalogue meet by accident once in 2⁶⁴.
const HASH_DIGITS: usize = 16;

/// The key of a library: it changes with any byte of any document, with the name or order of
/// one, with the tables of the database, and with `index_version`, the version of the search
/// index that the caller builds beside it.
pub fn key(documents: &[Arc<Document>], index_version: u32) -> DataKey {
    let mut hash = Sha256::new();
    let mut part = |bytes: &[u8]| {
        // The length first: no two lists of parts run together to the same bytes.
        hash.update((bytes.len() as u64).to_le_bytes());
        hash.update(bytes);
    };
    part(&SCHEMA_VERSION.to_le_bytes());
    part(DDL.as_bytes());
    part(&index_version.to_le_bytes());
    for document in documents {
        part(document.name.as_bytes());
        part(document.text.as_bytes());
    }
    let digest = hash.finalize();
    let first = digest.iter().take(HASH_DIGITS / 2).fold(0_u64, |n, byte| n << 8 | u64::from(*byte));
    DataKey(format!("{SCHEMA_VERSION}-{first:0HASH_DIGITS$x}"))
}

/// The platform's folder for a person's own rows; `None` when the system knows no home folder.
pub fn default_own() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "quillwort").map(|dirs| dirs.data_dir().join("catalogue"))
}

/// The platform's cache folder for this program; `None` when the system knows no home folder.
pub fn default_root() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "quillwort").map(|dirs| dirs.cache_dir().join("library"))
}
