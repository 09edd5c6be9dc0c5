//! `check`: wish lists in every form, verdicts, findings, formats.

use serde_json::Value;

use crate::program::{demo, file, run, run_with};

const TANK: &str = "data/demo/attic-lowtech.toml";

fn json(args: &[&str]) -> Value {
    let all: Vec<&str> = ["check", "--format", "json"].iter().chain(args).copied().collect();
    let run = run(&all);
    serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err))
}

fn taxa(view: &Value) -> Vec<String> {
    let wishes = view["wishes"].as_array().expect("wishes");
    wishes.iter().map(|w| w["taxon"].as_str().expect("a key").to_owned()).collect()
}

#[test]
fn a_list_that_fits_is_a_yes() {
    let run = run(&["check", TANK, "Anubias barteri var. nana", "Cryptocoryne wendtii"]);
    assert_eq!(run.code, 0, "{}{}", run.out, run.err);
    assert!(run.out.contains("All 2 plants fit"), "{}", run.out);
}

#[test]
fn a_misfit_is_a_no_with_what_would_help() {
    let run = run(&["check", TANK, "Anubias barteri var. nana", "Micranthemum callitrichoides"]);
    assert_eq!(run.code, 1, "{}{}", run.out, run.err);
    assert!(run.out.contains("1 of 2 plants does not fit"), "{}", run.out);
    assert!(run.out.contains("limited by carbon"), "{}", run.out);
    assert!(run.out.contains("no single change is enough"), "{}", run.out);
    assert!(run.out.contains("instead:"), "{}", run.out);
}

#[test]
fn the_law_is_a_no_however_well_the_plant_would_grow() {
    let run = run(&["check", TANK, "Lagarosiphon major"]);
    assert_eq!(run.code, 1, "{}", run.out);
    assert!(run.out.contains("barred") && run.out.contains("restricted by law in EU"), "{}", run.out);
}

#[test]
fn the_worst_comes_first() {
    let list = ["Anubias barteri var. nana", "Lagarosiphon major", "Micranthemum callitrichoides"];
    let view = json(&[&[TANK], &list[..]].concat());
    let wishes = view["wishes"].as_array().expect("wishes");
    assert_eq!(wishes[0]["barred"], true, "{wishes:#?}");
    let rest: Vec<f64> = wishes[1..].iter().map(|w| w["suitability"].as_f64().expect("a number")).collect();
    assert!(rest.is_sorted(), "{rest:?}");
}

#[test]
fn files_arguments_and_stdin_are_one_list() {
    let path =
        file("wishes.txt", "# a list\n\nAnubias barteri var. nana   # on wood\r\n  Vallisneria spiralis\n");
    let path = path.to_str().expect("a plain path");
    let run =
        run_with(&["check", "--format", "json", TANK, path, "Egeria densa", "-"], "Cryptocoryne wendtii\n");
    let view: Value =
        serde_json::from_str(&run.out).unwrap_or_else(|e| panic!("{e}: {}{}", run.out, run.err));
    let mut found = taxa(&view);
    found.sort();
    assert_eq!(
        found,
        ["anubias-barteri-nana", "cryptocoryne-wendtii", "egeria-densa", "vallisneria-spiralis"]
    );
}

#[test]
fn every_name_that_is_no_plant_is_told_with_its_place() {
    let path = file("wrong.txt", "Anubias barteri var. nana\nRotala\n\nNonesuch plantum\n");
    let path = path.to_str().expect("a plain path");
    let run = run(&["check", TANK, path, "Javanese waterfern thing"]);
    assert_eq!(run.code, 2, "{}{}", run.out, run.err);
    assert!(run.out.is_empty(), "{}", run.out);
    assert!(run.err.contains("wrong.txt:2:1"), "{}", run.err);
    assert!(run.err.contains("wrong.txt:4:1"), "{}", run.err);
    assert!(
        run.err.contains("Rotala rotundifolia") && run.err.contains("`Javanese waterfern thing`"),
        "{}",
        run.err
    );
}

#[test]
fn a_list_without_names_is_an_error() {
    let path = file("empty.txt", "# nothing\n\n");
    let run = run(&["check", TANK, path.to_str().expect("a plain path")]);
    assert_eq!(run.code, 2, "{}", run.out);
    assert!(run.err.contains("names no plant"), "{}", run.err);
}

#[test]
fn stdin_twice_is_an_error() {
    let run = run_with(&["check", TANK, "-", "-"], "Egeria densa\n");
    assert_eq!(run.code, 2);
    assert!(run.err.contains("stdin"), "{}", run.err);
}

#[test]
fn synonyms_of_one_plant_are_one_wish_and_told() {
    let view = json(&[TANK, "Leptochilus pteropus", "Microsorum pteropus"]);
    assert_eq!(taxa(&view), ["leptochilus-pteropus"]);
    let repeats = view["group"]["repeats"].as_array().expect("repeats");
    assert_eq!(repeats.len(), 1, "{repeats:?}");
    assert_eq!(repeats[0]["written"].as_array().expect("names").len(), 2);
}

#[test]
fn text_fits_eighty_columns() {
    for tank in ["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"] {
        let list =
            ["Rotala macrandra", "Bucephalandra sp. 'Wavy Green'", "Eichhornia crassipes", "Egeria densa"];
        for extra in [&[][..], &["--explain", "Egeria densa"][..]] {
            let run = run(&[&["check", &demo(tank)], &list[..], extra].concat());
            for line in run.out.lines() {
                let width = line.chars().count();
                assert!(width <= 80, "{tank}: {width} columns: {line}");
            }
        }
    }
}

#[test]
fn the_reasoning_shows_every_factor_with_its_origin() {
    let run = run(&["check", TANK, "--explain", "Vallisneria spiralis"]);
    for word in
        ["placement", "footing", "height", "bed depth", "feeding", "light", "carbon", "pH", "GH", "KH"]
    {
        assert!(run.out.contains(word), "no {word}: {}", run.out);
    }
    assert!(run.out.contains("the plant's values:"), "{}", run.out);
    assert!(run.out.contains("In every zone") && run.out.contains("Sources"), "{}", run.out);
    let view = json(&[TANK, "--explain", "Vallisneria spiralis"]);
    let factors = view["explained"]["factors"].as_array().expect("factors");
    assert_eq!(factors.len(), 11);
}

#[test]
fn the_chart_is_an_svg_of_every_plant() {
    let path = file("chart.svg", "");
    let chart = path.to_str().expect("a plain path");
    let run = run(&["check", TANK, "Rotala macrandra", "Egeria densa", "--svg", chart]);
    assert_eq!(run.code, 1, "{}{}", run.out, run.err);
    let svg = std::fs::read_to_string(&path).expect("the chart is written");
    assert!(svg.starts_with("<svg ") && svg.ends_with("</svg>\n"), "{svg}");
    assert!(svg.contains(">Rotala macrandra<") && svg.contains(">Egeria densa<"));
    // Greys only: every colour has three equal parts.
    for colour in svg.split('#').skip(1) {
        let hex: String = colour.chars().take_while(char::is_ascii_hexdigit).collect();
        let parts: Vec<&str> = match hex.len() {
            3 => vec![&hex[0..1], &hex[1..2], &hex[2..3]],
            _ => vec![&hex[0..2], &hex[2..4], &hex[4..6]],
        };
        assert!(parts.iter().all(|p| *p == parts[0]), "#{hex}");
    }
}

#[test]
fn csv_has_a_row_a_plant() {
    let run = run(&["check", "--format", "csv", TANK, "Rotala macrandra", "Egeria densa"]);
    let mut reader = csv::Reader::from_reader(run.out.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(|r| r.expect("RFC 4180")).collect();
    assert_eq!(rows.len(), 2);
}

#[test]
fn the_same_list_gives_the_same_bytes() {
    let once =
        || run(&["check", "--format", "json", TANK, "Rotala macrandra", "Egeria densa", "--inputs"]).out;
    assert_eq!(once(), once());
}
