//! The library as the command line opens it: its place from the arguments, its building shown.

use std::path::PathBuf;

use super::args::Global;
use super::output::{Failure, Output};
use crate::answers::{Building, House, LibraryPlace};
use crate::diagnostic::Finding;
use crate::library;

/// Opens the library, telling the person when it is built.
pub(super) fn open(global: &Global, output: &Output) -> Result<House, Failure> {
    let steps = Output::steps(3);
    let mut told = |building: Building| match building {
        Building::Damaged(what) => output.note(&format!("{what}; it is built anew")),
        Building::Begun(root) => {
            output.note(&format!("Building the library in {} (once for this data)", root.display()));
        }
        Building::Reading => steps.set_message("reading the catalogue"),
        Building::Writing(plants) => {
            steps.inc(1);
            steps.set_message(format!("writing {plants} plants"));
        }
        Building::Indexing => {
            steps.inc(1);
            steps.set_message("indexing their words");
        }
        Building::Done => steps.finish_and_clear(),
    };
    let house = House::open(&place(global)?, &mut told)?;
    let tell = output.teller();
    house.on_damage(move |what| tell(&format!("{what}; it is built anew")));
    Ok(house)
}

/// Where the person's own rows are kept.
pub(super) fn own_folder(global: &Global) -> Option<PathBuf> {
    global.own.clone().or_else(library::default_own)
}

/// Where the library stands.
pub(super) fn place(global: &Global) -> Result<LibraryPlace, Failure> {
    let root = global.library.clone().or_else(library::default_root);
    let root = root.ok_or_else(|| {
        let finding = Finding::error("this system names no folder for derived data");
        finding.expected("a folder for the library: --library DIR")
    })?;
    Ok(LibraryPlace { root, own: own_folder(global) })
}
