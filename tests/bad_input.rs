//! Bad input: each case says where, what was expected, and ends with the right code.

use std::path::Path;

use crate::program::{changed_demo, demo, file, finish, run, run_with};

/// A change to the low-tech demo, and what the message must hold.
struct Case {
    name: &'static str,
    from: &'static str,
    to: &'static str,
    says: &'static [&'static str],
}

const CASES: &[Case] = &[
    Case {
        name: "unknown-key",
        from: "open_top = true",
        to: "open_topp = true",
        says: &["`open_topp` is not a key of [glass]", "did you mean `open_top`?", ":12:1"],
    },
    Case {
        name: "unknown-section",
        from: "[filter]",
        to: "[flter]",
        says: &["`flter` is not a key of the file", "did you mean `filter`?"],
    },
    Case {
        name: "wrong-unit",
        from: "length = \"60 cm\"",
        to: "length = \"60 L\"",
        says: &["`glass.length`: `L` is not a unit of a length", "units: m, cm"],
    },
    Case {
        name: "no-unit",
        from: "length = \"60 cm\"",
        to: "length = 60",
        says: &["`glass.length`: `60` has no unit", "such as \"12 m\""],
    },
    Case {
        name: "range-reversed",
        from: "temperature = \"23..25 degC\"",
        to: "temperature = \"25..23 degC\"",
        says: &["the range `25..23 degC` runs backwards"],
    },
    Case {
        name: "not-a-number",
        from: "ph = \"6.9..7.3\"",
        to: "ph = \"NaN\"",
        says: &["`water.ph`: `NaN` is not a number with a unit"],
    },
    Case {
        name: "infinite",
        from: "height = \"36 cm\"",
        to: "height = \"inf cm\"",
        says: &["`glass.height`: `inf cm` is not a number with a unit"],
    },
    Case {
        name: "zone-outside",
        from: "from_front = \"21..30 cm\"",
        to: "from_front = \"21..45 cm\"",
        says: &["the zone `back hedge` reaches outside the glass", "inside 60 cm × 30 cm"],
    },
    Case {
        name: "water-above-rim",
        from: "water = \"32 cm\"",
        to: "water = \"38 cm\"",
        says: &["the water stands at 38 cm, the rim at 36 cm"],
    },
    Case {
        name: "bed-above-water",
        from: "back = \"7 cm\"",
        to: "back = \"33 cm\"",
        says: &["the bed is 33 cm thick and the water 32 cm high", "a bed below the water"],
    },
    Case {
        name: "negative-bed",
        from: "front = \"4 cm\"",
        to: "front = \"-4 cm\"",
        says: &["the bed is -4 cm thick", "0 cm or more"],
    },
    Case {
        name: "lamp-under-water",
        from: "above_water = \"8 cm\"",
        to: "above_water = \"-8 cm\"",
        says: &["a lamp -8.0 cm above the water", "between 0.5 cm and 300 cm"],
    },
    Case {
        name: "beam-0",
        from: "beam = \"120 deg\"",
        to: "beam = \"0 deg\"",
        says: &["a beam of 0°", "above 0° and below 180°"],
    },
    Case {
        name: "beam-180",
        from: "beam = \"120 deg\"",
        to: "beam = \"180 deg\"",
        says: &["a beam of 180°"],
    },
    Case {
        name: "ph-15",
        from: "ph = \"6.9..7.3\"",
        to: "ph = \"15\"",
        says: &["`water.ph` is 15", "between 3.5 and 10.5"],
    },
    Case {
        name: "ice",
        from: "temperature = \"23..25 degC\"",
        to: "temperature = \"-3 degC\"",
        says: &["`water.temperature` is -3 °C", "between 1 °C and 40 °C"],
    },
    Case {
        name: "boiling",
        from: "temperature = \"23..25 degC\"",
        to: "temperature = \"100 degC\"",
        says: &["`water.temperature` is 100 °C"],
    },
    Case {
        name: "crossed-outline",
        from: "[\"22 cm\", \"9 cm\"], [\"45 cm\", \"11 cm\"], [\"40 cm\", \"21 cm\"], [\"27 cm\", \"20 cm\"]",
        to: "[\"22 cm\", \"9 cm\"], [\"40 cm\", \"21 cm\"], [\"45 cm\", \"11 cm\"], [\"27 cm\", \"20 cm\"]",
        says: &["side 1 of the outline crosses or touches side 3"],
    },
    Case {
        name: "unknown-hardscape",
        from: "on = [\"root wood\"]",
        to: "on = [\"rot wood\"]",
        says: &["there is no hardscape `rot wood`", "did you mean `root wood`?"],
    },
    Case {
        name: "two-outputs",
        from: "photon_flux = \"11 umol/s\"",
        to: "photon_flux = \"11 umol/s\"\nluminous_flux = \"900 lm\"",
        says: &["the output of the lamp is stated more than once"],
    },
    Case {
        name: "unknown-spectrum",
        from: "beam = \"120 deg\"",
        to: "beam = \"120 deg\"\nspectrum = \"led-6500k\"",
        says: &["`led-6500k` is not a spectrum", "led-6600k"],
    },
    Case {
        name: "unknown-plant",
        from: "must = []",
        to: "must = [\"Blorptus nanna\"]",
        says: &["Blorptus nanna", "must = ["],
    },
    Case {
        name: "ambiguous-plant",
        from: "must = []",
        to: "must = [\"Cryptocoryne\"]",
        says: &["`Cryptocoryne`", "Cryptocoryne "],
    },
    Case {
        name: "must-and-never",
        from: "must = []\nnever = []",
        to: "must = [\"Java fern\"]\nnever = [\"Java fern\"]",
        says: &["must be on the list and never be on it"],
    },
    Case {
        name: "bad-jurisdiction",
        from: "jurisdiction = [\"EU\"]",
        to: "jurisdiction = [\"Europe\"]",
        says: &["`Europe` is not a jurisdiction", "DE, GB-SCT, US-CA"],
    },
    Case {
        name: "bad-budget",
        from: "budget = \"150\"",
        to: "budget = \"-5\"",
        says: &["`wishes.budget` is not a sum of money"],
    },
    Case {
        name: "no-taxa-of-a-genus",
        from: "per_genus = 2",
        to: "per_genus = 0",
        says: &["`wishes.per_genus` is 0: no plant could be chosen", "1 or more"],
    },
    Case {
        name: "no-taxa-at-all",
        from: "per_genus = 2",
        to: "most_taxa = 0",
        says: &["`wishes.most_taxa` is 0"],
    },
    Case {
        name: "one-of-a-list",
        from: "per_genus = 2",
        to: "one_of = [\"Java fern\"]",
        says: &["`wishes.one_of` is a list", "a list of lists"],
    },
    Case {
        name: "one-of-nothing",
        from: "per_genus = 2",
        to: "one_of = [[]]",
        says: &["a list of `wishes.one_of` names nothing"],
    },
    Case {
        name: "one-of-unknown",
        from: "per_genus = 2",
        to: "one_of = [[\"Java fern\", \"Blorptus nanna\"]]",
        says: &["Blorptus nanna", "one_of = ["],
    },
    Case {
        name: "height-order-word",
        from: "per_genus = 2",
        to: "height_order = \"no\"",
        says: &["`wishes.height_order` is a text", "true or false"],
    },
    Case {
        name: "nine-taxa",
        from: "taxa = \"2..3\"",
        to: "taxa = \"2..9\"",
        says: &["`zone.taxa` is 2..9", "at most 8"],
    },
    Case {
        name: "fewer-than-none",
        from: "taxa = \"2..3\"",
        to: "taxa = \"3..2\"",
        says: &["`zone.taxa` is 3..2", "a count or a range"],
    },
    Case { name: "not-toml", from: "[glass]", to: "[glass", says: &["this is not TOML"] },
];

#[test]
fn every_case_names_place_and_expectation_and_ends_with_2() {
    let mut wrong = Vec::new();
    for case in CASES {
        let path = changed_demo(&format!("{}.toml", case.name), case.from, case.to);
        let run = run(&["fill", path.to_str().expect("path is UTF-8")]);
        let missing: Vec<_> = case.says.iter().filter(|s| !run.err.contains(**s)).collect();
        let placed = run.err.contains(&format!("{}.toml:", case.name));
        if run.code != 2 || !run.out.is_empty() || !missing.is_empty() || !placed {
            wrong.push(format!(
                "{}: code {}, missing {missing:?}\n{}{}",
                case.name, run.code, run.out, run.err
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n----\n"));
}

#[test]
fn all_mistakes_of_a_file_are_shown_at_once() {
    let text = "name = \"x\"\n[glass]\nlength = \"60 L\"\ndepth = \"30 cm\"\nheight = \"36\"\nwater = \"32 cm\"\ncolour = 3\n[bed]\nkind = \"soil\"\n[light]\nhours = 8\n[water]\ntemperature = \"24 degC\"\nph = \"7\"\ngh = \"6 dGH\"\n";
    let path = file("four-mistakes.toml", text);
    let run = run(&["tank", path.to_str().expect("path is UTF-8")]);
    assert_eq!(run.code, 2);
    let findings = run.err.matches("error: ").count();
    assert_eq!(findings, 8, "{}", run.err);
    for says in [
        "`L` is not a unit",
        "`36` has no unit",
        "`colour` is not a key",
        "`soil` is not a value",
        "no lamp",
        "`water.kh` is missing",
    ] {
        assert!(run.err.contains(says), "{says} in\n{}", run.err);
    }
}

#[test]
fn files_that_are_no_tank_files() {
    let cases: [(&str, Vec<u8>, &str); 4] = [
        ("empty.toml", Vec::new(), "is empty"),
        ("blank.toml", b" \n\n".to_vec(), "is empty"),
        ("binary.toml", vec![0x7f, b'E', b'L', b'F', 0, 1, 2], "is a binary file"),
        (
            "latin1.toml",
            b"name = \"caf\xe9\"\n".to_vec(),
            "is not UTF-8 text: the first wrong byte is in line 1",
        ),
    ];
    for (name, content, says) in cases {
        let path = file(name, content);
        let run = run(&["tank", path.to_str().expect("path is UTF-8")]);
        assert_eq!(run.code, 2, "{name}");
        assert!(run.err.contains(says), "{name}: {}", run.err);
    }
    let missing = run(&["tank", "no-such-tank.toml"]);
    assert_eq!(missing.code, 2);
    assert!(
        missing.err.contains("`no-such-tank.toml` cannot be read: no such file or directory"),
        "{}",
        missing.err
    );
    let folder = run(&["tank", "data"]);
    assert_eq!(folder.code, 2);
    assert!(folder.err.contains("`data` cannot be read: is a directory"), "{}", folder.err);
}

#[test]
fn zero_lamps_and_no_zones() {
    let text = std::fs::read_to_string(demo("attic-lowtech.toml")).expect("the demo is there");
    let lamp = text.find("[[light.lamp]]").expect("has a lamp");
    let gas = text.find("[gas]").expect("has gas");
    let dark = file("dark.toml", format!("{}{}", &text[..lamp], &text[gas..]));
    let dark = run(&["fill", dark.to_str().expect("path is UTF-8")]);
    assert_eq!(dark.code, 2);
    assert!(dark.err.contains("there is no lamp and no reading of light"), "{}", dark.err);
    let zones = text.find("[[zone]]").expect("has zones");
    let bare = file("no-zones.toml", &text[..zones]);
    let bare = run(&["fill", bare.to_str().expect("path is UTF-8")]);
    assert_eq!(bare.code, 2);
    assert!(bare.err.contains("no [[zone]]"), "{}", bare.err);
}

#[test]
fn usage_errors_end_with_2_and_help_with_0() {
    assert_eq!(run(&["fill"]).code, 2);
    assert_eq!(run(&["nonsense"]).code, 2);
    assert_eq!(run(&["--help"]).code, 0);
    assert_eq!(run(&["--version"]).code, 0);
}

#[test]
fn a_library_folder_that_cannot_be_written_is_named_with_a_hint() {
    let file = file("a-file-not-a-folder", "x");
    let inside = Path::new(&file).join("library");
    let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_quillwort"));
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    let run = finish(command.arg("--library").arg(&inside).args(["show", "Java fern"]));
    assert_eq!(run.code, 2);
    assert!(run.err.contains("library"), "{}", run.err);
    assert!(run.err.contains("--library DIR"), "{}", run.err);
}

#[test]
fn a_half_built_library_is_passed_over() {
    let root = Path::new(env!("CARGO_TARGET_TMPDIR")).join("half-built");
    let _ = std::fs::remove_dir_all(&root);
    std::fs::create_dir_all(root.join(".building-1-0000000000000000-abc")).expect("the folder can be made");
    std::fs::write(root.join(".building-1-0000000000000000-abc/catalogue.sqlite"), "half").expect("writable");
    let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_quillwort"));
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    let run = finish(command.arg("--library").arg(&root).args(["find", "java", "fern"]));
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(run.err.contains("Building the library in"), "{}", run.err);
    assert!(run.out.contains("Leptochilus pteropus"), "{}", run.out);
}

#[cfg(unix)]
#[test]
fn a_closed_pipe_is_no_failure() {
    let program = env!("CARGO_BIN_EXE_quillwort");
    let library = Path::new(env!("CARGO_TARGET_TMPDIR")).join("library");
    let line = format!(
        "{program} --library '{}' catalogue check --format json | true; exit ${{PIPESTATUS[0]}}",
        library.display()
    );
    let output = std::process::Command::new("bash").args(["-c", &line]).output().expect("bash starts");
    assert_eq!(output.status.code(), Some(0));
    let err = String::from_utf8_lossy(&output.stderr);
    assert!(!err.contains("panicked") && !err.contains("cannot be written"), "{err}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_reported() {
    let program = env!("CARGO_BIN_EXE_quillwort");
    let output = std::process::Command::new("bash")
        .args(["-c", &format!("{program} man > /dev/full")])
        .output()
        .expect("bash starts");
    assert_eq!(output.status.code(), Some(2));
    let err = String::from_utf8_lossy(&output.stderr);
    assert!(err.contains("the output cannot be written"), "{err}");
}

#[test]
fn standard_input_with_wrong_bytes_is_refused() {
    let run = run_with(&["check", &demo("attic-lowtech.toml"), "-"], "Java fern\nNo such plant zzz\n");
    assert_eq!(run.code, 2, "{}{}", run.out, run.err);
    assert!(run.err.contains("<stdin>:2:1"), "{}", run.err);
}
