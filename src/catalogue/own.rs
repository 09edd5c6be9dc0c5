//! A person's own rows: merged with ours for use, merged as text for export.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::check::{displace, is_table};
use super::{Claim, NameKind};
use super::{LegalEntry, LightSource, Name, Plant, Row, Source, Table};
use crate::diagnostic::{Document, Finding, Findings, nearest};

/// The tables of which a person may have rows of their own.
pub const OWN_TABLES: &[(&str, &[&str])] = &[
    ("sources.csv", Source::COLUMNS),
    ("plants.csv", Plant::COLUMNS),
    ("names.csv", Name::COLUMNS),
    ("evidence.csv", Claim::COLUMNS),
    ("legal.csv", LegalEntry::COLUMNS),
    ("light-sources.csv", LightSource::COLUMNS),
    ("light-bands.csv", LightSource::BAND_COLUMNS),
];

/// The table whose columns a file has, by its header line.
///
/// # Errors
/// A finding that names the nearest table when the header is none of ours.
pub fn table_of(document: &Arc<Document>) -> Result<&'static str, Finding> {
    let header = document.text.trim_start_matches('\u{feff}').lines().next().unwrap_or_default();
    let columns: Vec<&str> = header.split(',').map(|c| c.trim().trim_matches('"')).collect();
    let shared = |table: &[&str]| table.iter().filter(|c| columns.contains(c)).count();
    let best = OWN_TABLES.iter().max_by_key(|(_, table)| (shared(table), std::cmp::Reverse(table.len())));
    match best {
        Some((name, table)) if shared(table) * 2 > table.len() => Ok(name),
        _ => {
            let finding = Finding::error("the header is not that of a catalogue table");
            let first = OWN_TABLES.iter().filter_map(|(_, table)| table.first().copied());
            Err(finding
                .at(document, 0..header.len())
                .expected("the columns of plants.csv, names.csv, evidence.csv, sources.csv or legal.csv")
                .near(nearest(columns.first().copied().unwrap_or_default(), first, 1)))
        }
    }
}

/// Documents of one table as one text: rows of the later take the place of rows of the earlier
/// with the same key; sorted by the first column where `sorted`, else in order.
pub fn merged(name: &str, documents: &[Arc<Document>], findings: &mut Findings) -> String {
    let Some((_, columns)) = OWN_TABLES.iter().find(|(table, _)| *table == name) else {
        return String::new();
    };
    let mut kept: Vec<Row> = Vec::new();
    for document in documents.iter().filter(|d| is_table(d, name)) {
        displace(name, &mut kept, Table::read(document, columns, findings).rows);
    }
    let by = if columns.contains(&"taxonID") { "taxonID" } else { columns[0] };
    kept.sort_by(|a, b| a.text(by).cmp(b.text(by)));
    let mut text = columns.join(",");
    text.push('\n');
    for row in &kept {
        // Columns may stand in another order in a person's file.
        let cells: Vec<String> = columns.iter().map(|c| quoted(row.text(c))).collect();
        text.push_str(&cells.join(","));
        text.push('\n');
    }
    text
}

/// A cell after RFC 4180.
fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

/// The rows of `names.csv` that give each plant of `plants` without an accepted name one.
pub fn missing_accepted_names(documents: &[Arc<Document>], plants: &Arc<Document>) -> String {
    let mut findings = Findings::default();
    let mut named: BTreeSet<String> = BTreeSet::new();
    for document in documents.iter().filter(|d| is_table(d, "names.csv")) {
        for row in Table::read(document, Name::COLUMNS, &mut findings).rows {
            if row.text("kind") == NameKind::Accepted.word() {
                named.insert(row.text("taxonID").to_owned());
            }
        }
    }
    let mut text = Name::COLUMNS.join(",");
    text.push('\n');
    for row in Table::read(plants, Plant::COLUMNS, &mut findings).rows {
        if named.contains(row.text("taxonID")) {
            continue;
        }
        let cultivar = row.text("cultivarEpithet");
        let suffix = if cultivar.is_empty() { String::new() } else { format!(" '{cultivar}'") };
        let name = format!("{}{suffix}", row.text("scientificName"));
        text.push_str(&format!("{},accepted,la,{},memory\n", quoted(&name), quoted(row.text("taxonID"))));
    }
    text
}
