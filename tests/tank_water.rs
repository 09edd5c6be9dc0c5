//! Water against IAPWS-95, Benson & Krause, and stoichiometry.

use proptest::prelude::*;
use quillwort::tank::salts::{Ion, Salt, alkalinity_as_bicarbonate, hardness_ions};
use quillwort::tank::water::{WaterError, mass, mixed, oxygen_saturation, soft_share};
use quillwort::units::{CarbonateHardness, Fraction, GeneralHardness, Mass, Pressure, Temperature, Volume};

use crate::rows::{Row, rows};

const CUBIC_METRE: Volume = Volume::from_litres(1000.0);

fn grams(value: f64) -> Mass {
    Mass::from_kg(value / 1000.0)
}

#[test]
fn density_agrees_with_iapws_95_within_1e_5() {
    for row in rows("water_density") {
        let kg = mass(CUBIC_METRE, Temperature::from_celsius(row.number("temp_c"))).expect("liquid").kg();
        row.relative("density_kg_m3", kg, 1e-5);
    }
}

#[test]
fn oxygen_agrees_with_benson_and_krause_within_1_per_mille() {
    for row in rows("oxygen_saturation") {
        let t = Temperature::from_celsius(row.number("temp_c"));
        let pressure = Pressure::from_kpa(row.number("pressure_atm") * 101.325);
        row.relative("o2_mg_l", oxygen_saturation(t, pressure).expect("liquid").mg_l(), 0.001);
    }
}

#[test]
fn ice_and_hot_water_are_refused() {
    for t in [-1.0, 0.0, 40.5, 100.0, f64::NAN] {
        let t = Temperature::from_celsius(t);
        assert!(matches!(mass(CUBIC_METRE, t), Err(WaterError::Temperature(_))), "{t}");
        assert!(oxygen_saturation(t, Pressure::from_kpa(100.0)).is_err(), "{t}");
    }
    let vacuum = oxygen_saturation(Temperature::from_celsius(25.0), Pressure::from_kpa(0.0));
    assert!(matches!(vacuum, Err(WaterError::AirPressure(_))));
}

fn salt(row: &Row) -> Salt {
    match row.text("salt") {
        "NaHCO3" => Salt::SodiumBicarbonate,
        "KHCO3" => Salt::PotassiumBicarbonate,
        "CaCO3" => Salt::CalciumCarbonate,
        "CaSO4.2H2O" => Salt::CalciumSulphate,
        "CaCl2.2H2O" => Salt::CalciumChloride,
        "MgSO4.7H2O" => Salt::MagnesiumSulphate,
        "KNO3" => Salt::PotassiumNitrate,
        "KH2PO4" => Salt::PotassiumPhosphate,
        "K2SO4" => Salt::PotassiumSulphate,
        other => panic!("{row}: a salt we do not know, {other}"),
    }
}

#[test]
fn salts_add_what_stoichiometry_says_within_1_per_mille() {
    for row in rows("salt_additions") {
        let (salt, weighed) = (salt(&row), grams(row.number("mass_g")));
        let water = Volume::from_litres(row.number("water_l"));
        let ours = match row.text("quantity") {
            "KH" => salt.raises_kh(weighed, water).dkh(),
            "GH" => salt.raises_gh(weighed, water).dgh(),
            "NO3" => salt.adds(Ion::Nitrate, weighed, water).mg_l(),
            "PO4" => salt.adds(Ion::Phosphate, weighed, water).mg_l(),
            "K" => salt.adds(Ion::Potassium, weighed, water).mg_l(),
            "Mg" => salt.adds(Ion::Magnesium, weighed, water).mg_l(),
            other => panic!("{row}: a quantity we do not know, {other}"),
        };
        row.relative("change", ours, 0.001);
    }
}

#[test]
fn published_recipes_come_out_at_their_degrees_within_1_per_mille() {
    let litre = Volume::from_litres(1.0);
    for row in rows("water_recipes") {
        let of = |column: &str| grams(row.number(column) / 1000.0);
        let gh = Salt::CalciumSulphate.raises_gh(of("caso4_2h2o_mg_l"), litre).dgh()
            + Salt::DryMagnesiumSulphate.raises_gh(of("mgso4_mg_l"), litre).dgh()
            + Salt::PotassiumChloride.raises_gh(of("kcl_mg_l"), litre).dgh();
        let kh = Salt::SodiumBicarbonate.raises_kh(of("nahco3_mg_l"), litre).dkh();
        row.relative("dgh", gh, 0.001);
        row.relative("dkh", kh, 0.001);
        row.relative("hardness_mg_l_caco3", gh * 17.848, 0.001);
        row.relative("alkalinity_mg_l_caco3", kh * 17.848, 0.001);
    }
}

#[test]
fn a_degree_is_so_much_calcium_magnesium_or_bicarbonate() {
    let mut seen = 0;
    for row in rows("hardness") {
        let degrees = row.number("from_value");
        let ions = |share: f64| hardness_ions(GeneralHardness::from_dgh(degrees), Fraction::new(share));
        let ours = match row.text("to_unit") {
            "mg_l_calcium_if_all_calcium" => ions(1.0).0.mg_l(),
            "mg_l_magnesium_if_all_magnesium" => ions(0.0).1.mg_l(),
            "mg_l_bicarbonate" => alkalinity_as_bicarbonate(CarbonateHardness::from_dkh(degrees)).mg_l(),
            _ => continue,
        };
        row.relative("to_value", ours, 0.001);
        seen += 1;
    }
    assert_eq!(seen, 3);
}

#[test]
fn a_salt_without_the_ion_is_refused() {
    let litre = Volume::from_litres(1.0);
    assert_eq!(
        Salt::PotassiumNitrate.for_gh(GeneralHardness::from_dgh(1.0), litre),
        Err(WaterError::WrongSalt)
    );
    assert_eq!(
        Salt::MagnesiumSulphate.for_kh(CarbonateHardness::from_dkh(1.0), litre),
        Err(WaterError::WrongSalt)
    );
}

#[test]
fn a_target_outside_the_two_waters_is_out_of_reach() {
    let dkh = CarbonateHardness::from_dkh;
    assert_eq!(soft_share(dkh(12.0), dkh(0.0), dkh(3.0)), Ok(Fraction::new(0.75)));
    for target in [13.0, -1.0, f64::NAN] {
        assert_eq!(soft_share(dkh(12.0), dkh(0.0), dkh(target)), Err(WaterError::OutOfReach), "{target}");
    }
    assert_eq!(soft_share(dkh(4.0), dkh(4.0), dkh(4.0)), Err(WaterError::OutOfReach));
}

proptest! {
    #[test]
    fn mixing_undoes_the_share(tap in 5.0..30.0f64, soft in 0.0..4.0f64, share in 0.0..=1.0f64) {
        let (tap, soft) = (GeneralHardness::from_dgh(tap), GeneralHardness::from_dgh(soft));
        let target = mixed(tap, soft, Fraction::new(share));
        prop_assert!(target <= tap && target >= soft || (share - 1.0).abs() < 1e-9);
        // The ends may round to just outside.
        if let Ok(back) = soft_share(tap, soft, target) {
            prop_assert!((back.value() - share).abs() < 1e-12);
        } else {
            prop_assert!(!(1e-9..=1.0 - 1e-9).contains(&share));
        }
    }

    #[test]
    fn a_dose_gives_the_change_it_was_weighed_for(change in 0.0..20.0f64, litres in 1.0..1000.0f64) {
        let water = Volume::from_litres(litres);
        for salt in [Salt::CalciumSulphate, Salt::CalciumChloride, Salt::MagnesiumSulphate, Salt::CalciumCarbonate] {
            let dose = salt.for_gh(GeneralHardness::from_dgh(change), water).expect("it has hardness");
            prop_assert!((salt.raises_gh(dose, water).dgh() - change).abs() < 1e-9);
        }
    }

    #[test]
    fn warm_water_is_lighter_and_holds_less_oxygen(t in 4.5..39.0f64, step in 0.01..1.0f64) {
        let at = Temperature::from_celsius;
        let kg = |t: f64| mass(CUBIC_METRE, at(t)).expect("liquid").kg();
        let o2 = |t: f64| oxygen_saturation(at(t), Pressure::from_kpa(101.325)).expect("liquid").mg_l();
        prop_assert!(kg(t + step) < kg(t));
        prop_assert!(o2(t + step) < o2(t));
    }
}
