//! Readings that set a model's output or stand alone, and what a map tells of its parts.

use quillwort::tank::light::{Contradiction, LightField, PhotonBands, Reading, ReadingError};
use quillwort::units::{Interval, Length, Ppfd};

use crate::tank_light_traced::{cm, lamp, tank};

fn umol(value: f64) -> Ppfd {
    Ppfd::from_umol_m2_s(value)
}

fn field() -> LightField {
    LightField::new(&[lamp((30.0, 15.0), (50.0, 8.0), 8.0, 120.0)], &tank(60.0, 30.0, 32.0, 1.0))
        .expect("a lawful field")
}

/// Readings in a tank whose light is `times` that of the field, each off by a ratio of its own.
fn readings(times: f64, ratios: [f64; 3]) -> Vec<Reading> {
    let places = [(10.0, 5.0, 4.0), (30.0, 15.0, 5.0), (50.0, 25.0, 10.0)];
    let field = field();
    let one = |((x, y, z), ratio): ((f64, f64, f64), f64)| {
        let light = field.at(cm(x), cm(y), cm(z)).umol_m2_s() * times * ratio;
        let range = Interval::new(umol(0.9 * light), umol(1.1 * light)).expect("in order");
        Reading { at: (cm(x), cm(y), cm(z)), ppfd: range }
    };
    places.into_iter().zip(ratios).map(one).collect()
}

#[test]
fn readings_set_the_output_and_show_what_is_left_over() {
    let compared = field().compare(&readings(1.7, [1.2, 1.0, 1.0 / 1.2])).expect("lawful readings");
    assert!((compared.factor - 1.7).abs() < 1e-9, "{}", compared.factor);
    assert!((compared.factor_range.0 - 0.9 * 1.7).abs() < 1e-9);
    assert!((compared.factor_range.1 - 1.1 * 1.7).abs() < 1e-9);
    for (found, expected) in compared.residuals.iter().zip([1.2, 1.0, 1.0 / 1.2]) {
        assert!((found - expected).abs() < 1e-9, "{found} against {expected}");
    }
    assert_eq!(compared.contradiction, None);
    let again = field().scaled(compared.factor).compare(&readings(1.7, [1.0; 3])).expect("lawful readings");
    assert!((again.factor - 1.0).abs() < 1e-9);
}

#[test]
fn readings_five_times_off_contradict() {
    let lamps = field().compare(&readings(6.0, [1.0; 3])).expect("lawful readings");
    assert!(
        matches!(lamps.contradiction, Some(Contradiction::Lamps { factor }) if (factor - 6.0).abs() < 1e-9)
    );
    let dim = field().compare(&readings(1.0 / 6.0, [1.0; 3])).expect("lawful readings");
    assert!(matches!(dim.contradiction, Some(Contradiction::Lamps { .. })));
    let one = field().compare(&readings(1.0, [1.0, 1.0, 1.0 / 20.0])).expect("lawful readings");
    assert!(matches!(one.contradiction, Some(Contradiction::Reading { number: 3, .. })));
    let noise = field().compare(&readings(4.5, [1.0, 1.1, 0.9])).expect("lawful readings");
    assert_eq!(noise.contradiction, None);
}

#[test]
fn readings_alone_are_met_and_stay_between_their_extremes() {
    let scene = tank(60.0, 30.0, 32.0, 1.0);
    let given = readings(1.0, [1.0; 3]);
    let alone = LightField::from_readings(&given, &scene, &PhotonBands::EVEN).expect("lawful readings");
    for reading in &given {
        let (x, y, z) = reading.at;
        let (found, expected) = (alone.at(x, y, z).umol_m2_s(), reading.ppfd.mid().umol_m2_s());
        assert!((found / expected - 1.0).abs() < 1e-6, "{found} against {expected}");
    }
    let level: Vec<Reading> = given.iter().map(|r| Reading { at: (r.at.0, r.at.1, cm(5.0)), ..*r }).collect();
    let alone = LightField::from_readings(&level, &scene, &PhotonBands::EVEN).expect("lawful readings");
    let values: Vec<f64> = level.iter().map(|r| r.ppfd.mid().umol_m2_s()).collect();
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(0.0, f64::max);
    for cell in alone.map(|_, _| cm(5.0), cm(2.0)).cells() {
        let found = cell.ppfd.umol_m2_s();
        assert!((low * 0.999..=high * 1.001).contains(&found), "{found} outside {low}..{high}");
    }
    let (x, y) = (cm(20.0), cm(10.0));
    assert!(alone.at(x, y, cm(1.0)).umol_m2_s() < alone.at(x, y, cm(20.0)).umol_m2_s());
}

#[test]
fn readings_that_say_nothing_are_refused() {
    let good = readings(1.0, [1.0; 3])[0];
    let refused = |bad: Reading| field().compare(&[good, bad]).expect_err("refused").to_string();
    assert_eq!(field().compare(&[]), Err(ReadingError::None));
    let outside = Reading { at: (cm(61.0), cm(5.0), cm(5.0)), ..good };
    assert_eq!(refused(outside), "reading 2 was not taken under water within the glass");
    let nowhere = Reading { at: (cm(f64::NAN), cm(5.0), cm(5.0)), ..good };
    assert_eq!(refused(nowhere), "reading 2 was not taken under water within the glass");
    let dark = Reading { ppfd: Interval::point(umol(0.0)), ..good };
    assert_eq!(refused(dark), "reading 2 is 0 µmol/m²/s, expected a PPFD above 0");
    let off = LightField::new(&[], field().scene()).expect("darkness is lawful");
    assert_eq!(off.compare(&[good]), Err(ReadingError::Dark { number: 1 }));
}

#[test]
fn a_map_knows_its_cells_and_its_shares() {
    let field = field();
    let map = field.map(|_, y| Length::from_m(0.03 + 0.1 * y.m()), cm(1.0));
    assert_eq!((map.columns(), map.rows()), (60, 30));
    let (x, y) = map.centre(59, 0);
    assert!((x.cm() - 59.5).abs() < 1e-9 && (y.cm() - 0.5).abs() < 1e-9);
    let here = field.at(x, y, Length::from_m(0.03 + 0.1 * y.m()));
    assert_eq!(map.get(59, 0), Some(here));
    for cell in map.cells() {
        assert_eq!(cell.ppfd, field.at(cell.x, cell.y, Length::from_m(0.03 + 0.1 * cell.y.m())));
    }
    assert_eq!((map.get(60, 0), map.get(0, 30)), (None, None));

    let whole = map.summary(|_, _| true).expect("cells");
    let order = [whole.least, whole.p10, whole.mean, whole.p90, whole.most].map(Ppfd::umol_m2_s);
    assert!(order.is_sorted(), "{order:?}");
    assert_eq!(whole.p10, map.percentile(0.1));
    assert_eq!(map.summary(|x, _| x.cm() > 60.0), None);
    let front = map.summary(|_, y| y.cm() < 10.0).expect("cells");
    assert!(front.mean.umol_m2_s() < whole.mean.umol_m2_s());
}
