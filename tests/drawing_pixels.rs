//! Drawings in pixels, silhouettes, and the specimen sheet.

use std::fs;
use std::path::Path;

use quillwort::catalogue::{Colour, GrowthForm, LeafTexture, Plant};
use quillwort::report::png::{PictureError, png};
use quillwort::report::svg::silhouette::{Habit, draw};
use quillwort::report::svg::{front_view, plan_view, specimen_sheet};
use quillwort::units::UnitSystem;

use crate::drawing_support::{ATTIC, PIXELS, drawings, overlaps, planted, read, words};
use crate::fit_support::plants;

#[test]
fn a_picture_in_pixels_has_every_letter_and_is_the_same_each_time() {
    let view = planted(ATTIC, &[4], true).remove(0);
    for svg in [front_view(&view, UnitSystem::Metric), plan_view(&view, UnitSystem::Metric)] {
        let mut all = Vec::new();
        let tree = read(&svg);
        words(tree.root(), &mut all);
        let picture = png(&svg, 96.0).expect("a picture");
        assert!(picture == png(&svg, 96.0).expect("a picture"));
        assert_eq!(picture.lacking, Vec::<char>::new());
        let pixels = resvg::tiny_skia::Pixmap::decode_png(&picture.bytes).expect("PNG");
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
fn letters_that_cannot_be_shown_are_told() {
    let mut view = planted(ATTIC, &[0], false).remove(0);
    view.tank = "水槽 Küche".to_owned();
    view.zones[0].name = "перед".to_owned();
    let lacking = png(&plan_view(&view, UnitSystem::Metric), 96.0).expect("a picture").lacking;
    assert_eq!(lacking, ['д', 'е', 'п', 'р', '槽', '水']);
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
    fs::write(folder.join("specimens.png"), png(&sheet, 150.0).expect("a picture").bytes)
        .expect("it can be written");
    assert_eq!(Colour::ALL.len(), 5, "a new colour needs an ink");
    for (name, _, svg) in drawings() {
        let stem = name.replace(' ', "-").to_lowercase();
        fs::write(folder.join(format!("{stem}.svg")), svg).expect("it can be written");
    }
}
