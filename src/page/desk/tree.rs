//! Walks a TOML document by key, whether its tables are written with headers or in one line.

use toml_edit::{Array, Item, Table, TableLike, Value};

use super::field::Kind;
use super::key::{Key, Step};

/// The table that holds the value of `key`; missing tables are made when asked for.
pub(super) fn holder<'a>(
    root: &'a mut Table,
    key: &Key,
    make: bool,
) -> Option<(&'a mut dyn TableLike, Step)> {
    let (tables, last) = key.split();
    let mut here: &mut dyn TableLike = root;
    for step in tables {
        here = enter(here, step, make)?;
    }
    Some((here, last?.clone()))
}

fn enter<'a>(here: &'a mut dyn TableLike, step: &Step, make: bool) -> Option<&'a mut dyn TableLike> {
    if make && step.index.is_none() && !here.contains_key(&step.name) {
        let mut table = Table::new();
        table.decor_mut().set_prefix("\n");
        here.insert(&step.name, Item::Table(table));
    }
    let item = here.get_mut(&step.name)?;
    match (step.index, item) {
        (None, item) => item.as_table_like_mut(),
        (Some(i), Item::ArrayOfTables(tables)) => tables.get_mut(i).map(|t| t as &mut dyn TableLike),
        (Some(i), Item::Value(Value::Array(array))) => {
            array.get_mut(i)?.as_inline_table_mut().map(|t| t as &mut dyn TableLike)
        }
        _ => None,
    }
}

/// The value of `key` as read.
pub(super) fn value<'a>(root: &'a Table, key: &Key) -> Option<&'a Value> {
    let (tables, last) = key.split();
    let mut here: &dyn TableLike = root;
    for step in tables {
        here = match (step.index, here.get(&step.name)?) {
            (None, item) => item.as_table_like()?,
            (Some(i), Item::ArrayOfTables(list)) => list.get(i)?,
            (Some(i), Item::Value(Value::Array(array))) => array.get(i)?.as_inline_table()?,
            _ => return None,
        };
    }
    let last = last?;
    let value = here.get(&last.name)?.as_value()?;
    match last.index {
        None => Some(value),
        Some(i) => value.as_array()?.get(i),
    }
}

/// How many tables a list such as `zone` or `light.lamp` has.
pub(super) fn count(root: &Table, list: &str) -> usize {
    let mut item: Option<&Item> = None;
    let mut table: Option<&dyn TableLike> = Some(root);
    for name in list.split('.') {
        item = table.and_then(|t| t.get(name));
        table = item.and_then(Item::as_table_like);
    }
    match item {
        Some(Item::ArrayOfTables(list)) => list.len(),
        Some(Item::Value(Value::Array(array))) => array.iter().filter(|v| v.is_inline_table()).count(),
        _ => 0,
    }
}

/// Puts `new` in the place of `old`, with the comments and blanks around it.
pub(super) fn replace(old: &mut Value, mut new: Value) {
    *new.decor_mut() = old.decor().clone();
    *old = new;
}

/// A text as written in a field, as the value that the file holds.
pub(super) fn to_value(text: &str, kind: Kind) -> Value {
    match kind {
        Kind::Flag(_) => match text {
            "true" => true.into(),
            "false" => false.into(),
            other => other.into(),
        },
        Kind::Number => number(text).unwrap_or_else(|| text.into()),
        Kind::Words => {
            let words = text.split([',', '\n']).map(str::trim).filter(|w| !w.is_empty());
            Value::Array(words.collect::<Array>())
        }
        Kind::Outline => Value::Array(points(text)),
        Kind::Text | Kind::Choice(_) | Kind::Spectrum => text.into(),
    }
}

fn number(text: &str) -> Option<Value> {
    if let Ok(whole) = text.parse::<i64>() {
        return Some(whole.into());
    }
    text.parse::<f64>().ok().filter(|v| v.is_finite()).map(Value::from)
}

fn points(text: &str) -> Array {
    let lines = text.split(['\n', ';']).map(str::trim).filter(|l| !l.is_empty());
    lines.map(|line| Value::Array(line.split(',').map(str::trim).collect::<Array>())).collect()
}

/// A value of the file as written in a field.
pub(super) fn to_text(value: &Value) -> String {
    match value {
        Value::String(text) => text.value().clone(),
        Value::Integer(n) => n.value().to_string(),
        Value::Float(n) => n.value().to_string(),
        Value::Boolean(b) => b.value().to_string(),
        Value::Datetime(d) => d.value().to_string(),
        Value::Array(array) if array.iter().any(Value::is_array) => {
            array.iter().map(to_text).collect::<Vec<_>>().join("\n")
        }
        Value::Array(array) => array.iter().map(to_text).collect::<Vec<_>>().join(", "),
        Value::InlineTable(table) => table.to_string().trim().to_owned(),
    }
}
