//! A name that is not exact is read, and how it was read is told on stderr, apart from the data.

use crate::program::{demo, file, run};

const TANK: &str = "data/demo/attic-lowtech.toml";

fn told(args: &[&str], reading: &str) {
    let run = run(args);
    assert!(run.code <= 1, "{args:?}: {}", run.err);
    assert!(run.err.contains(reading), "{args:?}: {}", run.err);
    assert!(!run.out.contains("is read as"), "{args:?}: {}", run.out);
}

#[test]
fn every_command_that_takes_names_tells_how_it_read_them() {
    let slip = "`Cryptocoryne wendti` is read as Cryptocoryne wendtii: one slip apart";
    told(&["show", "Cryptocoryne wendti"], slip);
    told(&["find", "Cryptocoryne", "wendti"], slip);
    told(&["check", TANK, "Cryptocoryne wendti"], slip);
    told(&["check", TANK, "Egeria densa", "--explain", "Cryptocoryne wendti"], slip);
    told(&["compare", TANK, "Cryptocoryne wendti", "Egeria densa"], slip);
    told(&["show", "C. wendtii"], "is read as Cryptocoryne wendtii: it is abbreviated");
    told(&["show", "Cryptocoryne mi oya"], "a part is left out");
    told(&["show", "pistia"], "the one plant of its genus here");
    let text = std::fs::read_to_string(demo("attic-lowtech.toml")).expect("the demo is there");
    let text = text.replace("prices = \"prices-invented.csv\"\n", "").replace("budget = \"150\"\n", "");
    let tank = file("read-as.toml", text.replace("must = []", "must = [\"Cryptocoryne wendti\"]"));
    told(&["fill", tank.to_str().expect("a plain path")], slip);
}

#[test]
fn exact_names_and_words_that_are_no_name_are_not_commented() {
    for args in [
        &["show", "java fern"][..],
        &["show", "JAVA FERNS"],
        &["show", "Vallisneria spiralis L."],
        &["check", TANK, "Egeria densa", "anubias-barteri-nana"],
        &["find", "carpet", "low", "light"],
        &["find", "red", "stem"],
    ] {
        let run = run(args);
        assert!(!run.err.contains("is read as"), "{args:?}: {}", run.err);
    }
}
