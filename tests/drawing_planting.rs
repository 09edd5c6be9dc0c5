//! The drawings of planted tanks: sound SVG to scale, words that never lie on each other, the same
//! bytes each time, and hatches that greys tell apart. A second reader (`roxmltree`) and a second
//! renderer (`resvg`, whose boxes of words come from its own shaping) look at what we wrote.

use std::fs;
use std::path::Path;

use quillwort::answers::{Choice, pictures};
use quillwort::catalogue::{Colour, GrowthForm, LeafTexture, Plant};
use quillwort::planting::{Chosen, Density, plant_out};
use quillwort::report::png::{PictureError, png};
use quillwort::report::svg::silhouette::{Habit, draw};
use quillwort::report::svg::{front_view, plan_view, specimen_sheet};
use quillwort::report::view::{PictureView, StandView};
use quillwort::units::UnitSystem;
use resvg::usvg;

use crate::fit_support::{demo_model, plant, plants};

/// mm to the pixel units of the renderer.
const PIXELS: f32 = 96.0 / 25.4;

/// A demo with a list for its zones.
type Planted = (&'static str, &'static [(usize, &'static str)]);

/// The list that `fill` gives for it.
const ATTIC: Planted = (
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
const HALL: Planted = (
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
fn planted((demo, list): Planted, weeks: &[u32], light: bool) -> Vec<PictureView> {
    let model = demo_model(demo);
    let known: Vec<(usize, &Plant)> = list.iter().map(|(zone, key)| (*zone, plant(key))).collect();
    let chosen: Vec<Chosen<'_>> =
        known.iter().map(|(zone, plant)| Chosen { plant, zone: *zone, share: None }).collect();
    let planting = plant_out(&model, &chosen, Density::Dense).expect("the list can be planted");
    let choices: Vec<Choice<'_>> =
        known.iter().map(|(zone, plant)| Choice { plant, zone: *zone, share: None }).collect();
    pictures(&model, &planting, &choices, weeks, light)
}

/// The pictures of the README by file name: the attic from the front, grown in, and its plan.
pub fn attic_pictures() -> [(&'static str, String); 2] {
    let views = planted(ATTIC, &[0, 12], false);
    let front = front_view(&views[1], UnitSystem::Metric);
    [("attic-front.svg", front), ("attic-plan.svg", plan_view(&views[0], UnitSystem::Metric))]
}

/// Every drawing of both demos, named.
fn drawings() -> Vec<(String, PictureView, String)> {
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

fn read(svg: &str) -> usvg::Tree {
    let mut options = usvg::Options { font_family: "Gelasio".to_owned(), ..usvg::Options::default() };
    for cut in ["Regular", "Italic"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("data/fonts/Gelasio-{cut}.ttf"));
        options.fontdb_mut().load_font_data(fs::read(path).expect("the typeface is there"));
    }
    usvg::Tree::from_str(svg, &options).expect("the renderer reads it")
}

/// All words with their boxes in mm, as the renderer shapes them.
fn words(group: &usvg::Group, found: &mut Vec<(String, [f32; 4])>) {
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

fn overlaps(tree: &usvg::Tree) -> Vec<String> {
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

#[test]
fn no_words_lie_on_others_or_leave_the_page() {
    let mut wrong = Vec::new();
    for (name, _, svg) in drawings() {
        wrong.extend(overlaps(&read(&svg)).into_iter().map(|w| format!("{name}: {w}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The check above sees what it is there for.
#[test]
fn the_check_of_overlaps_sees_an_overlap() {
    let (_, _, svg) = drawings().swap_remove(0);
    let twice = svg.replacen("front glass", "front", 1).replacen(
        "</svg>",
        "<text x=\"30\" y=\"15\" font-size=\"5\" font-family=\"Gelasio\">over the heading</text></svg>",
        1,
    );
    assert!(overlaps(&read(&twice)).iter().any(|w| w.contains("over the heading")), "not seen");
}

fn numbers(text: &str) -> impl Iterator<Item = f64> + '_ {
    let pieces = text.split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | 'e')));
    pieces.filter_map(|p| p.parse().ok())
}

#[test]
fn every_drawing_is_svg_1_1_with_title_and_description_and_finite_places_on_the_page() {
    for (name, view, svg) in drawings() {
        assert!(svg.len() < 1_500_000, "{name}: {} bytes", svg.len());
        let document = roxmltree::Document::parse(&svg).unwrap_or_else(|e| panic!("{name}: {e}"));
        let root = document.root_element();
        assert_eq!(root.attribute("version"), Some("1.1"), "{name}");
        let children: Vec<_> = root.children().filter(roxmltree::Node::is_element).collect();
        assert_eq!(
            [children[0].tag_name().name(), children[1].tag_name().name()],
            ["title", "desc"],
            "{name}"
        );
        assert!(children[0].text().is_some_and(|t| t.contains(&view.tank)), "{name}");
        for drift in &view.drifts {
            assert!(children[1].text().is_some_and(|t| t.contains(&drift.name)), "{name}: {}", drift.name);
        }
        assert!(!svg.contains("NaN") && !svg.contains("\"inf") && !svg.contains(" inf"), "{name}");
        let page: Vec<f64> = numbers(root.attribute("viewBox").expect("a view box")).collect();
        let moved = |n: &roxmltree::Node<'_, '_>| {
            n.ancestors().any(|a| {
                a.has_attribute("transform") || a.has_attribute("clip-path") || a.tag_name().name() == "defs"
            })
        };
        let mut places = 0;
        for node in document.descendants().filter(|n| n.is_element() && !moved(n)) {
            for (keys, most) in [(["x", "cx", "x1", "x2"], page[2]), (["y", "cy", "y1", "y2"], page[3])] {
                for value in keys.iter().filter_map(|k| node.attribute(*k)) {
                    let value: f64 = value.parse().unwrap_or_else(|_| panic!("{name}: {value}"));
                    assert!((0.0..=most).contains(&value), "{name}: {value} on a page of {most}");
                    places += 1;
                }
            }
        }
        assert!(places > 200, "{name}: {places}");
        let defined: Vec<&str> = document.descendants().filter_map(|n| n.attribute("id")).collect();
        for link in
            document.descendants().filter_map(|n| n.attribute(("http://www.w3.org/1999/xlink", "href")))
        {
            assert!(defined.contains(&&link[1..]), "{name}: {link} is not defined");
        }
    }
}

#[test]
fn every_drift_is_drawn_numbered_and_named() {
    for (name, view, svg) in drawings() {
        let tree = read(&svg);
        let mut all = Vec::new();
        words(tree.root(), &mut all);
        for drift in &view.drifts {
            let number = drift.number.to_string();
            let said = all.iter().filter(|(words, _)| *words == number).count();
            assert!(
                said >= 2,
                "{name}: {number} stands {said} times, in the picture and in the key expected"
            );
            assert!(all.iter().any(|(words, _)| *words == drift.name), "{name}: no {}", drift.name);
            let uses = svg.matches(&format!("#plant{number}-")).count();
            let front = name.contains("front");
            let drawn = if front && !drift.is_gone() { drift.places_cm.len() } else { 0 };
            assert_eq!(uses, drawn, "{name}: {}", drift.name);
            assert_eq!(svg.contains(&format!("url(#hatch{number})")), !front, "{name}: {}", drift.name);
        }
    }
}

/// A tank of 60 cm at 1 : 3 is 200 mm long on paper, and says so.
#[test]
fn the_drawings_are_to_scale() {
    let view = planted(ATTIC, &[0], false).remove(0);
    let svg = front_view(&view, UnitSystem::Metric);
    assert!(svg.contains("1 : 3 when printed"), "the scale is not stated");
    let document = roxmltree::Document::parse(&svg).expect("XML");
    let water = document.descendants().find(|n| n.attribute("fill") == Some("url(#water)")).expect("water");
    assert_eq!(water.attribute("width"), Some("200"));
    let depth: f64 = water.attribute("height").and_then(|v| v.parse().ok()).expect("a number");
    assert!((depth - 32.0 * 10.0 / 3.0).abs() < 0.01, "{depth}");
}

/// The weeks of the growth model are what is drawn.
#[test]
fn what_is_planted_grows_in() {
    let weeks = planted(ATTIC, &[0, 4, 12], false);
    let cover = |w: &PictureView| w.drifts.iter().map(|d| d.cover).sum::<f64>();
    assert!(cover(&weeks[0]) < cover(&weeks[2]), "nothing grows in");
    let svg: Vec<String> = weeks.iter().map(|w| front_view(w, UnitSystem::Metric)).collect();
    assert!(svg[0] != svg[1] && svg[1] != svg[2]);
    for drift in weeks[0].drifts.iter().filter(|d| d.stand == StandView::Bed) {
        assert!(drift.height_cm > 0.0 && drift.cover > 0.0 && !drift.is_gone(), "{}", drift.name);
    }
}

#[test]
fn what_is_gone_is_not_drawn_and_the_key_says_so() {
    let mut view = planted(ATTIC, &[4], false).remove(0);
    (view.drifts[2].height_cm, view.drifts[2].cover) = (0.0, 0.0);
    let svg = front_view(&view, UnitSystem::Metric);
    assert!(!svg.contains("#plant3-") && svg.contains("nothing left of it"));
}

/// Relative luminance of a colour, 0 to 255 (Rec. 709 weights).
fn luminance(hex: &str) -> f64 {
    let channel = |i: usize| f64::from(u8::from_str_radix(&hex[i..i + 2], 16).expect("a colour"));
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

#[test]
fn hatches_or_greys_of_any_two_drifts_differ() {
    for planted_demo in [ATTIC, HALL] {
        let view = planted(planted_demo, &[12], false).remove(0);
        let svg = plan_view(&view, UnitSystem::Metric);
        let document = roxmltree::Document::parse(&svg).expect("XML");
        let pattern = |number: usize| {
            let id = format!("hatch{number}");
            let node = document.descendants().find(|n| n.attribute("id") == Some(&id)).expect("a hatch");
            let path = node.first_element_child().expect("a path");
            (path.attribute("d").expect("data"), path.attribute("transform"))
        };
        let lines: Vec<f64> = view
            .drifts
            .iter()
            .map(|d| {
                let id = format!("hatch{}", d.number);
                let node = document.descendants().find(|n| n.attribute("id") == Some(&id)).expect("a hatch");
                let path = node.first_element_child().expect("a path");
                let ink = ["stroke", "fill"].iter().filter_map(|k| path.attribute(*k)).find(|v| *v != "none");
                luminance(ink.expect("ink"))
            })
            .collect();
        // The hatch is darker than any tint under it by far, so that it shows in print.
        assert!(lines.iter().all(|l| *l < 110.0), "{lines:?}");
        for a in &view.drifts {
            for b in view.drifts.iter().filter(|b| b.number < a.number) {
                assert_ne!(pattern(a.number), pattern(b.number), "{} and {}", a.name, b.name);
            }
        }
    }
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    for (first, second) in drawings().into_iter().zip(drawings()) {
        assert!(first.2 == second.2, "{}", first.0);
    }
}

#[test]
fn a_picture_in_pixels_has_every_letter_and_is_the_same_each_time() {
    let view = planted(ATTIC, &[4], true).remove(0);
    for svg in [front_view(&view, UnitSystem::Metric), plan_view(&view, UnitSystem::Metric)] {
        let mut all = Vec::new();
        let tree = read(&svg);
        words(tree.root(), &mut all);
        let bytes = png(&svg, 96.0).expect("a picture");
        assert!(bytes == png(&svg, 96.0).expect("a picture"));
        let pixels = resvg::tiny_skia::Pixmap::decode_png(&bytes).expect("PNG");
        for (said, area) in &all {
            let [left, top, right, bottom] = area.map(|v| (v * PIXELS) as u32);
            let dark = (top..bottom.min(pixels.height()))
                .flat_map(|y| (left..right.min(pixels.width())).map(move |x| (x, y)))
                .filter(|(x, y)| pixels.pixel(*x, *y).is_some_and(|p| p.green() < 150))
                .count();
            assert!(dark > 0, "`{said}` cannot be seen");
        }
        let letters: String = all.iter().map(|(said, _)| said.as_str()).collect();
        assert_eq!(missing(&letters), Vec::<char>::new());
    }
    assert!(matches!(png("<svg", 96.0), Err(PictureError::Drawing(_))));
    assert!(matches!(png(&plan_view(&view, UnitSystem::Metric), 1e9), Err(PictureError::Size(..))));
}

/// Letters that the typeface of the pictures lacks, by the font's own table.
fn missing(words: &str) -> Vec<char> {
    use skrifa::MetadataProvider;
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/fonts/Gelasio-Regular.ttf");
    let bytes = fs::read(path).expect("the typeface is there");
    let font = skrifa::FontRef::new(&bytes).expect("a typeface");
    words.chars().filter(|c| font.charmap().map(*c).is_none()).collect()
}

/// Every name of the catalogue can be written.
#[test]
fn the_typeface_has_every_letter_of_the_catalogue() {
    let names: String = plants().iter().map(Plant::display_name).collect();
    assert_eq!(missing(&names), Vec::<char>::new());
}

#[test]
fn a_long_or_hostile_name_breaks_nothing() {
    let mut view = planted(ATTIC, &[0], false).remove(0);
    view.tank = "</title><script>alert(1)</script> & \"x\" \u{7} ".repeat(12);
    view.drifts[0].name = "Aquatica interminabilis var. longissima 'Never Ending Name of a Plant' ".repeat(3);
    view.zones[0].name = "a zone named at such length that no room is wide enough for it ".repeat(4);
    for svg in [front_view(&view, UnitSystem::Metric), plan_view(&view, UnitSystem::Metric)] {
        let document = roxmltree::Document::parse(&svg).expect("XML");
        assert!(document.descendants().all(|n| n.tag_name().name() != "script"));
        assert_eq!(overlaps(&read(&svg)), Vec::<String>::new());
    }
}

/// Every form with every look, young and grown: something is drawn, within the box of the plant.
#[test]
fn every_silhouette_keeps_to_its_height_and_spread() {
    for &form in GrowthForm::ALL {
        for &texture in LeafTexture::ALL {
            for (height_cm, spread_cm, maturity, seed) in [
                (0.5, 1.0, 0.0, 1),
                (5.0, 8.0, 0.3, 2),
                (30.0, 12.0, 0.8, 3),
                (120.0, 45.0, 1.0, 4),
                (6.0, 40.0, 1.0, 5),
            ] {
                let habit = Habit {
                    form,
                    texture,
                    height_cm,
                    grown_cm: height_cm,
                    spread_cm,
                    room_cm: 35.0,
                    air_cm: 6.0,
                    maturity,
                    seed,
                };
                let drawing = draw(&habit);
                assert_eq!(drawing, draw(&habit), "{form} {texture}");
                let [low, high] = drawing.bounds();
                assert!(
                    !drawing.parts.is_empty() && low.iter().chain(&high).all(|v| v.is_finite()),
                    "{form} {texture}"
                );
                assert!(high[0] - low[0] <= 1.05 * spread_cm, "{form} {texture}: {low:?} {high:?}");
                if form != GrowthForm::Floater {
                    assert!(high[1] <= 1.05 * height_cm, "{form} {texture} {height_cm}: {high:?}");
                }
            }
        }
    }
}

/// For the eye: the sheet of all forms, and the drawings, beside the other output of the tests.
#[test]
fn the_specimen_sheet_is_drawn() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    fs::create_dir_all(&folder).expect("the folder can be made");
    let sheet = specimen_sheet(1.0);
    assert_eq!(overlaps(&read(&sheet)), Vec::<String>::new());
    for form in GrowthForm::ALL {
        assert!(sheet.contains(&format!(">{form}, ")), "no {form}");
    }
    fs::write(folder.join("specimens.svg"), &sheet).expect("it can be written");
    fs::write(folder.join("specimens.png"), png(&sheet, 150.0).expect("a picture"))
        .expect("it can be written");
    assert_eq!(Colour::ALL.len(), 5, "a new colour needs an ink");
    for (name, _, svg) in drawings() {
        let stem = name.replace(' ', "-").to_lowercase();
        fs::write(folder.join(format!("{stem}.svg")), svg).expect("it can be written");
    }
}
