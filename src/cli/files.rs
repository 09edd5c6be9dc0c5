//! Text files from disk; what is wrong with them becomes a finding.

use std::path::Path;
use std::sync::Arc;

use super::output::Failure;
use crate::diagnostic::{Document, Finding};

/// Reads a text file for parsing.
pub(super) fn read_document(path: &Path) -> Result<Arc<Document>, Failure> {
    let name = path.display().to_string();
    let bytes = std::fs::read(path).map_err(|error| {
        Finding::error(format!("`{name}` cannot be read: {}", plain(&error))).expected("a readable file")
    })?;
    from_bytes(&name, bytes)
}

/// A document from bytes that may not be text.
pub(super) fn from_bytes(name: &str, bytes: Vec<u8>) -> Result<Arc<Document>, Failure> {
    match String::from_utf8(bytes) {
        Ok(text) if text.contains('\0') => {
            Err(Finding::error(format!("`{name}` is a binary file")).expected("a UTF-8 text file").into())
        }
        Ok(text) => Ok(Document::new(name, text)),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let line = String::from_utf8_lossy(&error.as_bytes()[..at]).matches('\n').count() + 1;
            let message = format!("`{name}` is not UTF-8 text: the first wrong byte is in line {line}");
            Err(Finding::error(message).expected("a UTF-8 text file").into())
        }
    }
}

/// The error without the operating system's number.
pub(super) fn plain(error: &std::io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}
