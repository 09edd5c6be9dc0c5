//! The tank file under the hands of the page: comments kept, mistakes refused, nothing overwritten.

use std::fs;

use axum::http::StatusCode;
use proptest::prelude::{ProptestConfig, prop, proptest};
use quillwort::diagnostic::Document;
use quillwort::page::{Change, Desk, Names};
use serde_json::{Value, json};

use crate::page_support::{copy, page};

fn set(key: &str, value: &str) -> Value {
    json!([{ "do": "set", "key": key, "value": value }])
}

/// The lines that differ.
fn changed(before: &str, after: &str) -> Vec<(String, String)> {
    assert_eq!(before.lines().count(), after.lines().count(), "{after}");
    let pairs = before.lines().zip(after.lines()).filter(|(a, b)| a != b);
    pairs.map(|(a, b)| (a.to_owned(), b.to_owned())).collect()
}

#[tokio::test]
async fn an_edit_changes_its_line_and_keeps_every_comment() {
    let page = page(Some(&copy("comments", "attic-lowtech.toml")));
    let before = page.shared.desk().text().to_owned();
    assert_eq!(page.change(set("glass.water", "31 cm")).await.status, StatusCode::OK);
    assert_eq!(page.change(set("light.hours", "7.5")).await.status, StatusCode::OK);
    assert_eq!(page.change(set("light.lamp[0].at[1]", "12 cm")).await.status, StatusCode::OK);
    assert_eq!(page.change(set("glass.open_top", "false")).await.status, StatusCode::OK);
    let after = page.shared.desk().text().to_owned();
    let expected = [
        (
            "water = \"32 cm\"         # water level above the floor of the glass",
            "water = \"31 cm\"         # water level above the floor of the glass",
        ),
        ("open_top = true", "open_top = false"),
        ("hours = 8", "hours = 7.5"),
        ("at = [\"30 cm\", \"15 cm\"]", "at = [\"30 cm\", \"12 cm\"]"),
    ];
    let found = changed(&before, &after);
    let found: Vec<(&str, &str)> = found.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
    assert_eq!(found, expected);
}

#[tokio::test]
async fn a_wrong_value_is_refused_beside_its_field() {
    let page = page(Some(&copy("refused", "attic-lowtech.toml")));
    let before = page.shared.desk().text().to_owned();
    let answer = page.change(set("glass.water", "32 litres")).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let finding = &answer.json()["findings"][0];
    assert_eq!(finding["key"], "glass.water");
    assert!(finding["expected"].as_str().expect("words").contains("12 m"), "{finding}");
    let answer = page.change(set("bed.kind", "active soyl")).await.json();
    assert_eq!(answer["findings"][0]["near"][0], "active soil");
    let answer = page.change(set("glas.water", "31 cm")).await.json();
    assert_eq!(answer["findings"][0]["near"][0], "glass.water");
    assert_eq!(page.shared.desk().text(), before);
    assert_eq!(page.get("/api/desk").await.json()["undo"], 0);
}

#[tokio::test]
async fn steps_go_back_and_forth() {
    let page = page(Some(&copy("steps", "attic-lowtech.toml")));
    let texts: Vec<String> = {
        let mut texts = vec![page.shared.desk().text().to_owned()];
        for water in ["31 cm", "30 cm", "29 cm"] {
            page.change(set("glass.water", water)).await;
            texts.push(page.shared.desk().text().to_owned());
        }
        texts
    };
    for text in texts.iter().rev().skip(1) {
        assert_eq!(page.step("undo").await.status, StatusCode::OK);
        assert_eq!(page.shared.desk().text(), text);
    }
    assert_eq!(page.step("undo").await.json()["undo"], 0);
    for text in texts.iter().skip(1) {
        page.step("redo").await;
        assert_eq!(page.shared.desk().text(), text);
    }
    page.step("undo").await;
    page.change(set("glass.water", "28 cm")).await;
    assert_eq!(page.get("/api/desk").await.json()["redo"], 0);
}

#[tokio::test]
async fn an_edit_for_another_revision_is_a_conflict() {
    let page = page(Some(&copy("revision", "attic-lowtech.toml")));
    page.change(set("glass.water", "31 cm")).await;
    let body = json!({ "revision": 1, "changes": set("glass.water", "20 cm") });
    assert_eq!(page.post("/api/desk/edit", &body).await.status, StatusCode::CONFLICT);
    assert_eq!(page.post("/api/desk/try", &body).await.status, StatusCode::CONFLICT);
    assert_eq!(page.post("/api/desk/undo", &json!({ "revision": 1 })).await.status, StatusCode::CONFLICT);
    assert!(page.shared.desk().text().contains("31 cm"));
}

#[tokio::test]
async fn saving_writes_the_whole_and_never_over_anothers_work() {
    let path = copy("saving", "attic-lowtech.toml");
    let page = page(Some(&path));
    page.change(set("glass.water", "31 cm")).await;
    let answer = page.step("save").await;
    assert_eq!((answer.status, &answer.json()["unsaved"]), (StatusCode::OK, &json!(false)));
    assert_eq!(fs::read_to_string(&path).expect("the file"), page.shared.desk().text());
    let left: Vec<_> = fs::read_dir(path.parent().expect("a folder")).expect("a folder").collect();
    assert_eq!(left.len(), 2, "nothing is left beside the file");

    let theirs = fs::read_to_string(&path).expect("the file").replace("Attic study", "Attic, by hand");
    fs::write(&path, &theirs).expect("an editor saves");
    page.change(set("glass.water", "30 cm")).await;
    assert_eq!(page.get("/api/desk").await.json()["on_disk"], "changed");
    let answer = page.step("save").await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        answer.json()["findings"][0]["message"]
            .as_str()
            .expect("words")
            .contains("changed by something else")
    );
    assert_eq!(fs::read_to_string(&path).expect("the file"), theirs);

    page.step("reload").await;
    assert_eq!(page.shared.desk().text(), theirs);
    page.step("undo").await;
    assert!(page.shared.desk().text().contains("30 cm"), "one's own text stays one step back");
    assert_eq!(page.step("save").await.status, StatusCode::OK);
    assert!(fs::read_to_string(&path).expect("the file").contains("30 cm"));
}

#[cfg(unix)]
#[tokio::test]
async fn a_link_stays_a_link_and_rights_stay_rights() {
    use std::os::unix::fs::PermissionsExt;
    let path = copy("link", "attic-lowtech.toml");
    let link = path.with_file_name("link.toml");
    let _ = fs::remove_file(&link);
    std::os::unix::fs::symlink(&path, &link).expect("a link");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).expect("rights");
    let page = page(Some(&link));
    page.change(set("glass.water", "31 cm")).await;
    assert_eq!(page.step("save").await.status, StatusCode::OK);
    assert!(fs::symlink_metadata(&link).expect("the link").is_symlink());
    assert_eq!(fs::metadata(&path).expect("the file").permissions().mode() & 0o777, 0o640);
    assert!(fs::read_to_string(&path).expect("the file").contains("31 cm"));
}

#[tokio::test]
async fn a_new_tank_is_sound_and_written_nowhere() {
    let page = page(None);
    let desk = page.get("/api/desk").await.json();
    assert_eq!((&desk["on_disk"], &desk["findings"]), (&json!("none"), &json!([])));
    assert_eq!(page.step("save").await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let answer = page.get("/api/desk/tank.toml").await;
    assert_eq!(answer.header("content-disposition"), "attachment; filename=\"new-tank.toml\"");
    assert_eq!(answer.text, page.shared.desk().text());
    let fill = page.get("/api/fill").await.json();
    assert_eq!(fill["proof"]["status"], "optimal");
    assert!(fill["zones"].as_array().expect("zones").iter().all(|z| z["picks"][0]["taxon"].is_string()));
}

#[tokio::test]
async fn parts_move_stretch_come_and_go() {
    let page = page(Some(&copy("parts", "attic-lowtech.toml")));
    let moved =
        |key: &str, x: f64, y: f64| json!([{ "do": "move", "key": key, "right_cm": x, "back_cm": y }]);
    page.change(moved("zone[0]", 5.0, 2.0)).await;
    page.change(moved("light.lamp[0]", -12.5, 100.0)).await;
    page.change(moved("hardscape[0]", 1.0, -1.0)).await;
    page.change(json!([{ "do": "stretch", "key": "zone[1]", "right_cm": -6.0, "back_cm": 0.5 }])).await;
    let text = page.shared.desk().text().to_owned();
    for line in [
        "from_front = \"2..11 cm\"",
        "at = [\"17.5 cm\", \"30 cm\"]",
        "outline = [[\"23 cm\", \"8 cm\"], [\"46 cm\", \"10 cm\"], [\"41 cm\", \"20 cm\"], [\"28 cm\", \"19 cm\"]]",
        "outline = [[\"0 cm\", \"9 cm\"], [\"15 cm\", \"9 cm\"], [\"15 cm\", \"20.5 cm\"], [\"0 cm\", \"20.5 cm\"]]",
    ] {
        assert!(text.contains(line), "{line}\n{text}");
    }
    page.change(json!([{ "do": "add", "what": "zone" }, { "do": "add", "what": "lamp" }])).await;
    let tank = page.get("/api/tank").await.json();
    assert_eq!(tank["zones"].as_array().map(Vec::len), Some(6));
    assert_eq!(tank["light"]["lamps"].as_array().map(Vec::len), Some(2));
    page.change(json!([{ "do": "drop", "key": "zone[5]" }, { "do": "drop", "key": "light.lamp[1]" }])).await;
    let again = page.shared.desk().text().to_owned();
    assert_eq!(changed(&text, &again), []);
    for key in ["zone[9]", "zone", "glass", "nowhere[0]", "zone[0].name"] {
        let answer = page.change(json!([{ "do": "drop", "key": key }])).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{key}");
    }
}

#[tokio::test]
async fn wishes_are_written_once_and_by_any_name() {
    let page = page(Some(&copy("wishes", "attic-lowtech.toml")));
    page.change(set("wishes.must", "java fern")).await;
    page.change(json!([{ "do": "keep", "taxon": "leptochilus-pteropus" }])).await;
    assert!(page.shared.desk().text().contains("must = [\"java fern\"]"), "{}", page.shared.desk().text());
    page.change(json!([{ "do": "never", "taxon": "leptochilus-pteropus" }])).await;
    let text = page.shared.desk().text().to_owned();
    assert!(text.contains("must = []") && text.contains("never = [\"Leptochilus pteropus\"]"), "{text}");
    page.change(json!([{ "do": "swap", "out": "egeria-densa", "in": "hygrophila-difformis" }])).await;
    let fill = page.get("/api/fill").await.json();
    let picks: Vec<String> = fill["zones"]
        .as_array()
        .expect("zones")
        .iter()
        .flat_map(|z| z["picks"].as_array().expect("picks").iter().map(|p| p["taxon"].to_string()))
        .collect();
    assert!(
        picks.contains(&"\"hygrophila-difformis\"".to_owned())
            && !picks.contains(&"\"egeria-densa\"".to_owned())
    );
    let answer = page.change(json!([{ "do": "keep", "taxon": "no-such-plant" }])).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
}

struct NoNames;

impl Names for NoNames {
    fn taxon(&self, _: &str) -> Option<String> {
        None
    }

    fn written(&self, _: &str) -> Option<String> {
        None
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, rng_seed: proptest::test_runner::RngSeed::Fixed(8), ..ProptestConfig::default() })]

    /// Whatever way zones, lamps and wood go, they stay over the glass and the file stays sound.
    #[test]
    fn nothing_leaves_the_glass(steps in prop::collection::vec((0_usize..7, -80.0..80.0_f64, -80.0..80.0_f64, prop::bool::ANY), 1..12)) {
        let keys = ["zone[0]", "zone[1]", "zone[2]", "zone[3]", "zone[4]", "light.lamp[0]", "hardscape[0]"];
        let mut desk = Desk::open(None).expect("a new tank");
        for (part, right_cm, back_cm, stretch) in steps {
            let key = keys[part].to_owned();
            let change = if stretch { Change::Stretch { key, right_cm, back_cm } } else { Change::Move { key, right_cm, back_cm } };
            let revision = desk.revision();
            desk.change(revision, &[change], &NoNames).expect("a sound tank");
        }
        let document = Document::new("x.toml", desk.text());
        let (_, warnings) = quillwort::tank::file::read(&document).expect("a sound tank");
        assert!(warnings.is_empty());
        assert_eq!(desk.text().matches('#').count(), Desk::open(None).expect("a new tank").text().matches('#').count());
    }
}
