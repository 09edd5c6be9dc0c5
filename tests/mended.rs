//! A library that was damaged after it was built: it is built anew, and the question is answered.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use tempfile::TempDir;

use crate::program::{Run, finish};

/// Runs the program on a library of its own.
fn ask(root: &Path, args: &[&str]) -> Run {
    let mut command = Command::new(env!("CARGO_BIN_EXE_quillwort"));
    command.arg("--library").arg(root).arg("--own").arg(root.join("no-own-rows")).args(args);
    finish(&mut command)
}

/// Files of the built library whose path holds `part`; not those of one that was put aside.
fn files(folder: &Path, part: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder").flatten() {
        let path = entry.path();
        if path.is_dir() {
            found.extend(files(&path, part));
        } else if path.to_string_lossy().contains(part) && !path.to_string_lossy().contains(".retired-") {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// Overwrites a stretch of a file; its size stays, so the seal of the folder still holds.
fn harm(path: &Path, from: usize, count: usize) {
    let mut bytes = fs::read(path).expect("the file is there");
    let end = (from + count).min(bytes.len());
    bytes[from.min(end)..end].iter_mut().for_each(|b| *b ^= 0x5a);
    fs::write(path, bytes).expect("the file can be written");
}

#[test]
fn a_damaged_index_is_built_anew_and_answers() {
    let root = TempDir::new().expect("a temporary folder");
    let question = ["find", "carpet", "low", "light"];
    let whole = ask(root.path(), &question);
    assert_eq!(whole.code, 0, "{}", whole.err);
    // The list of segments, and the inside of every file that is large enough to have one.
    let inside =
        files(root.path(), "index").into_iter().filter(|f| fs::metadata(f).is_ok_and(|m| m.len() > 2000));
    let mut harmed: Vec<String> = inside.filter_map(|f| Some(f.extension()?.to_str()?.to_owned())).collect();
    harmed.push("meta.json".to_owned());
    assert!(harmed.len() >= 4, "{harmed:?}");
    for end in harmed {
        let file = files(root.path(), "index").into_iter().find(|f| f.to_string_lossy().ends_with(&end));
        harm(&file.expect("each build has the same kinds of files"), 20, 400);
        let mended = ask(root.path(), &question);
        assert_eq!((mended.code, &mended.out), (0, &whole.out), "{end}: {}", mended.err);
        assert!(mended.err.contains("damaged") && mended.err.contains("built anew"), "{end}: {}", mended.err);
        let after = ask(root.path(), &question);
        assert!(after.err.is_empty() && after.out == whole.out, "{end}: {}", after.err);
    }
}

#[test]
fn damage_of_the_database_met_later_is_mended_too() {
    let root = TempDir::new().expect("a temporary folder");
    let question = ["show", "Vallisneria spiralis"];
    let whole = ask(root.path(), &question);
    assert_eq!(whole.code, 0, "{}", whole.err);
    let database = files(root.path(), ".sqlite").pop().expect("a database");
    let size = usize::try_from(fs::metadata(&database).expect("there").len()).expect("a small file");
    // The first page stays, so it opens; all the others are nonsense.
    harm(&database, 8192, size);
    let mended = ask(root.path(), &question);
    assert_eq!((mended.code, &mended.out), (0, &whole.out), "{}", mended.err);
    assert!(mended.err.contains("damaged") && mended.err.contains("built anew"), "{}", mended.err);
    assert_eq!(ask(root.path(), &question).err, "");
}
