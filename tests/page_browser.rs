//! The page in a real browser, as a person would use it. Screenshots and the printed sheet are kept
//! under `target/page-pictures` to be looked at.

use std::time::Duration;

use serde_json::json;

use crate::page_person::{Person, axe, driver};
use crate::page_support::{copy, page};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_person_plans_a_tank() {
    let Some(driver) = driver() else { return };
    let path = copy("browser", "attic-lowtech.toml");
    let held = page(Some(&path));
    let profile = tempfile::tempdir().expect("a folder");
    let person = Person::at(&driver, &held, profile.path()).await;

    edits_the_tank(&person).await;
    moves_things(&person).await;
    looks_around(&person).await;
    makes_the_list(&person).await;
    person.presses("#save").await;
    person.waits_for("saved", "document.querySelector('.where').textContent.includes(', saved')").await;
    let saved = std::fs::read_to_string(&path).expect("the file");
    assert!(
        saved.contains("30 cm\"         # water level") && saved.contains("Hygrophila difformis"),
        "{saved}"
    );
    prints_the_sheet(&person).await;

    let axe = axe();
    for (path, name) in [
        ("/tank", "tank"),
        ("/list", "list"),
        ("/catalogue?words=red", "catalogue"),
        ("/plants/leptochilus-pteropus", "plant"),
        ("/sheet", "sheet"),
    ] {
        person.pictures(path, name).await;
        person.is_for_everybody(axe.as_deref(), path).await;
    }
    let foreign = "return performance.getEntriesByType('resource').filter(e => !e.name.startsWith(location.origin)).length";
    assert_eq!(person.client.execute(foreign, vec![]).await.expect("a script"), json!(0));
    person.client.close().await.expect("closed");
}

async fn edits_the_tank(person: &Person) {
    person.goes_to("/tank").await;
    assert_eq!(person.sees("h1").await, "Attic study");
    // What is wrong is said beside the field while one types.
    person.writes("#field-glass-water", "30 litres").await;
    person
        .waits_for("a finding", "document.querySelector('#wrong-glass-water').textContent.includes('litres')")
        .await;
    person.leaves().await;
    person.waits_for("an invalid field", "document.querySelector('#field-glass-water[aria-invalid]')").await;
    person.writes("#field-glass-water", "30 cm").await;
    person.leaves().await;
    person.waits_for("an edit", "document.querySelector('.where').textContent.includes('not saved')").await;
    person
        .waits_for(
            "new figures",
            "document.querySelector('#figures').textContent.includes('54 L to the water line')",
        )
        .await;
    assert_eq!(person.sees("#wrong-glass-water").await, "");
}

async fn moves_things(person: &Person) {
    let place = |id: &str| format!("document.getElementById('{id}').getAttribute('aria-label')");
    person.drags("#held-zone-3", 0, 30).await;
    person.waits_for("a moved zone", &format!("!{}.includes('21 to 30')", place("held-zone-3"))).await;
    person.presses("#undo").await;
    person.waits_for("the zone back", &format!("{}.includes('21 to 30')", place("held-zone-3"))).await;
    // The same by keys alone: three steps to the left are one step of the tank.
    person
        .client
        .execute("document.getElementById('held-light-lamp-0').focus()", vec![])
        .await
        .expect("a script");
    person.keys(&['\u{e012}', '\u{e012}', '\u{e012}']).await;
    person
        .waits_for("a moved lamp", &format!("{}.includes('27 cm from the left')", place("held-light-lamp-0")))
        .await;
    person.waits_for("the lamp still in hand", "document.activeElement.id === 'held-light-lamp-0'").await;
    person
        .waits_for(
            "it read out",
            "document.querySelector('#live').textContent.includes('27 cm from the left')",
        )
        .await;
    person.presses("#undo").await;
    person
        .waits_for(
            "the lamp back",
            &format!("{}.includes('30 cm from the left')", place("held-light-lamp-0")),
        )
        .await;
}

async fn looks_around(person: &Person) {
    person.goes_to("/catalogue").await;
    person.writes("#words", "java fern").await;
    person
        .waits_for(
            "an answer",
            "document.querySelector('.found a')?.textContent.includes('Leptochilus pteropus')",
        )
        .await;
    person.waits_for("the question in the address", "location.search.includes('words=java+fern')").await;
    person.client.refresh().await.expect("loaded again");
    person
        .waits_for(
            "the same answer",
            "document.querySelector('.found a')?.textContent.includes('Leptochilus pteropus')",
        )
        .await;
    person.client.execute("document.querySelector('#narrow').open = true", vec![]).await.expect("a script");
    person.presses("#facet-placement-epiphyte").await;
    person.waits_for("a narrower question", "location.search.includes('placement=epiphyte')").await;
    person.presses(".found a").await;
    assert!(person.sees("h1").await.contains("Leptochilus pteropus"));
    assert!(person.sees("#here").await.contains("limited by"));
}

async fn makes_the_list(person: &Person) {
    person.goes_to("/list").await;
    person.waits_for("a proof", "document.querySelector('#proof').textContent.includes('no list')").await;
    person.presses("article[aria-label='Hygrophila difformis'] button").await;
    person.waits_for("it kept", "document.querySelector(\"article[aria-label='Hygrophila difformis']\").textContent.includes('Kept')").await;
    let swap = "const s = [...document.querySelectorAll('select[data-out]')].find(s => s.dataset.out !== 'hygrophila-difformis'); \
                s.value = s.options[1].value; return [s.id, s.dataset.out, s.value]";
    let swapped = person.client.execute(swap, vec![]).await.expect("a script");
    let [id, out, other] = [0, 1, 2].map(|i| swapped[i].as_str().expect("a word"));
    person.presses(&format!("[data-swap={id}]")).await;
    person.waits_for("a swap", &format!("!document.querySelector('select[data-out={out}]')")).await;
    person
        .waits_for(
            "the other",
            &format!("document.querySelector('#list').innerHTML.includes('/plants/{other}')"),
        )
        .await;
    person.writes("#ask", "Micranthemum tweediei").await;
    person.presses("form[data-ask] button").await;
    person
        .waits_for("a verdict", "document.querySelector('#asked').textContent.includes('limited by')")
        .await;
    person.presses("button[type=submit].first").await;
    person.waits_for("a proof", "document.querySelector('#proof').textContent.includes('no list')").await;
}

async fn prints_the_sheet(person: &Person) {
    person.goes_to("/sheet").await;
    person.waits_for("the sheet", "document.querySelector('table td')").await;
    person
        .waits_for("the drawings", "[...document.images].every(i => i.complete && i.naturalWidth > 0)")
        .await;
    // A busy machine may take longer than the driver waits.
    let mut printed = Vec::new();
    for _ in 0..5 {
        if let Ok(sheet) = person.client.print(fantoccini::wd::PrintConfiguration::default()).await {
            printed = sheet;
            break;
        }
    }
    assert!(printed.starts_with(b"%PDF") && printed.len() > 20_000, "{} bytes", printed.len());
    std::fs::write(person.pictures.join("sheet.pdf"), printed).expect("kept");
}

/// A step taken in the middle of a press: nothing under the finger is swapped, and nothing is lost.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_press_is_never_lost() {
    let Some(driver) = driver() else { return };
    let path = copy("presses", "attic-lowtech.toml");
    let held = page(Some(&path));
    let profile = tempfile::tempdir().expect("a folder");
    let person = Person::at(&driver, &held, profile.path()).await;
    person.goes_to("/tank").await;
    // From the field straight to the button that the field itself switches on.
    person.writes("#field-glass-water", "30 cm").await;
    person.with("#save", async |button| button.click().await).await;
    let saved = "document.querySelector('.where').textContent.includes(', saved') && !document.querySelector('#undo[aria-disabled]')";
    person.waits_for("it changed and saved", saved).await;
    assert!(std::fs::read_to_string(&path).expect("the file").contains("water = \"30 cm\""));

    // Everything is drawn anew while the button is held down.
    let down = "const b = document.querySelector('#undo'); window.before = [...document.querySelectorAll('.desk *, #fields *')]; \
                b.dispatchEvent(new PointerEvent('pointerdown', { bubbles: true })); \
                window.pressing = change([{ do: 'set', key: 'light.hours', value: '7' }], { fields: true })";
    person.client.execute(down, vec![]).await.expect("a script");
    tokio::time::sleep(Duration::from_millis(400)).await;
    let still = "return document.querySelector('.where').textContent.includes(', saved')";
    assert_eq!(
        person.client.execute(still, vec![]).await.expect("a script"),
        json!(true),
        "drawn under a finger"
    );
    let up = "const b = document.querySelector('#undo'); b.dispatchEvent(new PointerEvent('pointerup', { bubbles: true }))";
    person.client.execute(up, vec![]).await.expect("a script");
    person.waits_for("an edit", "document.querySelector('.where').textContent.includes('not saved')").await;
    person.waits_for("the field", "document.querySelector('#field-light-hours').value === '7'").await;
    let swapped = "return window.before.filter(e => !e.isConnected).map(e => e.outerHTML)";
    assert_eq!(person.client.execute(swapped, vec![]).await.expect("a script"), json!([]));

    // What is being written stays, with the focus, when another window changes the tank.
    person.writes("#field-name", "Half a na").await;
    held.change(json!([{ "do": "set", "key": "light.hours", "value": "6" }])).await;
    person.client.execute("window.dispatchEvent(new Event('focus'))", vec![]).await.expect("a script");
    person.waits_for("the other's edit", "document.querySelector('#field-light-hours').value === '6'").await;
    let mine = "return [document.activeElement.id, document.activeElement.value]";
    assert_eq!(
        person.client.execute(mine, vec![]).await.expect("a script"),
        json!(["field-name", "Half a na"])
    );
    person.client.close().await.expect("closed");
}
