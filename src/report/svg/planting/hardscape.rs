//! Wood and rock seen from the front: organic shapes within the outline and the top of each piece.

use crate::report::svg::ink::{INK_RGB, Rgb, hex, mixed};
use crate::report::svg::paint::path_of;
use crate::report::svg::scatter::Scatter;
use crate::report::svg::silhouette::{Path, Point};
use crate::report::svg::writer::{Svg, number};
use crate::report::view::{PictureView, PieceView};

/// A piece of hardscape as drawn from the front, in cm from the left and above the floor.
pub(super) struct Stone {
    /// Its parts from the back to the front.
    shapes: Vec<(Path, Rgb, bool)>,
    /// Its top at places from its left to its right.
    crest: Vec<Point>,
    /// Its middle and its back, from the front glass.
    pub middle_cm: f64,
}

const WOOD: Rgb = [150.0, 121.0, 88.0];
const INERT: Rgb = [141.0, 143.0, 139.0];
const LIME: Rgb = [186.0, 179.0, 160.0];

impl Stone {
    pub fn of(piece: &PieceView, view: &PictureView) -> Self {
        let span = |axis: usize| {
            let values = || piece.outline_cm.iter().map(|p| p[axis]);
            [values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max)]
        };
        let ([left, right], [front, back]) = (span(0), span(1));
        let middle = f64::midpoint(front, back);
        let bed = view.bed_at_cm(front);
        let extent = Extent { left, right, bed: bed - 0.4, top: piece.top_cm.max(bed + 0.5) };
        let seed =
            piece.name.bytes().fold(7, |hash: u64, b| hash.wrapping_mul(31).wrapping_add(u64::from(b)));
        let mut scatter = Scatter::new(seed);
        let (shapes, crest) = match piece.material.as_str() {
            "wood" => wood(&extent, &mut scatter),
            "carbonate rock" => rock(&extent, LIME, true, &mut scatter),
            _ => rock(&extent, INERT, false, &mut scatter),
        };
        Self { shapes, crest, middle_cm: middle }
    }

    /// Its top at a place; `None` beside it.
    pub fn top_at(&self, x: f64) -> Option<f64> {
        let pair = self.crest.windows(2).find(|p| p[0][0] <= x && x <= p[1][0])?;
        let share = (x - pair[0][0]) / (pair[1][0] - pair[0][0]).max(1e-9);
        Some(pair[0][1] + share * (pair[1][1] - pair[0][1]))
    }

    /// From its left to its right.
    pub fn width(&self) -> [f64; 2] {
        [self.crest[0][0], self.crest[self.crest.len() - 1][0]]
    }

    /// Draws it in a group whose origin is the left end of the floor.
    pub fn draw(&self, svg: &mut Svg, mm_per_cm: f64) {
        for (path, ink, filled) in &self.shapes {
            let (line, fill) = (hex(mixed(*ink, INK_RGB, 0.62)), hex(*ink));
            let width = number(if *filled { 0.2 } else { 0.13 });
            let fill = if *filled { &*fill } else { "none" };
            let data = path_of(path, mm_per_cm);
            let look = [("d", &*data), ("fill", fill), ("stroke", &*line), ("stroke-width", &*width)];
            svg.leaf(
                "path",
                &[&look[..], &[("stroke-linejoin", "round"), ("stroke-linecap", "round")]].concat(),
            );
        }
    }
}

/// The box a piece fills.
struct Extent {
    left: f64,
    right: f64,
    bed: f64,
    top: f64,
}

impl Extent {
    /// A place by its share of the width and of the height.
    fn at(&self, across: f64, up: f64) -> Point {
        [self.left + across * (self.right - self.left), self.bed + up * (self.top - self.bed)]
    }

    fn high(&self) -> f64 {
        self.top - self.bed
    }
}

type Drawn = (Vec<(Path, Rgb, bool)>, Vec<Point>);

/// A limb: thick at its base, thin at its end, with grain along it.
fn limb(shapes: &mut Vec<(Path, Rgb, bool)>, middle: &[Point], thick: [f64; 2], ink: Rgb) {
    let mut body = Path::default();
    let knots = |s: f64| 1.0 + 0.1 * libm::sin(9.0 * s + middle[0][0]);
    body.ribbon(middle, |s| (thick[0] + (thick[1] - thick[0]) * s) * knots(s) * (1.0 - s.powi(8)));
    shapes.push((body, ink, true));
    let mut grain = Path::default();
    for share in [-0.24, 0.06, 0.3] {
        let shifted: Vec<Point> = middle[..middle.len() - 1]
            .iter()
            .enumerate()
            .skip(usize::from(share > 0.0))
            .map(|(i, p)| {
                let s = i as f64 / (middle.len() - 1) as f64;
                let off = share * (thick[0] + (thick[1] - thick[0]) * s);
                [p[0] + 0.4 * off, p[1] + off]
            })
            .collect();
        grain.through(&shifted);
    }
    shapes.push((grain, ink, false));
}

/// A root: an arch on legs, with branches that reach the top.
fn wood(extent: &Extent, scatter: &mut Scatter) -> Drawn {
    let thick = (0.17 * extent.high()).clamp(0.7, 5.0);
    let trunk = trunk(extent, 0.5 + scatter.about(0.04));
    let mut shapes = Vec::new();
    // Where it leaves the trunk, where it ends, how thick it is there and there, how dark.
    let legs = [(0.34, [0.22, 0.0], 0.75, 0.3), (0.7, [0.8, 0.0], 0.75, 0.22), (0.5, [0.6, 0.0], 0.75, 0.12)];
    let branches = [
        (0.26, [0.1, 0.86], 0.55, 0.2),
        (0.66, [0.78, 1.0], 0.7, 0.08),
        (0.5, [0.42, 0.93], 0.5, 0.16),
        (0.8, [0.97, 0.72], 0.45, 0.14),
    ];
    for (along, [across, up], size, dark) in legs.into_iter().chain(branches) {
        let from = trunk[(along * JOINTS).round() as usize];
        let end = if up > 0.0 { across } else { across + scatter.about(0.04) };
        let to = extent.at(end, up);
        let bow = if up > 0.0 { scatter.about(0.1) * (extent.right - extent.left) } else { 0.0 };
        let middle = [
            from,
            [0.69 * from[0] + 0.31 * to[0] - bow, 0.56 * from[1] + 0.44 * to[1]],
            [0.25 * from[0] + 0.75 * to[0] - 0.4 * bow, 0.25 * from[1] + 0.75 * to[1]],
            to,
        ];
        let end = if up > 0.0 { 0.12 } else { 0.3 };
        limb(&mut shapes, &middle, [size * thick, end * thick], mixed(WOOD, INK_RGB, dark));
    }
    shapes.extend(bark(&trunk, thick));
    let crest = trunk.iter().enumerate().map(|(i, p)| {
        let s = i as f64 / JOINTS;
        [p[0], p[1] + 0.5 * thick * (0.35 + 0.6 * libm::sin(std::f64::consts::PI * s))]
    });
    (shapes, crest.collect())
}

/// Pieces of the trunk's middle line.
const JOINTS: f64 = 12.0;

/// The middle line of the trunk: from the bed at the left over an arch to the bed at the right.
fn trunk(extent: &Extent, arch: f64) -> Vec<Point> {
    let joint = |i: usize| {
        let s = i as f64 / JOINTS;
        let rise = libm::pow(libm::sin(std::f64::consts::PI * (0.04 + 0.92 * s)).max(0.0), 0.62);
        extent.at(0.02 + 0.96 * s, (arch * rise + 0.05 * libm::sin(6.0 * s + 1.0)).max(0.02))
    };
    (0..=JOINTS as usize).map(joint).collect()
}

/// The trunk with its grain.
fn bark(trunk: &[Point], thick: f64) -> [(Path, Rgb, bool); 2] {
    let mut body = Path::default();
    body.ribbon(trunk, |s| {
        thick * (0.4 + 0.75 * libm::sin(std::f64::consts::PI * s)) * (1.0 + 0.08 * libm::sin(15.0 * s))
    });
    let mut grain = Path::default();
    for share in [-0.26, -0.08, 0.12, 0.28] {
        let inner = &trunk[1..trunk.len() - 1];
        let line: Vec<Point> = inner.iter().map(|p| [p[0], p[1] + share * thick * 0.9]).collect();
        grain.through(&line);
    }
    [(body, WOOD, true), (grain, WOOD, false)]
}

/// A stone: a broken crest, facets lit from the left, strata where it is limestone.
fn rock(extent: &Extent, ink: Rgb, strata: bool, scatter: &mut Scatter) -> Drawn {
    let peak = scatter.between(0.34, 0.62);
    let profile = |across: f64| {
        let t = if across < peak { across / peak } else { (1.0 - across) / (1.0 - peak) };
        libm::pow(t.max(0.0), if across < peak { 0.34 } else { 0.46 })
    };
    let mut crest = vec![extent.at(0.0, 0.0)];
    for across in [0.05, 0.16, 0.28, peak - 0.06, peak, peak + 0.08, 0.72, 0.84, 0.95] {
        let low = if (across - peak).abs() < 0.02 { 1.0 } else { scatter.between(0.86, 1.0) };
        crest.push(extent.at(across, profile(across) * low));
    }
    crest.sort_by(|a, b| a[0].total_cmp(&b[0]));
    crest.push(extent.at(1.0, 0.0));
    let mut shapes = vec![(polygon(&crest), ink, true)];
    let ridge = [
        extent.at(peak, 1.0),
        extent.at(peak + 0.03, 0.72),
        extent.at(peak - 0.04, 0.45),
        extent.at(peak + 0.05, 0.0),
    ];
    let mut shade: Vec<Point> = ridge.iter().rev().copied().collect();
    shade.extend(crest.iter().filter(|p| p[0] > ridge[0][0]));
    shapes.push((polygon(&shade), mixed(ink, INK_RGB, 0.2), true));
    let dark: Vec<Point> = [extent.at(0.78, profile(0.78) * 0.82), extent.at(0.7, 0.34), extent.at(0.8, 0.0)]
        .into_iter()
        .chain(crest.iter().rev().take(4).copied().filter(|p| p[0] > extent.at(0.78, 0.0)[0]))
        .collect();
    shapes.push((polygon(&dark), mixed(ink, INK_RGB, 0.33), true));
    let light = [
        extent.at(0.28, profile(0.28) * 0.9),
        extent.at(0.36, 0.5),
        extent.at(0.24, 0.2),
        extent.at(0.12, 0.24),
        extent.at(0.16, profile(0.16) * 0.86),
    ];
    shapes.push((polygon(&light), mixed(ink, [255.0, 252.0, 240.0], 0.3), true));
    shapes.push((cracks(extent, &profile, strata, scatter), ink, false));
    (shapes, crest)
}

fn polygon(points: &[Point]) -> Path {
    let mut path = Path::default();
    for (i, p) in points.iter().enumerate() {
        path.steps.push(if i == 0 { super::Step::Move(*p) } else { super::Step::Line(*p) });
    }
    path.steps.push(super::Step::Close);
    path
}

/// Level layers in limestone, slanting cracks in other stone.
fn cracks(extent: &Extent, profile: &impl Fn(f64) -> f64, strata: bool, scatter: &mut Scatter) -> Path {
    let mut path = Path::default();
    if strata {
        for k in 1..=5 {
            let up = 0.14 * f64::from(k) + scatter.about(0.02);
            let line: Vec<Point> = (1..20)
                .map(|i| f64::from(i) / 20.0)
                .filter(|across| profile(*across) * 0.9 > up + 0.03)
                .map(|across| extent.at(across, up + 0.03 * libm::sin(7.0 * across + f64::from(k))))
                .collect();
            for piece in line.chunks(4).filter(|piece| piece.len() > 1) {
                path.through(piece);
            }
        }
    } else {
        for k in 0..6 {
            let across = 0.14 + 0.13 * f64::from(k);
            let top = profile(across) * scatter.between(0.5, 0.85);
            path.dash(extent.at(across, top), extent.at(across + scatter.between(0.02, 0.07), top * 0.55));
        }
    }
    path
}
