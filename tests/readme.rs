//! The README shows what the program really prints.

use crate::drawing_support::attic_pictures;
use crate::program::{file, run};

/// The fenced block that follows `marker`.
fn block<'a>(text: &'a str, marker: &str) -> &'a str {
    let from = text.find(marker).expect("the marker stands in the README");
    let start = from + text[from..].find("```text\n").expect("a block follows") + "```text\n".len();
    &text[start..start + text[start..].find("```").expect("the block ends")]
}

#[test]
fn the_output_of_the_first_command_is_the_real_one() {
    let readme = include_str!("../README.md");
    let shown = block(readme, "tests/readme.rs");
    let real = run(&["fill", "data/demo/attic-lowtech.toml"]);
    assert_eq!(real.code, 0, "{}", real.err);
    assert_eq!(shown, real.out, "put the output of the first command into README.md");
}

#[test]
fn every_command_of_the_readme_exists() {
    let readme = include_str!("../README.md");
    let help = run(&["--help"]).out;
    let table = readme.split("## The commands").nth(1).expect("the table is there");
    let commands: Vec<&str> =
        table.split("`quillwort ").skip(1).filter_map(|rest| rest.split([' ', '`']).next()).collect();
    assert!(commands.len() >= 8, "{commands:?}");
    for command in commands {
        assert!(help.contains(&format!("\n  {command} ")), "{command} is not a command:\n{help}");
    }
}

#[test]
fn the_pictures_are_the_ones_the_program_draws() {
    let drawings: [(&str, &[&str]); 3] = [
        ("attic-light.svg", &["tank"]),
        ("attic-growth.svg", &["grow"]),
        ("attic-wishes.svg", &["check", "java fern", "Micranthemum tweediei", "Vallisneria spiralis"]),
    ];
    for (name, args) in drawings {
        let fresh = file(name, "");
        let fresh_path = fresh.to_str().expect("UTF-8");
        let mut all = vec![args[0], "data/demo/attic-lowtech.toml"];
        all.extend(&args[1..]);
        all.extend(["--svg", fresh_path]);
        let run = run(&all);
        assert!(run.code < 2, "{}", run.err);
        let shown =
            std::fs::read_to_string(format!("data/demo/pictures/{name}")).expect("the picture is there");
        let drawn = std::fs::read_to_string(&fresh).expect("the picture was drawn");
        assert!(shown == drawn, "draw data/demo/pictures/{name} again");
    }
}

#[test]
fn the_planted_pictures_are_the_ones_the_program_draws() {
    for (name, drawn) in attic_pictures() {
        let path = format!("data/demo/pictures/{name}");
        let fresh = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        std::fs::write(&fresh, &drawn).expect("it can be written");
        let shown = std::fs::read_to_string(&path).expect("the picture is there");
        assert!(shown == drawn, "copy {} to {path}", fresh.display());
    }
}
