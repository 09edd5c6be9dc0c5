//! Rhizomes with leathery leaves, and bulbs with wavy ones.

use super::pen::{Blade, Path, Point, away, rising};
use super::runner::pad;
use super::{Hand, Sketch, Tone, rosette};
use crate::catalogue::LeafTexture;

pub(super) fn draw(sketch: &mut Sketch) {
    let spread = sketch.habit.spread_cm;
    let half = spread * 0.3 * (0.6 + 0.4 * sketch.habit.maturity);
    let thick = (0.035 * spread + 0.12).clamp(0.2, 1.0);
    clasping(sketch, half, thick);
    let linear = sketch.habit.texture == LeafTexture::Linear;
    let many = match sketch.habit.texture {
        LeafTexture::Small => sketch.count(6.0, 14.0),
        LeafTexture::Linear => sketch.count(6.0, 13.0),
        LeafTexture::Broad | LeafTexture::Fine => sketch.count(4.0, 10.0),
    };
    for i in 0..many {
        let place = Sketch::fan(i, many);
        let foot = [place * half, thick * 0.7];
        let tone = Sketch::tone(i, many);
        if linear {
            sword(sketch, foot, place, tone);
        } else {
            leathery(sketch, foot, place, i as f64 / many as f64, tone);
        }
    }
}

/// The rhizome with the roots that hold it.
fn clasping(sketch: &mut Sketch, half: f64, thick: f64) {
    let mut path = Path::default();
    for i in 0..7 {
        let at = [(f64::from(i) / 3.0 - 1.0) * half, thick * 0.3];
        let angle = std::f64::consts::PI + sketch.jitter.about(0.7);
        let via = away(at, angle, 0.7 * thick + 0.3);
        path.arc(at, via, away(via, angle + sketch.jitter.about(0.8), 0.5 * thick + 0.3));
    }
    sketch.drawing.add(Tone::Root, Hand::Line(0.07), |p| *p = path);
    let middle =
        [[-half, thick * 0.4], [-half * 0.4, thick * 0.55], [half * 0.4, thick * 0.5], [half, thick * 0.8]];
    sketch.drawing.add(Tone::Stalk, Hand::Fill, |p| {
        p.ribbon(&middle, |s| thick * (0.75 + 0.5 * libm::sin(7.0 * s).abs()) * (1.0 - 0.5 * s));
    });
}

/// A firm blade held at an angle on its stalk.
fn leathery(sketch: &mut Sketch, foot: Point, place: f64, front: f64, tone: Tone) {
    let height = sketch.habit.height_cm.min(sketch.ceiling());
    let small = sketch.habit.texture == LeafTexture::Small;
    let tall = height * sketch.jitter.between(0.62, 0.9) * (1.0 - 0.35 * front);
    let angle = place * 0.6 + sketch.jitter.about(0.16);
    let stalk = tall * if small { 0.38 } else { 0.55 };
    let via = away(foot, angle * 0.4, stalk * 0.6);
    let base = away(via, angle * 1.2, stalk * 0.5);
    sketch
        .drawing
        .add(Tone::Stalk, Hand::Line((0.02 * height).clamp(0.07, 0.26)), |p| p.arc(foot, via, base));
    let side = if angle >= 0.0 { 1.0 } else { -1.0 };
    let length = (0.62 * tall).min(0.42 * sketch.habit.spread_cm).max(0.5);
    let blade = Blade {
        base,
        angle: angle + side * sketch.jitter.between(0.35, 0.85),
        bend: side * sketch.jitter.between(0.15, 0.6),
        length,
        width: length * if small { 0.36 } else { 0.54 } * sketch.jitter.between(0.85, 1.1),
        widest: 0.42,
        ribbed: true,
    };
    sketch.drawing.add(tone, Hand::Fill, |p| {
        p.blade(&blade);
        if length > 2.0 {
            rosette::veins(p, &blade);
        }
    });
}

/// A stiff narrow leaf of a fan.
fn sword(sketch: &mut Sketch, foot: Point, place: f64, tone: Tone) {
    let height = sketch.habit.height_cm.min(sketch.ceiling());
    let tall = height * sketch.jitter.between(0.75, 1.0) * (1.0 - 0.3 * place.abs());
    let middle = rising(foot, place * 0.32, 0.25 * place.abs() + 0.1, tall, sketch.ceiling());
    let width = (0.04 * height).clamp(0.16, 1.0);
    sketch.drawing.add(tone, Hand::Fill, |p| p.ribbon(&middle, |s| width * (1.0 - s * s * s)));
}

/// A bulb half in the bed, its leaves wavy ribbons; where it is wider than tall, round pads.
pub(super) fn bulb(sketch: &mut Sketch) {
    let size = (0.04 * sketch.habit.height_cm + 0.035 * sketch.habit.spread_cm).clamp(0.35, 1.9);
    rosette::roots(sketch, [0.0, -0.7 * size], size);
    let broad = sketch.habit.texture == LeafTexture::Broad;
    let lotus = broad && sketch.habit.spread_cm > 1.25 * sketch.habit.height_cm;
    let many = sketch.count(4.0, if broad { 9.0 } else { 12.0 });
    let neck = [0.0, 0.75 * size];
    for i in 0..many {
        let place = Sketch::fan(i, many);
        let tone = Sketch::tone(i, many);
        if lotus { lily(sketch, neck, place, tone) } else { wavy(sketch, neck, place, tone, broad) }
    }
    let body = [
        [-0.12 * size, 0.95 * size],
        [-0.75 * size, 0.1 * size],
        [-0.55 * size, -0.6 * size],
        [0.0, -0.8 * size],
        [0.55 * size, -0.6 * size],
        [0.75 * size, 0.1 * size],
        [0.12 * size, 0.95 * size],
    ];
    sketch.drawing.add(Tone::Root, Hand::Fill, |p| {
        p.around(&body);
        p.rib([0.0, 0.9 * size], [-0.6 * size, 0.0], [-0.1 * size, -0.75 * size]);
        p.rib([0.04 * size, 0.9 * size], [0.55 * size, 0.0], [0.12 * size, -0.75 * size]);
    });
}

/// A long leaf with a frilled margin.
fn wavy(sketch: &mut Sketch, foot: Point, place: f64, tone: Tone, broad: bool) {
    let height = sketch.habit.height_cm;
    let lean = libm::atan2(0.45 * sketch.habit.spread_cm, height).min(0.9);
    let length = height * sketch.jitter.between(0.78, 1.02) * (1.0 - 0.14 * place.abs());
    let middle = rising(foot, place * lean, 0.4 + 0.6 * place.abs(), length, sketch.ceiling());
    let width = (if broad { 0.1 } else { 0.04 } * height).clamp(0.3, if broad { 4.0 } else { 1.4 });
    let stalk = if broad { 0.28 } else { 0.05 };
    let wave = sketch.jitter.about(3.0);
    let margin = |s: f64, side: f64| {
        if s < stalk {
            return side * width * 0.07;
        }
        let t = (s - stalk) / (1.0 - stalk);
        let body = libm::pow(libm::sin(std::f64::consts::PI * libm::pow(t, 0.75).min(1.0)).max(0.0), 0.6);
        side * width / 2.0 * (0.1 + body * (0.9 + 0.2 * libm::sin(26.0 * s + 1.7 * side + wave)))
    };
    sketch.drawing.add(tone, Hand::Fill, |p| {
        p.margins(&middle, margin);
        if broad {
            p.rib_through(&middle[3..9]);
        }
    });
}

/// A round blade on a stalk.
fn lily(sketch: &mut Sketch, foot: Point, place: f64, tone: Tone) {
    let (height, spread) = (sketch.habit.height_cm.min(sketch.ceiling()), sketch.habit.spread_cm);
    let head =
        [place * 0.36 * spread, height * sketch.jitter.between(0.55, 0.98) * (1.0 - 0.25 * place.abs())];
    let via = [place * 0.1 * spread, head[1] * 0.6];
    sketch.drawing.add(Tone::Stalk, Hand::Line(0.16), |p| p.arc(foot, via, head));
    pad(sketch, head, (0.13 * spread).clamp(1.0, 6.0), place, tone);
}
