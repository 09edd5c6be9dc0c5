//! `fill`: a list for every zone that keeps every demand, with proof, the same bytes each time.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::program::{changed_demo, demo, run};

const DEMOS: &[&str] = &["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"];

fn json(args: &[&str]) -> Value {
    let all: Vec<&str> =
        ["fill", "--time-limit", "120", "--format", "json"].iter().chain(args).copied().collect();
    let run = run(&all);
    serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err))
}

fn picks(view: &Value) -> Vec<(String, Value)> {
    let mut picks = Vec::new();
    for zone in view["zones"].as_array().expect("zones") {
        let index = zone["zone"].as_u64().expect("zone index") as usize;
        let name = view["tank"]["zones"][index]["name"].as_str().expect("zone name").to_owned();
        for pick in zone["picks"].as_array().expect("picks") {
            picks.push((name.clone(), pick.clone()));
        }
    }
    picks
}

fn cents(text: &Value) -> i64 {
    let text = text.as_str().expect("a sum of money");
    let (whole, part) = text.split_once('.').expect("two decimals");
    whole.parse::<i64>().expect("digits") * 100 + part.parse::<i64>().expect("digits")
}

#[test]
fn every_demo_tank_is_filled_with_proof_and_keeps_its_demands() {
    for name in DEMOS {
        let view = json(&[&demo(name)]);
        assert_eq!(view["proof"]["status"], "optimal", "{name}");
        assert_eq!(view["proof"]["value"], view["proof"]["bound"], "{name}");
        let picks = picks(&view);
        let taxa: BTreeSet<&str> = picks.iter().map(|(_, p)| p["taxon"].as_str().expect("key")).collect();
        assert_eq!(taxa.len(), picks.len(), "{name}: a taxon in two zones");
        for (zone, pick) in &picks {
            let suitability = pick["suitability"].as_f64().expect("a number");
            assert!(suitability >= 0.5, "{name}, {zone}: {pick}");
            assert!(!pick["limiting"]["factor"].as_str().expect("a factor").is_empty(), "{name}: {pick}");
            let barred = pick["flags"].as_array().expect("flags").iter().any(|f| {
                let f = f.as_str().expect("text");
                f.starts_with("restricted by law")
                    && !f.contains("release into the wild")
                    && !f.contains("public waters")
            });
            assert!(!barred, "{name}, {zone}: {pick}");
        }
        let cost: i64 =
            picks.iter().filter(|(_, p)| !p["cost"].is_null()).map(|(_, p)| cents(&p["cost"])).sum();
        assert_eq!(cost, cents(&view["totals"]["cost"]), "{name}");
        let trim: i64 =
            picks.iter().map(|(_, p)| p["trim_minutes_per_month"].as_i64().expect("minutes")).sum();
        assert_eq!(trim, view["totals"]["trim_minutes_per_month"].as_i64().expect("minutes"), "{name}");
    }
}

#[test]
fn the_low_tech_demo_stays_within_budget_counts_and_genera() {
    let view = json(&[&demo("attic-lowtech.toml")]);
    assert!(cents(&view["totals"]["cost"]) <= 15_000);
    assert!(view["totals"]["trim_minutes_per_month"].as_i64().expect("minutes") <= 90);
    let counts = [
        ("front lawn", 1..=2),
        ("middle left", 1..=2),
        ("middle right", 1..=2),
        ("back hedge", 2..=3),
        ("on the wood", 1..=3),
    ];
    let picks = picks(&view);
    for (zone, allowed) in counts {
        let count = picks.iter().filter(|(z, _)| z == zone).count();
        assert!(allowed.contains(&count), "{zone}: {count}");
    }
    let genera: Vec<&str> = picks
        .iter()
        .map(|(_, p)| p["name"].as_str().expect("name").split(' ').next().expect("genus"))
        .collect();
    for genus in &genera {
        assert!(genera.iter().filter(|g| g == &genus).count() <= 2, "{genus}");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    for format in ["text", "json", "csv"] {
        let args = ["fill", "--time-limit", "120", "--format", format, &demo("shelf-gassed.toml")];
        let (first, second) = (run(&args), run(&args));
        assert_eq!(first.code, 0, "{}", first.err);
        assert_eq!(first.out, second.out, "{format}");
    }
}

#[test]
fn text_fits_80_columns_and_carries_no_codes_in_a_pipe() {
    for name in DEMOS {
        let run = run(&["fill", "--time-limit", "120", &demo(name)]);
        for line in run.out.lines() {
            assert!(line.chars().count() <= 80, "{name}: {line}");
            assert!(!line.contains('\u{1b}'), "{name}: {line}");
        }
        for caution in ["Electricity:", "Floor:", "Release:", "not legal advice", "structural engineer"] {
            let flat = run.out.replace('\n', " ").replace("  ", " ");
            assert!(flat.contains(caution), "{name}: {caution}");
        }
    }
    let gassed = run(&["fill", "--time-limit", "120", &demo("shelf-gassed.toml")]);
    assert!(gassed.out.contains("Gas: CO2 is heavier than air"), "{}", gassed.out);
}

#[test]
fn keep_and_without_are_kept_to() {
    let view = json(&[
        "--keep",
        "Cryptocoryne parva",
        "--without",
        "Taxiphyllum barbieri",
        &demo("attic-lowtech.toml"),
    ]);
    let taxa: Vec<String> =
        picks(&view).iter().map(|(_, p)| p["taxon"].as_str().expect("key").to_owned()).collect();
    assert!(taxa.iter().any(|t| t == "cryptocoryne-parva"), "{taxa:?}");
    assert!(!taxa.iter().any(|t| t == "taxiphyllum-barbieri"), "{taxa:?}");
}

#[test]
fn only_plants_of_an_area_are_chosen_when_asked() {
    let path = changed_demo("native.toml", "never = []", "never = []\nnative = [\"tropical Asia\"]");
    let path = path.to_str().expect("UTF-8");
    let view = json(&[path]);
    let picks = picks(&view);
    assert!(!picks.is_empty());
    let plants = std::fs::read_to_string("data/plants.csv").expect("the catalogue");
    let mut reader = csv::Reader::from_reader(plants.as_bytes());
    let header = reader.headers().expect("header").clone();
    let column = |name: &str| header.iter().position(|h| h == name).expect("a column");
    let rows: Vec<csv::StringRecord> = reader.records().map(|r| r.expect("a row")).collect();
    for (_, pick) in picks {
        let row = rows.iter().find(|r| r.get(column("taxonID")) == pick["taxon"].as_str()).expect("a taxon");
        let native = row.get(column("native")).expect("native");
        assert!(native.split(';').any(|code| code.starts_with('4')), "{}: {native}", pick["name"]);
    }
}

#[test]
fn a_budget_that_buys_nothing_is_named_with_the_way_out() {
    let path = changed_demo("poor.toml", "budget = \"150\"", "budget = \"1\"");
    let text = std::fs::read_to_string(&path).expect("written").replace(
        "currency = \"EUR\"",
        &format!(
            "currency = \"EUR\"\nprices = \"{}/data/demo/prices-invented.csv\"",
            env!("CARGO_MANIFEST_DIR")
        ),
    );
    std::fs::write(&path, text).expect("writable");
    let run = run(&["fill", "--time-limit", "120", path.to_str().expect("UTF-8")]);
    assert_eq!(run.code, 1, "{}{}", run.out, run.err);
    assert!(run.out.contains("No list can be made"), "{}", run.out);
    assert!(run.out.contains("budget"), "{}", run.out);
}

#[test]
fn a_must_that_fails_or_is_unlawful_is_named() {
    for (plant, says) in [
        ("Glossostigma elatinoides", "Glossostigma elatinoides"),
        ("Pontederia crassipes", "Pontederia crassipes"),
    ] {
        let run = run(&["fill", "--time-limit", "120", "--keep", plant, &demo("attic-lowtech.toml")]);
        assert_eq!(run.code, 1, "{plant}: {}", run.out);
        assert!(run.out.contains(says), "{plant}: {}", run.out);
    }
}

#[test]
fn missing_prices_are_said_and_left_out_of_the_budget() {
    let path = changed_demo("no-prices.toml", "budget = \"150\"", "budget = \"5\"");
    let view = json(&[path.to_str().expect("UTF-8")]);
    assert_eq!(view["proof"]["status"], "optimal");
    let missing = view["totals"]["without_price"].as_array().expect("names").len();
    assert_eq!(missing, picks(&view).len());
}
