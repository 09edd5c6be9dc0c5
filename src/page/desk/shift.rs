//! Moves and stretches what lies on the plan: zones, lamps, wood and rock.
//!
//! Everything stays over the glass; lengths keep the unit in which they are written.

use toml_edit::{Array, DocumentMut, TableLike, Value};

use super::key::Key;
use super::tree;
use crate::tank::outline::Outline;
use crate::units::{Length, parse_interval, parse_quantity};

/// Half a millimetre: nothing on the plan is smaller.
const LEAST_CM: f64 = 0.05;
/// A zone keeps at least this width.
const NARROWEST_CM: f64 = 1.0;

/// How far, to the right and to the back.
#[derive(Debug, Clone, Copy)]
pub(super) struct By {
    pub right_cm: f64,
    pub back_cm: f64,
}

/// What is done to an outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// The whole of it goes along.
    Move,
    /// It grows or shrinks from its left and front ends.
    Stretch,
}

/// Moves or stretches the part of the plan called `key`; `false` when there is nothing to move.
pub(super) fn shift(document: &mut DocumentMut, key: &Key, by: By, way: Way) -> bool {
    let Some(glass) = glass(document) else { return false };
    let Some(inner) = Key::parse(&format!("{key}.at")) else { return false };
    let Some((table, _)) = tree::holder(document.as_table_mut(), &inner, false) else { return false };
    let by = [by.right_cm, by.back_cm];
    if key.pattern() == "light.lamp[]" {
        return way == Way::Move && spot(table, by, glass);
    }
    if let Some(outline) = table.get_mut("outline").and_then(|i| i.as_array_mut()) {
        return outline_by(outline, by, glass, way);
    }
    let across = key.pattern() == "zone[]" && range(table, "from_left", by[0], glass[0], way);
    let along = key.pattern() == "zone[]" && range(table, "from_front", by[1], glass[1], way);
    across || along
}

/// Length and depth of the glass.
fn glass(document: &DocumentMut) -> Option<[f64; 2]> {
    let side = |key: &str| {
        let value = tree::value(document.as_table(), &Key::parse(key)?)?;
        parse_quantity::<Length>(value.as_str()?).ok().map(Length::cm)
    };
    Some([side("glass.length")?, side("glass.depth")?])
}

/// A length in the unit of the text it replaces: inches where those are written, else centimetres.
fn written(cm: f64, like: &str) -> String {
    let inches = ["in", "\"", "ft", "feet", "foot"].iter().any(|u| like.trim_end().ends_with(u));
    let short = |value: f64, decimals: usize| {
        let text = format!("{value:.decimals$}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        if text == "-0" || text.is_empty() { "0".to_owned() } else { text.to_owned() }
    };
    if inches { format!("{} in", short(cm / 2.54, 2)) } else { format!("{} cm", short(cm, 1)) }
}

/// The two lengths of a point.
fn point(value: &Value) -> Option<[f64; 2]> {
    let pair = value.as_array()?;
    let cm = |i: usize| parse_quantity::<Length>(pair.get(i)?.as_str()?).ok().map(Length::cm);
    Some([cm(0)?, cm(1)?])
}

fn set_point(value: &mut Value, to: [f64; 2]) {
    let Some(pair) = value.as_array_mut() else { return };
    for (i, cm) in to.into_iter().enumerate() {
        if let Some(old) = pair.get_mut(i) {
            let text = written(cm, old.as_str().unwrap_or_default());
            tree::replace(old, text.into());
        }
    }
}

fn spot(table: &mut dyn TableLike, by: [f64; 2], glass: [f64; 2]) -> bool {
    let Some(value) = table.get_mut("at").and_then(|i| i.as_value_mut()) else { return false };
    let Some(at) = point(value) else { return false };
    let to = std::array::from_fn(|i| (at[i] + by[i]).clamp(0.0, glass[i]));
    set_point(value, to);
    differs(at, to)
}

fn differs(a: [f64; 2], b: [f64; 2]) -> bool {
    a.iter().zip(b).any(|(a, b)| (a - b).abs() >= LEAST_CM)
}

/// Moves an outline, or stretches it from its left and front ends; what would not be an outline any
/// more is left as it is.
fn outline_by(outline: &mut Array, by: [f64; 2], glass: [f64; 2], way: Way) -> bool {
    let Some(from) = outline.iter().map(point).collect::<Option<Vec<[f64; 2]>>>() else { return false };
    let low = |axis: usize| from.iter().map(|p| p[axis]).fold(f64::INFINITY, f64::min);
    let high = |axis: usize| from.iter().map(|p| p[axis]).fold(f64::NEG_INFINITY, f64::max);
    let placed = |axis: usize, v: f64| {
        let (lo, hi) = (low(axis), high(axis));
        let wide = hi - lo;
        let most = (glass[axis] - hi).max(0.0);
        match way {
            Way::Move => v + by[axis].clamp(-lo.max(0.0), most),
            Way::Stretch if wide <= NARROWEST_CM => v,
            Way::Stretch => lo + (v - lo) * (wide + by[axis].clamp(NARROWEST_CM - wide, most)) / wide,
        }
    };
    let rounded = |v: f64| (v * 10.0).round() / 10.0;
    let to: Vec<[f64; 2]> = from.iter().map(|p| std::array::from_fn(|i| rounded(placed(i, p[i])))).collect();
    let spots: Vec<_> = to.iter().map(|p| (Length::from_cm(p[0]), Length::from_cm(p[1]))).collect();
    if Outline::new(&spots).is_err() || !from.iter().zip(&to).any(|(a, b)| differs(*a, *b)) {
        return false;
    }
    for (value, to) in outline.iter_mut().zip(to) {
        set_point(value, to);
    }
    true
}

/// Moves a range along one side of the glass; where none is written, the whole side is meant.
fn range(table: &mut dyn TableLike, key: &str, by: f64, side: f64, way: Way) -> bool {
    let text = table.get(key).and_then(|i| i.as_str()).map(str::to_owned);
    let ends = match &text {
        Some(text) => match parse_interval::<Length>(text) {
            Ok(ends) => [ends.lo().cm(), ends.hi().cm()],
            Err(_) => return false,
        },
        None => [0.0, side],
    };
    let to = match way {
        Way::Move => {
            let by = by.clamp(-ends[0].max(0.0), (side - ends[1]).max(0.0));
            ends.map(|e| e + by)
        }
        Way::Stretch => [ends[0], (ends[1] + by).clamp((ends[0] + NARROWEST_CM).min(side), side)],
    };
    if !differs(ends, to) {
        return false;
    }
    let like = text.unwrap_or_default();
    let new =
        format!("{}..{}", written(to[0], &like).split(' ').next().unwrap_or("0"), written(to[1], &like));
    match table.get_mut(key).and_then(|i| i.as_value_mut()) {
        Some(old) => tree::replace(old, new.into()),
        None => drop(table.insert(key, toml_edit::value(new))),
    }
    true
}
