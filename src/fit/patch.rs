//! Where in a zone a plant grows: too dim or too bright on which side of which line.

use super::assess::{WATER_FACTORS, curve, level_for, light_trapezoid, set_fixed};
use super::trapezoid::{at_least, trapezoid};
use super::{Verdict, ZoneConditions};
use crate::catalogue::Plant;
use crate::tank::ZoneModel;
use crate::tank::file::Spot;
use crate::units::Length;

/// Why a cell does not do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Wrong {
    /// Too little light.
    TooDim,
    /// Too much.
    TooBright,
}

/// A side of a line over the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Side {
    /// Left of x.
    LeftOf(Length),
    /// Right of x.
    RightOf(Length),
    /// Nearer to the front glass than y.
    InFrontOf(Length),
    /// Farther from the front glass than y.
    Behind(Length),
}

impl Side {
    fn holds(self, (x, y): Spot) -> bool {
        match self {
            Self::LeftOf(line) => x < line,
            Self::RightOf(line) => x > line,
            Self::InFrontOf(line) => y < line,
            Self::Behind(line) => y > line,
        }
    }
}

/// The part of a zone where a plant does not grow.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// What is wrong there with most of it.
    pub wrong: Wrong,
    /// The sides that describe it to within [`MISSED`] of the zone; empty when no lines do.
    pub sides: Vec<Side>,
}

/// Share of a zone's cells that a description may get wrong.
pub const MISSED: f64 = 0.05;

/// Where in the zone the plant does not grow for want or excess of light; `None` where it grows
/// all over, or nowhere.
pub fn patch(plant: &Plant, conditions: &ZoneConditions, computed: &ZoneModel) -> Option<Patch> {
    let cells = cells(plant, conditions, computed)?;
    let bad = cells.iter().filter(|c| c.1.is_some()).count();
    if bad == 0 || bad == cells.len() {
        return None;
    }
    let dim = cells.iter().filter(|c| c.1 == Some(Wrong::TooDim)).count();
    let wrong = if 2 * dim >= bad { Wrong::TooDim } else { Wrong::TooBright };
    Some(Patch { wrong, sides: describe(&cells) })
}

type Judged = (Spot, Option<Wrong>);

fn cells(plant: &Plant, conditions: &ZoneConditions, computed: &ZoneModel) -> Option<Vec<Judged>> {
    let mut fixed = [1.0; 11];
    set_fixed(plant, conditions, &mut fixed);
    let water = WATER_FACTORS.into_iter().filter_map(|f| curve(plant, conditions, f));
    let cap = water.map(|(t, value)| trapezoid(t, value.nominal)).chain(fixed).fold(1.0, f64::min);
    if cap < Verdict::GROWS {
        return None;
    }
    let height = level_for(plant, conditions)?.height;
    let level = computed.levels.iter().find(|l| l.height == height)?;
    let (low, high) = at_least(light_trapezoid(plant), Verdict::GROWS);
    let gain = conditions.gain.nominal().value();
    let judge = |light: f64| match light * gain {
        dim if dim < low => Some(Wrong::TooDim),
        bright if bright > high => Some(Wrong::TooBright),
        _ => None,
    };
    Some(computed.spots.iter().zip(&level.cells).map(|(s, c)| (*s, judge(c.mol_m2_d()))).collect())
}

/// One side, or two of one direction, that hold the bad cells and nothing else, nearly.
fn describe(cells: &[Judged]) -> Vec<Side> {
    let allowed = (MISSED * cells.len() as f64) as usize;
    let missed = |sides: &[Side]| {
        cells.iter().filter(|(spot, bad)| sides.iter().any(|s| s.holds(*spot)) != bad.is_some()).count()
    };
    let lines = |axis: fn(&Spot) -> Length| -> Vec<Length> {
        let mut at: Vec<f64> = cells.iter().map(|(spot, _)| axis(spot).m()).collect();
        at.sort_by(f64::total_cmp);
        at.dedup();
        at.windows(2).map(|w| Length::from_m(f64::midpoint(w[0], w[1]))).collect()
    };
    let (xs, ys) = (lines(|s| s.0), lines(|s| s.1));
    let best = |lines: &[Length], side: fn(Length) -> Side| {
        lines.iter().map(|line| side(*line)).min_by_key(|side| missed(&[*side]))
    };
    let ends = [
        best(&xs, Side::LeftOf),
        best(&xs, Side::RightOf),
        best(&ys, Side::InFrontOf),
        best(&ys, Side::Behind),
    ];
    let single = ends.into_iter().flatten().min_by_key(|side| missed(&[*side]));
    if let Some(side) = single.filter(|side| missed(&[*side]) <= allowed) {
        return vec![side];
    }
    // Bad at both ends: the best line at one end, then the best at the other beside it.
    let both = |lines: &[Length], first: fn(Length) -> Side, second: fn(Length) -> Side| {
        let near =
            |half: &dyn Fn(&Length) -> bool| lines.iter().copied().filter(|l| half(l)).collect::<Vec<_>>();
        let middle = lines.get(lines.len() / 2).copied()?;
        let one = best(&near(&|l| *l <= middle), first)?;
        let two = near(&|l| *l > middle).into_iter().map(second).min_by_key(|s| missed(&[one, *s]))?;
        let one = near(&|l| *l <= middle).into_iter().map(first).min_by_key(|s| missed(&[*s, two]))?;
        Some(vec![one, two])
    };
    let pairs = [both(&xs, Side::LeftOf, Side::RightOf), both(&ys, Side::InFrontOf, Side::Behind)];
    let pair = pairs.into_iter().flatten().min_by_key(|sides| missed(sides));
    pair.filter(|sides| missed(sides) <= allowed).unwrap_or_default()
}
