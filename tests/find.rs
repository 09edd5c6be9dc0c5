//! `find`: words, facets and ranges.

use serde_json::Value;

use crate::program::{finish, quillwort, run};

fn json(args: &[&str]) -> Value {
    let all: Vec<&str> = ["find", "--format", "json"].iter().chain(args).copied().collect();
    serde_json::from_str(&run(&all).out).expect("JSON")
}

#[test]
fn facet_counts_are_those_of_all_hits() {
    let all = json(&["--limit", "1000", "--placement", "foreground"]);
    let hits = all["hits"].as_array().expect("hits");
    assert_eq!(hits.len() as u64, all["total"].as_u64().expect("a count"));
    for count in all["facets"]["growthForm"].as_array().expect("counts") {
        let form = count["value"].as_str().expect("a word");
        let found = hits.iter().filter(|h| h["growth_form"] == form).count();
        assert_eq!(found as u64, count["count"].as_u64().expect("a count"), "{form}");
    }
    let page = json(&["--limit", "5", "--offset", "5", "--placement", "foreground"]);
    assert_eq!(page["hits"].as_array().expect("hits")[..], hits[5..10]);
}

#[test]
fn gas_light_range_and_place_narrow_the_answer() {
    let view = json(&["carpet", "low", "light", "--placement", "foreground", "--gas", "none"]);
    for hit in view["hits"].as_array().expect("hits") {
        assert_eq!(hit["gas"], "without gas");
        assert!(hit["placement"].as_array().expect("places").iter().any(|p| p == "foreground"));
    }
    let hard = json(&["--range", "gh=25..30", "--limit", "1000"]);
    assert!(hard["hits"].as_array().expect("hits").iter().all(|h| h["taxon"] != "tonina-fluviatilis"));
    let everywhere = json(&["--placement", "floating", "--limit", "1000"]);
    let lawful = json(&["--placement", "floating", "--limit", "1000", "--jurisdiction", "EU"]);
    assert!(lawful["total"].as_u64() < everywhere["total"].as_u64());
    assert!(lawful["hits"].as_array().expect("hits").iter().all(|h| h["taxon"] != "pontederia-crassipes"));
}

#[test]
fn nothing_found_is_a_no() {
    let run = run(&["find", "--range", "ph=3.6..3.7", "--range", "gh=70.."]);
    assert_eq!((run.code, run.out.as_str()), (1, "No plant of the catalogue answers that.\n"));
}

#[test]
fn wrong_words_are_all_named_at_once() {
    let run = run(&[
        "find",
        "--placement",
        "forground",
        "--facet",
        "colr=red",
        "--range",
        "gh=9..3",
        "--native",
        "Atlantis",
    ]);
    assert_eq!(run.code, 2);
    for says in [
        "`forground`",
        "did you mean `foreground`?",
        "`colr` is not a facet",
        "`colour`",
        "`gh=9..3`",
        "`Atlantis`",
    ] {
        assert!(run.err.contains(says), "{says} not in\n{}", run.err);
    }
}

#[test]
fn csv_has_a_row_a_hit_and_colour_comes_only_when_asked() {
    let run = run(&["find", "moss", "--format", "csv", "--limit", "7"]);
    assert_eq!(run.out.lines().count(), 8);
    let colour = finish(quillwort().args(["find", "moss", "--limit", "1", "--color", "always"]));
    assert!(colour.out.contains("\u{1b}[1m"), "{}", colour.out);
    let plain = finish(quillwort().args(["find", "moss", "--limit", "1"]));
    assert!(!plain.out.contains('\u{1b}'), "{}", plain.out);
}
