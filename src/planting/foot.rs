//! How high a piece stands: on the bed, on wood or rock, or on the surface.

use super::shore::{Point, along, apart, between};
use crate::catalogue::Plant;
use crate::tank::file::{Hardscape, Spot, TankSpec, ZoneRole};
use crate::units::{Area, Length};

/// The top of wood and rock at a spot, above the floor of the glass; `None` beside them.
///
/// A piece is given as an outline and a top. It is taken to rise like a loaf: from the bed at its
/// outline, steep at first, to its top where it is inmost (our assumption).
pub fn hardscape_top(spec: &TankSpec, spot: Spot) -> Option<Length> {
    let tops = spec.hardscape.iter().filter(|h| h.outline.contains(spot)).map(|h| loaf(spec, h, spot));
    tops.max_by(f64::total_cmp).map(Length::from_m)
}

fn loaf(spec: &TankSpec, piece: &Hardscape, spot: Spot) -> f64 {
    let points: Vec<Point> = piece.outline.spots().map(|(x, y)| [x.m(), y.m()]).collect();
    let p = [spot.0.m(), spot.1.m()];
    let (mut inside, mut around) = (f64::INFINITY, 0.0);
    for (k, &a) in points.iter().enumerate() {
        let b = points[(k + 1) % points.len()];
        inside = inside.min(apart(p, between(a, b, along(a, b, p))));
        around += apart(a, b);
    }
    // The radius of the circle in a triangle, and about that of the largest in other outlines.
    let inmost = 2.0 * Area::m2(piece.outline.area()) / around;
    let share = (inside / inmost).clamp(0.0, 1.0);
    let bed = spec.bed_height(spot.1).m();
    bed + (piece.top.m() - bed).max(0.0) * (1.0 - (1.0 - share) * (1.0 - share)).sqrt()
}

/// How high a plant of a zone is set at a spot.
///
/// On hardscape that is its top, but lower, down to half way up, where a tall plant would else
/// reach the surface; where it stands out of the water, the surface.
pub(super) fn foot(spec: &TankSpec, role: ZoneRole, plant: &Plant, spot: Spot) -> Length {
    let bed = spec.bed_height(spot.1);
    let water = spec.glass.water;
    match role {
        ZoneRole::Floating => water,
        ZoneRole::Epiphyte => {
            let top = hardscape_top(spec, spot).unwrap_or(bed).m().min(water.m());
            let half_way = f64::midpoint(bed.m(), top);
            Length::from_m(top.min((water.m() - plant.height.hi().m()).max(half_way)))
        }
        ZoneRole::Foreground | ZoneRole::Midground | ZoneRole::Background => bed,
    }
}
