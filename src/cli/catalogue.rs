//! `catalogue`: the data files, checked.

use std::path::Path;
use std::sync::Arc;

use super::Answer;
use super::args::{CatalogueArgs, CatalogueCommand, Format, Global};
use super::files::read_document;
use super::house::shipped;
use super::output::{Failure, Output};
use super::tank::unprintable;
use crate::catalogue::{SHIPPED, read_catalogue};
use crate::diagnostic::{Document, Finding, Findings};
use crate::report::text::{self, Page};
use crate::report::view::catalogue_view;
use crate::report::{csv, json};

pub(super) fn run(args: &CatalogueArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    match &args.command {
        CatalogueCommand::Check { folder } => check(folder.as_deref(), global, output),
    }
}

/// All findings on stderr, the shares of evidence on stdout; 1 when something is wrong.
fn check(folder: Option<&Path>, global: &Global, output: &Output) -> Result<Answer, Failure> {
    let documents = match folder {
        Some(folder) => documents(folder)?,
        None => shipped(),
    };
    let (catalogue, mut findings) = read_catalogue(&documents);
    for claim in catalogue.unexplained_disagreements() {
        findings.push(Finding::error(format!(
            "{}: evidence on {} says {} {} ({}), the catalogue says otherwise and no note says why",
            claim.taxon, claim.trait_name, claim.statement, claim.unit, claim.source
        )));
    }
    output.findings(&findings);
    let view = catalogue_view(&catalogue, findings.len());
    let text = match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::catalogue(&mut page, &view);
            page.finish()
        }
        Format::Json => json::json(&view).map_err(unprintable)?,
        Format::Csv => csv::catalogue(&view).map_err(unprintable)?,
    };
    output.data(&text)?;
    Ok(if findings.has_errors() { Answer::No } else { Answer::Yes })
}

/// The data files of a folder; those that are missing are reported together.
fn documents(folder: &Path) -> Result<Vec<Arc<Document>>, Failure> {
    let mut documents = Vec::new();
    let mut findings = Findings::default();
    for file in SHIPPED {
        match read_document(&folder.join(file.name)) {
            Ok(document) => documents.push(document),
            Err(Failure::Input(wrong)) => findings.extend(wrong),
            Err(closed) => return Err(closed),
        }
    }
    let (documents, _) = findings.into_result(documents)?;
    Ok(documents)
}
