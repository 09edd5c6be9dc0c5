//! Envelope arithmetic against outside rows, and the combination of factors.

use quillwort::catalogue::CarbonUse;
use quillwort::fit::{Factor, Verdict, ZoneConditions, assess, suitability};
use quillwort::units::{Concentration, Temperature};

use crate::fit_support::{demo_model, envelope, exactly, plant};
use crate::rows::rows;

#[test]
fn one_value_inside_an_envelope() {
    for row in rows("suitability") {
        let corners = ["abs_min", "opt_min", "opt_max", "abs_max"].map(|c| row.number(c));
        let ours =
            suitability::<Temperature>(envelope(corners), Temperature::from_celsius(row.number("value")));
        row.absolute("suitability", ours, 1e-9);
    }
}

#[test]
fn a_step_scores_at_its_edge() {
    let at = |corners: [f64; 4], value: f64| {
        suitability::<Temperature>(envelope(corners), Temperature::from_celsius(value))
    };
    assert_eq!(at([5.0, 5.0, 9.0, 9.0], 5.0), 1.0, "the lower step");
    assert_eq!(at([5.0, 5.0, 9.0, 9.0], 9.0), 1.0, "the upper step");
    assert_eq!(at([5.0, 5.0, 9.0, 9.0], 4.999), 0.0);
}

/// A plant that suits the demo's wood in everything, with the factors of the water made to give
/// these suitabilities.
#[test]
fn factors_combine_by_the_least() {
    let model = demo_model("attic-lowtech.toml");
    let mut zone = ZoneConditions::of(&model, 4);
    let mut made = plant("anubias-barteri-nana").clone();
    made.light = envelope([0.0, 1.0, 900.0, 1000.0]);
    made.carbon_use = CarbonUse::Co2;
    for row in rows("suitability_combination") {
        let wanted: Vec<f64> =
            row.text("suitabilities").split(' ').map(|s| s.parse().expect("a number")).collect();
        let of = |i: usize| wanted.get(i).copied().unwrap_or(1.0);
        // 0 to 10 rises from 0 to 1, so a tenth of the value is the suitability.
        made.temperature = envelope([0.0, 10.0, 30.0, 40.0]);
        made.ph = envelope([0.0, 10.0, 30.0, 40.0]);
        made.gh = envelope([0.0, 10.0, 30.0, 40.0]);
        made.kh = envelope([0.0, 10.0, 30.0, 40.0]);
        (made.co2_min, made.co2_opt) = (Concentration::from_mg_l(0.0), Concentration::from_mg_l(10.0));
        zone.water.temperature = exactly(10.0 * of(0));
        zone.water.ph = exactly(10.0 * of(1));
        zone.water.gh = exactly(10.0 * of(2));
        zone.water.kh = exactly(10.0 * of(3));
        zone.water.co2 = exactly(10.0 * of(4));
        let here = assess(&made, &zone);
        row.absolute("minimum", here.suitability, 1e-9);
        let named = here.factor(here.limiting);
        row.absolute("minimum", named, 1e-9);
    }
}

#[test]
fn the_words_change_at_their_thresholds() {
    use Verdict::{Fails, Grows, Lingers, Thrives};
    let words = [0.0, 1e-12, 0.499_999, 0.5, 0.799_999, 0.8, 1.0].map(Verdict::of);
    assert_eq!(words, [Fails, Lingers, Lingers, Grows, Grows, Thrives, Thrives]);
}

/// The zone's mean is that of its cells, taken one by one from the definition.
#[test]
fn light_is_judged_cell_by_cell() {
    for name in crate::fit_support::DEMOS {
        let model = demo_model(name);
        for (zone, computed) in ZoneConditions::all(&model).iter().zip(&model.zones) {
            for plant in crate::fit_support::plants().iter().step_by(7) {
                let here = assess(plant, zone);
                let cap = Factor::ALL
                    .into_iter()
                    .filter(|f| *f != Factor::Light)
                    .map(|f| here.factor(f))
                    .fold(1.0, f64::min);
                let stands = plant.height.hi().m().min(zone.tallest.m());
                let level = computed
                    .levels
                    .iter()
                    .rev()
                    .find(|l| l.height.m() <= stands / 2.0 + 1e-9)
                    .unwrap_or(&computed.levels[0]);
                // PPFD is stated for 8 h: 0.0288 mol/m²/d for each µmol/m²/s.
                let ppfd = |dli: f64| dli / 0.0288;
                let cell = |dli: f64| {
                    let light = quillwort::units::Ppfd::from_umol_m2_s(ppfd(dli));
                    suitability(plant.light, light).min(cap)
                };
                let mean: f64 =
                    level.cells.iter().map(|c| cell(c.mol_m2_d())).sum::<f64>() / level.cells.len() as f64;
                assert!((mean - here.suitability).abs() < 1e-9, "{name}, {}: {mean} {here:?}", plant.id);
            }
        }
    }
}
