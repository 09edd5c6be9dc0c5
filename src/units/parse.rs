//! Reads a quantity or a range as people write it in a file.

use super::{Interval, Quantity};

/// Why a text is not the quantity that was wanted. Says what was expected, never where: the
/// caller knows the place.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ParseError {
    /// The text has no leading number.
    #[error("`{text}` is not a number with a unit")]
    NotANumber {
        /// What was written.
        text: String,
    },
    /// The number has no unit.
    #[error("`{text}` has no unit")]
    NoUnit {
        /// What was written.
        text: String,
    },
    /// The unit does not belong to this quantity.
    #[error("`{unit}` is not a unit of {kind}")]
    WrongUnit {
        /// The unit as written.
        unit: String,
        /// The quantity that was wanted.
        kind: &'static str,
    },
    /// A range whose first value is above its second.
    #[error("the range `{text}` runs backwards")]
    Reversed {
        /// What was written.
        text: String,
    },
}

/// The units a person may write for `Q`, for the "expected" line of a finding.
fn expected_units<Q: Quantity>() -> String {
    Q::UNITS.iter().map(|u| u.names[0]).filter(|n| !n.is_empty()).collect::<Vec<_>>().join(", ")
}

/// What a right value looks like, for the "expected" line of a finding.
pub fn expectation<Q: Quantity>() -> String {
    let units = expected_units::<Q>();
    if units.is_empty() {
        format!("{} as a plain number, or a range `a..b`", Q::KIND)
    } else {
        format!("{} such as \"12 {}\" (units: {units})", Q::KIND, Q::UNITS[0].names[0])
    }
}

/// Splits a leading decimal number from what follows it.
fn leading_number(text: &str) -> Option<(f64, &str)> {
    let bytes = text.as_bytes();
    let mut end = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    while end < bytes.len() {
        let decimal_point = bytes[end] == b'.' && bytes.get(end + 1) != Some(&b'.');
        if !(bytes[end].is_ascii_digit() || decimal_point) {
            break;
        }
        end += 1;
    }
    let value: f64 = text[..end].parse().ok()?;
    value.is_finite().then_some((value, text[end..].trim_start()))
}

fn to_base<Q: Quantity>(value: f64, unit: &str, text: &str) -> Result<Q, ParseError> {
    let found = Q::UNITS.iter().find(|u| u.names.contains(&unit));
    let folded = || Q::UNITS.iter().find(|u| u.names.iter().any(|n| n.eq_ignore_ascii_case(unit)));
    match found.or_else(folded) {
        Some(u) => Ok(Q::from_base(value * u.factor + u.offset)),
        None if unit.is_empty() => Err(ParseError::NoUnit { text: text.to_owned() }),
        None => Err(ParseError::WrongUnit { unit: unit.to_owned(), kind: Q::KIND }),
    }
}

/// Parses one value with its unit: `"60 cm"`, `"24in"`, `"7.2"` for a pH.
///
/// # Errors
/// No number, no unit, or a unit of another quantity.
pub fn parse_quantity<Q: Quantity>(text: &str) -> Result<Q, ParseError> {
    let trimmed = text.trim();
    let not_a_number = || ParseError::NotANumber { text: text.to_owned() };
    let (value, unit) = leading_number(trimmed).ok_or_else(not_a_number)?;
    to_base(value, unit, trimmed)
}

/// Parses a value or a range: `"24 degC"`, `"23..25 degC"`, `"6.8..7.2"`.
///
/// # Errors
/// As [`parse_quantity`], and when the range is reversed.
pub fn parse_interval<Q: Quantity>(text: &str) -> Result<Interval<Q>, ParseError> {
    let trimmed = text.trim();
    let Some((first, rest)) = trimmed.split_once("..") else {
        return parse_quantity(trimmed).map(Interval::point);
    };
    let not_a_number = || ParseError::NotANumber { text: text.to_owned() };
    let (lo, lo_unit) = leading_number(first.trim()).ok_or_else(not_a_number)?;
    let (hi, unit) = leading_number(rest.trim()).ok_or_else(not_a_number)?;
    let lo_unit = if lo_unit.is_empty() { unit } else { lo_unit };
    let (lo, hi) = (to_base::<Q>(lo, lo_unit, trimmed)?, to_base::<Q>(hi, unit, trimmed)?);
    Interval::new(lo, hi).ok_or_else(|| ParseError::Reversed { text: trimmed.to_owned() })
}
