//! Reads the database back: everything at once, or what belongs to one taxon.

use std::path::{Path, PathBuf};

use rusqlite::{Connection, OpenFlags, Params, Row};

use super::LibraryError;
use super::schema::{APPLICATION_ID, SCHEMA_VERSION};
use crate::catalogue::{
    CarbonUse, Claim, Colour, Emersed, Envelope, EvidenceKind, Feeding, Footing, GrowthForm, Hazard,
    Language, Lasting, LeafTexture, LegalEntry, LegalStanding, LightSource, Name, NameKind, Offered,
    Placement, Plant, Source, TaxonId,
};
use crate::units::{Interval, Length, Quantity};

/// An open library database. Read only; nothing in it changes while it is open.
#[derive(Debug)]
pub struct Library {
    db: Connection,
    path: PathBuf,
}

impl Library {
    /// Opens `catalogue.sqlite` in a library folder.
    ///
    /// # Errors
    /// The file is missing, not a database of this program, or of another schema version.
    pub fn open(folder: &Path) -> Result<Self, LibraryError> {
        let path = folder.join(super::DATABASE);
        let opened = || -> Reading<Connection> {
            let db = connect(&path)?;
            let pragma = |name| db.pragma_query_value(None, name, |r| r.get::<_, i64>(0));
            let (application, version) = (pragma("application_id")?, pragma("user_version")?);
            if application != i64::from(APPLICATION_ID) || version != i64::from(SCHEMA_VERSION) {
                return Err(Damage(format!("application {application:#x} with schema {version}")));
            }
            Ok(db)
        };
        match opened() {
            Ok(db) => Ok(Self { db, path }),
            Err(Damage(what)) => Err(LibraryError::Corrupt { path, what }),
        }
    }

    /// All taxa, by key.
    ///
    /// # Errors
    /// The database is damaged; so for every other reading here.
    pub fn plants(&self) -> Result<Vec<Plant>, LibraryError> {
        self.all("SELECT * FROM plants ORDER BY taxonID", (), plant)
    }

    /// The taxon with this key.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn plant(&self, id: &TaxonId) -> Result<Option<Plant>, LibraryError> {
        Ok(self.all("SELECT * FROM plants WHERE taxonID = ?", [&id.0], plant)?.pop())
    }

    /// The authors of the accepted name of every taxon, by key; for name resolution.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn authorships(&self) -> Result<Vec<(TaxonId, String)>, LibraryError> {
        let sql = "SELECT taxonID, scientificNameAuthorship FROM plants ORDER BY taxonID";
        self.all(sql, (), |c| Ok((TaxonId(c.text()?), c.text()?)))
    }

    /// All names, in file order.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn names(&self) -> Result<Vec<Name>, LibraryError> {
        self.all("SELECT * FROM names ORDER BY ordinal", (), name)
    }

    /// The names of one taxon, in file order.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn names_of(&self, id: &TaxonId) -> Result<Vec<Name>, LibraryError> {
        self.all("SELECT * FROM names WHERE taxonID = ? ORDER BY ordinal", [&id.0], name)
    }

    /// All claims, in file order.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn claims(&self) -> Result<Vec<Claim>, LibraryError> {
        self.all("SELECT * FROM evidence ORDER BY ordinal", (), claim)
    }

    /// The claims about one taxon, in file order.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn claims_of(&self, id: &TaxonId) -> Result<Vec<Claim>, LibraryError> {
        self.all("SELECT * FROM evidence WHERE taxonID = ? ORDER BY ordinal", [&id.0], claim)
    }

    /// All laws and registers, in file order.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn legal(&self) -> Result<Vec<LegalEntry>, LibraryError> {
        self.all("SELECT * FROM legal ORDER BY ordinal", (), legal)
    }

    /// Laws and registers about one taxon, in file order.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn legal_of(&self, id: &TaxonId) -> Result<Vec<LegalEntry>, LibraryError> {
        self.all("SELECT * FROM legal WHERE taxonID = ? ORDER BY ordinal", [&id.0], legal)
    }

    /// All sources, by key.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn sources(&self) -> Result<Vec<Source>, LibraryError> {
        self.all("SELECT * FROM sources ORDER BY key", (), source)
    }

    /// The source with this key.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn source(&self, key: &str) -> Result<Option<Source>, LibraryError> {
        Ok(self.all("SELECT * FROM sources WHERE key = ?", [key], source)?.pop())
    }

    /// All lamp spectra with their bands, by key.
    ///
    /// # Errors
    /// The database is damaged.
    pub fn lights(&self) -> Result<Vec<LightSource>, LibraryError> {
        let mut lights = self.all("SELECT * FROM lightSources ORDER BY key", (), |c| {
            let (key, description) = (c.text()?, c.text()?);
            Ok(LightSource {
                key,
                description,
                lux_per_umol: c.real()?,
                bands: Vec::new(),
                source: c.text()?,
            })
        })?;
        let sql = "SELECT key, bandStartNm, bandEndNm, photonFraction FROM lightBands ORDER BY ordinal";
        for (key, band) in self.all(sql, (), |c| Ok((c.text()?, (c.real()?, c.real()?, c.real()?))))? {
            if let Some(light) = lights.iter_mut().find(|l| l.key == key) {
                light.bands.push(band);
            }
        }
        Ok(lights)
    }

    fn all<T>(
        &self,
        sql: &str,
        params: impl Params,
        record: fn(&mut Columns<'_, '_>) -> Reading<T>,
    ) -> Result<Vec<T>, LibraryError> {
        let read = || -> Reading<Vec<T>> {
            let mut statement = self.db.prepare_cached(sql)?;
            let mut rows = statement.query(params)?;
            let mut records = Vec::new();
            while let Some(row) = rows.next()? {
                records.push(record(&mut Columns { row, next: 0 })?);
            }
            Ok(records)
        };
        read().map_err(|Damage(what)| LibraryError::Corrupt { path: self.path.clone(), what })
    }
}

/// Opens without locks and without looking for a journal, where the path can be written as a
/// URI: the folder never changes once it is in place.
fn connect(path: &Path) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    match immutable_uri(path) {
        Some(uri) => Connection::open_with_flags(uri, flags | OpenFlags::SQLITE_OPEN_URI),
        None => Connection::open_with_flags(path, flags),
    }
}

/// `None` for a path that is not UTF-8 or has a drive letter.
fn immutable_uri(path: &Path) -> Option<String> {
    let text = path.to_str().filter(|_| cfg!(unix))?;
    let mut uri = String::from("file:");
    for c in text.chars() {
        match c {
            '%' => uri.push_str("%25"),
            '?' => uri.push_str("%3F"),
            '#' => uri.push_str("%23"),
            _ => uri.push(c),
        }
    }
    Some(uri + "?immutable=1")
}

/// What does not read as it was written.
struct Damage(String);

impl From<rusqlite::Error> for Damage {
    fn from(error: rusqlite::Error) -> Self {
        Self(error.to_string())
    }
}

type Reading<T> = Result<T, Damage>;

/// The columns of a row, taken one after the other.
struct Columns<'a, 'b> {
    row: &'a Row<'b>,
    next: usize,
}

impl Columns<'_, '_> {
    fn take<T: rusqlite::types::FromSql>(&mut self) -> Reading<T> {
        self.next += 1;
        Ok(self.row.get(self.next - 1)?)
    }

    fn skip(&mut self) {
        self.next += 1;
    }

    fn text(&mut self) -> Reading<String> {
        self.take()
    }

    fn real(&mut self) -> Reading<f64> {
        self.take()
    }

    fn word<T>(&mut self, from: fn(&str) -> Option<T>) -> Reading<T> {
        let at = self.next;
        self.next += 1;
        let text = self.row.get_ref(at)?.as_str().map_err(rusqlite::Error::from)?;
        from(text).ok_or_else(|| Damage(format!("`{text}` is no word of column {at}")))
    }

    fn list<T>(&mut self, from: fn(&str) -> Option<T>) -> Reading<Vec<T>> {
        let text: String = self.take()?;
        let words = text.split(';').filter(|w| !w.is_empty());
        words.map(|w| from(w).ok_or_else(|| Damage(format!("`{w}` is no word of its column")))).collect()
    }

    fn envelope<Q: Quantity>(&mut self) -> Reading<Envelope<Q>> {
        let [a, b, c, d] = [self.real()?, self.real()?, self.real()?, self.real()?].map(Q::from_base);
        Envelope::new(a, b, c, d).ok_or_else(|| Damage("an envelope runs backwards".to_owned()))
    }
}

fn source(c: &mut Columns<'_, '_>) -> Reading<Source> {
    Ok(Source {
        key: c.text()?,
        citation: c.text()?,
        year: c.text()?,
        licence: c.text()?,
        identifier: c.text()?,
    })
}

/// In the order of [`Plant::COLUMNS`].
fn plant(c: &mut Columns<'_, '_>) -> Reading<Plant> {
    Ok(Plant {
        id: TaxonId(c.text()?),
        scientific_name: c.text()?,
        cultivar: Some(c.text()?).filter(|t| !t.is_empty()),
        authorship: c.text()?,
        family: c.text()?,
        vernacular: c.text()?,
        growth_form: c.word(GrowthForm::from_word)?,
        placements: c.list(Placement::from_word)?,
        footings: c.list(Footing::from_word)?,
        height: Interval::new(Length::from_cm(c.real()?), Length::from_cm(c.real()?))
            .ok_or_else(|| Damage("a height runs backwards".to_owned()))?,
        spread: Length::from_cm(c.real()?),
        spacing: Length::from_cm(c.real()?),
        light: c.envelope()?,
        carbon_use: c.word(CarbonUse::from_word)?,
        co2_min: Quantity::from_base(c.real()?),
        co2_opt: Quantity::from_base(c.real()?),
        growth_per_day: c.real()?,
        trim_every_weeks: c.take()?,
        temperature: c.envelope()?,
        ph: c.envelope()?,
        gh: c.envelope()?,
        kh: c.envelope()?,
        feeding: c.word(Feeding::from_word)?,
        bed_depth_min: Length::from_cm(c.real()?),
        texture: c.word(LeafTexture::from_word)?,
        colour: c.word(Colour::from_word)?,
        emersed: c.word(Emersed::from_word)?,
        lasting: c.word(Lasting::from_word)?,
        offered: c.word(Offered::from_word)?,
        native: c.list(|w| Some(w.to_owned()))?,
        hazards: c.list(Hazard::from_word)?,
        notes: c.text()?,
    })
}

fn name(c: &mut Columns<'_, '_>) -> Reading<Name> {
    c.skip();
    Ok(Name {
        name: c.text()?,
        kind: c.word(NameKind::from_word)?,
        language: c.word(Language::from_word)?,
        taxon: TaxonId(c.text()?),
        source: c.text()?,
    })
}

fn claim(c: &mut Columns<'_, '_>) -> Reading<Claim> {
    c.skip();
    Ok(Claim {
        taxon: TaxonId(c.text()?),
        trait_name: c.text()?,
        statement: c.text()?,
        unit: c.text()?,
        kind: c.word(EvidenceKind::from_word)?,
        source: c.text()?,
        locator: c.text()?,
        note: c.text()?,
    })
}

fn legal(c: &mut Columns<'_, '_>) -> Reading<LegalEntry> {
    c.skip();
    Ok(LegalEntry {
        name_as_listed: c.text()?,
        taxon: TaxonId(c.text()?),
        jurisdiction: c.text()?,
        standing: c.word(LegalStanding::from_word)?,
        effect: c.text()?,
        instrument: c.text()?,
        provision: c.text()?,
        in_force_from: c.text()?,
        checked_on: c.text()?,
        source: c.text()?,
    })
}
