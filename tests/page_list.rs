//! The list view: ways out of an impossible wish, and further lists, each done by a button.

use serde_json::{Value, json};

use crate::fill_more::taxa;
use crate::page_support::{Page, copy, page};

/// The edits of the buttons whose label starts so, in the order of the page.
fn buttons(drawn: &str, label: &str) -> Vec<Value> {
    let parts = drawn.split("data-change=\"").skip(1);
    let marked = parts.filter_map(|part| {
        let (edits, rest) = part.split_once('"')?;
        let (_, words) = rest.split_once('>')?;
        words.trim_start().starts_with(label).then(|| edits.replace("&quot;", "\""))
    });
    marked.map(|edits| serde_json::from_str(&edits).expect("edits are JSON")).collect()
}

async fn list(page: &Page, more: &str) -> Value {
    page.get(&format!("/api/fill?seconds=60{more}")).await.json()
}

async fn drawn(page: &Page, more: &str) -> String {
    page.drawn(&format!("/api/fill?seconds=60{more}")).await.text
}

fn sorted(mut taxa: Vec<String>) -> Vec<String> {
    taxa.sort();
    taxa
}

#[tokio::test]
async fn every_way_out_that_is_enough_makes_a_list_when_its_button_is_pressed() {
    for (test, edit) in [
        ("poor", json!([{ "do": "set", "key": "wishes.budget", "value": "20" }])),
        ("idle", json!([{ "do": "set", "key": "wishes.trim_minutes_per_month", "value": "1" }])),
        ("few", json!([{ "do": "set", "key": "wishes.most_taxa", "value": "2" }])),
        ("impossible-plant", json!([{ "do": "keep", "taxon": "micranthemum-tweediei" }])),
    ] {
        let page = page(Some(&copy(&format!("way-out-{test}"), "attic-lowtech.toml")));
        let changed = page.change(edit).await;
        assert_eq!(changed.status, 200, "{test}: {}", changed.text);
        let answer = list(&page, "").await;
        assert_eq!(answer["proof"]["status"], "impossible", "{test}");
        let members = answer["conflict"]["members"].as_array().expect("members");
        let set: Vec<&Value> = members.iter().filter(|m| !m["setting"].is_null()).collect();
        assert!(!set.is_empty(), "{test}: {members:?}");
        let before = drawn(&page, "").await;
        let fields = page.get("/tank").await.text;
        for member in &set {
            let key = member["setting"]["key"].as_str().expect("a key");
            let id = format!("field-{}", key.replace(['.', '[', ']', '_'], "-").replace("--", "-"));
            assert!(before.contains(&format!("#{id}\"")), "{test}: a link to {id}");
            assert!(fields.contains(&format!("id=\"{id}\"")), "{test}: {id} is a field");
        }
        let writes = |m: &&&Value| !m["setting"]["write"].is_null() || !m["setting"]["free"].is_null();
        let offered: Vec<&&Value> = set.iter().filter(writes).collect();
        let pressed = buttons(&before, "Do that");
        assert_eq!(pressed.len(), offered.len(), "{test}: {before}");
        let mut led_out = 0;
        for (edits, member) in pressed.into_iter().zip(offered) {
            assert_eq!(page.change(edits).await.status, 200, "{test}: {member}");
            let status = list(&page, "").await["proof"]["status"].clone();
            if member["enough"] == true {
                assert_eq!(status, "optimal", "{test}: {member}");
                led_out += 1;
            }
            assert_eq!(page.step("undo").await.status, 200);
        }
        assert!(led_out > 0, "{test}: {members:?}");
    }
}

#[tokio::test]
async fn a_further_list_that_is_taken_becomes_the_list() {
    let page = page(Some(&copy("take", "attic-lowtech.toml")));
    let answer = list(&page, "&alternatives=2").await;
    let second = &answer["alternatives"][0];
    let picks = second["picks"].as_array().expect("picks").iter();
    let wanted = sorted(picks.map(|p| p["taxon"].as_str().expect("a key").to_owned()).collect());
    let first = sorted(taxa(&answer));
    assert_ne!(wanted, first);
    let pressed = buttons(&drawn(&page, "&alternatives=2").await, "Take this list");
    assert_eq!(pressed.len(), 2);
    assert_eq!(page.change(pressed[0].clone()).await.status, 200);
    let taken = list(&page, "").await;
    assert_eq!(taken["proof"]["value"], second["value"]);
    assert_eq!(sorted(taxa(&taken)), wanted);
    page.step("undo").await;
    assert_eq!(sorted(taxa(&list(&page, "").await)), first);
}
