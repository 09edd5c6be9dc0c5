//! The tank as computed: the checked file turned into light, carbon and zones.

use super::carbon::{
    self, AcidSource, Air, BICARBONATE_WORTH, CarbonError, CarbonEstimate, CarbonInputs, GasHours, GasPace,
    GasSupply,
};
use super::file::{
    BedKind, Hardscape, Injection, LampOutput, LampSpec, Material, Spot, TankSpec, Tint, ZoneRole,
};
use super::geometry::{GeometryError, Interior, Piece, Volumes};
use super::layout::{Ground, grounds, neighbours, sight_lines};
use super::light::{
    Lamp, LightError, LightField, LightMap, Scene, Spectrum, Walls, WaterColour, daily_integral,
    photon_flux_of_power,
};
use super::loads::{Masses, usual_wall};
use super::water::WaterError;
use crate::units::{Concentration, Dli, Interval, Length, PhotonFlux, Volume};

/// Cells of the light stack over the whole plan, about.
const STACK_CELLS: f64 = 700.0;
/// Cells of the ground, for areas.
const GROUND_CELL: Length = Length::from_cm(1.0);
/// Step between the levels of the light stack.
const LEVEL_STEP: Length = Length::from_cm(5.0);
/// A leaf at the surface counts as just under it.
const UNDER_SURFACE: Length = Length::from_cm(0.1);

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
    /// A lamp names a spectrum that is not in the table.
    #[error("`{name}` is not a spectrum of light-sources.csv")]
    Spectrum {
        /// As written.
        name: String,
        /// Where in the file.
        span: std::ops::Range<usize>,
    },
}

/// The light of a zone at one height.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneLevel {
    /// Height above the bed; above the floor for hardscape and surface.
    pub height: Length,
    /// Daily light of each cell.
    pub cells: Vec<Dli>,
}

/// A zone as computed.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneModel {
    /// Its ground.
    pub ground: Ground,
    /// Mean bed thickness under it.
    pub bed_depth: Length,
    /// How tall plants may stand: the zone's limit or the water over bed or hardscape.
    pub tallest: Length,
    /// Light at rising heights.
    pub levels: Vec<ZoneLevel>,
}

/// A tank with all that follows from its file.
#[derive(Debug, Clone)]
pub struct TankModel {
    /// The file.
    pub spec: TankSpec,
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
    let lamps: Result<Vec<Lamp>, ModelError> =
        spec.light.lamps.iter().map(|l| lamp(l, spectra, default_spectrum)).collect();
    let field = LightField::new(&lamps?, &scene(spec))?;
    let carbon = carbon_of(spec)?;
    let ground = grounds(spec, GROUND_CELL);
    let (neighbours, sight_lines) = (neighbours(spec, &ground), sight_lines(spec, &ground));
    let stack = Stack::new(spec, &field);
    let zones = ground.into_iter().enumerate().map(|(i, g)| zone(spec, &field, &stack, i, g)).collect();
    let bed_light = field.map(|_, y| spec.bed_height(y), Length::from_cm(1.0));
    let (volumes, masses) = contents(spec)?;
    Ok(TankModel {
        spec: spec.clone(),
        field,
        bed_light,
        carbon,
        volumes,
        masses,
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
    /// Carbon that bicarbonate adds for a plant that can use it, as CO2.
    pub fn bicarbonate_as_co2(&self) -> Interval<Concentration> {
        let none = Interval::point(Concentration::from_mg_l(0.0));
        carbon::usable_carbon(none, self.carbon.bicarbonate, BICARBONATE_WORTH)
    }
}

/// What fills the glass and what it weighs, at the middle of the temperature range.
fn contents(spec: &TankSpec) -> Result<(Volumes, Masses), ModelError> {
    let inside = Interior::new(&spec.glass, &spec.bed)?;
    let piece = |h: &Hardscape| Piece { outline: h.outline.clone(), top: h.top };
    let pieces: Vec<Piece> = spec.hardscape.iter().map(piece).collect();
    let volumes = inside.volumes(&pieces)?;
    let rock: Vec<(Material, Volume)> =
        spec.hardscape.iter().zip(&pieces).map(|(h, p)| (h.material, inside.piece_volume(p))).collect();
    let wall = usual_wall(spec.glass.height);
    let masses = Masses::new(&inside, &volumes, spec.bed.kind, &rock, wall, spec.water.temperature.mid())?;
    Ok((volumes, masses))
}

fn lamp(spec: &LampSpec, spectra: &[Spectrum], default: &Spectrum) -> Result<Lamp, ModelError> {
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
    Ok(Lamp {
        centre: spec.at,
        size: spec.size,
        above_water: spec.above_water,
        beam: spec.beam,
        flux: PhotonFlux::from_umol_s(full.umol_s() * spec.dimmed_to.value()),
        bands: spectrum.bands,
    })
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

fn carbon_inputs<'a>(spec: &TankSpec, acids: &'a [AcidSource]) -> CarbonInputs<'a> {
    let gas = match spec.gas.injection {
        Injection::None => GasSupply::None,
        Injection::Pressurised => GasSupply::Pressurised {
            target: spec.gas.target,
            hours: GasHours::Timed { lead: spec.gas.on_before, early_stop: spec.gas.off_before },
            pace: GasPace::default(),
        },
        Injection::Fermentation => GasSupply::Fermentation { target: spec.gas.target },
    };
    CarbonInputs {
        temperature: spec.water.temperature,
        kh: spec.water.kh,
        gh: spec.water.gh,
        ph: Some(spec.water.ph),
        air: Air::default(),
        gas,
        acids,
        photoperiod: spec.light.hours,
    }
}

/// The light over the plan at rising heights above the bed.
struct Stack {
    levels: Vec<(Length, LightMap)>,
}

impl Stack {
    fn new(spec: &TankSpec, field: &LightField) -> Self {
        let (glass, bed) = (&spec.glass, &spec.bed);
        let cell = (glass.length.m() * glass.depth.m() / STACK_CELLS).sqrt().max(GROUND_CELL.m());
        let water = glass.water.m() - bed.front.m().min(bed.back.m());
        let count = (water / LEVEL_STEP.m()).floor().clamp(0.0, 40.0) as usize;
        let surface = glass.water.m() - UNDER_SURFACE.m();
        let level = |i: usize| {
            let height = i as f64 * LEVEL_STEP.m();
            let z = |y: Length| Length::from_m((spec.bed_height(y).m() + height).min(surface));
            (Length::from_m(height), field.map(|_, y| z(y), Length::from_m(cell)))
        };
        Self { levels: (0..=count).map(level).collect() }
    }
}

fn zone(spec: &TankSpec, field: &LightField, stack: &Stack, index: usize, ground: Ground) -> ZoneModel {
    let zone = &spec.zones[index];
    let hours = spec.light.hours;
    let middle = Length::from_m(f64::midpoint(ground.y.0.m(), ground.y.1.m()));
    let bed_depth = spec.bed_height(middle);
    let single = |height: Length| {
        let cells = thin(&ground.cells).map(|s| daily_integral(field.at(s.0, s.1, height), hours)).collect();
        vec![ZoneLevel { height, cells }]
    };
    let (levels, room) = match zone.role {
        ZoneRole::Floating => (single(spec.glass.water), spec.glass.height),
        ZoneRole::Epiphyte => {
            let top = highest(spec, index).min(spec.glass.water.m() - UNDER_SURFACE.m());
            // Tall plants are tied on low: half way up the piece.
            let foot = f64::midpoint(bed_depth.m(), top);
            (single(Length::from_m(top)), Length::from_m(spec.glass.water.m() - foot))
        }
        _ => {
            let levels = stack.levels.iter().map(|(height, map)| ZoneLevel {
                height: *height,
                cells: map
                    .cells()
                    .filter(|c| covers(&ground.cells, (c.x, c.y)))
                    .map(|c| daily_integral(c.ppfd, hours))
                    .collect(),
            });
            let levels: Vec<ZoneLevel> = levels.filter(|l| !l.cells.is_empty()).collect();
            let levels = if levels.is_empty() { single(bed_depth) } else { levels };
            (levels, Length::from_m(spec.glass.water.m() - bed_depth.m()))
        }
    };
    let tallest = Length::from_m(zone.tallest.map_or(room.m(), |t| t.m().min(room.m())));
    ZoneModel { ground, bed_depth, tallest, levels }
}

/// Whether a spot falls into one of the cells of the ground.
fn covers(cells: &[Spot], spot: Spot) -> bool {
    let half = GROUND_CELL.m() * 0.51;
    cells.iter().any(|c| (c.0.m() - spot.0.m()).abs() <= half && (c.1.m() - spot.1.m()).abs() <= half)
}

/// At most about 150 of the cells, evenly.
fn thin(cells: &[Spot]) -> impl Iterator<Item = &Spot> {
    cells.iter().step_by((cells.len() / 150).max(1))
}

/// The highest top among the hardscape of an epiphyte zone, in metres.
fn highest(spec: &TankSpec, zone: usize) -> f64 {
    let super::file::Region::On(pieces) = &spec.zones[zone].region else { return 0.0 };
    pieces.iter().map(|&i| spec.hardscape[i].top.m()).fold(0.0, f64::max)
}
