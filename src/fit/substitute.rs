//! Substitutes: the taxa nearest in looks and use to one that does not fit.

use crate::catalogue::{Colour, GrowthForm, Plant};
use crate::units::Quantity;

/// How unlike two plants are in a layout; 0 for alike, 5 at most. The sum of
///
/// - habit: 0 for the same, ½ for the same sort (carpets, stems, crowns, mosses, floaters), else 1;
/// - height: doublings between the middles of the two heights, at most 2;
/// - texture of the leaf: 0 or ¾;
/// - colour: ¼ a step from light to dark green, ½ between brown and red or brown and green, else ¾;
/// - placement: half the share of places that only one of the two serves.
///
/// Our rule.
pub fn unlikeness(a: &Plant, b: &Plant) -> f64 {
    let texture = if a.texture == b.texture { 0.0 } else { 0.75 };
    habit(a.growth_form, b.growth_form) + height(a, b) + texture + colour(a.colour, b.colour) + places(a, b)
}

fn habit(a: GrowthForm, b: GrowthForm) -> f64 {
    use GrowthForm::{Alga, Bulb, Creeper, Fern, Floater, Liverwort, Moss, Rhizome, Rosette, Runner, Stem};
    let sort = |form| match form {
        Creeper | Runner => 0,
        Stem => 1,
        Rosette | Bulb | Rhizome | Fern => 2,
        Moss | Liverwort | Alga => 3,
        Floater => 4,
    };
    if a == b {
        0.0
    } else if sort(a) == sort(b) {
        0.5
    } else {
        1.0
    }
}

fn height(a: &Plant, b: &Plant) -> f64 {
    let middle = |p: &Plant| p.height.mid().base();
    (libm::log2(middle(a) / middle(b))).abs().min(2.0)
}

fn colour(a: Colour, b: Colour) -> f64 {
    use Colour::{Brown, DarkGreen, Green, LightGreen, Red};
    let shade = |c| match c {
        LightGreen => Some(0.0),
        Green => Some(1.0),
        DarkGreen => Some(2.0),
        Red | Brown => None,
    };
    match (shade(a), shade(b)) {
        (Some(a), Some(b)) => 0.25 * f64::abs(a - b),
        _ if a == b => 0.0,
        _ if a == Brown || b == Brown => 0.5,
        _ => 0.75,
    }
}

fn places(a: &Plant, b: &Plant) -> f64 {
    let shared = a.placements.iter().filter(|p| b.placements.contains(p)).count();
    let all = a.placements.len() + b.placements.len() - shared;
    if all == 0 { 0.0 } else { 0.5 * (all - shared) as f64 / all as f64 }
}

/// The `limit` plants nearest to `plant` among `candidates`, with their unlikeness; the nearest
/// first, among equals by key.
pub fn substitutes<'a>(
    plant: &Plant,
    candidates: impl IntoIterator<Item = &'a Plant>,
    limit: usize,
) -> Vec<(&'a Plant, f64)> {
    let mut near: Vec<(&Plant, f64)> =
        candidates.into_iter().filter(|c| c.id != plant.id).map(|c| (c, unlikeness(plant, c))).collect();
    near.sort_by(|a, b| a.1.total_cmp(&b.1).then_with(|| a.0.id.cmp(&b.0.id)));
    near.truncate(limit);
    near
}
