//! `catalogue`: the data files, checked.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::Answer;
use super::args::{CatalogueArgs, CatalogueCommand, Format, Global};
use super::house::own_folder;
use super::output::{Failure, Output};
use super::tank::unprintable;
use crate::answers::files::{plain, read_document};
use crate::answers::{documents as all_documents, own_documents, shipped};
use crate::catalogue::{
    DESCRIPTION, OWN_TABLES, SHIPPED, UNCHECKED, merged, missing_accepted_names, read_catalogue, table_of,
};
use crate::diagnostic::{Document, Finding, Findings};
use crate::report::text::{self, Page};
use crate::report::view::catalogue_view;
use crate::report::{csv, json};

pub(super) fn run(args: &CatalogueArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    match &args.command {
        CatalogueCommand::Check { folder } => check(folder.as_deref(), global, output),
        CatalogueCommand::Add { files } => add(files, global, output),
        CatalogueCommand::Export { folder } => export(folder, global, output),
    }
}

/// All findings on stderr, the shares of evidence on stdout; 1 when something is wrong.
fn check(folder: Option<&Path>, global: &Global, output: &Output) -> Result<Answer, Failure> {
    let documents = match folder {
        Some(folder) => documents(folder)?,
        None => all_documents(own_folder(global).as_deref())?,
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
            Err(wrong) => findings.extend(wrong),
        }
    }
    let (documents, _) = findings.into_result(documents)?;
    Ok(documents)
}

/// Merges files into the person's own rows. Everything is checked together with our rows first;
/// when anything is wrong, nothing is written.
fn add(files: &[PathBuf], global: &Global, output: &Output) -> Result<Answer, Failure> {
    let Some(folder) = own_folder(global) else {
        let finding = Finding::error("this system names no folder for your own rows");
        return Err(finding.expected("a folder: --own DIR").into());
    };
    let mut findings = Findings::default();
    let mut parts = own_documents(&folder)?;
    for file in files {
        let document = read_document(file)?;
        match table_of(&document) {
            // Named so that the reader knows the table; findings keep the person's own path.
            Ok(table) => parts.push(Document::new(as_table(&document.name, table), document.text.clone())),
            Err(finding) => findings.push(finding),
        }
    }
    let (mut parts, _) = findings.into_result(parts)?;
    complete_names(&mut parts, &folder);
    let everything: Vec<Arc<Document>> = shipped().into_iter().chain(parts.iter().cloned()).collect();
    let (_, findings) = read_catalogue(&everything);
    let ((), _) = findings.into_result(())?;
    let written = write_own(&folder, &parts)?;
    output.note(&format!("Your own rows in {}: {}", folder.display(), written.join(", ")));
    Ok(Answer::Yes)
}

/// A document name that ends with the table's file name.
fn as_table(name: &str, table: &str) -> String {
    if name == table || name.ends_with(&format!("/{table}")) {
        name.to_owned()
    } else {
        format!("{name}/{table}")
    }
}

/// Adds accepted names for plants that come without.
fn complete_names(parts: &mut Vec<Arc<Document>>, folder: &Path) {
    let with_ours: Vec<Arc<Document>> = shipped().into_iter().chain(parts.iter().cloned()).collect();
    let plants: Vec<Arc<Document>> =
        parts.iter().filter(|d| d.name.ends_with("/plants.csv")).cloned().collect();
    for document in plants {
        let names = missing_accepted_names(&with_ours, &document);
        parts.push(Document::new(format!("{}/names.csv", folder.display()), names));
    }
}

/// Writes the merged own tables, each in one step.
fn write_own(folder: &Path, parts: &[Arc<Document>]) -> Result<Vec<String>, Failure> {
    std::fs::create_dir_all(folder).map_err(|e| unwritable(folder, &e))?;
    let mut written = Vec::new();
    for (table, _) in OWN_TABLES {
        let mut findings = Findings::default();
        let text = merged(table, parts, &mut findings);
        let rows = text.lines().count().saturating_sub(1);
        if rows > 0 {
            write_whole(&folder.join(table), &text)?;
            written.push(format!("{rows} in {table}"));
        }
    }
    Ok(written)
}

/// Writes a file beside its place and renames it there, so that it is never seen half written.
fn write_whole(path: &Path, text: &str) -> Result<(), Failure> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let write = || -> std::io::Result<()> {
        let mut file = tempfile::NamedTempFile::new_in(folder)?;
        file.write_all(text.as_bytes())?;
        file.as_file().sync_all()?;
        file.persist(path)?;
        Ok(())
    };
    write().map_err(|e| unwritable(path, &e))
}

fn unwritable(path: &Path, error: &std::io::Error) -> Failure {
    Finding::error(format!("`{}` cannot be written: {}", path.display(), plain(error))).into()
}

/// Writes the data package: our tables with the person's rows merged, and its description.
fn export(folder: &Path, global: &Global, output: &Output) -> Result<Answer, Failure> {
    let taken = std::fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_some());
    if taken || folder.is_file() {
        let finding = Finding::error(format!("`{}` is not an empty folder", folder.display()));
        return Err(finding.expected("a new or empty folder, so that nothing is overwritten").into());
    }
    let documents = all_documents(own_folder(global).as_deref())?;
    let (_, findings) = read_catalogue(&documents);
    let ((), _) = findings.into_result(())?;
    std::fs::create_dir_all(folder).map_err(|e| unwritable(folder, &e))?;
    let own = documents.len() > SHIPPED.len();
    for file in SHIPPED {
        let mut findings = Findings::default();
        let text = if own { merged(file.name, &documents, &mut findings) } else { file.text.to_owned() };
        write_whole(&folder.join(file.name), &text)?;
    }
    for file in UNCHECKED.iter().chain([&DESCRIPTION]) {
        write_whole(&folder.join(file.name), file.text)?;
    }
    output.note(&format!("The data package is in {}", folder.display()));
    Ok(Answer::Yes)
}
