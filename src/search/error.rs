//! What can go wrong in a search.

use std::path::{Path, PathBuf};

use super::Facet;
use crate::diagnostic::Finding;

/// Why the index could not be built or asked.
#[derive(Debug, thiserror::Error)]
pub enum SearchError {
    /// The index is missing, damaged or of another version.
    #[error("the search index `{}` is damaged: {what}", path.display())]
    Damaged {
        /// The index folder.
        path: PathBuf,
        /// What was found.
        what: String,
    },
    /// The index could not be written.
    #[error("the search index `{}` cannot be written: {what}", path.display())]
    Unwritable {
        /// The index folder.
        path: PathBuf,
        /// What went wrong.
        what: String,
    },
    /// A facet has no such value.
    #[error("`{value}` is no value of `{facet}`")]
    UnknownValue {
        /// The facet.
        facet: Facet,
        /// What was asked for.
        value: String,
        /// Values near it, the best first; all of them when none is near and they are few.
        near: Vec<String>,
    },
}

impl SearchError {
    pub(super) fn damaged(path: &Path) -> impl Fn(tantivy::TantivyError) -> Self + '_ {
        |error| Self::Damaged { path: path.to_owned(), what: error.to_string() }
    }

    pub(super) fn unwritable(path: &Path) -> impl Fn(tantivy::TantivyError) -> Self + '_ {
        |error| Self::Unwritable { path: path.to_owned(), what: error.to_string() }
    }
}

impl From<&SearchError> for Finding {
    fn from(error: &SearchError) -> Self {
        let finding = Self::error(error.to_string());
        match error {
            SearchError::Damaged { .. } => {
                finding.expected("a whole library; it is derived, so the folder can be deleted")
            }
            SearchError::Unwritable { .. } => {
                finding.expected("a folder that can be written; choose one with `--library DIR`")
            }
            SearchError::UnknownValue { near, .. } => finding.near(near.iter().cloned()),
        }
    }
}
