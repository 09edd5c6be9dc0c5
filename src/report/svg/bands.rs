//! The bands of light as bare shapes, for drawings that place them themselves.

use super::contours::{Grid, Ring};
use super::light_map::tint;
use super::writer::path_data;
use crate::report::view::LightView;

/// Steps from cell to cell: lines come out round at the size of a screen.
const FINENESS: usize = 2;

/// A band of light on the bed: everything at least as bright as its lower edge.
#[derive(Debug, Clone, PartialEq)]
pub struct BandShape {
    /// Lower edge.
    pub from_umol_m2_s: f64,
    /// Its tone, `#rrggbb`; the brightest band is paper.
    pub tint: String,
    /// Data of a `path` in centimetres from the left and from the back glass; of the darkest band
    /// the whole bed.
    pub path: String,
}

/// The bands of a light map, the darkest first; each lies on the one before.
pub fn band_shapes(light: &LightView) -> Vec<BandShape> {
    let (map, bands) = (&light.map, &light.bands);
    let (length, depth) = (map.length_cm(), map.depth_cm());
    let grid = Grid::of(map, FINENESS);
    let turned = |ring: &Ring| -> Ring { ring.iter().map(|[x, y]| [*x, depth - y]).collect() };
    let shape = |(index, band): (usize, &crate::report::view::BandView)| {
        let whole = vec![vec![[0.0, 0.0], [length, 0.0], [length, depth], [0.0, depth]]];
        let brighter = || grid.rings(band.from_umol_m2_s).iter().map(turned).collect();
        let rings: Vec<Ring> = if index == 0 { whole } else { brighter() };
        BandShape {
            from_umol_m2_s: band.from_umol_m2_s,
            tint: tint(index, bands.len()),
            path: path_data(&rings),
        }
    };
    bands.iter().enumerate().map(shape).collect()
}
