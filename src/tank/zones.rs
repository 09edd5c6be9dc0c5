//! The zones as computed: their ground, their room, and their light at rising heights.

use super::file::{Region, Spot, TankSpec, ZoneRole};
use super::layout::Ground;
use super::light::{Cell, LightField, LightMap, daily_integral};
use crate::units::{Dli, Duration, Length};

/// Cells of the light stack over the whole plan, about.
const STACK_CELLS: f64 = 700.0;
/// Cells of the ground, for areas.
pub(super) const GROUND_CELL: Length = Length::from_cm(1.0);
/// Step between the levels of the light stack.
const LEVEL_STEP: Length = Length::from_cm(5.0);
/// A leaf at the surface counts as just under it.
const UNDER_SURFACE: Length = Length::from_cm(0.1);

/// The light of a zone at one height.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneLevel {
    /// Height above the bed; above the floor for hardscape and surface.
    pub height: Length,
    /// Daily light of each cell, in the order of the zone's spots.
    pub cells: Vec<Dli>,
}

/// A zone as computed.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneModel {
    /// Its ground.
    pub ground: Ground,
    /// Mean bed thickness under it.
    pub bed_depth: Length,
    /// How tall plants may stand: the zone's limit or the water over bed or hardscape.
    pub tallest: Length,
    /// Centres of the cells in which its light is known, on the plan.
    pub spots: Vec<Spot>,
    /// Light at rising heights, in the cells of `spots`.
    pub levels: Vec<ZoneLevel>,
}

/// The light over the plan at rising heights above the bed.
pub(super) struct Stack {
    levels: Vec<(Length, LightMap)>,
}

impl Stack {
    pub fn new(spec: &TankSpec, field: &LightField) -> Self {
        let (glass, bed) = (&spec.glass, &spec.bed);
        let water = glass.water.m() - bed.front.m().min(bed.back.m());
        let count = (water / LEVEL_STEP.m()).floor().clamp(0.0, 40.0) as usize;
        let level = |i: usize| {
            let height = Length::from_m(i as f64 * LEVEL_STEP.m());
            (height, level_map(spec, field, height))
        };
        Self { levels: (0..=count).map(level).collect() }
    }

    /// The light over a zone: the cells whose centre lies on its ground; `None` when there are none.
    fn over(&self, ground: &[Spot], hours: Duration) -> Option<(Vec<Spot>, Vec<ZoneLevel>)> {
        // All levels share one grid.
        let (_, first) = self.levels.first()?;
        let on: Vec<bool> = first.cells().map(|c| covers(ground, (c.x, c.y))).collect();
        let chosen = |map: &LightMap| -> Vec<Cell> {
            map.cells().zip(&on).filter(|(_, on)| **on).map(|(cell, _)| cell).collect()
        };
        let spots: Vec<Spot> = chosen(first).iter().map(|c| (c.x, c.y)).collect();
        let level = |(height, map): &(Length, LightMap)| ZoneLevel {
            height: *height,
            cells: chosen(map).iter().map(|c| daily_integral(c.ppfd, hours)).collect(),
        };
        (!spots.is_empty()).then(|| (spots, self.levels.iter().map(level).collect()))
    }
}

/// The light over the plan at one height above the bed, on the grid of the zones' cells.
pub fn level_map(spec: &TankSpec, field: &LightField, above_bed: Length) -> LightMap {
    let glass = &spec.glass;
    let cell = (glass.length.m() * glass.depth.m() / STACK_CELLS).sqrt().max(GROUND_CELL.m());
    let surface = glass.water.m() - UNDER_SURFACE.m();
    let z = |y: Length| Length::from_m((spec.bed_height(y).m() + above_bed.m()).min(surface));
    field.map(|_, y| z(y), Length::from_m(cell))
}

/// The zone at `index` of the file.
pub(super) fn zone(
    spec: &TankSpec,
    field: &LightField,
    stack: &Stack,
    index: usize,
    ground: Ground,
) -> ZoneModel {
    let zone = &spec.zones[index];
    let hours = spec.light.hours;
    let middle = Length::from_m(f64::midpoint(ground.y.0.m(), ground.y.1.m()));
    let bed_depth = spec.bed_height(middle);
    let single = |height: Length| {
        let spots: Vec<Spot> = thin(&ground.cells).copied().collect();
        let cells = spots.iter().map(|s| daily_integral(field.at(s.0, s.1, height), hours)).collect();
        (spots, vec![ZoneLevel { height, cells }])
    };
    let ((spots, levels), room) = match zone.role {
        ZoneRole::Floating => (single(spec.glass.water), spec.glass.height),
        ZoneRole::Epiphyte => {
            let top = highest(spec, index).min(spec.glass.water.m() - UNDER_SURFACE.m());
            // Tall plants are tied on low: half way up the piece.
            let foot = f64::midpoint(bed_depth.m(), top);
            (single(Length::from_m(top)), Length::from_m(spec.glass.water.m() - foot))
        }
        _ => {
            let rooted = stack.over(&ground.cells, hours);
            (
                rooted.unwrap_or_else(|| single(bed_depth)),
                Length::from_m(spec.glass.water.m() - bed_depth.m()),
            )
        }
    };
    let tallest = Length::from_m(zone.tallest.map_or(room.m(), |t| t.m().min(room.m())));
    ZoneModel { ground, bed_depth, tallest, spots, levels }
}

/// Whether a spot falls into one of the cells of the ground.
fn covers(cells: &[Spot], spot: Spot) -> bool {
    let half = GROUND_CELL.m() * 0.51;
    cells.iter().any(|c| (c.0.m() - spot.0.m()).abs() <= half && (c.1.m() - spot.1.m()).abs() <= half)
}

/// At most about 150 of the cells, evenly.
fn thin(cells: &[Spot]) -> impl Iterator<Item = &Spot> {
    cells.iter().step_by((cells.len() / 150).max(1))
}

/// The highest top among the hardscape of an epiphyte zone, in metres.
fn highest(spec: &TankSpec, zone: usize) -> f64 {
    let Region::On(pieces) = &spec.zones[zone].region else { return 0.0 };
    pieces.iter().map(|&i| spec.hardscape[i].top.m()).fold(0.0, f64::max)
}
