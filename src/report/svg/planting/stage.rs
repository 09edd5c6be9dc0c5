//! What both drawings of a planted tank share: page, scale, rulers, heading, names, numbers.

use crate::report::svg::face::{FAMILIES, Face, Slant};
use crate::report::svg::labels::{Area, Page};
use crate::report::svg::light_map::{INK, PAPER};
use crate::report::svg::writer::{Svg, number};
use crate::report::view::PictureView;
use crate::units::{Length, Quantity, UnitSystem};

/// mm, the width of A4 and US letter paper taken together, turned on its side.
pub(super) const PAGE: f64 = 279.0;
pub(super) const MARGIN: f64 = 18.0;
/// Most that a drawing takes of the page, mm.
const ROOM: [f64; 2] = [PAGE - 2.0 * MARGIN, 150.0];
/// Scales an engineer would pick.
const SCALES: [f64; 15] = [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0];
/// Radius of the ring around a number, mm.
pub(super) const RING: f64 = 2.1;
/// Size of the names in a picture and its key, mm.
pub(super) const NAME: f64 = 3.1;
/// Small print, mm.
pub(super) const SMALL: f64 = 2.6;

/// The largest scale at which so many cm fit, one to so many; the same for both drawings of a tank.
pub(super) fn scale_of(view: &PictureView) -> f64 {
    let high = (view.height_cm + above_rim(view)).max(view.depth_cm);
    let fits = |s: &f64| view.length_cm * 10.0 / s <= ROOM[0] && high * 10.0 / s <= ROOM[1];
    let most = (view.length_cm * 10.0 / ROOM[0]).max(high * 10.0 / ROOM[1]).ceil();
    SCALES.into_iter().find(fits).unwrap_or(most)
}

/// cm that the lamps take above the rim; one that hangs higher is drawn lower.
pub(super) fn above_rim(view: &PictureView) -> f64 {
    let lamp = view.lamps.iter().map(|l| l.above_water_cm.min(MOST_ABOVE_CM) + LAMP_CM).fold(0.0, f64::max);
    (view.water_cm + lamp - view.height_cm).max(0.0)
}

/// A lamp is drawn no higher than this above the water.
pub(super) const MOST_ABOVE_CM: f64 = 20.0;
/// Height of a lamp's housing.
pub(super) const LAMP_CM: f64 = 2.4;

/// A drawing under way: the page, the type, what is taken.
pub(super) struct Stage {
    pub svg: Svg,
    pub face: Face,
    pub page: Page,
    pub mm_per_cm: f64,
}

impl Stage {
    /// Begins a page of so many mm to show a planted tank.
    pub fn begin(view: &PictureView, height: f64, titles: [&str; 2], heading: &str) -> Self {
        let mut stage = Self::open(&view.tank, height, titles, heading);
        stage.mm_per_cm = 10.0 / scale_of(view);
        stage
    }

    /// Begins a page of so many mm with the name of the tank and a heading.
    pub fn open(tank: &str, height: f64, titles: [&str; 2], heading: &str) -> Self {
        let mut svg = Svg::page_with_parts([PAGE, height], titles[0], titles[1]);
        svg.rect([0.0, 0.0], [PAGE, height], &[("fill", PAPER)]);
        svg.open("g", &[("font-family", FAMILIES), ("fill", INK), ("stroke", "none")]);
        let page = Page::new(Area::new([4.0, 3.0], [PAGE - 8.0, height - 6.0]));
        let mut stage = Self { svg, face: Face::open(), page, mm_per_cm: 1.0 };
        stage.heading(tank, heading);
        stage
    }

    fn heading(&mut self, tank: &str, words: &str) {
        let room = PAGE - 2.0 * MARGIN;
        let size = (7.0 * room / self.face.width(tank, Slant::Upright, 7.0).max(1.0)).clamp(3.2, 7.0);
        let name = self.face.fitted(tank, Slant::Upright, size, room);
        self.words([MARGIN, 15.5], &name, Slant::Upright, size, Hold::Start);
        let words = self.face.fitted(words, Slant::Italic, 3.4, room);
        self.words([MARGIN, 22.0], &words, Slant::Italic, 3.4, Hold::Start);
    }

    /// Words on the page, and their box kept clear.
    pub fn words(&mut self, at: [f64; 2], words: &str, slant: Slant, size: f64, hold: Hold) -> Area {
        let area = self.area(at, words, slant, size, hold);
        self.page.take(area);
        let [x, y, size] = [at[0], at[1], size].map(number);
        let mut attributes = vec![("x", &*x), ("y", &*y), ("font-size", &*size)];
        if slant == Slant::Italic {
            attributes.push(("font-style", "italic"));
        }
        if hold != Hold::Start {
            attributes.push(("text-anchor", hold.word()));
        }
        self.svg.words("text", &attributes, words);
        area
    }

    /// The box that words take.
    pub fn area(&self, [x, y]: [f64; 2], words: &str, slant: Slant, size: f64, hold: Hold) -> Area {
        let width = self.face.width(words, slant, size);
        let left = match hold {
            Hold::Start => x,
            Hold::Middle => x - width / 2.0,
            Hold::End => x - width,
        };
        Area::new([left, y - 0.78 * size], [width, size])
    }

    /// A plant's name: the botanical part in italics, ranks and cultivars upright.
    pub fn name(&mut self, [x, y]: [f64; 2], name: &str, size: f64, hold: Hold) {
        let [x, y, size] = [x, y, size].map(number);
        let mut attributes = vec![("x", &*x), ("y", &*y), ("font-size", &*size)];
        if hold != Hold::Start {
            attributes.push(("text-anchor", hold.word()));
        }
        self.svg.spans("text", &attributes, &spans(name));
    }

    /// Words on a plate of paper that may lie on the drawing: the box that [`Self::plate_size`] gives.
    pub fn plate(&mut self, area: Area, words: &str, slant: Slant) {
        let size = [area.right - area.left, area.bottom - area.top];
        self.svg.rect(
            [area.left, area.top],
            size,
            &[("rx", "0.8"), ("fill", PAPER), ("fill-opacity", "0.9")],
        );
        let middle = f64::midpoint(area.left, area.right);
        let [x, y, size] = [middle, f64::midpoint(area.top, area.bottom) + 0.3 * SMALL, SMALL].map(number);
        let italic = if slant == Slant::Italic { "italic" } else { "normal" };
        let attributes = [("x", &*x), ("y", &*y), ("font-size", &*size), ("font-style", italic)];
        self.svg.words("text", &[&attributes[..], &[("text-anchor", "middle")]].concat(), words);
    }

    /// Width and height of a plate.
    pub fn plate_size(&self, words: &str, slant: Slant) -> [f64; 2] {
        [self.face.width(words, slant, SMALL) + 1.0, SMALL + 0.8]
    }

    /// mm that a name takes at most.
    pub fn name_width(&self, name: &str, size: f64) -> f64 {
        let slant = |italic: bool| if italic { Slant::Italic } else { Slant::Upright };
        spans(name).iter().map(|(italic, words)| self.face.width(words, slant(*italic), size)).sum()
    }

    /// A number in a ring.
    pub fn ring(&mut self, [x, y]: [f64; 2], index: usize) {
        let [cx, cy, r] = [x, y, RING].map(number);
        let ring = [
            ("cx", &*cx),
            ("cy", &*cy),
            ("r", &*r),
            ("fill", PAPER),
            ("stroke", INK),
            ("stroke-width", "0.25"),
        ];
        self.svg.leaf("circle", &ring);
        let size = if index > 99 { 2.0 } else { 2.7 };
        let [x, y, size] = [x, y + 0.34 * size, size].map(number);
        let attributes = [("x", &*x), ("y", &*y), ("font-size", &*size), ("text-anchor", "middle")];
        self.svg.words("text", &attributes, &index.to_string());
    }
}

/// Where words are held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Hold {
    Start,
    Middle,
    End,
}

impl Hold {
    fn word(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }
}

/// The parts of a plant's name, each with whether it is set in italics.
pub(super) fn spans(name: &str) -> Vec<(bool, String)> {
    let (botanical, cultivar) = match name.find('\'') {
        Some(at) => name.split_at(at),
        None => (name, ""),
    };
    let mut parts: Vec<(bool, String)> = Vec::new();
    for word in botanical.split_inclusive(' ') {
        let italic = !matches!(word.trim_end(), "var." | "subsp." | "f." | "sp." | "cf." | "×" | "x");
        match parts.last_mut() {
            Some((known, words)) if *known == italic => words.push_str(word),
            _ => parts.push((italic, word.to_owned())),
        }
    }
    if !cultivar.is_empty() {
        match parts.last_mut() {
            Some((false, words)) => words.push_str(cultivar),
            _ => parts.push((false, cultivar.to_owned())),
        }
    }
    parts
}

/// A ruler along one side of the glass.
pub(super) struct Ruler {
    /// Where its zero lies on the page.
    pub zero: [f64; 2],
    /// The direction it counts in.
    pub along: [f64; 2],
    /// The direction its ticks point in.
    pub out: [f64; 2],
    /// cm of the side it measures.
    pub extent_cm: f64,
    /// Whether it counts inches.
    pub inches: bool,
}

impl Ruler {
    /// cm of a unit, its name, and the steps its numbers may have.
    fn unit(&self) -> (f64, &'static str) {
        if self.inches { (2.54, "in") } else { (1.0, "cm") }
    }

    /// Draws it: ticks at each unit where they do not crowd, numbers where they fit.
    pub fn draw(&self, stage: &mut Stage) {
        let (unit_cm, name) = self.unit();
        let mm = unit_cm * stage.mm_per_cm;
        let step = [1, 2, 5, 10, 20, 50].into_iter().find(|s| f64::from(*s) * mm >= 9.0).unwrap_or(100);
        let fine = [1, 2, 5, 10].into_iter().find(|s| f64::from(*s) * mm >= 1.2).unwrap_or(step);
        let half = if step % 2 == 0 { step / 2 } else { step };
        let count = (self.extent_cm / unit_cm + 1e-6) as i32;
        let at = |n: i32, off: f64| -> [f64; 2] {
            std::array::from_fn(|i| self.zero[i] + self.along[i] * f64::from(n) * mm + self.out[i] * off)
        };
        stage.svg.open("g", &[("stroke", INK), ("stroke-width", "0.18")]);
        let end = std::array::from_fn(|i| self.zero[i] + self.along[i] * self.extent_cm * stage.mm_per_cm);
        stage.svg.line(self.zero, end, &[]);
        for n in (0..=count).filter(|n| n % fine == 0) {
            let long = if n % step == 0 {
                1.9
            } else if n % half == 0 {
                1.4
            } else {
                0.8
            };
            stage.svg.line(at(n, 0.0), at(n, long), &[]);
        }
        stage.svg.close();
        let numbers: Vec<i32> = (0..=count).filter(|n| n % step == 0).collect();
        let sideways = self.out[0] != 0.0;
        for n in &numbers {
            let last = *n == numbers[numbers.len() - 1];
            let words = if last { format!("{n} {name}") } else { n.to_string() };
            let [x, y] = at(*n, if sideways { 2.5 } else { 4.4 });
            let (y, hold) = match self.out {
                [o, _] if o < 0.0 => (y + 0.9, Hold::End),
                [o, _] if o > 0.0 => (y + 0.9, Hold::Start),
                _ => (y, Hold::Middle),
            };
            stage.words([x, y], &words, Slant::Upright, SMALL, hold);
        }
    }
}

/// How the tank is introduced under its name.
pub(super) fn sizes(view: &PictureView, units: UnitSystem) -> String {
    let cm = |v: f64| Length::from_cm(v).show_number(units);
    let height = Length::from_cm(view.height_cm).show(units);
    format!("{} × {} × {height} inside", cm(view.length_cm), cm(view.depth_cm))
}

/// The week in words.
pub(super) fn week_words(week: u32) -> String {
    match week {
        0 => "as planted".to_owned(),
        1 => "one week after planting".to_owned(),
        n => format!("{n} weeks after planting"),
    }
}
