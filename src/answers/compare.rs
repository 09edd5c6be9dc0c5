//! Several plants side by side against a tank, or one plant against several tanks.

use super::fill::barred;
use super::house::House;
use crate::catalogue::{LegalEntry, Plant, TaxonId};
use crate::diagnostic::{Finding, Findings, nearest};
use crate::fit::{ZoneConditions, assess, best_spot};
use crate::report::view::{ColumnView, CompareView, column, flags};
use crate::tank::TankModel;

/// What stands side by side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Across {
    /// Several plants in one tank.
    Plants,
    /// One plant in several tanks.
    Tanks,
}

/// Compares plants in tanks; `zone` names the zone to compare in instead of the best one.
///
/// # Errors
/// A zone that a tank does not have, or a damaged library.
pub fn compare(
    models: &[TankModel],
    taxa: &[TaxonId],
    across: Across,
    zone: Option<&str>,
    house: &House,
) -> Result<CompareView, Findings> {
    let mut shelf = Shelf { plants: Vec::new(), legal: house.legal()? };
    for taxon in taxa {
        shelf.take(taxon, house)?;
    }
    let mut columns = Vec::new();
    for model in models {
        columns.extend(shelf.columns(model, zone)?);
    }
    let first = columns.first();
    let (word, of) = match across {
        Across::Plants => ("plants", first.map(|c| c.tank.clone())),
        Across::Tanks => ("tanks", first.map(|c| c.judged.name.clone())),
    };
    Ok(CompareView { across: word.to_owned(), of: of.unwrap_or_default(), columns })
}

/// The plants to compare, and the law.
struct Shelf<'a> {
    plants: Vec<Plant>,
    legal: &'a [LegalEntry],
}

impl Shelf<'_> {
    fn take(&mut self, taxon: &TaxonId, house: &House) -> Result<(), Findings> {
        if self.plants.iter().all(|p| p.id != *taxon) {
            self.plants.extend(house.plant(taxon)?);
        }
        Ok(())
    }

    /// A column a plant, in the zone asked for or the one that suits it best.
    fn columns(&self, model: &TankModel, zone: Option<&str>) -> Result<Vec<ColumnView>, Findings> {
        let zones = ZoneConditions::all(model);
        let asked = zone.map(|name| zone_named(model, name)).transpose()?;
        let places = &model.spec.jurisdictions;
        let barred = barred(self.legal, places);
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

fn zone_named(model: &TankModel, name: &str) -> Result<usize, Findings> {
    let zones = &model.spec.zones;
    zones.iter().position(|z| z.name.eq_ignore_ascii_case(name)).ok_or_else(|| {
        let near = nearest(name, zones.iter().map(|z| z.name.as_str()), 3);
        Finding::error(format!("`{}` has no zone `{name}`", model.spec.name)).near(near).into()
    })
}
