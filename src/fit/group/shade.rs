//! Shade that plants of a list cast on others of it.

use super::{Planted, dimmed, fallen, kept, rooted, water_over_bed};
use crate::catalogue::Placement;
use crate::fit::Verdict;
use crate::fit::remedy::Site;
use crate::units::Fraction;

/// A plant whose verdict falls, by index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fall {
    /// The plant.
    pub plant: usize,
    /// Its verdict without the shade.
    pub from: Verdict,
    /// Its verdict in the shade.
    pub to: Verdict,
}

/// What grown-over floating zones take from the rest.
#[derive(Debug, Clone, PartialEq)]
pub struct FloatingShade {
    /// Share of the surface covered then.
    pub cover: Fraction,
    /// Who falls.
    pub falls: Vec<Fall>,
}

/// A plant that reaches the surface, and plants beside it that would not bear its shade.
#[derive(Debug, Clone, PartialEq)]
pub struct Canopy {
    /// The tall one.
    pub tall: usize,
    /// Who falls below *grows* beside it.
    pub falls: Vec<Fall>,
}

/// Light left beside a canopy at the surface, as a share (our rule).
pub const CANOPY_LIGHT: f64 = 0.5;

/// The shade of the floating plants of a list once their zones are grown over, taken as spread
/// evenly over the surface; `None` when the list has none.
pub fn floating_shade(site: &Site<'_>, list: &[Planted<'_>]) -> Option<FloatingShade> {
    let mut zones: Vec<usize> =
        list.iter().map(|p| p.zone).filter(|z| site.zones[*z].placement == Placement::Floating).collect();
    zones.sort_unstable();
    zones.dedup();
    if zones.is_empty() {
        return None;
    }
    let surface = site.model.volumes.surface.m2();
    let grown: f64 = zones.iter().map(|z| site.model.zones[*z].ground.area.m2()).sum();
    let now = site.spec().light.floating_cover.value();
    let cover = (grown / surface).clamp(now, 0.99);
    let times = (1.0 - cover) / (1.0 - now).max(1e-9);
    let falls = list.iter().enumerate().filter(|(_, p)| !zones.contains(&p.zone)).filter_map(|(plant, p)| {
        let zone = &site.zones[p.zone];
        let [from, to] = fallen(p.plant, zone, &dimmed(zone, times))?;
        Some(Fall { plant, from, to })
    });
    Some(FloatingShade { cover: Fraction::new(cover), falls: falls.collect() })
}

/// Rooted plants that reach the surface beside plants half as tall or less that would fall below
/// *grows* in [`CANOPY_LIGHT`] of their light.
pub fn canopies(site: &Site<'_>, list: &[Planted<'_>]) -> Vec<Canopy> {
    let beside =
        |a: usize, b: usize| a == b || site.model.neighbours.iter().any(|n| *n == [a.min(b), a.max(b)]);
    let canopy = |(tall, p): (usize, &Planted<'_>)| {
        let height = kept(site, p).m();
        if !rooted(site.zones[p.zone].placement) || height < 0.98 * water_over_bed(site, p.zone) {
            return None;
        }
        let falls = list.iter().enumerate().filter_map(|(plant, low)| {
            let zone = &site.zones[low.zone];
            let lower = plant != tall && kept(site, low).m() <= 0.5 * height && beside(p.zone, low.zone);
            let [from, to] = fallen(low.plant, zone, &dimmed(zone, CANOPY_LIGHT)).filter(|_| lower)?;
            (from >= Verdict::Grows && to < Verdict::Grows).then_some(Fall { plant, from, to })
        });
        let falls: Vec<Fall> = falls.collect();
        (!falls.is_empty()).then_some(Canopy { tall, falls })
    };
    list.iter().enumerate().filter_map(canopy).collect()
}
