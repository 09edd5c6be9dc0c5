//! The way to the derived library: built on first use, opened afterwards.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::Global;
use super::files::read_document;
use super::names::Names;
use super::output::{Failure, Output};
use crate::catalogue::{
    Claim, LegalEntry, Name, OWN_TABLES, Plant, SHIPPED, Source, TaxonId, read_catalogue,
};
use crate::diagnostic::{Document, Finding};
use crate::library::{self, DataKey, FillError, Folder, Library, LibraryError};
use crate::search::names::Resolver;
use crate::search::{self, INDEX_VERSION, Index};
use crate::tank::light::{PhotonBands, Spectrum};

/// The spectrum of a lamp that names none.
const DEFAULT_SPECTRUM: &str = "led-6600k";

/// What the library knows of one plant besides its values.
pub(super) struct About {
    pub names: Vec<Name>,
    pub claims: Vec<Claim>,
    pub legal: Vec<LegalEntry>,
    pub sources: Vec<Source>,
}

/// The open library.
pub(super) struct House {
    library: Library,
    folder: Folder,
}

impl House {
    /// Opens the library, building it when it is not there and again when it is damaged.
    pub fn open(global: &Global, output: &Output) -> Result<Self, Failure> {
        let documents = documents(global)?;
        let root = root(global)?;
        let key = library::key(&documents, INDEX_VERSION);
        let mut fill = |folder: &Path| fill(folder, &documents, &root, output);
        let folder = library::ensure(&root, &key, &mut fill).map_err(|e| refused(&e))?;
        match Library::open(folder.path()) {
            Ok(library) => Ok(Self { library, folder }),
            Err(damage) => {
                output.note(&format!("{damage}; it is built anew"));
                Self::rebuild(&root, &key, &documents, output)
            }
        }
    }

    fn rebuild(
        root: &Path,
        key: &DataKey,
        documents: &[Arc<Document>],
        output: &Output,
    ) -> Result<Self, Failure> {
        let mut fill = |folder: &Path| fill(folder, documents, root, output);
        let folder = library::rebuild(root, key, &mut fill).map_err(|e| refused(&e))?;
        let library = Library::open(folder.path()).map_err(|e| refused(&e))?;
        Ok(Self { library, folder })
    }

    /// All plants, by key.
    pub fn plants(&self) -> Result<Vec<Plant>, Failure> {
        self.library.plants().map_err(|e| refused(&e))
    }

    /// All laws and registers.
    pub fn legal(&self) -> Result<Vec<LegalEntry>, Failure> {
        self.library.legal().map_err(|e| refused(&e))
    }

    /// Says which taxon a written name means.
    pub fn resolver(&self) -> Result<Names, Failure> {
        let names = self.library.names().map_err(|e| refused(&e))?;
        let authorships = self.library.authorships().map_err(|e| refused(&e))?;
        Ok(Names(Resolver::new(&names, &authorships)))
    }

    /// The search index.
    pub fn index(&self) -> Result<Index, Failure> {
        Index::open(&self.folder.index()).map_err(|e| Finding::error(e.to_string()).into())
    }

    /// One plant.
    pub fn plant(&self, id: &TaxonId) -> Result<Option<Plant>, Failure> {
        self.library.plant(id).map_err(|e| refused(&e))
    }

    /// The names, claims and laws of one plant.
    pub fn about(&self, id: &TaxonId) -> Result<About, Failure> {
        let names = self.library.names_of(id).map_err(|e| refused(&e))?;
        let claims = self.library.claims_of(id).map_err(|e| refused(&e))?;
        let legal = self.library.legal_of(id).map_err(|e| refused(&e))?;
        let mut sources: Vec<Source> = Vec::new();
        let keys = names.iter().map(|n| &n.source).chain(claims.iter().map(|c| &c.source));
        for key in keys.chain(legal.iter().map(|l| &l.source)) {
            if sources.iter().all(|s| s.key != *key) {
                sources.extend(self.library.source(key).map_err(|e| refused(&e))?);
            }
        }
        sources.sort_by(|a, b| a.key.cmp(&b.key));
        Ok(About { names, claims, legal, sources })
    }

    /// The lamp spectra.
    pub fn spectra(&self) -> Result<Vec<Spectrum>, Failure> {
        let lights = self.library.lights().map_err(|e| refused(&e))?;
        let spectrum = |light: crate::catalogue::LightSource| {
            let bands = PhotonBands::from_shares(&light.bands).map_err(|e| damaged(&light.key, e))?;
            Ok(Spectrum { key: light.key, lux_per_umol: light.lux_per_umol, bands })
        };
        lights.into_iter().map(spectrum).collect()
    }
}

/// The spectrum of lamps that name none.
pub(super) fn default_spectrum(spectra: &[Spectrum]) -> Result<&Spectrum, Failure> {
    let found = spectra.iter().find(|s| s.key == DEFAULT_SPECTRUM);
    found.ok_or_else(|| damaged(DEFAULT_SPECTRUM, "it is missing"))
}

fn damaged(key: &str, what: impl std::fmt::Display) -> Failure {
    Finding::error(format!("the spectrum `{key}` of light-sources.csv: {what}")).into()
}

/// The data files as carried in the program.
pub(super) fn shipped() -> Vec<Arc<Document>> {
    SHIPPED.iter().map(|file| Document::new(file.name, file.text)).collect()
}

/// The data files as carried in the program, and the person's own after them.
pub(super) fn documents(global: &Global) -> Result<Vec<Arc<Document>>, Failure> {
    let mut documents = shipped();
    if let Some(folder) = own_folder(global) {
        documents.extend(own_documents(&folder)?);
    }
    Ok(documents)
}

/// Where the person's own rows are kept.
pub(super) fn own_folder(global: &Global) -> Option<PathBuf> {
    global.own.clone().or_else(library::default_own)
}

/// The person's own tables that are there.
pub(super) fn own_documents(folder: &Path) -> Result<Vec<Arc<Document>>, Failure> {
    let present = OWN_TABLES.iter().map(|(name, _)| folder.join(name)).filter(|path| path.exists());
    present.map(|path| read_document(&path)).collect()
}

fn root(global: &Global) -> Result<PathBuf, Failure> {
    let root = global.library.clone().or_else(library::default_root);
    root.ok_or_else(|| {
        let finding = Finding::error("this system names no folder for derived data");
        finding.expected("a folder for the library: --library DIR").into()
    })
}

/// Reads the catalogue and writes the parts of the library.
fn fill(folder: &Path, documents: &[Arc<Document>], root: &Path, output: &Output) -> Result<(), FillError> {
    output.note(&format!("Building the library in {} (once for this data)", root.display()));
    let steps = Output::steps(3);
    steps.set_message("reading the catalogue");
    let (catalogue, findings) = read_catalogue(documents);
    if findings.has_errors() {
        return Err(findings.to_string().into());
    }
    steps.inc(1);
    steps.set_message(format!("writing {} plants", catalogue.plants.len()));
    library::write(folder, &catalogue)?;
    steps.inc(1);
    steps.set_message("indexing their words");
    search::write(&folder.join(library::INDEX), &catalogue)?;
    steps.finish_and_clear();
    Ok(())
}

fn refused(error: &LibraryError) -> Failure {
    Finding::error(error.to_string()).expected(error.hint()).into()
}
