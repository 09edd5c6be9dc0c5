//! The tables of the database: the data files with the same names and columns.

/// The version of the layout of a library folder. Raise it when a change of the program makes
/// older folders unreadable in a way that neither the tables nor the index version show.
pub const SCHEMA_VERSION: u32 = 1;

/// Marks the file as ours for tools that look (`file`); "QWRT".
pub(super) const APPLICATION_ID: i32 = 0x5157_5254;

/// Lists (`placement`, `footing`, `native`, `hazard`) are `;`-separated words, as in the data
/// files; everything that is searched by list member is searched in the index.
pub(super) const DDL: &str = "
CREATE TABLE sources (
  key TEXT NOT NULL PRIMARY KEY,
  citation TEXT NOT NULL,
  year TEXT NOT NULL,
  licence TEXT NOT NULL,
  identifier TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE plants (
  taxonID TEXT NOT NULL PRIMARY KEY,
  scientificName TEXT NOT NULL,
  cultivarEpithet TEXT NOT NULL,
  scientificNameAuthorship TEXT NOT NULL,
  family TEXT NOT NULL,
  vernacularName TEXT NOT NULL,
  growthForm TEXT NOT NULL,
  placement TEXT NOT NULL,
  footing TEXT NOT NULL,
  heightMinCm REAL NOT NULL,
  heightMaxCm REAL NOT NULL,
  spreadCm REAL NOT NULL,
  spacingCm REAL NOT NULL,
  ppfdMin REAL NOT NULL,
  ppfdOptMin REAL NOT NULL,
  ppfdOptMax REAL NOT NULL,
  ppfdMax REAL NOT NULL,
  carbonUse TEXT NOT NULL,
  co2MinMgL REAL NOT NULL,
  co2OptMgL REAL NOT NULL,
  growthPerDay REAL NOT NULL,
  trimEveryWeeks INTEGER NOT NULL,
  tempAbsMinC REAL NOT NULL,
  tempOptMinC REAL NOT NULL,
  tempOptMaxC REAL NOT NULL,
  tempAbsMaxC REAL NOT NULL,
  phAbsMin REAL NOT NULL,
  phOptMin REAL NOT NULL,
  phOptMax REAL NOT NULL,
  phAbsMax REAL NOT NULL,
  ghAbsMinDgh REAL NOT NULL,
  ghOptMinDgh REAL NOT NULL,
  ghOptMaxDgh REAL NOT NULL,
  ghAbsMaxDgh REAL NOT NULL,
  khAbsMinDkh REAL NOT NULL,
  khOptMinDkh REAL NOT NULL,
  khOptMaxDkh REAL NOT NULL,
  khAbsMaxDkh REAL NOT NULL,
  feeding TEXT NOT NULL,
  bedDepthMinCm REAL NOT NULL,
  leafTexture TEXT NOT NULL,
  colour TEXT NOT NULL,
  emersed TEXT NOT NULL,
  lasting TEXT NOT NULL,
  offered TEXT NOT NULL,
  native TEXT NOT NULL,
  hazard TEXT NOT NULL,
  notes TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE names (
  ordinal INTEGER NOT NULL PRIMARY KEY,
  name TEXT NOT NULL,
  kind TEXT NOT NULL,
  language TEXT NOT NULL,
  taxonID TEXT NOT NULL REFERENCES plants (taxonID),
  sourceKey TEXT NOT NULL REFERENCES sources (key)
) STRICT;
CREATE INDEX namesOfTaxon ON names (taxonID);

CREATE TABLE evidence (
  ordinal INTEGER NOT NULL PRIMARY KEY,
  taxonID TEXT NOT NULL REFERENCES plants (taxonID),
  trait TEXT NOT NULL,
  statement TEXT NOT NULL,
  unit TEXT NOT NULL,
  kind TEXT NOT NULL,
  sourceKey TEXT NOT NULL REFERENCES sources (key),
  locator TEXT NOT NULL,
  note TEXT NOT NULL
) STRICT;
CREATE INDEX evidenceOfTaxon ON evidence (taxonID);

CREATE TABLE legal (
  ordinal INTEGER NOT NULL PRIMARY KEY,
  nameAsListed TEXT NOT NULL,
  taxonID TEXT NOT NULL REFERENCES plants (taxonID),
  jurisdiction TEXT NOT NULL,
  standing TEXT NOT NULL,
  effect TEXT NOT NULL,
  instrument TEXT NOT NULL,
  provision TEXT NOT NULL,
  inForceFrom TEXT NOT NULL,
  checkedOn TEXT NOT NULL,
  sourceKey TEXT NOT NULL REFERENCES sources (key)
) STRICT;
CREATE INDEX legalOfTaxon ON legal (taxonID);

CREATE TABLE lightSources (
  key TEXT NOT NULL PRIMARY KEY,
  description TEXT NOT NULL,
  luxPerUmol REAL NOT NULL,
  sourceKey TEXT NOT NULL REFERENCES sources (key)
) STRICT, WITHOUT ROWID;

CREATE TABLE lightBands (
  ordinal INTEGER NOT NULL PRIMARY KEY,
  key TEXT NOT NULL REFERENCES lightSources (key),
  bandStartNm REAL NOT NULL,
  bandEndNm REAL NOT NULL,
  photonFraction REAL NOT NULL
) STRICT;
";
