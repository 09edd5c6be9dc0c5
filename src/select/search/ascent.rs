//! Finds good prices: subgradient steps of Polyak length along an averaged direction
//! (Camerini, Fratta and Maffioli 1975).
//!
//! Steps are taken in floating point, prices are rounded to whole numbers, and every bound is
//! computed exactly from those, so rounding costs a little tightness and never validity.

use super::direction::Direction;
use super::prices::{Prices, UNIT};
use super::relax::{Evaluation, Relaxation};
use super::rows::Rows;
use super::scope::Scope;
use super::usage::Usage;

const SHORTEN: f64 = 0.7;
/// Progress worth the name, as a share of the distance to the target.
const PROGRESS: f64 = 0.01;
/// Length at which the steps have died out.
const SHORTEST: f64 = 0.02;

/// When an ascent ends.
#[derive(Debug, Clone, Copy)]
pub(super) struct Effort {
    pub steps: u32,
    /// Value in units that the bound should fall below; then the scope is closed.
    pub floor: Option<i64>,
    /// How far below the floor to aim, in points.
    pub beyond: f64,
    pub stride: Stride,
}

/// How long steps are.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stride {
    /// Of the first steps, as a share of what would reach the target.
    pub first: f64,
    /// Steps without progress before they shorten.
    pub patience: u32,
}

/// The lowest bound met and the prices that gave it.
#[derive(Debug, Clone)]
pub(super) struct Ascended {
    pub evaluation: Evaluation,
    pub prices: Prices,
    /// Lowest bound met for each slice of the scope.
    pub by_slice: Vec<i64>,
    /// What the sets met on the way hold.
    pub usage: Usage,
}

/// Lowers the bound of a scope from `start`; `None` when the scope holds no list.
pub(super) fn ascend(
    relaxation: &mut Relaxation,
    scope: &Scope,
    rows: &mut Rows,
    start: &Prices,
    effort: Effort,
) -> Option<Ascended> {
    let mut prices = start.clone();
    prices.rows.resize(rows.list.len(), 0);
    let mut evaluation = relaxation.evaluate(scope, &prices, &rows.list, None)?;
    let mut best = Ascended {
        by_slice: evaluation.by_slice.clone(),
        evaluation: evaluation.clone(),
        prices: prices.clone(),
        usage: Usage::of(relaxation.model, &evaluation.sets),
    };
    // Without a list in hand the target is a guess below the best bound.
    let mut guess = 0.06 * evaluation.bound.abs() as f64 + 50.0 * UNIT as f64;
    let mut direction = Direction::default();
    let (mut length, mut idle) = (effort.stride.first, 0);
    for _ in 0..effort.steps {
        if effort.floor.is_some_and(|floor| best.by_slice.iter().all(|&b| b < floor)) || length < SHORTEST {
            break;
        }
        let target = effort.floor.map_or(best.evaluation.bound as f64 - guess, |floor| floor as f64);
        let distance = (evaluation.bound as f64 - target) / UNIT as f64 + effort.beyond;
        direction.turn(relaxation, scope, rows, &mut prices, &evaluation);
        let norm = direction.norm();
        if norm < 1e-9 {
            break;
        }
        direction.walk(relaxation, rows, &mut prices, length * distance / norm);
        evaluation = relaxation.evaluate(scope, &prices, &rows.list, Some(&evaluation.sets))?;
        best.usage.meet(&evaluation.sets);
        for (new, old) in best.by_slice.iter_mut().zip(&evaluation.by_slice) {
            *new = (*new).min(*old);
        }
        let gain = (best.evaluation.bound - evaluation.bound) as f64 / UNIT as f64;
        if gain > PROGRESS * distance {
            idle = 0;
        } else {
            idle += 1;
        }
        if idle > effort.stride.patience {
            (length, guess, idle) = (length * SHORTEN, guess * SHORTEN, 0);
        }
        if gain > 0.0 {
            best.evaluation = evaluation.clone();
            best.prices = prices.clone();
        }
    }
    Some(best)
}
