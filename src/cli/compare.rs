//! `compare`: several plants side by side against a tank, or several tanks for one plant.

use std::path::{Path, PathBuf};

use super::Answer;
use super::args::{CompareArgs, Format, Global};
use super::fill::barred;
use super::house::House;
use super::list::read_lists;
use super::output::{Failure, Output};
use super::tank::{compute, read_tank, unprintable};
use crate::catalogue::{LegalEntry, Plant, TaxonId};
use crate::diagnostic::{Finding, nearest};
use crate::fit::{ZoneConditions, assess, best_spot};
use crate::report::text::{self, Page};
use crate::report::view::{ColumnView, CompareView, column, flags};
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
    let house = House::open(global, output)?;
    let mut shelf = Shelf { plants: Vec::new(), legal: house.legal()? };
    let listed = read_lists(&plants, &house.resolver()?)?;
    for item in listed {
        shelf.take(&item.taxon, &house)?;
    }
    let models: Result<Vec<TankModel>, Failure> =
        tanks.iter().map(|tank| model(Path::new(tank), &house, output)).collect();
    let mut columns = Vec::new();
    for model in &models? {
        columns.extend(shelf.columns(model, args.zone.as_deref())?);
    }
    let across = if args.plant.is_some() { "tanks" } else { "plants" };
    let of = columns
        .first()
        .map_or(String::new(), |c| if args.plant.is_some() { c.judged.name.clone() } else { c.tank.clone() });
    let view = CompareView { across: across.to_owned(), of, columns };
    output.data(&render(&view, global, output)?)?;
    Ok(Answer::Yes)
}

fn model(path: &Path, house: &House, output: &Output) -> Result<TankModel, Failure> {
    let spec = read_tank(&PathBuf::from(path), output)?;
    if spec.zones.is_empty() {
        return Err(Finding::error(format!("`{}` has no [[zone]] to plant", path.display())).into());
    }
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

/// The plants to compare, and the law.
struct Shelf {
    plants: Vec<Plant>,
    legal: Vec<LegalEntry>,
}

impl Shelf {
    fn take(&mut self, taxon: &TaxonId, house: &House) -> Result<(), Failure> {
        if self.plants.iter().all(|p| p.id != *taxon) {
            self.plants.extend(house.plant(taxon)?);
        }
        Ok(())
    }

    /// A column a plant, in the zone asked for or the one that suits it best.
    fn columns(&self, model: &TankModel, zone: Option<&str>) -> Result<Vec<ColumnView>, Failure> {
        let zones = ZoneConditions::all(model);
        let asked = zone.map(|name| zone_named(model, name)).transpose()?;
        let places = &model.spec.jurisdictions;
        let barred = barred(&self.legal, places);
        let one = |plant: &Plant| {
            let at = asked.unwrap_or_else(|| best_spot(plant, &zones).zone);
            let laws: Vec<&LegalEntry> = self.legal.iter().filter(|l| l.taxon == plant.id).collect();
            let law = (flags(plant, &laws, places), barred.contains(&plant.id));
            let place = (model.spec.name.as_str(), model.spec.zones[at].name.as_str());
            column(plant, place, &assess(plant, &zones[at]), &zones[at], law)
        };
        Ok(self.plants.iter().map(one).collect())
    }
}

fn zone_named(model: &TankModel, name: &str) -> Result<usize, Failure> {
    let zones = &model.spec.zones;
    zones.iter().position(|z| z.name.eq_ignore_ascii_case(name)).ok_or_else(|| {
        let near = nearest(name, zones.iter().map(|z| z.name.as_str()), 3);
        Finding::error(format!("`{}` has no zone `{name}`", model.spec.name)).near(near).into()
    })
}
