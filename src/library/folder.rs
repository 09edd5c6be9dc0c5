//! Where libraries stand: found if finished, else built aside and put in place in one step.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use super::marker::{self, Building};
use super::{DataKey, LibraryError};

/// Folders in the making, and finished ones on their way out, begin with these.
const BUILDING: &str = ".building-";
const RETIRED: &str = ".retired-";

/// How often a build is tried when other processes get in the way.
const ATTEMPTS: usize = 4;

/// Whatever the caller's room says went wrong.
pub type FillError = Box<dyn std::error::Error + Send + Sync>;

/// Fills an empty folder with the parts of a library.
pub type Fill<'a> = dyn FnMut(&Path) -> Result<(), FillError> + 'a;

/// A finished library, kept from removal while this value lives.
#[derive(Debug)]
pub struct Folder {
    path: PathBuf,
    built: bool,
    _share: File,
}

impl Folder {
    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The database in it.
    pub fn database(&self) -> PathBuf {
        self.path.join(super::DATABASE)
    }

    /// The search index in it.
    pub fn index(&self) -> PathBuf {
        self.path.join(super::INDEX)
    }

    /// Whether this call built it.
    pub fn built(&self) -> bool {
        self.built
    }
}

/// The library of `key` under `root`, built with `fill` when it is not there.
///
/// Any number of processes may call this at once; each gets a whole library. A finished
/// library is used even when the root cannot be written.
///
/// # Errors
/// The root cannot be written, something else stands in the way, or `fill` failed. Nothing
/// half built is left in place.
pub fn ensure(root: &Path, key: &DataKey, fill: &mut Fill<'_>) -> Result<Folder, LibraryError> {
    let target = root.join(key.as_str());
    match open(&target, key) {
        Some(folder) => Ok(folder),
        None => build(root, key, fill, Present::Keep),
    }
}

/// As [`ensure`], but builds anew even when a finished library is there: for one that turned
/// out to be damaged.
///
/// # Errors
/// As [`ensure`].
pub fn rebuild(root: &Path, key: &DataKey, fill: &mut Fill<'_>) -> Result<Folder, LibraryError> {
    build(root, key, fill, Present::Replace)
}

/// What to do with a finished library that appears in the place of the new one.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Present {
    /// Use it: another process was quicker.
    Keep,
    /// Put the new one in its place.
    Replace,
}

fn open(target: &Path, key: &DataKey) -> Option<Folder> {
    let share = marker::share(target, key)?;
    Some(Folder { path: target.to_owned(), built: false, _share: share })
}

fn build(root: &Path, key: &DataKey, fill: &mut Fill<'_>, present: Present) -> Result<Folder, LibraryError> {
    fs::create_dir_all(root).map_err(LibraryError::unwritable(root))?;
    let target = root.join(key.as_str());
    for _ in 0..ATTEMPTS {
        let made = make(root, key, fill)?;
        install(made.path(), &target, key, present)?;
        // On success the folder has moved and there is nothing left to clean up here.
        drop(made);
        if let Some(folder) = open(&target, key) {
            remove_others(root, key);
            return Ok(Folder { built: true, ..folder });
        }
    }
    Err(LibraryError::Contended { path: root.to_owned() })
}

/// A whole library in a folder of its own beside the target; removed when dropped.
fn make(root: &Path, key: &DataKey, fill: &mut Fill<'_>) -> Result<tempfile::TempDir, LibraryError> {
    let mut builder = tempfile::Builder::new();
    let prefix = format!("{BUILDING}{key}-");
    builder.prefix(&prefix);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // As any folder a program makes, less the umask: a shared root stays shared.
        builder.permissions(fs::Permissions::from_mode(0o777));
    }
    let folder = builder.tempdir_in(root).map_err(LibraryError::unwritable(root))?;
    let building = Building::begin(folder.path()).map_err(LibraryError::unwritable(folder.path()))?;
    fill(folder.path()).map_err(|source| LibraryError::Fill { path: root.to_owned(), source })?;
    building.seal(folder.path(), key).map_err(LibraryError::unwritable(folder.path()))?;
    Ok(folder)
}

/// Renames the finished folder into place. A quicker process's library stays when it is to be
/// kept; a damaged one of ours is moved aside first.
fn install(made: &Path, target: &Path, key: &DataKey, present: Present) -> Result<(), LibraryError> {
    for _ in 0..ATTEMPTS {
        if present == Present::Keep && marker::share(target, key).is_some() {
            return Ok(());
        }
        if fs::symlink_metadata(target).is_ok() {
            retire(target)?;
        }
        match fs::rename(made, target) {
            Ok(()) => {
                let root = target.parent().unwrap_or(target);
                return marker::sync_folder(root).map_err(LibraryError::unwritable(root));
            }
            // Another process put its own there just now, or took ours for abandoned in the
            // instant between unlocking and renaming: look again, or build again.
            Err(error) if is_race(&error) => {}
            Err(source) => return Err(LibraryError::Unwritable { path: target.to_owned(), source }),
        }
        if !made.exists() {
            return Ok(());
        }
    }
    Err(LibraryError::Contended { path: target.to_owned() })
}

fn is_race(error: &io::Error) -> bool {
    use io::ErrorKind::{AlreadyExists, DirectoryNotEmpty, NotFound};
    matches!(error.kind(), AlreadyExists | DirectoryNotEmpty | NotFound)
        // Windows answers so for a rename onto an existing folder.
        || (cfg!(windows) && error.kind() == io::ErrorKind::PermissionDenied)
}

/// Moves a damaged or replaced library out of the way, provided it is ours.
fn retire(target: &Path) -> Result<(), LibraryError> {
    if !marker::is_ours(target) && !marker::holds_only_our_names(target) {
        return Err(LibraryError::Foreign { path: target.to_owned() });
    }
    let root = target.parent().unwrap_or(target);
    let aside = tempfile::Builder::new().prefix(RETIRED).tempdir_in(root);
    let aside = aside.map_err(LibraryError::unwritable(root))?.keep();
    // Only the name is wanted: not every system renames onto an existing folder.
    let _ = fs::remove_dir(&aside);
    match fs::rename(target, &aside) {
        Ok(()) => marker::remove_unused_or_unmarked(&aside),
        // Already moved by another process.
        Err(error) if is_race(&error) => {}
        Err(source) => return Err(LibraryError::Unwritable { path: target.to_owned(), source }),
    }
    Ok(())
}

/// Removes libraries of other data and folders left by builds cut short, if nobody uses them.
fn remove_others(root: &Path, key: &DataKey) {
    let Ok(entries) = fs::read_dir(root) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let Some(name) = name.to_str() else { continue };
        let ours = DataKey::looks_like(name) || name.starts_with(BUILDING) || name.starts_with(RETIRED);
        if ours && name != key.as_str() {
            marker::remove_unused(&entry.path());
        }
    }
}
