//! The whole catalogue: all tables read, and what must hold between them.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::{
    Claim, EvidenceKind, LegalEntry, LightSource, Name, NameKind, Plant, Row, Source, Table, TaxonId,
};
use crate::diagnostic::{Document, Finding, Findings, nearest};

/// Everything the data files hold, checked.
#[derive(Debug, Clone, Default)]
pub struct Catalogue {
    /// The taxa, by key.
    pub plants: Vec<Plant>,
    /// The names, in file order.
    pub names: Vec<Name>,
    /// The claims behind the values.
    pub claims: Vec<Claim>,
    /// What the claims rest on.
    pub sources: Vec<Source>,
    /// Laws and registers.
    pub legal: Vec<LegalEntry>,
    /// Lamp spectra.
    pub lights: Vec<LightSource>,
}

/// Reads the tables of a data folder. A document is known by the end of its name
/// (`plants.csv`); of several documents of one kind, rows of the later take the place of rows
/// of the earlier with the same key, so that a person's own rows correct ours.
///
/// Returns what could be read and everything that is wrong with the rest.
pub fn read_catalogue(documents: &[Arc<Document>]) -> (Catalogue, Findings) {
    let mut findings = Findings::default();
    let mut rows = RowSets::default();
    let mut catalogue = Catalogue {
        sources: rows.read(documents, "sources.csv", Source::COLUMNS, Source::from_row, &mut findings),
        plants: rows.read(documents, "plants.csv", Plant::COLUMNS, Plant::from_row, &mut findings),
        names: rows.read(documents, "names.csv", Name::COLUMNS, Name::from_row, &mut findings),
        claims: rows.read(documents, "evidence.csv", Claim::COLUMNS, Claim::from_row, &mut findings),
        legal: rows.read(documents, "legal.csv", LegalEntry::COLUMNS, LegalEntry::from_row, &mut findings),
        lights: rows.read(
            documents,
            "light-sources.csv",
            LightSource::COLUMNS,
            LightSource::from_row,
            &mut findings,
        ),
    };
    let bands = rows.read(
        documents,
        "light-bands.csv",
        LightSource::BAND_COLUMNS,
        LightSource::band_from_row,
        &mut findings,
    );
    for (key, band) in bands {
        if let Some(light) = catalogue.lights.iter_mut().find(|l| l.key == key) {
            light.bands.push(band);
        }
    }
    rows.check_keys(&mut findings);
    check_names(&catalogue, &mut findings);
    catalogue.plants.sort_by(|a, b| a.id.cmp(&b.id));
    (catalogue, findings)
}

/// The columns that make a row one of its kind.
const PRIMARY_KEYS: &[(&str, &[&str])] = &[
    ("plants.csv", &["taxonID"]),
    ("sources.csv", &["key"]),
    ("light-sources.csv", &["key"]),
    ("names.csv", &["name", "language", "taxonID"]),
    ("evidence.csv", &["taxonID", "trait", "sourceKey", "locator", "statement"]),
    ("legal.csv", &["taxonID", "jurisdiction", "instrument", "nameAsListed"]),
];

/// Whether a document is a part of the table of this file name.
pub(super) fn is_table(document: &Document, name: &str) -> bool {
    document.name == name || document.name.ends_with(&format!("/{name}"))
}

/// The keys by which a later document's row takes the place of an earlier one's: the primary
/// key, and for an accepted name the taxon, which has only one.
fn keys<'a>(table: &str, row: &'a Row) -> Vec<Vec<&'a str>> {
    let columns =
        PRIMARY_KEYS.iter().find(|(name, _)| *name == table).map_or(&[][..], |(_, columns)| columns);
    let mut keys = Vec::new();
    if !columns.is_empty() {
        keys.push(row.key(columns));
    }
    if table == "names.csv" && row.text("kind") == NameKind::Accepted.word() {
        keys.push(vec!["accepted", row.text("taxonID")]);
    }
    keys
}

/// Adds rows; earlier ones with the same key make room for them.
pub(super) fn displace(table: &str, kept: &mut Vec<Row>, rows: Vec<Row>) {
    let newer: BTreeSet<Vec<&str>> = rows.iter().flat_map(|r| keys(table, r)).collect();
    kept.retain(|old| !keys(table, old).iter().any(|key| newer.contains(key)));
    drop(newer);
    kept.extend(rows);
}

/// The raw rows of each table, kept for the checks between tables.
#[derive(Default)]
struct RowSets(BTreeMap<&'static str, Vec<Row>>);

impl RowSets {
    fn read<T>(
        &mut self,
        documents: &[Arc<Document>],
        name: &'static str,
        columns: &[&str],
        from: fn(&Row, &mut Findings) -> Option<T>,
        findings: &mut Findings,
    ) -> Vec<T> {
        let kept = self.0.entry(name).or_default();
        for document in documents.iter().filter(|d| is_table(d, name)) {
            displace(name, kept, Table::read(document, columns, findings).rows);
        }
        kept.iter().filter_map(|row| from(row, findings)).collect()
    }

    fn rows(&self, table: &str) -> &[Row] {
        self.0.get(table).map_or(&[], Vec::as_slice)
    }

    /// Duplicate primary keys and dangling foreign keys.
    fn check_keys(&self, findings: &mut Findings) {
        for (table, columns) in PRIMARY_KEYS {
            self.check_unique(table, columns, findings);
        }
        for (table, column, target, target_column) in [
            ("names.csv", "taxonID", "plants.csv", "taxonID"),
            ("evidence.csv", "taxonID", "plants.csv", "taxonID"),
            ("legal.csv", "taxonID", "plants.csv", "taxonID"),
            ("names.csv", "sourceKey", "sources.csv", "key"),
            ("evidence.csv", "sourceKey", "sources.csv", "key"),
            ("legal.csv", "sourceKey", "sources.csv", "key"),
            ("light-sources.csv", "sourceKey", "sources.csv", "key"),
            ("light-bands.csv", "key", "light-sources.csv", "key"),
        ] {
            self.check_reference(table, column, target, target_column, findings);
        }
    }

    fn check_unique(&self, table: &str, columns: &[&str], findings: &mut Findings) {
        let mut seen = BTreeSet::new();
        for row in self.rows(table) {
            let key: Vec<&str> = columns.iter().map(|c| row.text(c)).collect();
            if !seen.insert(key.clone()) {
                let message = format!("`{}` stands twice in {table}", key.join(" · "));
                findings.push(row.cell(columns[0]).finding(message).expected("each key once"));
            }
        }
    }

    fn check_reference(
        &self,
        table: &str,
        column: &str,
        target: &str,
        target_column: &str,
        findings: &mut Findings,
    ) {
        let known: BTreeSet<&str> = self.rows(target).iter().map(|r| r.text(target_column)).collect();
        for row in self.rows(table) {
            let cell = row.cell(column);
            if !known.contains(cell.text) {
                let finding = cell.finding(format!("`{}` is not in {target}", cell.text));
                findings.push(finding.near(nearest(cell.text, known.iter().copied(), 2)));
            }
        }
    }
}

/// Every taxon has one accepted name, and it is the name in `plants.csv`.
fn check_names(catalogue: &Catalogue, findings: &mut Findings) {
    let mut accepted: BTreeMap<&TaxonId, Vec<&str>> = BTreeMap::new();
    for name in catalogue.names.iter().filter(|n| n.kind == NameKind::Accepted) {
        accepted.entry(&name.taxon).or_default().push(&name.name);
    }
    for plant in &catalogue.plants {
        let names = accepted.get(&plant.id).map_or(&[][..], Vec::as_slice);
        if names != [plant.display_name()] {
            findings.push(
                Finding::error(format!("names.csv gives `{}` the accepted names {names:?}", plant.id))
                    .expected(format!("exactly `{}`", plant.display_name())),
            );
        }
    }
}

impl Catalogue {
    /// The taxon with this key.
    pub fn plant(&self, id: &TaxonId) -> Option<&Plant> {
        self.plants.binary_search_by(|p| p.id.cmp(id)).ok().map(|i| &self.plants[i])
    }

    /// How each trait is known: of all taxa, how many have their strongest claim of each kind.
    /// A value without any claim counts as practice.
    pub fn evidence_shares(&self) -> Vec<(&'static str, BTreeMap<EvidenceKind, usize>)> {
        let mut strongest: BTreeMap<(&str, &TaxonId), EvidenceKind> = BTreeMap::new();
        for claim in &self.claims {
            let kind = strongest.entry((claim.trait_name.as_str(), &claim.taxon)).or_insert(claim.kind);
            *kind = (*kind).min(claim.kind);
        }
        let shares = |name: &'static str| {
            let mut counts: BTreeMap<EvidenceKind, usize> = BTreeMap::new();
            for plant in &self.plants {
                let kind = strongest.get(&(name, &plant.id)).copied().unwrap_or(EvidenceKind::Practice);
                *counts.entry(kind).or_default() += 1;
            }
            (name, counts)
        };
        Claim::TRAITS.iter().copied().map(shares).collect()
    }

    /// Claims that disagree with the value they are about and do not say why.
    pub fn unexplained_disagreements(&self) -> Vec<&Claim> {
        let disagrees = |claim: &&Claim| {
            let plant = self.plant(&claim.taxon);
            plant.and_then(|p| claim.agrees_with(p)) == Some(false) && claim.note.is_empty()
        };
        self.claims.iter().filter(disagrees).collect()
    }
}
