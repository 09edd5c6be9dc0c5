//! Mosses and liverworts: cushions of fine threads, strands, and flat forking lobes.

use super::pen::{Path, Point, away};
use super::stem::plume;
use super::{Hand, Sketch, Tone};
use crate::catalogue::LeafTexture;

/// Taller mosses hang in strands, lower ones lie as cushions.
const CUSHION_CM: f64 = 9.0;

pub(super) fn draw(sketch: &mut Sketch) {
    if sketch.habit.grown_cm > CUSHION_CM { strands(sketch) } else { cushion(sketch, false) }
}

pub(super) fn liverwort(sketch: &mut Sketch) {
    if sketch.habit.texture == LeafTexture::Fine { cushion(sketch, true) } else { lobes(sketch) }
}

/// A point of the dome: place from −1 to 1, height as a share of the top.
fn dome(width: f64, height: f64, place: f64, share: f64) -> Point {
    [place * width / 2.0, height * share * libm::sqrt((1.0 - place * place).max(0.0))]
}

/// A dome with a lumpy rim.
fn mound(sketch: &mut Sketch, width: f64, height: f64, share: f64) -> Vec<Point> {
    let mut rim = Vec::new();
    for i in 0..=12 {
        let place = libm::cos(std::f64::consts::PI * (1.0 - f64::from(i) / 12.0));
        let [x, y] = dome(width, height, place, share);
        let lump = sketch.jitter.between(0.84, 1.06);
        rim.push([x * (0.94 + 0.06 * lump), y * lump]);
    }
    rim.extend([[width * 0.28, -0.05 * height], [-width * 0.28, -0.05 * height]]);
    rim
}

/// A cushion: dark within, threads standing out of it all over, brighter towards the top.
fn cushion(sketch: &mut Sketch, forked: bool) {
    let (width, height) = (sketch.habit.spread_cm, sketch.habit.height_cm.min(sketch.ceiling()));
    let rim = mound(sketch, width * 0.94, height, 0.8);
    sketch.drawing.add(Tone::Deep, Hand::Wash, |p| p.around(&rim));
    let many = sketch.count(26.0, if forked { 44.0 } else { 62.0 });
    let thread = (0.26 * height).clamp(0.25, 1.1);
    for (tone, from, to, share) in
        [(Tone::Deep, 0.66, 0.9, 0.7), (Tone::Mid, -0.06, 0.84, 1.7), (Tone::Bright, 0.02, 0.8, 1.2)]
    {
        let mut path = Path::default();
        let count = (many as f64 * share) as usize;
        for i in 0..count {
            let place = (i as f64 + sketch.jitter.unit()) / count as f64 * 1.9 - 0.95;
            let lit = if tone == Tone::Bright { place * 0.8 - 0.08 } else { place };
            let at = dome(width, height, lit, sketch.jitter.between(from, to));
            let out = lit * 1.25 + sketch.jitter.about(0.45);
            let length = sketch.jitter.near(thread, 0.35);
            if forked { fork(&mut path, at, out, length, 2) } else { thread_of(&mut path, at, out, length) }
        }
        let pen = if forked { 0.075 } else { 0.045 };
        sketch.drawing.add(tone, Hand::Line(pen), |p| *p = path);
    }
}

/// A short bent thread with two barbs.
fn thread_of(path: &mut Path, from: Point, angle: f64, length: f64) {
    let via = away(from, angle, length * 0.5);
    path.arc(from, via, away(via, angle + 0.5 * angle.signum(), length * 0.5));
    path.dash(via, away(via, angle - 0.7, length * 0.32));
    path.dash(via, away(via, angle + 0.7, length * 0.32));
}

/// A thread that divides in two, and again.
fn fork(path: &mut Path, from: Point, angle: f64, length: f64, times: usize) {
    let to = away(from, angle, length * 0.55);
    path.dash(from, to);
    if times > 0 {
        for turn in [-0.48, 0.48] {
            fork(path, to, angle + turn, length * 0.78, times - 1);
        }
    }
}

/// Long branched strands from one hold.
fn strands(sketch: &mut Sketch) {
    let (width, height) = (sketch.habit.spread_cm, sketch.habit.height_cm.min(sketch.ceiling()));
    let base = mound(sketch, width * 0.4, height * 0.1, 1.0);
    sketch.drawing.add(Tone::Deep, Hand::Wash, |p| p.around(&base));
    let many = sketch.count(4.0, 11.0);
    for i in 0..many {
        let tone = Sketch::tone(i, many);
        let place = sketch.jitter.about(1.0);
        let side = if place < 0.0 { -1.0 } else { 1.0 };
        let tall = height * sketch.jitter.between(0.6, 1.0) * (1.0 - 0.3 * place.abs());
        let foot = [place * width * 0.14, 0.0];
        let tip = [place * width * 0.46, tall];
        let via = [place * width * 0.2, tall * 0.6];
        let mut path = Path::default();
        path.arc(foot, via, tip);
        let branches = ((tall / 0.9) as usize).clamp(4, 16);
        for k in 1..=branches {
            let share = k as f64 / branches as f64;
            let at =
                super::pen::mix(super::pen::mix(foot, via, share), super::pen::mix(via, tip, share), share);
            let size = (0.13 * height).clamp(0.5, 1.5) * (1.15 - 0.6 * share);
            for turn in [-0.75, 0.75] {
                path.dash(at, away(at, place * 0.5 + turn + sketch.jitter.about(0.15), size));
            }
        }
        plume(&mut path, tip, place * 0.5, side, 0.6);
        sketch.drawing.add(tone, Hand::Line(0.05), |p| *p = path);
    }
}

/// Flat lobes that fork and overlap like shingles.
fn lobes(sketch: &mut Sketch) {
    let (width, height) = (sketch.habit.spread_cm, sketch.habit.height_cm.min(sketch.ceiling()));
    let base = mound(sketch, width * 0.86, height, 0.5);
    sketch.drawing.add(Tone::Deep, Hand::Wash, |p| p.around(&base));
    let size = (0.3 * height).clamp(0.5, 2.2);
    for (tone, share, many) in [(Tone::Deep, 0.86, 9.0), (Tone::Mid, 0.58, 8.0), (Tone::Bright, 0.28, 7.0)] {
        let count = sketch.count(4.0, many);
        for i in 0..count {
            let place = ((i as f64 + 0.5 + sketch.jitter.about(0.25)) / count as f64 * 2.0 - 1.0) * 0.88;
            let at = dome(width, height, place, share * sketch.jitter.between(0.8, 1.0));
            let angle = place * 1.35 + sketch.jitter.about(0.3);
            let large = size * sketch.jitter.between(0.85, 1.15);
            lobe(sketch, at, angle, large, tone);
        }
    }
}

/// A lobe with a notched, wavy end.
fn lobe(sketch: &mut Sketch, at: Point, angle: f64, size: f64, tone: Tone) {
    let base = away(at, angle, -0.5 * size);
    let rim = [
        (-0.12, 0.1),
        (-0.5, 0.55),
        (-0.62, 0.98),
        (-0.3, 1.16),
        (0.0, 0.86),
        (0.3, 1.2),
        (0.64, 0.95),
        (0.46, 0.5),
        (0.12, 0.1),
    ];
    let points: Vec<Point> = rim
        .iter()
        .map(|(across, along)| {
            let p = away(base, angle, along * size * sketch.jitter.between(0.93, 1.07));
            away(p, angle + std::f64::consts::FRAC_PI_2, across * size)
        })
        .collect();
    let vein = (away(base, angle, 0.2 * size), away(base, angle, 0.7 * size));
    sketch.drawing.add(tone, Hand::Fill, |p| {
        p.around(&points);
        p.dash(vein.0, vein.1);
    });
}
