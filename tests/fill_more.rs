//! `fill` beyond the best list: conflicts with their lines, further lists, the nearest list, what
//! more would buy, demands on the command line, and files for other solvers.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::program::{changed_demo, demo, file, run};

const ATTIC: &str = "attic-lowtech.toml";

fn json(args: &[&str]) -> Value {
    let all: Vec<&str> =
        ["fill", "--time-limit", "120", "--format", "json"].iter().chain(args).copied().collect();
    let run = run(&all);
    serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err))
}

fn attic(args: &[&str]) -> Value {
    let tank = demo(ATTIC);
    let all: Vec<&str> = args.iter().copied().chain([tank.as_str()]).collect();
    json(&all)
}

pub fn taxa(view: &Value) -> Vec<String> {
    let zones = view["zones"].as_array().expect("zones").iter();
    let picks = zones.flat_map(|z| z["picks"].as_array().expect("picks").clone());
    picks.map(|p| p["taxon"].as_str().expect("key").to_owned()).collect()
}

/// A demo with its price list named from anywhere, and one more change.
fn attic_with(name: &str, from: &str, to: &str) -> String {
    let path = changed_demo(name, from, to);
    let list = concat!(env!("CARGO_MANIFEST_DIR"), "/data/demo/prices-invented.csv");
    let currency = "currency = \"EUR\"\n";
    let text = fs::read_to_string(&path).expect("written");
    let text = text.replace(currency, &format!("{currency}prices = \"{list}\"\n"));
    fs::write(&path, text).expect("writable");
    path.to_str().expect("UTF-8").to_owned()
}

#[test]
fn a_demand_of_the_command_line_is_none_of_the_tank_file() {
    let view = attic(&["--budget", "20"]);
    let members = view["conflict"]["members"].as_array().expect("members");
    let budget = members.iter().find(|m| m["demand"].as_str().is_some_and(|d| d.contains("budget")));
    let budget = budget.unwrap_or_else(|| panic!("the budget is in {members:?}"));
    assert!(budget["line"].is_null() && budget["setting"].is_null(), "{budget}");
    assert!(members.iter().any(|m| m["setting"]["key"] == "zone[0].taxa"), "{members:?}");
}

#[test]
fn a_conflict_names_its_lines_and_the_nearest_way_out() {
    let tank = attic_with("poor-attic.toml", "budget = \"150\"", "budget = \"20\"");
    let view = json(&[&tank]);
    let conflict = &view["conflict"];
    assert_eq!(conflict["proven"], true, "{conflict}");
    let members = conflict["members"].as_array().expect("members");
    let budget = members.iter().find(|m| m["demand"].as_str().is_some_and(|d| d.contains("budget")));
    let budget = budget.unwrap_or_else(|| panic!("the budget is in {conflict}"));
    let text = fs::read_to_string(&tank).expect("readable");
    let line = text.lines().position(|l| l.starts_with("budget")).expect("a line") + 1;
    assert_eq!(budget["line"], line, "{budget}");
    assert_eq!(budget["enough"], true, "{budget}");
    assert_eq!(budget["setting"]["key"], "wishes.budget", "{budget}");
    let nearest = budget["nearest"].as_i64().expect("hundredths");
    let sum = |hundredths: i64| format!("{}.{:02}", hundredths / 100, hundredths % 100);
    assert_eq!(run(&["fill", "--time-limit", "120", "--budget", &sum(nearest), &tank]).code, 0);
    assert_eq!(run(&["fill", "--time-limit", "120", "--budget", &sum(nearest - 1), &tank]).code, 1);
    let shown = run(&["fill", "--time-limit", "120", &tank]);
    assert!(shown.out.contains(&format!("line {line})")), "{}", shown.out);
    assert!(shown.out.contains("Proven: "), "{}", shown.out);
}

#[test]
fn clashes_of_wishes_are_told_in_their_words() {
    let cases: [(&[&str], &[&str]); 6] = [
        (&["--keep", "Java fern", "--without", "Leptochilus pteropus"], &["must be on the list", "allow it"]),
        (&["--keep", "Pontederia crassipes"], &["a law of the tank's place restricts it"]),
        (&["--keep", "Glossostigma elatinoides"], &["grows in no zone", "limited by"]),
        (&["--one-of", "Glossostigma elatinoides"], &["at least one of Glossostigma elatinoides"]),
        (&["--most-taxa", "3"], &["at most 3 taxa in all", "allow 6 taxa in all"]),
        (&["--trim", "0"], &["at most 0 minutes of trimming", "allow "]),
    ];
    for (args, says) in cases {
        let tank = demo(ATTIC);
        let all: Vec<&str> =
            ["fill", "--time-limit", "120"].iter().chain(args).copied().chain([tank.as_str()]).collect();
        let run = run(&all);
        let flat = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(run.code, 1, "{args:?}: {}{}", run.out, run.err);
        for says in says {
            assert!(flat.contains(says), "{args:?}: {says} in\n{}", run.out);
        }
        assert!(run.out.lines().all(|l| l.chars().count() <= 80), "{}", run.out);
    }
}

#[test]
fn demands_of_the_command_line_replace_those_of_the_file() {
    let best = attic(&[])["proof"]["value"].as_i64().expect("a value");
    let value = |args: &[&str]| {
        let view = attic(args);
        assert_eq!(view["proof"]["status"], "optimal", "{args:?}: {}", view["conflict"]);
        view["proof"]["value"].as_i64().expect("a value")
    };
    for looser in [
        ["--budget", "none"],
        ["--trim", "none"],
        ["--per-genus", "none"],
        ["--height-order", "none"],
        ["--taxa", "front lawn=1..3"],
        ["--jurisdiction", "none"],
    ] {
        assert!(value(&looser) >= best, "{looser:?}");
    }
    for tighter in [
        ["--budget", "90"],
        ["--trim", "30"],
        ["--per-genus", "1"],
        ["--most-taxa", "8"],
        ["--fast", "60 %"],
        ["--taxa", "front lawn=1"],
        ["--native", "tropical Asia"],
        ["--one-of", "Cryptocoryne parva | Anubias barteri var. nana"],
    ] {
        assert!(value(&tighter) <= best, "{tighter:?}");
    }
    assert_eq!(taxa(&attic(&["--most-taxa", "8"])).len(), 8);
    let one_of = taxa(&attic(&["--one-of", "Cryptocoryne parva | Anubias barteri var. nana"]));
    assert!(one_of.iter().any(|t| t == "cryptocoryne-parva" || t == "anubias-barteri-nana"), "{one_of:?}");
}

#[test]
fn the_tank_file_knows_the_same_demands() {
    let tank = attic_with(
        "more-wishes.toml",
        "per_genus = 2",
        "per_genus = 2\nmost_taxa = 9\nheight_order = false\n\
         one_of = [[\"Cryptocoryne parva\", \"Anubias barteri var. nana\"]]",
    );
    let view = json(&[&tank]);
    assert_eq!(view["proof"]["status"], "optimal");
    assert_eq!(taxa(&view).len(), 9);
    let flags = attic(&[
        "--most-taxa",
        "9",
        "--height-order",
        "none",
        "--one-of",
        "Cryptocoryne parva | Anubias barteri var. nana",
    ]);
    assert_eq!(view["proof"]["value"], flags["proof"]["value"]);
    assert_eq!(taxa(&view), taxa(&flags));
}

#[test]
fn wrong_demands_are_refused_together() {
    let tank = demo(ATTIC);
    let run = run(&[
        "fill",
        "--budget",
        "much",
        "--trim",
        "-3",
        "--fast",
        "3",
        "--per-genus",
        "0",
        "--taxa",
        "front lwn=1",
        "--taxa",
        "back hedge=9",
        "--jurisdiction",
        "Europe",
        &tank,
    ]);
    assert_eq!(run.code, 2, "{}{}", run.out, run.err);
    for says in [
        "--budget is `much`",
        "--trim is `-3`",
        "--fast is `3`",
        "--per-genus is `0`",
        "did you mean `front lawn`?",
        "--taxa is `back hedge=9`",
        "--jurisdiction is `Europe`",
    ] {
        assert!(run.err.contains(says), "{says} in\n{}", run.err);
    }
}

#[test]
fn further_lists_fall_in_value_and_differ() {
    let view = attic(&["--alternatives", "3", "--differ", "3"]);
    let mut lists = vec![taxa(&view)];
    let mut value = view["proof"]["value"].as_i64().expect("a value");
    let further = view["alternatives"].as_array().expect("lists");
    assert_eq!(further.len(), 3);
    for (n, list) in further.iter().enumerate() {
        assert_eq!(list["rank"], n + 2);
        assert_eq!(list["proven"], true);
        let worth = list["value"].as_i64().expect("a value");
        assert!(worth <= value, "{worth} after {value}");
        value = worth;
        let picks = list["picks"].as_array().expect("picks").iter();
        let own: Vec<String> = picks.map(|p| p["taxon"].as_str().expect("key").to_owned()).collect();
        for better in &lists {
            assert!(better.iter().filter(|t| !own.contains(t)).count() >= 3, "{own:?}\n{better:?}");
        }
        lists.push(own);
    }
    let shown = run(&["fill", "--time-limit", "120", "--alternatives", "1", &demo(ATTIC)]);
    assert!(shown.out.contains("The next best lists\n  2."), "{}", shown.out);
}

#[test]
fn a_list_that_is_there_is_changed_as_little_as_it_takes() {
    let best = attic(&[]);
    let names: Vec<String> = taxa(&best).iter().map(|t| t.replace('-', " ")).collect();
    let list = file("near-list.txt", names.join("\n"));
    let list = list.to_str().expect("UTF-8");
    let same = attic(&["--near", list]);
    assert_eq!(same["near"]["fewest"], 0, "{}", same["near"]);
    assert_eq!(same["proof"]["value"], best["proof"]["value"]);
    let tighter = attic(&["--near", list, "--budget", "120"]);
    let fewest = tighter["near"]["fewest"].as_u64().expect("a count");
    assert!(fewest >= 1, "{}", tighter["near"]);
    assert_eq!(tighter["near"]["off"].as_array().map(Vec::len), Some(fewest as usize));
    let few = run(&[
        "fill",
        "--time-limit",
        "120",
        "--near",
        list,
        "--changes",
        "0",
        "--budget",
        "120",
        &demo(ATTIC),
    ]);
    assert_eq!(few.code, 1, "{}{}", few.out, few.err);
    assert!(few.out.contains("only 0 allowed"), "{}", few.out);
}

#[test]
fn what_more_would_buy_is_never_a_loss() {
    let view = attic(&["--what-if", "--why"]);
    let changes = view["what_if"].as_array().expect("changes");
    assert_eq!(changes.len(), 3);
    for change in &changes[..2] {
        assert!(change["gain"].as_i64().expect("a gain") >= 0, "{change}");
    }
    let caution = changes[2]["caution"].as_str().expect("a caution");
    assert!(caution.contains("fish"), "{caution}");
    let binding = view["binding"].as_array().expect("demands");
    for demand in binding {
        assert!(demand["demand"].as_str().is_some_and(|d| !d.is_empty()));
    }
    for zone in view["zones"].as_array().expect("zones") {
        let why = &zone["why_not"];
        let less = why["less"].as_i64();
        assert!(
            less.is_some_and(|l| l >= 0) || !why["against"].as_array().expect("demands").is_empty(),
            "{why}"
        );
    }
    let shown = run(&["fill", "--time-limit", "120", "--what-if", "--why", &demo(ATTIC)]);
    assert!(shown.out.lines().all(|l| l.chars().count() <= 80), "{}", shown.out);
    for says in ["What more would buy", "  binding  ", "  why not "] {
        assert!(shown.out.contains(says), "{says} in\n{}", shown.out);
    }
}

#[test]
fn the_files_for_other_solvers_hold_the_list() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let (model, solution) = (folder.join("attic.mps"), folder.join("attic.sol"));
    let view = attic(&[
        "--write-model",
        model.to_str().expect("UTF-8"),
        "--write-solution",
        solution.to_str().expect("UTF-8"),
    ]);
    let (model, solution) =
        (fs::read_to_string(model).expect("written"), fs::read_to_string(solution).expect("written"));
    let chosen: Vec<&str> = solution.lines().filter(|l| !l.starts_with('#')).collect();
    assert_eq!(chosen.len(), taxa(&view).len());
    for line in chosen {
        let column = line.strip_suffix(" 1").expect("a column that is 1");
        assert!(model.contains(&format!("\n {column} ")), "{column}");
    }
    assert!(solution.contains(&format!("# value {}\n", view["proof"]["value"])), "{solution}");
    assert!(solution.contains("# status optimal\n"), "{solution}");
    let nowhere = run(&["fill", "--write-model", "/no/such/folder/x.mps", &demo(ATTIC)]);
    assert_eq!(nowhere.code, 2);
    assert!(nowhere.out.is_empty(), "{}", nowhere.out);
}

#[test]
fn a_time_limit_of_nothing_gives_the_best_so_far_or_says_so() {
    let run = run(&["fill", "--time-limit", "0", &demo(ATTIC)]);
    assert!(run.code == 0 || run.code == 1, "{}", run.err);
    let flat = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("ended early: this list is worth")
            || flat.contains("ended before a list was found")
            || flat.contains("no list under these demands"),
        "{}",
        run.out
    );
}
