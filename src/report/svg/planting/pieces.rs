//! Wood and rock on the plan.

use std::fmt::Write;

use super::plan::Plan;
use crate::report::svg::ink::{INK_RGB, Rgb, hex, mixed};
use crate::report::svg::scatter::Scatter;
use crate::report::svg::writer::{Svg, number, path_data};
use crate::report::view::PieceView;

/// A piece from above: its outline a little rounded, with grain or facets.
pub(super) fn draw(svg: &mut Svg, piece: &PieceView, plan: &Plan) {
    const WOOD: Rgb = [172.0, 145.0, 112.0];
    const ROCK: Rgb = [178.0, 178.0, 170.0];
    let ink = if piece.material == "wood" { WOOD } else { ROCK };
    let mut scatter = Scatter::new(piece.name.len() as u64 * 7 + 3);
    let ring = uneven(&piece.outline_cm, &mut scatter);
    let line = hex(mixed(ink, INK_RGB, 0.65));
    let data = path_data(&[plan.ring(&ring)]);
    svg.leaf(
        "path",
        &[
            ("d", &data),
            ("fill", &hex(ink)),
            ("stroke", &line),
            ("stroke-width", "0.35"),
            ("stroke-linejoin", "round"),
        ],
    );
    let count = ring.len() as f64;
    let centre = [0, 1].map(|i| ring.iter().map(|p| p[i]).sum::<f64>() / count);
    let toward = |p: [f64; 2], share: f64| [0, 1].map(|i| p[i] + (centre[i] - p[i]) * share);
    let mut data = String::new();
    if piece.material == "wood" {
        for share in [0.25, 0.5, 0.74] {
            let inner: Vec<[f64; 2]> = ring.iter().map(|p| toward(*p, share)).collect();
            data.push_str(&path_data(&[plan.ring(&inner)]));
        }
    } else {
        for p in ring.iter().step_by(4) {
            let [from, to] = [plan.at(toward(*p, 0.04)), plan.at(toward(*p, scatter.between(0.6, 0.95)))];
            let [x1, y1, x2, y2] = [from[0], from[1], to[0], to[1]].map(number);
            let _ = write!(data, "M{x1} {y1}L{x2} {y2}");
        }
    }
    svg.leaf("path", &[("d", &data), ("fill", "none"), ("stroke", &line), ("stroke-width", "0.16")]);
}

/// An outline with points between its corners, a little off the straight, corners cut.
fn uneven(corners: &[[f64; 2]], scatter: &mut Scatter) -> Vec<[f64; 2]> {
    let mut ring = Vec::new();
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let length = (b[0] - a[0]).hypot(b[1] - a[1]);
        for share in [0.12, 0.32, 0.5, 0.68, 0.88] {
            // Only inwards: a piece is no larger than its outline.
            let off = scatter.between(0.0, 0.05) * length;
            let [nx, ny] = [-(b[1] - a[1]) / length.max(1e-9), (b[0] - a[0]) / length.max(1e-9)];
            let turn = if area(corners) > 0.0 { 1.0 } else { -1.0 };
            ring.push([
                a[0] + (b[0] - a[0]) * share + turn * off * nx,
                a[1] + (b[1] - a[1]) * share + turn * off * ny,
            ]);
        }
    }
    ring
}

/// Twice the area, positive for a ring that runs counter-clockwise.
fn area(ring: &[[f64; 2]]) -> f64 {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum()
}
