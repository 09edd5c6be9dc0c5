//! A CSV file as rows of cells that remember where they stand.
//!
//! RFC 4180 is read by the `csv` crate; this module adds the byte span of every cell and
//! reports everything that is not a clean table: bytes, line ends, quotes, columns.

use std::ops::Range;
use std::sync::Arc;

use crate::diagnostic::{Document, Finding, Findings, nearest};

/// One cell: its text after unquoting and its bytes in the document.
#[derive(Debug, Clone, Copy)]
pub struct Cell<'a> {
    /// The unquoted text.
    pub text: &'a str,
    row: &'a Row,
    index: usize,
}

impl Cell<'_> {
    /// Where the cell stands in its document, quotes included.
    pub fn span(&self) -> Range<usize> {
        self.row.span(self.index)
    }

    /// A finding about this cell.
    pub fn finding(&self, message: impl Into<String>) -> Finding {
        Finding::error(message).at(&self.row.document, self.span())
    }
}

/// One record of a table.
#[derive(Debug)]
pub struct Row {
    document: Arc<Document>,
    header: Arc<Vec<String>>,
    cells: csv::StringRecord,
    bytes: Range<usize>,
}

impl Row {
    /// The cell of a column that the table was read with.
    ///
    /// # Panics
    /// When the column is not one of the columns given to [`Table::read`]: a fault of the
    /// program, never of the file.
    pub fn cell(&self, column: &str) -> Cell<'_> {
        let index = self.header.iter().position(|h| h == column);
        let index = index.expect("columns asked for are those the table was checked against");
        Cell { text: self.cells.get(index).unwrap_or_default(), row: self, index }
    }

    /// The text of a cell.
    pub fn text(&self, column: &str) -> &str {
        self.cell(column).text
    }

    /// The record as it stands in the file.
    pub fn raw(&self) -> &str {
        &self.document.text[self.bytes.clone()]
    }

    /// The texts of some columns.
    pub(super) fn key(&self, columns: &[&str]) -> Vec<&str> {
        columns.iter().map(|c| self.text(c)).collect()
    }

    /// The whole record, for findings about it.
    pub fn finding(&self, message: impl Into<String>) -> Finding {
        Finding::error(message).at(&self.document, self.bytes.clone())
    }

    /// Re-scans the raw record for the bytes of one field; only findings need it.
    fn span(&self, index: usize) -> Range<usize> {
        let raw = &self.document.text.as_bytes()[self.bytes.clone()];
        let (mut field, mut start, mut quoted) = (0, 0, false);
        for (i, byte) in raw.iter().enumerate() {
            match byte {
                b'"' => quoted = !quoted,
                b',' if !quoted => {
                    if field == index {
                        return self.bytes.start + start..self.bytes.start + i;
                    }
                    field += 1;
                    start = i + 1;
                }
                _ => {}
            }
        }
        self.bytes.start + start..self.bytes.end
    }
}

/// A checked table: every row has every column.
#[derive(Debug)]
pub struct Table {
    /// The rows, in file order.
    pub rows: Vec<Row>,
}

impl Table {
    /// Reads `document` as a table with exactly these columns.
    ///
    /// Rows that do not fit are left out and reported, the others are kept.
    pub fn read(document: &Arc<Document>, columns: &[&str], findings: &mut Findings) -> Self {
        check_bytes(document, findings);
        let text = document.text.strip_prefix('\u{feff}').unwrap_or(&document.text);
        let shift = document.text.len() - text.len();
        let mut reader =
            csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
        let mut records = Vec::new();
        for record in reader.records() {
            match record {
                Ok(record) => records.push(record),
                Err(error) => findings.push(Finding::error(format!("{}: {error}", document.name))),
            }
        }
        let Some(first) = records.first() else {
            findings.push(
                Finding::error(format!("`{}` is empty", document.name))
                    .expected(format!("a header line: {}", columns.join(","))),
            );
            return Self { rows: Vec::new() };
        };
        let header: Arc<Vec<String>> = Arc::new(first.iter().map(str::to_owned).collect());
        if !check_header(document, &header, columns, findings) {
            return Self { rows: Vec::new() };
        }
        let rows = spans(&records, shift, document.text.len(), &document.text)
            .skip(1)
            .map(|(cells, bytes)| Row {
                document: Arc::clone(document),
                header: Arc::clone(&header),
                cells: cells.clone(),
                bytes,
            })
            .filter(|row| check_width(row, findings))
            .collect();
        Self { rows }
    }
}

/// Each record with its bytes, the line end left out.
fn spans<'a>(
    records: &'a [csv::StringRecord],
    shift: usize,
    len: usize,
    text: &'a str,
) -> impl Iterator<Item = (&'a csv::StringRecord, Range<usize>)> {
    let start = move |r: &csv::StringRecord| r.position().map_or(0, |p| p.byte() as usize) + shift;
    records.iter().enumerate().map(move |(i, record)| {
        let from = start(record);
        let to = records.get(i + 1).map_or(len, start).max(from);
        let from = from + (text[from..to].len() - text[from..to].trim_start_matches(['\r', '\n']).len());
        let to = from + text[from..to].trim_end_matches(['\r', '\n']).len();
        (record, from..to)
    })
}

fn check_bytes(document: &Arc<Document>, findings: &mut Findings) {
    let text = &document.text;
    if text.starts_with('\u{feff}') {
        findings.push(
            Finding::error("the file starts with a byte order mark")
                .at(document, 0..3)
                .expected("UTF-8 without a byte order mark"),
        );
    }
    if let Some(at) = text.find('\r') {
        findings.push(
            Finding::error("the file has carriage returns").at(document, at..at + 1).expected("LF line ends"),
        );
    }
    if let Some(at) = text.find('\u{fffd}') {
        findings.push(
            Finding::error("the file has bytes that are not UTF-8")
                .at(document, at..at + 3)
                .expected("UTF-8 text"),
        );
    }
    if text.bytes().filter(|b| *b == b'"').count() % 2 == 1 {
        let at = unclosed_quote(text);
        findings.push(
            Finding::error("a quote is opened here and never closed")
                .at(document, at..at + 1)
                .expected("quotes in pairs, a quote inside a cell doubled"),
        );
    }
}

/// Where the line begins to be out of balance: the first line after which quoting never closes.
fn unclosed_quote(text: &str) -> usize {
    let mut offset = 0;
    for line in text.split_inclusive('\n') {
        if line.bytes().filter(|b| *b == b'"').count() % 2 == 1 {
            return offset + line.find('"').unwrap_or(0);
        }
        offset += line.len();
    }
    text.rfind('"').unwrap_or(0)
}

fn check_header(
    document: &Arc<Document>,
    header: &[String],
    columns: &[&str],
    findings: &mut Findings,
) -> bool {
    let line = 0..document.text.find('\n').unwrap_or(document.text.len());
    let before = findings.len();
    for column in columns.iter().filter(|c| !header.iter().any(|h| h == *c)) {
        findings.push(Finding::error(format!("the column `{column}` is missing")).at(document, line.clone()));
    }
    for (i, name) in header.iter().enumerate() {
        if header[..i].contains(name) {
            let message = format!("the column `{name}` stands twice");
            findings.push(Finding::error(message).at(document, line.clone()));
        } else if !columns.contains(&name.as_str()) {
            let near = nearest(name, columns.iter().copied(), 1);
            let message = format!("the column `{name}` is not one of this table");
            findings.push(Finding::error(message).at(document, line.clone()).near(near));
        }
    }
    findings.len() == before
}

fn check_width(row: &Row, findings: &mut Findings) -> bool {
    if row.cells.len() == row.header.len() {
        return true;
    }
    let message = format!("the row has {} cells", row.cells.len());
    findings.push(row.finding(message).expected(format!("{} cells, one a column", row.header.len())));
    false
}
