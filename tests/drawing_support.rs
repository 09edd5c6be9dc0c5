//! What the tests of drawings share: planted demos, their drawings, and the boxes of words as a second
//! renderer (`resvg`) shapes them.

use std::fs;
use std::path::Path;

use quillwort::answers::{Choice, grow, pictures};
use quillwort::planting::{Chosen, Density, plant_out};
use quillwort::report::svg::{front_view, plan_view};
use quillwort::report::view::{GrowView, PictureView};
use quillwort::units::UnitSystem;
use resvg::usvg;

use crate::fit_support::{demo_model, plant};

/// mm to the pixel units of the renderer.
pub const PIXELS: f32 = 96.0 / 25.4;

/// A demo with a list for its zones.
pub type Planted = (&'static str, &'static [(usize, &'static str)]);

/// The list that `fill` gives for it.
pub const ATTIC: Planted = (
    "attic-lowtech.toml",
    &[
        (0, "monosolenium-tenerum"),
        (0, "vesicularia-dubyana"),
        (1, "cryptocoryne-beckettii"),
        (1, "sagittaria-subulata"),
        (2, "anubias-barteri-barteri-coffeefolia"),
        (2, "cryptocoryne-wendtii-brown"),
        (3, "egeria-densa"),
        (3, "hygrophila-difformis"),
        (3, "najas-guadalupensis"),
        (4, "bucephalandra-sp-wavy-green"),
        (4, "leptochilus-pteropus-trident"),
        (4, "taxiphyllum-sp-flame"),
    ],
);
pub const HALL: Planted = (
    "hall-hardwater.toml",
    &[
        (0, "eleocharis-acicularis"),
        (0, "cryptocoryne-parva"),
        (0, "marsilea-hirsuta"),
        (1, "alternanthera-reineckii-mini"),
        (1, "ceratopteris-thalictroides"),
        (2, "cryptocoryne-wendtii-brown"),
        (3, "vallisneria-spiralis"),
        (3, "cabomba-caroliniana"),
        (3, "crinum-calamistratum"),
        (4, "anubias-barteri-nana"),
        (4, "vesicularia-dubyana"),
        (5, "limnobium-laevigatum"),
    ],
);

/// The pictures of a planted demo in these weeks.
pub fn planted((demo, list): Planted, weeks: &[u32], light: bool) -> Vec<PictureView> {
    let model = demo_model(demo);
    let choices = choices(list);
    let chosen: Vec<Chosen<'_>> =
        choices.iter().map(|c| Chosen { plant: c.plant, zone: c.zone, share: c.share }).collect();
    let planting = plant_out(&model, &chosen, Density::Dense).expect("the list can be planted");
    pictures(&model, &planting, &choices, weeks, light)
}

fn choices(list: &[(usize, &str)]) -> Vec<Choice<'static>> {
    list.iter().map(|(zone, key)| Choice { plant: plant(key), zone: *zone, share: None }).collect()
}

/// How a planted demo grows in.
pub fn grown((demo, list): Planted, weeks: u32) -> GrowView {
    grow(&demo_model(demo), &choices(list), weeks).expect("the list can be planted")
}

/// The pictures of the README by file name: the attic from the front, grown in, and its plan.
pub fn attic_pictures() -> [(&'static str, String); 2] {
    let views = planted(ATTIC, &[0, 12], false);
    let front = front_view(&views[1], UnitSystem::Metric);
    [("attic-front.svg", front), ("attic-plan.svg", plan_view(&views[0], UnitSystem::Metric))]
}

/// Every drawing of both demos, named.
pub fn drawings() -> Vec<(String, PictureView, String)> {
    let mut all = Vec::new();
    for planted_demo in [ATTIC, HALL] {
        for view in planted(planted_demo, &[0, 4, 12], true) {
            let name = |kind: &str| format!("{} {kind} in week {}", view.tank, view.week);
            all.push((name("front"), view.clone(), front_view(&view, UnitSystem::Metric)));
            all.push((name("plan"), view.clone(), plan_view(&view, UnitSystem::Us)));
        }
    }
    all
}

pub fn read(svg: &str) -> usvg::Tree {
    let mut options = usvg::Options { font_family: "Gelasio".to_owned(), ..usvg::Options::default() };
    for cut in ["Regular", "Italic"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("data/fonts/Gelasio-{cut}.ttf"));
        options.fontdb_mut().load_font_data(fs::read(path).expect("the typeface is there"));
    }
    usvg::Tree::from_str(svg, &options).expect("the renderer reads it")
}

/// All words with their boxes in mm, as the renderer shapes them.
pub fn words(group: &usvg::Group, found: &mut Vec<(String, [f32; 4])>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => words(inner, found),
            usvg::Node::Text(text) => {
                let b = text.abs_bounding_box();
                let said: String = text.chunks().iter().map(usvg::TextChunk::text).collect();
                found.push((said, [b.left(), b.top(), b.right(), b.bottom()].map(|v| v / PIXELS)));
            }
            _ => {}
        }
    }
}

pub fn overlaps(tree: &usvg::Tree) -> Vec<String> {
    let mut all = Vec::new();
    words(tree.root(), &mut all);
    assert!(all.len() > 30, "only {} words", all.len());
    let [width, height] = [tree.size().width(), tree.size().height()].map(|v| v / PIXELS);
    let mut wrong = Vec::new();
    for (i, (said, a)) in all.iter().enumerate() {
        if a[0] < 0.0 || a[1] < 0.0 || a[2] > width || a[3] > height {
            wrong.push(format!("`{said}` leaves the page: {a:?}"));
        }
        for (other, b) in &all[..i] {
            const TOUCH: f32 = 0.02;
            if a[0] + TOUCH < b[2] && b[0] + TOUCH < a[2] && a[1] + TOUCH < b[3] && b[1] + TOUCH < a[3] {
                wrong.push(format!("`{said}` lies on `{other}`: {a:?} {b:?}"));
            }
        }
    }
    wrong
}

pub fn numbers(text: &str) -> impl Iterator<Item = f64> + '_ {
    let pieces = text.split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | 'e')));
    pieces.filter_map(|p| p.parse().ok())
}
