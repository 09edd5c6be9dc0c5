//! The light room against published figures: view factors, Fresnel, absorption, spectra.

use std::collections::BTreeMap;

use crate::rows::{Row, rows, rows_at};
use quillwort::tank::light::{
    Lamp, LightField, PathTransmission, PhotonBands, Scene, Spectrum, Walls, WaterColour, daily_integral,
    fresnel, pure_water_absorption,
};
use quillwort::units::{
    Angle, Attenuation, Duration, Length, LuminousEfficacy, LuminousFlux, PhotonFlux, Ppfd,
};

/// The shipped spectra by the CIE illuminant that their description names.
pub fn spectra() -> BTreeMap<String, Spectrum> {
    let mut bands: BTreeMap<String, Vec<(f64, f64, f64)>> = BTreeMap::new();
    for row in rows_at("data/light-bands.csv") {
        let band = (row.number("bandStartNm"), row.number("bandEndNm"), row.number("photonFraction"));
        bands.entry(row.text("key").to_owned()).or_default().push(band);
    }
    let made = rows_at("data/light-sources.csv").into_iter().map(|row| {
        let key = row.text("key").to_owned();
        let bands = PhotonBands::from_shares(&bands[&key]).expect("lawful shares");
        let name = row.text("description").split_once("(CIE illuminant ").expect("names its illuminant").1;
        let spectrum = Spectrum { key, lux_per_umol: row.number("luxPerUmol"), bands };
        (name.trim_end_matches(')').to_owned(), spectrum)
    });
    made.collect()
}

/// Light from a lamp through air alone onto a level point `height` below it, times the lamp's area
/// over its flux. The same beam twice: inside a tank of air with black walls, and above the water.
fn factors_in_air(row: &Row, beam: Angle) -> [f64; 2] {
    let m = Length::from_m;
    let size = (row.number("a_m"), row.number("b_m"));
    let height = row.number("height_m");
    let lamp = |above: f64| Lamp {
        centre: (m(50.0), m(50.0)),
        size: (m(size.0), m(size.1)),
        above_water: m(above),
        beam,
        flux: PhotonFlux::from_umol_s(size.0 * size.1),
        bands: PhotonBands::EVEN,
    };
    let scene = Scene {
        refractive_index: 1.0,
        walls: Walls::Black,
        water: WaterColour::Grey(Attenuation::from_per_m(0.0)),
        ..Scene::open(m(100.0), m(100.0), m(2.0))
    };
    let (x, y) = (m(50.0 + row.number("x_m")), m(50.0 + row.number("y_m")));
    let under = LightField::new(&[lamp(0.3 * height)], &scene).expect("a lawful lamp");
    let over = LightField::new(&[lamp(height)], &scene).expect("a lawful lamp");
    [under.at(x, y, m(2.0 - 0.7 * height)).umol_m2_s(), over.at(x, y, m(2.0)).umol_m2_s()]
}

#[test]
fn a_diffuse_lamp_in_air_has_the_view_factor_of_howell_b3() {
    for row in rows("view_factors") {
        for found in factors_in_air(&row, Angle::from_degrees(120.0)) {
            row.absolute("view_factor", found, 1e-6);
        }
    }
}

#[test]
fn a_lensed_lamp_in_air_has_its_beam_factor() {
    for row in rows("beam_factors") {
        for found in factors_in_air(&row, Angle::from_degrees(row.number("full_beam_angle_deg"))) {
            row.absolute("beam_factor", found, 1e-6);
        }
    }
}

#[test]
fn a_surface_reflects_and_refracts_by_fresnel_and_snell() {
    for row in rows("fresnel") {
        let (air, water) = (row.number("n_air"), row.number("n_water"));
        let (from, to) = if row.text("direction") == "air_to_water" { (air, water) } else { (water, air) };
        let found = fresnel(from, to, Angle::from_degrees(row.number("incidence_deg")));
        row.absolute("r_s", found.r_s.value(), 1e-6);
        row.absolute("r_p", found.r_p.value(), 1e-6);
        row.absolute("r_unpolarised", found.reflectance().value(), 1e-6);
        row.absolute("t_unpolarised", found.transmittance().value(), 1e-6);
        assert_eq!(found.refraction.is_none(), row.text("total_internal_reflection") == "true", "{row}");
        if let Some(angle) = found.refraction {
            row.absolute("refraction_deg", angle.degrees(), 1e-4);
        }
    }
}

#[test]
fn diffuse_light_is_reflected_by_the_hemispherical_mean() {
    for row in rows("fresnel_diffuse") {
        let n = row.number("n_water");
        let (from, to) = if row.text("side") == "air" { (1.0, n) } else { (n, 1.0) };
        // ∫ R(θ) 2 sinθ cosθ dθ by the midpoint rule in sin²θ.
        let steps = 200_000;
        let mean = (0..steps).map(|i| {
            let sine = ((f64::from(i) + 0.5) / f64::from(steps)).sqrt();
            fresnel(from, to, Angle::from_radians(sine.asin())).reflectance().value()
        });
        row.absolute("diffuse_reflectance", mean.sum::<f64>() / f64::from(steps), 1e-5);
    }
}

#[test]
fn pure_water_absorbs_as_pope_and_fry_measured() {
    for row in rows("pure_water_absorption") {
        let found = pure_water_absorption(row.number("wavelength_nm")).expect("within 400–700 nm");
        row.relative("absorption_per_m", found.per_m(), 0.005);
    }
    assert_eq!(pure_water_absorption(399.9), None);
    assert_eq!(pure_water_absorption(f64::NAN), None);
}

#[test]
fn stained_water_passes_the_photons_it_should() {
    let spectra = spectra();
    for row in rows("water_attenuation") {
        let water = WaterColour::Stained {
            a440: Attenuation::from_per_m(row.number("a440_per_m")),
            slope_per_nm: row.number("slope_per_nm"),
        };
        let path = Length::from_m(row.number("depth_m"));
        let found = PathTransmission::new(&water, &spectra[row.text("illuminant")].bands).over(path);
        row.absolute("par_transmission", found.value(), 0.005);
    }
}

#[test]
fn lumens_and_lux_become_photons_by_the_spectrum() {
    let spectra = spectra();
    for row in rows("spectra_lux_per_umol") {
        let spectrum = &spectra[row.text("illuminant")];
        row.relative("lux_per_umol_m2_s", spectrum.lux_per_umol, 0.005);
        let klm = spectrum.photon_flux(LuminousFlux::from_lumens(1000.0));
        row.relative("umol_per_klm_s", klm.umol_s(), 0.005);
        for (column, first) in
            [("photon_fraction_400_500", 0), ("photon_fraction_500_600", 5), ("photon_fraction_600_700", 10)]
        {
            let share: f64 = spectrum.bands.iter().skip(first).take(5).map(|(_, f)| f.value()).sum();
            row.relative(column, share, 0.005);
        }
    }
    for row in rows("photon_efficacy") {
        let spectrum = &spectra[row.text("illuminant")];
        let flux = spectrum.photon_flux(LuminousFlux::from_lumens(row.number("luminous_flux_lm")));
        row.relative("ppf_umol_s", flux.umol_s(), 0.005);
        let efficacy = LuminousEfficacy::from_lm_w(row.number("luminous_efficacy_lm_w"));
        let found = spectrum.photon_efficacy(efficacy);
        row.relative("photon_efficacy_umol_j", found.umol_j(), 0.005);
    }
}

#[test]
fn the_spectra_are_near_the_horticultural_handbook() {
    let spectra = spectra();
    // Only light sources that the shipped spectra hold; the others have no band data.
    let same = [("sun and sky daylight", "D65"), ("cool-white fluorescent", "FL2"), ("incandescent", "A")];
    for row in rows("spectra_handbook") {
        if let Some((_, ours)) = same.iter().find(|(name, _)| *name == row.text("source_of_light")) {
            row.relative("lux_per_umol_m2_s", spectra[*ours].lux_per_umol, 0.1);
        }
    }
}

#[test]
fn a_day_of_light_is_its_integral() {
    for row in rows("dli") {
        let ppfd = Ppfd::from_umol_m2_s(row.number("ppfd_umol_m2_s"));
        let found = daily_integral(ppfd, Duration::from_hours(row.number("hours_per_day")));
        row.relative("dli_mol_m2_d", found.mol_m2_d(), 1e-9);
    }
}
