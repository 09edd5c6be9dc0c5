//! The problem as a mixed-integer programme in free MPS, so that any other solver can be given
//! exactly the same problem, and the chosen list as values of its columns.
//!
//! Nothing of our own search is in it: pairs that contrast are counted by class and size, and
//! products of counts are linearised exactly. `x.ZONE.TAXON` is 1 when the taxon stands in the
//! zone; where cost or trimming depend on how many taxa share the zone, `x.ZONE.TAXON.ofN` says
//! that it stands there as one of N.

mod build;
mod contrast;
mod matrix;
mod mps;
mod order;

use super::fault::{Fault, faults};
use super::judge::Pick;
use super::outcome::Outcome;
use super::problem::Problem;

/// The problem in free MPS; what it minimises is the negative of a list's value.
///
/// # Errors
/// Every fault of a problem that cannot be read as one.
pub fn model_mps(problem: &Problem, title: &str) -> Result<String, Vec<Fault>> {
    let faults = faults(problem);
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(mps::mps(&build::Built::new(problem).matrix, title))
}

/// The answer as text: lines of `#` and a word with its value (`status`, `value`, `bound`), then
/// one line for each `x` column of [`model_mps`] that is 1, `NAME 1`; all other `x` are 0.
///
/// # Errors
/// Every fault of a problem that cannot be read as one.
pub fn solution_text(problem: &Problem, outcome: &Outcome, title: &str) -> Result<String, Vec<Fault>> {
    let faults = faults(problem);
    if !faults.is_empty() {
        return Err(faults);
    }
    let title: String = title.chars().filter(|c| !c.is_control()).collect();
    let mut text = format!("# {title}: a selection of plants\n# status {}\n", status(outcome));
    let Some(answer) = outcome.answer() else { return Ok(text) };
    text.push_str(&format!("# value {}\n# bound {}\n", answer.value, answer.bound));
    let built = build::Built::new(problem);
    let picks = &answer.chosen;
    let column = |pick: &Pick| {
        let count = picks.iter().filter(|p| p.zone == pick.zone).count();
        built.column(*pick, count)
    };
    for column in picks.iter().filter_map(column) {
        text.push_str(&format!("{} 1\n", built.matrix.columns[column].name));
    }
    Ok(text)
}

/// The word for an outcome.
pub fn status(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::Optimal(_) => "optimal",
        Outcome::Feasible(_) => "feasible",
        Outcome::Unknown { .. } => "unknown",
        Outcome::Impossible { .. } => "impossible",
    }
}
