//! The exact solver against brute force and the known optima of the synthetic instances.

use std::path::Path;

use proptest::prelude::*;
use quillwort::select::{Outcome, Problem, solve, unlimited};

use crate::select_instance::read_instance;
use crate::select_support::{brute_force, small_problem};

/// A carried instance.
pub fn instance(name: &str) -> Problem {
    let folder = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/selection"));
    read_instance(&folder.join(format!("{name}.json")))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, ..ProptestConfig::default() })]

    #[test]
    fn the_optimum_equals_brute_force(problem in small_problem()) {
        let outcome = solve(&problem, &mut unlimited).expect("a small problem has no fault");
        match (brute_force(&problem), outcome) {
            (None, Outcome::Impossible { .. }) => {}
            (Some(best), Outcome::Optimal(answer)) => {
                prop_assert_eq!(answer.value, best);
                prop_assert_eq!(answer.bound, best);
                prop_assert_eq!(problem.breaches(&answer.chosen), vec![]);
                prop_assert_eq!(problem.totals(&answer.chosen).value, best);
            }
            (best, outcome) => prop_assert!(false, "brute force {best:?}, solver {outcome:?}"),
        }
    }
}

/// Optima that brute force (of `tiny`), HiGHS and CP-SAT agree on; the instances are invented
/// numbers.
#[test]
fn known_optima_are_found_and_proven() {
    for (name, best) in [
        ("tiny_0", 3503),
        ("tiny_1", 3805),
        ("tiny_2", 3566),
        ("s60_0", 9634),
        ("s60_1", 7202),
        ("s60_2", 8625),
        ("m200_0", 15283),
        ("m200_1", 14055),
        ("m200_2", 14988),
        ("l500_0", 15374),
        ("l500_1", 14592),
    ] {
        let outcome = solve(&instance(name), &mut unlimited).expect("the instance has no fault");
        let Outcome::Optimal(answer) = outcome else { panic!("{name}: {outcome:?}") };
        assert_eq!(answer.value, best, "{name}");
    }
}

#[test]
fn impossible_instances_are_refuted() {
    for name in ["inf_0", "inf_2"] {
        let outcome = solve(&instance(name), &mut unlimited).expect("the instance has no fault");
        assert!(matches!(outcome, Outcome::Impossible { .. }), "{name}: {outcome:?}");
    }
}
