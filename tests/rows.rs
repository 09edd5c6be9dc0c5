//! Reads a table of `tests/reference`: outside figures, each row with its source.

use std::path::Path;

/// One row of a reference table.
pub struct Row {
    place: String,
    fields: Vec<(String, String)>,
}

impl Row {
    /// The text of a column.
    pub fn text(&self, column: &str) -> &str {
        let found = self.fields.iter().find(|(name, _)| name == column);
        &found.unwrap_or_else(|| panic!("{}: no column `{column}`", self.place)).1
    }

    /// The number of a column.
    pub fn number(&self, column: &str) -> f64 {
        self.text(column).parse().unwrap_or_else(|e| panic!("{}: `{column}`: {e}", self.place))
    }

    /// Fails unless `ours` is within `tolerance`, as a share, of the column.
    pub fn relative(&self, column: &str, ours: f64, tolerance: f64) {
        let theirs = self.number(column);
        let off = if theirs == 0.0 { ours.abs() } else { (ours / theirs - 1.0).abs() };
        assert!(
            off <= tolerance,
            "{self}: {column} {theirs}, ours {ours}, off by {off:.2e} > {tolerance:.0e}"
        );
    }

    /// Fails unless `ours` is within `tolerance` of the column.
    pub fn absolute(&self, column: &str, ours: f64, tolerance: f64) {
        let theirs = self.number(column);
        let off = (ours - theirs).abs();
        assert!(
            off <= tolerance,
            "{self}: {column} {theirs}, ours {ours}, off by {off:.2e} > {tolerance:.0e}"
        );
    }
}

impl std::fmt::Display for Row {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} ({})", self.place, self.text("source"))
    }
}

/// The rows of `tests/reference/NAME.csv`.
pub fn rows(name: &str) -> Vec<Row> {
    rows_at(&format!("tests/reference/{name}.csv"))
}

/// The rows of a table by its path in the project.
pub fn rows_at(path: &str) -> Vec<Row> {
    let name = path.rsplit('/').next().unwrap_or(path);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let mut reader = csv::Reader::from_path(&path).expect("reference table is readable");
    let header = reader.headers().expect("reference table has a header").clone();
    let read = |(n, record): (usize, Result<csv::StringRecord, csv::Error>)| {
        let record = record.expect("reference row is RFC 4180");
        let fields = header.iter().zip(&record).map(|(h, f)| (h.to_owned(), f.to_owned())).collect();
        Row { place: format!("{name}:{}", n + 2), fields }
    };
    let found: Vec<Row> = reader.records().enumerate().map(read).collect();
    assert!(!found.is_empty(), "{name} has no rows");
    found
}
