//! What can go wrong with the library, each with the path meant.

use std::io;
use std::path::{Path, PathBuf};

use super::folder::FillError;
use crate::diagnostic::Finding;

/// Why a library could not be made, opened or read.
#[derive(Debug, thiserror::Error)]
pub enum LibraryError {
    /// The root cannot be written, and holds no finished library for the data.
    #[error("the library folder `{}` cannot be written: {source}", path.display())]
    Unwritable {
        /// The folder or file that could not be made.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// Something that is not a library stands where the library belongs.
    #[error("`{}` is in the way: it is not a library of this program", path.display())]
    Foreign {
        /// The path in the way.
        path: PathBuf,
    },
    /// The database is missing, damaged or of another program.
    #[error("the library `{}` is damaged: {what}", path.display())]
    Corrupt {
        /// The damaged file.
        path: PathBuf,
        /// What was found.
        what: String,
    },
    /// The catalogue could not be written into the database.
    #[error("the library database `{}` cannot be written: {source}", path.display())]
    Database {
        /// The database.
        path: PathBuf,
        /// What the database said.
        source: rusqlite::Error,
    },
    /// The caller could not fill the folder.
    #[error("the library cannot be built in `{}`: {source}", path.display())]
    Fill {
        /// The library root.
        path: PathBuf,
        /// What the caller said.
        source: FillError,
    },
    /// Other processes kept removing the folder while it was being made.
    #[error("the library folder `{}` is changed by another program at the same time", path.display())]
    Contended {
        /// The library root.
        path: PathBuf,
    },
}

impl LibraryError {
    /// What a person can do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Unwritable { .. } | Self::Contended { .. } => {
                "a folder that can be written; choose one with `--library DIR`"
            }
            Self::Foreign { .. } => "an empty or new folder; move this one away or use `--library DIR`",
            Self::Corrupt { .. } => {
                "a whole library; it is derived, so the folder can be deleted and is built anew"
            }
            Self::Database { .. } | Self::Fill { .. } => {
                "enough free space in the library folder; choose another with `--library DIR`"
            }
        }
    }

    pub(super) fn unwritable(path: &Path) -> impl FnOnce(io::Error) -> Self + '_ {
        |source| Self::Unwritable { path: path.to_owned(), source }
    }
}

impl From<&LibraryError> for Finding {
    fn from(error: &LibraryError) -> Self {
        Self::error(error.to_string()).expected(error.hint())
    }
}
