//! `show`: one plant, every value with its origin.

use serde_json::Value;

use crate::program::run;

#[test]
fn java_fern_by_any_of_its_names() {
    let accepted = run(&["show", "Leptochilus pteropus"]);
    assert_eq!(accepted.code, 0, "{}", accepted.err);
    for name in ["java fern", "JAVA FERN", "Microsorum pteropus", "Javafarn", "fougere de java"] {
        assert_eq!(run(&["show", name]).out, accepted.out, "{name}");
    }
}

#[test]
fn every_value_says_how_it_is_known() {
    let view: Value =
        serde_json::from_str(&run(&["show", "--format", "json", "Egeria densa"]).out).expect("JSON");
    for part in ["facts", "envelopes"] {
        for row in view[part].as_array().expect("rows") {
            let kind = row["origin"]["kind"].as_str().expect("a kind");
            assert!(["measured", "published", "practice", "memory"].contains(&kind), "{row}");
        }
    }
    let sources: Vec<&str> = view["sources"]
        .as_array()
        .expect("sources")
        .iter()
        .map(|s| s["key"].as_str().expect("key"))
        .collect();
    for claim in view["claims"].as_array().expect("claims") {
        assert!(sources.contains(&claim["source"].as_str().expect("key")), "{claim}");
    }
}

#[test]
fn law_carries_its_date_and_its_caution() {
    let listed = run(&["show", "water hyacinth"]);
    assert!(listed.out.contains("restricted by law in EU"), "{}", listed.out);
    assert!(listed.out.contains("checked 2026-11-25"), "{}", listed.out);
    assert!(listed.out.contains("Not legal advice"), "{}", listed.out);
    let unlisted = run(&["show", "Anubias barteri var. nana"]);
    assert!(unlisted.out.contains("Not found in the lists carried"), "{}", unlisted.out);
}

#[test]
fn a_name_that_is_no_plant_of_ours_is_never_another_plant() {
    for name in ["Monstera deliciosa", "guppy", "Rosa canina", "Anubias colossea"] {
        let run = run(&["show", name]);
        assert_eq!(run.code, 2, "{name}: {}", run.out);
        assert!(run.err.contains(&format!("`{name}`")), "{name}: {}", run.err);
    }
    let several = run(&["show", "Anubias"]);
    assert_eq!(several.code, 2);
    assert!(several.err.contains("Anubias barteri"), "{}", several.err);
}
