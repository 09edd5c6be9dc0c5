//! Runners: a crown of ribbons or needles, and daughters along a stolon on the bed.

use super::pen::{Point, away};
use super::{Hand, Sketch, Tone, rosette};
use crate::catalogue::LeafTexture;

pub(super) fn draw(sketch: &mut Sketch) {
    let out = 0.4 * sketch.habit.spread_cm;
    let daughters: &[(f64, f64)] = match sketch.count(0.0, 2.0) {
        _ if sketch.habit.maturity < 0.25 => &[],
        1 => &[(1.0, 0.5)],
        _ => &[(-0.85, 0.62), (1.0, 0.45)],
    };
    for (side, size) in daughters {
        let at = [side * out, 0.0];
        stolon(sketch, at);
        tuft(sketch, at, *size, false);
    }
    tuft(sketch, [0.0, 0.0], 1.0, true);
}

/// A low arch from crown to crown.
fn stolon(sketch: &mut Sketch, to: Point) {
    let high = 0.05 * to[0].abs() + 0.15;
    sketch.drawing.add(Tone::Stalk, Hand::Line(0.09), |p| p.arc([0.0, 0.05], [to[0] * 0.5, high], to));
}

fn tuft(sketch: &mut Sketch, at: Point, size: f64, leading: bool) {
    let many = |few: f64, most: f64| if leading { (few, most) } else { (few * 0.5, most * 0.45) };
    match sketch.habit.texture {
        LeafTexture::Fine => rosette::needles(sketch, at, size),
        LeafTexture::Linear => {
            let (few, most) = many(4.0, 10.0);
            let count = sketch.count(few, most).max(2);
            ribbons(sketch, at, size, count);
        }
        LeafTexture::Small => {
            let (few, most) = many(4.0, 10.0);
            let count = sketch.count(few, most).max(3);
            rosette::crown(sketch, at, size, count);
        }
        LeafTexture::Broad => pads(sketch, at, size, leading),
    }
}

/// Ribbons that stand close and lie down under the surface.
fn ribbons(sketch: &mut Sketch, at: Point, size: f64, count: usize) {
    let height = sketch.habit.height_cm.min(sketch.ceiling() * 1.35);
    let width = (0.03 * height + 0.12).clamp(0.2, 1.3) * (0.6 + 0.4 * size);
    for i in 0..count {
        let fan = Sketch::fan(i, count);
        let tall = height * size * sketch.jitter.between(0.72, 1.08) * (1.0 - 0.22 * fan.abs());
        let wide = libm::atan2(0.4 * sketch.habit.spread_cm, height).min(0.7);
        let angle = fan * wide * 0.7 + sketch.jitter.about(0.05);
        let droop = 0.25 + 0.6 * fan.abs() + sketch.jitter.about(0.1);
        let foot = [at[0] + fan * width * 0.5, at[1]];
        let middle = super::pen::rising(foot, angle, droop, tall * 1.08, sketch.ceiling());
        let wave = sketch.jitter.about(1.0);
        let margin = |s: f64, side: f64| {
            let body =
                width / 2.0 * libm::sqrt((1.0 - libm::pow(s, 6.0)).max(0.0)) * (0.7 + 0.6 * s).min(1.0);
            side * body * (1.0 + 0.12 * libm::sin(9.0 * s + side + wave))
        };
        sketch.drawing.add(Sketch::tone(i, count), Hand::Fill, |p| p.margins(&middle, margin));
    }
}

/// Round leaves on long stalks, spread flat where they reach the surface.
fn pads(sketch: &mut Sketch, at: Point, size: f64, leading: bool) {
    let height = sketch.habit.height_cm.min(sketch.ceiling());
    let count = if leading { sketch.count(3.0, 7.0) } else { 3 };
    let radius = (0.09 * sketch.habit.spread_cm).clamp(0.8, 4.0) * size;
    for i in 0..count {
        let fan = Sketch::fan(i, count);
        let tall = height * size * sketch.jitter.between(0.55, 1.0);
        let head = [at[0] + fan * 0.38 * sketch.habit.spread_cm * size, tall];
        let via = [at[0] + fan * 0.12 * sketch.habit.spread_cm * size, tall * 0.6];
        sketch.drawing.add(Tone::Stalk, Hand::Line(0.14), |p| p.arc(at, via, head));
        pad(sketch, head, radius, fan, Sketch::tone(i, count));
    }
}

/// A round blade with a notch, seen from a little above.
pub(super) fn pad(sketch: &mut Sketch, centre: Point, radius: f64, lean: f64, tone: Tone) {
    let turn = lean * 0.35;
    let points: Vec<Point> = [-2.75, -2.1, -1.35, -0.6, 0.1, 0.8, 1.5, 2.2, 2.75, 3.1]
        .iter()
        .map(|a| {
            let r = radius * if *a > 3.0 { 0.15 } else { sketch.jitter.between(0.94, 1.05) };
            let [x, y] = away([0.0, 0.0], *a, r);
            let y = y * 0.46;
            [
                centre[0] + x * libm::cos(turn) + y * libm::sin(turn),
                centre[1] - x * libm::sin(turn) + y * libm::cos(turn),
            ]
        })
        .collect();
    sketch.drawing.add(tone, Hand::Fill, |p| {
        p.around(&points);
        for a in [-1.6, -0.8, 0.0, 0.8, 1.6] {
            let [x, y] = away([0.0, 0.0], a, radius * 0.7);
            p.dash(centre, [centre[0] + x, centre[1] + y * 0.46 - x * libm::sin(turn) * 0.8]);
        }
    });
}
