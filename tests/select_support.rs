//! Random small problems, and a brute force that shares no code with the solver.

use proptest::prelude::*;
use quillwort::select::{Candidate, Choice, Group, Pick, Problem, Rules, Share, SightLine, Weights, Zone};

/// Calls `visit` with every way to plant the candidates that respects the most taxa of a zone.
pub fn every_list(problem: &Problem, visit: &mut impl FnMut(&[Pick])) {
    fn go(problem: &Problem, candidate: usize, picks: &mut Vec<Pick>, visit: &mut impl FnMut(&[Pick])) {
        let Some(next) = problem.candidates.get(candidate) else {
            return visit(picks);
        };
        go(problem, candidate + 1, picks, visit);
        for option in &next.options {
            let zone = option.zone;
            if picks.iter().filter(|p| p.zone == zone).count() < problem.zones[zone].most {
                picks.push(Pick { zone, candidate });
                go(problem, candidate + 1, picks, visit);
                picks.pop();
            }
        }
    }
    go(problem, 0, &mut Vec::new(), visit);
}

/// The best value over every list, by trying them all.
pub fn brute_force(problem: &Problem) -> Option<i64> {
    let mut best = None;
    every_list(problem, &mut |picks| {
        if problem.breaches(picks).is_empty() {
            best = best.max(Some(problem.totals(picks).value));
        }
    });
    best
}

fn zones() -> impl Strategy<Value = Vec<Zone>> {
    let counts = (0..=2usize, 0..=2usize);
    prop::collection::vec(counts, 1..=3).prop_map(|counts| {
        let zone = |(n, (least, more)): (usize, (usize, usize))| Zone {
            name: format!("zone {n}"),
            least,
            most: (least + more).min(3),
        };
        counts.into_iter().enumerate().map(zone).collect()
    })
}

fn candidate(zones: usize) -> impl Strategy<Value = Candidate> {
    let tables = (prop::collection::vec(0..=4i64, 1..=3), prop::collection::vec(0..=9i64, 1..=3));
    let choice = (400..=1000i64, 0..=6i64, tables);
    let options = prop::collection::vec(prop::option::weighted(0.5, choice), zones);
    let classes = (0..4u32, 0..3u8, 0..3u8);
    let traits = (any::<bool>(), prop::option::weighted(0.9, 0..=9i64));
    let water = prop::collection::vec((0..=6i64, 3..=6i64), 2);
    (options, classes, traits, water).prop_map(|(options, classes, traits, water)| Candidate {
        key: String::new(),
        genus: classes.0,
        texture: classes.1,
        colour: classes.2,
        fast: traits.0,
        price: traits.1,
        water: water.into_iter().map(|(low, width)| [low, low + width]).collect(),
        options: options
            .into_iter()
            .enumerate()
            .filter_map(|(zone, o)| {
                o.map(|(worth, height, (portions, trim))| Choice {
                    zone,
                    worth: worth / 50 * 50,
                    height: height * 10,
                    portions,
                    trim,
                })
            })
            .collect(),
    })
}

fn rules(candidates: usize) -> impl Strategy<Value = Rules> {
    let one = move || 0..candidates;
    let share = (0..=3i64, 3..=5i64).prop_map(|(part, whole)| Share { part, whole });
    let group = (prop::collection::btree_set(one(), 1..=3), 0..=2usize, prop::option::of(0..=2usize));
    let group = group.prop_map(|(taxa, least, most)| Group {
        name: "some".to_owned(),
        taxa: taxa.into_iter().collect(),
        least: least.min(1),
        most: most.map(|m| m.max(1)),
    });
    let limits = (
        prop::option::weighted(0.7, 0..=60i64),
        prop::option::weighted(0.7, 0..=40i64),
        prop::option::weighted(0.5, share),
        prop::option::weighted(0.5, 1..=2usize),
        prop::option::weighted(0.3, 1..=6usize),
    );
    let lists = (
        prop::collection::vec(one(), 0..=1),
        prop::collection::vec(one(), 0..=1),
        prop::collection::vec(one(), 0..=1),
        prop::collection::vec((one(), one()), 0..=2),
        prop::collection::vec(group, 0..=1),
    );
    (limits, lists).prop_map(|(limits, (must, never, foreign, excluded, groups))| {
        let (budget, trim, fast, per_genus, taxa) = limits;
        Rules {
            budget,
            trim,
            fast,
            per_genus,
            taxa,
            must,
            never,
            foreign,
            excluded: excluded.into_iter().filter(|(a, b)| a != b).map(|(a, b)| [a, b]).collect(),
            groups,
        }
    })
}

/// Random problems small enough for brute force, with every kind of rule, about half possible.
pub fn small_problem() -> impl Strategy<Value = Problem> {
    let sized = (zones(), 3..=8usize);
    let parts = sized.prop_flat_map(|(zones, n)| {
        let pairs = zones.len() * (zones.len() - 1) / 2;
        (
            prop::collection::vec(candidate(zones.len()), n),
            prop::collection::vec((any::<bool>(), 0..3u8), pairs),
            rules(n),
            (0..=50i64, 0..=50i64, 0..=90i64),
            any::<bool>(),
            Just(zones),
        )
    });
    parts.prop_map(|(mut candidates, pairs, rules, weights, water, zones)| {
        let ends = (0..zones.len()).flat_map(|b| (0..b).map(move |a| (a, b)));
        let mut neighbours = Vec::new();
        let mut sight_lines = Vec::new();
        for ((a, b), (touch, sight)) in ends.zip(pairs) {
            if touch {
                neighbours.push([a, b]);
            }
            match sight {
                1 => sight_lines.push(SightLine { nearer: a, farther: b }),
                2 => sight_lines.push(SightLine { nearer: b, farther: a }),
                _ => {}
            }
        }
        for (n, candidate) in candidates.iter_mut().enumerate() {
            candidate.key = format!("taxon-{}", (n * 5) % 11);
            if !water {
                candidate.water.clear();
            }
        }
        Problem {
            zones,
            neighbours,
            sight_lines,
            water: if water { vec!["temperature".to_owned(), "pH".to_owned()] } else { Vec::new() },
            candidates,
            weights: Weights { suitability: 1, texture: weights.0, colour: weights.1, genus: weights.2 },
            rules,
        }
    })
}

/// As [`small_problem`], but every zone asks for a taxon and limits are tight, so that several
/// demands often clash.
pub fn tight_problem() -> impl Strategy<Value = Problem> {
    (small_problem(), 0..=30i64, 0..=20i64).prop_map(|(mut problem, budget, trim)| {
        for zone in &mut problem.zones {
            zone.most = zone.most.max(1);
            zone.least = zone.least.clamp(1, 2).min(zone.most);
        }
        problem.rules.budget = Some(budget);
        problem.rules.trim = Some(trim);
        problem.rules.must.truncate(1);
        problem
    })
}
