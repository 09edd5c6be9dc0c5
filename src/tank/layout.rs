//! The zones on the ground: their area, their cells, what lies beside and behind what.

use super::file::{Region, Spot, TankSpec, ZoneRole};
use super::outline::Outline;
use crate::units::{Area, Length};

/// Zones nearer than this touch, for contrast.
const TOUCHING_M: f64 = 0.02;
/// Share of the narrower zone's width that must lie behind the other for a sight line.
const SIGHT_SHARE: f64 = 0.25;

/// A zone as cells of equal area, their centres on the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Ground {
    /// Centres of the cells that belong to the zone.
    pub cells: Vec<Spot>,
    /// Area to plant: hardscape left out of bed zones.
    pub area: Area,
    /// Left and right end.
    pub x: (Length, Length),
    /// Front and back end.
    pub y: (Length, Length),
}

/// The ground of every zone, in file order, in cells about `cell` wide.
pub fn grounds(spec: &TankSpec, cell: Length) -> Vec<Ground> {
    spec.zones.iter().map(|zone| ground(spec, zone.role, &zone.region, cell)).collect()
}

fn ground(spec: &TankSpec, role: ZoneRole, region: &Region, cell: Length) -> Ground {
    let outlines: Vec<&Outline> = match region {
        Region::Outline(outline) => vec![outline],
        Region::On(pieces) => pieces.iter().map(|&i| &spec.hardscape[i].outline).collect(),
    };
    let keeps_clear = matches!(role, ZoneRole::Foreground | ZoneRole::Midground | ZoneRole::Background);
    let (x, y) = (extent(&outlines, |p| p.0), extent(&outlines, |p| p.1));
    let mut cells = Vec::new();
    let (nx, ny) = (steps(x, cell), steps(y, cell));
    let (dx, dy) = ((x.1.m() - x.0.m()) / nx as f64, (y.1.m() - y.0.m()) / ny as f64);
    for j in 0..ny {
        for i in 0..nx {
            let centre = (x.0.m() + (i as f64 + 0.5) * dx, y.0.m() + (j as f64 + 0.5) * dy);
            let spot = (Length::from_m(centre.0), Length::from_m(centre.1));
            let inside = outlines.iter().any(|o| o.contains(spot));
            let blocked = keeps_clear && spec.hardscape.iter().any(|h| h.outline.contains(spot));
            if inside && !blocked {
                cells.push(spot);
            }
        }
    }
    let area = Area::from_m2(cells.len() as f64 * dx * dy);
    Ground { cells, area, x, y }
}

fn steps(span: (Length, Length), cell: Length) -> usize {
    ((span.1.m() - span.0.m()) / cell.m()).ceil().max(1.0) as usize
}

fn extent(outlines: &[&Outline], axis: fn(Spot) -> Length) -> (Length, Length) {
    let values = || outlines.iter().flat_map(|o| o.spots()).map(axis).map(Length::m);
    let (lo, hi) = (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max));
    (Length::from_m(lo), Length::from_m(hi))
}

/// Pairs of zones that touch: their extents come within 2 cm of one another. Floating zones
/// touch nothing.
pub fn neighbours(spec: &TankSpec, grounds: &[Ground]) -> Vec<[usize; 2]> {
    let apart = |a: (Length, Length), b: (Length, Length)| (b.0.m() - a.1.m()).max(a.0.m() - b.1.m());
    let mut pairs = Vec::new();
    for b in 0..grounds.len() {
        for a in 0..b {
            let floating = [a, b].iter().any(|&z| spec.zones[z].role == ZoneRole::Floating);
            let (ga, gb) = (&grounds[a], &grounds[b]);
            if !floating && apart(ga.x, gb.x) <= TOUCHING_M && apart(ga.y, gb.y) <= TOUCHING_M {
                pairs.push([a, b]);
            }
        }
    }
    pairs
}

/// Pairs of bed zones, nearer and farther, that share a line of sight from the front: they
/// overlap from left to right by a quarter of the narrower, and one begins behind the other's
/// middle.
pub fn sight_lines(spec: &TankSpec, grounds: &[Ground]) -> Vec<(usize, usize)> {
    let rooted = |z: usize| !matches!(spec.zones[z].role, ZoneRole::Floating | ZoneRole::Epiphyte);
    let width = |g: &Ground| g.x.1.m() - g.x.0.m();
    let middle = |g: &Ground| f64::midpoint(g.y.0.m(), g.y.1.m());
    let mut pairs = Vec::new();
    for nearer in (0..grounds.len()).filter(|z| rooted(*z)) {
        for farther in (0..grounds.len()).filter(|z| rooted(*z)) {
            let (a, b) = (&grounds[nearer], &grounds[farther]);
            let overlap = a.x.1.m().min(b.x.1.m()) - a.x.0.m().max(b.x.0.m());
            let enough = overlap >= SIGHT_SHARE * width(a).min(width(b)) && overlap > 0.0;
            if nearer != farther && enough && b.y.0.m() >= middle(a) && middle(b) > middle(a) {
                pairs.push((nearer, farther));
            }
        }
    }
    pairs
}
