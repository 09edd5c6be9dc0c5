//! A wish list against a tank: a verdict each, what would help, and the list as a whole.

use std::collections::BTreeSet;

use super::fill::barred;
use super::house::House;
use super::list::Listed;
use crate::catalogue::{LegalEntry, Plant, TaxonId};
use crate::diagnostic::{Finding, Findings};
use crate::fit::group::{Planted, group};
use crate::fit::remedy::{Site, Standing, pair, remedies, short_of};
use crate::fit::{Spot, Verdict, assess, best_spot, patch, substitutes};
use crate::report::view::{
    CheckView, ElsewhereView, ExplainView, GroupView, SubstituteView, WishView, cautions, elsewhere,
    explain_view, factors, flags, group_view, inputs_view, judged, left_out, open_view, pair_view,
    patch_view, remedy_view, substitute_view, tank_view,
};
use crate::select::{FAST_PER_DAY, places, trim_minutes_per_month};
use crate::tank::TankModel;
use crate::units::Area;

/// Substitutes named for a plant that does not fit.
const SUBSTITUTES: usize = 3;

/// What `check` is asked.
#[derive(Debug, Clone, Copy)]
pub struct CheckAsked<'a> {
    /// The list.
    pub listed: &'a [Listed],
    /// A plant whose whole reasoning is wanted.
    pub explain: Option<&'a TaxonId>,
    /// Whether every number that the verdicts were computed from is wanted.
    pub inputs: bool,
}

/// Judges a list in a tank.
///
/// # Errors
/// A damaged library.
pub fn check(model: &TankModel, house: &House, asked: CheckAsked<'_>) -> Result<CheckView, Findings> {
    let site = Site::new(model);
    let mut work = Work::new(&site, house.plants()?, house.legal()?, asked.listed);
    let explained = match asked.explain {
        Some(taxon) => {
            work.add(taxon);
            Some(work.explain(taxon, house)?)
        }
        None => None,
    };
    Ok(work.view(explained, asked.inputs))
}

/// A taxon of the list in its best zone, with every name it was wished by.
struct Wish<'a> {
    plant: &'a Plant,
    written: Vec<String>,
    spot: Spot,
}

/// Everything between the list and the answer.
struct Work<'a> {
    site: &'a Site<'a>,
    plants: &'a [Plant],
    legal: &'a [LegalEntry],
    barred: BTreeSet<TaxonId>,
    /// One a taxon, in the order of the list.
    wishes: Vec<Wish<'a>>,
}

impl<'a> Work<'a> {
    fn new(site: &'a Site<'a>, plants: &'a [Plant], legal: &'a [LegalEntry], listed: &[Listed]) -> Self {
        let barred = barred(legal, &site.spec().jurisdictions);
        let mut work = Self { site, plants, legal, barred, wishes: Vec::new() };
        for item in listed {
            work.add(&item.taxon);
            if let Some(wish) = work.wishes.iter_mut().find(|w| w.plant.id == item.taxon) {
                wish.written.push(item.written.clone());
            }
        }
        work
    }

    /// Puts a taxon on the list unless it is there.
    fn add(&mut self, taxon: &TaxonId) {
        if self.wishes.iter().any(|w| w.plant.id == *taxon) {
            return;
        }
        if let Some(plant) = self.plants.iter().find(|p| p.id == *taxon) {
            let spot = best_spot(plant, &self.site.zones);
            self.wishes.push(Wish { plant, written: Vec::new(), spot });
        }
    }

    fn view(&self, explained: Option<ExplainView>, inputs: bool) -> CheckView {
        let mut views: Vec<WishView> = (0..self.wishes.len()).map(|i| self.wish_view(i)).collect();
        let misfits = views.iter().filter(|v| !v.fits).count();
        let group = self.group_view();
        views.sort_by(|a, b| {
            let worse = b.barred.cmp(&a.barred).then(a.judged.suitability.total_cmp(&b.judged.suitability));
            worse.then_with(|| a.judged.taxon.cmp(&b.judged.taxon))
        });
        let chosen: Vec<&Plant> = self.wishes.iter().map(|w| w.plant).collect();
        CheckView {
            tank: tank_view(&self.site.model),
            misfits,
            wishes: views,
            group,
            measured: open_view(self.site),
            explained,
            inputs: inputs.then(|| inputs_view(&chosen, &self.site.zones)),
            cautions: cautions(&self.site.model, &chosen),
            left_out: left_out(),
        }
    }

    fn wish_view(&self, index: usize) -> WishView {
        let wish = &self.wishes[index];
        let (plant, spot, site) = (wish.plant, &wish.spot, self.site);
        let laws: Vec<&LegalEntry> = self.legal.iter().filter(|l| l.taxon == plant.id).collect();
        let flags = flags(plant, &laws, &site.spec().jurisdictions);
        let here = spot.assessment;
        let (grows, barred) = (here.verdict() >= Verdict::Grows, self.barred.contains(&plant.id));
        let standing = Standing { plant, zone: spot.zone };
        let others: Vec<Standing<'_>> = self
            .wishes
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != index)
            .map(|(_, w)| Standing { plant: w.plant, zone: w.spot.zone })
            .collect();
        let found = if barred { Vec::new() } else { remedies(site, standing, &others) };
        let together =
            if found.is_empty() && !grows && !barred { pair(site, standing, &others) } else { None };
        let zone = &site.zones[spot.zone];
        let patch = patch(plant, zone, &site.model.zones[spot.zone]);
        WishView {
            written: wish.written.clone(),
            zone: spot.zone,
            judged: judged(plant, &here, zone, flags),
            barred,
            fits: grows && !barred,
            short_of: if grows {
                Vec::new()
            } else {
                short_of(&here).iter().map(|f| f.word().to_owned()).collect()
            },
            factors: factors(plant, &here, zone),
            patch: patch.as_ref().map(patch_view),
            remedies: found.iter().map(|r| remedy_view(r, site.spec(), &others)).collect(),
            together: together.as_ref().map(|p| pair_view(p, site.spec(), &others)),
            substitutes: if grows && !barred { Vec::new() } else { self.substitutes(wish) },
            elsewhere: self.elsewhere(wish, false),
        }
    }

    /// The zones that the plant serves besides its own; all of them when asked for.
    fn elsewhere(&self, wish: &Wish<'_>, all: bool) -> Vec<ElsewhereView> {
        let site = self.site;
        let serves = |zone: usize| wish.plant.placements.contains(&site.zones[zone].placement);
        (0..site.zones.len())
            .filter(|zone| all || (*zone != wish.spot.zone && serves(*zone)))
            .map(|zone| elsewhere(zone, &assess(wish.plant, &site.zones[zone])))
            .collect()
    }

    /// Lawful plants that are not on the list and grow in the zone that was judged; where that is
    /// none of the plant's own, in any zone.
    fn substitutes(&self, wish: &Wish<'_>) -> Vec<SubstituteView> {
        let zones = &self.site.zones;
        let served = wish.plant.placements.contains(&zones[wish.spot.zone].placement);
        let verdict = |plant: &Plant| {
            let here = if served {
                assess(plant, &zones[wish.spot.zone])
            } else {
                best_spot(plant, zones).assessment
            };
            here.verdict()
        };
        let listed = |p: &Plant| self.wishes.iter().any(|w| w.plant.id == p.id);
        let lawful = self
            .plants
            .iter()
            .filter(|p| !self.barred.contains(&p.id) && !listed(p) && verdict(p) >= Verdict::Grows);
        substitutes(wish.plant, lawful, SUBSTITUTES)
            .into_iter()
            .map(|(plant, unlike)| substitute_view(plant, verdict(plant), unlike))
            .collect()
    }

    fn group_view(&self) -> GroupView {
        let in_zone = |zone: usize| self.wishes.iter().filter(|w| w.spot.zone == zone).count();
        let planted = |wish: &Wish<'a>| {
            let zone = wish.spot.zone;
            let whole = self.site.model.zones[zone].ground.area.m2();
            let area = Area::from_m2(whole / in_zone(zone).max(1) as f64);
            Planted {
                plant: wish.plant,
                zone,
                area,
                places: places(wish.plant, self.site.zones[zone].placement, area),
                trim_minutes_per_month: trim_minutes_per_month(wish.plant, area),
                fast: wish.plant.growth_per_day >= FAST_PER_DAY,
            }
        };
        let list: Vec<Planted<'_>> = self.wishes.iter().map(planted).collect();
        let written: Vec<Vec<String>> = self.wishes.iter().map(|w| w.written.clone()).collect();
        let limit = self.site.spec().wishes.trim_minutes_per_month.as_ref().map(|(minutes, _)| *minutes);
        group_view(&group(self.site, &list), &list, &written, &self.site.model.audit, limit)
    }

    fn explain(&self, taxon: &TaxonId, house: &House) -> Result<ExplainView, Findings> {
        let wish = self.wishes.iter().find(|w| w.plant.id == *taxon);
        let wish = wish.ok_or_else(|| Finding::error(format!("`{taxon}` is not in the library")))?;
        let about = house.about(taxon)?;
        let zone = wish.spot.zone;
        let place = (self.site.spec().zones[zone].name.as_str(), &self.site.zones[zone]);
        let all = self.elsewhere(wish, true);
        Ok(explain_view(wish.plant, &wish.spot.assessment, place, all, about.background()))
    }
}
