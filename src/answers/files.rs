//! Files read and written whole; what is wrong with them becomes a finding.

use std::io::Write;
use std::path::Path;
use std::sync::Arc;

use crate::diagnostic::{Document, Finding, Findings};

/// Reads a text file for parsing.
///
/// # Errors
/// A file that cannot be read, or is not UTF-8 text.
pub fn read_document(path: &Path) -> Result<Arc<Document>, Findings> {
    let name = path.display().to_string();
    let bytes = std::fs::read(path).map_err(|error| {
        Finding::error(format!("`{name}` cannot be read: {}", plain(&error))).expected("a readable file")
    })?;
    from_bytes(&name, bytes)
}

/// A document from bytes that may not be text.
///
/// # Errors
/// Bytes that are not UTF-8 text; the line of the first wrong byte is named.
pub fn from_bytes(name: &str, bytes: Vec<u8>) -> Result<Arc<Document>, Findings> {
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

/// Writes a file beside its place and moves it there, so that nobody ever sees half of it.
///
/// # Errors
/// A place that cannot be written; what stood there before is untouched.
pub fn write_whole(path: &Path, text: &str) -> Result<(), Findings> {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let write = || {
        let mut builder = tempfile::Builder::new();
        builder.prefix(".quillwort-");
        // As any new file; the person's mask takes off what it takes off.
        #[cfg(unix)]
        builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
        let mut file = builder.tempfile_in(folder)?;
        file.write_all(text.as_bytes())?;
        file.as_file().sync_all()?;
        file.persist(path).map_err(|e| e.error)
    };
    write().map(drop).map_err(|error| {
        let message = format!("`{}` cannot be written: {}", path.display(), plain(&error));
        Finding::error(message).expected("a file in a folder that you may write to").into()
    })
}

/// The error without the operating system's number.
pub fn plain(error: &std::io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}
