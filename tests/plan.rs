//! `plan`: who stands where, what to buy, and the project sheet that is written whole or not at all.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::program::{Run, demo, file, run};

const ATTIC: &str = "data/demo/attic-lowtech.toml";
const DEMOS: [&str; 3] = ["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"];

fn json(args: &[&str]) -> Value {
    let run = run(&[&["--format", "json"], args].concat());
    assert_eq!(run.code, 0, "{}", run.err);
    serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}", run.out))
}

/// A list that needs no search, with a taxon of each footing.
fn list() -> String {
    let names = "Cryptocoryne wendtii @ front lawn = 70 %\nHygrophila polysperma @ back hedge\n\
                 Sagittaria subulata @ front lawn # a comment\nanubias barteri nana @ on the wood\n";
    file("plan-list.txt", names).to_string_lossy().into_owned()
}

/// A place for a project sheet that is not there yet.
fn fresh(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("sheets");
    std::fs::create_dir_all(&folder).expect("the test folder can be made");
    let path = folder.join(name);
    if path.exists() {
        std::fs::remove_dir_all(&path).expect("what an earlier run left can go");
    }
    path
}

fn sheet(folder: &Path, more: &[&str]) -> Run {
    let folder = folder.to_string_lossy();
    run(&[&["plan", ATTIC, "--list", &list(), "--out", &folder], more].concat())
}

fn names_in(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> =
        entries.map(|e| e.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn the_plan_buys_what_the_list_counted_and_costs_no_more() {
    for name in DEMOS {
        let (fill, plan) = (json(&["fill", &demo(name)]), json(&["plan", &demo(name)]));
        let picks = fill["zones"].as_array().expect("zones").iter();
        let picks = picks.flat_map(|z| z["picks"].as_array().expect("picks"));
        let counted: BTreeMap<&str, u64> = picks
            .map(|p| (p["taxon"].as_str().expect("key"), p["portions"].as_u64().expect("portions")))
            .collect();
        let bought = plan["purchases"].as_array().expect("purchases");
        assert_eq!(bought.len(), counted.len(), "{name}");
        for purchase in bought {
            let taxon = purchase["taxon"].as_str().expect("key");
            let portions = purchase["portions"].as_u64().expect("portions");
            assert!(portions <= counted[taxon], "{name}: {taxon} {portions} > {}", counted[taxon]);
        }
        let cost = |view: &Value| -> f64 {
            view["totals"]["cost"].as_str().expect("a sum").parse().expect("a number")
        };
        assert!(cost(&plan) <= cost(&fill), "{name}");
        for drift in plan["drifts"].as_array().expect("drifts") {
            let places = drift["places_cm"].as_array().expect("places").len() as u64;
            assert_eq!(drift["places"].as_u64(), Some(places), "{name}");
        }
    }
}

#[test]
fn a_list_says_zone_and_share() {
    let plan = json(&["plan", ATTIC, "--list", &list()]);
    let area = |name: &str| {
        let drifts = plan["drifts"].as_array().expect("drifts");
        let drift = drifts.iter().find(|d| d["name"] == name).unwrap_or_else(|| panic!("no {name}"));
        drift["area_cm2"].as_f64().expect("an area")
    };
    // The front lawn is 60 × 9 cm.
    assert!((area("Cryptocoryne wendtii") - 378.0).abs() < 0.6, "{}", area("Cryptocoryne wendtii"));
    assert!((area("Sagittaria subulata") - 162.0).abs() < 0.6);
    assert!((area("Hygrophila polysperma") - 540.0).abs() < 0.6);
}

#[test]
fn wrong_lists_are_told_line_by_line() {
    for (text, told) in [
        ("Cryptocoryne wendtii @ back hegde", "not a zone"),
        ("Cryptocoryne wendtii @ back hedge = 400 %", "not a share"),
        ("Cryptocoryne wendtii @ back hedge = much", "not a share"),
        ("Nothing at all", "not a plant"),
        ("# only a comment", "names no plant"),
        ("Cryptocoryne wendtii @ back hedge\nCryptocoryne wendtii @ back hedge", "twice"),
        ("Cryptocoryne wendtii @ back hedge = 80 %\nEgeria densa @ back hedge = 80 %", "at most 100 %"),
    ] {
        let path = file("plan-wrong.txt", text).to_string_lossy().into_owned();
        let run = run(&["plan", ATTIC, "--list", &path]);
        assert_eq!(run.code, 2, "{text}: {}", run.err);
        assert!(run.err.contains(told), "{text}: {}", run.err);
        assert!(run.out.is_empty(), "{text}: {}", run.out);
    }
}

#[test]
fn the_shopping_list_says_what_has_no_price() {
    let prices = file("plan-prices.csv", "name,price,origin\nEgeria densa,4.50,a test\n");
    let list = file("plan-two.txt", "Egeria densa @ back hedge\nCryptocoryne wendtii @ middle left\n");
    let [prices, list] = [prices, list].map(|p| p.to_string_lossy().into_owned());
    let args = ["--format", "csv", "plan", ATTIC, "--list", &list, "--prices", &prices];
    let run = run(&args);
    assert_eq!(run.code, 0, "{}", run.err);
    let mut reader = csv::Reader::from_reader(run.out.as_bytes());
    let header = reader.headers().expect("a header").clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(|r| r.expect("RFC 4180")).collect();
    let cell = |row: &csv::StringRecord, name: &str| {
        row[header.iter().position(|h| h == name).expect("the column")].to_owned()
    };
    let names: Vec<String> = rows.iter().map(|r| cell(r, "lawfulName")).collect();
    assert_eq!(names, ["Cryptocoryne wendtii", "Egeria densa"]);
    assert_eq!(cell(&rows[0], "pricePerPortion"), "missing");
    assert_eq!(cell(&rows[0], "subtotal"), "missing");
    let portions: f64 = cell(&rows[1], "portions").parse().expect("a number");
    assert_eq!(cell(&rows[1], "subtotal"), format!("{:.2}", portions * 4.5));
}

#[test]
fn a_project_sheet_is_whole_and_asks_nobody() {
    let folder = fresh("whole");
    let run = sheet(&folder, &["--start", "2028-02-29"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let names = names_in(&folder);
    for name in
        ["index.html", "shopping.csv", "plan.json", "tank.toml", "growth.csv", "calendar.ics", "calendar.txt"]
    {
        assert!(names.iter().any(|n| n == name), "no {name} in {names:?}");
    }
    let page = std::fs::read_to_string(folder.join("index.html")).expect("the page");
    let plan: Value =
        serde_json::from_slice(&std::fs::read(folder.join("plan.json")).expect("the plan")).expect("JSON");
    for purchase in plan["purchases"].as_array().expect("purchases") {
        assert!(
            page.contains(purchase["name"].as_str().expect("a name").split('\'').next().expect("a part"))
        );
    }
    for outside in ["src=\"http", "href=\"http", "url(http", "<script", "@import"] {
        assert!(!page.contains(outside), "the page has {outside}");
    }
    // Nothing is left beside it.
    assert!(names_in(folder.parent().expect("a parent")).iter().all(|n| !n.starts_with(".quillwort")));
}

#[test]
fn all_of_a_sheet_is_of_one_planting() {
    let read = |folder: &Path, name: &str| -> Value {
        let text = std::fs::read_to_string(folder.join(name)).expect("the sheet has it");
        serde_json::from_str(&text).expect("JSON")
    };
    let count = |value: &Value, list: &str, field: &str| -> Vec<u64> {
        value[list].as_array().expect("a list").iter().map(|d| d[field].as_u64().expect("a count")).collect()
    };
    let [dense, sparse] = ["dense", "sparse"].map(|density| {
        let folder = fresh(&format!("of-one-planting-{density}"));
        let written = sheet(&folder, &["--density", density]);
        assert_eq!(written.code, 0, "{}", written.err);
        let planted = count(&read(&folder, "plan.json"), "drifts", "places");
        assert_eq!(count(&read(&folder, "growth.json"), "drifts", "pieces"), planted, "{density}");
        planted.iter().sum::<u64>()
    });
    assert!(sparse < dense, "{sparse} pieces sparse, {dense} dense");
}

#[test]
fn a_folder_that_is_there_is_kept_unless_told() {
    let folder = fresh("kept");
    assert_eq!(sheet(&folder, &[]).code, 0);
    std::fs::write(folder.join("shopping.csv"), "mine").expect("it can be changed");
    let again = sheet(&folder, &[]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("--force"), "{}", again.err);
    assert_eq!(std::fs::read_to_string(folder.join("shopping.csv")).expect("there"), "mine");
    assert_eq!(sheet(&folder, &["--force"]).code, 0);
    assert_ne!(std::fs::read_to_string(folder.join("shopping.csv")).expect("there"), "mine");
    std::fs::write(folder.join("diary.txt"), "dear").expect("it can be written");
    let foreign = sheet(&folder, &["--force"]);
    assert_eq!(foreign.code, 2);
    assert!(foreign.err.contains("diary.txt"), "{}", foreign.err);
    assert!(folder.join("diary.txt").exists());
}

#[test]
fn a_place_that_cannot_be_written_is_told() {
    let plain = file("plan-no-folder", "a file");
    for place in [plain.join("sheet"), plain.clone(), PathBuf::from("/proc/no-sheet")] {
        let run = sheet(&place, &[]);
        assert_eq!(run.code, 2, "{}: {}", place.display(), run.err);
        assert!(run.err.contains(&*place.to_string_lossy()), "{}", run.err);
        assert!(run.out.is_empty());
    }
    assert_eq!(std::fs::read_to_string(&plain).expect("there"), "a file");
}
