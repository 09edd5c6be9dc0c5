//! Times what `fill` does for the demo tanks and for twenty-four varied tanks with the whole shipped
//! catalogue: computing the tank, stating the problem, solving it with proof, the view.
//!
//! `cargo bench --bench fill` prints a table. The tanks are drawn from a fixed seed: 30 to 180 cm,
//! three to eight zones, with and without gas, budgets and trimming tight and loose.
//! `cargo bench --bench fill -- --write FOLDER` also writes each problem as JSON, `--limit SECONDS`
//! is how long each search may take (10).

#[path = "varied.rs"]
mod varied;

use std::ops::ControlFlow;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

use quillwort::answers::{
    FillAsked, Filling, House, LibraryPlace, Names, Prices, compute, read_tank, resolve_wishes,
};
use quillwort::diagnostic::{Document, Findings};
use quillwort::select::{Outcome, Progress};

/// Runs of each part, of which the median is shown.
const RUNS: usize = 5;
const VARIED: u64 = 24;

/// Seconds of one piece of work, the median of a few runs, and what it made.
fn timed<T>(mut work: impl FnMut() -> T) -> (f64, T) {
    let mut times = Vec::new();
    let mut made = None;
    for _ in 0..RUNS {
        let start = Instant::now();
        made = Some(work());
        times.push(start.elapsed().as_secs_f64());
    }
    times.sort_by(f64::total_cmp);
    (times[RUNS / 2], made.expect("it ran"))
}

fn show<T>(result: Result<T, Findings>) -> T {
    result.unwrap_or_else(|findings| panic!("{findings:?}"))
}

/// A watch that ends the search after so long.
fn within(limit: Duration) -> impl FnMut(&Progress) -> ControlFlow<()> {
    let start = Instant::now();
    move |_| if start.elapsed() > limit { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
}

/// What every tank is run with.
struct Setting<'a> {
    house: &'a House,
    names: &'a Names,
    prices: &'a Prices,
    folder: Option<PathBuf>,
    limit: Duration,
}

fn run(name: &str, text: &str, setting: &Setting<'_>) {
    let Setting { house, names, prices, .. } = *setting;
    let document: Arc<Document> = Document::new(name, text);
    let mut notes = Findings::default();
    let spec = show(read_tank(&document, &mut notes));
    let (tank_time, model) = timed(|| show(compute(&spec, house, &mut Findings::default())));
    let wished = show(resolve_wishes(&spec, &[], &[], names));
    let asked = FillAsked { wished: &wished, prices };
    let (state_time, filling) = timed(|| show(Filling::new(&model, house, asked)));
    if let Some(folder) = &setting.folder {
        let text = serde_json::to_string(filling.problem()).expect("a problem is plain data");
        std::fs::write(folder.join(format!("{name}.problem")), text).expect("the folder can be written");
    }
    let (solve_time, outcome) = timed(|| show(filling.solve(&mut within(setting.limit))));
    let (view_time, _) = timed(|| filling.view_within(&outcome, &mut within(setting.limit)));
    let result = match &outcome {
        Outcome::Optimal(a) => format!("optimal {} in {} nodes", a.value, a.nodes),
        Outcome::Impossible { nodes } => format!("impossible in {nodes} nodes"),
        Outcome::Feasible(a) => format!("{} of at most {} in {} nodes", a.value, a.bound, a.nodes),
        Outcome::Unknown { nodes } => format!("nothing in {nodes} nodes"),
    };
    let options: usize = filling.problem().candidates.iter().map(|c| c.options.len()).sum();
    let [a, b, c, d] = [tank_time, state_time, solve_time, view_time].map(|t| t * 1e3);
    println!(
        "{name:22} {:2} zones {options:4} options: tank {a:6.1} state {b:5.1} solve {c:7.1} view {d:7.1} ms  {result}",
        spec.zones.len()
    );
}

fn main() {
    let args: Vec<String> = std::env::args().collect();
    let after = |flag: &str| args.iter().position(|a| a == flag).and_then(|at| args.get(at + 1));
    let limit = after("--limit").map_or(10.0, |seconds| seconds.parse().expect("seconds after --limit"));
    let library = tempfile::tempdir().expect("a folder for the library");
    let place = LibraryPlace { root: library.path().to_owned(), own: None };
    let house = show(House::open(&place, &mut |_| {}));
    let names = show(house.names());
    let list = Document::new("prices", include_str!("../../data/demo/prices-invented.csv"));
    let prices = show(Prices::read(&list, names, &mut Findings::default()));
    let setting = Setting {
        house: &house,
        names,
        prices: &prices,
        folder: after("--write").map(PathBuf::from),
        limit: Duration::from_secs_f64(limit),
    };
    let demos = [
        ("attic-lowtech", include_str!("../../data/demo/attic-lowtech.toml")),
        ("shelf-gassed", include_str!("../../data/demo/shelf-gassed.toml")),
        ("hall-hardwater", include_str!("../../data/demo/hall-hardwater.toml")),
    ];
    for (name, text) in demos {
        run(name, text, &setting);
    }
    for number in 1..=VARIED {
        run(&format!("varied-{number:02}"), &varied::tank(number), &setting);
    }
}
