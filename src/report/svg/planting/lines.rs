//! Lines of equal light over the plan, and how far a place lies from a border.

use super::plan::Plan;
use super::stage::Stage;
use crate::report::svg::contours::Grid;
use crate::report::svg::face::Slant;
use crate::report::svg::labels::{Area, Place};
use crate::report::svg::light_map::{INK, PAPER};
use crate::report::svg::writer::{Svg, number, path_data};
use crate::report::view::PictureView;

/// A line of equal light on the page with its PPFD.
pub(super) struct Level {
    ppfd_umol_m2_s: f64,
    rings: Vec<Vec<[f64; 2]>>,
}

/// The lines between the bands of light.
pub(super) fn levels(view: &PictureView, plan: &Plan) -> Vec<Level> {
    let Some(light) = &view.light else { return Vec::new() };
    let grid = Grid::of(&light.map, 3);
    let level = |ppfd: f64| Level {
        ppfd_umol_m2_s: ppfd,
        rings: grid.rings(ppfd).iter().map(|r| plan.ring(r)).collect(),
    };
    let all = light.bands.iter().skip(1).map(|b| level(b.from_umol_m2_s));
    all.filter(|l| !l.rings.is_empty()).collect()
}

/// The lines, dotted.
pub(super) fn draw(svg: &mut Svg, levels: &[Level]) {
    for level in levels {
        dotted(svg, &path_data(&level.rings));
    }
}

/// The number of each line where there is room for it.
pub(super) fn label(stage: &mut Stage, view: &PictureView, plan: &Plan, levels: &[Level]) {
    for level in levels {
        marked(stage, view, plan, &level.rings, &number(level.ppfd_umol_m2_s));
    }
}

/// A dotted line on a halo of paper.
fn dotted(svg: &mut Svg, data: &str) {
    svg.open("g", &[("clip-path", "url(#glass)"), ("fill", "none"), ("stroke-linejoin", "round")]);
    let halo = [("stroke", PAPER), ("stroke-width", "0.9"), ("stroke-opacity", "0.8")];
    svg.leaf("path", &[&[("d", data)][..], &halo].concat());
    let dots = [
        ("stroke", INK),
        ("stroke-width", "0.42"),
        ("stroke-dasharray", "0.05 1.1"),
        ("stroke-linecap", "round"),
    ];
    svg.leaf("path", &[&[("d", data)][..], &dots].concat());
    svg.close();
}

/// The number of a line at the first place on it that is free.
fn marked(stage: &mut Stage, view: &PictureView, plan: &Plan, rings: &[Vec<[f64; 2]>], words: &str) {
    let size = stage.plate_size(words, Slant::Upright);
    let [left, top] = plan.at([0.0, view.depth_cm]);
    let [right, bottom] = plan.at([view.length_cm, 0.0]);
    let glass = Area { left, top, right, bottom }.grown(-0.5);
    let around = |p: &[f64; 2]| Place {
        area: Area::new([p[0] - size[0] / 2.0, p[1] - size[1] / 2.0], size),
        leader: Vec::new(),
    };
    let places = rings.iter().flatten().map(around).filter(|p| p.area.within(&glass));
    if let Some(Place { area, .. }) = stage.page.first(places) {
        stage.plate(area, words, Slant::Upright);
    }
}

/// How far a place lies from the border of a polygon.
pub(super) fn to_border(ring: &[[f64; 2]], p: [f64; 2]) -> f64 {
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    let away = sides.map(|(a, b)| {
        let along = [b[0] - a[0], b[1] - a[1]];
        let length = (along[0] * along[0] + along[1] * along[1]).max(f64::MIN_POSITIVE);
        let share = (((p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1]) / length).clamp(0.0, 1.0);
        (p[0] - a[0] - share * along[0]).hypot(p[1] - a[1] - share * along[1])
    });
    away.fold(f64::INFINITY, f64::min)
}
