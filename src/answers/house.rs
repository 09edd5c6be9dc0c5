//! The way to the derived library: built on first use, opened afterwards; what was read from it
//! once is kept.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use super::files::read_document;
use super::names::Names;
use crate::catalogue::{
    Claim, LegalEntry, LightSource, Name, OWN_TABLES, Plant, SHIPPED, Source, TaxonId, read_catalogue,
};
use crate::diagnostic::{Document, Finding, Findings};
use crate::library::{self, DataKey, FillError, Folder, Library, LibraryError};
use crate::report::view::Background;
use crate::search::names::Resolver;
use crate::search::{self, INDEX_VERSION, Index};
use crate::tank::light::{PhotonBands, Spectrum};

/// The spectrum of a lamp that names none.
const DEFAULT_SPECTRUM: &str = "led-6600k";

/// Where the library stands and where the person's own rows are kept.
#[derive(Debug, Clone)]
pub struct LibraryPlace {
    /// Folder for derived data.
    pub root: PathBuf,
    /// Folder with the person's own tables, if there is one.
    pub own: Option<PathBuf>,
}

/// What the person may be told while the library is made ready.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Building {
    /// What is there is damaged; it is built anew.
    Damaged(String),
    /// It is built, in this folder.
    Begun(PathBuf),
    /// The catalogue is read.
    Reading,
    /// So many plants are written.
    Writing(usize),
    /// Their words are indexed.
    Indexing,
    /// It is built.
    Done,
}

/// Called with every step of a building.
pub type Told<'a> = dyn FnMut(Building) + 'a;

/// What the library knows of one plant besides its values.
#[derive(Debug, Clone)]
pub struct About {
    /// Its names.
    pub names: Vec<Name>,
    /// The claims about its values.
    pub claims: Vec<Claim>,
    /// Laws and registers.
    pub legal: Vec<LegalEntry>,
    /// Every source that the others point to.
    pub sources: Vec<Source>,
}

/// What is told when damage is met after opening.
type Damaged = Box<dyn Fn(&str) + Send + Sync>;

impl About {
    /// The same as the views take it.
    pub fn background(&self) -> Background<'_> {
        Background { names: &self.names, claims: &self.claims, legal: &self.legal, sources: &self.sources }
    }
}

/// The open library. Plants, laws, names, spectra and the index are read when first asked for.
/// Where damage is met then, the library is built anew and the question asked again.
pub struct House {
    opened: Mutex<Opened>,
    /// From what, and where, it is built.
    documents: Vec<Arc<Document>>,
    root: PathBuf,
    key: DataKey,
    damaged: OnceLock<Damaged>,
    plants: OnceLock<Vec<Plant>>,
    legal: OnceLock<Vec<LegalEntry>>,
    names: OnceLock<Names>,
    spectra: OnceLock<Vec<Spectrum>>,
    index: OnceLock<Index>,
}

/// The database and the folder it stands in.
#[derive(Debug)]
struct Opened {
    library: Library,
    folder: Folder,
}

impl std::fmt::Debug for House {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("House").field("root", &self.root).field("key", &self.key).finish_non_exhaustive()
    }
}

impl House {
    /// Opens the library, building it when it is not there and again when it is damaged.
    ///
    /// # Errors
    /// Own rows that are wrong, or a folder that cannot be used.
    pub fn open(place: &LibraryPlace, told: &mut Told<'_>) -> Result<Self, Findings> {
        let documents = documents(place.own.as_deref())?;
        let key = library::key(&documents, INDEX_VERSION);
        let mut fill = |folder: &Path| fill(folder, &documents, &place.root, told);
        let folder = library::ensure(&place.root, &key, &mut fill).map_err(|e| refused(&e))?;
        let opened = match Library::open(folder.path()) {
            Ok(library) => Opened { library, folder },
            Err(damage) => {
                told(Building::Damaged(damage.to_string()));
                Opened::anew(&place.root, &key, &documents, told)?
            }
        };
        Ok(Self::new(opened, documents, place.root.clone(), key))
    }

    fn new(opened: Opened, documents: Vec<Arc<Document>>, root: PathBuf, key: DataKey) -> Self {
        Self {
            opened: Mutex::new(opened),
            documents,
            root,
            key,
            damaged: OnceLock::new(),
            plants: OnceLock::new(),
            legal: OnceLock::new(),
            names: OnceLock::new(),
            spectra: OnceLock::new(),
            index: OnceLock::new(),
        }
    }

    /// What to tell when damage is met later, before the library is built anew. The first holds.
    pub fn on_damage(&self, tell: impl Fn(&str) + Send + Sync + 'static) {
        let _ = self.damaged.set(Box::new(tell));
    }

    /// The database. It is only read, so a reader that came to grief left nothing half done.
    fn opened(&self) -> MutexGuard<'_, Opened> {
        self.opened.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Asks the database, and asks once more after building it anew where it is damaged.
    fn ask<T>(&self, question: impl Fn(&Library) -> Result<T, LibraryError>) -> Result<T, Findings> {
        let first = question(&self.opened().library);
        match first {
            Err(damage @ LibraryError::Corrupt { .. }) => {
                self.mend(&damage.to_string())?;
                question(&self.opened().library).map_err(|e| refused(&e))
            }
            other => other.map_err(|e| refused(&e)),
        }
    }

    fn mend(&self, what: &str) -> Result<(), Findings> {
        if let Some(tell) = self.damaged.get() {
            tell(what);
        }
        let anew = Opened::anew(&self.root, &self.key, &self.documents, &mut |_| ())?;
        *self.opened() = anew;
        Ok(())
    }

    /// All plants, by key.
    ///
    /// # Errors
    /// A damaged library.
    pub fn plants(&self) -> Result<&[Plant], Findings> {
        let read = || self.ask(Library::plants);
        once(&self.plants, read).map(Vec::as_slice)
    }

    /// All laws and registers.
    ///
    /// # Errors
    /// A damaged library.
    pub fn legal(&self) -> Result<&[LegalEntry], Findings> {
        let read = || self.ask(Library::legal);
        once(&self.legal, read).map(Vec::as_slice)
    }

    /// Says which taxon a written name means.
    ///
    /// # Errors
    /// A damaged library.
    pub fn names(&self) -> Result<&Names, Findings> {
        once(&self.names, || {
            let names = self.ask(Library::names)?;
            let authorships = self.ask(Library::authorships)?;
            Ok(Names::new(Resolver::new(&names, &authorships)))
        })
    }

    /// The search index.
    ///
    /// # Errors
    /// A damaged library.
    pub fn index(&self) -> Result<&Index, Findings> {
        let open = || {
            let at = self.opened().folder.index();
            Index::open(&at).or_else(|damage| {
                self.mend(&damage.to_string())?;
                let at = self.opened().folder.index();
                Index::open(&at).map_err(|e| Findings::from(Finding::from(&e)))
            })
        };
        once(&self.index, open)
    }

    /// One plant.
    ///
    /// # Errors
    /// A damaged library.
    pub fn plant(&self, id: &TaxonId) -> Result<Option<Plant>, Findings> {
        self.ask(|library| library.plant(id))
    }

    /// The names, claims and laws of one plant.
    ///
    /// # Errors
    /// A damaged library.
    pub fn about(&self, id: &TaxonId) -> Result<About, Findings> {
        let names = self.ask(|library| library.names_of(id))?;
        let claims = self.ask(|library| library.claims_of(id))?;
        let legal = self.ask(|library| library.legal_of(id))?;
        let mut sources: Vec<Source> = Vec::new();
        let keys = names.iter().map(|n| &n.source).chain(claims.iter().map(|c| &c.source));
        for key in keys.chain(legal.iter().map(|l| &l.source)) {
            if sources.iter().all(|s| s.key != *key) {
                sources.extend(self.ask(|library| library.source(key))?);
            }
        }
        sources.sort_by(|a, b| a.key.cmp(&b.key));
        Ok(About { names, claims, legal, sources })
    }

    /// The lamp spectra.
    ///
    /// # Errors
    /// A damaged library.
    pub fn spectra(&self) -> Result<&[Spectrum], Findings> {
        let spectrum = |light: LightSource| {
            let bands = PhotonBands::from_shares(&light.bands).map_err(|e| damaged(&light.key, e))?;
            Ok(Spectrum { key: light.key, lux_per_umol: light.lux_per_umol, bands })
        };
        let read = || {
            let lights = self.ask(Library::lights)?;
            lights.into_iter().map(spectrum).collect()
        };
        once(&self.spectra, read).map(Vec::as_slice)
    }

    /// The spectrum of lamps that name none.
    ///
    /// # Errors
    /// A damaged library.
    pub fn default_spectrum(&self) -> Result<&Spectrum, Findings> {
        let found = self.spectra()?.iter().find(|s| s.key == DEFAULT_SPECTRUM);
        found.ok_or_else(|| damaged(DEFAULT_SPECTRUM, "it is missing"))
    }
}

impl Opened {
    /// Builds the library even where one stands.
    fn anew(
        root: &Path,
        key: &DataKey,
        documents: &[Arc<Document>],
        told: &mut Told<'_>,
    ) -> Result<Self, Findings> {
        let mut fill = |folder: &Path| fill(folder, documents, root, told);
        let folder = library::rebuild(root, key, &mut fill).map_err(|e| refused(&e))?;
        let library = Library::open(folder.path()).map_err(|e| refused(&e))?;
        Ok(Self { library, folder })
    }
}

/// What a cell holds, read into it when it is empty.
fn once<T>(cell: &OnceLock<T>, read: impl FnOnce() -> Result<T, Findings>) -> Result<&T, Findings> {
    if let Some(kept) = cell.get() {
        return Ok(kept);
    }
    let fresh = read()?;
    Ok(cell.get_or_init(|| fresh))
}

fn damaged(key: &str, what: impl std::fmt::Display) -> Findings {
    Finding::error(format!("the spectrum `{key}` of light-sources.csv: {what}")).into()
}

/// The data files as carried in the program.
pub fn shipped() -> Vec<Arc<Document>> {
    SHIPPED.iter().map(|file| Document::new(file.name, file.text)).collect()
}

/// The data files as carried in the program, and the person's own after them.
///
/// # Errors
/// Own tables that cannot be read.
pub fn documents(own: Option<&Path>) -> Result<Vec<Arc<Document>>, Findings> {
    let mut documents = shipped();
    if let Some(folder) = own {
        documents.extend(own_documents(folder)?);
    }
    Ok(documents)
}

/// The person's own tables that are there.
///
/// # Errors
/// Tables that cannot be read.
pub fn own_documents(folder: &Path) -> Result<Vec<Arc<Document>>, Findings> {
    let present = OWN_TABLES.iter().map(|(name, _)| folder.join(name)).filter(|path| path.exists());
    present.map(|path| read_document(&path)).collect()
}

/// Reads the catalogue and writes the parts of the library.
fn fill(
    folder: &Path,
    documents: &[Arc<Document>],
    root: &Path,
    told: &mut Told<'_>,
) -> Result<(), FillError> {
    told(Building::Begun(root.to_owned()));
    told(Building::Reading);
    let (catalogue, findings) = read_catalogue(documents);
    if findings.has_errors() {
        return Err(findings.to_string().into());
    }
    told(Building::Writing(catalogue.plants.len()));
    library::write(folder, &catalogue)?;
    told(Building::Indexing);
    search::write(&folder.join(library::INDEX), &catalogue)?;
    told(Building::Done);
    Ok(())
}

fn refused(error: &LibraryError) -> Findings {
    Finding::error(error.to_string()).expected(error.hint()).into()
}
