//! The exact solver on published knapsack problems with two limits, which are selections without
//! contrast: items are taxa, the limits are the budget and the minutes of trimming.

use quillwort::select::{Candidate, Choice, Outcome, Problem, Rules, Weights, Zone, solve, unlimited};

use crate::rows::{Row, rows};

/// Items a zone may hold.
const IN_ZONE: usize = 7;

fn whole(row: &Row, column: &str) -> i64 {
    row.text(column).parse().expect("a whole number")
}

fn item((n, row): (usize, &Row)) -> Candidate {
    let choice = Choice {
        zone: n / IN_ZONE,
        worth: whole(row, "value"),
        height: 0,
        portions: vec![whole(row, "uses_first")],
        trim: vec![whole(row, "uses_second")],
    };
    Candidate {
        key: format!("item-{:02}", whole(row, "item")),
        genus: n as u32,
        texture: 0,
        colour: 0,
        fast: false,
        price: Some(1),
        water: Vec::new(),
        options: vec![choice],
    }
}

#[test]
fn published_knapsacks_have_the_published_optimum() {
    let items = rows("knapsack");
    let candidates: Vec<Candidate> = items.iter().enumerate().map(item).collect();
    let zones = candidates.len().div_ceil(IN_ZONE);
    for row in rows("knapsack_limits") {
        let problem = Problem {
            zones: (0..zones).map(|n| Zone { name: format!("zone {n}"), least: 0, most: IN_ZONE }).collect(),
            candidates: candidates.clone(),
            weights: Weights { suitability: 1, texture: 0, colour: 0, genus: 0 },
            rules: Rules {
                budget: Some(whole(&row, "first_limit")),
                trim: Some(whole(&row, "second_limit")),
                ..Rules::default()
            },
            ..Problem::default()
        };
        let outcome = solve(&problem, &mut unlimited).expect("no fault");
        let Outcome::Optimal(answer) = outcome else { panic!("{row}: {outcome:?}") };
        assert_eq!(problem.breaches(&answer.chosen), vec![], "{row}");
        assert_eq!(answer.value, whole(&row, "optimum"), "{row}");
    }
}
