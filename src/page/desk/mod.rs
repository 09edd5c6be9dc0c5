//! The tank on the desk: its text, the steps back and forth, and the file it came from.
//!
//! The text is the truth. Every edit makes a new text from the old one with comments kept; an edit
//! that would add mistakes is refused with its findings. Not here: anything computed of the tank.

mod change;
mod disk;
pub(super) mod field;
pub(super) mod key;
pub(super) mod place;
mod shift;
mod tree;

use std::path::{Path, PathBuf};
use std::sync::Arc;

pub use change::{Change, Names, Part};

use crate::diagnostic::{Document, Finding, Findings, Severity};
use crate::tank::file;
use disk::Disk;
use key::Key;

/// Steps that can be taken back.
const MOST_STEPS: usize = 500;

/// The tank that stands on the desk when none is given.
const STARTER: &str = include_str!("../starter.toml");
const STARTER_NAME: &str = "new-tank.toml";

/// How the text relates to the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OnDisk {
    /// There is no file: the tank can be downloaded.
    None,
    /// The file is as it was last read or written here.
    Known,
    /// Something else has changed the file.
    Changed,
}

/// Why an edit was not made.
#[derive(Debug)]
pub enum Refused {
    /// The edit was made for another text than the one on the desk.
    Stale,
    /// What is wrong with it.
    Wrong(Findings),
}

impl From<Finding> for Refused {
    fn from(finding: Finding) -> Self {
        Self::Wrong(finding.into())
    }
}

/// The tank on the desk.
#[derive(Debug)]
pub struct Desk {
    name: String,
    disk: Option<Disk>,
    text: String,
    saved: String,
    revision: u64,
    back: Vec<String>,
    forth: Vec<String>,
}

impl Desk {
    /// A tank file from disk, or a new tank when there is none.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn open(path: Option<&Path>) -> Result<Self, Finding> {
        let (disk, text, name) = match path {
            None => (None, STARTER.to_owned(), STARTER_NAME.to_owned()),
            Some(path) => {
                let (disk, text) = Disk::open(path)?;
                (Some(disk), text, path.display().to_string())
            }
        };
        let saved = text.clone();
        Ok(Self { name, disk, text, saved, revision: 1, back: Vec::new(), forth: Vec::new() })
    }

    /// The text as a document that findings point into.
    pub fn document(&self) -> Arc<Document> {
        Document::new(self.name.clone(), self.text.clone())
    }

    /// Where the file stands; `None` for a new tank.
    pub fn path(&self) -> Option<&Path> {
        self.disk.as_ref().map(Disk::path)
    }

    /// The price list that the file names, as the file stands on disk; edits cannot change it.
    pub fn price_list(&self) -> Option<PathBuf> {
        self.disk.as_ref()?;
        let named = Written::of(&self.saved)?.get("wishes.prices");
        let beside = Path::new(&self.name).parent().unwrap_or(Path::new(""));
        (!named.is_empty()).then(|| beside.join(named))
    }

    /// The file's own name, for a download.
    pub fn file_name(&self) -> String {
        let own = Path::new(&self.name).file_name();
        own.map_or_else(|| STARTER_NAME.to_owned(), |n| n.to_string_lossy().into_owned())
    }

    /// The text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Goes up with every new text.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Whether the text differs from the file.
    pub fn is_unsaved(&self) -> bool {
        self.text != self.saved
    }

    /// Steps that can be taken back and forth.
    pub fn steps(&self) -> (usize, usize) {
        (self.back.len(), self.forth.len())
    }

    /// How the file stands.
    pub fn on_disk(&self) -> OnDisk {
        match &self.disk {
            None => OnDisk::None,
            Some(disk) if disk.is_as_known() => OnDisk::Known,
            Some(_) => OnDisk::Changed,
        }
    }

    fn is_current(&self, revision: u64) -> Result<(), Refused> {
        if revision == self.revision { Ok(()) } else { Err(Refused::Stale) }
    }

    fn put(&mut self, text: String) {
        let old = std::mem::replace(&mut self.text, text);
        self.back.push(old);
        if self.back.len() > MOST_STEPS {
            self.back.remove(0);
        }
        self.forth.clear();
        self.revision += 1;
    }

    /// The text that changes would make, without making them.
    ///
    /// # Errors
    /// A change that cannot be made, or that adds mistakes to the file.
    pub fn tried(&self, changes: &[Change], names: &dyn Names) -> Result<Arc<Document>, Refused> {
        let text = change::apply(&self.text, changes, names)?;
        let document = Document::new(self.name.clone(), text);
        let Err(after) = file::read(&document) else { return Ok(document) };
        // A file with mistakes is mended value by value, and one mistake may hide another: there it
        // is enough that the new values are right.
        let was_right = file::read(&self.document()).is_ok();
        let touched: Vec<&str> = changes.iter().filter_map(Change::written_key).collect();
        let about = |f: &Finding| place::key_of(f).is_some_and(|key| touched.contains(&key.as_str()));
        let wrong = after.iter().filter(|f| f.severity == Severity::Error).any(about);
        if was_right || wrong {
            return Err(Refused::Wrong(after));
        }
        Ok(document)
    }

    /// Makes changes.
    ///
    /// # Errors
    /// As [`Desk::tried`], and a revision that is no longer the current one.
    pub fn change(&mut self, revision: u64, changes: &[Change], names: &dyn Names) -> Result<(), Refused> {
        self.is_current(revision)?;
        let document = self.tried(changes, names)?;
        if document.text != self.text {
            self.put(document.text.clone());
        }
        Ok(())
    }

    /// Takes the last step back; nothing happens when there is none.
    ///
    /// # Errors
    /// A revision that is no longer the current one.
    pub fn undo(&mut self, revision: u64) -> Result<(), Refused> {
        self.is_current(revision)?;
        if let Some(text) = self.back.pop() {
            self.forth.push(std::mem::replace(&mut self.text, text));
            self.revision += 1;
        }
        Ok(())
    }

    /// Makes the step that was taken back.
    ///
    /// # Errors
    /// As [`Desk::undo`].
    pub fn redo(&mut self, revision: u64) -> Result<(), Refused> {
        self.is_current(revision)?;
        if let Some(text) = self.forth.pop() {
            self.back.push(std::mem::replace(&mut self.text, text));
            self.revision += 1;
        }
        Ok(())
    }

    /// Writes the text to the file it came from.
    ///
    /// # Errors
    /// As [`Desk::undo`]; there is no file, something else has changed it, or it cannot be written.
    pub fn save(&mut self, revision: u64) -> Result<(), Refused> {
        self.is_current(revision)?;
        let Some(disk) = &mut self.disk else {
            let finding = Finding::error("this tank came from no file");
            return Err(finding.expected("a download of it").into());
        };
        disk.write(&self.text)?;
        self.saved.clone_from(&self.text);
        Ok(())
    }

    /// Reads the file anew; the text on the desk stays one step back.
    ///
    /// # Errors
    /// As [`Desk::undo`]; there is no file, or it cannot be read.
    pub fn reload(&mut self, revision: u64) -> Result<(), Refused> {
        self.is_current(revision)?;
        let Some(disk) = &mut self.disk else {
            return Err(Finding::error("this tank came from no file")
                .expected("a tank file given at start")
                .into());
        };
        let text = disk.reread()?;
        self.saved.clone_from(&text);
        if text != self.text {
            self.put(text);
        }
        Ok(())
    }
}

/// The values of a text as written in the fields of the page.
#[derive(Debug)]
pub(super) struct Written(toml_edit::DocumentMut);

impl Written {
    /// `None` when the text is not TOML.
    pub fn of(text: &str) -> Option<Self> {
        text.parse().ok().map(Self)
    }

    /// A value as written; empty when it is not there.
    pub fn get(&self, key: &str) -> String {
        let value = Key::parse(key).and_then(|k| tree::value(self.0.as_table(), &k).map(tree::to_text));
        value.unwrap_or_default()
    }

    /// How many tables a list has.
    pub fn count(&self, list: &str) -> usize {
        tree::count(self.0.as_table(), list)
    }
}
