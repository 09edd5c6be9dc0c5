//! The derived library: what is read back is what was written, and no folder that is half
//! built, damaged or another's is ever used or harmed.

use std::cell::Cell;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use quillwort::catalogue::{Catalogue, Envelope, SHIPPED, TaxonId, read_catalogue};
use quillwort::diagnostic::{Document, Finding};
use quillwort::library::{self, DataKey, FillError, Library, LibraryError};
use tempfile::TempDir;

fn documents() -> Vec<Arc<Document>> {
    SHIPPED.iter().map(|f| Document::new(format!("data/{}", f.name), f.text)).collect()
}

fn shipped() -> (Catalogue, DataKey) {
    let documents = documents();
    let (catalogue, findings) = read_catalogue(&documents);
    assert!(!findings.has_errors(), "{findings}");
    (catalogue, library::key(&documents, 1))
}

/// A catalogue of one taxon: for tests about folders, where the content does not matter.
fn small() -> Catalogue {
    let (all, _) = shipped();
    let plants = vec![all.plants[0].clone()];
    let names = all.names.into_iter().filter(|n| n.taxon == plants[0].id).collect();
    Catalogue { plants, names, sources: all.sources, ..Catalogue::default() }
}

fn some_key(n: u32) -> DataKey {
    library::key(&[Document::new("plants.csv", "")], n)
}

/// Fills as the command line does: the database, and a file standing for the index.
fn fill(catalogue: &Catalogue) -> impl FnMut(&Path) -> Result<(), FillError> + '_ {
    move |folder| {
        library::write(folder, catalogue)?;
        fs::create_dir(folder.join(library::INDEX))?;
        Ok(fs::write(folder.join(library::INDEX).join("segment"), "words")?)
    }
}

fn never(_: &Path) -> Result<(), FillError> {
    Err("there is a finished library, nothing is to be built".into())
}

fn names_in(root: &Path) -> Vec<String> {
    let entries = fs::read_dir(root).expect("root is readable").map(|e| e.expect("entry").file_name());
    let mut names: Vec<String> = entries.map(|n| n.to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn what_is_read_back_is_what_was_written() {
    let (catalogue, key) = shipped();
    let root = TempDir::new().expect("temporary folder");
    let folder = library::ensure(root.path(), &key, &mut fill(&catalogue)).expect("library is built");
    assert!(folder.built());
    assert_eq!(folder.path(), root.path().join(key.as_str()));
    let library = Library::open(folder.path()).expect("library opens");
    assert_eq!(library.plants().expect("plants"), catalogue.plants);
    assert_eq!(library.names().expect("names"), catalogue.names);
    assert_eq!(library.claims().expect("claims"), catalogue.claims);
    assert_eq!(library.legal().expect("legal"), catalogue.legal);
    let by_key = |mut sources: Vec<_>| {
        sources.sort_by(|a: &quillwort::catalogue::Source, b| a.key.cmp(&b.key));
        sources
    };
    assert_eq!(library.sources().expect("sources"), by_key(catalogue.sources.clone()));
    let mut lights = catalogue.lights.clone();
    lights.sort_by(|a, b| a.key.cmp(&b.key));
    assert_eq!(library.lights().expect("lights"), lights);
    assert_eq!(library.authorships().expect("authors").len(), catalogue.plants.len());
}

#[test]
fn one_taxon_is_read_by_its_key() {
    let (catalogue, key) = shipped();
    let root = TempDir::new().expect("temporary folder");
    let folder = library::ensure(root.path(), &key, &mut fill(&catalogue)).expect("library is built");
    let library = Library::open(folder.path()).expect("library opens");
    for plant in catalogue.plants.iter().step_by(17) {
        let id = &plant.id;
        assert_eq!(library.plant(id).expect("plant").as_ref(), Some(plant));
        let names: Vec<_> = catalogue.names.iter().filter(|n| n.taxon == *id).cloned().collect();
        assert_eq!(library.names_of(id).expect("names"), names, "{id}");
        let claims: Vec<_> = catalogue.claims.iter().filter(|c| c.taxon == *id).cloned().collect();
        assert_eq!(library.claims_of(id).expect("claims"), claims, "{id}");
        let legal: Vec<_> = catalogue.legal.iter().filter(|l| l.taxon == *id).cloned().collect();
        assert_eq!(library.legal_of(id).expect("legal"), legal, "{id}");
    }
    assert_eq!(library.plant(&TaxonId("monstera-deliciosa".to_owned())).expect("reads"), None);
    let source = &catalogue.names[0].source;
    assert_eq!(library.source(source).expect("reads").map(|s| s.key).as_ref(), Some(source));
}

#[test]
fn numbers_survive_to_the_last_bit() {
    let mut catalogue = small();
    let plant = &mut catalogue.plants[0];
    plant.growth_per_day = 0.1 + 0.2;
    let ph = [4.1, 5.3, 7.7, 8.9].map(quillwort::units::Ph::new);
    plant.ph = Envelope::new(ph[0], ph[1], ph[2], ph[3]).expect("ascending");
    let folder = TempDir::new().expect("temporary folder");
    library::write(folder.path(), &catalogue).expect("writes");
    let read = Library::open(folder.path()).expect("opens").plants().expect("reads");
    assert_eq!(read, catalogue.plants);
}

#[test]
fn the_key_changes_with_every_byte_name_and_version() {
    let documents = documents();
    let key = library::key(&documents, 1);
    assert_eq!(key, library::key(&documents, 1));
    assert_ne!(key, library::key(&documents, 2), "version of the index");
    for i in 0..documents.len() {
        let mut changed = documents.clone();
        let mut text = changed[i].text.clone();
        let last = text.pop().unwrap_or('a');
        text.push(if last == 'b' { 'a' } else { 'b' });
        changed[i] = Document::new(changed[i].name.clone(), text);
        assert_ne!(key, library::key(&changed, 1), "a byte of {}", changed[i].name);
        changed[i] = Document::new("other", documents[i].text.clone());
        assert_ne!(key, library::key(&changed, 1), "the name of {}", documents[i].name);
    }
    assert_ne!(key, library::key(&documents[1..], 1), "a document less");
    // What moves from one document to the next is a change too.
    let two = |a: &str, b: &str| library::key(&[Document::new("n", a), Document::new("n", b)], 1);
    assert_ne!(two("ab", "c"), two("a", "bc"));
}

#[test]
fn a_finished_library_is_used_again() {
    let catalogue = small();
    let root = TempDir::new().expect("temporary folder");
    let first = library::ensure(root.path(), &some_key(1), &mut fill(&catalogue)).expect("built");
    let second = library::ensure(root.path(), &some_key(1), &mut never).expect("found");
    assert!(first.built() && !second.built());
    assert_eq!(names_in(root.path()), [some_key(1).to_string()]);
}

#[test]
fn libraries_of_other_data_are_removed_once_nobody_uses_them() {
    let catalogue = small();
    let root = TempDir::new().expect("temporary folder");
    let in_use = library::ensure(root.path(), &some_key(1), &mut fill(&catalogue)).expect("built");
    library::ensure(root.path(), &some_key(2), &mut fill(&catalogue)).expect("built");
    assert!(in_use.database().exists(), "a library in use stays");
    drop(in_use);
    library::ensure(root.path(), &some_key(3), &mut fill(&catalogue)).expect("built");
    assert_eq!(names_in(root.path()), [some_key(3).to_string()]);
}

#[test]
fn nothing_that_is_not_ours_is_removed() {
    let catalogue = small();
    let root = TempDir::new().expect("temporary folder");
    let keep = ["1-0123456789abcdef", "photos", ".building-mine", ".retired-letters"];
    for name in keep {
        fs::create_dir(root.path().join(name)).expect("folder");
        fs::write(root.path().join(name).join("dear.txt"), "precious").expect("file");
    }
    let old = library::ensure(root.path(), &some_key(1), &mut fill(&catalogue)).expect("built");
    fs::write(old.path().join("my-notes.txt"), "precious").expect("file");
    drop(old);
    library::ensure(root.path(), &some_key(2), &mut fill(&catalogue)).expect("built");
    for name in keep {
        assert!(root.path().join(name).join("dear.txt").exists(), "{name}");
    }
    assert!(root.path().join(some_key(1).as_str()).join("my-notes.txt").exists());
    assert!(!root.path().join(some_key(1).as_str()).join(library::DATABASE).exists());
}

#[test]
fn a_folder_left_half_built_is_never_used_and_goes_away() {
    let catalogue = small();
    let root = TempDir::new().expect("temporary folder");
    // A builder that dies leaves its folder: marker written, files begun, never sealed.
    let mut dead = None;
    let failed = library::ensure(root.path(), &some_key(1), &mut |folder| {
        let copy = root.path().join(".building-left");
        fs::create_dir(&copy)?;
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            fs::copy(entry.path(), copy.join(entry.file_name()))?;
        }
        fs::write(copy.join(library::DATABASE), "half")?;
        dead = Some(copy);
        Err("the power went".into())
    });
    assert!(matches!(failed, Err(LibraryError::Fill { .. })), "{failed:?}");
    let dead = dead.expect("the fill ran");
    assert_eq!(names_in(root.path()), [".building-left"], "a failed build leaves nothing itself");
    // The same folder under the final name: not complete, so not used.
    let target = root.path().join(some_key(1).as_str());
    fs::rename(&dead, &target).expect("rename");
    let folder = library::ensure(root.path(), &some_key(1), &mut fill(&catalogue)).expect("built");
    assert!(folder.built());
    Library::open(folder.path()).expect("opens");
    assert_eq!(names_in(root.path()), [some_key(1).to_string()]);
}

/// What happens to a finished library, in words and as a deed.
type Harm = (&'static str, fn(&Path));

#[test]
fn a_library_that_lost_a_file_or_part_of_one_is_built_again() {
    let catalogue = small();
    let harms: [Harm; 5] = [
        ("database gone", |f| fs::remove_file(f.join(library::DATABASE)).expect("removed")),
        ("database cut", |f| fs::write(f.join(library::DATABASE), "SQLite format 3").expect("cut")),
        ("index gone", |f| fs::remove_dir_all(f.join(library::INDEX)).expect("removed")),
        ("marker gone", |f| fs::remove_file(f.join("quillwort-library.txt")).expect("removed")),
        ("marker empty", |f| fs::write(f.join("quillwort-library.txt"), "").expect("emptied")),
    ];
    for (what, harm) in harms {
        let root = TempDir::new().expect("temporary folder");
        let folder = library::ensure(root.path(), &some_key(1), &mut fill(&catalogue)).expect("built");
        let path = folder.path().to_owned();
        drop(folder);
        harm(&path);
        let again = library::ensure(root.path(), &some_key(1), &mut fill(&catalogue));
        let again = again.unwrap_or_else(|e| panic!("{what}: {e}"));
        assert!(again.built(), "{what}");
        Library::open(again.path()).unwrap_or_else(|e| panic!("{what}: {e}"));
        assert_eq!(names_in(root.path()), [some_key(1).to_string()], "{what}");
    }
}

#[test]
fn a_damaged_database_is_a_typed_error_and_can_be_rebuilt() {
    let (catalogue, key) = shipped();
    let root = TempDir::new().expect("temporary folder");
    let folder = library::ensure(root.path(), &key, &mut fill(&catalogue)).expect("built");
    let mut bytes = fs::read(folder.database()).expect("database is readable");
    // The first page says that it is a database; the rest is lost.
    bytes[4096..].fill(0xa5);
    fs::write(folder.database(), &bytes).expect("damaged");
    drop(folder);
    // The size is right, so the damage shows only on reading.
    let folder = library::ensure(root.path(), &key, &mut never).expect("found");
    let read = Library::open(folder.path()).and_then(|l| l.plants());
    let Err(error @ LibraryError::Corrupt { .. }) = read else { panic!("damaged pages were read") };
    assert!(error.to_string().contains(library::DATABASE), "{error}");
    let again = library::rebuild(root.path(), &key, &mut fill(&catalogue)).expect("rebuilt");
    drop(folder);
    let library = Library::open(again.path()).expect("opens");
    assert_eq!(library.plants().expect("reads"), catalogue.plants);
}

#[test]
fn a_database_of_another_program_is_refused() {
    let folder = TempDir::new().expect("temporary folder");
    let missing = Library::open(folder.path());
    assert!(matches!(missing, Err(LibraryError::Corrupt { .. })), "{missing:?}");
    for text in [
        "",
        "not a database at all, but long enough to have a header of a hundred bytes or more, so that SQLite looks",
    ] {
        fs::write(folder.path().join(library::DATABASE), text).expect("written");
        let opened = Library::open(folder.path());
        assert!(matches!(opened, Err(LibraryError::Corrupt { .. })), "{opened:?}");
    }
}

#[test]
fn what_stands_in_the_way_is_named_and_left_alone() {
    let root = TempDir::new().expect("temporary folder");
    let target = root.path().join(some_key(1).as_str());
    fs::create_dir(&target).expect("folder");
    fs::write(target.join("dear.txt"), "precious").expect("file");
    let catalogue = small();
    let error = library::ensure(root.path(), &some_key(1), &mut fill(&catalogue)).expect_err("in the way");
    assert!(matches!(error, LibraryError::Foreign { .. }), "{error}");
    assert!(target.join("dear.txt").exists());
    let finding = Finding::from(&error);
    assert!(finding.message.contains(&*target.to_string_lossy()), "{finding:?}");
    assert_eq!(names_in(root.path()), [some_key(1).to_string()], "no temporary folder is left");
}

#[test]
fn a_root_that_cannot_be_written_is_named_with_a_way_out() {
    let folder = TempDir::new().expect("temporary folder");
    // A file where a folder is needed fails for every user, root included.
    let file = folder.path().join("file");
    fs::write(&file, "").expect("file");
    for root in [file.clone(), file.join("below")] {
        let error = library::ensure(&root, &some_key(1), &mut never).expect_err("not a folder");
        assert!(matches!(error, LibraryError::Unwritable { .. }), "{error}");
        assert!(error.to_string().contains(&*root.to_string_lossy()), "{error}");
        assert!(error.hint().contains("--library DIR"));
    }
}

#[cfg(unix)]
#[test]
fn a_finished_library_in_a_read_only_root_is_used() {
    use std::os::unix::fs::PermissionsExt;
    let catalogue = small();
    let root = TempDir::new().expect("temporary folder");
    let path =
        library::ensure(root.path(), &some_key(1), &mut fill(&catalogue)).expect("built").path().to_owned();
    let read_only = |mode: u32| {
        for entry in [root.path(), &path] {
            fs::set_permissions(entry, fs::Permissions::from_mode(mode)).expect("mode is set");
        }
    };
    read_only(0o555);
    let found = library::ensure(root.path(), &some_key(1), &mut never);
    let opened = found.and_then(|f| Library::open(f.path())?.plants());
    read_only(0o755);
    assert_eq!(opened.expect("reads"), catalogue.plants);
}

#[test]
fn builders_at_the_same_time_all_get_a_whole_library() {
    let catalogue = small();
    let root = TempDir::new().expect("temporary folder");
    std::thread::scope(|scope| {
        let build = || {
            let tries = Cell::new(0);
            for n in 0..12 {
                let key = some_key(n % 3);
                let folder = library::ensure(root.path(), &key, &mut fill(&catalogue)).expect("a library");
                let library = Library::open(folder.path()).expect("opens");
                assert_eq!(library.plants().expect("reads"), catalogue.plants);
                assert_eq!(fs::read(folder.index().join("segment")).expect("index"), b"words");
                tries.set(tries.get() + usize::from(folder.built()));
            }
            tries.get()
        };
        let threads: Vec<_> = (0..4).map(|_| scope.spawn(build)).collect();
        let built: usize = threads.into_iter().map(|t| t.join().expect("no panic")).sum();
        assert!(built > 0);
    });
    library::ensure(root.path(), &some_key(9), &mut fill(&catalogue)).expect("built");
    assert_eq!(names_in(root.path()), [some_key(9).to_string()], "nothing is left behind");
}
