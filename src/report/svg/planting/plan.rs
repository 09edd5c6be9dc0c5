//! The plan: the planted tank from above to scale, with every piece where it goes.

use std::fmt::Write;

use super::key;
use super::stage::{Hold, MARGIN, PAGE, RING, Ruler, SMALL, Stage, scale_of, sizes, week_words};
use super::{hatch, lines};
use crate::catalogue::GrowthForm;
use crate::report::svg::face::Slant;
use crate::report::svg::ink::{INK_RGB, Rgb, hex, mixed};
use crate::report::svg::labels::{Area, Place};
use crate::report::svg::light_map::{INK, PAPER};
use crate::report::svg::scatter::Scatter;
use crate::report::svg::writer::{Svg, number, path_data};
use crate::report::view::{DriftPictureView, PictureView, PieceView, StandView, encloses};
use crate::units::UnitSystem;

/// Top of the glass on the page.
const TOP: f64 = 36.0;

/// Where the glass lies on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plan {
    pub mm_per_cm: f64,
    left: f64,
    /// The front glass on the page.
    pub front: f64,
}

impl Plan {
    pub fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.left + x * self.mm_per_cm, self.front - y * self.mm_per_cm]
    }

    pub fn ring(&self, ring: &[[f64; 2]]) -> Vec<[f64; 2]> {
        ring.iter().map(|p| self.at(*p)).collect()
    }

    fn data(&self, rings: &[Vec<[f64; 2]>]) -> String {
        path_data(&rings.iter().map(|r| self.ring(r)).collect::<Vec<_>>())
    }
}

/// The plan of a planted tank as an SVG page.
pub fn plan_view(view: &PictureView, units: UnitSystem) -> String {
    let mm_per_cm = 10.0 / scale_of(view);
    let left = (PAGE - view.length_cm * mm_per_cm) / 2.0;
    let plan = Plan { mm_per_cm, left, front: TOP + mm_per_cm * view.depth_cm };
    let key_at = plan.front + 24.0;
    let height = key_at + key::height(view.drifts.len()) + 17.0;
    let title = format!("Plan of {}, {}", view.tank, week_words(view.week));
    let heading = format!("Plan, {}. {}, front glass below.", week_words(view.week), sizes(view, units));
    let mut stage = Stage::begin(view, height, [&title, &description(view)], &heading);
    stage.svg.open("defs", &[]);
    hatch::definitions(&mut stage.svg, &view.drifts);
    clips(&mut stage.svg, view, &plan);
    stage.svg.close();
    ground(&mut stage.svg, view, &plan);
    stage.svg.open("g", &[("clip-path", "url(#glass)")]);
    drifts(&mut stage.svg, view, &plan, StandView::Bed);
    for piece in &view.hardscape {
        hardscape(&mut stage.svg, piece, &plan);
    }
    drifts(&mut stage.svg, view, &plan, StandView::Hardscape);
    drifts(&mut stage.svg, view, &plan, StandView::Surface);
    zones(&mut stage.svg, view, &plan);
    stage.svg.close();
    let levels = lines::levels(view, &plan);
    lines::draw(&mut stage.svg, &levels);
    marks(&mut stage.svg, view, &plan);
    frame(&mut stage, view, &plan);
    numbers(&mut stage, view, &plan);
    zone_names(&mut stage, view, &plan);
    lines::label(&mut stage, view, &plan, &levels);
    key::draw_key(&mut stage, view, key_at, key::Sample::Hatch);
    foot(&mut stage, view, height);
    stage.svg.close();
    stage.svg.finish()
}

fn description(view: &PictureView) -> String {
    let each = |d: &DriftPictureView| {
        format!("{} {}: {} {} in {}", d.number, d.name, d.places_cm.len(), d.piece_word, d.zone)
    };
    let drifts: Vec<String> = view.drifts.iter().map(each).collect();
    format!(
        "The planted tank from above at 1 to {}, front glass below. Drifts by number: {}.",
        scale_of(view),
        drifts.join("; ")
    )
}

fn clips(svg: &mut Svg, view: &PictureView, plan: &Plan) {
    svg.open("clipPath", &[("id", "glass")]);
    svg.rect(plan.at([0.0, view.depth_cm]), [view.length_cm, view.depth_cm].map(|v| v * plan.mm_per_cm), &[]);
    svg.close();
    for drift in &view.drifts {
        svg.open("clipPath", &[("id", &format!("drift{}", drift.number))]);
        svg.leaf("path", &[("d", &plan.data(&drift.outline_cm)), ("clip-rule", "evenodd")]);
        svg.close();
    }
}

/// The bare bed.
fn ground(svg: &mut Svg, view: &PictureView, plan: &Plan) {
    let size = [view.length_cm, view.depth_cm].map(|v| v * plan.mm_per_cm);
    svg.rect(plan.at([0.0, view.depth_cm]), size, &[("fill", "#f4f0e4")]);
}

/// The drifts of a stand: pale where they will grow, stronger where leaves cover this week. Of what
/// floats only the leaves are drawn, so that the bed below stays to be seen.
fn drifts(svg: &mut Svg, view: &PictureView, plan: &Plan, stand: StandView) {
    for drift in view.drifts.iter().filter(|d| d.stand == stand) {
        let data = plan.data(&drift.outline_cm);
        let afloat = stand == StandView::Surface;
        let pattern = format!("url(#{})", hatch::pattern_id(drift));
        let area = [("d", &*data), ("fill-rule", "evenodd")];
        if !afloat {
            svg.leaf("path", &[&area[..], &[("fill", &*hatch::tint(drift, 0.2))]].concat());
        }
        let clip = format!("url(#drift{})", drift.number);
        let strong = hatch::tint(drift, 0.52);
        let fills: &[&str] = if afloat { &[&strong, &pattern] } else { &[&strong] };
        for fill in fills {
            let opacity = if afloat { "0.6" } else { "1" };
            svg.open("g", &[("clip-path", &clip), ("fill", fill), ("opacity", opacity)]);
            for place in &drift.places_cm {
                let [cx, cy] = plan.at([place[0], place[1]]).map(number);
                let r = number(drift.plant_width_cm() / 2.0 * plan.mm_per_cm);
                svg.leaf("circle", &[("cx", &cx), ("cy", &cy), ("r", &r)]);
            }
            svg.close();
        }
        let (fill, dashes) = if afloat { ("none", "3 1") } else { (&*pattern, "none") };
        let line = [("stroke", INK), ("stroke-width", "0.3"), ("stroke-linejoin", "round")];
        svg.leaf("path", &[&area[..], &line, &[("fill", fill), ("stroke-dasharray", dashes)]].concat());
    }
}

/// A piece from above: its outline a little rounded, with grain or facets.
fn hardscape(svg: &mut Svg, piece: &PieceView, plan: &Plan) {
    const WOOD: Rgb = [172.0, 145.0, 112.0];
    const ROCK: Rgb = [178.0, 178.0, 170.0];
    let ink = if piece.material == "wood" { WOOD } else { ROCK };
    let mut scatter = Scatter::new(piece.name.len() as u64 * 7 + 3);
    let ring = uneven(&piece.outline_cm, &mut scatter);
    let line = hex(mixed(ink, INK_RGB, 0.65));
    let data = path_data(&[plan.ring(&ring)]);
    svg.leaf(
        "path",
        &[
            ("d", &data),
            ("fill", &hex(ink)),
            ("stroke", &line),
            ("stroke-width", "0.35"),
            ("stroke-linejoin", "round"),
        ],
    );
    let count = ring.len() as f64;
    let centre = [0, 1].map(|i| ring.iter().map(|p| p[i]).sum::<f64>() / count);
    let toward = |p: [f64; 2], share: f64| [0, 1].map(|i| p[i] + (centre[i] - p[i]) * share);
    let mut data = String::new();
    if piece.material == "wood" {
        for share in [0.25, 0.5, 0.74] {
            let inner: Vec<[f64; 2]> = ring.iter().map(|p| toward(*p, share)).collect();
            data.push_str(&path_data(&[plan.ring(&inner)]));
        }
    } else {
        for p in ring.iter().step_by(4) {
            let [from, to] = [plan.at(toward(*p, 0.04)), plan.at(toward(*p, scatter.between(0.6, 0.95)))];
            let [x1, y1, x2, y2] = [from[0], from[1], to[0], to[1]].map(number);
            let _ = write!(data, "M{x1} {y1}L{x2} {y2}");
        }
    }
    svg.leaf("path", &[("d", &data), ("fill", "none"), ("stroke", &line), ("stroke-width", "0.16")]);
}

/// An outline with points between its corners, a little off the straight, corners cut.
fn uneven(corners: &[[f64; 2]], scatter: &mut Scatter) -> Vec<[f64; 2]> {
    let mut ring = Vec::new();
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let length = (b[0] - a[0]).hypot(b[1] - a[1]);
        for share in [0.12, 0.32, 0.5, 0.68, 0.88] {
            // Only inwards: a piece is no larger than its outline.
            let off = scatter.between(0.0, 0.05) * length;
            let [nx, ny] = [-(b[1] - a[1]) / length.max(1e-9), (b[0] - a[0]) / length.max(1e-9)];
            let turn = if area(corners) > 0.0 { 1.0 } else { -1.0 };
            ring.push([
                a[0] + (b[0] - a[0]) * share + turn * off * nx,
                a[1] + (b[1] - a[1]) * share + turn * off * ny,
            ]);
        }
    }
    ring
}

/// Twice the area, positive for a ring that runs counter-clockwise.
fn area(ring: &[[f64; 2]]) -> f64 {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum()
}

fn zones(svg: &mut Svg, view: &PictureView, plan: &Plan) {
    let look = [("fill", "none"), ("stroke", INK), ("stroke-width", "0.28"), ("stroke-dasharray", "1.6 1.2")];
    for zone in view.zones.iter().filter(|z| !z.outline_cm.is_empty()) {
        svg.leaf("path", &[&[("d", &*plan.data(&zone.outline_cm))][..], &look[..]].concat());
    }
}

/// Where each piece goes: a mark by the form of the plant, on a halo of paper.
fn marks(svg: &mut Svg, view: &PictureView, plan: &Plan) {
    for drift in &view.drifts {
        let mut data = String::new();
        for place in &drift.places_cm {
            let [x, y] = plan.at([place[0], place[1]]);
            let _ = write!(data, "M{} {}{}", number(x), number(y), mark(drift.growth_form));
        }
        marked(svg, &data);
    }
}

/// Marks in ink on a halo of paper.
fn marked(svg: &mut Svg, data: &str) {
    for (stroke, width) in [(PAPER, "1.1"), (INK, "0.38")] {
        let look = [("fill", "none"), ("stroke", stroke), ("stroke-width", width)];
        let round = [("stroke-linecap", "round"), ("stroke-linejoin", "round")];
        svg.leaf("path", &[&[("d", data)][..], &look, &round].concat());
    }
}

/// The mark of a form, as path data from its middle.
fn mark(form: GrowthForm) -> &'static str {
    match form {
        GrowthForm::Stem => "m-.6-.6l1.2 1.2m0-1.2l-1.2 1.2",
        GrowthForm::Rosette | GrowthForm::Bulb | GrowthForm::Runner => {
            "m-.7 0a.7.7 0 1 0 1.4 0a.7.7 0 1 0-1.4 0z"
        }
        GrowthForm::Rhizome | GrowthForm::Fern => "m-.9 .35l1.8-.7",
        GrowthForm::Floater => "m-.8 0h1.6m-.8-.8v1.6",
        _ => "m-.2 0a.2.2 0 1 0 .4 0a.2.2 0 1 0-.4 0z",
    }
}

/// The glass, its rulers, and which side is which.
fn frame(stage: &mut Stage, view: &PictureView, plan: &Plan) {
    let (left, right) = (plan.at([0.0, 0.0])[0], plan.at([view.length_cm, 0.0])[0]);
    let top = plan.at([0.0, view.depth_cm])[1];
    let wall = 1.1;
    let size = [right - left + wall, plan.front - top + wall];
    stage.svg.rect(
        [left - wall / 2.0, top - wall / 2.0],
        size,
        &[("fill", "none"), ("stroke", "#dfe9e8"), ("stroke-width", &number(wall))],
    );
    for grown in [0.0, wall] {
        let at = [left - grown, top - grown];
        let size = [right - left + 2.0 * grown, plan.front - top + 2.0 * grown];
        stage.svg.rect(at, size, &[("fill", "none"), ("stroke", INK), ("stroke-width", "0.25")]);
    }
    for (zero, along, out, extent_cm, inches) in [
        ([left - wall - 1.2, plan.front], [0.0, -1.0], [-1.0, 0.0], view.depth_cm, false),
        ([right + wall + 1.2, plan.front], [0.0, -1.0], [1.0, 0.0], view.depth_cm, true),
        ([left, plan.front + wall + 1.2], [1.0, 0.0], [0.0, 1.0], view.length_cm, false),
        ([left, plan.front + wall + 8.6], [1.0, 0.0], [0.0, 1.0], view.length_cm, true),
    ] {
        Ruler { zero, along, out, extent_cm, inches }.draw(stage);
    }
    let middle = f64::midpoint(left, right);
    stage.words([middle, top - 2.6], "back glass", Slant::Italic, SMALL, Hold::Middle);
    stage.words([middle, plan.front + 19.0], "front glass", Slant::Italic, SMALL, Hold::Middle);
}

/// The number of each drift, where it has most room inside; several for a drift in several parts.
fn numbers(stage: &mut Stage, view: &PictureView, plan: &Plan) {
    for drift in &view.drifts {
        let mut inner = inner_places(drift, plan);
        let around = |p: [f64; 2]| Place {
            area: Area::new([p[0] - RING, p[1] - RING], [2.0 * RING, 2.0 * RING]),
            leader: Vec::new(),
        };
        if inner.is_empty() {
            inner = drift.places_cm.iter().map(|p| plan.at([p[0], p[1]])).collect();
        }
        let near = |p: &[f64; 2]| {
            let p = *p;
            (0..40).map(move |k| {
                let (turn, away) = (f64::from(k) * 2.4, 0.9 * f64::from(k));
                [p[0] + away * libm::cos(turn), p[1] + away * libm::sin(turn)]
            })
        };
        let spots: Vec<[f64; 2]> =
            inner.iter().copied().chain(inner.first().into_iter().flat_map(near)).collect();
        if let Some(place) = stage.page.first(spots.into_iter().map(around)) {
            let at = [
                f64::midpoint(place.area.left, place.area.right),
                f64::midpoint(place.area.top, place.area.bottom),
            ];
            stage.ring(at, drift.number);
        }
    }
}

/// Places inside a drift on the page, the farthest from its border and its marks first.
fn inner_places(drift: &DriftPictureView, plan: &Plan) -> Vec<[f64; 2]> {
    const STEPS: usize = 22;
    let rings: Vec<Vec<[f64; 2]>> = drift.outline_cm.iter().map(|r| plan.ring(r)).collect();
    let marks: Vec<[f64; 2]> = drift.places_cm.iter().map(|p| plan.at([p[0], p[1]])).collect();
    let span = |axis: usize| {
        let values = || rings.iter().flatten().map(|p| p[axis]);
        (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max))
    };
    let ((x0, x1), (y0, y1)) = (span(0), span(1));
    let mut found: Vec<(f64, [f64; 2])> = Vec::new();
    for i in 1..STEPS {
        for j in 1..STEPS {
            let [across, down] = [i, j].map(|k| k as f64 / STEPS as f64);
            let at = [x0 + (x1 - x0) * across, y0 + (y1 - y0) * down];
            // Inside an odd number of rings: holes are left out.
            if rings.iter().filter(|r| encloses(r, at)).count() % 2 == 1 {
                let border = rings.iter().map(|r| lines::to_border(r, at)).fold(6.0, f64::min);
                let mark = marks.iter().map(|m| (m[0] - at[0]).hypot(m[1] - at[1])).fold(3.0, f64::min);
                found.push((border + 0.8 * mark, at));
            }
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().map(|(_, at)| at).take(60).collect()
}

/// The name of each zone inside it, or beside it, where nothing else stands.
fn zone_names(stage: &mut Stage, view: &PictureView, plan: &Plan) {
    for zone in view.zones.iter().filter(|z| !z.outline_cm.is_empty()) {
        let words = stage.face.fitted(&zone.name, Slant::Italic, SMALL, 60.0);
        let width = stage.face.width(&words, Slant::Italic, SMALL) + 1.2;
        let ring = plan.ring(&zone.outline_cm[0]);
        let span = |axis: usize| {
            let values = || ring.iter().map(|p| p[axis]);
            (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max))
        };
        let ((x0, x1), (y0, y1)) = (span(0), span(1));
        let high = SMALL + 0.8;
        let rows = [y0 + 0.8, y1 - high - 0.8, f64::midpoint(y0, y1)];
        let spots = rows.into_iter().flat_map(|y| {
            let end = (x1 - width - 0.8).max(x0 + 0.8);
            (0..=24).map(move |k| [x0 + 0.8 + (end - x0 - 0.8) * f64::from(k) / 24.0, y])
        });
        let places = spots.map(|at| Place { area: Area::new(at, [width, high]), leader: Vec::new() });
        if let Some(place) = stage.page.first(places) {
            let a = place.area;
            stage.svg.rect(
                [a.left, a.top],
                [width, high],
                &[("rx", "0.8"), ("fill", PAPER), ("fill-opacity", "0.9")],
            );
            let at = [number(a.left + 0.6), number(a.bottom - 0.95), number(SMALL)];
            stage.svg.words(
                "text",
                &[("x", &at[0]), ("y", &at[1]), ("font-size", &at[2]), ("font-style", "italic")],
                &words,
            );
        }
    }
}

/// Scale, and what marks and lines mean.
fn foot(stage: &mut Stage, view: &PictureView, height: f64) {
    let y = height - 7.0;
    let words = format!(
        "1 : {} when printed at its own size. Dashed: zones. The stronger tint is what leaves cover{}. A piece goes at each mark:",
        number(scale_of(view)),
        if view.light.is_some() { "; dotted: equal light on the bed, µmol/m²/s" } else { "" }
    );
    let mut x = stage.words([MARGIN, y], &words, Slant::Italic, SMALL, Hold::Start).right + 3.0;
    for (form, word) in [
        (GrowthForm::Stem, "stem"),
        (GrowthForm::Rosette, "crown"),
        (GrowthForm::Rhizome, "rhizome"),
        (GrowthForm::Moss, "tuft"),
        (GrowthForm::Floater, "afloat"),
    ] {
        marked(&mut stage.svg, &format!("M{} {}{}", number(x), number(y - 0.8), mark(form)));
        x = stage.words([x + 1.8, y], word, Slant::Italic, SMALL, Hold::Start).right + 3.0;
    }
}
