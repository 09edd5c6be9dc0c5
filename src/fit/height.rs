//! The height window: whether a grown plant finds room in the zone, and fills it.

use super::ZoneConditions;
use super::trapezoid::trapezoid;
use crate::catalogue::{Emersed, GrowthForm, LeafTexture, Placement, Plant};
use crate::units::{Length, Quantity};

/// What ends the room of a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Ceiling {
    /// The surface of the water.
    Surface,
    /// A limit that the person sets.
    Limit,
}

/// The room a plant wants: none suits it below the first height, it suits from the second.
///
/// Stems are cut to size, and ribbon leaves (linear, from a crown) lie along the surface where it
/// is the surface that ends the room: the lower end of their usual height suits, half of it does
/// not. What can do neither needs room for its usual middle, and fails where even its smallest
/// form would have to lose a quarter (our rule; common practice, no source).
pub fn room_wanted(plant: &Plant, ceiling: Ceiling) -> [Length; 2] {
    let (lo, hi) = plant.height.ends();
    let crown = matches!(plant.growth_form, GrowthForm::Rosette | GrowthForm::Runner | GrowthForm::Bulb);
    let ribbon = crown && plant.texture == LeafTexture::Linear;
    match plant.growth_form {
        GrowthForm::Stem => [Length::from_m(0.5 * lo.m()), lo],
        _ if ribbon && ceiling == Ceiling::Surface => [Length::from_m(0.5 * lo.m()), lo],
        _ => [Length::from_m(0.75 * lo.m()), Length::from_m(f64::midpoint(lo.m(), hi.m()))],
    }
}

/// Height window: by [`room_wanted`], and down to 0 for a plant that reaches only half of what
/// the zone asks for (our rule).
pub(super) fn height(plant: &Plant, zone: &ZoneConditions) -> f64 {
    if zone.placement == Placement::Floating {
        return 1.0;
    }
    let (lo, hi) = plant.height.ends();
    let leaves_water = zone.open_top && plant.emersed == Emersed::OpenTop;
    let under = if leaves_water && zone.tallest.base() >= lo.base() {
        1.0
    } else {
        let far = f64::INFINITY;
        let [none, full] = room_wanted(plant, zone.ceiling).map(Length::m);
        trapezoid([none, full, far, far], zone.tallest.m())
    };
    let over = if zone.shortest.base() <= 0.0 {
        1.0
    } else {
        (2.0 * hi.base() / zone.shortest.base() - 1.0).clamp(0.0, 1.0)
    };
    under.min(over)
}
