//! `catalogue check`, `add` and `export`.

use std::fs;
use std::path::{Path, PathBuf};

use crate::program::{Run, file, finish};

const SHIPPED: &[&str] = &[
    "sources.csv",
    "plants.csv",
    "names.csv",
    "evidence.csv",
    "legal.csv",
    "light-sources.csv",
    "light-bands.csv",
];

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    folder
}

/// Runs with own rows in `own`.
fn run_own(own: &Path, args: &[&str]) -> Run {
    let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_quillwort"));
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    let library = Path::new(env!("CARGO_TARGET_TMPDIR")).join("library-own");
    finish(command.arg("--library").arg(library).arg("--own").arg(own).args(args))
}

fn shipped(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("data").join(name)).expect("shipped data")
}

/// The shipped row of a taxon with its key and name replaced.
fn row_like(taxon: &str, id: &str, name: &str) -> String {
    let plants = shipped("plants.csv");
    let header = plants.lines().next().expect("has a header");
    let row = plants.lines().find(|l| l.starts_with(&format!("{taxon},"))).expect("the taxon is shipped");
    let rest: Vec<&str> = row.splitn(3, ',').collect();
    format!("{header}\n{id},{name},{}\n", rest[2])
}

#[test]
fn the_shipped_catalogue_has_no_findings() {
    let run = run_own(&folder("own-none"), &["catalogue", "check"]);
    assert_eq!((run.code, run.err.as_str()), (0, ""));
    assert!(run.out.contains("0 findings"), "{}", run.out);
}

#[test]
fn at_least_450_taxa_over_every_placement() {
    let plants = shipped("plants.csv");
    let mut reader = csv::Reader::from_reader(plants.as_bytes());
    let column =
        reader.headers().expect("has a header").iter().position(|h| h == "placement").expect("placement");
    let placements: Vec<String> =
        reader.records().map(|r| r.expect("a row").get(column).unwrap_or_default().to_owned()).collect();
    assert!(placements.len() >= 450, "{} taxa", placements.len());
    for (placement, least) in
        [("foreground", 30), ("midground", 40), ("background", 40), ("epiphyte", 20), ("floating", 12)]
    {
        let count = placements.iter().filter(|p| p.split(';').any(|w| w == placement)).count();
        assert!(count >= least, "{placement}: {count}");
    }
}

#[test]
fn every_fault_of_a_broken_folder_is_found_at_once() {
    let folder = folder("broken-data");
    fs::create_dir_all(&folder).expect("the folder can be made");
    for name in SHIPPED {
        let mut text = shipped(name);
        if *name == "plants.csv" {
            let lines: Vec<&str> = text.lines().collect();
            let swapped = lines[1].replacen(",midground;background,", ",midground;backgruond,", 1);
            let duplicate = lines[2].to_owned();
            let broken = lines[3].replacen("bed", "=SUM(A1)", 1);
            text = format!(
                "{}\n{swapped}\n{duplicate}\n{duplicate}\n{broken}\n{}\n",
                lines[0],
                lines[4..].join("\n")
            );
        } else if *name == "names.csv" {
            text = text.replacen(",la,", ",xx,", 1).replacen("inaturalist-2026", "inaturalist-2062", 1);
        }
        fs::write(folder.join(name), text).expect("writable");
    }
    let run = run_own(&self::folder("own-none"), &["catalogue", "check", folder.to_str().expect("UTF-8")]);
    assert_eq!(run.code, 1, "{}", run.err);
    for says in [
        "`backgruond` is not a value of `placement`",
        "did you mean `background`?",
        "stands twice in plants.csv",
        "`=SUM(A1)` is not a value of `footing`",
        "`xx` is not a value of `language`",
        "`inaturalist-2062` is not in sources.csv",
        "plants.csv:2:",
        "names.csv:",
    ] {
        assert!(run.err.contains(says), "{says} not in\n{}", run.err);
    }
}

#[test]
fn tables_that_are_no_clean_csv() {
    let good = shipped("names.csv");
    let cases: [(&str, Vec<u8>, &str); 6] = [
        ("bom", format!("\u{feff}{good}").into_bytes(), "byte order mark"),
        ("crlf", good.replace('\n', "\r\n").into_bytes(), "carriage returns"),
        ("quote", good.replacen('\n', "\n\"unclosed", 1).into_bytes(), "opened here and never closed"),
        ("width", good.replacen('\n', "\none,two\n", 1).into_bytes(), "the row has 2 cells"),
        ("header", good.replacen("language", "langauge", 1).into_bytes(), "did you mean `language`?"),
        (
            "latin1",
            [good.as_bytes(), b"caf\xe9,vernacular,fr,pistia-stratiotes,memory\n"].concat(),
            "is not UTF-8 text",
        ),
    ];
    for (name, bytes, says) in cases {
        let folder = folder(&format!("csv-{name}"));
        fs::create_dir_all(&folder).expect("the folder can be made");
        for other in SHIPPED {
            fs::write(folder.join(other), shipped(other)).expect("writable");
        }
        fs::write(folder.join("names.csv"), bytes).expect("writable");
        let run =
            run_own(&self::folder("own-none"), &["catalogue", "check", folder.to_str().expect("UTF-8")]);
        assert!(run.code == 1 || run.code == 2, "{name}: {}", run.code);
        assert!(run.err.contains(says), "{name}: {says} not in\n{}", run.err);
    }
}

#[test]
fn own_plants_are_added_corrected_and_found() {
    let own = folder("own-add");
    let rows = file(
        "own-plants.csv",
        row_like("anubias-barteri-nana", "anubias-barteri-nana-pond", "Anubias barteri var. nana"),
    );
    let text = fs::read_to_string(&rows).expect("just written").replacen(",,", ",Pond,", 1);
    fs::write(&rows, text).expect("writable");
    let added = run_own(&own, &["catalogue", "add", rows.to_str().expect("UTF-8")]);
    assert_eq!(added.code, 0, "{}", added.err);
    let shown = run_own(&own, &["show", "Anubias barteri var. nana 'Pond'"]);
    assert_eq!(shown.code, 0, "{}", shown.err);
    assert!(shown.out.starts_with("Anubias barteri var. nana 'Pond'"), "{}", shown.out);
    // A second file with the same key takes the place of the first.
    let text = fs::read_to_string(&rows).expect("there").replacen(",6,18,70,220,", ",6,18,70,333,", 1);
    fs::write(&rows, text).expect("writable");
    assert_eq!(run_own(&own, &["catalogue", "add", rows.to_str().expect("UTF-8")]).code, 0);
    let shown = run_own(&own, &["show", "Anubias barteri var. nana 'Pond'"]);
    assert!(shown.out.contains("| 333 µmol/m²/s"), "{}", shown.out);
}

#[test]
fn a_bad_row_leaves_everything_as_it_was() {
    let own = folder("own-bad");
    let good = file("own-good.csv", row_like("pistia-stratiotes", "pistia-one", "Pistia stratiotes"));
    let text = fs::read_to_string(&good).expect("just written").replacen(",,", ",One,", 1);
    fs::write(&good, text).expect("writable");
    assert_eq!(run_own(&own, &["catalogue", "add", good.to_str().expect("UTF-8")]).code, 0);
    let before = fs::read_to_string(own.join("plants.csv")).expect("own rows");
    let bad = file(
        "own-bad.csv",
        row_like("pistia-stratiotes", "pistia-two", "Pistia stratiotes").replace("surface", "sky"),
    );
    let run = run_own(&own, &["catalogue", "add", bad.to_str().expect("UTF-8")]);
    assert_eq!(run.code, 2);
    assert!(
        run.err.contains("`sky` is not a value of `footing`") && run.err.contains("own-bad.csv"),
        "{}",
        run.err
    );
    assert_eq!(fs::read_to_string(own.join("plants.csv")).expect("own rows"), before);
    let strange = file("own-strange.csv", "name,price\nx,1\n");
    let run = run_own(&own, &["catalogue", "add", strange.to_str().expect("UTF-8")]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("not that of a catalogue table"), "{}", run.err);
}

#[test]
fn export_writes_the_package_and_never_over_a_full_folder() {
    let target = folder("exported");
    let run = run_own(&folder("own-none"), &["catalogue", "export", target.to_str().expect("UTF-8")]);
    assert_eq!(run.code, 0, "{}", run.err);
    for name in SHIPPED.iter().chain(&["name-decisions.csv", "wgsrpd.csv", "datapackage.json"]) {
        assert_eq!(fs::read_to_string(target.join(name)).expect("exported"), shipped(name), "{name}");
    }
    let again = run_own(&folder("own-none"), &["catalogue", "export", target.to_str().expect("UTF-8")]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("not an empty folder"), "{}", again.err);
}
