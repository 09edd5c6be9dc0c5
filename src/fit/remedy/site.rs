//! A tank with its zones, and the same zones after a change. Only what the change touches is
//! computed anew; `tests/fit_remedy.rs` holds that against the whole model.

use std::borrow::Cow;
use std::cell::RefCell;
use std::collections::BTreeMap;

use super::Change;
use crate::fit::{LightLevel, Water, ZoneConditions};
use crate::tank::file::{TankSpec, ZoneRole};
use crate::tank::light::{Lamp, LightField, daily_integral};
use crate::tank::{LitLamp, TankModel, carbon_of, level_map};
use crate::units::{Dli, Fraction, Length, PhotonFlux, Ppfd, Quantity};

/// What another lamp height gives, kept for the next question.
#[derive(Debug, Clone)]
struct Hung {
    spec: TankSpec,
    field: LightField,
    /// Zones whose light has been computed.
    zones: BTreeMap<usize, Vec<LightLevel>>,
}

/// A tank and its zones.
#[derive(Debug)]
pub struct Site<'a> {
    /// The tank.
    pub model: Cow<'a, TankModel>,
    /// Its zones as they are, in file order.
    pub zones: Vec<ZoneConditions>,
    hung: RefCell<BTreeMap<i64, Option<Hung>>>,
}

impl<'a> Site<'a> {
    /// The site of a computed tank.
    pub fn new(model: &'a TankModel) -> Self {
        let zones = ZoneConditions::all(model);
        Self { model: Cow::Borrowed(model), zones, hung: RefCell::default() }
    }

    /// The tank file.
    pub fn spec(&self) -> &TankSpec {
        &self.model.spec
    }

    /// The site after a change; `None` when the tank cannot be like that. The light of its zones
    /// is right; the light map of its model is still the one from before.
    pub fn with(&self, change: Change) -> Option<Self> {
        let zones: Option<Vec<ZoneConditions>> =
            (0..self.zones.len()).map(|zone| self.zone_after(zone, change)).collect();
        let spec = change.applied(self.spec());
        let carbon = carbon_of(&spec).ok()?;
        let mut lamps = self.model.lamps.clone();
        for lit in &mut lamps {
            match change {
                Change::Output(times) => {
                    lit.lamp.flux = PhotonFlux::from_umol_s(lit.lamp.flux.umol_s() * times.value());
                }
                Change::LampHeight(by) => {
                    lit.lamp.above_water = Length::from_m(lit.lamp.above_water.m() + by.m());
                }
                _ => {}
            }
        }
        let model = Cow::Owned(TankModel { spec, lamps, carbon, ..self.model.as_ref().clone() });
        Some(Self { model, zones: zones?, hung: RefCell::default() })
    }

    /// A zone after a change; `None` when the tank cannot be like that.
    pub fn zone_after(&self, zone: usize, change: Change) -> Option<ZoneConditions> {
        let mut after = self.zones[zone].clone();
        match change {
            Change::Zone(_) => {}
            Change::LampHeight(by) => after.light = self.hung_light(zone, by)?.into(),
            Change::Output(times) => after.gain = after.gain.times(times.value()),
            Change::FloatingCover(share) => {
                // A zone on the surface lies beside the cover, not under it.
                if self.spec().zones[zone].role != ZoneRole::Floating {
                    let open = |cover: Fraction| 1.0 - cover.value();
                    let now = open(self.spec().light.floating_cover);
                    after.gain = after.gain.times(open(share) / now);
                }
            }
            Change::Hours(hours) => {
                after.gain = after.gain.times(hours.hours() / self.spec().light.hours.hours());
                after.water = water_after(self.spec(), change)?;
            }
            Change::Gas(_)
            | Change::Temperature(_)
            | Change::SoftWater(_)
            | Change::Gh(_)
            | Change::Kh(_) => {
                after.water = water_after(self.spec(), change)?;
            }
        }
        Some(after)
    }

    /// As [`Self::zone_after`], at the nominal values only: quicker, for searching.
    pub(super) fn nominal_after(&self, zone: usize, change: Change) -> Option<ZoneConditions> {
        let touches_water = !matches!(
            change,
            Change::Zone(_) | Change::LampHeight(_) | Change::Output(_) | Change::FloatingCover(_)
        );
        if !touches_water {
            return self.zone_after(zone, change);
        }
        let mut after = self.zones[zone].clone();
        if let Change::Hours(hours) = change {
            after.gain = after.gain.times(hours.hours() / self.spec().light.hours.hours());
        }
        let spec = change.applied(self.spec());
        after.water = Water::nominal(&spec, &carbon_of(&spec).ok()?);
        Some(after)
    }

    /// The light of a zone with the lamps `by` higher.
    fn hung_light(&self, zone: usize, by: Length) -> Option<Vec<LightLevel>> {
        let mut hung = self.hung.borrow_mut();
        let at = hung.entry(micrometres(by)).or_insert_with(|| self.hang(by)).as_mut()?;
        if !at.zones.contains_key(&zone) {
            let levels = self.relit(zone, &at.spec, &at.field);
            at.zones.insert(zone, levels);
        }
        at.zones.get(&zone).cloned()
    }

    fn hang(&self, by: Length) -> Option<Hung> {
        let spec = Change::LampHeight(by).applied(self.spec());
        let hung = |lit: &LitLamp| Lamp {
            above_water: Length::from_m(lit.lamp.above_water.m() + by.m()),
            ..lit.lamp
        };
        let lamps: Vec<Lamp> = self.model.lamps.iter().map(hung).collect();
        // What readings made of the lamps holds wherever they hang.
        let field = LightField::new(&lamps, self.model.field.scene()).ok()?.scaled(self.model.field.factor());
        Some(Hung { spec, field, zones: BTreeMap::new() })
    }

    /// By how much the light of a few cells of a zone changes with the lamps `by` higher: near
    /// enough to search by.
    pub(super) fn hung_ratio(&self, zone: usize, by: Length) -> Option<f64> {
        const SAMPLES: usize = 12;
        let mut hung = self.hung.borrow_mut();
        let at = hung.entry(micrometres(by)).or_insert_with(|| self.hang(by)).as_mut()?;
        let computed = &self.model.zones[zone];
        let level = computed.levels.first()?;
        let step = (level.cells.len() / SAMPLES).max(1);
        let chosen = || computed.spots.iter().zip(&level.cells).step_by(step);
        let height = |y: Length| self.leaf_height(zone, level.height, y);
        let hours = self.spec().light.hours;
        let new: f64 =
            chosen().map(|((x, y), _)| daily_integral(at.field.at(*x, *y, height(*y)), hours).base()).sum();
        let old: f64 = chosen().map(|(_, cell)| cell.base()).sum();
        (old > 0.0).then(|| new / old)
    }

    /// Height above the floor at which a level of a zone lies.
    fn leaf_height(&self, zone: usize, level: Length, y: Length) -> Length {
        match self.spec().zones[zone].role {
            ZoneRole::Floating | ZoneRole::Epiphyte => level,
            _ => {
                let under_surface = self.spec().glass.water.m() - 0.001;
                Length::from_m((self.spec().bed_height(y).m() + level.m()).min(under_surface))
            }
        }
    }

    fn relit(&self, zone: usize, spec: &TankSpec, field: &LightField) -> Vec<LightLevel> {
        let computed = &self.model.zones[zone];
        let rooted = !matches!(self.spec().zones[zone].role, ZoneRole::Floating | ZoneRole::Epiphyte);
        let daily = |ppfd: Ppfd| daily_integral(ppfd, spec.light.hours);
        // The spots of a rooted zone are cells of the grid, in its order.
        let on_grid = |height: Length| -> Vec<Dli> {
            let map = level_map(spec, field, height);
            let mut spots = computed.spots.iter().peekable();
            let ours = map.cells().filter(|c| spots.next_if(|spot| **spot == (c.x, c.y)).is_some());
            ours.map(|c| daily(c.ppfd)).collect()
        };
        let one_by_one =
            |height: Length| computed.spots.iter().map(|(x, y)| daily(field.at(*x, *y, height))).collect();
        let level = |height: Length| {
            let cells = if rooted { on_grid(height) } else { Vec::new() };
            // A zone smaller than a cell has spots of its own.
            let whole = cells.len() == computed.spots.len();
            LightLevel::new(height, &if whole { cells } else { one_by_one(height) })
        };
        computed.levels.iter().filter_map(|l| level(l.height)).collect()
    }
}

/// Lamp heights are told apart to the micrometre.
fn micrometres(by: Length) -> i64 {
    (by.m() * 1e6).round() as i64
}

fn water_after(spec: &TankSpec, change: Change) -> Option<Water> {
    let after = change.applied(spec);
    let carbon = carbon_of(&after).ok()?;
    Some(Water::of(&after, &carbon))
}
