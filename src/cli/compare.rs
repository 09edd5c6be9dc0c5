//! `compare`: several plants side by side against a tank, or several tanks for one plant.

use std::path::Path;

use super::Answer;
use super::args::{CompareArgs, Format, Global};
use super::house;
use super::list::read_lists;
use super::output::{Failure, Output};
use super::tank::{compute, needs_zones, read_tank, unprintable};
use crate::answers::{self, Across, House};
use crate::catalogue::TaxonId;
use crate::diagnostic::Finding;
use crate::report::text::{self, Page};
use crate::report::view::CompareView;
use crate::report::{csv, json};
use crate::tank::TankModel;

pub(super) fn run(args: &CompareArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let (tanks, plants) = match (&args.plant, args.things.split_first()) {
        (Some(plant), _) => (args.things.as_slice(), vec![plant.clone()]),
        (None, Some((tank, plants))) if !plants.is_empty() => (std::slice::from_ref(tank), plants.to_vec()),
        _ => {
            let finding = Finding::error("nothing to compare");
            return Err(finding.expected("a tank and two plants, or --plant NAME and two tanks").into());
        }
    };
    let house = house::open(global, output)?;
    let listed = read_lists(&plants, house.names()?, output)?;
    let taxa: Vec<TaxonId> = listed.into_iter().map(|item| item.taxon).collect();
    let models: Result<Vec<TankModel>, Failure> =
        tanks.iter().map(|tank| model(Path::new(tank), &house, output)).collect();
    let across = if args.plant.is_some() { Across::Tanks } else { Across::Plants };
    let view = answers::compare(&models?, &taxa, across, args.zone.as_deref(), &house)?;
    output.data(&render(&view, global, output)?)?;
    Ok(Answer::Yes)
}

fn model(path: &Path, house: &House, output: &Output) -> Result<TankModel, Failure> {
    let spec = read_tank(path, output)?;
    needs_zones(&spec, path, "plant")?;
    compute(&spec, house, output)
}

fn render(view: &CompareView, global: &Global, output: &Output) -> Result<String, Failure> {
    match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::compare(&mut page, view);
            Ok(page.finish())
        }
        Format::Json => json::json(view).map_err(unprintable),
        Format::Csv => csv::compare(view).map_err(unprintable),
    }
}
