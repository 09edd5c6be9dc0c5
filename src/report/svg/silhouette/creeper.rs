//! Creepers: a mat of short shoots with small leaves over the bed.

use super::pen::{Blade, Point, away, mix};
use super::{Hand, Sketch, Tone};
use crate::catalogue::LeafTexture;

pub(super) fn draw(sketch: &mut Sketch) {
    let (width, height) = (sketch.habit.spread_cm, sketch.habit.height_cm.min(sketch.ceiling()));
    let many = (width / 0.9).clamp(4.0, 9.0);
    mat(sketch, width, height);
    let linear = sketch.habit.texture == LeafTexture::Linear;
    for (row, share) in [(0, 1.0), (1, 0.82), (2, 0.6)] {
        let count = sketch.count(2.0, many - row as f64).max(2);
        let tone = [Tone::Deep, Tone::Mid, Tone::Bright][row];
        for i in 0..count {
            let place = (i as f64 + 0.5 + sketch.jitter.about(0.3)) / count as f64 * 2.0 - 1.0;
            let dome = 1.0 - 0.5 * place * place;
            let tall = height * share * dome * sketch.jitter.between(0.75, 1.0);
            let foot = [place * width * 0.42, 0.0];
            let tip = [foot[0] + place * width * 0.08 + sketch.jitter.about(0.1 * height), tall];
            if linear { blades(sketch, foot, tip, tone) } else { sprig(sketch, foot, tip, tone) }
        }
    }
}

/// What is seen between the leaves: the mat itself.
fn mat(sketch: &mut Sketch, width: f64, height: f64) {
    let mut rim = Vec::new();
    for i in 0..=8 {
        let place = f64::from(i) / 4.0 - 1.0;
        let top = height * (0.46 - 0.4 * place * place) * sketch.jitter.between(0.75, 1.1);
        rim.push([place * width * 0.44, top.max(0.0)]);
    }
    rim.extend([[width * 0.3, -0.06], [-width * 0.3, -0.06]]);
    sketch.drawing.add(Tone::Deep, Hand::Wash, |p| p.around(&rim));
}

/// A shoot with round leaves in pairs.
fn sprig(sketch: &mut Sketch, foot: Point, tip: Point, tone: Tone) {
    let tall = tip[1].max(0.2);
    let leaf = (0.2 * tall + 0.3).clamp(0.3, 1.3).min(0.55 * tall + 0.1);
    let pairs = ((tall / (leaf * 0.8)) as usize).clamp(1, 7);
    sketch.drawing.add(Tone::Stalk, Hand::Line(0.05), |p| p.dash(foot, tip));
    for k in 0..pairs {
        let share = (k as f64 + 1.0) / pairs as f64;
        let at = mix(foot, tip, share);
        for side in [-1.0, 1.0] {
            let blade = Blade {
                base: at,
                angle: side * (1.35 - 0.55 * share + sketch.jitter.about(0.25)),
                bend: side * sketch.jitter.between(-0.3, 0.2),
                length: leaf * sketch.jitter.between(0.85, 1.1),
                width: leaf * 0.74,
                widest: 0.56,
                ribbed: false,
            };
            sketch.drawing.add(tone, Hand::Fill, |p| p.blade(&blade));
        }
    }
    let top = Blade {
        base: tip,
        angle: 0.0,
        bend: 0.0,
        length: leaf * 0.6,
        width: leaf * 0.5,
        widest: 0.5,
        ribbed: false,
    };
    sketch.drawing.add(tone, Hand::Fill, |p| p.blade(&top));
}

/// A tuft of narrow leaves from one point of the runner.
fn blades(sketch: &mut Sketch, foot: Point, tip: Point, tone: Tone) {
    let tall = tip[1].max(0.3);
    for turn in [-0.75, 0.7, -0.28, 0.2] {
        let angle = turn + sketch.jitter.about(0.15);
        let blade = Blade {
            base: away(foot, angle, 0.02),
            angle,
            bend: turn * 0.7,
            length: tall * sketch.jitter.between(0.8, 1.05),
            width: (0.17 * tall).clamp(0.14, 0.8),
            widest: 0.68,
            ribbed: false,
        };
        sketch.drawing.add(tone, Hand::Fill, |p| p.blade(&blade));
    }
}
