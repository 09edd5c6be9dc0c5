//! Ferns: fronds from a rhizome, whole, lobed or divided, and young ones still rolled up.

use super::pen::{Blade, Path, Point, away, heading, rising};
use super::{Hand, Sketch, Tone, rosette};
use crate::catalogue::LeafTexture;

pub(super) fn draw(sketch: &mut Sketch) {
    let height = sketch.habit.height_cm.min(sketch.ceiling());
    rosette::roots(sketch, [0.0, 0.1], 0.05 * height + 0.4);
    if sketch.habit.texture == LeafTexture::Small {
        return clovers(sketch);
    }
    let many = sketch.count(3.0, if sketch.habit.texture == LeafTexture::Linear { 11.0 } else { 8.0 });
    let half = 0.1 * sketch.habit.spread_cm;
    let stock = [[-half - 0.2, 0.1], [0.0, 0.25], [half + 0.2, 0.12]];
    sketch.drawing.add(Tone::Root, Hand::Line((0.03 * height).clamp(0.2, 0.6)), |p| p.through(&stock));
    for i in 0..many {
        let fan = Sketch::fan(i, many);
        let low = 1.0 - 0.3 * i as f64 / many as f64;
        frond(sketch, [fan * half, 0.2], fan, low, Sketch::tone(i, many));
    }
    crozier(sketch, [0.05 * half, 0.2], 0.34 * height, 0.25);
    crozier(sketch, [-0.4 * half, 0.2], 0.24 * height, -0.4);
}

fn frond(sketch: &mut Sketch, foot: Point, fan: f64, size: f64, tone: Tone) {
    let height = sketch.habit.height_cm.min(sketch.ceiling());
    let lean = libm::atan2(0.5 * sketch.habit.spread_cm, height).min(1.0);
    let length = height * size * sketch.jitter.between(0.85, 1.08);
    let angle = fan * lean * 0.8 + sketch.jitter.about(0.06);
    let middle =
        rising(foot, angle, 0.5 + 0.7 * fan.abs() + sketch.jitter.about(0.15), length, sketch.ceiling());
    match sketch.habit.texture {
        LeafTexture::Linear => whole(sketch, &middle, length, tone),
        LeafTexture::Broad => pinnate(sketch, &middle, length, tone),
        _ => feathered(sketch, &middle, length, tone),
    }
}

/// A strap with its midrib and dots of spores.
fn whole(sketch: &mut Sketch, middle: &[Point], length: f64, tone: Tone) {
    let width = (0.085 * length).clamp(0.3, 2.4);
    let wave = sketch.jitter.about(3.0);
    let margin = |s: f64, side: f64| {
        let body = if s < 0.14 {
            0.12
        } else {
            libm::pow(libm::sin(std::f64::consts::PI * (0.12 + 0.88 * s)).max(0.0), 0.5)
        };
        side * width / 2.0 * body * (1.0 + 0.12 * libm::sin(17.0 * s + side + wave))
    };
    sketch.drawing.add(tone, Hand::Fill, |p| {
        p.margins(middle, margin);
        p.rib_through(&middle[..middle.len() - 1]);
    });
    if tone == Tone::Bright {
        let mut dots = Path::default();
        for i in 4..middle.len() - 1 {
            for side in [-1.0, 1.0] {
                let at = away(middle[i], heading(middle[i - 1], middle[i]) + side * 1.57, width * 0.2);
                dots.dash(at, [at[0] + 0.06, at[1]]);
            }
        }
        sketch.drawing.add(Tone::Root, Hand::Line(0.1), |p| *p = dots);
    }
}

/// A frond with leaflets to both sides.
fn pinnate(sketch: &mut Sketch, middle: &[Point], length: f64, tone: Tone) {
    sketch.drawing.add(Tone::Stalk, Hand::Line((0.014 * length).clamp(0.07, 0.25)), |p| p.through(middle));
    for (at, along, size) in leaflets(middle, 9, 0.3 * length) {
        for side in [-1.0, 1.0] {
            let blade = Blade {
                base: at,
                angle: along + side * sketch.jitter.between(0.95, 1.15),
                bend: -side * 0.35,
                length: size * sketch.jitter.between(0.9, 1.05),
                width: size * 0.36,
                widest: 0.36,
                ribbed: false,
            };
            sketch.drawing.add(tone, Hand::Fill, |p| p.blade(&blade));
        }
    }
    let last = middle.len() - 1;
    let tip = Blade {
        base: middle[last - 1],
        angle: heading(middle[last - 1], middle[last]),
        bend: 0.0,
        length: 0.14 * length,
        width: 0.06 * length,
        widest: 0.4,
        ribbed: false,
    };
    sketch.drawing.add(tone, Hand::Fill, |p| p.blade(&tip));
}

/// A frond divided twice, all in strokes.
fn feathered(sketch: &mut Sketch, middle: &[Point], length: f64, tone: Tone) {
    let mut path = Path::default();
    path.through(middle);
    for (at, along, size) in leaflets(middle, 12, 0.27 * length) {
        for side in [-1.0, 1.0] {
            let angle = along + side * sketch.jitter.between(0.85, 1.1);
            let tip = away(at, angle - side * 0.15, size);
            path.dash(at, tip);
            for k in 1..=3 {
                let from = super::pen::mix(at, tip, f64::from(k) * 0.27);
                for turn in [-0.7, 0.7] {
                    path.dash(from, away(from, angle + turn, size * (0.4 - 0.07 * f64::from(k))));
                }
            }
        }
    }
    sketch.drawing.add(tone, Hand::Line((0.006 * length).clamp(0.05, 0.12)), |p| *p = path);
}

/// Places of leaflets along a frond: where, which way the frond runs, how long the leaflet is.
fn leaflets(middle: &[Point], count: usize, longest: f64) -> Vec<(Point, f64, f64)> {
    let last = (middle.len() - 1) as f64;
    let place = |k: usize| {
        let share = 0.26 + 0.7 * k as f64 / count as f64;
        let (i, t) = ((share * last) as usize, (share * last).fract());
        let (a, b) = (middle[i], middle[(i + 1).min(middle.len() - 1)]);
        let size = longest
            * libm::pow(1.0 - (share - 0.26) / 0.78, 0.7)
            * (0.55 + 0.45 * ((share - 0.2) * 5.0).min(1.0));
        (super::pen::mix(a, b, t), heading(a, b), size)
    };
    (0..count).map(place).collect()
}

/// A young frond, rolled up.
fn crozier(sketch: &mut Sketch, foot: Point, tall: f64, lean: f64) {
    let head = away(foot, lean * 0.5, tall);
    let radius = (0.12 * tall).clamp(0.18, 1.0);
    let mut points = vec![foot, away(foot, lean * 0.2, tall * 0.6)];
    let side = if lean > 0.0 { 1.0 } else { -1.0 };
    for k in 0..9 {
        let turn = -1.57 + f64::from(k) * 0.85;
        points.push(away(
            [head[0] + side * radius, head[1]],
            side * turn,
            radius * (1.0 - 0.1 * f64::from(k)),
        ));
    }
    sketch.drawing.add(Tone::Stalk, Hand::Line((0.03 * tall).clamp(0.08, 0.24)), |p| p.through(&points));
}

/// Clovers of four leaflets, each on its stalk.
fn clovers(sketch: &mut Sketch) {
    let (width, height) = (sketch.habit.spread_cm, sketch.habit.height_cm.min(sketch.ceiling()));
    let many = sketch.count(4.0, 9.0);
    sketch
        .drawing
        .add(Tone::Stalk, Hand::Line(0.09), |p| p.arc([-0.4 * width, 0.05], [0.0, 0.3], [0.4 * width, 0.05]));
    for i in 0..many {
        let place = Sketch::fan(i, many);
        let tall = height * sketch.jitter.between(0.55, 0.95) * (1.0 - 0.25 * i as f64 / many as f64);
        let foot = [place * 0.34 * width, 0.05];
        let head = [foot[0] + place * 0.1 * width + sketch.jitter.about(0.04 * height), tall];
        let via = [foot[0] + sketch.jitter.about(0.05 * height), tall * 0.5];
        sketch.drawing.add(Tone::Stalk, Hand::Line(0.06), |p| p.arc(foot, via, head));
        let size = (0.13 * width + 0.06 * height).clamp(0.3, 1.6);
        for turn in [-1.75, 1.75, -0.6, 0.6] {
            let blade = Blade {
                base: head,
                angle: turn + place * 0.2,
                bend: 0.0,
                length: size * if turn.abs() > 1.0 { 1.0 } else { 0.85 },
                width: size * 0.85,
                widest: 0.68,
                ribbed: false,
            };
            sketch.drawing.add(Sketch::tone(i, many), Hand::Fill, |p| p.blade(&blade));
        }
    }
}
