//! The light of the file worked out: lamps with their output and colour, and readings set beside them.

use super::file::{LampOutput, LampSpec, LightReading, TankSpec};
use super::light::{
    Comparison, Contradiction, Lamp, LightField, Reading, ReadingError, Scene, Spectrum, Walls, WaterColour,
    photon_flux_of_power,
};
use super::model::ModelError;
use crate::diagnostic::{Finding, Findings};
use crate::units::{Length, PhotonFlux};

/// A lamp of the file with its output and colour worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct LitLamp {
    /// As the light room takes it, dimmed.
    pub lamp: Lamp,
    /// Key of its spectrum.
    pub spectrum: String,
}

/// What the light rests on.
#[derive(Debug, Clone, PartialEq)]
pub enum LightBasis {
    /// The lamps as stated.
    Lamps,
    /// The lamps, their output set by readings.
    LampsSetByReadings(Comparison),
    /// Readings alone.
    Readings,
}

/// The light of a tank.
pub(super) struct Lighting {
    pub lamps: Vec<LitLamp>,
    pub field: LightField,
    pub basis: LightBasis,
    /// What is doubtful about lamps and readings.
    pub findings: Findings,
}

impl Lighting {
    /// Works out the light of a file.
    pub fn of(spec: &TankSpec, spectra: &[Spectrum], default: &Spectrum) -> Result<Self, ModelError> {
        let lamps = spec.light.lamps.iter().map(|l| lamp(l, spectra, default));
        let lamps = lamps.collect::<Result<Vec<LitLamp>, ModelError>>()?;
        let scene = scene(spec);
        let readings: Vec<Reading> = spec.light.readings.iter().map(|r| reading(spec, r)).collect();
        let unusable = |error| unusable(spec, error);
        let mut findings = Findings::default();
        if lamps.is_empty() {
            let field = LightField::from_readings(&readings, &scene, &default.bands).map_err(unusable)?;
            return Ok(Self { lamps, field, basis: LightBasis::Readings, findings });
        }
        let shining: Vec<Lamp> = lamps.iter().map(|l| l.lamp).collect();
        let field = LightField::new(&shining, &scene)?;
        if readings.is_empty() {
            return Ok(Self { lamps, field, basis: LightBasis::Lamps, findings });
        }
        let comparison = field.compare(&readings).map_err(unusable)?;
        if let Some(contradiction) = comparison.contradiction {
            findings.push(doubt(spec, contradiction));
        }
        let field = field.scaled(comparison.factor);
        Ok(Self { lamps, field, basis: LightBasis::LampsSetByReadings(comparison), findings })
    }
}

fn lamp(spec: &LampSpec, spectra: &[Spectrum], default: &Spectrum) -> Result<LitLamp, ModelError> {
    let spectrum = match &spec.spectrum {
        None => default,
        Some(wish) => spectra
            .iter()
            .find(|s| s.key.eq_ignore_ascii_case(&wish.text))
            .ok_or_else(|| ModelError::Spectrum { name: wish.text.clone(), span: wish.span.clone() })?,
    };
    let full = match spec.output {
        LampOutput::Photons(flux) => flux,
        LampOutput::Lumens(lumens) => spectrum.photon_flux(lumens),
        LampOutput::PhotonPower(power, efficacy) => photon_flux_of_power(power, efficacy),
        LampOutput::LumenPower(power, efficacy) => {
            photon_flux_of_power(power, spectrum.photon_efficacy(efficacy))
        }
    };
    let lamp = Lamp {
        centre: spec.at,
        size: spec.size,
        above_water: spec.above_water,
        beam: spec.beam,
        flux: PhotonFlux::from_umol_s(full.umol_s() * spec.dimmed_to.value()),
        bands: spectrum.bands,
    };
    Ok(LitLamp { lamp, spectrum: spectrum.key.clone() })
}

fn scene(spec: &TankSpec) -> Scene {
    Scene {
        water: WaterColour::of_tint(spec.water.tint),
        walls: Walls::Glass,
        lid: spec.glass.cover_transmittance,
        floating: spec.light.floating_cover,
        ..Scene::open(spec.glass.length, spec.glass.depth, spec.glass.water)
    }
}

/// A reading of the file at its height above the floor.
fn reading(spec: &TankSpec, written: &LightReading) -> Reading {
    let (x, y) = written.at;
    let z = Length::from_m(spec.bed_height(y).m() + written.above_bed.m());
    Reading { at: (x, y, z), ppfd: written.ppfd }
}

/// Where the reading with this number, counted from 1, stands in the file.
fn place(spec: &TankSpec, number: usize) -> std::ops::Range<usize> {
    spec.light.readings.get(number - 1).map_or(0..0, |r| r.span.clone())
}

fn unusable(spec: &TankSpec, error: ReadingError) -> ModelError {
    let number = match &error {
        ReadingError::Scene(light) => return ModelError::Light(light.clone()),
        ReadingError::None => 1,
        ReadingError::Outside { number }
        | ReadingError::Value { number, .. }
        | ReadingError::Dark { number } => *number,
    };
    ModelError::Reading { span: place(spec, number), error }
}

/// A disagreement between lamps and readings that noise does not explain.
fn doubt(spec: &TankSpec, contradiction: Contradiction) -> Finding {
    let (number, message) = match contradiction {
        Contradiction::Lamps { factor } => {
            (1, format!("the readings show {} the light of the lamps as stated", times(factor)))
        }
        Contradiction::Reading { number, ratio } => (
            number,
            format!("reading {number} shows {} the light that the others lead to expect", times(ratio)),
        ),
    };
    let expected = "within five times: check the unit of the meter (lux is not PPFD), the place and height of the \
                    sensor, and the output, height and dimming of the lamp";
    Finding::warning(message).at(&spec.document, place(spec, number)).expected(expected)
}

/// "7.3 times", "0.08 times".
fn times(factor: f64) -> String {
    if factor < 1.0 { format!("{factor:.2} times") } else { format!("{factor:.1} times") }
}
