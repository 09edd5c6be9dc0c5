//! `compare`: plants side by side, tanks side by side.

use serde_json::Value;

use crate::program::{demo, run};

const TANK: &str = "data/demo/attic-lowtech.toml";

fn json(args: &[&str]) -> Value {
    let all: Vec<&str> = ["compare", "--format", "json"].iter().chain(args).copied().collect();
    let run = run(&all);
    serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err))
}

#[test]
fn plants_stand_in_the_order_given() {
    let view = json(&[TANK, "Rotala macrandra", "Egeria densa", "Anubias barteri var. nana"]);
    let names: Vec<&str> = view["columns"]
        .as_array()
        .expect("columns")
        .iter()
        .map(|c| c["taxon"].as_str().expect("a key"))
        .collect();
    assert_eq!(names, ["rotala-macrandra", "egeria-densa", "anubias-barteri-nana"]);
    assert_eq!(view["across"], "plants");
}

#[test]
fn one_plant_in_every_demo_tank() {
    let tanks = ["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"].map(demo);
    let args: Vec<&str> =
        ["--plant", "Vallisneria spiralis"].into_iter().chain(tanks.iter().map(String::as_str)).collect();
    let view = json(&args);
    let columns = view["columns"].as_array().expect("columns");
    assert_eq!(columns.len(), 3);
    assert!(columns.iter().all(|c| c["taxon"] == "vallisneria-spiralis"));
    assert_eq!(view["across"], "tanks");
}

#[test]
fn a_comparison_agrees_with_a_check() {
    let compared = json(&[TANK, "Rotala macrandra"]);
    let checked = run(&["check", "--format", "json", TANK, "Rotala macrandra"]);
    let checked: Value = serde_json::from_str(&checked.out).expect("JSON");
    for key in ["verdict", "suitability", "limiting", "certainty", "factors"] {
        assert_eq!(compared["columns"][0][key], checked["wishes"][0][key], "{key}");
    }
}

#[test]
fn text_fits_eighty_columns_with_many_plants() {
    let run = run(&[
        "compare",
        TANK,
        "Rotala macrandra",
        "Egeria densa",
        "Anubias barteri var. nana",
        "Cryptocoryne wendtii",
        "Vallisneria spiralis",
        "Micranthemum callitrichoides",
    ]);
    assert_eq!(run.code, 0, "{}", run.err);
    for line in run.out.lines() {
        assert!(line.chars().count() <= 80, "{line}");
        assert_eq!(line, line.trim_end(), "blanks at the end");
    }
}

#[test]
fn a_zone_can_be_asked_for_and_a_wrong_one_is_told() {
    let view = json(&[TANK, "Egeria densa", "--zone", "front lawn"]);
    assert_eq!(view["columns"][0]["zone"], "front lawn");
    let run = run(&["compare", TANK, "Egeria densa", "--zone", "front lawm"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("front lawn"), "{}", run.err);
}

#[test]
fn nothing_to_compare_is_an_error() {
    let run = run(&["compare", TANK]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("nothing to compare"), "{}", run.err);
}
