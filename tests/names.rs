//! Names as people write them: the right taxon, the candidates, or nothing; never a wrong one.

use std::collections::BTreeMap;
use std::io::Write;
use std::sync::LazyLock;

use proptest::prelude::*;
use quillwort::catalogue::{Catalogue, NameKind, SHIPPED, TaxonId, read_catalogue};
use quillwort::diagnostic::Document;
use quillwort::search::names::{How, Resolution, Resolver};
use quillwort::search::{self, Index, Query};
use tempfile::TempDir;

use crate::rows::{Row, rows};

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(|| {
    let documents: Vec<_> = SHIPPED.iter().map(|f| Document::new(f.name, f.text)).collect();
    read_catalogue(&documents).0
});

static RESOLVER: LazyLock<Resolver> = LazyLock::new(|| {
    let authors: Vec<(TaxonId, String)> =
        CATALOGUE.plants.iter().map(|p| (p.id.clone(), p.authorship.clone())).collect();
    Resolver::new(&CATALOGUE.names, &authors)
});

/// The key of the one taxon meant, if it is one.
fn one(text: &str) -> Option<String> {
    match RESOLVER.resolve(text) {
        Resolution::One { taxon, .. } => Some(taxon.0),
        _ => None,
    }
}

fn how(text: &str) -> Option<How> {
    match RESOLVER.resolve(text) {
        Resolution::One { how, .. } => Some(how),
        _ => None,
    }
}

/// What an answer is worth, and whether it is wrong and sure of itself.
struct Score {
    reciprocal_rank: f64,
    wrong: bool,
}

fn rank<'a>(found: impl IntoIterator<Item = &'a str>, expected: &[&str]) -> Option<usize> {
    found.into_iter().position(|id| expected.contains(&id))
}

/// A name that is resolved counts 1; the right taxon among candidates or suggestions counts
/// as one place further back than it stands.
fn score_name(row: &Row) -> Score {
    let expected: Vec<&str> = row.text("expected").split(';').collect();
    let at = |place: Option<usize>| place.map_or(0.0, |p| 1.0 / (p as f64 + 2.0));
    let (reciprocal_rank, wrong) = match (RESOLVER.resolve(row.text("query")), expected[0]) {
        (Resolution::One { taxon, .. }, _) => {
            let right = expected.contains(&taxon.0.as_str());
            (f64::from(u8::from(right)), !right)
        }
        (Resolution::Several { .. }, "several") | (Resolution::Unknown { .. }, "none") => (1.0, false),
        (Resolution::Several { candidates } | Resolution::Unknown { near: candidates }, _) => {
            (at(rank(candidates.iter().map(|c| c.taxon.0.as_str()), &expected)), false)
        }
    };
    Score { reciprocal_rank, wrong }
}

fn score_text(row: &Row, index: &Index) -> Score {
    let expected: Vec<&str> = row.text("expected").split(';').collect();
    let results = index.search(&Query::text(row.text("query"))).expect("the index answers");
    let place = rank(results.hits.iter().map(|h| h.taxon.0.as_str()), &expected);
    Score { reciprocal_rank: place.map_or(0.0, |p| 1.0 / (p as f64 + 1.0)), wrong: false }
}

#[test]
fn the_queries_people_type_are_answered() {
    let folder = TempDir::new().expect("temporary folder");
    search::write(folder.path(), &CATALOGUE).expect("index is written");
    let index = Index::open(folder.path()).expect("index opens");
    let mut sums: BTreeMap<&str, (f64, usize)> = BTreeMap::new();
    let (mut misses, mut wrong) = (Vec::new(), Vec::new());
    let queries = rows("search-queries");
    for row in &queries {
        let score = match row.text("kind") {
            "name" => score_name(row),
            "text" => score_text(row, &index),
            kind => panic!("{row}: no kind of query: {kind}"),
        };
        let sum = sums.entry(row.text("kind")).or_default();
        *sum = (sum.0 + score.reciprocal_rank, sum.1 + 1);
        let line = || format!("{:.2}  {}  ({})", score.reciprocal_rank, row.text("query"), row.text("note"));
        misses.extend((score.reciprocal_rank < 1.0).then(line));
        wrong.extend(score.wrong.then(line));
    }
    assert!(queries.len() >= 150);
    let means: Vec<String> =
        sums.iter().map(|(kind, (sum, n))| format!("{kind} {:.4} of {n}", sum / *n as f64)).collect();
    // Straight to the stream: the score is a figure to see, passing or not.
    let mut out = std::io::stderr();
    let report =
        format!("mean reciprocal rank: {}; wrong with confidence: {}", means.join(", "), wrong.len());
    writeln!(out, "{report}").expect("stderr is writable");
    let all = format!("{report}\nnot in first place:\n{}", misses.join("\n"));
    assert!(wrong.is_empty(), "wrong with confidence:\n{}\n{all}", wrong.join("\n"));
    for (kind, (sum, n)) in &sums {
        assert!(sum / *n as f64 >= 0.95, "{kind}: {all}");
    }
}

#[test]
fn every_accepted_name_means_its_taxon_however_written() {
    for plant in &CATALOGUE.plants {
        let name = plant.display_name();
        for written in [
            name.clone(),
            name.to_uppercase(),
            name.to_lowercase(),
            name.replace('\'', ""),
            name.replace('\'', "\""),
            name.replace('×', "x"),
            name.replace(['-', '×'], " "),
            name.replace(' ', "  "),
            format!("{} {}", plant.scientific_name, plant.authorship).trim().to_owned(),
        ] {
            // With authors only the name without cultivar is meant.
            let own = written.contains(&plant.authorship) && plant.cultivar.is_some();
            let found = one(&written);
            assert!(own || found.as_deref() == Some(&plant.id.0), "`{written}`: {found:?}, not {}", plant.id);
        }
        assert_eq!(how(&plant.id.0), Some(How::Key));
    }
}

#[test]
fn no_name_of_the_catalogue_is_unknown_or_hides_its_taxon() {
    let mut hidden = Vec::new();
    for name in &CATALOGUE.names {
        // A name may mean a species where it is listed for a form of it, or the other way
        // round, and an accepted name goes before a trade name that misuses it.
        let related = |other: &TaxonId| {
            let species = |id: &TaxonId| CATALOGUE.plant(id).map(|p| p.scientific_name.as_str());
            let accepted =
                CATALOGUE.names.iter().any(|n| n.kind == NameKind::Accepted && n.name == name.name);
            species(other) == species(&name.taxon) || accepted
        };
        let seen = match RESOLVER.resolve(&name.name) {
            Resolution::One { taxon, .. } => related(&taxon),
            Resolution::Several { candidates } => candidates.iter().any(|c| related(&c.taxon)),
            Resolution::Unknown { near } => {
                // A bare genus or epithet that is not certain.
                name.kind != NameKind::Accepted
                    && near.iter().any(|c| related(&c.taxon))
                    && !name.name.contains(' ')
            }
        };
        hidden.extend((!seen).then(|| format!("{} ({})", name.name, name.taxon)));
    }
    assert!(hidden.is_empty(), "{}", hidden.join("\n"));
}

/// All texts that one slip makes of a word: a letter lost, doubled, or swapped with the next.
fn slips(word: &str) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    let mut slips = Vec::new();
    for i in 1..letters.len() {
        let mut lost = letters.clone();
        lost.remove(i);
        let mut doubled = letters.clone();
        doubled.insert(i, letters[i]);
        let mut swapped = letters.clone();
        swapped.swap(i - 1, i);
        slips.extend([lost, doubled, swapped].map(|l| l.into_iter().collect::<String>()));
    }
    slips.retain(|s| s != word);
    slips
}

#[test]
fn one_slip_is_forgiven_and_never_leads_to_another_plant() {
    let (mut right, mut all, mut wrong) = (0, 0, Vec::new());
    for plant in CATALOGUE.plants.iter().filter(|p| p.cultivar.is_none()) {
        let words: Vec<&str> = plant.scientific_name.split(' ').collect();
        let (place, longest) =
            words.iter().enumerate().max_by_key(|(_, w)| w.len()).expect("a name has a word");
        for slip in slips(longest).iter().step_by(11) {
            let mut written: Vec<&str> = words.clone();
            written[place] = slip;
            let written = written.join(" ");
            all += 1;
            match one(&written) {
                Some(id) if id == plant.id.0 => right += 1,
                Some(id) => wrong.push(format!("`{written}`: {id}, not {}", plant.id)),
                None => {}
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(f64::from(right) >= 0.97 * f64::from(all), "{right} of {all}");
}

#[test]
fn real_species_that_are_not_carried_are_never_taken_for_those_that_are() {
    for row in rows("absent-names") {
        let name = row.text("name");
        if let Resolution::One { taxon, how, .. } = RESOLVER.resolve(name) {
            // One that the catalogue has taken up since is found by its name.
            assert!(matches!(how, How::Name(_)), "{row}: `{name}` is taken for {taxon} ({how:?})");
        }
    }
}

#[test]
fn how_a_name_was_read_is_said() {
    for (text, expected) in [
        ("leptochilus-pteropus", How::Key),
        ("java fern", How::Name(NameKind::Vernacular)),
        ("java ferns", How::Plural),
        ("fern java", How::WordOrder),
        ("C. wendtii", How::Abbreviation),
        ("Cryptocoryne mi oya", How::Shortened),
        ("Vallisneria spiralis L.", How::Authors),
        ("pistia", How::Genus),
        ("Java fern (Microsorum pteropus)", How::Brackets),
        ("Cryptocoryne wendti", How::Typo(1)),
        ("Cryptocorine wendti", How::Typo(2)),
    ] {
        assert_eq!(how(text), Some(expected), "{text}");
    }
}

#[test]
fn several_are_two_or_more_and_each_once() {
    for text in ["Anubias", "moss", "java moss", "crypts", "caroliniana", "Cryptocoryne wendtii 'Nonesuch'"] {
        let Resolution::Several { candidates } = RESOLVER.resolve(text) else { panic!("{text}") };
        let mut ids: Vec<_> = candidates.iter().map(|c| &c.taxon).collect();
        ids.sort();
        ids.dedup();
        assert!(ids.len() >= 2 && ids.len() == candidates.len(), "{text}: {candidates:?}");
    }
}

#[test]
fn what_is_not_known_comes_with_names_near_it() {
    for (text, wanted) in [
        ("Blyxa javanica", "blyxa-japonica"),
        ("java", "leptochilus-pteropus"),
        ("guppy", "najas-guadalupensis"),
        ("Hemianthus callitrichoides Nonesuch", "micranthemum-callitrichoides"),
    ] {
        let Resolution::Unknown { near } = RESOLVER.resolve(text) else { panic!("{text}") };
        assert!(near.iter().any(|c| c.taxon.0 == wanted), "{text}: {near:?}");
        assert!(near.len() <= 5);
    }
    for text in ["", "   ", "?!", "×", "🌱", "x", "12345", "Monstera deliciosa"] {
        assert!(matches!(RESOLVER.resolve(text), Resolution::Unknown { .. }), "{text}");
    }
    assert!(matches!(RESOLVER.resolve(&"anubias ".repeat(2000)), Resolution::Unknown { .. }));
}

proptest! {
    #[test]
    fn no_text_is_too_odd(text in "\\PC{0,60}") {
        let _ = RESOLVER.resolve(&text);
    }

    /// Letters and marks that occur in names, in any order.
    #[test]
    fn nor_one_that_looks_like_a_name(text in "[acesixu .'×(/-]{0,40}") {
        let _ = RESOLVER.resolve(&text);
    }
}
