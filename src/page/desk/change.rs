//! One edit of a tank file, and the text that it makes. Comments, order and unknown keys stay.

use schemars::JsonSchema;
use serde::Deserialize;
use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, Value};

use super::field;
use super::key::Key;
use super::shift::{By, Way, shift};
use super::tree;
use crate::diagnostic::Finding;

/// Characters of one value, at most.
const LONGEST_VALUE: usize = 4000;
/// Tables of one list, at most.
const MOST_PARTS: usize = 60;
/// Centimetres of one move, at most.
const FARTHEST_CM: f64 = 1000.0;

/// What can be added to the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Part {
    /// A lamp, like the last one.
    Lamp,
    /// A piece of wood.
    Hardscape,
    /// A zone.
    Zone,
}

/// One edit of the tank file.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(tag = "do", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Change {
    /// Writes a value; an empty text takes it out of the file.
    Set {
        /// Its full name, such as `glass.water` or `light.lamp[0].at[1]`.
        key: String,
        /// The value as a person writes it.
        value: String,
    },
    /// Adds a part to the plan.
    Add {
        /// What.
        what: Part,
    },
    /// Takes a part from the plan.
    Drop {
        /// Its full name, such as `zone[1]`.
        key: String,
    },
    /// Moves a part over the plan; it stays over the glass.
    Move {
        /// Its full name.
        key: String,
        /// Centimetres to the right.
        right_cm: f64,
        /// Centimetres to the back.
        back_cm: f64,
    },
    /// Moves the right and back ends of a zone or of wood or rock.
    Stretch {
        /// Its full name.
        key: String,
        /// Centimetres to the right.
        right_cm: f64,
        /// Centimetres to the back.
        back_cm: f64,
    },
    /// The plant must be on the list.
    Keep {
        /// Key of the taxon.
        taxon: String,
    },
    /// The plant must not be on the list.
    Never {
        /// Key of the taxon.
        taxon: String,
    },
    /// The plant may be on the list or not.
    Free {
        /// Key of the taxon.
        taxon: String,
    },
    /// One plant leaves the list and another must be on it.
    Swap {
        /// Key of the taxon that leaves.
        out: String,
        /// Key of the taxon that comes.
        r#in: String,
    },
}

impl Change {
    /// The key of the value that is written.
    pub(super) fn written_key(&self) -> Option<&str> {
        if let Self::Set { key, .. } = self { Some(key) } else { None }
    }
}

/// What the page knows of plant names.
pub trait Names {
    /// The key of the taxon that a written name means.
    fn taxon(&self, written: &str) -> Option<String>;
    /// The name to write for a taxon.
    fn written(&self, taxon: &str) -> Option<String>;
}

/// The text with the changes made, in order.
///
/// # Errors
/// What is wrong with a change, as a finding; none of them is made then.
pub(super) fn apply(text: &str, changes: &[Change], names: &dyn Names) -> Result<String, Finding> {
    let mut document: DocumentMut = text.parse().map_err(|error: toml_edit::TomlError| {
        Finding::error(format!("the file is not TOML: {}", error.message().replace('\n', "; ")))
            .expected("a file that can be read; mend it in an editor and read it anew")
    })?;
    for change in changes {
        make(&mut document, change, names)?;
    }
    Ok(document.to_string())
}

fn make(document: &mut DocumentMut, change: &Change, names: &dyn Names) -> Result<(), Finding> {
    match change {
        Change::Set { key, value } => set(document, key, value.trim()),
        Change::Add { what } => add(document, *what),
        Change::Drop { key } => drop_part(document, key),
        Change::Move { key, right_cm, back_cm } => moved(document, key, [*right_cm, *back_cm], Way::Move),
        Change::Stretch { key, right_cm, back_cm } => {
            moved(document, key, [*right_cm, *back_cm], Way::Stretch)
        }
        Change::Keep { taxon } => wish(document, taxon, Some("must"), names),
        Change::Never { taxon } => wish(document, taxon, Some("never"), names),
        Change::Free { taxon } => wish(document, taxon, None, names),
        Change::Swap { out, r#in } => {
            wish(document, out, Some("never"), names)?;
            wish(document, r#in, Some("must"), names)
        }
    }
}

fn unknown(key: &str, near: Vec<String>) -> Finding {
    Finding::error(format!("`{key}` is not a value that the page edits"))
        .expected("a key such as `glass.water` or `zone[0].tallest`")
        .near(near)
}

fn set(document: &mut DocumentMut, text: &str, value: &str) -> Result<(), Finding> {
    let key = Key::parse(text).ok_or_else(|| unknown(text, Vec::new()))?;
    let field = field::find(&key).map_err(|near| unknown(text, near))?;
    if value.chars().count() > LONGEST_VALUE {
        return Err(Finding::error(format!("the value of `{text}` is too long"))
            .expected(format!("at most {LONGEST_VALUE} characters")));
    }
    let nowhere =
        || Finding::error(format!("there is no `{text}` in the file")).expected("a part of the file");
    let (table, last) = tree::holder(document.as_table_mut(), &key, true).ok_or_else(nowhere)?;
    let Some(index) = last.index else {
        if value.is_empty() {
            table.remove(&last.name);
        } else {
            let new = tree::to_value(value, field.kind);
            match table.get_mut(&last.name).and_then(Item::as_value_mut) {
                Some(old) => tree::replace(old, new),
                None => drop(table.insert(&last.name, toml_edit::value(new))),
            }
        }
        return Ok(());
    };
    if !table.contains_key(&last.name) {
        table.insert(&last.name, toml_edit::value(["0 cm", "0 cm"].into_iter().collect::<Array>()));
    }
    let pair = table.get_mut(&last.name).and_then(Item::as_array_mut);
    let old = pair.and_then(|p| p.get_mut(index)).ok_or_else(nowhere)?;
    tree::replace(old, value.into());
    Ok(())
}

fn moved(document: &mut DocumentMut, text: &str, by: [f64; 2], way: Way) -> Result<(), Finding> {
    let places = ["zone[]", "light.lamp[]", "hardscape[]"];
    let key = Key::parse(text).filter(|k| places.contains(&k.pattern().as_str()));
    let key = key.ok_or_else(|| {
        Finding::error(format!("`{text}` is not a part of the plan"))
            .expected("a zone, lamp or piece of hardscape, such as `zone[0]`")
    })?;
    if by.iter().any(|v| !v.is_finite() || v.abs() > FARTHEST_CM) {
        return Err(Finding::error("the way is too far").expected("at most 1000 cm to either side"));
    }
    // Nothing to move is no mistake: an epiphyte zone lies where its wood lies.
    shift(document, &key, By { right_cm: by[0], back_cm: by[1] }, way);
    Ok(())
}

/// The list of tables called `light.lamp` or `zone`, made when it is not there.
fn list<'a>(document: &'a mut DocumentMut, path: &str) -> Result<&'a mut ArrayOfTables, Finding> {
    let wrong = || {
        Finding::error(format!("`{path}` is written in a way that the page cannot edit"))
            .expected(format!("tables with headers: [[{path}]]"))
    };
    let key = Key::parse(path).ok_or_else(wrong)?;
    let (table, last) = tree::holder(document.as_table_mut(), &key, true).ok_or_else(wrong)?;
    if !table.contains_key(&last.name) {
        table.insert(&last.name, Item::ArrayOfTables(ArrayOfTables::new()));
    }
    table.get_mut(&last.name).and_then(Item::as_array_of_tables_mut).ok_or_else(wrong)
}

fn add(document: &mut DocumentMut, what: Part) -> Result<(), Finding> {
    let path = match what {
        Part::Lamp => "light.lamp",
        Part::Hardscape => "hardscape",
        Part::Zone => "zone",
    };
    let list = list(document, path)?;
    if list.len() >= MOST_PARTS {
        return Err(Finding::error(format!("there are {MOST_PARTS} of these already")).expected("fewer"));
    }
    let number = list.len() + 1;
    let mut table = match (what, list.iter().last()) {
        (Part::Lamp, Some(last)) => last.clone(),
        _ => template(what, number)?,
    };
    table.set_position(None);
    table.decor_mut().set_prefix("\n");
    list.push(table);
    Ok(())
}

/// A new part as it stands at first, for a person to change.
fn template(what: Part, number: usize) -> Result<Table, Finding> {
    let text = match what {
        Part::Lamp => {
            "photon_flux = \"20 umol/s\"\nsize = [\"40 cm\", \"8 cm\"]\nabove_water = \"8 cm\"\nbeam = \"120 deg\"\n\
             at = [\"20 cm\", \"15 cm\"]\n"
                .to_owned()
        }
        Part::Hardscape => format!(
            "name = \"wood {number}\"\nmaterial = \"wood\"\noutline = [[\"10 cm\", \"8 cm\"], [\"18 cm\", \"8 cm\"], \
             [\"18 cm\", \"14 cm\"], [\"10 cm\", \"14 cm\"]]\ntop = \"15 cm\"\n"
        ),
        Part::Zone => format!(
            "name = \"zone {number}\"\nplacement = \"midground\"\nfrom_front = \"8..16 cm\"\nfrom_left = \"0..15 cm\"\n\
             taxa = \"1..2\"\n"
        ),
    };
    let document: Result<DocumentMut, _> = text.parse();
    // The texts above are constants but for a number.
    document.map(|d| d.as_table().clone()).map_err(|e| Finding::error(e.to_string()))
}

fn drop_part(document: &mut DocumentMut, text: &str) -> Result<(), Finding> {
    let places = ["zone[]", "light.lamp[]", "hardscape[]"];
    let none =
        || Finding::error(format!("there is no `{text}` on the plan")).expected("a part such as `zone[0]`");
    let key = Key::parse(text).filter(|k| places.contains(&k.pattern().as_str())).ok_or_else(none)?;
    let (table, last) = tree::holder(document.as_table_mut(), &key, false).ok_or_else(none)?;
    let index = last.index.unwrap_or(usize::MAX);
    let tables = table.get_mut(&last.name).and_then(Item::as_array_of_tables_mut).ok_or_else(none)?;
    if index >= tables.len() {
        return Err(none());
    }
    tables.remove(index);
    if tables.is_empty() {
        table.remove(&last.name);
    }
    Ok(())
}

/// Writes a plant into one of the two lists of wishes, and takes it out of the other.
fn wish(
    document: &mut DocumentMut,
    taxon: &str,
    into: Option<&str>,
    names: &dyn Names,
) -> Result<(), Finding> {
    let written = names.written(taxon).ok_or_else(|| {
        Finding::error(format!("`{taxon}` is not a plant of the catalogue")).expected("the key of a taxon")
    })?;
    let root = document.as_table_mut();
    if !root.contains_key("wishes") {
        root.insert("wishes", Item::Table(Table::new()));
    }
    let odd = || Finding::error("`wishes` is not a table").expected("a table: [wishes]");
    let wishes = root.get_mut("wishes").and_then(Item::as_table_like_mut).ok_or_else(odd)?;
    for name in ["must", "never"] {
        let means = |value: &Value| value.as_str().and_then(|w| names.taxon(w)).as_deref() == Some(taxon);
        if !wishes.contains_key(name) && into == Some(name) {
            wishes.insert(name, toml_edit::value(Array::new()));
        }
        let Some(array) = wishes.get_mut(name).and_then(Item::as_array_mut) else { continue };
        if into != Some(name) {
            array.retain(|v| !means(v));
        } else if !array.iter().any(means) {
            array.push(written.as_str());
        }
    }
    Ok(())
}
