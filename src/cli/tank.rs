//! `tank`: the light, carbon, water and loads of a tank.

use std::ops::Range;
use std::path::Path;

use super::Answer;
use super::args::{Format, Global, TankArgs};
use super::files::{read_document, write_whole};
use super::house::{House, default_spectrum};
use super::output::{Failure, Output};
use crate::diagnostic::Finding;
use crate::report::text::{self, Page};
use crate::report::{json, svg, view};
use crate::tank::carbon::CarbonError;
use crate::tank::file::{self, TankSpec};
use crate::tank::geometry::GeometryError;
use crate::tank::light::LightError;
use crate::tank::{ModelError, TankModel, model};

/// Reads a tank file; warnings are shown, errors end the command.
pub(super) fn read_tank(path: &Path, output: &Output) -> Result<TankSpec, Failure> {
    let document = read_document(path)?;
    let (spec, warnings) = file::read(&document)?;
    output.findings(&warnings);
    Ok(spec)
}

/// Computes a tank; what is doubtful about it is shown.
pub(super) fn compute(spec: &TankSpec, house: &House, output: &Output) -> Result<TankModel, Failure> {
    let spectra = house.spectra()?;
    let default = default_spectrum(&spectra)?;
    let model = model(spec, &spectra, default).map_err(|error| {
        let finding = Finding::error(error.to_string()).at(&spec.document, place(spec, &error));
        let ModelError::Spectrum { name, .. } = &error else { return Failure::from(finding) };
        let keys: Vec<&str> = spectra.iter().map(|s| s.key.as_str()).collect();
        let near = crate::diagnostic::nearest(name, keys.iter().copied(), 3);
        finding.near(near).expected(format!("one of: {}", keys.join(", "))).into()
    })?;
    output.findings(&model.findings);
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

pub(super) fn run(args: &TankArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let spec = read_tank(&args.tank, output)?;
    let house = House::open(global, output)?;
    let model = compute(&spec, &house, output)?;
    let map = model.bed_light_in(args.map_cell);
    let view = view::tank_report_view(&model, &map);
    if let Some(path) = &args.svg {
        write_whole(path, &svg::light_map(&view, global.units.system()))?;
    }
    let text = match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::tank(&mut page, &view);
            page.finish()
        }
        Format::Json => json::json(&view).map_err(unprintable)?,
        Format::Csv => crate::report::csv::tank(&view).map_err(unprintable)?,
    };
    output.data(&text)?;
    Ok(Answer::Yes)
}

/// A view that cannot be written is a fault of the program; it is reported, not hidden.
pub(super) fn unprintable(error: impl std::fmt::Display) -> Failure {
    Finding::error(format!("the result cannot be written: {error}")).into()
}
