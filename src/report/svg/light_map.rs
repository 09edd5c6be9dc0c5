//! The light map: the plan of the bed to scale, with lines of equal light.

use super::contours::{Grid, Ring};
use super::light_legend::legend;
use super::writer::{Svg, number, path_data};
use crate::report::view::{LampView, PieceView, ReadingView, TankReportView, ZonePlanView, encloses};
use crate::units::{Length, Quantity, UnitSystem};

/// mm, the width of A4 and US letter paper taken together.
pub(super) const PAGE: f64 = 210.0;
pub(super) const MARGIN: f64 = 20.0;
/// Top of the plan.
const TOP: f64 = 42.0;
/// Room for the plan.
const ROOM: [f64; 2] = [PAGE - 2.0 * MARGIN, 180.0];
/// Scales an engineer would pick.
const SCALES: [f64; 16] =
    [0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0];
pub(super) const INK: &str = "#1c2826";
pub(super) const PAPER: &str = "#fffefa";
/// The darkest band; the brightest is the paper.
const DUSK: [f64; 3] = [128.0, 143.0, 141.0];
const DAY: [f64; 3] = [255.0, 254.0, 250.0];
const FONT: &str = "Georgia, 'Times New Roman', 'DejaVu Serif', serif";
pub(super) const DASHES: &str = "1.6 1.2";
const DASH_PERIOD: f64 = 2.8;
/// mm on paper between two corners of a line of equal light, about.
const FINEST: f64 = 0.8;
/// Half the width of a digit at 1 mm of font size, about.
const HALF_DIGIT: f64 = 0.29;

/// Where the plan lies on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plan {
    pub length: f64,
    pub depth: f64,
    /// One to so many.
    pub scale: f64,
    left: f64,
    /// The front glass.
    pub bottom: f64,
    pub units: UnitSystem,
}

impl Plan {
    fn new(view: &TankReportView, units: UnitSystem) -> Self {
        let (length, depth) = (view.light.map.length_cm(), view.light.map.depth_cm());
        let fits = |s: &f64| length * 10.0 / s <= ROOM[0] && depth * 10.0 / s <= ROOM[1];
        let most = (length * 10.0 / ROOM[0]).max(depth * 10.0 / ROOM[1]).ceil();
        let scale = SCALES.into_iter().find(fits).unwrap_or(most);
        Self { length, depth, scale, left: MARGIN, bottom: TOP + depth * 10.0 / scale, units }
    }

    /// mm on the page of a length in cm.
    pub fn mm(&self, cm: f64) -> f64 {
        cm * 10.0 / self.scale
    }

    /// A point of the plan on the page.
    fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.left + self.mm(x), self.bottom - self.mm(y)]
    }

    fn ring(&self, ring: &[[f64; 2]]) -> Ring {
        ring.iter().map(|p| self.at(*p)).collect()
    }

    /// cm in the reader's unit, and its name.
    pub fn unit(&self) -> (f64, &'static str) {
        match self.units {
            UnitSystem::Metric => (1.0, "cm"),
            UnitSystem::Us => (2.54, "in"),
        }
    }

    /// cm between numbers of an axis, at least 12 mm apart.
    pub fn tick(&self) -> f64 {
        let ticks = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0].map(|t| t * self.unit().0);
        ticks.into_iter().find(|t| self.mm(*t) >= 12.0).unwrap_or(self.length)
    }
}

/// The tint of a band, counted from the darkest.
pub(super) fn tint(band: usize, bands: usize) -> String {
    let share = if bands < 2 { 1.0 } else { band as f64 / (bands - 1) as f64 };
    let [r, g, b] = std::array::from_fn(|i| (DUSK[i] + (DAY[i] - DUSK[i]) * share).round() as u8);
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// The light map of a tank as an SVG page.
pub fn light_map(view: &TankReportView, units: UnitSystem) -> String {
    let plan = Plan::new(view, units);
    let bottom = legend(None, view, &plan);
    let mut svg =
        Svg::page(PAGE, bottom, &format!("Light on the bed: {}", view.tank.name), &description(view, &plan));
    svg.rect([0.0, 0.0], [PAGE, bottom], &[("fill", PAPER)]);
    svg.open("g", &[("font-family", FONT), ("fill", INK), ("stroke", "none")]);
    definitions(&mut svg, &plan);
    heading(&mut svg, view, units);
    let marks = shaded(&mut svg, view, &plan);
    svg.open("g", &[("clip-path", "url(#glass)")]);
    for piece in &view.hardscape {
        hardscape(&mut svg, piece, &plan);
    }
    zone_borders(&mut svg, &view.zone_plan, &plan);
    svg.close();
    lamps(&mut svg, &view.light.lamps, &plan);
    readings(&mut svg, &view.light.readings, &plan);
    labels(&mut svg, &marks);
    zone_numbers(&mut svg, &view.zone_plan, &plan);
    frame(&mut svg, &plan);
    legend(Some(&mut svg), view, &plan);
    svg.close();
    svg.finish()
}

fn description(view: &TankReportView, plan: &Plan) -> String {
    let tank = &view.tank;
    format!(
        "Plan of the bed at 1 to {}, front glass below. Photosynthetic light on a level leaf at the bed: mean {}, \
         from {} to {} micromole per square metre and second, shaded in {} bands with lines of equal light.",
        plan.scale,
        tank.ppfd_mean_umol_m2_s,
        view.light.least.ppfd_umol_m2_s,
        view.light.most.ppfd_umol_m2_s,
        view.light.bands.len()
    )
}

fn definitions(svg: &mut Svg, plan: &Plan) {
    let [x, y] = plan.at([0.0, plan.depth]);
    let size = [plan.mm(plan.length), plan.mm(plan.depth)];
    svg.open("defs", &[]);
    svg.open("clipPath", &[("id", "glass")]);
    svg.rect([x, y], size, &[]);
    svg.close();
    // Lamps may hang over the edge of the glass, but not over the words.
    svg.open("clipPath", &[("id", "around")]);
    let over = 9.0;
    svg.rect([x - over, y - over], [size[0] + 2.0 * over, size[1] + 2.0 * over], &[]);
    svg.close();
    let pattern = [
        ("id", "piece"),
        ("patternUnits", "userSpaceOnUse"),
        ("width", "1.6"),
        ("height", "1.6"),
        ("patternTransform", "rotate(45)"),
    ];
    svg.open("pattern", &pattern);
    svg.rect([0.0, 0.0], [1.6, 1.6], &[("fill", PAPER)]);
    svg.rect([0.0, 0.0], [0.22, 1.6], &[("fill", INK)]);
    svg.close();
    svg.close();
}

fn heading(svg: &mut Svg, view: &TankReportView, units: UnitSystem) {
    let tank = &view.tank;
    let cm = |v: f64| Length::from_cm(v).show_number(units);
    let height = Length::from_cm(tank.height_cm).show(units);
    let water = Length::from_cm(tank.water_cm).show(units);
    // A long name is set smaller, so that it stays on the page.
    let size = (ROOM[0] / (tank.name.chars().count() as f64 * 0.56)).clamp(2.5, 7.5);
    svg.open("g", &[("font-size", &number(size))]);
    svg.label(MARGIN, 19.0, &tank.name);
    svg.close();
    let words = format!(
        "Light on the bed. {} × {} × {height} inside, water at {water}, {} h of light a day.",
        cm(tank.length_cm),
        cm(tank.depth_cm),
        tank.light_hours
    );
    svg.open("g", &[("font-size", "3.4"), ("font-style", "italic")]);
    svg.label(MARGIN, 26.0, &words);
    svg.close();
}

/// A number on a line of equal light.
struct Mark {
    at: [f64; 2],
    degrees: f64,
    words: String,
    halo: String,
}

/// The bands and the lines between them; gives where the numbers of the lines go.
fn shaded(svg: &mut Svg, view: &TankReportView, plan: &Plan) -> Vec<Mark> {
    let map = &view.light.map;
    let times = (plan.mm(map.cell_x_cm.max(map.cell_y_cm)) / FINEST).round().clamp(1.0, 5.0) as usize;
    let grid = Grid::of(map, times);
    let bands = &view.light.bands;
    let [x, y] = plan.at([0.0, plan.depth]);
    svg.rect([x, y], [plan.mm(plan.length), plan.mm(plan.depth)], &[("fill", &tint(0, bands.len()))]);
    let mut kept_clear: Vec<[f64; 2]> = view.zone_plan.iter().map(|z| plan.at(z.mark_cm)).collect();
    let covered: Vec<Ring> = view.hardscape.iter().map(|p| plan.ring(&p.outline_cm)).collect();
    let mut marks = Vec::new();
    for (index, band) in bands.iter().enumerate() {
        let middle = f64::midpoint(band.from_umol_m2_s, band.to_umol_m2_s);
        if index > 0 {
            let rings: Vec<Ring> = grid.rings(band.from_umol_m2_s).iter().map(|r| plan.ring(r)).collect();
            let fill = tint(index, bands.len());
            let line = [("stroke", INK), ("stroke-width", "0.3"), ("stroke-linejoin", "round")];
            let shape = [("d", &*path_data(&rings)), ("fill", &fill), ("fill-rule", "evenodd")];
            svg.leaf("path", &[&shape[..], &line[..]].concat());
            for ring in &rings {
                let words = format!("{}", band.from_umol_m2_s);
                if let Some((at, degrees)) = plan.quiet_place(ring, &kept_clear, &covered) {
                    kept_clear.push(at);
                    marks.push(Mark { at, degrees, words, halo: fill.clone() });
                }
            }
        }
        // A fine line halfway, so that a flat field still shows its shape.
        let rings: Vec<Ring> = grid.rings(middle).iter().map(|r| plan.ring(r)).collect();
        if !rings.is_empty() {
            let fine =
                [("fill", "none"), ("stroke", INK), ("stroke-width", "0.1"), ("stroke-opacity", "0.7")];
            svg.leaf("path", &[&[("d", &*path_data(&rings))][..], &fine[..]].concat());
        }
    }
    marks
}

impl Plan {
    /// The place on a ring farthest from the glass, from what is `kept_clear` and from what is
    /// `covered`, and the angle of the ring there; `None` when it would be crowded.
    fn quiet_place(
        &self,
        ring: &[[f64; 2]],
        kept_clear: &[[f64; 2]],
        covered: &[Ring],
    ) -> Option<([f64; 2], f64)> {
        const NEAREST: f64 = 5.0;
        let [left, top] = self.at([0.0, self.depth]);
        let [right, bottom] = self.at([self.length, 0.0]);
        let room = |p: &[f64; 2]| {
            let glass = (p[0] - left).min(right - p[0]).min(p[1] - top).min(bottom - p[1]);
            let away = kept_clear.iter().map(|k| (k[0] - p[0]).hypot(k[1] - p[1]));
            let near = covered.iter().map(|c| to_border(c, *p)).fold(f64::INFINITY, f64::min);
            // The glass and hardscape may be nearer than another number.
            away.fold(1.4 * glass.min(near), f64::min)
        };
        let around: f64 = (0..ring.len()).map(|i| distance(ring[i], ring[(i + 1) % ring.len()])).sum();
        let best = (0..ring.len()).max_by(|a, b| room(&ring[*a]).total_cmp(&room(&ring[*b])))?;
        if around < 20.0 || room(&ring[best]) < NEAREST {
            return None;
        }
        let count = ring.len();
        let (before, after) = (ring[(best + count - 2) % count], ring[(best + 2) % count]);
        let mut degrees = libm::atan2(after[1] - before[1], after[0] - before[0]).to_degrees();
        if degrees.abs() > 90.0 {
            degrees -= 180.0 * degrees.signum();
        }
        Some((ring[best], degrees))
    }
}

/// How far a point lies outside a polygon; 0 inside.
fn to_border(corners: &[[f64; 2]], p: [f64; 2]) -> f64 {
    if encloses(corners, p) {
        return 0.0;
    }
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    let away = sides.map(|(a, b)| {
        let along = [b[0] - a[0], b[1] - a[1]];
        let length = (along[0] * along[0] + along[1] * along[1]).max(f64::MIN_POSITIVE);
        let share = (((p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1]) / length).clamp(0.0, 1.0);
        distance(p, [a[0] + share * along[0], a[1] + share * along[1]])
    });
    away.fold(f64::INFINITY, f64::min)
}

fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

fn labels(svg: &mut Svg, marks: &[Mark]) {
    svg.open("g", &[("font-size", "2.9"), ("text-anchor", "middle")]);
    for mark in marks {
        let [x, y] = mark.at.map(number);
        let turn = format!("translate({x} {y}) rotate({})", number(mark.degrees));
        svg.open("g", &[("transform", &turn)]);
        let half = mark.words.len() as f64 * HALF_DIGIT * 2.9 + 0.5;
        svg.rect([-half, -1.3], [2.0 * half, 2.6], &[("fill", &mark.halo)]);
        svg.label(0.0, 1.0, &mark.words);
        svg.close();
    }
    svg.close();
}

fn hardscape(svg: &mut Svg, piece: &PieceView, plan: &Plan) {
    let data = path_data(&[plan.ring(&piece.outline_cm)]);
    let line = [("stroke", INK), ("stroke-width", "0.45"), ("stroke-linejoin", "round")];
    svg.leaf("path", &[&[("d", &*data), ("fill", "url(#piece)")][..], &line[..]].concat());
}

/// The borders, side by side: each is dashed from the same origin, so that dashes of zones with a
/// common border fall on each other.
fn zone_borders(svg: &mut Svg, zones: &[ZonePlanView], plan: &Plan) {
    let dashes = [("stroke", INK), ("stroke-width", "0.35"), ("stroke-dasharray", DASHES)];
    svg.open("g", &dashes);
    for zone in zones {
        let ring = plan.ring(&zone.outline_cm);
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            let (from, to) = if (a[0] + a[1], a[0]) <= (b[0] + b[1], b[0]) { (a, b) } else { (b, a) };
            let offset = (from[0] + from[1]).rem_euclid(DASH_PERIOD);
            svg.line(*from, *to, &[("stroke-dashoffset", &number(offset))]);
        }
    }
    svg.close();
}

fn zone_numbers(svg: &mut Svg, zones: &[ZonePlanView], plan: &Plan) {
    svg.open("g", &[("font-size", "3.2"), ("text-anchor", "middle")]);
    for (i, zone) in zones.iter().enumerate() {
        numbered(svg, plan.at(zone.mark_cm), i + 1);
    }
    svg.close();
}

/// The number of a zone in a ring.
pub(super) fn numbered(svg: &mut Svg, [x, y]: [f64; 2], index: usize) {
    let ring = [("r", "2.5"), ("fill", PAPER), ("stroke", INK), ("stroke-width", "0.3")];
    svg.leaf("circle", &[&[("cx", &*number(x)), ("cy", &*number(y))][..], &ring[..]].concat());
    svg.label(x, y + 1.1, &index.to_string());
}

fn lamps(svg: &mut Svg, lamps: &[LampView], plan: &Plan) {
    svg.open("g", &[("clip-path", "url(#around)"), ("font-size", "2.6"), ("font-style", "italic")]);
    for lamp in lamps {
        let [half_x, half_y] = lamp.size_cm.map(|s| s / 2.0);
        let corner = plan.at([lamp.at_cm[0] - half_x, lamp.at_cm[1] + half_y]);
        let size = lamp.size_cm.map(|s| plan.mm(s));
        svg.rect(
            corner,
            size,
            &[("fill", "none"), ("stroke", INK), ("stroke-width", "0.4"), ("stroke-dasharray", "6 1 0.8 1")],
        );
    }
    svg.close();
}

fn readings(svg: &mut Svg, readings: &[ReadingView], plan: &Plan) {
    for reading in readings {
        cross(svg, plan.at([reading.x_cm, reading.y_cm]));
    }
}

/// The mark of a reading.
pub(super) fn cross(svg: &mut Svg, [x, y]: [f64; 2]) {
    for (stroke, width) in [(PAPER, "1.1"), (INK, "0.45")] {
        let line = [("stroke", stroke), ("stroke-width", width), ("stroke-linecap", "round")];
        svg.line([x - 1.3, y - 1.3], [x + 1.3, y + 1.3], &line);
        svg.line([x - 1.3, y + 1.3], [x + 1.3, y - 1.3], &line);
    }
}

/// The glass with its axes.
fn frame(svg: &mut Svg, plan: &Plan) {
    let [left, top] = plan.at([0.0, plan.depth]);
    let size = [plan.mm(plan.length), plan.mm(plan.depth)];
    svg.rect([left, top], size, &[("fill", "none"), ("stroke", INK), ("stroke-width", "0.7")]);
    let (unit_cm, unit) = plan.unit();
    let tick = plan.tick();
    let numbers = |extent: f64| (0..=(extent / tick + 1e-6) as usize).map(move |i| i as f64 * tick);
    svg.open("g", &[("stroke", INK), ("stroke-width", "0.25")]);
    for cm in numbers(plan.length) {
        let [x, y] = plan.at([cm, 0.0]);
        svg.line([x, y], [x, y + 1.6], &[]);
    }
    for cm in numbers(plan.depth) {
        let [x, y] = plan.at([0.0, cm]);
        svg.line([x, y], [x - 1.6, y], &[]);
    }
    svg.close();
    svg.open("g", &[("font-size", "2.9"), ("text-anchor", "middle")]);
    for cm in numbers(plan.length) {
        svg.label(plan.at([cm, 0.0])[0], plan.bottom + 4.6, &number(cm / unit_cm));
    }
    let [middle, right] = [left + size[0] / 2.0, left + size[0]];
    svg.open("g", &[("font-style", "italic")]);
    svg.label(middle, plan.bottom + 9.0, "front glass");
    svg.label(middle, top - 2.2, "back glass");
    svg.close();
    svg.close();
    svg.open("g", &[("font-size", "2.9"), ("text-anchor", "end")]);
    for cm in numbers(plan.depth) {
        svg.label(left - 2.4, plan.at([0.0, cm])[1] + 1.0, &number(cm / unit_cm));
    }
    svg.label(right, plan.bottom + 9.0, unit);
    svg.close();
}
