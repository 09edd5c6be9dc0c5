//! Readings of light in the tank file: they set the lamps, or stand alone, and are doubted aloud.

use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::program::{demo, file, run};

/// The low-tech demo with these readings: PPFD, place, height above the bed, in cm.
fn tank(name: &str, readings: &[(&str, [f64; 3])], lamp: bool) -> PathBuf {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(demo("attic-lowtech.toml"));
    let text = std::fs::read_to_string(path).expect("the demo is there");
    let text = text.replace("prices = \"prices-invented.csv\"\n", "");
    let (head, rest) = text.split_once("[[light.lamp]]").expect("a lamp");
    let (lamp_lines, rest) = rest.split_once("[gas]").expect("gas");
    let lamps = if lamp { format!("[[light.lamp]]{lamp_lines}") } else { String::new() };
    let reading = |(ppfd, [x, y, z]): &(&str, [f64; 3])| {
        format!(
            "[[light.reading]]\nppfd = \"{ppfd} umol/m2/s\"\nat = [\"{x} cm\", \"{y} cm\"]\nabove_bed = \"{z} cm\"\n\n"
        )
    };
    let readings: String = readings.iter().map(reading).collect();
    file(name, format!("{head}{lamps}{readings}[gas]{rest}"))
}

fn light(path: &Path) -> (Value, String) {
    let run = run(&["tank", path.to_str().expect("UTF-8"), "--format", "json"]);
    assert_eq!(run.code, 0, "{}", run.err);
    (serde_json::from_str(&run.out).expect("JSON"), run.err)
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is not a number"))
}

fn mean(view: &Value) -> f64 {
    number(&view["ppfd_mean_umol_m2_s"])
}

#[test]
fn one_reading_sets_the_output_of_the_lamp_and_all_that_follows() {
    let (plain, _) = light(&tank("readings-none.toml", &[], true));
    let (scaled, err) = light(&tank("readings-one.toml", &[("70..80", [20.0, 10.0, 5.0])], true));
    assert_eq!(scaled["light"]["basis"], "lamps-set-by-readings");
    let factor = number(&scaled["light"]["scale"]["factor"]);
    assert!((mean(&scaled) / mean(&plain) - factor).abs() < 0.01, "{factor}");
    let zone = |view: &Value| number(&view["zones"][4]["dli_mean_mol_m2_d"]);
    assert!((zone(&scaled) / zone(&plain) - factor).abs() < 0.02, "{factor}");
    let reading = &scaled["light"]["readings"][0];
    assert!((number(&reading["answered_umol_m2_s"]) - 75.0).abs() < 0.06, "{reading}");
    assert_eq!(number(&reading["residual"]), 1.0);
    let range = &scaled["light"]["scale"]["range"];
    let ends = [&range["lo"], &range["hi"]].map(number);
    assert!(
        (ends[0] / factor - 70.0 / 75.0).abs() < 0.01 && (ends[1] / factor - 80.0 / 75.0).abs() < 0.01,
        "{range}"
    );
    assert!(!err.contains("warning"), "{err}");
}

/// The factor is the geometric mean of reading over model, so one too high and one too low by as
/// much cancel, and each says by how much.
#[test]
fn residuals_show_what_one_factor_cannot_explain() {
    let places = [[15.0, 8.0, 0.0], [45.0, 22.0, 0.0]];
    let (probe, _) = light(&tank("readings-probe.toml", &[("50", places[0]), ("50", places[1])], true));
    let stated = |i: usize| {
        let reading = &probe["light"]["readings"][i];
        number(&reading["answered_umol_m2_s"]) / number(&probe["light"]["scale"]["factor"])
    };
    let written = [format!("{:.3}", 2.0 * stated(0)), format!("{:.3}", stated(1) / 2.0)];
    let (view, _) =
        light(&tank("readings-off.toml", &[(&written[0], places[0]), (&written[1], places[1])], true));
    assert!((number(&view["light"]["scale"]["factor"]) - 1.0).abs() < 0.02, "{}", view["light"]["scale"]);
    let residuals = [0, 1].map(|i| number(&view["light"]["readings"][i]["residual"]));
    assert!((residuals[0] - 2.0).abs() < 0.03 && (residuals[1] - 0.5).abs() < 0.01, "{residuals:?}");
}

#[test]
fn readings_alone_are_met_where_they_were_taken() {
    let readings = [("60", [30.0, 15.0, 2.0]), ("38..42", [5.0, 3.0, 0.0])];
    let path = tank("readings-alone.toml", &readings, false);
    let (view, _) = light(&path);
    assert_eq!(view["light"]["basis"], "readings");
    assert!(view["light"]["scale"].is_null());
    for (i, wanted) in [60.0, 40.0].into_iter().enumerate() {
        let reading = &view["light"]["readings"][i];
        assert!((number(&reading["answered_umol_m2_s"]) - wanted).abs() < 0.1, "{reading}");
    }
    let text = run(&["tank", path.to_str().expect("UTF-8")]).out;
    assert!(text.contains("the readings alone, no lamp is stated"), "{text}");
    assert!(!text.contains("━"), "a lamp is drawn");
}

#[test]
fn readings_five_times_off_are_doubted_where_they_stand() {
    let twice = |ppfd: &'static str| [(ppfd, [20.0, 10.0, 0.0]), (ppfd, [40.0, 10.0, 0.0])];
    let path = tank("readings-lux.toml", &twice("2600"), true);
    let (view, err) = light(&path);
    for says in ["warning: the readings show 5", "times the light of the lamps as stated", "lux is not PPFD"]
    {
        assert!(err.contains(says), "{says}: {err}");
    }
    assert!(err.contains("readings-lux.toml:29:1"), "{err}");
    assert!(view["light"]["notes"][0].as_str().expect("words").contains("times the light of the lamps"));
    let (_, calm) = light(&tank("readings-calm.toml", &twice("200"), true));
    assert!(!calm.contains("warning"), "within five times: {calm}");
    let one_off = [("50", [20.0, 10.0, 0.0]), ("50", [40.0, 10.0, 0.0]), ("2900", [30.0, 20.0, 0.0])];
    let (_, err) = light(&tank("readings-one-off.toml", &one_off, true));
    assert!(err.contains("warning: reading 3 shows") && err.contains("the others lead to expect"), "{err}");
    assert!(err.contains("readings-one-off.toml:39:1"), "{err}");
}

#[test]
fn a_reading_that_cannot_be_is_refused_where_it_stands() {
    for (name, ppfd, place, says) in [
        ("outside", "50", [70.0, 10.0, 0.0], "the reading lies outside the glass"),
        ("above", "50", [30.0, 10.0, 29.0], "reading 1 was not taken under water"),
        ("far-above", "50", [30.0, 10.0, 40.0], "the reading was not taken under water"),
        ("dark", "0", [30.0, 10.0, 0.0], "a reading of 0"),
        ("blinding", "3500", [30.0, 10.0, 0.0], "a reading of 3500"),
        ("nan", "NaN", [30.0, 10.0, 0.0], "`light.reading.ppfd`: `NaN umol/m2/s` is not a number"),
    ] {
        let path = tank(&format!("reading-{name}.toml"), &[(ppfd, place)], true);
        let run = run(&["tank", path.to_str().expect("UTF-8")]);
        assert_eq!(run.code, 2, "{name}: {}", run.out);
        assert!(run.err.contains(says), "{name}: {}", run.err);
        assert!(run.err.contains(&format!("reading-{name}.toml:")), "{name} has no place: {}", run.err);
    }
}

/// What the carbon, the geometry and the light refuse is shown at its section.
#[test]
fn what_only_the_model_can_refuse_is_shown_at_its_section() {
    let base = std::fs::read_to_string(tank("model-refuses.toml", &[], true)).expect("the tank is there");
    for (name, from, to, says, section) in [
        (
            "gas-never",
            "injection = \"none\"",
            "injection = \"pressurised\"\noff_before = \"12 h\"",
            "the gas timer never opens",
            "[gas]",
        ),
        (
            "caustic",
            "ph = \"6.9..7.3\"\ngh = \"6..8 dGH\"\nkh = \"3..5 dKH\"",
            "ph = \"10.4\"\ngh = \"6..8 dGH\"\nkh = \"0.2 dKH\"",
            "contradict each other",
            "[water]",
        ),
        (
            "all-rock",
            "outline = [[\"22 cm\", \"9 cm\"], [\"45 cm\", \"11 cm\"], [\"40 cm\", \"21 cm\"], [\"27 cm\", \"20 cm\"]]\ntop = \"20 cm\"",
            "outline = [[\"0 cm\", \"0 cm\"], [\"60 cm\", \"0 cm\"], [\"60 cm\", \"30 cm\"], [\"0 cm\", \"30 cm\"]]\ntop = \"40 cm\"",
            "the hardscape leaves no water",
            "[[hardscape]]",
        ),
        (
            "off",
            "beam = \"120 deg\"",
            "beam = \"120 deg\"\ndimmed_to = \"0 %\"",
            "the lamps send no light to reading 1",
            "[[light.reading]]",
        ),
    ] {
        assert!(base.contains(from), "{name}: the demo no longer says {from:?}");
        let mut text = base.replacen(from, to, 1);
        if name == "off" {
            let reading = "[[light.reading]]\nppfd = \"50 umol/m2/s\"\nat = [\"30 cm\", \"15 cm\"]\n\n[gas]";
            text = text.replacen("[gas]", reading, 1);
        }
        let path = file(&format!("refused-{name}.toml"), text);
        let run = run(&["tank", path.to_str().expect("UTF-8")]);
        assert_eq!(run.code, 2, "{name}: {}", run.out);
        assert!(run.err.contains(says), "{name}: {}", run.err);
        assert!(run.err.contains(&format!("| {section}")), "{name} is not shown at {section}: {}", run.err);
    }
}
