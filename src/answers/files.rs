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
    write_bytes(path, text.as_bytes())
}

/// As [`write_whole`], for what is not text.
///
/// # Errors
/// As [`write_whole`].
pub fn write_bytes(path: &Path, bytes: &[u8]) -> Result<(), Findings> {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let write = || {
        // A device or a pipe is written to, never replaced.
        if path.metadata().is_ok_and(|m| !m.is_file() && !m.is_dir()) {
            return std::fs::OpenOptions::new().write(true).open(path)?.write_all(bytes);
        }
        let mut builder = tempfile::Builder::new();
        builder.prefix(".quillwort-");
        // As any new file; the person's mask takes off what it takes off.
        #[cfg(unix)]
        builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
        let mut file = builder.tempfile_in(folder)?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        file.persist(path).map(drop).map_err(|e| e.error)
    };
    write().map_err(|error| {
        let message = format!("`{}` cannot be written: {}", path.display(), plain(&error));
        Finding::error(message).expected("a file in a folder that you may write to").into()
    })
}

/// A file of a folder that is written whole.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its name in the folder.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// What to do with a folder that is there already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Leave it, unless it is empty.
    Keep,
    /// Put the new one in its place, if all that is in it are files that we write.
    Replace,
}

/// Writes a folder beside its place and moves it there, so that nobody ever sees half of it.
/// `ours` says which file names we write.
///
/// # Errors
/// A folder that is there and is to be kept, one that holds what is not ours, a place that cannot be
/// written; what stood there before is untouched.
pub fn write_folder(
    folder: &Path,
    parts: &[Part],
    standing: Standing,
    ours: impl Fn(&str) -> bool,
) -> Result<(), Findings> {
    let there = may_stand(folder, standing, ours)?;
    put_folder(folder, parts, there).map_err(|error| {
        let message = format!("`{}` cannot be written: {}", folder.display(), plain(&error));
        Finding::error(message).expected("a new folder in a folder that you may write to").into()
    })
}

/// Whether there is a folder that is to be replaced.
fn may_stand(folder: &Path, standing: Standing, ours: impl Fn(&str) -> bool) -> Result<bool, Findings> {
    let name = folder.display();
    let Ok(found) = folder.symlink_metadata() else { return Ok(false) };
    if !found.is_dir() {
        return Err(Finding::error(format!("`{name}` is there and is no folder"))
            .expected("a new folder")
            .into());
    }
    let unreadable = |e: &std::io::Error| Finding::error(format!("`{name}` cannot be read: {}", plain(e)));
    let entries = std::fs::read_dir(folder).map_err(|e| unreadable(&e))?;
    let mut names: Vec<String> = Vec::new();
    for entry in entries {
        names.push(entry.map_err(|e| unreadable(&e))?.file_name().to_string_lossy().into_owned());
    }
    names.sort_unstable();
    if let Some(foreign) = names.iter().find(|n| !ours(n)) {
        let message = format!("`{name}` holds `{foreign}`, which is not of a project sheet");
        return Err(Finding::error(message).expected("a new folder").into());
    }
    if !names.is_empty() && standing == Standing::Keep {
        return Err(Finding::error(format!("`{name}` is there already"))
            .expected("a new folder, or --force to replace this one")
            .into());
    }
    Ok(true)
}

fn put_folder(folder: &Path, parts: &[Part], there: bool) -> std::io::Result<()> {
    let beside = folder.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    // All that is not moved away is removed with it, also after an error.
    let aside = tempfile::Builder::new().prefix(".quillwort-").tempdir_in(beside)?;
    let (fresh, old) = (aside.path().join("new"), aside.path().join("old"));
    std::fs::create_dir(&fresh)?;
    for part in parts {
        let mut file = std::fs::File::create_new(fresh.join(&part.name))?;
        file.write_all(&part.bytes)?;
        file.sync_all()?;
    }
    sealed(&fresh)?;
    if there {
        std::fs::rename(folder, &old)?;
    }
    if let Err(error) = std::fs::rename(&fresh, folder) {
        if there {
            std::fs::rename(&old, folder)?;
        }
        return Err(error);
    }
    sealed(beside)
}

/// Makes the entries of a folder last, where the system has a way to.
fn sealed(folder: &Path) -> std::io::Result<()> {
    if cfg!(unix) { std::fs::File::open(folder)?.sync_all() } else { Ok(()) }
}

/// The error without the operating system's number.
pub fn plain(error: &std::io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}
