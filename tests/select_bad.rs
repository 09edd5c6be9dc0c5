//! Problems that are wrong, extreme or very large: clear words, no hang, no overflow.

use std::ops::ControlFlow;

use quillwort::select::{
    Candidate, Choice, Demand, Fault, Group, LARGEST, Outcome, Problem, Rules, Share, SightLine, Zone,
    conflict, faults, model_mps, solve, unlimited,
};

fn zone(name: &str, least: usize, most: usize) -> Zone {
    Zone { name: name.to_owned(), least, most }
}

fn candidate(n: usize, zones: usize) -> Candidate {
    let choice = |zone| Choice {
        zone,
        worth: 500 + (n * 37 % 500) as i64,
        height: (n * 53 % 400) as i64,
        portions: vec![1 + (n % 5) as i64, 1 + (n % 3) as i64, 1],
        trim: vec![(n % 11) as i64],
    };
    Candidate {
        key: format!("taxon-{n:05}"),
        genus: (n % 97) as u32,
        texture: (n % 5) as u8,
        colour: (n % 4) as u8,
        fast: n.is_multiple_of(3),
        price: Some(100 + (n * 71 % 900) as i64),
        water: Vec::new(),
        options: (0..zones).filter(|z| (n + z).is_multiple_of(2)).map(choice).collect(),
    }
}

fn problem(candidates: usize, zones: usize) -> Problem {
    Problem {
        zones: (0..zones).map(|z| zone(&format!("zone {z}"), 1, 3)).collect(),
        neighbours: (1..zones).map(|z| [z - 1, z]).collect(),
        sight_lines: (1..zones).map(|z| SightLine { nearer: z - 1, farther: z }).collect(),
        candidates: (0..candidates).map(|n| candidate(n, zones)).collect(),
        rules: Rules {
            budget: Some(6000),
            trim: Some(60),
            fast: Some(Share { part: 1, whole: 3 }),
            per_genus: Some(2),
            ..Rules::default()
        },
        ..Problem::default()
    }
}

/// Ends a search after so many calls: no clock, the same answer every time.
fn patient(calls: u32) -> impl FnMut(&quillwort::select::Progress) -> ControlFlow<()> {
    let mut left = calls;
    move |_| {
        left = left.saturating_sub(1);
        if left == 0 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }
}

#[test]
fn more_taxa_asked_for_than_there_are_is_impossible_with_the_nearest_count() {
    let mut problem = problem(1, 1);
    problem.zones[0] = zone("front", 3, 4);
    problem.rules = Rules::default();
    assert!(matches!(solve(&problem, &mut unlimited), Ok(Outcome::Impossible { .. })));
    let found = conflict(&problem, &mut unlimited).expect("no fault").expect("a conflict");
    assert_eq!(found.members.len(), 1);
    assert_eq!(found.members[0].demand, Demand::Least(0));
    assert_eq!(found.members[0].way.value, Some(1));
    problem.zones[0] = zone("front", 2, 1);
    assert!(matches!(solve(&problem, &mut unlimited), Ok(Outcome::Impossible { .. })));
    assert!(model_mps(&problem, "narrow").expect("no fault").contains(" L most.front\n"));
}

#[test]
fn a_group_without_a_plant_or_against_itself_is_impossible() {
    for (taxa, least, most) in [(vec![], 1, None), (vec![0, 1, 2], 2, Some(1)), (vec![0], 2, None)] {
        let mut problem = problem(10, 2);
        problem.rules =
            Rules { groups: vec![Group { name: "some".to_owned(), taxa, least, most }], ..Rules::default() };
        assert!(matches!(solve(&problem, &mut unlimited), Ok(Outcome::Impossible { .. })));
        let found = conflict(&problem, &mut unlimited).expect("no fault").expect("a conflict");
        assert_eq!(found.members[0].demand, Demand::GroupLeast(0));
        assert!(found.proven);
    }
}

#[test]
fn a_budget_of_zero_is_a_demand_like_any_other() {
    let mut problem = problem(40, 2);
    problem.rules.budget = Some(0);
    let found = conflict(&problem, &mut unlimited).expect("no fault").expect("a conflict");
    assert!(found.proven);
    let budget = found.members.iter().find(|m| m.demand == Demand::Budget).expect("the budget is in it");
    problem.rules.budget = budget.way.value;
    assert!(matches!(solve(&problem, &mut unlimited), Ok(Outcome::Optimal(_))));
}

#[test]
fn wrong_numbers_are_faults_with_their_place() {
    let mut wrong = problem(3, 2);
    wrong.candidates[0].price = Some(-1);
    wrong.candidates[1].options[0].trim = vec![-5];
    wrong.candidates[2].key = "taxon-00000".to_owned();
    wrong.rules.must = vec![7];
    wrong.rules.budget = Some(-1);
    wrong.zones[1].most = 99;
    let said: Vec<String> = faults(&wrong).iter().map(Fault::to_string).collect();
    for says in [
        "the price of `taxon-00000` is -1; it must lie in 0..",
        "the trimming of `taxon-00001` is -5",
        "candidate `taxon-00000` is given twice",
        "the musts names candidate number 7, but there are only 3",
        "the limit on budget is -1",
        "the most taxa of zone `zone 1` is 99; it must lie in 0..8",
    ] {
        assert!(said.iter().any(|s| s.contains(says)), "{says} in {said:#?}");
    }
    assert!(solve(&wrong, &mut unlimited).is_err());
    assert!(conflict(&wrong, &mut unlimited).is_err());
    assert!(model_mps(&wrong, "wrong").is_err());
}

#[test]
fn the_largest_numbers_do_not_overflow() {
    let mut large = problem(30, 3);
    for candidate in &mut large.candidates {
        candidate.price = Some(LARGEST);
        for option in &mut candidate.options {
            option.worth = 1_000_000;
            option.portions = vec![1];
            option.trim = vec![LARGEST];
        }
    }
    large.weights.suitability = 100_000;
    large.weights.texture = 100_000;
    large.rules.budget = Some(LARGEST * 5);
    large.rules.trim = Some(LARGEST * 4);
    let Ok(Outcome::Optimal(answer)) = solve(&large, &mut unlimited) else { panic!("a list exists") };
    assert_eq!(answer.chosen.len(), 4, "trimming allows four");
    assert_eq!(large.breaches(&answer.chosen), vec![]);
    large.rules.trim = Some(LARGEST - 1);
    let found = conflict(&large, &mut unlimited).expect("no fault").expect("a conflict");
    let trim = found.members.iter().find(|m| m.demand == Demand::Trim).expect("trimming is in it");
    assert!(trim.way.value.is_some_and(|v| v > LARGEST - 1 && v % LARGEST == 0), "{trim:?}");
}

#[test]
fn ten_thousand_candidates_neither_hang_nor_break() {
    let problem = problem(10_000, 4);
    let outcome = solve(&problem, &mut patient(60)).expect("no fault");
    let answer = outcome.answer().expect("a list is found");
    assert_eq!(problem.breaches(&answer.chosen), vec![]);
    assert!(answer.bound >= answer.value);
}
