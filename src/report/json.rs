//! Views as JSON, and the schemas of that JSON.

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
