//! The one file that the page may write: read whole, known by its hash, written whole.

use std::io::Write;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::diagnostic::Finding;

/// Bytes of a tank file, at most.
const LARGEST: u64 = 1 << 20;

/// What the file held when it was last read or written here.
pub(super) type Mark = [u8; 32];

/// A tank file on disk.
#[derive(Debug)]
pub(super) struct Disk {
    path: PathBuf,
    mark: Mark,
}

fn mark(text: &str) -> Mark {
    Sha256::digest(text.as_bytes()).into()
}

fn unreadable(path: &Path, why: &dyn std::fmt::Display) -> Finding {
    Finding::error(format!("`{}` cannot be read: {why}", path.display())).expected("a readable tank file")
}

fn read(path: &Path) -> Result<String, Finding> {
    let size = std::fs::metadata(path).map_err(|e| unreadable(path, &e))?.len();
    if size > LARGEST {
        return Err(unreadable(path, &"it is larger than 1 MiB"));
    }
    let bytes = std::fs::read(path).map_err(|e| unreadable(path, &e))?;
    String::from_utf8(bytes).map_err(|_| unreadable(path, &"it is not UTF-8 text"))
}

impl Disk {
    /// Reads the file and remembers it.
    pub fn open(path: &Path) -> Result<(Self, String), Finding> {
        // Resolved once: writing goes through links to the file itself, wherever it was given.
        let path = path.canonicalize().map_err(|e| unreadable(path, &e))?;
        let text = read(&path)?;
        Ok((Self { mark: mark(&text), path }, text))
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Whether the file still holds what was last read or written here.
    pub fn is_as_known(&self) -> bool {
        read(&self.path).is_ok_and(|text| mark(&text) == self.mark)
    }

    /// Reads the file again.
    pub fn reread(&mut self) -> Result<String, Finding> {
        let text = read(&self.path)?;
        self.mark = mark(&text);
        Ok(text)
    }

    /// Writes beside the file and moves the whole into its place. Nothing is written when the
    /// file is no longer as known.
    pub fn write(&mut self, text: &str) -> Result<(), Finding> {
        if !self.is_as_known() {
            return Err(changed_elsewhere());
        }
        self.persist(text).map_err(|error| {
            Finding::error(format!("`{}` cannot be written: {error}", self.path.display()))
                .expected("a file in a folder that you may write to")
        })?;
        self.mark = mark(text);
        Ok(())
    }

    fn persist(&self, text: &str) -> std::io::Result<()> {
        let folder = self.path.parent().unwrap_or(Path::new("."));
        let mut file = tempfile::Builder::new().prefix(".quillwort-").tempfile_in(folder)?;
        file.write_all(text.as_bytes())?;
        file.as_file().set_permissions(std::fs::metadata(&self.path)?.permissions())?;
        file.as_file().sync_all()?;
        file.persist(&self.path).map(drop).map_err(|e| e.error)
    }
}

fn changed_elsewhere() -> Finding {
    Finding::error("the file was changed by something else since it was read; it is left as it is")
        .expected("read it anew first; what you have here stays one step back, under undo")
}
