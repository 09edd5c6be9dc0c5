//! Algae kept as plants: velvet balls, and brittle shoots with whorls of thin branches.

use super::pen::{Path, Point, away, mix};
use super::{Hand, Sketch, Tone};

/// Up to this height an alga is drawn as balls.
const BALL_CM: f64 = 12.0;

pub(super) fn draw(sketch: &mut Sketch) {
    if sketch.habit.grown_cm <= BALL_CM { balls(sketch) } else { whorls(sketch) }
}

fn balls(sketch: &mut Sketch) {
    let size = sketch.habit.height_cm.min(sketch.habit.spread_cm);
    let small = sketch.jitter.between(0.3, 0.42) * size;
    ball(sketch, [0.62 * size, 0.46 * small], small * 0.5);
    ball(sketch, [0.0, 0.46 * size], size * 0.5);
}

/// A ball: dark beneath, lit from above, velvet threads all over.
fn ball(sketch: &mut Sketch, centre: Point, radius: f64) {
    sketch.drawing.add(Tone::Deep, Hand::Wash, |p| p.ellipse(centre, [radius * 0.95, radius * 0.93]));
    let lit = [centre[0] - 0.12 * radius, centre[1] + 0.2 * radius];
    for (tone, middle, reach, many, long) in [
        (Tone::Deep, centre, 0.94, 90, 0.16),
        (Tone::Mid, mix(centre, lit, 0.5), 0.84, 170, 0.15),
        (Tone::Bright, lit, 0.6, 90, 0.12),
    ] {
        let mut path = Path::default();
        for i in 0..many {
            let angle = (f64::from(i) * 0.381_966 + 0.01 * sketch.jitter.unit()) * std::f64::consts::TAU;
            // Evenly over the disc, the rim always set.
            let share = libm::sqrt((f64::from(i) + 0.5) / f64::from(many));
            let at = away(
                middle,
                angle,
                radius * reach * if tone == Tone::Deep { 0.9 + 0.1 * share } else { share },
            );
            let out = angle + sketch.jitter.about(0.7);
            path.dash(at, away(at, out, radius * long * sketch.jitter.between(0.7, 1.1)));
        }
        sketch.drawing.add(tone, Hand::Line((0.02 * radius).clamp(0.03, 0.08)), |p| *p = path);
    }
}

/// Thin axes with whorls of upward-curving branches, far apart.
fn whorls(sketch: &mut Sketch) {
    let (width, height) = (sketch.habit.spread_cm, sketch.habit.height_cm.min(sketch.ceiling()));
    let many = sketch.count(2.0, 5.0);
    for i in 0..many {
        let place = Sketch::fan(i, many);
        let tall = height * sketch.jitter.between(0.66, 1.0);
        let (foot, tip) =
            ([place * 0.1 * width, 0.0], [place * 0.34 * width + sketch.jitter.about(0.05 * height), tall]);
        let via = [place * 0.12 * width, tall * 0.55];
        let mut path = Path::default();
        path.arc(foot, via, tip);
        let nodes = ((tall / (0.055 * height + 0.9)) as usize).clamp(4, 14);
        for k in 1..=nodes {
            let share = k as f64 / nodes as f64;
            let at = mix(mix(foot, via, share), mix(via, tip, share), share);
            let size = (0.2 * width).clamp(0.8, 3.0) * (1.25 - 0.75 * share);
            for (turn, short) in [(-1.15, 1.0), (1.15, 1.0), (-0.6, 0.8), (0.6, 0.8), (0.0, 0.45)] {
                let bend = away(at, turn + place * 0.3, size * 0.5 * short);
                path.arc(at, bend, away(bend, turn * 0.25, size * 0.5 * short));
            }
        }
        sketch.drawing.add(Sketch::tone(i, many), Hand::Line(0.06), |p| *p = path);
    }
}
