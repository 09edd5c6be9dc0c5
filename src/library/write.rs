//! Writes the catalogue into a new database, in one transaction.

use std::path::Path;

use rusqlite::types::Value;
use rusqlite::{Connection, Statement, params_from_iter};

use super::LibraryError;
use super::schema::{APPLICATION_ID, DDL, SCHEMA_VERSION};
use crate::catalogue::{Catalogue, Claim, Envelope, LegalEntry, LightSource, Name, Plant, Source};
use crate::units::{Length, Quantity};

/// Writes `catalogue` as `catalogue.sqlite` into `folder`, which has no such file yet.
///
/// # Errors
/// The file cannot be written, or a row refers to a taxon or source that is not there (a
/// catalogue read without errors has none).
pub fn write(folder: &Path, catalogue: &Catalogue) -> Result<(), LibraryError> {
    let path = folder.join(super::DATABASE);
    fill(&path, catalogue).map_err(|source| LibraryError::Database { path, source })
}

fn fill(path: &Path, catalogue: &Catalogue) -> rusqlite::Result<()> {
    let mut db = Connection::open(path)?;
    db.pragma_update(None, "application_id", APPLICATION_ID)?;
    db.pragma_update(None, "user_version", SCHEMA_VERSION)?;
    // The folder is thrown away when anything fails, and flushed as a whole when it is done.
    db.pragma_update(None, "journal_mode", "memory")?;
    db.pragma_update(None, "synchronous", "off")?;
    db.pragma_update(None, "foreign_keys", "on")?;
    let batch = db.transaction()?;
    batch.execute_batch(DDL)?;
    rows(&batch, "sources", &catalogue.sources, source_row)?;
    rows(&batch, "plants", &catalogue.plants, plant_row)?;
    numbered_rows(&batch, "names", &catalogue.names, name_row)?;
    numbered_rows(&batch, "evidence", &catalogue.claims, claim_row)?;
    numbered_rows(&batch, "legal", &catalogue.legal, legal_row)?;
    rows(&batch, "lightSources", &catalogue.lights, light_row)?;
    let bands = catalogue.lights.iter().flat_map(|l| l.bands.iter().map(move |b| (l.key.clone(), *b)));
    let bands: Vec<(String, (f64, f64, f64))> = bands.collect();
    numbered_rows(&batch, "lightBands", &bands, |(key, (start, end, share))| {
        vec![text(key), (*start).into(), (*end).into(), (*share).into()]
    })?;
    batch.commit()?;
    db.close().map_err(|(_, error)| error)
}

fn insert<'c>(db: &'c Connection, table: &str, width: usize) -> rusqlite::Result<Statement<'c>> {
    let marks = vec!["?"; width].join(", ");
    db.prepare(&format!("INSERT INTO {table} VALUES ({marks})"))
}

fn rows<T>(db: &Connection, table: &str, records: &[T], row: fn(&T) -> Vec<Value>) -> rusqlite::Result<()> {
    let Some(first) = records.first() else { return Ok(()) };
    let mut statement = insert(db, table, row(first).len())?;
    for record in records {
        statement.execute(params_from_iter(row(record)))?;
    }
    Ok(())
}

/// As [`rows`], with the place in the file as first column: the order of a file has meaning.
fn numbered_rows<T>(
    db: &Connection,
    table: &str,
    records: &[T],
    row: fn(&T) -> Vec<Value>,
) -> rusqlite::Result<()> {
    let Some(first) = records.first() else { return Ok(()) };
    let mut statement = insert(db, table, row(first).len() + 1)?;
    for (ordinal, record) in (1_i64..).zip(records) {
        statement.execute(params_from_iter(std::iter::once(Value::from(ordinal)).chain(row(record))))?;
    }
    Ok(())
}

fn text(value: &str) -> Value {
    Value::from(value.to_owned())
}

fn list<T: ToString>(values: &[T]) -> Value {
    Value::from(values.iter().map(T::to_string).collect::<Vec<_>>().join(";"))
}

/// As in the data file: metres times a hundred leave noise in the last digits.
fn centimetres(length: Length) -> Value {
    Value::from((length.cm() * 1e6).round() / 1e6)
}

fn envelope<Q: Quantity>(envelope: Envelope<Q>) -> impl Iterator<Item = Value> {
    envelope.values().into_iter().map(|q| Value::from(q.base()))
}

fn source_row(s: &Source) -> Vec<Value> {
    [&s.key, &s.citation, &s.year, &s.licence, &s.identifier].map(|t| text(t)).into()
}

/// In the order of [`Plant::COLUMNS`].
fn plant_row(p: &Plant) -> Vec<Value> {
    let cultivar = p.cultivar.as_deref().unwrap_or_default();
    let mut row: Vec<Value> =
        [&p.id.0, &p.scientific_name, cultivar, &p.authorship, &p.family, &p.vernacular].map(text).into();
    row.extend([text(p.growth_form.word()), list(&p.placements), list(&p.footings)]);
    let lengths = [p.height.lo(), p.height.hi(), p.spread, p.spacing];
    row.extend(lengths.map(centimetres));
    row.extend(envelope(p.light));
    row.push(text(p.carbon_use.word()));
    row.extend([p.co2_min.mg_l(), p.co2_opt.mg_l(), p.growth_per_day].map(Value::from));
    row.push(Value::from(p.trim_every_weeks));
    row.extend(envelope(p.temperature));
    row.extend(envelope(p.ph));
    row.extend(envelope(p.gh));
    row.extend(envelope(p.kh));
    row.extend([text(p.feeding.word()), centimetres(p.bed_depth_min)]);
    row.extend(
        [p.texture.word(), p.colour.word(), p.emersed.word(), p.lasting.word(), p.offered.word()].map(text),
    );
    row.extend([list(&p.native), list(&p.hazards), text(&p.notes)]);
    row
}

fn name_row(n: &Name) -> Vec<Value> {
    [&n.name, n.kind.word(), n.language.word(), &n.taxon.0, &n.source].map(text).into()
}

fn claim_row(c: &Claim) -> Vec<Value> {
    let kind = c.kind.word();
    [&c.taxon.0, &c.trait_name, &c.statement, &c.unit, kind, &c.source, &c.locator, &c.note].map(text).into()
}

fn legal_row(l: &LegalEntry) -> Vec<Value> {
    let dates = [&l.in_force_from, &l.checked_on, &l.source].map(|t| text(t));
    let standing = l.standing.word();
    let mut row: Vec<Value> =
        [&l.name_as_listed, &l.taxon.0, &l.jurisdiction, standing, &l.effect, &l.instrument, &l.provision]
            .map(text)
            .into();
    row.extend(dates);
    row
}

fn light_row(l: &LightSource) -> Vec<Value> {
    vec![text(&l.key), text(&l.description), l.lux_per_umol.into(), text(&l.source)]
}
