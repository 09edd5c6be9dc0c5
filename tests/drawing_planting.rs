//! The drawings of planted tanks: sound SVG to scale, words that never lie on each other, the same
//! bytes each time, and hatches that greys tell apart. A second reader (`roxmltree`) and a second
//! renderer (`resvg`, whose boxes of words come from its own shaping) look at what we wrote.

use quillwort::report::svg::{front_view, plan_view};
use quillwort::report::view::{PictureView, StandView, piece_word};
use quillwort::units::UnitSystem;

use crate::drawing_support::{ATTIC, HALL, drawings, numbers, overlaps, planted, read, words};

#[test]
fn no_words_lie_on_others_or_leave_the_page() {
    let mut wrong = Vec::new();
    for (name, _, svg) in drawings() {
        wrong.extend(overlaps(&read(&svg)).into_iter().map(|w| format!("{name}: {w}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The check above sees what it is there for.
#[test]
fn the_check_of_overlaps_sees_an_overlap() {
    let (_, _, svg) = drawings().swap_remove(0);
    let twice = svg.replacen("front glass", "front", 1).replacen(
        "</svg>",
        "<text x=\"30\" y=\"15\" font-size=\"5\" font-family=\"Gelasio\">over the heading</text></svg>",
        1,
    );
    assert!(overlaps(&read(&twice)).iter().any(|w| w.contains("over the heading")), "not seen");
}

#[test]
fn every_drawing_is_svg_1_1_with_title_and_description_and_finite_places_on_the_page() {
    for (name, view, svg) in drawings() {
        assert!(svg.len() < 1_500_000, "{name}: {} bytes", svg.len());
        let document = roxmltree::Document::parse(&svg).unwrap_or_else(|e| panic!("{name}: {e}"));
        let root = document.root_element();
        assert_eq!(root.attribute("version"), Some("1.1"), "{name}");
        let children: Vec<_> = root.children().filter(roxmltree::Node::is_element).collect();
        assert_eq!(
            [children[0].tag_name().name(), children[1].tag_name().name()],
            ["title", "desc"],
            "{name}"
        );
        assert!(children[0].text().is_some_and(|t| t.contains(&view.tank)), "{name}");
        for drift in &view.drifts {
            assert!(children[1].text().is_some_and(|t| t.contains(&drift.name)), "{name}: {}", drift.name);
        }
        assert!(!svg.contains("NaN") && !svg.contains("\"inf") && !svg.contains(" inf"), "{name}");
        let page: Vec<f64> = numbers(root.attribute("viewBox").expect("a view box")).collect();
        let moved = |n: &roxmltree::Node<'_, '_>| {
            n.ancestors().any(|a| {
                a.has_attribute("transform") || a.has_attribute("clip-path") || a.tag_name().name() == "defs"
            })
        };
        let mut places = 0;
        for node in document.descendants().filter(|n| n.is_element() && !moved(n)) {
            for (keys, most) in [(["x", "cx", "x1", "x2"], page[2]), (["y", "cy", "y1", "y2"], page[3])] {
                for value in keys.iter().filter_map(|k| node.attribute(*k)) {
                    let value: f64 = value.parse().unwrap_or_else(|_| panic!("{name}: {value}"));
                    assert!((0.0..=most).contains(&value), "{name}: {value} on a page of {most}");
                    places += 1;
                }
            }
        }
        assert!(places > 200, "{name}: {places}");
        let defined: Vec<&str> = document.descendants().filter_map(|n| n.attribute("id")).collect();
        for link in
            document.descendants().filter_map(|n| n.attribute(("http://www.w3.org/1999/xlink", "href")))
        {
            assert!(defined.contains(&&link[1..]), "{name}: {link} is not defined");
        }
    }
}

#[test]
fn every_drift_is_drawn_numbered_and_named() {
    for (name, view, svg) in drawings() {
        let tree = read(&svg);
        let mut all = Vec::new();
        words(tree.root(), &mut all);
        for drift in &view.drifts {
            let number = drift.number.to_string();
            let said = all.iter().filter(|(words, _)| *words == number).count();
            assert!(
                said >= 2,
                "{name}: {number} stands {said} times, in the picture and in the key expected"
            );
            assert!(all.iter().any(|(words, _)| *words == drift.name), "{name}: no {}", drift.name);
            let uses = svg.matches(&format!("#plant{number}-")).count();
            let front = name.contains("front");
            let drawn = if front && !drift.is_gone() { drift.places_cm.len() } else { 0 };
            assert_eq!(uses, drawn, "{name}: {}", drift.name);
            assert_eq!(svg.contains(&format!("\"#hatch{number}\"")), !front, "{name}: {}", drift.name);
        }
    }
}

/// Other renderers drop the spaces at the ends of spans where they are not told to keep them.
#[test]
fn names_keep_their_spaces_in_every_reader() {
    for (name, view, svg) in drawings() {
        let document = roxmltree::Document::parse(&svg).expect("XML");
        let spanned: Vec<_> = document
            .descendants()
            .filter(|n| n.tag_name().name() == "text")
            .filter(|n| n.children().any(|c| c.tag_name().name() == "tspan"))
            .collect();
        for text in &spanned {
            let space = text.attribute(("http://www.w3.org/XML/1998/namespace", "space"));
            assert_eq!(space, Some("preserve"), "{name}");
        }
        let said = |text: &roxmltree::Node<'_, '_>| -> String {
            text.descendants().filter_map(|n| n.is_text().then(|| n.text()).flatten()).collect()
        };
        let said: Vec<String> = spanned.iter().map(said).collect();
        for drift in &view.drifts {
            assert!(said.contains(&drift.name), "{name}: no {} in {said:?}", drift.name);
        }
    }
}

/// The foot of the plan has a mark for each form that is there, with the words of the key.
#[test]
fn the_legend_says_what_the_pieces_are_called() {
    for planted_demo in [ATTIC, HALL] {
        let view = planted(planted_demo, &[0], false).remove(0);
        let tree = read(&plan_view(&view, UnitSystem::Metric));
        let mut all = Vec::new();
        words(tree.root(), &mut all);
        let after = all.iter().position(|(said, _)| said == "A piece goes at each mark:").expect("a legend");
        let legend: Vec<&str> = all[after + 1..]
            .iter()
            .flat_map(|(said, _)| said.split(", "))
            .map(|w| w.trim_end_matches(" afloat"))
            .collect();
        let used: Vec<[&str; 2]> =
            view.drifts.iter().map(|d| [1, 2].map(|n| piece_word(d.growth_form, n))).collect();
        for words in &used {
            assert!(words.iter().any(|w| legend.contains(w)), "no {words:?} in {legend:?}");
        }
        for word in &legend {
            assert!(used.iter().flatten().any(|w| w == word), "{word} is not on the plan: {legend:?}");
        }
    }
}

/// A tank of 60 cm at 1 : 3 is 200 mm long on paper, and says so.
#[test]
fn the_drawings_are_to_scale() {
    let view = planted(ATTIC, &[0], false).remove(0);
    let svg = front_view(&view, UnitSystem::Metric);
    assert!(svg.contains("1 : 3 when printed"), "the scale is not stated");
    let document = roxmltree::Document::parse(&svg).expect("XML");
    let water = document.descendants().find(|n| n.attribute("fill") == Some("url(#water)")).expect("water");
    assert_eq!(water.attribute("width"), Some("200"));
    let depth: f64 = water.attribute("height").and_then(|v| v.parse().ok()).expect("a number");
    assert!((depth - 32.0 * 10.0 / 3.0).abs() < 0.01, "{depth}");
}

/// The weeks of the growth model are what is drawn.
#[test]
fn what_is_planted_grows_in() {
    let weeks = planted(ATTIC, &[0, 4, 12], false);
    let cover = |w: &PictureView| w.drifts.iter().map(|d| d.cover).sum::<f64>();
    assert!(cover(&weeks[0]) < cover(&weeks[2]), "nothing grows in");
    let svg: Vec<String> = weeks.iter().map(|w| front_view(w, UnitSystem::Metric)).collect();
    assert!(svg[0] != svg[1] && svg[1] != svg[2]);
    for drift in weeks[0].drifts.iter().filter(|d| d.stand == StandView::Bed) {
        assert!(drift.height_cm > 0.0 && drift.cover > 0.0 && !drift.is_gone(), "{}", drift.name);
    }
}

#[test]
fn what_is_gone_is_not_drawn_and_the_key_says_so() {
    let mut view = planted(ATTIC, &[4], false).remove(0);
    (view.drifts[2].height_cm, view.drifts[2].cover) = (0.0, 0.0);
    let svg = front_view(&view, UnitSystem::Metric);
    assert!(!svg.contains("#plant3-") && svg.contains("nothing left of it"));
}

/// Relative luminance of a colour, 0 to 255 (Rec. 709 weights).
fn luminance(hex: &str) -> f64 {
    let channel = |i: usize| f64::from(u8::from_str_radix(&hex[i..i + 2], 16).expect("a colour"));
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

#[test]
fn hatches_or_greys_of_any_two_drifts_differ() {
    for planted_demo in [ATTIC, HALL] {
        let view = planted(planted_demo, &[12], false).remove(0);
        let svg = plan_view(&view, UnitSystem::Metric);
        let document = roxmltree::Document::parse(&svg).expect("XML");
        let pattern = |number: usize| {
            let id = format!("hatch{number}");
            let path = document.descendants().find(|n| n.attribute("id") == Some(&id)).expect("a hatch");
            (path.attribute("d").expect("data"), path.attribute("transform"))
        };
        let lines: Vec<f64> = view
            .drifts
            .iter()
            .map(|d| {
                let id = format!("hatch{}", d.number);
                let path = document.descendants().find(|n| n.attribute("id") == Some(&id)).expect("a hatch");
                let ink = ["stroke", "fill"].iter().filter_map(|k| path.attribute(*k)).find(|v| *v != "none");
                luminance(ink.expect("ink"))
            })
            .collect();
        // The hatch is darker than any tint under it by far, so that it shows in print.
        assert!(lines.iter().all(|l| *l < 110.0), "{lines:?}");
        for a in &view.drifts {
            for b in view.drifts.iter().filter(|b| b.number < a.number) {
                assert_ne!(pattern(a.number), pattern(b.number), "{} and {}", a.name, b.name);
            }
        }
    }
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    for (first, second) in drawings().into_iter().zip(drawings()) {
        assert!(first.2 == second.2, "{}", first.0);
    }
}

#[test]
fn a_long_or_hostile_name_breaks_nothing() {
    let mut view = planted(ATTIC, &[0], false).remove(0);
    view.tank = "</title><script>alert(1)</script> & \"x\" \u{7} ".repeat(12);
    view.drifts[0].name = "Aquatica interminabilis var. longissima 'Never Ending Name of a Plant' ".repeat(3);
    view.zones[0].name = "a zone named at such length that no room is wide enough for it ".repeat(4);
    for svg in [front_view(&view, UnitSystem::Metric), plan_view(&view, UnitSystem::Metric)] {
        let document = roxmltree::Document::parse(&svg).expect("XML");
        assert!(document.descendants().all(|n| n.tag_name().name() != "script"));
        assert_eq!(overlaps(&read(&svg)), Vec::<String>::new());
    }
}
