//! `tank --svg`: a well-formed drawing to scale in greys, written whole or not at all.

use std::fs;
use std::path::{Path, PathBuf};

use crate::program::{changed_demo, demo, run};

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("drawings").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("the test folder can be made");
    folder
}

/// Draws a tank file; gives the drawing.
fn drawing(tank: &str, name: &str, more: &[&str]) -> String {
    let path = folder(name).join("map.svg");
    let run = run(&[&["tank", tank, "--svg", path.to_str().expect("UTF-8")], more].concat());
    assert_eq!(run.code, 0, "{}", run.err);
    fs::read_to_string(path).expect("the drawing is there")
}

/// Each element as its name and attributes, in order; panics where tags do not pair up.
fn elements(svg: &str) -> Vec<(String, String)> {
    let mut open: Vec<String> = Vec::new();
    let mut found = Vec::new();
    let mut rest =
        svg.strip_prefix("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n").expect("an XML declaration");
    while let Some(start) = rest.find('<') {
        let words = &rest[..start];
        assert!(!words.contains('>'), "a stray > in {words}");
        let end = start + rest[start..].find('>').expect("a tag ends");
        let tag = &rest[start + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name));
            continue;
        }
        let inner = tag.trim_end_matches('/');
        let (name, attributes) = inner.split_once(' ').unwrap_or((inner, ""));
        if !tag.ends_with('/') {
            open.push(name.to_owned());
        }
        found.push((name.to_owned(), attributes.to_owned()));
    }
    assert!(open.is_empty(), "not closed: {open:?}");
    found
}

fn attribute<'a>(attributes: &'a str, name: &str) -> Option<&'a str> {
    let from = attributes.find(&format!("{name}=\""))? + name.len() + 2;
    attributes[from..].split('"').next()
}

#[test]
fn every_demo_gives_a_well_formed_page_with_title_and_description() {
    for name in ["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"] {
        let svg = drawing(&demo(name), name, &[]);
        let elements = elements(&svg);
        assert_eq!(elements[0].0, "svg", "{name}");
        assert_eq!(attribute(&elements[0].1, "version"), Some("1.1"), "{name}");
        assert_eq!(attribute(&elements[0].1, "width"), Some("210mm"), "{name}");
        assert_eq!([&*elements[1].0, &*elements[2].0], ["title", "desc"], "{name}");
        for (tag, attributes) in &elements {
            assert!(!attributes.contains("NaN") && !attributes.contains("inf"), "{name}: {tag} {attributes}");
        }
    }
}

/// One ink: colour carries nothing, so print in black loses nothing.
#[test]
fn the_drawing_is_in_greys_that_differ() {
    let svg = drawing(&demo("shelf-gassed.toml"), "greys", &[]);
    let channels = |hex: &str| [0, 2, 4].map(|i| i32::from_str_radix(&hex[i..i + 2], 16).expect("a colour"));
    let mut bands = Vec::new();
    for (tag, attributes) in elements(&svg) {
        for name in ["fill", "stroke"] {
            let Some(value) = attribute(&attributes, name).filter(|v| v.starts_with('#')) else { continue };
            let [r, g, b] = channels(&value[1..]);
            let spread = [r, g, b].iter().max().unwrap_or(&0) - [r, g, b].iter().min().unwrap_or(&0);
            assert!(spread <= 20, "{value} is a colour");
            if tag == "path" && name == "fill" {
                bands.push((2126 * r + 7152 * g + 722 * b) / 10_000);
            }
        }
    }
    assert!(bands.len() >= 4, "{bands:?}");
    assert!(bands.windows(2).all(|pair| pair[1] >= pair[0] + 12), "greys too near: {bands:?}");
}

/// The plan of 60 × 30 cm at 1 : 4 is 150 × 75 mm, and nothing of it is drawn outside.
#[test]
fn the_plan_is_to_scale() {
    let svg = drawing(&demo("attic-lowtech.toml"), "scale", &[]);
    assert!(svg.contains("1 : 4 when printed"), "the scale is not stated");
    let elements = elements(&svg);
    let frame = elements.iter().find(|(tag, a)| tag == "rect" && attribute(a, "width") == Some("150"));
    let frame = &frame.expect("the glass").1;
    assert_eq!(attribute(frame, "height"), Some("75"));
    let side = |name: &str| attribute(frame, name).and_then(|v| v.parse::<f64>().ok()).expect("a number");
    let (left, top) = (side("x"), side("y"));
    let mut points = 0;
    for (_, attributes) in elements.iter().filter(|(tag, _)| tag == "path") {
        let data = attribute(attributes, "d").expect("a path has data");
        for point in data.split(['M', 'L', 'Z']).filter(|p| !p.is_empty()) {
            let (x, y) = point.split_once(' ').expect("two numbers");
            let (x, y): (f64, f64) = (x.parse().expect("a number"), y.parse().expect("a number"));
            assert!((left - 0.01..=left + 150.01).contains(&x), "{x}");
            assert!((top - 0.01..=top + 75.01).contains(&y), "{y}");
            points += 1;
        }
    }
    assert!(points > 200, "{points} points");
}

#[test]
fn a_name_cannot_break_the_drawing() {
    let name = "name = \"</title><script>alert(1)</script> & \\\"x\\\" \\u0007\"";
    let path = changed_demo("drawing-name.toml", "name = \"Attic study\"", name);
    let svg = drawing(path.to_str().expect("UTF-8"), "name", &[]);
    let elements = elements(&svg);
    assert!(elements.iter().all(|(tag, _)| tag != "script"));
    assert!(svg.contains("&lt;/title&gt;&lt;script&gt;"));
    assert!(!svg.contains('\u{7}'));
}

#[test]
fn the_same_tank_gives_the_same_bytes_and_replaces_the_old_drawing() {
    let first = drawing(&demo("hall-hardwater.toml"), "twice", &[]);
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("drawings/twice/map.svg");
    fs::write(&path, "old").expect("the test file can be written");
    let run = run(&["tank", &demo("hall-hardwater.toml"), "--svg", path.to_str().expect("UTF-8")]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert_eq!(fs::read_to_string(&path).expect("the drawing is there"), first);
    let others = fs::read_dir(path.parent().expect("a folder")).expect("readable").count();
    assert_eq!(others, 1, "something is left beside the drawing");
}

#[test]
fn a_drawing_that_cannot_be_written_is_a_finding() {
    let path = folder("missing").join("no/such/folder/map.svg");
    let run = run(&["tank", &demo("attic-lowtech.toml"), "--svg", path.to_str().expect("UTF-8")]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("map.svg` cannot be written: no such file or directory"), "{}", run.err);
    assert!(run.out.is_empty(), "an answer in spite of the fault: {}", run.out);
}

#[test]
fn us_units_give_axes_in_inches() {
    let svg = drawing(&demo("attic-lowtech.toml"), "inches", &["--units", "us"]);
    elements(&svg);
    assert!(svg.contains("in; 1 : 4 when printed"), "the scale bar is not in inches");
    assert!(svg.contains("23.6 × 11.8 × 14.2 in inside"), "the measures are not in inches");
}
