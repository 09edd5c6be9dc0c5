//! One zone planted: its ground, its patches, their places.

use super::arrange::Item;
use super::balance::balance;
use super::border::{Net, SMOOTHINGS, doubled_area, tidy};
use super::density::Density;
use super::foot::foot;
use super::ground::Raster;
use super::places::set_out;
use super::plan::{Chosen, Drift, Place, Remark, Ring};
use super::shore::{Point, Shore};
use super::split::{Patches, split};
use crate::catalogue::Footing;
use crate::fit::placement_of;
use crate::select;
use crate::tank::TankModel;
use crate::tank::file::{Region, Spot, ZoneRole};
use crate::tank::outline::Outline;
use crate::units::{Area, Fraction, Length};

/// Ground that two zones share counts as overlap from this area on, in square metres.
const OVERLAP: f64 = 0.5e-4;
/// A drift that holds fewer places than this share of what its area would is worth a word.
const FEW: f64 = 0.8;

/// A zone with those chosen for it.
pub(super) struct Bed<'a> {
    pub model: &'a TankModel,
    pub zone: usize,
    pub chosen: &'a [&'a Chosen<'a>],
    pub density: Density,
}

impl Bed<'_> {
    fn role(&self) -> ZoneRole {
        self.model.spec.zones[self.zone].role
    }

    /// The drifts in the order of the chosen, and what is to be said of them; `None` when the zone
    /// has no free ground.
    pub fn planted(&self) -> Option<(Vec<Drift>, Vec<Remark>)> {
        let shore = free_ground(self.model, self.zone);
        let raster = Raster::of(&shore.land, &shore.blocked)?;
        let shares = shares(self.chosen);
        let items: Vec<Item> = (0..self.chosen.len()).map(|n| self.item(n, shares[n])).collect();
        let Patches { label, pieces, parts } =
            split(&raster, &items, self.model.spec.glass.length.m(), self.zone as u64);
        if pieces == 0 {
            return None;
        }
        let rings = outlines_of(&raster, &label, &shore, &parts);
        let mut remarks: Vec<Remark> = overlaps(self.model, self.zone);
        if pieces > 1 {
            remarks.push(Remark::Apart { zone: self.zone, pieces });
        }
        let mut drifts = Vec::new();
        for (n, rings) in rings.into_iter().enumerate() {
            let cells =
                (0..label.len()).filter(|c| label[*c] == n as u32).map(|c| raster.centre(c)).collect();
            let (drift, goal) = self.drift(n, shares[n], &rings, Length::from_m(raster.cell), cells);
            if (drift.places.len() as f64) < FEW * f64::from(goal) {
                let (taxon, places) = (drift.taxon.clone(), drift.places.len() as u32);
                remarks.push(Remark::Few { zone: self.zone, taxon, places, by_area: goal });
            }
            drifts.push(drift);
        }
        Some((drifts, remarks))
    }

    /// What is trimmed to the zone counts as tall as the zone.
    fn item(&self, n: usize, share: f64) -> Item {
        let height = self.chosen[n].plant.height.mid().m().min(self.model.zones[self.zone].tallest.m());
        Item { patch: n as u32, share, height }
    }

    /// A drift, and how many places its area would hold on an endless lattice.
    fn drift(
        &self,
        n: usize,
        share: f64,
        rings: &[Vec<Point>],
        cell: Length,
        cells: Vec<(Length, Length)>,
    ) -> (Drift, u32) {
        let (plant, role) = (self.chosen[n].plant, self.role());
        let placement = placement_of(role);
        let area = Area::from_m2(rings.iter().map(|r| doubled_area(r) / 2.0).sum());
        let spacing = self.density.spaced(select::lattice_spacing(plant, placement));
        let pieces_per_portion = select::pieces_per_portion(plant);
        // Never more than what the list was made with: its area, dense.
        let offered = Area::from_m2(self.model.zones[self.zone].ground.area.m2() * share);
        let bought = select::portions(plant, placement, offered) * pieces_per_portion;
        let goal = select::lattice_places(spacing, area).min(bought);
        let points = set_out(rings, spacing.m(), goal as usize, bought as usize);
        let place = |p: &Point| {
            let at = (Length::from_m(p[0]), Length::from_m(p[1]));
            Place { at, foot: foot(&self.model.spec, role, plant, at) }
        };
        let mut outline: Vec<Ring> = rings.iter().map(|r| ring(r)).collect();
        outline.sort_by_key(|r| r.hole);
        let drift = Drift {
            zone: self.zone,
            taxon: plant.id.clone(),
            footing: footing(role),
            area,
            cell,
            cells,
            outline,
            spacing,
            portions: (points.len() as u32).div_ceil(pieces_per_portion),
            places: points.iter().map(place).collect(),
            pieces_per_portion,
        };
        (drift, goal)
    }
}

/// The rings of every patch, each enclosing its part of the ground: as smooth as goes without rings
/// that cross themselves, and along the cells where the edge of the ground is too tangled for them.
fn outlines_of(raster: &Raster, label: &[u32], shore: &Shore<'_>, parts: &[f64]) -> Vec<Vec<Vec<Point>>> {
    let lines = |net: &Net<'_>| -> Vec<Vec<Vec<Point>>> {
        let rings = net.rings(parts.len());
        rings.iter().map(|patch| patch.iter().map(|r| net.line(r)).collect()).collect()
    };
    let clean = |rings: Vec<Vec<Point>>| -> Vec<Vec<Point>> {
        rings.into_iter().map(|r| tidy(r, raster.cell)).filter(|r| r.len() > 2).collect()
    };
    for smoothings in SMOOTHINGS {
        let mut net = Net::of(raster, label, shore, smoothings);
        let ground: f64 = lines(&net).iter().flatten().map(|r| doubled_area(r) / 2.0).sum();
        let wanted: Vec<f64> = parts.iter().map(|p| p * ground).collect();
        balance(&mut net, shore, &wanted, raster.cell);
        let drawn: Vec<Vec<Vec<Point>>> = lines(&net).into_iter().map(clean).collect();
        if drawn.iter().flatten().all(|ring| is_simple(ring)) {
            return drawn;
        }
    }
    let near: Vec<Vec<Vec<Point>>> = lines(&Net::near(raster, label, shore)).into_iter().map(clean).collect();
    if near.iter().flatten().all(|ring| is_simple(ring)) {
        return near;
    }
    lines(&Net::plain(raster, label)).into_iter().map(clean).collect()
}

fn is_simple(ring: &[Point]) -> bool {
    let spots: Vec<Spot> = ring.iter().map(|p| (Length::from_m(p[0]), Length::from_m(p[1]))).collect();
    Outline::new(&spots).is_ok()
}

/// The free ground of a zone: hardscape and zones before it in the file left out.
fn free_ground(model: &TankModel, zone: usize) -> Shore<'_> {
    let spec = &model.spec;
    let own = footing(spec.zones[zone].role);
    let mut blocked: Vec<&Outline> = Vec::new();
    if own == Footing::Bed {
        blocked.extend(spec.hardscape.iter().map(|h| &h.outline));
    }
    let before = (0..zone).filter(|z| footing(spec.zones[*z].role) == own);
    blocked.extend(before.flat_map(|z| outlines(model, z)));
    Shore::of(outlines(model, zone), blocked)
}

/// Zones before this one in the file that take ground of it.
fn overlaps(model: &TankModel, zone: usize) -> Vec<Remark> {
    let own = footing(model.spec.zones[zone].role);
    let land = outlines(model, zone);
    let whole = Raster::of(&land, &[]).map_or(0.0, |r| r.area());
    let takes = |first: usize| {
        let left = Raster::of(&land, &outlines(model, first)).map_or(0.0, |r| r.area());
        let area = whole - left;
        (area > OVERLAP).then(|| Remark::Overlap { first, second: zone, area: Area::from_m2(area) })
    };
    (0..zone).filter(|z| footing(model.spec.zones[*z].role) == own).filter_map(takes).collect()
}

fn outlines(model: &TankModel, zone: usize) -> Vec<&Outline> {
    match &model.spec.zones[zone].region {
        Region::Outline(outline) => vec![outline],
        Region::On(pieces) => pieces.iter().map(|&i| &model.spec.hardscape[i].outline).collect(),
    }
}

/// What the pieces of a zone hold on to.
fn footing(role: ZoneRole) -> Footing {
    match role {
        ZoneRole::Epiphyte => Footing::Hardscape,
        ZoneRole::Floating => Footing::Surface,
        ZoneRole::Foreground | ZoneRole::Midground | ZoneRole::Background => Footing::Bed,
    }
}

/// The share of each: as stated, and equal parts of what is left for the others.
fn shares(chosen: &[&Chosen<'_>]) -> Vec<f64> {
    let stated: f64 = chosen.iter().filter_map(|c| c.share).map(Fraction::value).sum();
    let open = chosen.iter().filter(|c| c.share.is_none()).count();
    let whole = if open == 0 { stated } else { 1.0 };
    let equal = (1.0 - stated) / open.max(1) as f64;
    chosen.iter().map(|c| c.share.map_or(equal, Fraction::value) / whole).collect()
}

fn ring(points: &[Point]) -> Ring {
    let spot = |p: &Point| (Length::from_m(p[0]), Length::from_m(p[1]));
    Ring { points: points.iter().map(spot).collect(), hole: doubled_area(points) < 0.0 }
}
