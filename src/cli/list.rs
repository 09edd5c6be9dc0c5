//! Lists of plants from the command line: names, files with one name a line, or stdin.

use std::io::Read;
use std::path::Path;
use std::sync::Arc;

use super::output::{Failure, Output};
use crate::answers::files::{from_bytes, plain, read_document};
use crate::answers::{Listed, Names, Written, names_in, resolve_list};
use crate::diagnostic::{Document, Finding};

/// Reads every argument and resolves every name; all that cannot be resolved are reported
/// together, and how names that are not exact were read.
pub(super) fn read_lists(
    arguments: &[String],
    names: &Names,
    output: &Output,
) -> Result<Vec<Listed>, Failure> {
    if arguments.is_empty() {
        return Ok(Vec::new());
    }
    let mut written = Vec::new();
    let mut stdin_read = false;
    for argument in arguments {
        if argument == "-" {
            if std::mem::replace(&mut stdin_read, true) {
                return Err(Finding::error("stdin (`-`) can be read only once").into());
            }
            written.extend(names_in(&stdin()?));
        } else if Path::new(argument).is_file() {
            written.extend(names_in(&read_document(Path::new(argument))?));
        } else {
            written.push(Written::bare(argument));
        }
    }
    let listed = resolve_list(written, names)?;
    for item in &listed {
        tell_reading(&item.written, names, output);
    }
    Ok(listed)
}

/// Says on stderr how a name that is not exact was read.
pub(super) fn tell_reading(written: &str, names: &Names, output: &Output) {
    if let Some(reading) = names.reading(written) {
        output.note(&format!("note: {reading}"));
    }
}

fn stdin() -> Result<Arc<Document>, Failure> {
    let mut bytes = Vec::new();
    std::io::stdin()
        .lock()
        .read_to_end(&mut bytes)
        .map_err(|e| Finding::error(format!("stdin cannot be read: {}", plain(&e))))?;
    Ok(from_bytes("<stdin>", bytes)?)
}
