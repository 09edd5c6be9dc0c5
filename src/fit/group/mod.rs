//! What is to be said of a list as a whole: order of heights, shade, cover, fast growers, the
//! water that suits all, light that carbon cannot follow, trimming.
//!
//! Not here: the law (it concerns plants one by one), prices, the choice of a list (`select`).

mod shade;
mod water;

pub use shade::{CANOPY_LIGHT, Canopy, Fall, FloatingShade, canopies, floating_shade};
pub use water::{Window, windows};

use super::remedy::Site;
use super::{Factor, Verdict, assess, reason};
use crate::catalogue::{Placement, Plant};
use crate::tank::file::Injection;
use crate::units::{Area, Fraction, Length, Quantity};

/// A plant of the list in its zone, with what planting says of it.
#[derive(Debug, Clone, Copy)]
pub struct Planted<'a> {
    /// The plant.
    pub plant: &'a Plant,
    /// Index of its zone.
    pub zone: usize,
    /// Area it gets: the zone's, shared equally.
    pub area: Area,
    /// Planting places at its spacing.
    pub places: u32,
    /// Minutes of trimming a month.
    pub trim_minutes_per_month: u32,
    /// Whether it counts as a fast grower.
    pub fast: bool,
}

/// Something low that stands behind something taller, both by index.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeightOrder {
    /// The nearer plant.
    pub near: usize,
    /// The farther plant.
    pub far: usize,
    /// Height of the nearer, as kept.
    pub near_height: Length,
    /// Height of the farther, as kept.
    pub far_height: Length,
}

/// Everything about a list.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Where the order of heights along a line of sight is wrong, one a pair of zones.
    pub height_order: Vec<HeightOrder>,
    /// What the floating plants of the list take from the others.
    pub floating_shade: Option<FloatingShade>,
    /// Plants that reach the surface beside plants that need its light.
    pub canopies: Vec<Canopy>,
    /// Share of the rooted zones' area that is covered right after planting; `None` without
    /// rooted zones.
    pub cover_at_planting: Option<Fraction>,
    /// How many are fast growers.
    pub fast: usize,
    /// The water that suits all, one a factor.
    pub windows: Vec<Window>,
    /// Plants with light for their best and too little carbon to grow by it.
    pub starved: Vec<usize>,
    /// Slow plants in more light than they can use, without gas: algae settle on them.
    pub overlit: Vec<usize>,
    /// Minutes of trimming a month.
    pub trim_minutes_per_month: u32,
}

/// Relative growth up to which a plant counts as slow, 1/day (our rule: it doubles in five weeks
/// or more).
pub const SLOW_PER_DAY: f64 = 0.02;
/// Width of a newly planted piece as a share of the grown plant's (our rule).
pub const NEW_WIDTH: f64 = 0.5;

/// Judges a list as a whole.
pub fn group(site: &Site<'_>, list: &[Planted<'_>]) -> Group {
    Group {
        height_order: height_order(site, list),
        floating_shade: floating_shade(site, list),
        canopies: canopies(site, list),
        cover_at_planting: cover(site, list),
        fast: list.iter().filter(|p| p.fast).count(),
        windows: windows(list),
        starved: indices(list, |p| starved(site, p)),
        overlit: indices(list, |p| overlit(site, p)),
        trim_minutes_per_month: list.iter().map(|p| p.trim_minutes_per_month).sum(),
    }
}

fn indices(list: &[Planted<'_>], holds: impl Fn(&Planted<'_>) -> bool) -> Vec<usize> {
    (0..list.len()).filter(|i| holds(&list[*i])).collect()
}

/// Height as kept: grown, or cut to the zone's limit.
fn kept(site: &Site<'_>, planted: &Planted<'_>) -> Length {
    Length::from_m(planted.plant.height.hi().m().min(site.zones[planted.zone].tallest.m()))
}

fn height_order(site: &Site<'_>, list: &[Planted<'_>]) -> Vec<HeightOrder> {
    let in_zone = |zone: usize| {
        list.iter().enumerate().filter(move |(_, p)| p.zone == zone).map(|(i, p)| (i, kept(site, p)))
    };
    let wrong = |&(near, far): &(usize, usize)| {
        let (near, near_height) = in_zone(near).max_by(|a, b| a.1.m().total_cmp(&b.1.m()))?;
        let (far, far_height) = in_zone(far).min_by(|a, b| a.1.m().total_cmp(&b.1.m()))?;
        (near_height > far_height).then_some(HeightOrder { near, far, near_height, far_height })
    };
    site.model.sight_lines.iter().filter_map(wrong).collect()
}

fn rooted(placement: Placement) -> bool {
    !matches!(placement, Placement::Floating | Placement::Epiphyte)
}

fn cover(site: &Site<'_>, list: &[Planted<'_>]) -> Option<Fraction> {
    let zones = || (0..site.zones.len()).filter(|z| rooted(site.zones[*z].placement));
    let area = |zone: usize| site.model.zones[zone].ground.area.m2();
    let covered = |zone: usize| {
        let discs = list.iter().filter(|p| p.zone == zone).map(|p| {
            let width = NEW_WIDTH * p.plant.spread.m();
            f64::from(p.places) * std::f64::consts::FRAC_PI_4 * width * width
        });
        discs.sum::<f64>().min(area(zone))
    };
    let whole: f64 = zones().map(area).sum();
    (whole > 0.0).then(|| Fraction::new(zones().map(covered).sum::<f64>() / whole))
}

/// Light for its best, and too little carbon to grow.
fn starved(site: &Site<'_>, planted: &Planted<'_>) -> bool {
    let here = assess(planted.plant, &site.zones[planted.zone]);
    here.factor(Factor::Light) >= 1.0 && here.factor(Factor::Carbon) < Verdict::GROWS
}

/// Slow, without gas, and in more light than its best.
fn overlit(site: &Site<'_>, planted: &Planted<'_>) -> bool {
    let (plant, zone) = (planted.plant, &site.zones[planted.zone]);
    let light = reason(plant, zone, Factor::Light).map_or(0.0, |r| r.value);
    let best = super::assess::light_trapezoid(plant)[2];
    site.spec().gas.injection == Injection::None && plant.growth_per_day <= SLOW_PER_DAY && light > best
}

/// The order of verdicts as a change: fallen when the second is the lesser.
fn fallen(
    plant: &Plant,
    before: &super::ZoneConditions,
    after: &super::ZoneConditions,
) -> Option<[Verdict; 2]> {
    let verdict = |zone| assess(plant, zone).verdict();
    let (from, to) = (verdict(before), verdict(after));
    (to < from).then_some([from, to])
}

/// A zone under another share of its light.
fn dimmed(zone: &super::ZoneConditions, times: f64) -> super::ZoneConditions {
    let mut after = zone.clone();
    after.gain = after.gain.times(times);
    after
}

/// Height of the water over the bed of a zone.
fn water_over_bed(site: &Site<'_>, zone: usize) -> f64 {
    site.spec().glass.water.base() - site.model.zones[zone].bed_depth.base()
}
