//! Search over the shipped catalogue: words, facets, numbers, counts, order.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use proptest::prelude::*;
use quillwort::catalogue::{Catalogue, LegalEntry, LegalStanding, Plant, SHIPPED, read_catalogue};
use quillwort::diagnostic::Document;
use quillwort::search::{self, Areas, Facet, Index, Query, Ranges, Results, SearchError, Span};
use quillwort::units::{GeneralHardness, Length, Temperature};
use tempfile::TempDir;

use crate::rows::rows;

struct Shipped {
    catalogue: Catalogue,
    index: Index,
    _folder: TempDir,
}

/// One index for all tests of this module: building it is tested, and timed, elsewhere.
static SHIPPED_INDEX: LazyLock<Shipped> = LazyLock::new(|| {
    let documents: Vec<_> = SHIPPED.iter().map(|f| Document::new(f.name, f.text)).collect();
    let (catalogue, _) = read_catalogue(&documents);
    let folder = TempDir::new().expect("temporary folder");
    search::write(folder.path(), &catalogue).expect("index is written");
    let index = Index::open(folder.path()).expect("index opens");
    Shipped { catalogue, index, _folder: folder }
});

fn plants() -> &'static [Plant] {
    &SHIPPED_INDEX.catalogue.plants
}

fn ask(query: &Query) -> Results {
    SHIPPED_INDEX.index.search(query).expect("the question is a right one")
}

fn with(facet: Facet, values: &[&str]) -> Query {
    let values = values.iter().map(|v| (*v).to_owned()).collect();
    Query { facets: BTreeMap::from([(facet, values)]), limit: 1000, ..Query::default() }
}

fn ids(results: &Results) -> Vec<&str> {
    results.hits.iter().map(|h| h.taxon.0.as_str()).collect()
}

/// The keys of the plants that a rule holds for, sorted.
fn expected(rule: impl Fn(&Plant) -> bool) -> Vec<&'static str> {
    plants().iter().filter(|p| rule(p)).map(|p| p.id.0.as_str()).collect()
}

fn sorted(results: &Results) -> Vec<&str> {
    let mut ids = ids(results);
    ids.sort_unstable();
    ids
}

#[test]
fn an_empty_question_finds_every_taxon() {
    let all = ask(&Query { limit: 1000, ..Query::default() });
    assert_eq!(all.total, plants().len());
    assert_eq!(sorted(&all), expected(|_| true));
}

#[test]
fn facet_counts_are_exact_over_all_hits() {
    for query in [Query::default(), Query::text("red stem"), with(Facet::Gas, &["without gas"])] {
        let hits = ask(&Query { limit: 1000, ..query.clone() });
        let few = ask(&Query { limit: 3, ..query.clone() });
        assert_eq!(few.facets, hits.facets, "counts do not depend on how many hits are shown");
        let taxa: Vec<&Plant> =
            plants().iter().filter(|p| hits.hits.iter().any(|h| h.taxon == p.id)).collect();
        assert_eq!(taxa.len(), hits.total);
        let check = |facet: Facet, values: fn(&Plant) -> Vec<String>| {
            let mut counts: BTreeMap<String, u64> = BTreeMap::new();
            for value in taxa.iter().flat_map(|p| values(p)) {
                *counts.entry(value).or_default() += 1;
            }
            let found = hits.facets[&facet].iter().map(|c| (c.value.clone(), c.count)).collect();
            assert_eq!(counts, found, "{facet} of {query:?}");
        };
        check(Facet::Placement, |p| p.placements.iter().map(ToString::to_string).collect());
        check(Facet::GrowthForm, |p| vec![p.growth_form.to_string()]);
        check(Facet::Light, |p| vec![search::light_need(p).to_owned()]);
        check(Facet::Gas, |p| vec![search::gas_need(p).to_owned()]);
        check(Facet::Growth, |p| vec![search::growth_rate(p).to_owned()]);
        check(Facet::Footing, |p| p.footings.iter().map(ToString::to_string).collect());
        check(Facet::Feeding, |p| vec![p.feeding.to_string()]);
        check(Facet::Colour, |p| vec![p.colour.to_string()]);
        check(Facet::Texture, |p| vec![p.texture.to_string()]);
        check(Facet::Family, |p| vec![p.family.clone()]);
        check(Facet::Native, |p| {
            let mut codes: Vec<String> =
                p.native.iter().flat_map(|c| [c.clone(), c[..1].to_owned()]).collect();
            codes.sort();
            codes.dedup();
            codes
        });
    }
}

#[test]
fn a_facet_takes_any_of_its_values_however_written() {
    let red = ask(&with(Facet::Colour, &["Red", "brown"]));
    assert_eq!(sorted(&red), expected(|p| matches!(p.colour.word(), "red" | "brown")));
    let shade = ask(&with(Facet::Light, &["half-shade"]));
    assert_eq!(sorted(&shade), expected(|p| search::light_need(p) == "half shade"));
    let two = Query {
        facets: BTreeMap::from([
            (Facet::Placement, vec!["foreground".to_owned()]),
            (Facet::Gas, vec!["without gas".to_owned()]),
        ]),
        limit: 1000,
        ..Query::default()
    };
    let both = expected(|p| {
        p.placements.iter().any(|p| p.word() == "foreground") && search::gas_need(p) == "without gas"
    });
    assert_eq!(sorted(&ask(&two)), both);
}

#[test]
fn native_areas_are_asked_by_code_or_name() {
    let malesia = expected(|p| p.native.iter().any(|c| c == "42"));
    let asia = expected(|p| p.native.iter().any(|c| c.starts_with('4')));
    for (value, wanted) in [
        ("42", &malesia),
        ("Malesia", &malesia),
        ("Borneo", &malesia),
        ("4", &asia),
        ("Asia-Tropical", &asia),
        ("tropical Asia", &asia),
    ] {
        assert_eq!(&sorted(&ask(&with(Facet::Native, &[value]))), wanted, "{value}");
    }
}

#[test]
fn a_value_that_does_not_exist_is_named_with_near_ones() {
    for (facet, value, near) in [
        (Facet::Placement, "forground", "foreground"),
        (Facet::Light, "medium", "half shade"),
        (Facet::Family, "Aracea", "Araceae"),
        (Facet::Native, "Malasia", "Malesia"),
    ] {
        let asked = SHIPPED_INDEX.index.search(&with(facet, &[value]));
        let Err(SearchError::UnknownValue { near: found, .. }) = asked else { panic!("{facet} {value}") };
        assert!(found.iter().any(|n| n == near), "{facet} {value}: {found:?}");
    }
}

#[test]
fn a_range_is_met_by_the_range_a_plant_grows_in() {
    let low = Ranges { height: Some(Span { lo: None, hi: Some(Length::from_cm(5.0)) }), ..Ranges::default() };
    let found = ask(&Query { ranges: low, limit: 1000, ..Query::default() });
    assert_eq!(sorted(&found), expected(|p| p.height.lo().cm() <= 5.0));
    let at = Some(Temperature::from_celsius(30.0));
    let hot = Ranges { temperature: Some(Span { lo: at, hi: at }), ..Ranges::default() };
    let found = ask(&Query { ranges: hot, limit: 1000, ..Query::default() });
    let grows = |p: &Plant| {
        let [a, b, c, d] = p.temperature.values().map(Temperature::celsius);
        f64::midpoint(a, b) <= 30.0 && f64::midpoint(c, d) >= 30.0
    };
    assert_eq!(sorted(&found), expected(grows));
    let hard = Ranges {
        gh: Some(Span { lo: Some(GeneralHardness::from_dgh(20.0)), hi: None }),
        ..Ranges::default()
    };
    let found = ask(&Query { ranges: hard, limit: 1000, ..Query::default() });
    let bears = |p: &Plant| f64::midpoint(p.gh.opt_max().dgh(), p.gh.abs_max().dgh()) >= 20.0;
    assert_eq!(sorted(&found), expected(bears));
}

#[test]
fn laws_are_counted_and_kept_out_by_place() {
    let law = |p: &Plant, rule: &dyn Fn(&LegalEntry) -> bool| {
        let entries = SHIPPED_INDEX.catalogue.legal.iter();
        entries.into_iter().any(|l| l.taxon == p.id && l.standing == LegalStanding::Law && rule(l))
    };
    let listed = ask(&with(Facet::Law, &["EU"]));
    assert_eq!(sorted(&listed), expected(|p| law(p, &|l| l.jurisdiction == "EU")));
    assert!(listed.total > 0);
    for place in ["EU", "DE", "US", "US-CA", "AU-NSW", "NZ", "GB-ENG"] {
        let query = Query { not_listed_in: vec![place.to_owned()], limit: 1000, ..Query::default() };
        assert_eq!(sorted(&ask(&query)), expected(|p| !law(p, &|l| l.touches(place))), "{place}");
    }
    for code in &ask(&Query::default()).facets[&Facet::Law] {
        let counted = expected(|p| law(p, &|l| l.jurisdiction == code.value)).len() as u64;
        assert_eq!(code.count, counted, "{}", code.value);
    }
}

#[test]
fn areas_are_those_of_the_standard() {
    let areas = Areas::read();
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/data/wgsrpd.csv");
    let mut table = csv::Reader::from_path(path).expect("table is readable");
    let records: Vec<_> = table.records().map(|r| r.expect("row is RFC 4180")).collect();
    for record in &records {
        let (level, code, name) = (&record[0], &record[1], &record[2]);
        assert_eq!(areas.name(code), Some(name));
        let by_code = areas.find(code).expect("a code is found");
        // A botanical country that is a region of its own is answered as such.
        let neighbours = records.iter().filter(|r| r[3] == record[3]).count();
        assert_eq!(by_code.wider, level == "3" && neighbours > 1, "{code}");
        let by_name = areas.find(name).unwrap_or_else(|| panic!("{name}"));
        if level != "3" {
            assert_eq!((by_name.codes.as_slice(), by_name.name.as_str()), (&[code.to_owned()][..], name));
        }
    }
    for row in rows("wgsrpd_level2") {
        assert_eq!(areas.name(row.text("code")), Some(row.text("name")), "{row}");
    }
    assert_eq!(
        areas.find("Southeast Asia").map(|a| a.codes),
        Some(["41", "42", "43"].map(str::to_owned).into())
    );
    assert_eq!(areas.find("Atlantis"), None);
    assert!(areas.near("Malasia").contains(&"Malesia".to_owned()));
}

#[test]
fn pages_of_hits_join_without_a_gap() {
    let query = Query { limit: 1000, ..Query::text("moss") };
    let all = ask(&query);
    let mut pages = Vec::new();
    for offset in (0..all.total).step_by(7) {
        pages.extend(ask(&Query { offset, limit: 7, ..query.clone() }).hits);
    }
    assert_eq!(pages, all.hits);
    assert_eq!(ask(&Query { limit: 0, ..query.clone() }).hits, []);
    assert_eq!(ask(&Query { limit: 0, ..query }).total, all.total);
}

#[test]
fn the_same_catalogue_gives_the_same_answers() {
    let folder = TempDir::new().expect("temporary folder");
    let mut catalogue = SHIPPED_INDEX.catalogue.clone();
    catalogue.plants.reverse();
    search::write(folder.path(), &catalogue).expect("index is written");
    let again = Index::open(folder.path()).expect("index opens");
    for text in ["", "red stem low light", "java fern", "carpet", "hairgras"] {
        let query = Query { limit: 50, ..Query::text(text) };
        assert_eq!(again.search(&query).expect("answers"), ask(&query), "{text}");
    }
}

#[test]
fn words_that_no_taxon_has_are_said() {
    let results = ask(&Query::text("xylophone java fern"));
    assert_eq!(results.unmatched, ["xylophone"]);
    assert_eq!(ids(&results).first(), Some(&"leptochilus-pteropus"));
    let corrected = ask(&Query::text("amazn sword"));
    assert_eq!(corrected.corrected, [("amazn".to_owned(), "amazon".to_owned())]);
    let nothing = ask(&Query::text("xylophone"));
    assert_eq!((nothing.total, nothing.hits.len()), (0, 0));
}

#[test]
fn a_slip_in_a_word_of_a_trait_is_forgiven() {
    for (slip, right) in [
        ("carpt low light", "carpet low light"),
        ("backgroud hard water", "background hard water"),
        ("floting red", "floating red"),
        ("epiphite", "epiphyte"),
    ] {
        let (slip, right) = (ask(&Query::text(slip)), ask(&Query::text(right)));
        assert_eq!(ids(&slip), ids(&right));
        assert_eq!(slip.corrected.len(), 1);
    }
}

#[test]
fn a_text_of_any_length_is_answered() {
    let long = ask(&Query::text("anubias java xylophone ".repeat(500)));
    assert!(long.partial && long.total > 0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn no_text_is_too_odd(text in "\\PC{0,40}") {
        ask(&Query::text(text));
    }
}

#[test]
fn a_damaged_index_is_a_typed_error() {
    let folder = TempDir::new().expect("temporary folder");
    let missing = Index::open(folder.path());
    assert!(matches!(missing, Err(SearchError::Damaged { .. })));
    std::fs::write(folder.path().join("meta.json"), "{}").expect("written");
    assert!(matches!(Index::open(folder.path()), Err(SearchError::Damaged { .. })));
}

#[cfg(unix)]
#[test]
fn an_index_in_a_read_only_folder_opens() {
    use std::os::unix::fs::PermissionsExt;
    let folder = TempDir::new().expect("temporary folder");
    search::write(folder.path(), &SHIPPED_INDEX.catalogue).expect("index is written");
    let before = std::fs::read_dir(folder.path()).expect("readable").count();
    let mode = |m: u32| {
        std::fs::set_permissions(folder.path(), std::fs::Permissions::from_mode(m)).expect("mode is set");
    };
    mode(0o555);
    let total = Index::open(folder.path()).and_then(|i| i.search(&Query::default())).map(|r| r.total);
    mode(0o755);
    assert_eq!(total.expect("answers"), plants().len());
    // Nothing is written either, which matters to a user that permissions do not stop.
    assert_eq!(std::fs::read_dir(folder.path()).expect("readable").count(), before);
}
