//! Views as JSON, and the schemas of that JSON.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde::Serialize;

/// A view as indented JSON with a final newline.
///
/// # Errors
/// Never for the views of this crate, whose keys are strings and whose numbers are finite.
pub fn json(view: &impl Serialize) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(view)?;
    text.push('\n');
    Ok(text)
}

/// The JSON Schema (2020-12) of a view that `command` answers with.
///
/// # Errors
/// As [`json`].
pub fn schema<View: JsonSchema>(command: &str) -> Result<String, serde_json::Error> {
    let mut generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
    let mut schema = generator.root_schema_for::<View>();
    schema.insert("title".to_owned(), format!("The answer of `quillwort {command} --format json`").into());
    json(&schema)
}
