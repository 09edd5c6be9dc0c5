//! Rules between taxa by their numbers: heights along lines of sight, and one water for all.

use super::build::{Built, Place};
use super::matrix::{Range, Sense};
use crate::select::problem::{Candidate, SightLine};

/// On each line of sight, `over` is 1 when something nearer is taller than a height of the
/// farther zone; what is only that tall may then not stand there.
pub(super) fn heights(built: &mut Built) {
    for line in &built.problem.sight_lines {
        let (nearer, farther) = (standing(built, line.nearer), standing(built, line.farther));
        let mut levels: Vec<i64> = farther.iter().map(|(height, _)| *height).collect();
        levels.dedup();
        levels.retain(|level| nearer.iter().any(|(height, _)| height > level));
        let over = over(built, *line, &levels);
        for (height, candidate) in nearer {
            let below = levels.partition_point(|level| *level < height);
            if below > 0 {
                bound(built, "near", *line, (line.nearer, candidate), (over[below - 1], -1), 0);
            }
        }
        for (height, candidate) in farther {
            if let Ok(at) = levels.binary_search(&height) {
                bound(built, "far", *line, (line.farther, candidate), (over[at], 1), 1);
            }
        }
    }
}

/// The heights at which candidates may stand in a zone, rising.
fn standing(built: &Built, zone: usize) -> Vec<(i64, usize)> {
    let places = built.places.iter().filter(|p| p.zone == zone);
    let mut heights: Vec<(i64, usize)> =
        places.map(|&p| (built.candidate(p).1.height, p.candidate)).collect();
    heights.sort_unstable();
    heights.dedup();
    heights
}

/// A column for each level; being over a level is being over the lower ones.
fn over(built: &mut Built, line: SightLine, levels: &[i64]) -> Vec<usize> {
    let [near, far] = [line.nearer, line.farther].map(|z| built.problem.zones[z].name.as_str());
    let matrix = &mut built.matrix;
    let column = |level: &i64| matrix.column(&format!("over.{near}.{far}.{level}mm"), Range::Upto(1));
    let over: Vec<usize> = levels.iter().map(column).collect();
    for pair in over.windows(2) {
        matrix.row(&format!("rise.{near}.{far}"), Sense::AtMost, 0, [(pair[1], 1), (pair[0], -1)]);
    }
    over
}

/// A candidate in a zone and one more term, at most `side`.
fn bound(built: &mut Built, kind: &str, line: SightLine, at: (usize, usize), term: (usize, i64), side: i64) {
    let [near, far] = [line.nearer, line.farther].map(|z| built.problem.zones[z].name.as_str());
    let name = format!("{kind}.{near}.{far}.{}", built.problem.candidates[at.1].key);
    let mut terms = built.ones(|p: &Place| (p.zone, p.candidate) == at);
    terms.push(term);
    built.matrix.row(&name, Sense::AtMost, side, terms);
}

/// One value of each water factor at which every chosen taxon grows.
pub(super) fn water(built: &mut Built) {
    let problem = built.problem;
    for (factor, name) in problem.water.iter().enumerate() {
        let ends = |end: usize| problem.candidates.iter().map(move |c: &Candidate| c.water[factor][end]);
        let (Some(lowest), Some(highest)) = (ends(0).min(), ends(1).max()) else { continue };
        let column = built.matrix.column(&format!("water.{name}"), Range::Free);
        for (index, candidate) in problem.candidates.iter().enumerate() {
            let [low, high] = candidate.water[factor];
            let sides = [("from", Sense::AtLeast, lowest, low), ("upto", Sense::AtMost, highest, high)];
            for (kind, sense, widest, own) in sides {
                let places = built.ones(|p| p.candidate == index).into_iter();
                let mut terms: Vec<(usize, i64)> = places.map(|(c, _)| (c, widest - own)).collect();
                terms.push((column, 1));
                built.matrix.row(&format!("{kind}.{name}.{}", candidate.key), sense, widest, terms);
            }
        }
    }
}
