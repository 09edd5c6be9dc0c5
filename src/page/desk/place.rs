//! The field that a finding is about, by its place in the text.

use toml_edit::{Document, Item, Table, Value};

use crate::diagnostic::Finding;

/// The full name of the value or table that a finding points at; `None` for the file as a whole.
pub(in crate::page) fn key_of(finding: &Finding) -> Option<String> {
    let place = finding.place.as_ref()?;
    let text = &place.document.text;
    let at = place.span.start;
    if place.span.is_empty() && at == 0 {
        return None;
    }
    let section = section_at(text, at);
    // A missing value stands nowhere; the message names it.
    let missing = finding.message.strip_prefix('`').and_then(|m| m.strip_suffix("` is missing"));
    if let Some(name) = missing {
        let own = name.rsplit('.').next().unwrap_or(name);
        let nested = section.as_deref().filter(|s| !s.is_empty() && name.contains('.'));
        return Some(nested.map_or(name.to_owned(), |s| format!("{s}.{own}")));
    }
    let document = Document::parse(text.as_str()).ok();
    let mut best: Option<(usize, String)> = None;
    if let Some(document) = &document {
        walk(document.as_table(), "", &mut |name, span| {
            if span.contains(&at) && best.as_ref().is_none_or(|(len, _)| span.len() <= *len) {
                best = Some((span.len(), name.to_owned()));
            }
        });
    }
    best.map(|(_, name)| name).or(section)
}

/// Calls `see` with every value, its key included, by its full name.
fn walk(table: &Table, path: &str, see: &mut impl FnMut(&str, std::ops::Range<usize>)) {
    for (name, item) in table {
        let here = if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") };
        if let Some(span) = table.key(name).and_then(toml_edit::Key::span).filter(|_| item.is_value()) {
            see(&here, span);
        }
        match item {
            Item::Table(inner) => walk(inner, &here, see),
            Item::ArrayOfTables(list) => {
                list.iter().enumerate().for_each(|(i, inner)| walk(inner, &format!("{here}[{i}]"), see));
            }
            Item::Value(value) => walk_value(value, &here, see),
            Item::None => {}
        }
    }
}

fn walk_value(value: &Value, here: &str, see: &mut impl FnMut(&str, std::ops::Range<usize>)) {
    if let Some(span) = value.span() {
        see(here, span);
    }
    match value {
        // A pair of lengths has a field each; a list of points has one.
        Value::Array(array) if array.len() == 2 && array.iter().all(Value::is_str) => {
            array.iter().enumerate().for_each(|(i, inner)| walk_value(inner, &format!("{here}[{i}]"), see));
        }
        Value::Array(array) => {
            let tables = array.iter().enumerate().filter(|(_, v)| v.is_inline_table());
            tables.for_each(|(i, inner)| walk_value(inner, &format!("{here}[{i}]"), see));
        }
        Value::InlineTable(table) => {
            table.iter().for_each(|(name, inner)| walk_value(inner, &format!("{here}.{name}"), see));
        }
        _ => {}
    }
}

/// The table whose header stands last before a place.
fn section_at(text: &str, at: usize) -> Option<String> {
    let mut seen: Vec<&str> = Vec::new();
    let mut current: Option<(&str, bool)> = None;
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        if start > at {
            break;
        }
        start += line.len();
        let line = line.trim();
        if let Some(name) = line.strip_prefix("[[").and_then(|l| l.split("]]").next()) {
            seen.push(name.trim());
            current = Some((name.trim(), true));
        } else if let Some(name) = line.strip_prefix('[').and_then(|l| l.split(']').next())
            && !line.contains(['"', ','])
        {
            current = Some((name.trim(), false));
        }
    }
    let (name, list) = current?;
    let count = seen.iter().filter(|s| **s == name).count();
    Some(if list { format!("{name}[{}]", count.saturating_sub(1)) } else { name.to_owned() })
}

#[cfg(test)]
mod tests {
    use super::key_of;
    use crate::diagnostic::Document;
    use crate::tank::file::read;

    const TANK: &str = include_str!("../../../data/demo/attic-lowtech.toml");

    fn keys(from: &str, to: &str) -> Vec<String> {
        let text = TANK.replacen(from, to, 1);
        assert_ne!(text, TANK, "{from}");
        let findings = read(&Document::new("x.toml", text)).expect_err("a finding");
        findings.iter().filter_map(key_of).collect()
    }

    #[test]
    fn a_finding_knows_its_field() {
        assert_eq!(keys("\"32 cm\"", "\"32 litres\""), ["glass.water"]);
        assert_eq!(keys("water = \"32 cm\"", "water = \"50 cm\""), ["glass.water"]);
        assert_eq!(keys("water = \"32 cm\"", ""), ["glass.water"]);
        assert_eq!(keys("above_water = \"8 cm\"", ""), ["light.lamp[0].above_water"]);
        assert_eq!(keys("size = [\"50 cm\"", "size = [\"50 lm\""), ["light.lamp[0].size[0]"]);
        assert_eq!(keys("taxa = \"2..3\"", "taxa = \"3..2\""), ["zone[3].taxa"]);
        assert_eq!(keys("\"capped soil\"", "\"caped soil\""), ["bed.kind"]);
        assert_eq!(keys("\"9 cm\"], [\"21 cm\"", "\"9 zz\"], [\"21 cm\""), ["zone[1].outline"]);
        assert_eq!(keys("tallest = \"12 cm\"", "talest = \"12 cm\""), ["zone[0].talest"]);
    }
}
