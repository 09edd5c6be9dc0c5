//! Times the exact selection on instances given as arguments: `cargo bench --bench select -- FILE…`.

#[path = "../../tests/select_instance.rs"]
mod select_instance;

use std::time::Instant;

fn main() {
    for name in std::env::args().skip(1).filter(|a| !a.starts_with('-')) {
        let problem = select_instance::read_instance(std::path::Path::new(&name));
        let start = Instant::now();
        let outcome = quillwort::select::solve(&problem, &mut quillwort::select::unlimited);
        let time = start.elapsed();
        let outcome = outcome.expect("sound");
        println!("{name}: {:?} {:?}", outcome.answer().map(|a| (a.value, a.bound, a.nodes)), time);
    }
}
