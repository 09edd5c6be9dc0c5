//! Rosettes: leaves from one crown, stalked blades, straps or needles, the outer ones arching out.

use super::pen::{Blade, Path, Point, away, rising};
use super::{Hand, Sketch, Tone};
use crate::catalogue::LeafTexture;

pub(super) fn draw(sketch: &mut Sketch) {
    let many = match sketch.habit.texture {
        LeafTexture::Broad => sketch.count(4.0, 11.0),
        LeafTexture::Small => sketch.count(5.0, 13.0),
        LeafTexture::Linear => sketch.count(6.0, 15.0),
        LeafTexture::Fine => return needles(sketch, [0.0, 0.0], 1.0),
    };
    roots(sketch, [0.0, 0.0], 0.04 * sketch.habit.height_cm + 0.3);
    crown(sketch, [0.0, 0.0], 1.0, many);
}

/// Leaves of a crown, from the back to the front; `size` 1 for a grown one.
pub(super) fn crown(sketch: &mut Sketch, at: Point, size: f64, many: usize) {
    for i in 0..many {
        // Behind the leaves fan evenly, in front they lie lower and further out.
        let front = i as f64 / many as f64;
        let fan = Sketch::fan(i, many);
        let low = 1.0 - 0.42 * front * front;
        let angle = fan * (0.72 + 0.42 * front) + sketch.jitter.about(0.1);
        let tone = Sketch::tone(i, many);
        match sketch.habit.texture {
            LeafTexture::Linear => strap(sketch, at, angle, size * low, tone),
            _ => stalked(sketch, at, angle, size * low, tone),
        }
    }
}

/// How far a leaf reaches at an angle from straight up: an ellipse of height and half the spread.
fn reach(sketch: &Sketch, angle: f64) -> f64 {
    let (up, out) = (sketch.habit.height_cm.min(sketch.ceiling()), 0.52 * sketch.habit.spread_cm);
    let (s, c) = (libm::sin(angle) / out, libm::cos(angle) / up);
    1.0 / libm::sqrt(s * s + c * c)
}

/// A blade on a stalk.
fn stalked(sketch: &mut Sketch, at: Point, angle: f64, size: f64, tone: Tone) {
    let length = reach(sketch, angle) * size * sketch.jitter.between(0.86, 1.0);
    let small = sketch.habit.texture == LeafTexture::Small;
    let (stalk_share, slim, widest) = if small { (0.5, 0.46, 0.58) } else { (0.42, 0.4, 0.4) };
    let stalk = length * (stalk_share + sketch.jitter.about(0.06));
    let start = angle * 0.62;
    let via = away(at, start, stalk * 0.6);
    let base = away(via, angle * 1.05, stalk * 0.45);
    let width = (0.022 * length).clamp(0.06, 0.28);
    sketch.drawing.add(Tone::Stalk, Hand::Line(width), |p| p.arc(at, via, base));
    let blade = Blade {
        base,
        angle: angle * 1.1 + sketch.jitter.about(0.08),
        bend: angle * 0.75 + sketch.jitter.about(0.2),
        length: length - stalk * 0.92,
        width: (length - stalk) * slim * sketch.jitter.between(0.82, 1.1),
        widest,
        ribbed: true,
    };
    sketch.drawing.add(tone, Hand::Fill, |p| {
        p.blade(&blade);
        if !small && blade.length > 3.0 {
            veins(p, &blade);
        }
    });
}

/// Side veins, as open strokes within the blade.
pub(super) fn veins(path: &mut Path, blade: &Blade) {
    for side in [-1.0, 1.0] {
        for k in 0..3 {
            let share = 0.18 + 0.2 * f64::from(k);
            let out = blade.width * (0.34 - 0.07 * f64::from(k));
            path.dash(blade.at(share, 0.0), blade.at(share + 0.17, side * out));
        }
    }
}

/// A strap that narrows to both ends and lies down under the surface.
pub(super) fn strap(sketch: &mut Sketch, at: Point, angle: f64, size: f64, tone: Tone) {
    let length = reach(sketch, angle) * size * sketch.jitter.between(0.95, 1.15);
    let droop = 0.45 + 0.5 * angle.abs() + sketch.jitter.about(0.15);
    let middle = rising(at, angle * 0.75, droop, length, sketch.ceiling());
    let width = (0.045 * length).clamp(0.16, 1.6);
    sketch.drawing.add(tone, Hand::Fill, |p| p.ribbon(&middle, |s| width * taper(s)));
}

/// Narrow at the base, widest in the upper half, pointed.
fn taper(share: f64) -> f64 {
    (0.45 + 0.9 * share).min(1.0) * libm::sqrt((1.0 - libm::pow(share, 4.0)).max(0.0))
}

/// A tuft of needles.
pub(super) fn needles(sketch: &mut Sketch, at: Point, size: f64) {
    let many = sketch.count(10.0, 26.0);
    let pen = (0.008 * sketch.habit.height_cm).clamp(0.05, 0.12);
    for tone in [Tone::Deep, Tone::Mid, Tone::Bright] {
        let mut path = Path::default();
        for i in 0..many / 2 {
            let fan = (i as f64 + sketch.jitter.unit()) / (many / 2) as f64 * 2.0 - 1.0;
            let angle = fan * 0.95;
            let length = reach(sketch, angle) * size * sketch.jitter.between(0.72, 1.05);
            let foot = [at[0] + fan * 0.06 * sketch.habit.spread_cm, at[1]];
            let middle = rising(foot, angle * 0.6, 0.5 * angle.abs(), length, sketch.ceiling());
            path.through(&[middle[0], middle[3], middle[6], middle[9]]);
        }
        sketch.drawing.add(tone, Hand::Line(pen), |p| *p = path);
    }
}

/// A few roots into the bed.
pub(super) fn roots(sketch: &mut Sketch, at: Point, length: f64) {
    let mut path = Path::default();
    for turn in [-0.7, -0.2, 0.35, 0.8] {
        let angle = std::f64::consts::PI + turn;
        let via = away(at, angle, length * 0.6);
        path.arc(at, via, away(via, angle + sketch.jitter.about(0.5), length * 0.5));
    }
    sketch.drawing.add(Tone::Root, Hand::Line(0.05), |p| *p = path);
}
