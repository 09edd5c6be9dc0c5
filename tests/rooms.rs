//! The house: a room imports only from rooms before it (design of the crate, `src/lib.rs`).

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Every room and the rooms it may import from.
const ALLOWED: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("diagnostic", &[]),
    ("catalogue", &["units", "diagnostic"]),
    ("tank", &["units", "diagnostic"]),
    ("library", &["units", "diagnostic", "catalogue"]),
    ("search", &["units", "diagnostic", "catalogue"]),
    ("fit", &["units", "diagnostic", "catalogue", "tank"]),
    ("select", &["units", "diagnostic", "catalogue", "tank", "fit"]),
    ("planting", &["units", "diagnostic", "catalogue", "tank", "fit", "select"]),
    ("report", &["units", "diagnostic", "catalogue", "tank", "fit", "select", "planting", "search"]),
    (
        "answers",
        &[
            "units",
            "diagnostic",
            "catalogue",
            "library",
            "search",
            "tank",
            "fit",
            "select",
            "planting",
            "report",
        ],
    ),
    (
        "cli",
        &[
            "units",
            "diagnostic",
            "catalogue",
            "library",
            "search",
            "tank",
            "fit",
            "select",
            "planting",
            "report",
            "answers",
            "page",
        ],
    ),
    (
        "page",
        &[
            "units",
            "diagnostic",
            "catalogue",
            "library",
            "search",
            "tank",
            "fit",
            "select",
            "planting",
            "report",
            "answers",
        ],
    ),
];

/// Rooms that compute only: no files, no clock, no printing, no environment.
const PURE: &[&str] = &["units", "tank", "fit", "select", "planting"];
const OUTSIDE: &[&str] = &[
    "std::fs",
    "std::io",
    "std::env",
    "std::time",
    "std::process",
    "println!",
    "eprintln!",
    "print!(",
    "std::thread",
];
/// The one thing of those that a pure room may use: threads that end where they began.
const SCOPED: &str = "std::thread::scope(";

fn sources(dir: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> =
        fs::read_dir(dir).expect("src is readable").map(|e| e.expect("entry is readable").path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// The room of a file under `src`: its first folder, or its stem at the top.
fn room_of(path: &Path) -> String {
    let inner = path.strip_prefix(concat!(env!("CARGO_MANIFEST_DIR"), "/src")).expect("under src");
    let first = inner.components().next().expect("has a component").as_os_str().to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

fn all_sources() -> Vec<(String, PathBuf, String)> {
    let mut paths = Vec::new();
    sources(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/src")), &mut paths);
    paths
        .into_iter()
        .map(|p| (room_of(&p), p.clone(), fs::read_to_string(&p).expect("source is UTF-8")))
        .collect()
}

/// Rooms named after `crate::` in code, braces of a grouped import included.
fn imports(text: &str) -> Vec<String> {
    let code: String =
        text.lines().filter(|l| !l.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n");
    let mut found = Vec::new();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + "crate::".len()..];
        let names: Vec<&str> = match rest.strip_prefix('{') {
            Some(group) => group.split('}').next().unwrap_or("").split(',').collect(),
            None => vec![rest],
        };
        for name in names {
            let word: String =
                name.trim().chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect();
            if !word.is_empty() {
                found.push(word);
            }
        }
    }
    found
}

#[test]
fn no_room_imports_against_the_direction() {
    let allowed: BTreeMap<&str, &[&str]> = ALLOWED.iter().copied().collect();
    let mut wrong = Vec::new();
    for (room, path, text) in all_sources() {
        if room == "lib" || room == "main" {
            continue;
        }
        let Some(may) = allowed.get(room.as_str()) else {
            wrong.push(format!("{}: room `{room}` is not on the map", path.display()));
            continue;
        };
        for import in imports(&text) {
            if import != room && !may.contains(&import.as_str()) {
                wrong.push(format!("{}: `{room}` imports `{import}`", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "imports against the direction:\n{}", wrong.join("\n"));
}

#[test]
fn pure_rooms_touch_nothing_outside() {
    let mut wrong = Vec::new();
    for (room, path, text) in all_sources() {
        if !PURE.contains(&room.as_str()) {
            continue;
        }
        for (n, line) in text.lines().enumerate() {
            let code = line.split("//").next().unwrap_or("").replace(SCOPED, "");
            for word in OUTSIDE {
                if code.contains(word) {
                    wrong.push(format!("{}:{}: `{word}`", path.display(), n + 1));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "a pure room reaches outside:\n{}", wrong.join("\n"));
}

#[test]
fn the_scan_sees_a_wrong_import() {
    assert_eq!(
        imports("use crate::{cli, units::Length};\nuse crate::report::text;"),
        ["cli", "units", "report"]
    );
    assert_eq!(imports("// use crate::cli;"), Vec::<String>::new());
}
