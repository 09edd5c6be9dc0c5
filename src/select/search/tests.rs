//! The search against brute force when it is so impatient that every way of closing a node is
//! taken: tuned prices, narrowed gaps, splits.

use proptest::prelude::*;

use super::{Goal, Patience, search};
use crate::select::model::Model;
use crate::select::{Weights, unlimited};

#[path = "../../../tests/select_instance.rs"]
mod select_instance;
#[path = "../../../tests/select_support.rs"]
#[allow(dead_code)]
mod select_support;

use select_instance::read_instance;
use select_support::{brute_force, small_problem};

proptest! {
    #![proptest_config(ProptestConfig { cases: 250, ..ProptestConfig::default() })]

    #[test]
    fn impatience_changes_no_answer(
        given in small_problem(),
        longest_list in 1..40usize,
        steps in 0..60u64,
        large in any::<bool>(),
    ) {
        let mut problem = given;
        if large {
            // So large that pairs count in coarser units.
            let w = problem.weights;
            let [suitability, texture, colour, genus] =
                [w.suitability, w.texture, w.colour, w.genus].map(|weight| weight * 997);
            problem.weights = Weights { suitability, texture, colour, genus };
        }
        let patience = Patience { longest_list, first_steps: steps / 4, join_steps: steps };
        let model = Model::new(&problem);
        let found = search(&model, &Goal { patience, ..Goal::default() }, &mut unlimited);
        prop_assert!(found.finished);
        prop_assert_eq!(found.best.map(|(value, _)| value), brute_force(&problem));
    }
}

/// Optima of the synthetic instances as `tests/select.rs` has them, however long lists may be and
/// joins may take before a node is split.
#[test]
fn impatience_changes_no_optimum_of_the_instances() {
    let patiences = [(5_000, 0, 1_000_000), (1_200, 0, 1_000_000), (400, 0, 4_000)];
    for (name, best) in
        [("s60_0", 9634), ("s60_1", 7202), ("s60_2", 8625), ("m200_0", 15283), ("l500_1", 14592)]
    {
        let file = format!("{}/tests/reference/selection/{name}.json", env!("CARGO_MANIFEST_DIR"));
        let model = Model::new(&read_instance(std::path::Path::new(&file)));
        for (longest_list, first_steps, join_steps) in patiences {
            let patience = Patience { longest_list, first_steps, join_steps };
            let found = search(&model, &Goal { patience, ..Goal::default() }, &mut unlimited);
            assert!(found.finished, "{name} {patience:?}");
            assert_eq!(found.best.map(|(value, _)| value), Some(best), "{name} {patience:?}");
        }
    }
}
