//! The marker file: it says that a folder is ours, which library it holds, and what is whole.
//!
//! Its lock says that the folder is in use: builders hold it exclusively, readers share it,
//! and only a folder whose lock can be had is ever removed.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use super::DataKey;

/// The name of the marker inside a library folder.
pub(super) const MARKER: &str = "quillwort-library.txt";
/// The marker before it is locked; a folder with only this one was never filled.
const NEW_MARKER: &str = "quillwort-library.new";
const FIRST_LINE: &str = "quillwort library: derived from the catalogue, may be deleted at any time";
const COMPLETE: &str = "complete";

/// A marker that this process made, locked until it is dropped.
#[derive(Debug)]
pub(super) struct Building {
    file: File,
}

impl Building {
    /// Marks a new folder as ours and in the making. The lock is taken before the marker
    /// bears its name, so that nobody sees it unlocked.
    pub(super) fn begin(folder: &Path) -> io::Result<Self> {
        let path = folder.join(NEW_MARKER);
        let mut file = OpenOptions::new().write(true).create_new(true).open(&path)?;
        // Some network file systems have no locks; then only the names keep builders apart.
        let _ = file.lock();
        writeln!(file, "{FIRST_LINE}")?;
        fs::rename(&path, folder.join(MARKER))?;
        Ok(Self { file })
    }

    /// Writes what the folder holds, after everything in it is safely on the disk.
    pub(super) fn seal(mut self, folder: &Path, key: &DataKey) -> io::Result<()> {
        let mut files = Vec::new();
        list(folder, Path::new(""), &mut files)?;
        files.sort();
        for (name, size) in &files {
            writeln!(self.file, "file {size} {name}")?;
        }
        writeln!(self.file, "{COMPLETE} {key}")?;
        self.file.sync_all()?;
        sync_folder(folder)
    }
}

/// Files below `folder` with their sizes, each flushed to the disk; `/` between the parts.
fn list(folder: &Path, inner: &Path, files: &mut Vec<(String, u64)>) -> io::Result<()> {
    for entry in fs::read_dir(folder.join(inner))? {
        let entry = entry?;
        let name = inner.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            list(folder, &name, files)?;
            sync_folder(&entry.path())?;
        } else if entry.file_name() != MARKER {
            let file = File::open(entry.path())?;
            file.sync_all()?;
            let name = name.to_string_lossy().replace(std::path::MAIN_SEPARATOR, "/");
            files.push((name, file.metadata()?.len()));
        }
    }
    Ok(())
}

#[cfg(unix)]
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

/// Only Unix can flush a folder.
#[cfg(not(unix))]
pub(super) fn sync_folder(_folder: &Path) -> io::Result<()> {
    Ok(())
}

/// Takes a share of a finished folder: the handle keeps others from removing it.
///
/// `None` when there is no folder, or it is not ours, half built, of another key, or lacks
/// a file or part of one.
pub(super) fn share(folder: &Path, key: &DataKey) -> Option<File> {
    let mut file = File::open(folder.join(MARKER)).ok()?;
    // Waits while another process finishes or removes the folder; both take milliseconds.
    let _ = file.lock_shared();
    let mut text = String::new();
    file.read_to_string(&mut text).ok()?;
    let (body, last) = text.trim_end().rsplit_once('\n')?;
    let mut lines = body.lines();
    let whole = |line: &str| {
        let (size, name) = line.strip_prefix("file ")?.split_once(' ')?;
        let found = fs::metadata(folder.join(name)).ok()?;
        (found.len() == size.parse::<u64>().ok()?).then_some(())
    };
    let good = lines.next() == Some(FIRST_LINE)
        && last == format!("{COMPLETE} {key}")
        && lines.all(|line| whole(line).is_some());
    good.then_some(file)
}

/// Whether a folder is recognisably ours: a real folder with our marker in it.
pub(super) fn is_ours(folder: &Path) -> bool {
    let real = fs::symlink_metadata(folder).is_ok_and(|m| m.is_dir());
    let marked = || fs::read_to_string(folder.join(MARKER)).is_ok_and(|t| t.starts_with(FIRST_LINE));
    real && marked()
}

/// Removes a folder of ours unless someone uses it. What we did not put there stays, and the
/// folder with it. Failures are left for the next time: nothing depends on the removal.
pub(super) fn remove_unused(folder: &Path) {
    if !is_ours(folder) {
        return;
    }
    let Ok(file) = File::open(folder.join(MARKER)) else { return };
    if file.try_lock().is_ok() {
        let _ = remove_contents(folder);
    }
}

/// As [`remove_unused`], for a folder that this process just moved aside and that may have
/// lost its marker: its names alone say that it is ours.
pub(super) fn remove_unused_or_unmarked(folder: &Path) {
    if is_ours(folder) {
        remove_unused(folder);
    } else if holds_only_our_names(folder) {
        let _ = remove_contents(folder);
    }
}

fn remove_contents(folder: &Path) -> io::Result<()> {
    let gone = |result: io::Result<()>| match result {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    };
    gone(fs::remove_dir_all(folder.join(super::INDEX)))?;
    for name in [super::DATABASE, DATABASE_JOURNAL, NEW_MARKER] {
        gone(fs::remove_file(folder.join(name)))?;
    }
    // The marker goes last: a removal cut short stays recognisable.
    gone(fs::remove_file(folder.join(MARKER)))?;
    fs::remove_dir(folder)
}

/// What SQLite leaves beside a database whose writing was cut short.
const DATABASE_JOURNAL: &str = "catalogue.sqlite-journal";

/// Whether a folder that has no marker holds nothing but the parts of a library.
pub(super) fn holds_only_our_names(folder: &Path) -> bool {
    let known: [PathBuf; 5] =
        [super::DATABASE, DATABASE_JOURNAL, super::INDEX, MARKER, NEW_MARKER].map(PathBuf::from);
    let real = fs::symlink_metadata(folder).is_ok_and(|m| m.is_dir());
    real && fs::read_dir(folder)
        .is_ok_and(|entries| entries.flatten().all(|e| known.contains(&PathBuf::from(e.file_name()))))
}
