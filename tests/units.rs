//! Units against their definitions, and what is read back from what is shown.

use proptest::prelude::*;
use quillwort::units::{
    Area, CarbonateHardness, FlowRate, GeneralHardness, Illuminance, Interval, Length, Mass, Ph, Pressure,
    Quantity, Temperature, UnitSystem, Volume, parse_interval, parse_quantity,
};

use crate::rows::{Row, rows};

/// A written value read as `Q` and given in another written unit.
fn converted<Q: Quantity>(value: f64, from: &str, to: &str) -> f64 {
    let read: Q = parse_quantity(&format!("{value} {from}")).expect("a unit we read");
    let unit = Q::UNITS.iter().find(|u| u.names.contains(&to)).expect("a unit we know");
    (read.base() - unit.offset) / unit.factor
}

fn by_row(row: &Row) -> f64 {
    let value = row.number("from_value");
    let (from, to) = (row.text("from_unit"), row.text("to_unit"));
    match (from, to) {
        ("US gallon", "litre") => converted::<Volume>(value, "US gal", "L"),
        ("imperial gallon", "litre") => converted::<Volume>(value, "imp gal", "L"),
        ("litre", "US gallon") => converted::<Volume>(value, "L", "US gal"),
        ("cubic inch", "US gallon") => converted::<Volume>(value, "cu in", "US gal"),
        ("inch", "centimetre") => converted::<Length>(value, "in", "cm"),
        ("foot", "centimetre") => converted::<Length>(value, "ft", "cm"),
        ("degree Fahrenheit", "degree Celsius") => converted::<Temperature>(value, "degF", "degC"),
        ("degree Celsius", "degree Fahrenheit") => converted::<Temperature>(value, "degC", "degF"),
        ("pound", "kilogram") => converted::<Mass>(value, "lb", "kg"),
        ("ounce", "gram") => converted::<Mass>(value, "oz", "g"),
        ("foot-candle", "lux") => converted::<Illuminance>(value, "fc", "lx"),
        ("square foot", "square metre") => converted::<Area>(value, "sq ft", "m2"),
        ("pound-force per square foot", "kilopascal") => converted::<Pressure>(value, "psf", "kPa"),
        ("bar", "pound-force per square inch") => converted::<Pressure>(value, "bar", "psi"),
        ("US gallon per hour", "litre per hour") => converted::<FlowRate>(value, "gph", "L/h"),
        other => panic!("{row}: units we do not know, {other:?}"),
    }
}

#[test]
fn units_agree_with_their_definitions_within_1e_6() {
    for row in rows("unit_conversions") {
        row.absolute("to_value", by_row(&row), 1e-6 * row.number("to_value").abs().max(1e-3));
    }
}

/// Our spelling of a unit of hardness.
fn hardness_unit(name: &str) -> Option<&'static str> {
    Some(match name {
        "german_degree" => "dGH",
        "french_degree" => "°fH",
        "english_degree" => "°e",
        "us_grain_per_gallon" => "gpg",
        "mg_l_caco3" => "mg/L CaCO3",
        "mmol_l_ca_plus_mg" => "mmol/L",
        "meq_l" => "meq/L",
        _ => return None,
    })
}

#[test]
fn hardness_agrees_with_stoichiometry_within_1e_5() {
    let mut seen = 0;
    for row in rows("hardness") {
        let units = (hardness_unit(row.text("from_unit")), hardness_unit(row.text("to_unit")));
        let (Some(from), Some(to)) = units else { continue };
        row.relative("to_value", converted::<GeneralHardness>(row.number("from_value"), from, to), 1e-5);
        seen += 1;
    }
    // The other three are contents of a degree, see the tests of water.
    assert_eq!(seen, rows("hardness").len() - 3);
}

#[test]
fn alkalinity_shares_the_degree() {
    assert!((converted::<CarbonateHardness>(4.0, "dKH", "meq/L") - 1.4266).abs() < 1e-5);
    assert!((converted::<CarbonateHardness>(4.0, "dKH", "mg/L CaCO3") - 71.392).abs() < 1e-9);
}

fn round_trip<Q: Quantity>(value: f64) -> Result<(), TestCaseError> {
    for unit in Q::UNITS {
        for name in unit.names {
            let read: Q = parse_quantity(&format!("{value} {name}")).expect("our own spelling");
            let back = (read.base() - unit.offset) / unit.factor;
            prop_assert!(
                (back - value).abs() <= 1e-12 * value.abs().max(1e3),
                "{value} {name} came back as {back}"
            );
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn every_spelling_is_read_back(value in -1e3..1e3f64) {
        round_trip::<Length>(value)?;
        round_trip::<Area>(value)?;
        round_trip::<Volume>(value)?;
        round_trip::<Mass>(value)?;
        round_trip::<Pressure>(value)?;
        round_trip::<Temperature>(value)?;
        round_trip::<GeneralHardness>(value)?;
        round_trip::<CarbonateHardness>(value)?;
        round_trip::<FlowRate>(value)?;
        round_trip::<Illuminance>(value)?;
        round_trip::<Ph>(value)?;
    }

    #[test]
    fn what_is_shown_is_read_again_within_its_rounding(lo in 1.0..100.0f64, wide in 0.0..50.0f64) {
        for system in [UnitSystem::Metric, UnitSystem::Us] {
            let range = Interval::spanning(Length::from_cm(lo), Length::from_cm(lo + wide));
            let shown = range.show(system);
            let again: Interval<Length> = parse_interval(&shown).expect("our own words");
            for (a, b) in [(range.lo(), again.lo()), (range.hi(), again.hi())] {
                prop_assert!((a.cm() - b.cm()).abs() <= 0.05 * 2.54 + 1e-9, "{shown}");
            }
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in ".{0,40}") {
        let _ = parse_quantity::<Length>(&text);
        let _ = parse_interval::<Temperature>(&text);
    }
}
