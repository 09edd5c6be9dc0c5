//! The plan: the planted tank from above to scale, with every piece where it goes.

use super::key;
use super::stage::{Hold, PAGE, RING, Ruler, SMALL, Stage, scale_of, sizes, week_words};
use super::{hatch, lines, marks, pieces};
use crate::report::svg::face::Slant;
use crate::report::svg::labels::{Area, Place};
use crate::report::svg::light_map::INK;
use crate::report::svg::writer::{Svg, number, path_data};
use crate::report::view::{DriftPictureView, PictureView, StandView, encloses};
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
    let height = key_at + key::height(view.drifts.len()) + 19.0;
    let title = format!("Plan of {}, {}", view.tank, week_words(view.week));
    let heading = format!("Plan, {}. {}, front glass below.", week_words(view.week), sizes(view, units));
    let mut stage = Stage::begin(view, height, [&title, &description(view)], &heading);
    stage.svg.open("defs", &[]);
    let hatches = hatch::definitions(&mut stage.svg, &view.drifts);
    clips(&mut stage.svg, view, &plan);
    stage.svg.close();
    ground(&mut stage.svg, view, &plan);
    stage.svg.open("g", &[("clip-path", "url(#glass)")]);
    let drifts = |svg: &mut Svg, stand: StandView| drifts(svg, view, &plan, &hatches, stand);
    drifts(&mut stage.svg, StandView::Bed);
    for piece in &view.hardscape {
        pieces::draw(&mut stage.svg, piece, &plan);
    }
    drifts(&mut stage.svg, StandView::Hardscape);
    drifts(&mut stage.svg, StandView::Surface);
    zones(&mut stage.svg, view, &plan);
    stage.svg.close();
    let levels = lines::levels(view, &plan);
    lines::draw(&mut stage.svg, &levels);
    marks::draw(&mut stage.svg, view, &plan);
    frame(&mut stage, view, &plan);
    numbers(&mut stage, view, &plan);
    zone_names(&mut stage, view, &plan);
    lines::label(&mut stage, view, &plan, &levels);
    key::draw_key(&mut stage, view, key_at, key::Sample::Hatch(&hatches));
    marks::foot(&mut stage, view, height);
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
        if drift.stand == StandView::Surface {
            svg.open("clipPath", &[("id", &format!("leaves{}", drift.number))]);
            leaves(svg, drift, plan);
            svg.close();
        }
    }
}

/// The bare bed.
fn ground(svg: &mut Svg, view: &PictureView, plan: &Plan) {
    let size = [view.length_cm, view.depth_cm].map(|v| v * plan.mm_per_cm);
    svg.rect(plan.at([0.0, view.depth_cm]), size, &[("fill", "#f4f0e4")]);
}

/// The drifts of a stand: pale where they will grow, stronger where leaves cover this week. Of what
/// floats only the leaves are drawn, thin, so that the bed below stays to be seen.
fn drifts(svg: &mut Svg, view: &PictureView, plan: &Plan, hatches: &[hatch::Hatch], stand: StandView) {
    let all = view.drifts.iter().zip(hatches);
    for (drift, hatch) in all.filter(|(d, _)| d.stand == stand) {
        let data = plan.data(&drift.outline_cm);
        let rings: Vec<Vec<[f64; 2]>> = drift.outline_cm.iter().map(|r| plan.ring(r)).collect();
        let afloat = stand == StandView::Surface;
        let area = [("d", &*data), ("fill-rule", "evenodd")];
        if !afloat {
            svg.leaf("path", &[&area[..], &[("fill", &*hatch::tint(drift, 0.2))]].concat());
        }
        svg.open("g", &[("clip-path", &format!("url(#drift{})", drift.number))]);
        let opacity = if afloat { "0.5" } else { "1" };
        svg.open("g", &[("fill", &*hatch::tint(drift, 0.52)), ("opacity", opacity)]);
        leaves(svg, drift, plan);
        svg.close();
        if afloat {
            svg.open("g", &[("clip-path", &format!("url(#leaves{})", drift.number)), ("opacity", "0.6")]);
            hatch::lay(svg, drift, *hatch, &rings);
            svg.close();
        } else {
            hatch::lay(svg, drift, *hatch, &rings);
        }
        svg.close();
        let line = [("fill", "none"), ("stroke", INK), ("stroke-width", "0.3"), ("stroke-linejoin", "round")];
        let dashes = [("stroke-dasharray", if afloat { "3 1" } else { "none" })];
        svg.leaf("path", &[&area[..], &line, &dashes].concat());
    }
}

/// What the leaves of a drift cover this week.
fn leaves(svg: &mut Svg, drift: &DriftPictureView, plan: &Plan) {
    let r = number(drift.plant_width_cm() / 2.0 * plan.mm_per_cm);
    for place in &drift.places_cm {
        let [cx, cy] = plan.at([place[0], place[1]]).map(number);
        svg.leaf("circle", &[("cx", &cx), ("cy", &cy), ("r", &r)]);
    }
}

fn zones(svg: &mut Svg, view: &PictureView, plan: &Plan) {
    let look = [("fill", "none"), ("stroke", INK), ("stroke-width", "0.28"), ("stroke-dasharray", "1.6 1.2")];
    for zone in view.zones.iter().filter(|z| !z.outline_cm.is_empty()) {
        svg.leaf("path", &[&[("d", &*plan.data(&zone.outline_cm))][..], &look[..]].concat());
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
        let [width, high] = stage.plate_size(&words, Slant::Italic);
        let ring = plan.ring(&zone.outline_cm[0]);
        let span = |axis: usize| {
            let values = || ring.iter().map(|p| p[axis]);
            (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max))
        };
        let ((x0, x1), (y0, y1)) = (span(0), span(1));
        let rows = [y0 + 0.8, y1 - high - 0.8, f64::midpoint(y0, y1)];
        let spots = rows.into_iter().flat_map(|y| {
            let end = (x1 - width - 0.8).max(x0 + 0.8);
            (0..=24).map(move |k| [x0 + 0.8 + (end - x0 - 0.8) * f64::from(k) / 24.0, y])
        });
        let places = spots.map(|at| Place { area: Area::new(at, [width, high]), leader: Vec::new() });
        if let Some(place) = stage.page.first(places) {
            stage.plate(place.area, &words, Slant::Italic);
        }
    }
}
