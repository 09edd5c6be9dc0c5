//! Times the exact selection on the instances given as arguments, each with its peak of memory so
//! far: `cargo bench --bench select -- [--limit SECONDS] [--json] FILE…`.
//!
//! `tools/selection_instances.py` writes instances, `tools/solver_compare.py` runs this beside other
//! solvers.

#[path = "../../tests/select_instance.rs"]
mod select_instance;

use std::ops::ControlFlow;
use std::path::Path;
use std::time::{Duration, Instant};

use quillwort::select::{Outcome, solve};

fn main() {
    let mut args = std::env::args().skip(1);
    let (mut limit, mut json, mut files) = (Duration::from_secs(60), false, Vec::new());
    while let Some(arg) = args.next() {
        match arg.as_str() {
            "--bench" => {}
            "--json" => json = true,
            "--limit" => {
                let seconds = args.next().and_then(|s| s.parse().ok()).expect("seconds after --limit");
                limit = Duration::from_secs_f64(seconds);
            }
            _ => files.push(arg),
        }
    }
    for file in files {
        let problem = select_instance::read_instance(Path::new(&file));
        let start = Instant::now();
        let mut watch = |_: &_| {
            if start.elapsed() > limit { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        let outcome = solve(&problem, &mut watch).expect("an instance has no fault");
        let seconds = start.elapsed().as_secs_f64();
        let proof = match &outcome {
            Outcome::Optimal(_) => "optimal",
            Outcome::Impossible { .. } => "impossible",
            Outcome::Feasible(_) | Outcome::Unknown { .. } => "none",
        };
        let (value, bound) = outcome.answer().map_or((None, None), |a| (Some(a.value), Some(a.bound)));
        if json {
            let line =
                serde_json::json!({ "proof": proof, "value": value, "bound": bound, "seconds": seconds });
            println!("{line}");
        } else {
            println!("{file}: {proof} {value:?} of at most {bound:?} in {seconds:.4} s");
        }
    }
}
