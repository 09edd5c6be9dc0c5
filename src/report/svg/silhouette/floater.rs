//! Floating plants: the point they stand on is the surface; pads above it, roots below.

use super::pen::{Blade, Path, Point, away};
use super::stem::plume;
use super::{Hand, Sketch, Tone};
use crate::catalogue::LeafTexture;

/// What grows no higher is drawn as a drift of many fronds.
const TINY_CM: f64 = 4.0;

pub(super) fn draw(sketch: &mut Sketch) {
    let tiny = sketch.habit.grown_cm < TINY_CM;
    match sketch.habit.texture {
        LeafTexture::Small | LeafTexture::Broad if tiny => fronds(sketch),
        LeafTexture::Fine if tiny => scales(sketch),
        LeafTexture::Small => chain(sketch),
        LeafTexture::Broad => cup(sketch),
        LeafTexture::Linear => swords(sketch),
        LeafTexture::Fine => drifting(sketch),
    }
}

/// Roots from a place straight down, with fine hairs.
fn hanging(sketch: &mut Sketch, at: Point, length: f64, hairy: bool, path: &mut Path) {
    let lean = sketch.jitter.about(0.16);
    let down = std::f64::consts::PI + lean;
    let via = away(at, down, length * 0.5);
    path.arc(at, via, away(via, std::f64::consts::PI - lean, length * 0.5));
    if hairy {
        let hairs = ((length / 0.45) as usize).clamp(2, 14);
        for k in 1..hairs {
            let from = super::pen::mix(at, via, 2.0 * k as f64 / hairs as f64);
            let size = 0.22 * length.min(2.4) * (1.0 - 0.5 * k as f64 / hairs as f64);
            for turn in [-0.9, 0.9] {
                path.dash(from, away(from, down + turn, size));
            }
        }
    }
}

/// Many small lens-shaped fronds, each with a thread of root.
fn fronds(sketch: &mut Sketch) {
    let width = sketch.habit.spread_cm;
    let count = sketch.count(4.0, (width / 0.42).clamp(6.0, 22.0));
    let places: Vec<f64> = (0..count)
        .map(|i| ((i as f64 + 0.5 + sketch.jitter.about(0.4)) / count as f64 - 0.5) * width)
        .collect();
    let mut roots = Path::default();
    let long = (0.8 * sketch.habit.height_cm).clamp(0.5, 2.2);
    for x in &places {
        let length = sketch.jitter.near(long, 0.4);
        hanging(sketch, [*x, 0.0], length, false, &mut roots);
    }
    sketch.drawing.add(Tone::Root, Hand::Line(0.035), |p| *p = roots);
    for (i, x) in places.iter().enumerate() {
        let half = [sketch.jitter.between(0.24, 0.38), sketch.jitter.between(0.08, 0.13)];
        let tone = [Tone::Mid, Tone::Bright, Tone::Deep][i % 3];
        let at = [*x, sketch.jitter.between(0.02, 0.1)];
        sketch.drawing.add(tone, Hand::Fill, |p| p.ellipse(at, half));
    }
}

/// Small overlapping scales, a crumbly mat with roots.
fn scales(sketch: &mut Sketch) {
    let width = sketch.habit.spread_cm;
    let count = sketch.count(8.0, (width / 0.22).clamp(14.0, 40.0));
    let mut roots = Path::default();
    for i in 0..count / 2 {
        let x = ((i as f64 + sketch.jitter.unit()) / (count / 2) as f64 - 0.5) * width;
        let length = sketch.jitter.between(0.5, 1.4);
        hanging(sketch, [x, 0.0], length, false, &mut roots);
    }
    sketch.drawing.add(Tone::Root, Hand::Line(0.04), |p| *p = roots);
    for i in 0..count {
        let x = ((i as f64 + 0.5 + sketch.jitter.about(0.4)) / count as f64 - 0.5) * width;
        let blade = Blade {
            base: [x, -0.05],
            angle: sketch.jitter.about(1.1),
            bend: 0.0,
            length: sketch.jitter.between(0.26, 0.46),
            width: 0.22,
            widest: 0.55,
            ribbed: false,
        };
        let tone = [Tone::Deep, Tone::Mid, Tone::Bright][i % 3];
        sketch.drawing.add(tone, Hand::Fill, |p| p.blade(&blade));
    }
}

/// Pairs of rounded leaves along a floating shoot, tufts of root under it.
fn chain(sketch: &mut Sketch) {
    let width = sketch.habit.spread_cm;
    let leaf = (0.16 * width).clamp(0.5, 2.6);
    let pairs = ((width / (leaf * 0.95)) as usize).clamp(2, 8);
    let mut roots = Path::default();
    let long = (0.6 * sketch.habit.height_cm).clamp(1.0, 6.0);
    for k in 0..pairs {
        let x = ((k as f64 + 0.5) / pairs as f64 - 0.5) * width;
        for off in [-0.2, 0.0, 0.2] {
            let length = sketch.jitter.near(long, 0.3);
            hanging(sketch, [x + off * leaf, 0.0], length, true, &mut roots);
        }
    }
    sketch.drawing.add(Tone::Root, Hand::Line(0.05), |p| *p = roots);
    sketch
        .drawing
        .add(Tone::Stalk, Hand::Line(0.12), |p| p.dash([-0.45 * width, 0.02], [0.45 * width, 0.02]));
    for k in 0..pairs {
        let x = ((k as f64 + 0.5) / pairs as f64 - 0.5) * width;
        for (side, tone) in [(-1.0, Tone::Mid), (1.0, Tone::Bright)] {
            let angle = side * sketch.jitter.between(0.95, 1.3);
            let blade = Blade {
                base: [x, 0.03],
                angle,
                bend: side * 0.25,
                length: leaf,
                width: leaf * 0.6,
                widest: 0.55,
                ribbed: true,
            };
            sketch.drawing.add(tone, Hand::Fill, |p| p.blade(&blade));
        }
    }
}

/// A rosette that sits on the surface like a cup, long feathery roots below.
fn cup(sketch: &mut Sketch) {
    let width = sketch.habit.spread_cm;
    let up = (0.42 * width).min(0.5 * sketch.habit.height_cm).max(0.8).min(sketch.habit.air_cm);
    let mut roots = Path::default();
    let long = (0.62 * sketch.habit.height_cm).clamp(1.5, 0.7 * sketch.ceiling().max(3.0));
    for i in 0..9 {
        let x = (f64::from(i) / 8.0 - 0.5) * 0.24 * width;
        let length = sketch.jitter.near(long * (1.0 - 0.35 * (f64::from(i) / 4.0 - 1.0).abs()), 0.15);
        hanging(sketch, [x, 0.0], length, true, &mut roots);
    }
    sketch.drawing.add(Tone::Root, Hand::Line(0.05), |p| *p = roots);
    let many = sketch.count(5.0, 11.0);
    for i in 0..many {
        let front = i as f64 / many as f64;
        let fan = Sketch::fan(i, many);
        let angle = fan * (1.05 + 0.3 * front);
        let reach = libm::hypot(libm::sin(angle) * 0.5 * width, libm::cos(angle) * up)
            * (1.0 - 0.3 * front * (1.0 - fan.abs()));
        let blade = Blade {
            base: [fan * 0.05 * width, 0.0],
            angle,
            bend: -angle * 0.3,
            length: reach,
            width: reach.max(up) * 0.5,
            widest: 0.72,
            ribbed: true,
        };
        sketch.drawing.add(Sketch::tone(i, many), Hand::Fill, |p| p.blade(&blade));
    }
}

/// A spiky rosette, half out of the water.
fn swords(sketch: &mut Sketch) {
    let (width, up) = (sketch.habit.spread_cm, (0.45 * sketch.habit.height_cm).min(sketch.habit.air_cm));
    let mut roots = Path::default();
    for i in 0..5 {
        let length = sketch.jitter.near(0.5 * sketch.habit.height_cm, 0.2);
        hanging(sketch, [(f64::from(i) - 2.0) * 0.03 * width, -0.2], length, false, &mut roots);
    }
    sketch.drawing.add(Tone::Root, Hand::Line(0.08), |p| *p = roots);
    let many = sketch.count(7.0, 15.0);
    for i in 0..many {
        let fan = Sketch::fan(i, many);
        let angle = fan * 1.35;
        let reach = libm::hypot(libm::sin(angle) * 0.5 * width, libm::cos(angle) * up)
            * sketch.jitter.between(0.85, 1.0);
        let blade = Blade {
            base: [0.0, -0.1 * up],
            angle,
            bend: angle * 0.3,
            length: reach,
            width: 0.12 * reach,
            widest: 0.3,
            ribbed: true,
        };
        sketch.drawing.add(Sketch::tone(i, many), Hand::Fill, |p| p.blade(&blade));
    }
}

/// Branched feathery shoots adrift just under the surface.
fn drifting(sketch: &mut Sketch) {
    let (width, deep) = (sketch.habit.spread_cm, (0.5 * sketch.habit.height_cm).min(0.5 * sketch.ceiling()));
    let shoots = sketch.count(1.0, 3.0);
    for s in 0..shoots {
        let y = -deep * (0.15 + 0.7 * s as f64 / shoots as f64) - 0.3;
        let (from, to) = (
            [-0.46 * width, y + sketch.jitter.about(0.2 * deep)],
            [0.46 * width, y + sketch.jitter.about(0.2 * deep)],
        );
        let via = [0.0, y + sketch.jitter.about(0.35 * deep)];
        let size = (0.35 * deep + 0.4).clamp(0.5, 2.6);
        let count = ((width / (0.6 * size)) as usize).clamp(5, 22);
        for tone in [Tone::Deep, Tone::Bright] {
            let mut path = Path::default();
            path.arc(from, via, to);
            for k in 0..count {
                let share = (k as f64 + sketch.jitter.unit()) / count as f64;
                let at = super::pen::mix(
                    super::pen::mix(from, via, share),
                    super::pen::mix(via, to, share),
                    share,
                );
                for (side, angle) in [(1.0, 0.75), (-1.0, 2.35)] {
                    plume(
                        &mut path,
                        at,
                        angle + sketch.jitter.about(0.2),
                        side,
                        sketch.jitter.near(size, 0.2),
                    );
                }
            }
            sketch.drawing.add(tone, Hand::Line(0.045), |p| *p = path);
        }
    }
}
