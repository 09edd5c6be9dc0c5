//! The search against brute force when it is so impatient that every way of closing a node is
//! taken: tuned prices, narrowed gaps, splits.

use proptest::prelude::*;

use super::{Goal, Patience, search};
use crate::select::model::Model;
use crate::select::{Weights, unlimited};

#[path = "../../../tests/select_support.rs"]
#[allow(dead_code)]
mod select_support;

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
