//! How long the library and the search take. Goals: the library built well under 1 s; opening
//! it and answering a query a few milliseconds, of the 20 ms that a whole `find` may take; a
//! name resolved under 5 ms.
//!
//! `cargo bench --bench search`

use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

use quillwort::catalogue::{SHIPPED, TaxonId, read_catalogue};
use quillwort::diagnostic::Document;
use quillwort::library::{self, Library};
use quillwort::search::names::Resolver;
use quillwort::search::{self, INDEX_VERSION, Index, Query};

/// Prints the median and the best of `rounds`, in microseconds a call.
fn time<R>(name: &str, rounds: usize, mut work: impl FnMut() -> R) {
    let mut times: Vec<f64> = (0..rounds)
        .map(|_| {
            let start = Instant::now();
            black_box(work());
            start.elapsed().as_secs_f64() * 1e6
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("{name:<44} median {:>10.1} µs   best {:>10.1} µs", times[rounds / 2], times[0]);
}

fn documents() -> Vec<Arc<Document>> {
    SHIPPED.iter().map(|f| Document::new(f.name, f.text)).collect()
}

fn main() {
    let documents = documents();
    let (catalogue, _) = read_catalogue(&documents);
    let folder = tempfile::tempdir().expect("temporary folder");
    let key = library::key(&documents, INDEX_VERSION);
    time("key of the data", 31, || library::key(&documents, INDEX_VERSION));
    time("catalogue read from the tables", 11, || read_catalogue(&documents));
    let mut round = 0;
    time("library built and put in place", 11, || {
        round += 1;
        let root = folder.path().join(round.to_string());
        library::ensure(&root, &key, &mut |folder| {
            let (catalogue, _) = read_catalogue(&documents);
            library::write(folder, &catalogue)?;
            Ok(search::write(&folder.join(library::INDEX), &catalogue)?)
        })
        .expect("library is built")
    });
    let root = folder.path().join("1");
    let found =
        || library::ensure(&root, &key, &mut |_| Err("it is there".into())).expect("library is found");
    time("finished library found", 31, found);
    let place = found();
    time("database opened", 31, || Library::open(place.path()).expect("opens"));
    let db = Library::open(place.path()).expect("opens");
    time("all plants", 31, || db.plants().expect("reads"));
    time("all names", 31, || db.names().expect("reads"));
    let id = TaxonId("leptochilus-pteropus".to_owned());
    time("claims, names and law of one taxon", 31, || {
        (
            db.claims_of(&id).expect("reads"),
            db.names_of(&id).expect("reads"),
            db.legal_of(&id).expect("reads"),
        )
    });
    time("index opened", 31, || Index::open(&place.index()).expect("opens"));
    let index = Index::open(&place.index()).expect("opens");
    for text in
        ["", "java fern", "red stem low light", "carpet low light", "hard water background", "amazn sord"]
    {
        time(&format!("query `{text}`"), 31, || index.search(&Query::text(text)).expect("answers"));
    }
    let authors: Vec<_> = catalogue.plants.iter().map(|p| (p.id.clone(), p.authorship.clone())).collect();
    time("resolver made", 31, || Resolver::new(&catalogue.names, &authors));
    let resolver = Resolver::new(&catalogue.names, &authors);
    for name in ["Java fern", "C. wendtii", "cryptocorine wendti", "Anubias", "Monstera deliciosa"] {
        time(&format!("name `{name}`"), 31, || resolver.resolve(name));
    }
}
