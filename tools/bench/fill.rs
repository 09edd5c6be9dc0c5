//! Times what `fill` does for the demo tanks and for twenty-four varied tanks with the whole shipped
//! catalogue: computing the tank, stating the problem, solving it with proof, the view.
//!
//! `cargo bench --bench fill` prints a table. The tanks are drawn from a fixed seed: 30 to 180 cm,
//! three to eight zones, with and without gas, budgets and trimming tight and loose.
//! `cargo bench --bench fill -- --write FOLDER` also writes each problem as JSON.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::Instant;

use quillwort::answers::{
    FillAsked, Filling, House, LibraryPlace, Names, Prices, compute, read_tank, resolve_wishes,
};
use quillwort::diagnostic::{Document, Findings};
use quillwort::select::{Outcome, unlimited};

/// Runs of each part, of which the median is shown.
const RUNS: usize = 5;
const VARIED: u64 = 24;

/// Draws from a seed (Marsaglia 2003, xorshift64).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        for shift in [13, -7, 17_i32] {
            self.0 ^= if shift > 0 { self.0 << shift } else { self.0 >> -shift };
        }
        (self.0 >> 16) % n
    }

    fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.below(from.len() as u64) as usize]
    }
}

/// A tank file.
fn tank(number: u64) -> String {
    let mut dice = Dice(number.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    dice.below(1);
    let (length, depth, height) = dice.pick(&[
        (30, 20, 25),
        (45, 27, 30),
        (60, 30, 36),
        (60, 45, 45),
        (90, 45, 45),
        (120, 50, 50),
        (150, 60, 60),
        (180, 60, 60),
    ]);
    let zones = 3 + number % 6;
    let gas = dice.below(2) == 1;
    let area = f64::from(length * depth) / 1e4;
    let flux = area * dice.pick(&[60.0, 100.0, 160.0]) * if gas { 1.8 } else { 1.0 };
    let mut text = format!(
        "name = \"Tank {number}\"\njurisdiction = [\"DE\", \"EU\"]\n\
         [glass]\nlength = \"{length} cm\"\ndepth = \"{depth} cm\"\nheight = \"{height} cm\"\n\
         water = \"{} cm\"\nopen_top = {}\n\
         [bed]\nkind = \"{}\"\nfront = \"4 cm\"\nback = \"7 cm\"\n\
         [light]\nhours = 8\n\
         [[light.lamp]]\nphoton_flux = \"{flux:.1} umol/s\"\nsize = [\"{} cm\", \"10 cm\"]\n\
         above_water = \"8 cm\"\nbeam = \"120 deg\"\nat = [\"{} cm\", \"{} cm\"]\n",
        height - 3,
        dice.below(2) == 1,
        dice.pick(&["sand", "active soil"]),
        length * 4 / 5,
        length / 2,
        depth / 2,
    );
    text += &water(length, gas, &mut dice);
    text += &layout(zones, f64::from(length), f64::from(depth), &mut dice);
    text += &wishes(area, zones, &mut dice);
    text
}

/// Budget, trimming and shares.
fn wishes(area: f64, zones: u64, dice: &mut Dice) -> String {
    let budget = (40.0 + 420.0 * area) * dice.pick(&[0.7, 1.0, 1.6]);
    let mut text = format!(
        "[wishes]\nbudget = \"{budget:.0}\"\ncurrency = \"EUR\"\nprices = \"prices-invented.csv\"\n\
         trim_minutes_per_month = {:.0}\nper_genus = {}\n",
        (30.0 + 90.0 * area.sqrt() + 8.0 * zones as f64) * dice.pick(&[0.7, 1.0, 2.0]),
        1 + dice.below(3)
    );
    if let Some(share) = dice.pick(&[None, Some(30), Some(50)]) {
        text += &format!("fast_share = \"{share} %\"\n");
    }
    text
}

/// Gas, water and filter.
fn water(length: u32, gas: bool, dice: &mut Dice) -> String {
    let mut text = String::new();
    text += if gas {
        "[gas]\ninjection = \"pressurised\"\ntarget = \"15..24 mg/L\"\non_before = \"1 h\"\noff_before = \"1 h\"\n"
    } else {
        "[gas]\ninjection = \"none\"\n"
    };
    let (ph, gh, kh) = dice.pick(&[
        ("6.2..6.6", "4..6", "1..2"),
        ("6.9..7.3", "6..8", "3..5"),
        ("7.4..7.8", "12..15", "8..10"),
    ]);
    let temperature = dice.pick(&["22..24", "23..25", "25..27"]);
    text += &format!(
        "[water]\ntemperature = \"{temperature} degC\"\nph = \"{ph}\"\ngh = \"{gh} dGH\"\nkh = \"{kh} dKH\"\n\
         tint = \"clear\"\nweekly_change = \"40 %\"\n[filter]\nflow = \"{} L/h\"\n",
        length * 10
    );
    text
}

/// A strip of the layout: name, placement, from front to back, whether in halves, most taxa, tallest.
type Strip<'a> = (&'a str, &'a str, [f64; 2], bool, &'a [u64], u64);

/// Hardscape and zones, front to back.
fn layout(zones: u64, length: f64, depth: f64, dice: &mut Dice) -> String {
    let mut text = String::new();
    let outline = |x: [f64; 2], y: [f64; 2]| {
        let corner = |x: f64, y: f64| format!("[\"{:.1} cm\", \"{:.1} cm\"]", x * length, y * depth);
        let corners = [corner(x[0], y[0]), corner(x[1], y[0]), corner(x[1], y[1]), corner(x[0], y[1])];
        format!("outline = [{}]\n", corners.join(", "))
    };
    text += "[[hardscape]]\nname = \"stone\"\nmaterial = \"inert rock\"\n";
    text += &outline([0.4, 0.58], [0.36, 0.62]);
    text += "top = \"14 cm\"\n";
    let mut zone = |name: &str, placement: &str, place: &str, most: &[u64], tallest: u64| {
        let most = dice.pick(most);
        text += &format!(
            "[[zone]]\nname = \"{name}\"\nplacement = \"{placement}\"\n{place}taxa = \"1..{most}\"\n"
        );
        if tallest > 0 {
            text += &format!("tallest = \"{tallest} cm\"\n");
        }
    };
    let (front, middle, back) = ([0.0, 0.3], [0.3, 0.65], [0.65, 1.0]);
    let halves = |name: &str| [(format!("{name} left"), [0.0, 0.39]), (format!("{name} right"), [0.59, 1.0])];
    let strips: [Strip<'_>; 3] = [
        ("front", "foreground", front, zones >= 8, &[2, 3], 12),
        ("middle", "midground", middle, zones >= 4, &[2, 3], 25),
        ("back", "background", back, zones >= 6, &[2, 3, 4], 0),
    ];
    for (name, placement, y, halved, most, tallest) in strips {
        if halved {
            for (name, x) in halves(name) {
                zone(&name, placement, &outline(x, y), most, tallest);
            }
        } else {
            let x = if name == "middle" { [0.0, 0.39] } else { [0.0, 1.0] };
            zone(name, placement, &outline(x, y), most, tallest);
        }
    }
    if zones >= 5 {
        zone("on the stone", "epiphyte", "", &[1, 2, 3], 20);
    }
    if zones >= 7 {
        zone("surface", "floating", "from_left = \"0..20 cm\"\n", &[1, 2], 0);
    }
    text
}

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

fn run(name: &str, text: &str, house: &House, names: &Names, prices: &Prices, folder: Option<&PathBuf>) {
    let document: Arc<Document> = Document::new(name, text);
    let mut notes = Findings::default();
    let spec = show(read_tank(&document, &mut notes));
    let (tank_time, model) = timed(|| show(compute(&spec, house, &mut Findings::default())));
    let wished = show(resolve_wishes(&spec, &[], &[], names));
    let asked = FillAsked { wished: &wished, prices };
    let (state_time, filling) = timed(|| show(Filling::new(&model, house, asked)));
    if let Some(folder) = folder {
        let text = serde_json::to_string(filling.problem()).expect("a problem is plain data");
        std::fs::write(folder.join(format!("{name}.problem")), text).expect("the folder can be written");
    }
    let (solve_time, outcome) = timed(|| show(filling.solve(&mut unlimited)));
    let (view_time, _) = timed(|| filling.view(&outcome));
    let result = match &outcome {
        Outcome::Optimal(a) => format!("optimal {} in {} nodes", a.value, a.nodes),
        Outcome::Impossible { nodes } => format!("impossible in {nodes} nodes"),
        other => format!("{other:?}"),
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
    let folder = args.iter().position(|a| a == "--write").map(|at| PathBuf::from(&args[at + 1]));
    let library = tempfile::tempdir().expect("a folder for the library");
    let place = LibraryPlace { root: library.path().to_owned(), own: None };
    let house = show(House::open(&place, &mut |_| {}));
    let names = show(house.names());
    let list = Document::new("prices", include_str!("../../data/demo/prices-invented.csv"));
    let prices = show(Prices::read(&list, names, &mut Findings::default()));
    let demos = [
        ("attic-lowtech", include_str!("../../data/demo/attic-lowtech.toml")),
        ("shelf-gassed", include_str!("../../data/demo/shelf-gassed.toml")),
        ("hall-hardwater", include_str!("../../data/demo/hall-hardwater.toml")),
    ];
    for (name, text) in demos {
        run(name, text, &house, names, &prices, folder.as_ref());
    }
    for number in 1..=VARIED {
        run(&format!("varied-{number:02}"), &tank(number), &house, names, &prices, folder.as_ref());
    }
}
