//! What a plant is good for that no single column says: tags cut from its envelopes and form.
//!
//! Tags are not facets: they are not counted, only found by the phrases of `phrases`.

use crate::catalogue::{Emersed, Envelope, Footing, GrowthForm, Hazard, Placement, Plant};
use crate::units::Quantity;

/// Suitability at one value: the trapezoid of the catalogue's envelopes.
fn suitability<Q: Quantity>(envelope: Envelope<Q>, value: f64) -> f64 {
    let [abs_min, opt_min, opt_max, abs_max] = envelope.values().map(Quantity::base);
    if (opt_min..=opt_max).contains(&value) {
        1.0
    } else if value <= abs_min || value >= abs_max {
        0.0
    } else if value < opt_min {
        (value - abs_min) / (opt_min - abs_min)
    } else {
        (abs_max - value) / (abs_max - opt_max)
    }
}

/// The least suitability at which a plant is said to thrive.
const THRIVES: f64 = 0.8;

/// The tags of a plant.
pub(super) fn tags(plant: &Plant) -> Vec<&'static str> {
    let at = |t: f64| suitability(plant.temperature, t) >= THRIVES;
    let water = |gh: f64, kh: f64| suitability(plant.gh, gh).min(suitability(plant.kh, kh)) >= THRIVES;
    let tallest = plant.height.hi().cm();
    let tags = [
        ("carpet", carpets(plant) && plant.bed_depth_min.cm() > 0.0),
        ("mat", carpets(plant)),
        // German degrees; tap water of chalk and of granite country.
        ("hard water", water(18.0, 12.0)),
        ("limy", plant.gh.opt_min().dgh() >= 5.0),
        ("soft water", water(3.0, 1.0)),
        ("acid", suitability(plant.ph, 5.8) >= THRIVES),
        ("cool", at(18.0)),
        ("cold", at(15.0)),
        ("warm", at(29.0)),
        ("tall", tallest >= 50.0),
        ("low", tallest <= 10.0),
        ("open top", plant.emersed == Emersed::OpenTop),
        ("in air", plant.emersed != Emersed::No),
        ("harmless", plant.hazards == [Hazard::NoneKnown]),
        ("long between trims", plant.trim_every_weeks >= 8),
        ("clings", attached(plant)),
    ];
    tags.into_iter().filter(|(_, holds)| *holds).map(|(tag, _)| tag).collect()
}

/// At home on wood and rock, not merely able to lie there.
fn attached(plant: &Plant) -> bool {
    let drifts = |f: &Footing| matches!(f, Footing::Surface | Footing::Drifting);
    plant.footings.contains(&Footing::Hardscape) && !plant.footings.iter().any(drifts)
}

/// Low, spreading, at home in the front: covers the bed rather than standing on it. Those
/// that root in the bed make a carpet, the others (mosses above all) a mat.
fn carpets(plant: &Plant) -> bool {
    let (height, spacing) = (plant.height.hi().cm(), plant.spacing.cm());
    let spreads = match plant.growth_form {
        GrowthForm::Creeper => true,
        GrowthForm::Runner | GrowthForm::Fern | GrowthForm::Moss | GrowthForm::Liverwort => {
            height <= 15.0 && spacing <= 6.0
        }
        GrowthForm::Rosette => height <= 10.0 && spacing <= 4.0,
        _ => false,
    };
    spreads && plant.placements.contains(&Placement::Foreground)
}
