//! Lists of plants as people give them: names, or documents with one name a line.

use std::ops::Range;
use std::sync::Arc;

use super::names::Names;
use crate::catalogue::TaxonId;
use crate::diagnostic::{Document, Finding, Findings};

/// A plant of a list, with what the person wrote.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// What it means.
    pub taxon: TaxonId,
    /// As the person wrote it.
    pub written: String,
}

/// A name before it is resolved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    name: String,
    place: Option<(Arc<Document>, Range<usize>)>,
}

impl Written {
    /// A name that stands in no document.
    pub fn bare(name: &str) -> Self {
        Self { name: name.trim().to_owned(), place: None }
    }

    /// What was written.
    pub(super) fn text(&self) -> &str {
        &self.name
    }

    /// What stands before the first `mark`, and what after it when there is one; each with its place.
    pub(super) fn split(&self, mark: char) -> (Self, Option<Self>) {
        let part = |text: &str, from: usize| {
            let name = text.trim();
            let from = from + text.find(name).unwrap_or(0);
            let at = |(document, span): &(Arc<Document>, Range<usize>)| {
                (Arc::clone(document), span.start + from..span.start + from + name.len())
            };
            Self { name: name.to_owned(), place: self.place.as_ref().map(at) }
        };
        match self.name.split_once(mark) {
            None => (self.clone(), None),
            Some((before, after)) => (part(before, 0), Some(part(after, before.len() + mark.len_utf8()))),
        }
    }

    /// A finding about this, at its place when it has one.
    pub(super) fn blamed(&self, finding: Finding) -> Finding {
        match &self.place {
            Some((document, span)) => finding.at(document, span.clone()),
            None => finding,
        }
    }
}

/// The names of a list: one a line, `#` begins a comment, empty lines mean nothing.
pub fn names_in(document: &Arc<Document>) -> Vec<Written> {
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

/// Resolves every name.
///
/// # Errors
/// All names that cannot be resolved, together; a list without any name.
pub fn resolve_list(written: Vec<Written>, names: &Names) -> Result<Vec<Listed>, Findings> {
    if written.is_empty() {
        return Err(Finding::error("the list names no plant").expected("one name a line").into());
    }
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
