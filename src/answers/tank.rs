//! A tank file read and computed.

use std::ops::Range;
use std::sync::Arc;

use super::house::House;
use crate::diagnostic::{Document, Finding, Findings};
use crate::tank::carbon::CarbonError;
use crate::tank::file::{self, TankSpec};
use crate::tank::geometry::GeometryError;
use crate::tank::light::LightError;
use crate::tank::{ModelError, TankModel, model};

/// Reads a tank file.
///
/// # Errors
/// All that is wrong in it.
pub fn read_tank(document: &Arc<Document>, notes: &mut Findings) -> Result<TankSpec, Findings> {
    let (spec, warnings) = file::read(document)?;
    notes.extend(warnings);
    Ok(spec)
}

/// Computes a tank.
///
/// # Errors
/// Figures that the models refuse, and spectra that are not known.
pub fn compute(spec: &TankSpec, house: &House, notes: &mut Findings) -> Result<TankModel, Findings> {
    let spectra = house.spectra()?;
    let default = house.default_spectrum()?;
    let model = model(spec, spectra, default).map_err(|error| {
        let finding = Finding::error(error.to_string()).at(&spec.document, place(spec, &error));
        let ModelError::Spectrum { name, .. } = &error else { return Findings::from(finding) };
        let keys: Vec<&str> = spectra.iter().map(|s| s.key.as_str()).collect();
        let near = crate::diagnostic::nearest(name, keys.iter().copied(), 3);
        finding.near(near).expected(format!("one of: {}", keys.join(", "))).into()
    })?;
    notes.extend(model.findings.clone());
    Ok(model)
}

/// The part of the file that an error is about.
fn place(spec: &TankSpec, error: &ModelError) -> Range<usize> {
    let section = match error {
        ModelError::Spectrum { span, .. } | ModelError::Reading { span, .. } => return span.clone(),
        ModelError::Light(LightError::Lamp { .. }) => "light",
        ModelError::Carbon(
            CarbonError::Target(_)
            | CarbonError::Time(_)
            | CarbonError::GasNeverOn(_)
            | CarbonError::NothingToGoBy,
        ) => "gas",
        ModelError::Carbon(_) | ModelError::Water(_) => "water",
        ModelError::Geometry(GeometryError::NoWater) => "hardscape",
        ModelError::Geometry(GeometryError::Bed(_)) => "bed",
        ModelError::Geometry(_) | ModelError::Light(_) => "glass",
    };
    let text = &spec.document.text;
    let headers = [format!("[{section}]"), format!("[[{section}]]")];
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        if headers.iter().any(|h| line.trim() == h || line.trim_start().starts_with(&format!("{h} "))) {
            return start..start + line.trim_end().len();
        }
        start += line.len();
    }
    0..0
}
