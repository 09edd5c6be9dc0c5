//! Hatches of drifts on the plan: sixteen that greys alone tell apart, chosen by the look of the leaf.

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

/// A design: its tile in mm, strokes as path data, and whether they are filled.
struct Design {
    tile: [f64; 2],
    data: &'static str,
    filled: bool,
}

/// Four for each look of the leaf, in the order of [`family`].
const DESIGNS: [Design; 16] = [
    // Fine: stipple, crosses, rings, stars.
    Design {
        tile: [2.0, 2.0],
        data: "M.3 .5a.2.2 0 1 0 .4 0a.2.2 0 1 0-.4 0zM1.3 1.5a.2.2 0 1 0 .4 0a.2.2 0 1 0-.4 0z",
        filled: true,
    },
    Design { tile: [3.0, 3.0], data: "M.3 .8h1M.8 .3v1M1.8 2.3h1M2.3 1.8v1", filled: false },
    Design {
        tile: [2.8, 2.8],
        data: "M.3 .8a.45.45 0 1 0 .9 0a.45.45 0 1 0-.9 0zM1.7 2.2a.45.45 0 1 0 .9 0a.45.45 0 1 0-.9 0z",
        filled: false,
    },
    Design {
        tile: [3.6, 3.6],
        data: "M.3 .9h1.2M.6 .4l.6 1M1.2 .4l-.6 1M2.1 2.7h1.2M2.4 2.2l.6 1M3 2.2l-.6 1",
        filled: false,
    },
    // Linear: upright, rising, falling, broken.
    Design { tile: [1.3, 4.0], data: "M.65 0v4", filled: false },
    Design { tile: [2.0, 2.0], data: "M-.5 .5l1-1M0 2l2-2M1.5 2.5l1-1", filled: false },
    Design {
        tile: [2.6, 2.6],
        data: "M-.5 2.1l1 1M0 0l2.6 2.6M2.1-.5l1 1M.5 0l2.6 2.6M-.5 1.6l1.5 1.5",
        filled: false,
    },
    Design { tile: [4.0, 2.2], data: "M.2 .55h1.9M2.2 1.65h1.6", filled: false },
    // Small: leaf pairs, chevrons, triangles, ticks.
    Design {
        tile: [3.2, 3.0],
        data: "M.8 .9q.5-.7 .9 0q-.4 .5-.9 0zM.8 .9q-.5-.7-.9 0q.4 .5 .9 0zM2.4 2.4q.5-.7 .9 0q-.4 .5-.9 0zM2.4 2.4q-.5-.7-.9 0q.4 .5 .9 0z",
        filled: true,
    },
    Design { tile: [2.4, 1.7], data: "M.2 1.2l.6-.7 .6 .7M1.4 .35l.4-.3M1.8 1.5", filled: false },
    Design { tile: [2.8, 2.6], data: "M.3 1.1l.5-.8 .5 .8zM1.7 2.4l.5-.8 .5 .8z", filled: true },
    Design { tile: [2.2, 2.2], data: "M.4 .2v.8M1.5 1.3l.6 .5", filled: false },
    // Broad: scales, crossed lines, waves, lozenges.
    Design {
        tile: [3.0, 3.0],
        data: "M0 0a1.5 1.5 0 0 0 3 0M-1.5 1.5a1.5 1.5 0 0 0 3 0M1.5 1.5a1.5 1.5 0 0 0 3 0",
        filled: false,
    },
    Design { tile: [2.8, 2.8], data: "M0 0l2.8 2.8M0 2.8l2.8-2.8", filled: false },
    Design { tile: [4.0, 2.0], data: "M0 1q1-1 2 0t2 0", filled: false },
    Design { tile: [3.4, 3.4], data: "M.9 .2l.7 .8-.7 .8-.7-.8zM2.6 1.9l.7 .8-.7 .8-.7-.8z", filled: false },
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

pub(super) fn pattern_id(drift: &DriftPictureView) -> String {
    format!("hatch{}", drift.number)
}

/// Defines the pattern of every drift.
pub(super) fn definitions(svg: &mut Svg, drifts: &[DriftPictureView]) {
    for (drift, hatch) in drifts.iter().zip(hatches(drifts)) {
        let design = &DESIGNS[hatch.design];
        let [width, height] = design.tile.map(|t| number(t * hatch.size));
        let line = hex(mixed(foliage(drift.colour), INK_RGB, 0.62));
        let id = pattern_id(drift);
        svg.open(
            "pattern",
            &[("id", &id), ("patternUnits", "userSpaceOnUse"), ("width", &width), ("height", &height)],
        );
        let scale = format!("scale({})", number(hatch.size));
        let fill = if design.filled { &*line } else { "none" };
        let stroke = if design.filled { "none" } else { &*line };
        svg.leaf(
            "path",
            &[
                ("d", design.data),
                ("transform", &scale),
                ("fill", fill),
                ("stroke", stroke),
                ("stroke-width", "0.24"),
                ("stroke-linecap", "round"),
                ("stroke-linejoin", "round"),
            ],
        );
        svg.close();
    }
}

/// A sample of a drift's tint and hatch.
pub(super) fn swatch(svg: &mut Svg, drift: &DriftPictureView, at: [f64; 2], size: [f64; 2]) {
    let edge = [("rx", "1"), ("stroke", INK), ("stroke-width", "0.25")];
    svg.rect(at, size, &[&[("fill", &*tint(drift, 0.5))][..], &edge[..1]].concat());
    let fill = format!("url(#{})", pattern_id(drift));
    svg.rect(at, size, &[&[("fill", &*fill)][..], &edge[..]].concat());
}

#[cfg(test)]
mod tests {
    use super::{DESIGNS, Hatch, hatches};
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
}
