//! The tank as computed: the checked file turned into light, carbon, loads, zones and audit.

use super::audit::{AuditLine, SetUp, audit};
use super::carbon::{
    self, AcidSource, Air, BICARBONATE_WORTH, CarbonError, CarbonEstimate, CarbonInputs, GasHours, GasPace,
    GasSupply,
};
use super::file::{BedKind, Hardscape, Injection, Material, TankSpec, Tint};
use super::geometry::{GeometryError, Interior, Piece, Volumes};
use super::layout::{grounds, neighbours, sight_lines};
use super::light::{LightError, LightField, LightMap, ReadingError, Spectrum};
use super::lighting::{LightBasis, Lighting, LitLamp};
use super::loads::{Masses, usual_wall};
use super::water::WaterError;
use super::zones::{GROUND_CELL, Stack, ZoneModel, zone};
use crate::diagnostic::Findings;
use crate::units::{Concentration, Interval, Length, Volume};

/// Cells of the map of the bed, unless another size is asked for.
const MAP_CELL: Length = Length::from_cm(1.0);

/// Why a tank cannot be computed; the file reader has refused most causes already.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ModelError {
    /// The light.
    #[error(transparent)]
    Light(#[from] LightError),
    /// The carbon.
    #[error(transparent)]
    Carbon(#[from] CarbonError),
    /// The geometry.
    #[error(transparent)]
    Geometry(#[from] GeometryError),
    /// The water.
    #[error(transparent)]
    Water(#[from] WaterError),
    /// A reading of light cannot be used.
    #[error("{error}")]
    Reading {
        /// Why.
        error: ReadingError,
        /// Where in the file.
        span: std::ops::Range<usize>,
    },
    /// A lamp names a spectrum that is not in the table.
    #[error("`{name}` is not a spectrum of light-sources.csv")]
    Spectrum {
        /// As written.
        name: String,
        /// Where in the file.
        span: std::ops::Range<usize>,
    },
}

/// A tank with all that follows from its file.
#[derive(Debug, Clone)]
pub struct TankModel {
    /// The file.
    pub spec: TankSpec,
    /// What is doubtful about the file beyond what its reader could tell.
    pub findings: Findings,
    /// The lamps, in file order.
    pub lamps: Vec<LitLamp>,
    /// What the light rests on.
    pub basis: LightBasis,
    /// The light anywhere.
    pub field: LightField,
    /// The light on the bed.
    pub bed_light: LightMap,
    /// The carbon.
    pub carbon: CarbonEstimate,
    /// What fills the glass.
    pub volumes: Volumes,
    /// What it weighs.
    pub masses: Masses,
    /// The set-up against the usual rules.
    pub audit: Vec<AuditLine>,
    /// The zones, in file order.
    pub zones: Vec<ZoneModel>,
    /// Pairs of zones that touch.
    pub neighbours: Vec<[usize; 2]>,
    /// Pairs nearer → farther on one line of sight.
    pub sight_lines: Vec<(usize, usize)>,
}

/// Computes a tank. `spectra` are those of `light-sources.csv`; `default_spectrum` serves lamps
/// that name none.
///
/// # Errors
/// An unknown spectrum, or figures that light or carbon refuse.
pub fn model(
    spec: &TankSpec,
    spectra: &[Spectrum],
    default_spectrum: &Spectrum,
) -> Result<TankModel, ModelError> {
    let Lighting { lamps, field, basis, findings } = Lighting::of(spec, spectra, default_spectrum)?;
    let bed_light = field.map(|_, y| spec.bed_height(y), MAP_CELL);
    let acids = acids(spec);
    let inputs = carbon_inputs(spec, &acids);
    let carbon = carbon::estimate(&inputs)?;
    let inside = Interior::new(&spec.glass, &spec.bed)?;
    let (volumes, masses) = contents(spec, &inside)?;
    let materials: Vec<Material> = spec.hardscape.iter().map(|h| h.material).collect();
    let audit = audit(&SetUp {
        photoperiod: spec.light.hours,
        gas: inputs.gas,
        water: volumes.water,
        filter_flow: spec.filter_flow,
        weekly_change: spec.water.weekly_change,
        bed_kind: spec.bed.kind,
        bed: inside.bed(),
        hardscape: &materials,
        livestock: spec.livestock,
        light: Some(bed_light.mean()),
        carbon: &carbon,
    });
    let ground = grounds(spec, GROUND_CELL);
    let (neighbours, sight_lines) = (neighbours(spec, &ground), sight_lines(spec, &ground));
    let stack = Stack::new(spec, &field);
    let zones = ground.into_iter().enumerate().map(|(i, g)| zone(spec, &field, &stack, i, g)).collect();
    let spec = spec.clone();
    Ok(TankModel {
        spec,
        findings,
        lamps,
        basis,
        field,
        bed_light,
        carbon,
        volumes,
        masses,
        audit,
        zones,
        neighbours,
        sight_lines,
    })
}

/// The carbon of a tank: the part of the model that goes by its water, gas and hours alone.
///
/// # Errors
/// Figures that the carbonate system refuses.
pub fn carbon_of(spec: &TankSpec) -> Result<CarbonEstimate, CarbonError> {
    carbon::estimate(&carbon_inputs(spec, &acids(spec)))
}

impl TankSpec {
    /// Top of the bed at a distance from the front glass.
    pub fn bed_height(&self, y: Length) -> Length {
        let share = (y.m() / self.glass.depth.m()).clamp(0.0, 1.0);
        Length::from_m(self.bed.front.m() + (self.bed.back.m() - self.bed.front.m()) * share)
    }
}

impl TankModel {
    /// The light on the bed in cells of about `cell`.
    pub fn bed_light_in(&self, cell: Length) -> LightMap {
        self.field.map(|_, y| self.spec.bed_height(y), cell)
    }

    /// Carbon that bicarbonate adds for a plant that can use it, as CO2.
    pub fn bicarbonate_as_co2(&self) -> Interval<Concentration> {
        let none = Interval::point(Concentration::from_mg_l(0.0));
        carbon::usable_carbon(none, self.carbon.bicarbonate, BICARBONATE_WORTH)
    }
}

/// What fills the glass and what it weighs, at the middle of the temperature range.
fn contents(spec: &TankSpec, inside: &Interior) -> Result<(Volumes, Masses), ModelError> {
    let piece = |h: &Hardscape| Piece { outline: h.outline.clone(), top: h.top };
    let pieces: Vec<Piece> = spec.hardscape.iter().map(piece).collect();
    let volumes = inside.volumes(&pieces)?;
    let rock: Vec<(Material, Volume)> =
        spec.hardscape.iter().zip(&pieces).map(|(h, p)| (h.material, inside.piece_volume(p))).collect();
    let wall = usual_wall(spec.glass.height);
    let masses = Masses::new(inside, &volumes, spec.bed.kind, &rock, wall, spec.water.temperature.mid())?;
    Ok((volumes, masses))
}

/// What besides CO2 lowers pH here.
fn acids(spec: &TankSpec) -> Vec<AcidSource> {
    let mut found = Vec::new();
    if spec.bed.kind == BedKind::ActiveSoil {
        found.push(AcidSource::ActiveSoil);
    }
    if spec.hardscape.iter().any(|h| h.material == Material::Wood) {
        found.push(AcidSource::Wood);
    }
    if spec.water.tint != Tint::Clear {
        found.push(AcidSource::Tint);
    }
    found
}

/// The gas supply of a tank as the carbonate system takes it.
pub fn gas_of(spec: &TankSpec) -> GasSupply {
    match spec.gas.injection {
        Injection::None => GasSupply::None,
        Injection::Pressurised => GasSupply::Pressurised {
            target: spec.gas.target,
            hours: GasHours::Timed { lead: spec.gas.on_before, early_stop: spec.gas.off_before },
            pace: GasPace::default(),
        },
        Injection::Fermentation => GasSupply::Fermentation { target: spec.gas.target },
    }
}

fn carbon_inputs<'a>(spec: &TankSpec, acids: &'a [AcidSource]) -> CarbonInputs<'a> {
    CarbonInputs {
        temperature: spec.water.temperature,
        kh: spec.water.kh,
        gh: spec.water.gh,
        ph: Some(spec.water.ph),
        air: Air::default(),
        gas: gas_of(spec),
        acids,
        photoperiod: spec.light.hours,
    }
}
