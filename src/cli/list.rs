//! Lists of plants as people give them: names, files with one name a line, or stdin.

use std::io::Read;
use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use super::files::{from_bytes, plain, read_document};
use super::names::Names;
use super::output::Failure;
use crate::catalogue::TaxonId;
use crate::diagnostic::{Document, Finding, Findings};

/// A plant of a list, with what the person wrote.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Listed {
    pub taxon: TaxonId,
    pub written: String,
}

/// A name before it is resolved.
struct Written {
    name: String,
    place: Option<(Arc<Document>, Range<usize>)>,
}

/// Reads every argument and resolves every name; all that cannot be resolved are reported
/// together.
pub(super) fn read_lists(arguments: &[String], names: &Names) -> Result<Vec<Listed>, Failure> {
    let mut written = Vec::new();
    let mut stdin_read = false;
    for argument in arguments {
        if argument == "-" {
            if std::mem::replace(&mut stdin_read, true) {
                return Err(Finding::error("stdin (`-`) can be read only once").into());
            }
            written.extend(lines(&stdin()?));
        } else if Path::new(argument).is_file() {
            written.extend(lines(&read_document(Path::new(argument))?));
        } else {
            written.push(Written { name: argument.trim().to_owned(), place: None });
        }
    }
    if written.is_empty() && !arguments.is_empty() {
        return Err(Finding::error("the list names no plant").expected("one name a line").into());
    }
    resolve(written, names)
}

fn stdin() -> Result<Arc<Document>, Failure> {
    let mut bytes = Vec::new();
    std::io::stdin()
        .lock()
        .read_to_end(&mut bytes)
        .map_err(|e| Finding::error(format!("stdin cannot be read: {}", plain(&e))))?;
    from_bytes("<stdin>", bytes)
}

/// The names of a list: one a line, `#` begins a comment, empty lines mean nothing.
fn lines(document: &Arc<Document>) -> Vec<Written> {
    let mut start = 0;
    let mut found = Vec::new();
    for line in document.text.split_inclusive('\n') {
        let text = line.split('#').next().unwrap_or_default().trim_start_matches('\u{feff}');
        let name = text.trim();
        if !name.is_empty() {
            // The name is a slice of the line, so its place follows from where it lies.
            let from = start + line.find(name).unwrap_or(0);
            let place = Some((Arc::clone(document), from..from + name.len()));
            found.push(Written { name: name.to_owned(), place });
        }
        start += line.len();
    }
    found
}

fn resolve(written: Vec<Written>, names: &Names) -> Result<Vec<Listed>, Failure> {
    let mut findings = Findings::default();
    let mut listed = Vec::new();
    for Written { name, place } in written {
        match names.resolve(&name) {
            Ok(taxon) => listed.push(Listed { taxon, written: name }),
            Err(finding) => findings.push(match place {
                Some((document, span)) => finding.at(&document, span),
                None => finding,
            }),
        }
    }
    let (listed, _) = findings.into_result(listed)?;
    Ok(listed)
}
