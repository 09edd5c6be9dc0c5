//! Which price list a command reads.

use std::path::{Path, PathBuf};

use super::output::Failure;
use crate::answers::files::read_document;
use crate::answers::{Names, Prices};
use crate::diagnostic::Findings;
use crate::tank::file::TankSpec;

/// The list given on the command line, or the one the tank file names beside itself.
pub(super) fn load(
    given: Option<&PathBuf>,
    tank: &Path,
    spec: &TankSpec,
    names: &Names,
    notes: &mut Findings,
) -> Result<Prices, Failure> {
    let path = match (given, &spec.wishes.prices) {
        (Some(path), _) => path.clone(),
        (None, Some(wish)) => tank.parent().unwrap_or(Path::new("")).join(&wish.text),
        (None, None) => return Ok(Prices::default()),
    };
    Ok(Prices::read(&read_document(&path)?, names, notes)?)
}
