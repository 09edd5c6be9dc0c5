//! Hatches of drifts on the plan: sixteen that greys alone tell apart, chosen by the look of the leaf.
//!
//! A hatch is laid out stroke by stroke and clipped, and not as a pattern of SVG: on paper and in PDF
//! files browsers turn patterns into large coarse pictures.

use std::fmt::Write;

use crate::catalogue::LeafTexture;
use crate::report::svg::ink::{INK_RGB, Rgb, foliage, hex, mixed};
use crate::report::svg::light_map::INK;
use crate::report::svg::writer::{Svg, number};
use crate::report::view::DriftPictureView;

const PAPER_RGB: Rgb = [255.0, 254.0, 250.0];

/// A hatch: which design, and how much it is enlarged where designs come round again.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hatch {
    design: usize,
    size: f64,
}

/// A design: its tile in mm, strokes as where each begins and path data from there, and whether they
/// are filled. Strokes may go on into the next tile.
struct Design {
    tile: [f64; 2],
    parts: &'static [(f64, f64, &'static str)],
    filled: bool,
}

/// Four for each look of the leaf, in the order of [`family`].
const DESIGNS: [Design; 16] = [
    // Fine: stipple, crosses, rings, stars.
    Design {
        tile: [2.0, 2.0],
        parts: &[
            (0.3, 0.5, "a.2.2 0 1 0 .4 0a.2.2 0 1 0-.4 0z"),
            (1.3, 1.5, "a.2.2 0 1 0 .4 0a.2.2 0 1 0-.4 0z"),
        ],
        filled: true,
    },
    Design {
        tile: [3.0, 3.0],
        parts: &[(0.3, 0.8, "h1"), (0.8, 0.3, "v1"), (1.8, 2.3, "h1"), (2.3, 1.8, "v1")],
        filled: false,
    },
    Design {
        tile: [2.8, 2.8],
        parts: &[
            (0.3, 0.8, "a.45.45 0 1 0 .9 0a.45.45 0 1 0-.9 0z"),
            (1.7, 2.2, "a.45.45 0 1 0 .9 0a.45.45 0 1 0-.9 0z"),
        ],
        filled: false,
    },
    Design {
        tile: [3.6, 3.6],
        parts: &[
            (0.3, 0.9, "h1.2"),
            (0.6, 0.4, "l.6 1"),
            (1.2, 0.4, "l-.6 1"),
            (2.1, 2.7, "h1.2"),
            (2.4, 2.2, "l.6 1"),
            (3.0, 2.2, "l-.6 1"),
        ],
        filled: false,
    },
    // Linear: upright, rising, falling, broken.
    Design { tile: [1.3, 4.0], parts: &[(0.65, 0.0, "v4")], filled: false },
    Design { tile: [2.0, 2.0], parts: &[(0.0, 2.0, "l2-2")], filled: false },
    Design { tile: [2.6, 2.6], parts: &[(0.0, 0.0, "l2.6 2.6"), (0.5, 0.0, "l2.6 2.6")], filled: false },
    Design { tile: [4.0, 2.2], parts: &[(0.2, 0.55, "h1.9"), (2.2, 1.65, "h1.6")], filled: false },
    // Small: leaf pairs, chevrons, triangles, ticks.
    Design {
        tile: [3.2, 3.0],
        parts: &[
            (0.8, 0.9, "q.5-.7 .9 0q-.4 .5-.9 0z"),
            (0.8, 0.9, "q-.5-.7-.9 0q.4 .5 .9 0z"),
            (2.4, 2.4, "q.5-.7 .9 0q-.4 .5-.9 0z"),
            (2.4, 2.4, "q-.5-.7-.9 0q.4 .5 .9 0z"),
        ],
        filled: true,
    },
    Design { tile: [2.4, 1.7], parts: &[(0.2, 1.2, "l.6-.7 .6 .7"), (1.4, 0.35, "l.4-.3")], filled: false },
    Design {
        tile: [2.8, 2.6],
        parts: &[(0.3, 1.1, "l.5-.8 .5 .8z"), (1.7, 2.4, "l.5-.8 .5 .8z")],
        filled: true,
    },
    Design { tile: [2.2, 2.2], parts: &[(0.4, 0.2, "v.8"), (1.5, 1.3, "l.6 .5")], filled: false },
    // Broad: scales, crossed lines, waves, lozenges.
    Design {
        tile: [3.0, 3.0],
        parts: &[(0.0, 0.0, "a1.5 1.5 0 0 0 3 0"), (1.5, 1.5, "a1.5 1.5 0 0 0 3 0")],
        filled: false,
    },
    Design { tile: [2.8, 2.8], parts: &[(0.0, 0.0, "l2.8 2.8"), (0.0, 2.8, "l2.8-2.8")], filled: false },
    Design { tile: [4.0, 2.0], parts: &[(0.0, 1.0, "q1-1 2 0t2 0")], filled: false },
    Design {
        tile: [3.4, 3.4],
        parts: &[(0.9, 0.2, "l.7 .8-.7 .8-.7-.8z"), (2.6, 1.9, "l.7 .8-.7 .8-.7-.8z")],
        filled: false,
    },
];

/// Where the designs of a look begin.
fn family(texture: LeafTexture) -> usize {
    match texture {
        LeafTexture::Fine => 0,
        LeafTexture::Linear => 4,
        LeafTexture::Small => 8,
        LeafTexture::Broad => 12,
    }
}

/// A hatch for each drift, no two alike: its own family first, then what is left, then all again larger.
pub(super) fn hatches(drifts: &[DriftPictureView]) -> Vec<Hatch> {
    let mut used: Vec<Hatch> = Vec::new();
    for drift in drifts {
        let start = family(drift.texture);
        let sizes = (0..).map(|round| 1.0 + 0.45 * f64::from(round));
        let free = sizes
            .flat_map(|size| {
                (0..DESIGNS.len()).map(move |i| Hatch { design: (start + i) % DESIGNS.len(), size })
            })
            .find(|h| !used.contains(h));
        used.extend(free);
    }
    used
}

/// The tint of a drift: its foliage, much thinned.
pub(super) fn tint(drift: &DriftPictureView, strength: f64) -> String {
    hex(mixed(PAPER_RGB, foliage(drift.colour), strength))
}

/// Tiles beside each other in one part of the drawing.
const RUN: i32 = 8;

impl Hatch {
    fn tile(&self) -> [f64; 2] {
        DESIGNS[self.design].tile.map(|t| t * self.size)
    }

    /// Some tiles beside each other as path data.
    fn run(&self) -> String {
        let design = &DESIGNS[self.design];
        let mut data = String::new();
        for n in 0..RUN {
            for (x, y, stroke) in design.parts {
                let x = x + f64::from(n) * design.tile[0];
                let _ = write!(data, "M{} {}{stroke}", number(x), number(*y));
            }
        }
        data
    }
}

fn hatch_id(drift: &DriftPictureView) -> String {
    format!("hatch{}", drift.number)
}

fn sample_id(drift: &DriftPictureView) -> String {
    format!("sample{}", drift.number)
}

/// Defines the hatch of every drift, and hands them out.
pub(super) fn definitions(svg: &mut Svg, drifts: &[DriftPictureView]) -> Vec<Hatch> {
    let hatches = hatches(drifts);
    for (drift, hatch) in drifts.iter().zip(&hatches) {
        let line = hex(mixed(foliage(drift.colour), INK_RGB, 0.62));
        let filled = DESIGNS[hatch.design].filled;
        let (fill, stroke) = if filled { (&*line, "none") } else { ("none", &*line) };
        svg.leaf(
            "path",
            &[
                ("id", &hatch_id(drift)),
                ("d", &hatch.run()),
                ("transform", &format!("scale({})", number(hatch.size))),
                ("fill", fill),
                ("stroke", stroke),
                ("stroke-width", "0.24"),
                ("stroke-linecap", "round"),
                ("stroke-linejoin", "round"),
            ],
        );
    }
    hatches
}

/// Hatches all of some rings on the page, and a little around them: whoever calls clips it.
pub(super) fn lay(svg: &mut Svg, drift: &DriftPictureView, hatch: Hatch, rings: &[Vec<[f64; 2]>]) {
    let [wide, high] = hatch.tile();
    let edges = || rings.iter().flatten().map(|p| p[1]);
    let (top, bottom) = (edges().fold(f64::INFINITY, f64::min), edges().fold(f64::NEG_INFINITY, f64::max));
    // A stroke of the row above may reach into this one.
    let first = (top / high).floor() as i32 - 1;
    for row in first..=(bottom / high).floor() as i32 {
        let y = f64::from(row) * high;
        let Some([left, right]) = width_between(rings, [y, y + 2.0 * high]) else { continue };
        let mut column = (left / wide).floor() as i32 - 1;
        while f64::from(column) * wide < right {
            let [x, y] = [f64::from(column) * wide, y].map(number);
            svg.reuse(&hatch_id(drift), &format!("translate({x} {y})"));
            column += RUN;
        }
    }
}

/// From where to where rings reach between two heights.
fn width_between(rings: &[Vec<[f64; 2]>], [top, bottom]: [f64; 2]) -> Option<[f64; 2]> {
    let sides = rings.iter().flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)));
    let reach = sides.filter_map(|(a, b)| {
        let (upper, lower) = if a[1] < b[1] { (a, b) } else { (b, a) };
        if lower[1] < top || upper[1] > bottom {
            return None;
        }
        let at = |y: f64| {
            let share = (y - upper[1]) / (lower[1] - upper[1]).max(f64::MIN_POSITIVE);
            upper[0] + (lower[0] - upper[0]) * share.clamp(0.0, 1.0)
        };
        let ends = [at(top.max(upper[1])), at(bottom.min(lower[1]))];
        Some([ends[0].min(ends[1]), ends[0].max(ends[1])])
    });
    reach.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
}

/// A sample of a drift's tint and hatch.
pub(super) fn swatch(
    svg: &mut Svg,
    drift: &DriftPictureView,
    hatch: Hatch,
    [x, y]: [f64; 2],
    size: [f64; 2],
) {
    let round = ("rx", "1");
    svg.open("clipPath", &[("id", &sample_id(drift))]);
    svg.rect([x, y], size, &[round]);
    svg.close();
    svg.rect([x, y], size, &[round, ("fill", &tint(drift, 0.5))]);
    svg.open("g", &[("clip-path", &format!("url(#{})", sample_id(drift)))]);
    let [right, bottom] = [x + size[0], y + size[1]];
    lay(svg, drift, hatch, &[vec![[x, y], [right, y], [right, bottom], [x, bottom]]]);
    svg.close();
    svg.rect([x, y], size, &[round, ("fill", "none"), ("stroke", INK), ("stroke-width", "0.25")]);
}

#[cfg(test)]
mod tests {
    use super::{DESIGNS, Hatch, hatches, width_between};
    use crate::report::svg::planting::sample;

    #[test]
    fn no_two_drifts_are_hatched_alike() {
        let drifts: Vec<_> = (1..=40).map(sample::drift).collect();
        let found = hatches(&drifts);
        assert_eq!(found.len(), 40);
        for (i, a) in found.iter().enumerate() {
            assert!(found[..i].iter().all(|b: &Hatch| a != b), "{a:?} twice");
        }
        assert!(found[..16].iter().all(|h| h.size < 1.01) && DESIGNS.len() == 16);
    }

    #[test]
    fn a_row_is_as_wide_as_the_ring_within_it() {
        let ring = vec![[0.0, 0.0], [10.0, 0.0], [10.0, 4.0], [2.0, 8.0], [0.0, 8.0]];
        let between = |top, bottom| width_between(std::slice::from_ref(&ring), [top, bottom]);
        assert_eq!(between(1.0, 2.0), Some([0.0, 10.0]));
        assert_eq!(between(6.0, 7.0), Some([0.0, 6.0]));
        assert_eq!(between(9.0, 10.0), None);
    }
}
