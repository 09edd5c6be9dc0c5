//! `tank`: the light, carbon, water and loads of a tank.

use std::path::Path;

use super::Answer;
use super::args::{Format, Global, TankArgs};
use super::files::{read_document, write_whole};
use super::house::{House, default_spectrum};
use super::output::{Failure, Output};
use crate::diagnostic::{Finding, Findings};
use crate::report::text::{self, Page};
use crate::report::{json, svg, view};
use crate::tank::file::{self, TankSpec};
use crate::tank::{ModelError, TankModel, model};

/// Reads a tank file; warnings are shown, errors end the command.
pub(super) fn read_tank(path: &Path, output: &Output) -> Result<TankSpec, Failure> {
    let document = read_document(path)?;
    let (spec, warnings) = file::read(&document)?;
    output.findings(&warnings);
    Ok(spec)
}

/// Computes a tank.
pub(super) fn compute(spec: &TankSpec, house: &House) -> Result<TankModel, Failure> {
    let spectra = house.spectra()?;
    let default = default_spectrum(&spectra)?;
    model(spec, &spectra, default).map_err(|error| {
        let finding = Finding::error(error.to_string());
        match error {
            ModelError::Spectrum { name, span } => {
                let keys = spectra.iter().map(|s| s.key.as_str());
                let near = crate::diagnostic::nearest(&name, keys, 3);
                Findings::from(finding.at(&spec.document, span).near(near)).into()
            }
            _ => Findings::from(finding.at(&spec.document, 0..0)).into(),
        }
    })
}

pub(super) fn run(args: &TankArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let spec = read_tank(&args.tank, output)?;
    let house = House::open(global, output)?;
    let model = compute(&spec, &house)?;
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
