//! `tank`: the light, carbon, water and loads of a tank.

use std::path::Path;

use super::Answer;
use super::args::{Format, Global, TankArgs};
use super::house;
use super::output::{Failure, Output};
use crate::answers::files::{read_document, write_whole};
use crate::answers::{self, House};
use crate::diagnostic::{Finding, Findings};
use crate::report::text::{self, Page};
use crate::report::{csv, json, svg, view};
use crate::tank::TankModel;
use crate::tank::file::TankSpec;

/// Reads a tank file; warnings are shown, errors end the command.
pub(super) fn read_tank(path: &Path, output: &Output) -> Result<TankSpec, Failure> {
    let mut notes = Findings::default();
    let spec = answers::read_tank(&read_document(path)?, &mut notes)?;
    output.findings(&notes);
    Ok(spec)
}

/// Computes a tank; what is doubtful about it is shown.
pub(super) fn compute(spec: &TankSpec, house: &House, output: &Output) -> Result<TankModel, Failure> {
    let mut notes = Findings::default();
    let model = answers::compute(spec, house, &mut notes)?;
    output.findings(&notes);
    Ok(model)
}

/// Refuses a tank without a place for plants; `to` says what they were wanted for.
pub(super) fn needs_zones(spec: &TankSpec, path: &Path, to: &str) -> Result<(), Failure> {
    if spec.zones.is_empty() {
        return Err(Finding::error(format!("`{}` has no [[zone]] to {to}", path.display())).into());
    }
    Ok(())
}

pub(super) fn run(args: &TankArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let spec = read_tank(&args.tank, output)?;
    let house = house::open(global, output)?;
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
        Format::Csv => csv::tank(&view).map_err(unprintable)?,
    };
    output.data(&text)?;
    Ok(Answer::Yes)
}

/// A view that cannot be written is a fault of the program; it is reported, not hidden.
pub(super) fn unprintable(error: impl std::fmt::Display) -> Failure {
    Finding::error(format!("the result cannot be written: {error}")).into()
}
