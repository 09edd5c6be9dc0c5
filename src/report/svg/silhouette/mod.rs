//! Plants as botanical line-and-fill drawings, made from a few words of their habit.
//!
//! Every form has its own hand: stems with leaves along them, ribbons that lie down under the
//! surface, stalked blades from a crown, fronds, cushions, pads with hanging roots. A drawing is in
//! cm around the point where the plant stands, y up; nothing of it is a picture of one species.
//! Not here: colours of ink, scale, pages.

mod alga;
mod creeper;
mod fern;
mod floater;
mod moss;
mod pen;
mod rhizome;
mod rosette;
mod runner;
mod stem;

use crate::catalogue::{GrowthForm, LeafTexture};
use crate::report::svg::scatter::Scatter;
pub use pen::{Path, Point, Step};

/// What a drawing is made from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Habit {
    /// The form.
    pub form: GrowthForm,
    /// The look of its leaves.
    pub texture: LeafTexture,
    /// Height now; for a floating plant, what hangs and stands together.
    pub height_cm: f64,
    /// Height when grown: a low plant does not change its form on the way.
    pub grown_cm: f64,
    /// Width now.
    pub spread_cm: f64,
    /// From the foot up to the surface: leaves that reach it lie down under it.
    pub room_cm: f64,
    /// From the surface up to a cover: how far floating plants may stand out of the water.
    pub air_cm: f64,
    /// 0 as planted, 1 grown in: how many leaves there are.
    pub maturity: f64,
    /// Which of the many plants of this habit.
    pub seed: u64,
}

/// The shade of a part, from the back of the plant to its front.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tone {
    /// Leaves behind, in shade.
    Deep,
    /// Leaves between.
    Mid,
    /// Leaves in front, lit.
    Bright,
    /// Stalks, shoots, rhizomes.
    Stalk,
    /// Roots and bulbs.
    Root,
}

/// How a part is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hand {
    /// Filled, with a fine outline.
    Fill,
    /// Filled, without one.
    Wash,
    /// A line of so many cm, no thinner than a pen can draw.
    Line(f64),
}

/// A part of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its shape.
    pub path: Path,
    /// Its shade.
    pub tone: Tone,
    /// Its hand.
    pub hand: Hand,
}

/// A plant drawn: parts from the back to the front.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Drawing {
    /// The parts.
    pub parts: Vec<Part>,
}

impl Drawing {
    fn add(&mut self, tone: Tone, hand: Hand, build: impl FnOnce(&mut Path)) {
        let mut path = Path::default();
        build(&mut path);
        if !path.steps.is_empty() {
            self.parts.push(Part { path, tone, hand });
        }
    }

    /// Pressed together where it came out wider or taller than the plant is.
    fn held(mut self, habit: &Habit) -> Self {
        let [low, high] = self.bounds();
        let wide = (high[0] - low[0]) / (1.04 * habit.spread_cm);
        let top = if habit.form == GrowthForm::Floater { 1.0 } else { high[1] / (1.04 * habit.height_cm) };
        if wide > 1.0 || top > 1.0 {
            let press = [1.0 / wide.max(1.0), 1.0 / top.max(1.0)];
            self.parts.iter_mut().for_each(|p| p.path.stretch(press));
        }
        self
    }

    /// Lowest left and highest right corner of everything drawn, handles included.
    pub fn bounds(&self) -> [Point; 2] {
        let points = self.parts.iter().flat_map(|p| p.path.points());
        points.fold([[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]], |[lo, hi], p| {
            [[lo[0].min(p[0]), lo[1].min(p[1])], [hi[0].max(p[0]), hi[1].max(p[1])]]
        })
    }
}

/// A plant at work: its habit, its scatter, what is drawn so far.
struct Sketch {
    habit: Habit,
    jitter: Scatter,
    drawing: Drawing,
}

impl Sketch {
    /// From `few` at planting to `many` when grown in.
    fn count(&self, few: f64, many: f64) -> usize {
        (few + (many - few) * self.habit.maturity).round().max(1.0) as usize
    }

    /// How high leaves may reach.
    fn ceiling(&self) -> f64 {
        self.habit.room_cm.max(0.5)
    }

    /// Where leaf `i` of `count` stands, −1 left to 1 right: each place once, neighbours far apart in
    /// the order of painting.
    fn fan(i: usize, count: usize) -> f64 {
        if count < 2 {
            return 0.0;
        }
        let apart = |a: usize, b: usize| (2..=a).all(|d| !a.is_multiple_of(d) || !b.is_multiple_of(d));
        let step = [5, 7, 3, 11].into_iter().find(|s| apart(*s, count)).unwrap_or(1);
        ((i * step + count / 3) % count) as f64 / (count - 1) as f64 * 2.0 - 1.0
    }

    /// Back, middle or front, for leaf `i` of `count` painted in this order.
    fn tone(i: usize, count: usize) -> Tone {
        match 3 * i / count.max(1) {
            0 => Tone::Deep,
            1 => Tone::Mid,
            _ => Tone::Bright,
        }
    }
}

/// Draws a plant of this habit.
pub fn draw(habit: &Habit) -> Drawing {
    let sane = |v: f64, most: f64| if v.is_finite() { v.clamp(0.2, most) } else { 0.2 };
    let habit = Habit {
        height_cm: sane(habit.height_cm, 300.0),
        grown_cm: sane(habit.grown_cm, 300.0),
        spread_cm: sane(habit.spread_cm, 300.0),
        room_cm: sane(habit.room_cm, 400.0),
        air_cm: sane(habit.air_cm, 400.0),
        maturity: habit.maturity.clamp(0.0, 1.0),
        ..*habit
    };
    let mut sketch = Sketch { habit, jitter: Scatter::new(habit.seed), drawing: Drawing::default() };
    match habit.form {
        GrowthForm::Stem => stem::draw(&mut sketch),
        GrowthForm::Creeper => creeper::draw(&mut sketch),
        GrowthForm::Rosette => rosette::draw(&mut sketch),
        GrowthForm::Runner => runner::draw(&mut sketch),
        GrowthForm::Rhizome => rhizome::draw(&mut sketch),
        GrowthForm::Bulb => rhizome::bulb(&mut sketch),
        GrowthForm::Fern => fern::draw(&mut sketch),
        GrowthForm::Moss => moss::draw(&mut sketch),
        GrowthForm::Liverwort => moss::liverwort(&mut sketch),
        GrowthForm::Floater => floater::draw(&mut sketch),
        GrowthForm::Alga => alga::draw(&mut sketch),
    }
    sketch.drawing.held(&habit)
}
