//! The light room against photons traced forward from the lamps by `tools/montecarlo/light.py`,
//! which was written from the physics and shares no code or method with it.

use std::collections::BTreeMap;

use quillwort::tank::light::{Lamp, LightField, LightMap, Scene, WaterColour};
use quillwort::units::{Angle, Attenuation, Fraction, Length, PhotonFlux};

use crate::rows::{Row, rows};
use crate::tank_light::spectra;

/// The map of a traced tank at 1 cm, from its rows: one a lamp.
fn modelled(lamps: &[&Row]) -> LightMap {
    let first = lamps[0];
    let cm = |row: &Row, column: &str| Length::from_cm(row.number(column));
    let scene = Scene {
        water: WaterColour::stained(Attenuation::from_per_m(first.number("a440_per_m"))),
        lid: Fraction::new(first.number("lid")),
        floating: Fraction::new(first.number("floating")),
        ..Scene::open(cm(first, "length_cm"), cm(first, "depth_cm"), cm(first, "water_cm"))
    };
    let spectra = spectra();
    let lamps: Vec<Lamp> = lamps
        .iter()
        .map(|row| Lamp {
            centre: (cm(row, "lamp_x_cm"), cm(row, "lamp_y_cm")),
            size: (cm(row, "lamp_along_x_cm"), cm(row, "lamp_along_y_cm")),
            above_water: cm(row, "above_water_cm"),
            beam: Angle::from_degrees(row.number("beam_deg")),
            flux: PhotonFlux::from_umol_s(row.number("flux_umol_s")),
            bands: spectra[row.text("illuminant")].bands,
        })
        .collect();
    let (front, back) = (first.number("bed_front_cm"), first.number("bed_back_cm"));
    let depth = first.number("depth_cm");
    let bed = |_: Length, y: Length| Length::from_cm(front + (back - front) * y.cm() / depth);
    LightField::new(&lamps, &scene).expect("a lawful tank").map(bed, Length::from_cm(1.0))
}

#[test]
fn photons_traced_from_the_lamps_land_where_the_model_says() {
    let (tanks, traced) = (rows("light_montecarlo_tanks"), rows("light_montecarlo"));
    let mut lamps: BTreeMap<&str, Vec<&Row>> = BTreeMap::new();
    for row in &tanks {
        lamps.entry(row.text("tank")).or_default().push(row);
    }
    let maps: BTreeMap<&str, LightMap> = lamps.iter().map(|(name, rows)| (*name, modelled(rows))).collect();
    assert!(maps.len() >= 6, "at least six tanks are traced");
    for row in &traced {
        let map = &maps[row.text("tank")];
        let error = row.number("standard_error");
        if row.text("cell_x_cm").is_empty() {
            row.absolute("ppfd_umol_m2_s", map.mean().umol_m2_s(), 0.01 * row.number("ppfd_umol_m2_s"));
            continue;
        }
        let (x, y) = (row.number("cell_x_cm"), row.number("cell_y_cm"));
        let inside = |at: Length, centre: f64| (at.cm() - centre).abs() < 2.5;
        let cell = map.summary(|a, b| inside(a, x) && inside(b, y)).expect("the cell holds centres");
        // 3 %, and four standard errors of the traced figure where that alone is larger.
        let allowed = (0.03 * row.number("ppfd_umol_m2_s")).max(4.0 * error);
        println!(
            "MC {} {x} {y} {} {} {}",
            row.text("tank"),
            row.number("ppfd_umol_m2_s"),
            cell.mean.umol_m2_s(),
            error
        );
        row.absolute("ppfd_umol_m2_s", cell.mean.umol_m2_s(), allowed);
    }
}
