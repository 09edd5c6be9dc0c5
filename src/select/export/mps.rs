//! Free MPS as text.

use std::fmt::Write;

use super::matrix::{Column, Matrix, Range, Sense};

/// Name of the objective row.
const OBJECTIVE: &str = "minus_value";

pub(super) fn mps(matrix: &Matrix, title: &str) -> String {
    let mut text = String::new();
    let title: String = title.chars().filter(|c| !c.is_control()).collect();
    // Writing to a string cannot fail.
    let _ = writeln!(text, "* {title}: a selection of plants; minimise minus_value, the value of a list");
    let _ = writeln!(text, "* taken negative. x.ZONE.TAXON is 1 when the taxon stands in the zone.");
    let _ = writeln!(text, "NAME selection\nROWS\n N {OBJECTIVE}");
    for row in &matrix.rows {
        let sense = match row.sense {
            Sense::AtMost => 'L',
            Sense::AtLeast => 'G',
            Sense::Equal => 'E',
        };
        let _ = writeln!(text, " {sense} {}", row.name);
    }
    columns(matrix, &mut text);
    let _ = writeln!(text, "RHS");
    for row in matrix.rows.iter().filter(|r| r.side != 0) {
        let _ = writeln!(text, " RHS {} {}", row.name, row.side);
    }
    let _ = writeln!(text, "BOUNDS");
    for column in &matrix.columns {
        let name = &column.name;
        let _ = match column.range {
            Range::Binary => writeln!(text, " UP BND {name} 1"),
            Range::Fixed(value) => writeln!(text, " FX BND {name} {value}"),
            Range::Upto(most) => writeln!(text, " UP BND {name} {most}"),
            Range::Free => writeln!(text, " FR BND {name}"),
        };
    }
    text.push_str("ENDATA\n");
    text
}

fn is_whole(column: &Column) -> bool {
    matches!(column.range, Range::Binary | Range::Fixed(_))
}

/// Whole columns stand between markers.
fn columns(matrix: &Matrix, text: &mut String) {
    text.push_str("COLUMNS\n");
    let mut whole = false;
    let mut markers = 0;
    for column in &matrix.columns {
        if is_whole(column) != whole {
            whole = is_whole(column);
            let kind = if whole { "INTORG" } else { "INTEND" };
            let _ = writeln!(text, " M{markers} 'MARKER' '{kind}'");
            markers += 1;
        }
        if column.value != 0 || column.entries.is_empty() {
            let _ = writeln!(text, " {} {OBJECTIVE} {}", column.name, -column.value);
        }
        for &(row, factor) in column.entries.iter().filter(|(_, factor)| *factor != 0) {
            let _ = writeln!(text, " {} {} {factor}", column.name, matrix.rows[row].name);
        }
    }
    if whole {
        let _ = writeln!(text, " M{markers} 'MARKER' 'INTEND'");
    }
}
