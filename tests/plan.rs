//! `plan`: who stands where, what to buy, and the project sheet that is written whole or not at all.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde_json::Value;

use assert_cmd::Command;

use crate::program::{Run, changed_demo, demo, file, finish, library_args, run};

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

/// The weeks pictured and the calendar share one course of the tank with the growth, and change nothing
/// in it.
#[test]
fn what_is_pictured_changes_nothing_in_growth_and_calendar() {
    let of = |name: &str, more: &[&str]| {
        let folder = fresh(name);
        let written = sheet(&folder, more);
        assert_eq!(written.code, 0, "{}", written.err);
        ["growth.json", "growth.csv", "growth.svg"]
            .map(|n| std::fs::read(folder.join(n)).expect("it is there"))
    };
    let plain = of("weeks-plain", &[]);
    assert!(plain == of("weeks-far", &["--weeks", "0,30"]), "far weeks change the growth");
    assert!(plain == of("weeks-dated", &["--start", "2027-01-09", "--weeks", "3"]), "a calendar changes it");
    let calendar = |name: &str, more: &[&str]| {
        let folder = fresh(name);
        assert_eq!(sheet(&folder, &[&["--start", "2027-01-09"], more].concat()).code, 0);
        std::fs::read_to_string(folder.join("calendar.txt")).expect("it is there")
    };
    assert_eq!(calendar("dated-near", &[]), calendar("dated-far", &["--weeks", "40"]));
}

#[test]
fn the_calendar_of_a_sheet_is_html_with_every_task_of_its_text() {
    let folder = fresh("dated");
    assert_eq!(sheet(&folder, &["--start", "2027-01-09"]).code, 0);
    let read = |name: &str| std::fs::read_to_string(folder.join(name)).expect("the sheet has it");
    let (page, view): (String, Value) =
        (read("index.html"), serde_json::from_str(&read("calendar.json")).expect("JSON"));
    assert!(!page.contains("<pre"), "text set as it stands");
    let weeks = view["by_week"].as_array().expect("weeks");
    assert!(weeks.len() > 8, "{} weeks", weeks.len());
    let chapter = page.split("What to do when</h2>").nth(1).expect("the chapter").split("</section>").next();
    let chapter = chapter.expect("its end");
    let tasks: usize = weeks.iter().map(|w| w["items"].as_array().expect("items").len()).sum();
    let lists: usize = chapter
        .split("<ul class=\"tasks\">")
        .skip(1)
        .map(|l| l.split("</ul>").next().map_or(0, |l| l.matches("<li>").count()))
        .sum();
    assert_eq!(lists, tasks);
    for item in weeks.iter().flat_map(|w| w["items"].as_array().expect("items")) {
        let title = item["title"].as_str().expect("a title");
        let title = title.replace('&', "&amp;");
        assert!(chapter.contains(&title), "no {title}");
    }
}

/// A name in letters that the typeface of PNG files lacks is told, once.
#[test]
fn names_that_png_files_cannot_show_are_told() {
    let tank = changed_demo("plan-letters.toml", "name = \"Attic study\"", "name = \"屋根裏\"");
    let (list, folder) = (list(), fresh("letters"));
    let run = run(&["plan", &tank.to_string_lossy(), "--list", &list, "--out", &folder.to_string_lossy()]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert_eq!(run.err.matches("“屋”").count(), 1, "{}", run.err);
    assert!(std::fs::read_to_string(folder.join("plan.svg")).expect("there").contains("屋根裏"));
    assert!(!sheet(&fresh("latin"), &[]).err.contains("empty boxes"));
}

/// The disk that is full before the sheet is whole, as a limit on the size of files (`EFBIG` for `ENOSPC`):
/// nothing half-written stays, and what stood there before is untouched.
#[cfg(unix)]
#[test]
fn a_sheet_that_does_not_fit_on_the_disk_leaves_nothing() {
    let parent = fresh("small-disk");
    std::fs::create_dir_all(&parent).expect("the folder can be made");
    let (old, new) = (parent.join("old"), parent.join("new"));
    assert_eq!(sheet(&old, &[]).code, 0);
    let before: Vec<Vec<u8>> =
        names_in(&old).iter().map(|n| std::fs::read(old.join(n)).expect("a file")).collect();
    for (folder, more) in [(&new, vec![]), (&old, vec!["--force"])] {
        // Blocks of 512 bytes: the first files fit, the drawings do not. The signal is ignored, so that
        // writing fails as it does on a full disk.
        let run = finish(
            Command::new("sh")
                .args([
                    "-c",
                    "trap '' XFSZ; ulimit -f 100; exec \"$0\" \"$@\"",
                    env!("CARGO_BIN_EXE_quillwort"),
                ])
                .args(library_args())
                .args(["plan", ATTIC, "--list", &list(), "--out", &folder.to_string_lossy()])
                .args(more)
                .current_dir(env!("CARGO_MANIFEST_DIR")),
        );
        assert_eq!(run.code, 2, "{}", run.err);
        assert!(run.err.contains(&*folder.to_string_lossy()), "{}", run.err);
        assert_eq!(names_in(&parent), ["old"], "something is left: {}", run.err);
    }
    let after: Vec<Vec<u8>> =
        names_in(&old).iter().map(|n| std::fs::read(old.join(n)).expect("a file")).collect();
    assert!(before == after, "the sheet that stood there has changed");
}

/// A tank as large as they come, planted with what is bought one by one.
#[test]
fn two_thousand_portions_are_planned_and_drawn() {
    let text = "name = \"a pond\"\n[glass]\nlength = \"400 cm\"\ndepth = \"150 cm\"\nheight = \"60 cm\"\n\
                water = \"55 cm\"\n[bed]\nkind = \"sand\"\nfront = \"4 cm\"\nback = \"8 cm\"\n[light]\nhours = 8\n\
                [[light.lamp]]\nphoton_flux = \"600 umol/s\"\nsize = [\"280 cm\", \"60 cm\"]\n\
                above_water = \"20 cm\"\nbeam = \"120 deg\"\nat = [\"200 cm\", \"75 cm\"]\n[gas]\n\
                injection = \"none\"\n[water]\ntemperature = \"24 degC\"\nph = \"7\"\ngh = \"6 dGH\"\nkh = \"4 dKH\"\n\
                [[zone]]\nname = \"all\"\nplacement = \"foreground\"\nfrom_front = \"0..150 cm\"\ntaxa = \"1..8\"\n";
    let tank = file("plan-pond.toml", text);
    let list = file("plan-pond.txt", "Subularia aquatica @ all\n");
    let drawn = file("plan-pond.svg", "");
    let [tank, list, svg] = [&tank, &list, &drawn].map(|p| p.to_string_lossy().into_owned());
    let plan = json(&["plan", &tank, "--list", &list, "--svg", &svg]);
    let portions = plan["totals"]["portions"].as_u64().expect("portions");
    assert!(portions >= 2000, "{portions} portions");
    let svg = std::fs::read_to_string(&drawn).expect("the plan is drawn");
    roxmltree::Document::parse(&svg).expect("XML");
    for drift in plan["drifts"].as_array().expect("drifts") {
        let [places, each] = ["places", "pieces_per_portion"].map(|k| drift[k].as_u64().expect("a count"));
        assert_eq!(drift["portions"].as_u64(), Some(places.div_ceil(each)));
        assert_eq!(drift["places_cm"].as_array().expect("places").len() as u64, places);
    }
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
