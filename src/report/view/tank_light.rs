//! The light on the bed as answered: lamps, bands of PPFD with their share of the bed, the map.

use schemars::JsonSchema;
use serde::Serialize;

use super::{RangeView, rounded};
use crate::tank::file::LightReading;
use crate::tank::light::{Comparison, LightMap, daily_integral};
use crate::tank::{LightBasis, LitLamp, TankModel};
use crate::units::{Duration, Length, Ppfd, Quantity};

/// Bands a map is drawn in, at most: more greys are not told apart on paper.
const MOST_BANDS: usize = 6;
/// A band is no narrower than this share of the brightest spot; below, the model says nothing.
const FINEST_BAND: f64 = 0.02;

/// A lamp with its output worked out.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LampView {
    /// Photons of 400–700 nm, as dimmed.
    pub photon_flux_umol_s: f64,
    /// Key of its spectrum in `light-sources.csv`.
    pub spectrum: String,
    /// Centre, from the left and from the front.
    pub at_cm: [f64; 2],
    /// Size, left to right and front to back.
    pub size_cm: [f64; 2],
    /// Height above the water.
    pub above_water_cm: f64,
    /// Full angle between the directions of half intensity.
    pub beam_deg: f64,
}

impl LampView {
    fn of(lit: &LitLamp) -> Self {
        let lamp = &lit.lamp;
        let cm = |q: Length| rounded(q.cm(), 1);
        Self {
            photon_flux_umol_s: rounded(lamp.flux.umol_s(), 1),
            spectrum: lit.spectrum.clone(),
            at_cm: [cm(lamp.centre.0), cm(lamp.centre.1)],
            size_cm: [cm(lamp.size.0), cm(lamp.size.1)],
            above_water_cm: cm(lamp.above_water),
            beam_deg: rounded(lamp.beam.degrees(), 0),
        }
    }
}

/// A reading of the file beside the light that the answer goes by.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct ReadingView {
    /// From the left.
    pub x_cm: f64,
    /// From the front.
    pub y_cm: f64,
    /// Height above the bed.
    pub above_bed_cm: f64,
    /// What the sensor showed.
    pub ppfd_umol_m2_s: RangeView,
    /// What the answer has there.
    pub answered_umol_m2_s: f64,
    /// Reading over answer, 1 where they agree: what the readings leave unexplained.
    pub residual: f64,
}

/// What the readings make of the lamps.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct ScaleView {
    /// The light of the lamps as stated is multiplied by this.
    pub factor: f64,
    /// The factor if every reading is as low, and as high, as its range allows.
    pub range: RangeView,
}

/// Light at a place on the bed.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct SpotView {
    /// From the left.
    pub x_cm: f64,
    /// From the front.
    pub y_cm: f64,
    /// The light there.
    pub ppfd_umol_m2_s: f64,
}

/// A band of light on the bed.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct BandView {
    /// Lower edge.
    pub from_umol_m2_s: f64,
    /// Upper edge.
    pub to_umol_m2_s: f64,
    /// Lower edge as daily light.
    pub from_mol_m2_d: f64,
    /// Upper edge as daily light.
    pub to_mol_m2_d: f64,
    /// Share of the bed that lies in it, 0 to 1.
    pub share_of_bed: f64,
}

impl BandView {
    /// The share of the bed in whole percent, "<1 %" for a trace.
    pub fn share(&self) -> String {
        let percent = self.share_of_bed * 100.0;
        if percent > 0.0 && percent < 0.5 { "<1 %".to_owned() } else { format!("{percent:.0} %") }
    }
}

/// PPFD over the bed in equal cells, each sampled at its centre.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct MapView {
    /// Cells from left to right.
    pub columns: usize,
    /// Cells from front to back.
    pub rows: usize,
    /// Size of a cell, left to right.
    pub cell_x_cm: f64,
    /// Size of a cell, front to back.
    pub cell_y_cm: f64,
    /// A list a row, the front row first, each from left to right.
    pub ppfd_umol_m2_s: Vec<Vec<f64>>,
}

impl MapView {
    fn of(map: &LightMap) -> Self {
        let (columns, rows) = (map.columns(), map.rows());
        // Two decimals, so that lines of equal light drawn from the map come out smooth.
        let cell = |c, r| map.get(c, r).map_or(0.0, |p| rounded(p.umol_m2_s(), 2));
        let row = |r| (0..columns).map(|c| cell(c, r)).collect();
        Self {
            columns,
            rows,
            cell_x_cm: rounded(map.length().cm() / columns as f64, 4),
            cell_y_cm: rounded(map.depth().cm() / rows as f64, 4),
            ppfd_umol_m2_s: (0..rows).map(row).collect(),
        }
    }

    /// Length of the plan.
    pub fn length_cm(&self) -> f64 {
        self.cell_x_cm * self.columns as f64
    }

    /// Depth of the plan.
    pub fn depth_cm(&self) -> f64 {
        self.cell_y_cm * self.rows as f64
    }

    /// The light at a place of the plan: linear between the centres of cells, and beyond the
    /// outermost centres as there.
    pub fn at(&self, x_cm: f64, y_cm: f64) -> f64 {
        let place = |v: f64, cell: f64, count: usize| {
            let v = (v / cell - 0.5).clamp(0.0, (count - 1) as f64);
            let low = (v.floor() as usize).min(count - 1);
            (low, (low + 1).min(count - 1), v - low as f64)
        };
        let (left, right, tx) = place(x_cm, self.cell_x_cm, self.columns);
        let (front, back, ty) = place(y_cm, self.cell_y_cm, self.rows);
        let along = |row: &[f64]| row[left] * (1.0 - tx) + row[right] * tx;
        along(&self.ppfd_umol_m2_s[front]) * (1.0 - ty) + along(&self.ppfd_umol_m2_s[back]) * ty
    }
}

/// The light on the bed.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct LightView {
    /// What the figures rest on: `lamps`, `lamps-set-by-readings` or `readings`.
    pub basis: String,
    /// The lamps, in file order.
    pub lamps: Vec<LampView>,
    /// The readings, in file order.
    pub readings: Vec<ReadingView>,
    /// What the readings make of the lamps; `null` unless there are both.
    pub scale: Option<ScaleView>,
    /// What is doubtful about lamps and readings.
    pub notes: Vec<String>,
    /// Share of the light that the cover lets through; 1 for an open tank.
    pub cover_transmittance: f64,
    /// Share of the surface that floating plants close.
    pub floating_cover: f64,
    /// Colour of the water.
    pub tint: String,
    /// The darkest cell of the bed.
    pub least: SpotView,
    /// The brightest cell of the bed.
    pub most: SpotView,
    /// Bands of equal width from the darkest to the brightest.
    pub bands: Vec<BandView>,
    /// The map.
    pub map: MapView,
}

/// The light of a computed tank, over `map` of the bed.
pub(super) fn light_view(model: &TankModel, map: &LightMap) -> LightView {
    let spec = &model.spec;
    let extreme = |brighter: bool| {
        let mut found: Option<crate::tank::light::Cell> = None;
        for cell in map.cells() {
            if found.is_none_or(|f| (cell.ppfd != f.ppfd) && (cell.ppfd > f.ppfd) == brighter) {
                found = Some(cell);
            }
        }
        found.map_or(SpotView { x_cm: 0.0, y_cm: 0.0, ppfd_umol_m2_s: 0.0 }, |c| SpotView {
            x_cm: rounded(c.x.cm(), 1),
            y_cm: rounded(c.y.cm(), 1),
            ppfd_umol_m2_s: rounded(c.ppfd.umol_m2_s(), 1),
        })
    };
    let (basis, scale) = match &model.basis {
        LightBasis::Lamps => ("lamps", None),
        LightBasis::Readings => ("readings", None),
        LightBasis::LampsSetByReadings(comparison) => ("lamps-set-by-readings", Some(scale(comparison))),
    };
    LightView {
        basis: basis.to_owned(),
        readings: spec.light.readings.iter().map(|r| reading(model, r)).collect(),
        scale,
        notes: model.findings.iter().map(|f| f.message.clone()).collect(),
        lamps: model.lamps.iter().map(LampView::of).collect(),
        cover_transmittance: rounded(spec.glass.cover_transmittance.value(), 3),
        floating_cover: rounded(spec.light.floating_cover.value(), 3),
        tint: spec.water.tint.word().to_owned(),
        least: extreme(false),
        most: extreme(true),
        bands: bands(map, spec.light.hours),
        map: MapView::of(map),
    }
}

fn scale(comparison: &Comparison) -> ScaleView {
    let (lo, hi) = comparison.factor_range;
    ScaleView {
        factor: rounded(comparison.factor, 2),
        range: RangeView { lo: rounded(lo, 2), hi: rounded(hi, 2) },
    }
}

fn reading(model: &TankModel, reading: &LightReading) -> ReadingView {
    let (x, y) = reading.at;
    let z = Length::from_m(model.spec.bed_height(y).m() + reading.above_bed.m());
    let answered = model.field.at(x, y, z).umol_m2_s();
    ReadingView {
        x_cm: rounded(x.cm(), 1),
        y_cm: rounded(y.cm(), 1),
        above_bed_cm: rounded(reading.above_bed.cm(), 1),
        ppfd_umol_m2_s: RangeView::of(reading.ppfd, 1),
        answered_umol_m2_s: rounded(answered, 1),
        residual: rounded(reading.ppfd.mid().umol_m2_s() / answered, 3),
    }
}

/// The bands of a map.
fn bands(map: &LightMap, hours: Duration) -> Vec<BandView> {
    let values: Vec<f64> = map.cells().map(|c| c.ppfd.umol_m2_s()).collect();
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = values.iter().copied().fold(0.0, f64::max);
    let edges = band_edges(least, most);
    let dli = |ppfd: f64| rounded(daily_integral(Ppfd::from_umol_m2_s(ppfd), hours).base(), 2);
    let band = |pair: &[f64]| {
        let [from, to] = [pair[0], pair[1]];
        let top = to >= edges[edges.len() - 1];
        let inside = values.iter().filter(|v| **v >= from && (**v < to || top)).count();
        BandView {
            from_umol_m2_s: from,
            to_umol_m2_s: to,
            from_mol_m2_d: dli(from),
            to_mol_m2_d: dli(to),
            share_of_bed: rounded(inside as f64 / values.len() as f64, 3),
        }
    };
    edges.windows(2).map(band).collect()
}

/// Edges at round numbers that hold `least` and `most`, two at the least.
fn band_edges(least: f64, most: f64) -> Vec<f64> {
    let finest = (most * FINEST_BAND).max(0.01);
    let mut decade = 0.01;
    loop {
        for digit in [1.0, 2.0, 2.5, 5.0] {
            let step = decade * digit;
            let first = (least / step + 1e-9).floor();
            let last = (most / step - 1e-9).ceil().max(first + 1.0);
            if step >= finest && last - first <= MOST_BANDS as f64 {
                return (first as i64..=last as i64).map(|i| rounded(i as f64 * step, 3)).collect();
            }
        }
        decade *= 10.0;
    }
}

#[cfg(test)]
mod tests {
    use super::band_edges;

    #[test]
    fn edges_are_round_and_hold_everything() {
        assert_eq!(band_edges(8.4, 21.9), [7.5, 10.0, 12.5, 15.0, 17.5, 20.0, 22.5]);
        assert_eq!(band_edges(80.7, 90.9), [80.0, 82.0, 84.0, 86.0, 88.0, 90.0, 92.0]);
        assert_eq!(band_edges(50.0, 50.0), [50.0, 51.0]);
        assert_eq!(band_edges(0.0, 0.0), [0.0, 0.01]);
        assert_eq!(band_edges(0.0, 3000.0), [0.0, 500.0, 1000.0, 1500.0, 2000.0, 2500.0, 3000.0]);
    }
}
