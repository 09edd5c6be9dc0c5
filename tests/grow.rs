//! `grow`: how the demo tanks grow in.

use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use quillwort::answers::{self, CalendarAsked, Choice};
use quillwort::report::text::{self, Marks, Page};
use quillwort::units::UnitSystem;

use crate::fit_support::{demo_model, plant};
use crate::program::{file, finish, quillwort, run};

const ATTIC: &str = "data/demo/attic-lowtech.toml";
const SHELF: &str = "data/demo/shelf-gassed.toml";

fn json(args: &[&str]) -> Value {
    let all: Vec<&str> = ["grow", "--format", "json"].iter().chain(args).copied().collect();
    let run = run(&all);
    serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err))
}

#[test]
fn the_attic_grows_in() {
    insta::assert_snapshot!(run(&["grow", ATTIC]).out);
}

#[test]
fn plain_terminals_get_plain_marks() {
    let plain = finish(quillwort().env("LC_ALL", "C").args(["grow", ATTIC]));
    assert!(!plain.out.contains(['▁', '▄', '█']), "{}", plain.out);
    let rich = finish(quillwort().env("LC_ALL", "C.UTF-8").args(["grow", ATTIC]));
    assert!(rich.out.contains('█'), "{}", rich.out);
    assert_eq!(plain.out.lines().count(), rich.out.lines().count());
}

#[test]
fn weeks_are_those_asked_for() {
    let view = json(&[ATTIC, "--weeks", "26"]);
    assert_eq!(view["weeks"], 26);
    for drift in view["drifts"].as_array().expect("drifts") {
        assert_eq!(drift["weeks"].as_array().expect("weeks").len(), 27);
    }
    for wrong in ["0", "105", "-1", "many"] {
        let run = run(&["grow", ATTIC, "--weeks", wrong]);
        assert_eq!(run.code, 2, "{wrong}");
    }
}

#[test]
fn a_list_of_ones_own_grows_too() {
    let list = file("grow-list.txt", "Vallisneria spiralis\nAnubias barteri var. nana\n");
    let view = json(&[ATTIC, "--list", &list.to_string_lossy()]);
    let mut taxa: Vec<&str> =
        view["drifts"].as_array().expect("drifts").iter().filter_map(|d| d["taxon"].as_str()).collect();
    taxa.sort_unstable();
    assert_eq!(taxa, ["anubias-barteri-nana", "vallisneria-spiralis"]);
}

#[test]
fn gas_and_light_make_a_tank_grow_faster() {
    let last = |tank: &str| -> f64 {
        let view = json(&[tank, "--weeks", "8"]);
        let drifts = view["drifts"].as_array().expect("drifts").clone();
        let trims: usize = drifts.iter().map(|d| d["trims"].as_array().expect("trims").len()).sum();
        trims as f64 / drifts.len() as f64
    };
    assert!(last(SHELF) > last(ATTIC), "{} cuts a drift against {}", last(SHELF), last(ATTIC));
}

#[test]
fn a_row_a_drift_and_week() {
    let run = run(&["grow", ATTIC, "--weeks", "4", "--format", "csv"]);
    let mut reader = csv::Reader::from_reader(run.out.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("RFC 4180");
    let drifts = json(&[ATTIC, "--weeks", "4"])["drifts"].as_array().expect("drifts").len();
    assert_eq!(rows.len(), drifts * 5);
    assert!(rows.iter().all(|r| r[5].parse::<f64>().is_ok_and(|cover| (0.0..=1.0).contains(&cover))));
}

/// Two plants of the attic.
fn attic_list() -> [Choice<'static>; 2] {
    [("egeria-densa", 3), ("cryptocoryne-beckettii", 1)].map(|(key, zone)| Choice {
        plant: plant(key),
        zone,
        share: None,
    })
}

/// Fails on a line wider than `width`.
fn fits(text: &str, width: usize) {
    let plain = anstream::adapter::strip_str(text).to_string();
    for line in plain.lines() {
        assert!(line.width() <= width, "{} columns: {line}", line.width());
    }
}

#[test]
fn any_page_from_forty_columns_will_do() {
    let model = demo_model("attic-lowtech.toml");
    for (width, weeks) in [(40, 12), (40, 52), (60, 26), (80, 104)] {
        let grown = answers::grow(&model, &attic_list(), weeks).expect("the list can be planted");
        let mut page = Page::new(width, UnitSystem::Metric);
        text::grow(&mut page, &grown, Marks::Blocks);
        fits(&page.finish(), width);
    }
    let asked = CalendarAsked::read("2027-01-09", Some("Europe/Berlin"), "12:00", 12, UnitSystem::Us)
        .expect("the date is a date");
    let view = answers::calendar(&model, &attic_list(), &asked).expect("the list can be planted");
    let mut page = Page::new(40, UnitSystem::Us);
    text::calendar(&mut page, &view);
    fits(&page.finish(), 40);
}

#[test]
fn a_list_that_is_wrong_is_told_line_by_line() {
    let list = file(
        "grow-wrong-list.txt",
        "# ours\nEgeria densa @ back hege\nNo such plant\nAnubias barteri var. nana @ on the wood\n",
    );
    let run = run(&["grow", ATTIC, "--list", &list.to_string_lossy()]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("back hedge") && run.err.contains(":2:16"), "{}", run.err);
    assert!(run.err.contains("No such plant") && run.err.contains(":3:1"), "{}", run.err);
}

#[test]
fn a_zone_may_be_chosen_and_a_misfit_is_told() {
    let list = file("grow-zone-list.txt", "Egeria densa @ Back Hedge\nEgeria densa @ middle left\n");
    let view = json(&[ATTIC, "--list", &list.to_string_lossy(), "--weeks", "2"]);
    let zones: Vec<&str> =
        view["drifts"].as_array().expect("drifts").iter().filter_map(|d| d["zone"].as_str()).collect();
    assert_eq!(zones, ["middle left", "back hedge"]);
    let list = file("grow-misfit-list.txt", "Limnophila aromatica @ front lawn\n");
    let run = run(&["grow", ATTIC, "--list", &list.to_string_lossy(), "--weeks", "2"]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(run.err.contains("fails in “front lawn”"), "{}", run.err);
}

#[test]
fn a_tank_without_a_list_says_why() {
    let wanted = "must = [\"Limnophila aromatica\"]";
    let tank = crate::program::changed_demo("grow-impossible.toml", "must = []", wanted);
    let run = run(&["grow", &tank.to_string_lossy()]);
    assert_eq!(run.code, 1, "{}", run.err);
    assert!(run.out.is_empty() && run.err.contains("no list to plant"), "{}", run.err);
}
