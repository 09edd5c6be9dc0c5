//! `tank`: the report a person reads, its map in characters, its drawing, its figures.

use std::path::Path;

use quillwort::report::text::{self, Page};
use quillwort::report::view::{TankReportView, tank_report_view};
use quillwort::tank::light::{PhotonBands, Spectrum};
use quillwort::tank::{file, model};
use quillwort::units::UnitSystem;
use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use crate::program::{changed_demo, demo, run};

const DEMOS: &[&str] = &["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"];

fn tank(args: &[&str]) -> String {
    let run = run(&[&["tank"], args].concat());
    assert_eq!(run.code, 0, "{args:?}: {}", run.err);
    run.out
}

fn json(args: &[&str]) -> Value {
    serde_json::from_str(&tank(&[args, &["--format", "json"]].concat())).expect("JSON")
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is not a number"))
}

/// The view of a demo, computed without the program.
fn view(name: &str) -> TankReportView {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(demo(name));
    let text = std::fs::read_to_string(path).expect("the demo is there");
    let document = quillwort::diagnostic::Document::new(name, text);
    let (spec, _) = file::read(&document).expect("the demo is sound");
    let even = Spectrum { key: "led-6600k".to_owned(), lux_per_umol: 69.4, bands: PhotonBands::EVEN };
    let model = model(&spec, std::slice::from_ref(&even), &even).expect("the demo can be computed");
    tank_report_view(&model, &model.bed_light)
}

fn report(view: &TankReportView, width: usize, units: UnitSystem) -> String {
    let mut page = Page::new(width, units);
    text::tank(&mut page, view);
    anstream::adapter::strip_str(&page.finish()).to_string()
}

#[test]
fn the_whole_report_of_a_tank_with_gas() {
    insta::assert_snapshot!(tank(&[&demo("shelf-gassed.toml")]));
}

#[test]
fn the_whole_report_of_a_covered_tank_with_hard_water() {
    insta::assert_snapshot!(tank(&[&demo("hall-hardwater.toml")]));
}

#[test]
fn the_whole_report_in_us_units() {
    insta::assert_snapshot!(tank(&[&demo("attic-lowtech.toml"), "--units", "us"]));
}

#[test]
fn the_zones_as_csv() {
    insta::assert_snapshot!(tank(&[&demo("attic-lowtech.toml"), "--format", "csv"]));
}

/// A single word may be longer than a narrow page; everything else has to fit.
#[test]
fn every_line_fits_the_page_at_every_width() {
    for name in DEMOS {
        let view = view(name);
        for width in 40..=80 {
            for units in [UnitSystem::Metric, UnitSystem::Us] {
                let text = report(&view, width, units);
                for line in text.lines().filter(|l| l.trim().contains(' ')) {
                    assert!(line.width() <= width, "{name} at {width}: {} columns: {line}", line.width());
                }
            }
        }
    }
}

/// The rows of the map between its frames, without the frame.
fn drawn(text: &str) -> Vec<Vec<char>> {
    let lines = text.lines().skip_while(|l| !l.contains('┌')).skip(1).take_while(|l| !l.contains('└'));
    lines
        .map(|l| {
            let inner = l.split_once('│').expect("a left frame").1;
            let mut cells: Vec<char> = inner.chars().collect();
            assert!(matches!(cells.pop(), Some('│' | '┃')), "{l}");
            cells
        })
        .collect()
}

/// The characters of the bands, from the darkest to the brightest.
fn marks(view: &TankReportView) -> &'static [char] {
    match view.light.bands.len() {
        3 => &['·', '▒', '█'],
        4 => &['·', '░', '▒', '▓'],
        5 => &['·', '░', '▒', '▓', '█'],
        6 => &[' ', '·', '░', '▒', '▓', '█'],
        other => panic!("{other} bands"),
    }
}

#[test]
fn the_map_in_characters_is_to_scale_and_shows_each_band_by_its_share() {
    for name in DEMOS {
        let mut view = view(name);
        view.hardscape.clear();
        view.zone_plan.clear();
        let marks = marks(&view);
        for width in [40, 57, 80] {
            let rows = drawn(&report(&view, width, UnitSystem::Metric));
            let (columns, count) = (rows[0].len(), rows.len());
            assert!(rows.iter().all(|r| r.len() == columns), "{name} at {width}");
            let shape = view.tank.length_cm / view.tank.depth_cm;
            // Half a row either way is all that whole characters allow.
            let rows_to_scale = columns as f64 / (2.0 * shape);
            assert!((rows_to_scale - count as f64).abs() <= 0.51, "{name} at {width}: {columns} × {count}");
            for (band, mark) in view.light.bands.iter().zip(marks) {
                let drawn = rows.iter().flatten().filter(|c| *c == mark).count() as f64;
                let share = drawn / (columns * count) as f64;
                // A band that runs along the tank gains or loses a row or so.
                assert!(
                    (share - band.share_of_bed).abs() < 1.5 / count as f64,
                    "{name} at {width}: {mark:?} covers {share}"
                );
            }
        }
    }
}

#[test]
fn the_brightest_place_is_drawn_with_the_densest_character() {
    let mut view = view("hall-hardwater.toml");
    view.hardscape.clear();
    view.zone_plan.clear();
    let rows = drawn(&report(&view, 80, UnitSystem::Metric));
    let most = view.light.most;
    let column = (most.x_cm / view.tank.length_cm * rows[0].len() as f64) as usize;
    let row = ((1.0 - most.y_cm / view.tank.depth_cm) * rows.len() as f64) as usize;
    assert_eq!(Some(&rows[row][column]), marks(&view).last(), "{most:?}");
}

#[test]
fn the_figures_add_up() {
    for name in DEMOS {
        let view = json(&[&demo(name)]);
        let volumes = &view["volumes"];
        let parts = ["bed_l", "displaced_l", "water_l"].map(|k| number(&volumes[k]));
        let filled = number(&volumes["filled_l"]);
        assert!((parts.iter().sum::<f64>() - filled).abs() < 0.2, "{name}: {volumes}");
        let box_l = number(&view["length_cm"]) * number(&view["depth_cm"]) * number(&view["water_cm"]) / 1e3;
        assert!((box_l - filled).abs() < 0.06, "{name}");
        let loads = &view["loads"];
        let parts = ["water_kg", "glass_kg", "bed_kg", "hardscape_kg"].map(|k| number(&loads[k]));
        let total = number(&loads["total_kg"]);
        assert!((parts.iter().sum::<f64>() - total).abs() < 2.1, "{name}: {loads}");
        // kg × 9.80665 m/s² over cm², as kPa.
        let pressure = total * 9.806_65 / number(&loads["footprint_cm2"]) * 10.0;
        assert!((pressure - number(&loads["floor_pressure_kpa"])).abs() < 0.1, "{name}: {pressure}");
        let map = &view["light"]["map"];
        let rows = map["ppfd_umol_m2_s"].as_array().expect("rows");
        let cells: Vec<f64> = rows.iter().flat_map(|r| r.as_array().expect("a row")).map(number).collect();
        assert_eq!(cells.len() as f64, number(&map["columns"]) * number(&map["rows"]), "{name}");
        let mean = cells.iter().sum::<f64>() / cells.len() as f64;
        assert!((mean - number(&view["ppfd_mean_umol_m2_s"])).abs() < 0.06, "{name}: {mean}");
        let dli = mean * number(&view["light_hours"]) * 0.0036;
        assert!((dli - number(&view["dli_mean_mol_m2_d"])).abs() < 0.006, "{name}: {dli}");
        let bands = view["light"]["bands"].as_array().expect("bands");
        let shares: f64 = bands.iter().map(|b| number(&b["share_of_bed"])).sum();
        assert!((shares - 1.0).abs() < 0.004, "{name}: {shares}");
        for pair in bands.windows(2) {
            assert_eq!(pair[0]["to_umol_m2_s"], pair[1]["from_umol_m2_s"], "{name}");
        }
        let (first, last) = (&bands[0], &bands[bands.len() - 1]);
        let most = cells.iter().copied().fold(0.0, f64::max);
        let least = cells.iter().copied().fold(f64::INFINITY, f64::min);
        assert!(number(&first["from_umol_m2_s"]) <= least && most <= number(&last["to_umol_m2_s"]), "{name}");
        assert!((most - number(&view["light"]["most"]["ppfd_umol_m2_s"])).abs() < 0.06, "{name}");
        assert!((least - number(&view["light"]["least"]["ppfd_umol_m2_s"])).abs() < 0.06, "{name}");
    }
}

#[test]
fn every_line_of_the_audit_says_its_rule_and_origin() {
    for name in DEMOS {
        let view = json(&[&demo(name)]);
        let lines = view["audit"].as_array().expect("the audit");
        assert!(lines.len() >= 8, "{name}: {} lines", lines.len());
        let text = tank(&[&demo(name)]).split_whitespace().collect::<Vec<_>>().join(" ");
        for line in lines {
            for key in ["topic", "verdict", "rule", "origin"] {
                let words = line[key].as_str().expect("words");
                assert!(!words.is_empty(), "{name}: {line}");
                assert!(text.contains(words), "{name}: {words} is not in the text");
            }
        }
    }
}

/// What takes light takes as much of the figures as it says.
#[test]
fn cover_floating_plants_and_tint_take_their_light() {
    let mean = |path: &Path| number(&json(&[path.to_str().expect("UTF-8")])["ppfd_mean_umol_m2_s"]);
    let open = number(&json(&[&demo("attic-lowtech.toml")])["ppfd_mean_umol_m2_s"]);
    let lid = "open_top = false\ncover_transmittance = \"80 %\"";
    let covered = mean(&changed_demo("tank-lid.toml", "open_top = true", lid));
    assert!((covered / open - 0.8).abs() < 0.003, "{covered} of {open}");
    let floating =
        mean(&changed_demo("tank-floating.toml", "hours = 8", "hours = 8\nfloating_cover = \"40 %\""));
    assert!((floating / open - 0.6).abs() < 0.003, "{floating} of {open}");
    let tinted = mean(&changed_demo("tank-tint.toml", "tint = \"clear\"", "tint = \"tea\""));
    assert!(tinted < 0.8 * open && tinted > 0.5 * open, "{tinted} of {open}");
    let red = mean(&changed_demo(
        "tank-red.toml",
        "beam = \"120 deg\"",
        "beam = \"120 deg\"\nspectrum = \"incandescent\"",
    ));
    assert!(red < open && red > 0.8 * open, "{red} of {open}: water takes red light first");
}

#[test]
fn the_cell_of_the_map_can_be_chosen_and_an_absurd_one_is_refused() {
    let view = json(&[&demo("attic-lowtech.toml"), "--map-cell", "2 cm"]);
    let map = &view["light"]["map"];
    assert_eq!((number(&map["columns"]), number(&map["rows"])), (30.0, 15.0));
    for (cell, says) in [
        ("0 cm", "not between 0.2 cm and 20 cm"),
        ("1 m", "not between 0.2 cm and 20 cm"),
        ("2", "has no unit"),
        ("2 L", "not a unit of a length"),
    ] {
        let run = run(&["tank", &demo("attic-lowtech.toml"), "--map-cell", cell]);
        assert_eq!(run.code, 2, "{cell}");
        assert!(run.err.contains(says), "{cell}: {}", run.err);
    }
}

#[test]
fn an_unknown_spectrum_is_refused_where_it_stands() {
    let path = changed_demo(
        "tank-spectrum.toml",
        "beam = \"120 deg\"",
        "beam = \"120 deg\"\nspectrum = \"led-6500k\"",
    );
    let run = run(&["tank", path.to_str().expect("UTF-8")]);
    assert_eq!(run.code, 2);
    for says in ["`led-6500k` is not a spectrum", "did you mean", "`led-6600k`", "spectrum = \"led-6500k\""] {
        assert!(run.err.contains(says), "{says}: {}", run.err);
    }
}
