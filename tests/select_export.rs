//! The models that other solvers are given: written here with our answers, solved again by
//! `tools/select_check.py`.

#[path = "../tools/bench/varied.rs"]
pub mod varied;

use std::fs;
use std::path::PathBuf;

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use quillwort::answers::{
    FillAsked, Filling, House, LibraryPlace, Prices, compute, read_tank, resolve_wishes,
};
use quillwort::diagnostic::{Document, Findings};
use quillwort::select::{Outcome, Problem, model_mps, solution_text, solve, unlimited};

use crate::select::instance;
use crate::select_support::{small_problem, tight_problem};

fn folder() -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("models");
    fs::create_dir_all(&folder).expect("the folder can be made");
    folder
}

/// Writes a model and our answer to it; whether there is a list.
fn write(name: &str, problem: &Problem) -> bool {
    let outcome = solve(problem, &mut unlimited).expect("no fault");
    let model = model_mps(problem, name).expect("no fault");
    let answer = solution_text(problem, &outcome, name).expect("no fault");
    let columns = answer.lines().filter(|l| !l.starts_with('#')).count();
    assert_eq!(columns, outcome.answer().map_or(0, |a| a.chosen.len()), "{name}: {answer}");
    fs::write(folder().join(format!("{name}.mps")), model).expect("writable");
    fs::write(folder().join(format!("{name}.sol")), answer).expect("writable");
    matches!(outcome, Outcome::Optimal(_))
}

#[test]
fn models_are_written_for_the_outside_check() {
    for name in ["tiny_0", "tiny_1", "tiny_2", "s60_0", "s60_1", "s60_2", "m200_1"] {
        assert!(write(name, &instance(name)), "{name}");
    }
    for name in ["inf_0", "inf_2"] {
        assert!(!write(name, &instance(name)), "{name}");
    }
    let mut runner = TestRunner::deterministic();
    let mut possible = 0;
    for n in 0..12 {
        let problem = small_problem().new_tree(&mut runner).expect("a problem").current();
        possible += usize::from(write(&format!("small_{n:02}"), &problem));
        let problem = tight_problem().new_tree(&mut runner).expect("a problem").current();
        possible += usize::from(write(&format!("tight_{n:02}"), &problem));
    }
    assert!((4..=20).contains(&possible), "{possible} of 24 are possible");
}

/// Whole problems of invented tanks with the shipped catalogue: many plants alike, zones that mirror
/// each other, limits that bind together. Their searches list sets again after prices were tuned.
#[test]
fn models_of_whole_tanks_are_written_for_the_outside_check() {
    let library = tempfile::tempdir().expect("a folder for the library");
    let place = LibraryPlace { root: library.path().to_owned(), own: None };
    let house = House::open(&place, &mut |_| {}).expect("the library opens");
    let names = house.names().expect("names");
    let list = Document::new("prices", include_str!("../data/demo/prices-invented.csv"));
    let prices = Prices::read(&list, names, &mut Findings::default()).expect("prices");
    for number in [9, 15, 17] {
        let document = Document::new("tank", varied::tank(number));
        let spec = read_tank(&document, &mut Findings::default()).expect("a tank");
        let model = compute(&spec, &house, &mut Findings::default()).expect("a model");
        let wished = resolve_wishes(&spec, &[], &[], names).expect("wishes");
        let asked = FillAsked { wished: &wished, prices: &prices };
        let filling = Filling::new(&model, &house, asked).expect("a problem");
        assert!(write(&format!("varied_{number:02}"), filling.problem()), "{number}");
    }
}

#[test]
fn names_are_legible_and_each_is_given_once() {
    let mut problem = instance("tiny_0");
    for zone in &mut problem.zones {
        zone.name = "front lawn".to_owned();
    }
    let model = model_mps(&problem, "two\nlines").expect("no fault");
    assert!(model.lines().nth(1).is_some_and(|l| l.starts_with("* ")), "{}", &model[..200]);
    assert!(model.contains(" x.front_lawn.taxon-0000 "), "{}", &model[..2000]);
    let rows = model.lines().skip_while(|l| *l != "ROWS").skip(1).take_while(|l| *l != "COLUMNS");
    let mut names: Vec<&str> = rows.filter_map(|l| l.split_whitespace().nth(1)).collect();
    let all = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), all);
}
