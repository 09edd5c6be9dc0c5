//! Stem plants: upright shoots with leaves in pairs or whorls, smaller and closer to the tip.

use super::pen::{Blade, Point, away, heading, mix};
use super::{Hand, Sketch, Tone};
use crate::catalogue::LeafTexture;

/// A shoot from its foot to its tip.
struct Shoot {
    foot: Point,
    via: Point,
    tip: Point,
}

impl Shoot {
    fn at(&self, share: f64) -> Point {
        mix(mix(self.foot, self.via, share), mix(self.via, self.tip, share), share)
    }

    fn heading(&self, share: f64) -> f64 {
        heading(mix(self.foot, self.via, share), mix(self.via, self.tip, share))
    }

    fn length(&self) -> f64 {
        libm::hypot(self.tip[0] - self.foot[0], self.tip[1] - self.foot[1])
    }
}

pub(super) fn draw(sketch: &mut Sketch) {
    for shoot in shoots(sketch) {
        match sketch.habit.texture {
            LeafTexture::Fine => feathers(sketch, &shoot),
            _ => leafy(sketch, &shoot),
        }
    }
}

/// The leading shoot in front of its side shoots, which there are more of the longer it has grown.
fn shoots(sketch: &mut Sketch) -> Vec<Shoot> {
    let habit = sketch.habit;
    let crown = 0.16 * habit.spread_cm;
    let height = habit.height_cm.min(sketch.ceiling() - crown).max(0.5);
    let beside = if height < 5.0 {
        0
    } else {
        sketch.count(0.0, 2.4).saturating_sub(usize::from(habit.maturity < 0.3))
    };
    let mut found = Vec::new();
    let first = if sketch.jitter.unit() < 0.5 { -1.0 } else { 1.0 };
    for i in (0..=beside).rev() {
        let side = first * [0.0, 1.0, -1.0][i.min(2)];
        let tall = if i == 0 { height } else { height * sketch.jitter.between(0.55, 0.82) };
        let foot = [side * habit.spread_cm * 0.07, 0.0];
        let out =
            side * habit.spread_cm * sketch.jitter.between(0.26, 0.36) + sketch.jitter.about(0.04 * tall);
        let via = [foot[0] + out * 0.8 + sketch.jitter.about(0.04 * tall), tall * 0.5];
        found.push(Shoot { foot, via, tip: [foot[0] + out, tall * 0.97] });
    }
    found
}

/// Nodes from the foot up, closer together towards the tip.
fn nodes(shoot: &Shoot, leaf: f64, most: usize) -> Vec<f64> {
    let between = (leaf * 0.62).clamp(0.35, 3.2);
    let count = ((shoot.length() / between) as usize).clamp(3, most);
    (0..count).map(|i| libm::pow((i as f64 + 0.7) / count as f64, 0.86)).collect()
}

fn leafy(sketch: &mut Sketch, shoot: &Shoot) {
    let spread = sketch.habit.spread_cm;
    let (length, slim, widest, most) = match sketch.habit.texture {
        LeafTexture::Broad => ((0.5 * spread).clamp(1.4, 7.0), 0.38, 0.4, 15),
        LeafTexture::Linear => ((0.5 * spread).clamp(1.2, 6.5), 0.17, 0.45, 20),
        LeafTexture::Small | LeafTexture::Fine => ((0.34 * spread).clamp(0.7, 2.6), 0.62, 0.5, 22),
    };
    let shoot_line = |path: &mut super::Path| path.arc(shoot.foot, shoot.via, shoot.tip);
    sketch.drawing.add(Tone::Stalk, Hand::Line((0.05 * length).clamp(0.1, 0.3)), shoot_line);
    let linear = sketch.habit.texture == LeafTexture::Linear;
    for (i, share) in nodes(shoot, length, most).into_iter().enumerate() {
        let (at, along) = (shoot.at(share), shoot.heading(share));
        // Old leaves below hang, young ones above stand; the last are small.
        let grown = (1.0 - share) * 2.6 + 0.34;
        let size = length * grown.min(1.0) * (0.8 + 0.2 * share.min(0.5) * 2.0);
        let rise = 1.62 - 1.05 * share;
        // Pairs cross: one pair is seen from the side, the next end on.
        let turned = i % 2 == 1 && !linear;
        for side in [-1.0, 1.0] {
            let short = if turned { 0.62 } else { 1.0 };
            let blade = Blade {
                base: at,
                angle: along + side * (rise + sketch.jitter.about(0.14)) * if turned { 0.8 } else { 1.0 },
                bend: side * (0.5 - 0.75 * share + sketch.jitter.about(0.12)),
                length: sketch.jitter.near(size * short, 0.1),
                width: size * slim,
                widest,
                ribbed: length * slim > 0.5,
            };
            let tone = if turned || side < 0.0 { Tone::Mid } else { Tone::Bright };
            let tone = if share < 0.22 { Tone::Deep } else { tone };
            sketch.drawing.add(tone, Hand::Fill, |p| p.blade(&blade));
        }
        if turned || linear {
            towards(sketch, at, along, size, slim, widest);
        }
    }
    crown(sketch, shoot, length, slim, widest);
}

/// A leaf that points at the reader, seen short.
fn towards(sketch: &mut Sketch, at: Point, along: f64, size: f64, slim: f64, widest: f64) {
    let angle = along + std::f64::consts::PI + sketch.jitter.about(0.5);
    let base = away(at, along, size * 0.1);
    let width = size * slim * 0.92;
    let blade = Blade { base, angle, bend: 0.0, length: size * 0.42, width, widest, ribbed: false };
    sketch.drawing.add(Tone::Bright, Hand::Fill, |p| p.blade(&blade));
}

/// The youngest leaves, closed over the tip.
fn crown(sketch: &mut Sketch, shoot: &Shoot, length: f64, slim: f64, widest: f64) {
    let (base, along) = (shoot.at(0.96), shoot.heading(1.0));
    for turn in [-0.55, 0.5, -0.08] {
        let size = length * 0.42;
        let angle = along + turn + sketch.jitter.about(0.1);
        let width = size * slim * 1.1;
        let blade = Blade { base, angle, bend: -turn * 0.5, length: size, width, widest, ribbed: false };
        sketch.drawing.add(Tone::Bright, Hand::Fill, |p| p.blade(&blade));
    }
}

/// Leaves divided into threads, in whorls: plumes of fine strokes, the back ones first.
fn feathers(sketch: &mut Sketch, shoot: &Shoot) {
    let length = (0.5 * sketch.habit.spread_cm).clamp(0.8, 4.5);
    let shares = nodes(shoot, length * 0.72, 24);
    let pen = Hand::Line(0.035);
    for (tone, reach, lift) in [(Tone::Deep, 1.0, 0.0), (Tone::Mid, 0.85, 0.25), (Tone::Bright, 0.6, 0.5)] {
        if tone == Tone::Bright {
            sketch.drawing.add(Tone::Stalk, Hand::Line(0.12), |p| p.arc(shoot.foot, shoot.via, shoot.tip));
        }
        let mut path = super::Path::default();
        for share in &shares {
            let (at, along) = (shoot.at(*share), shoot.heading(*share));
            let size = length * reach * ((1.0 - share) * 3.0 + 0.35).min(1.0);
            for side in [-1.0, 1.0] {
                let angle = along + side * (1.45 - 0.75 * share - lift + sketch.jitter.about(0.16));
                plume(&mut path, at, angle, side, sketch.jitter.near(size, 0.12));
            }
        }
        sketch.drawing.add(tone, pen, |p| *p = path);
    }
    let mut path = super::Path::default();
    let along = shoot.heading(1.0);
    for turn in [-0.5, -0.2, 0.1, 0.4] {
        plume(&mut path, shoot.at(0.95), along + turn, if turn < 0.0 { -1.0 } else { 1.0 }, length * 0.5);
    }
    sketch.drawing.add(Tone::Bright, pen, |p| *p = path);
}

/// A thread that curves upward, with threads along it.
pub(super) fn plume(path: &mut super::Path, from: Point, angle: f64, side: f64, length: f64) {
    let via = away(from, angle, length * 0.55);
    let tip = away(via, angle - side * 0.55, length * 0.5);
    path.arc(from, via, tip);
    for k in 1..=3 {
        let share = f64::from(k) * 0.24 + 0.06;
        let at = mix(mix(from, via, share), mix(via, tip, share), share);
        for turn in [-0.62, 0.62] {
            path.dash(at, away(at, angle - side * 0.4 * share + turn, length * (0.36 - 0.22 * share)));
        }
    }
}
