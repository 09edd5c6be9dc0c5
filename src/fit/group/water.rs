//! The water in which every plant of a list grows.

use super::Planted;
use crate::catalogue::Plant;
use crate::fit::trapezoid::at_least;
use crate::fit::{Factor, Verdict};
use crate::units::Quantity;

/// The values of one factor at which every plant of the list grows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// Temperature, pH, GH or KH.
    pub factor: Factor,
    /// From here, in the base unit.
    pub lo: f64,
    /// To here; below `lo` when no value suits all.
    pub hi: f64,
    /// The plant that sets the lower end, by index.
    pub needs_most: usize,
    /// The plant that sets the upper end.
    pub bears_least: usize,
    /// The plant without which the window would be widest, and by how much wider; `None` where
    /// no single plant narrows it.
    pub narrowed_by: Option<(usize, f64)>,
}

impl Window {
    /// Whether some value suits all.
    pub fn is_open(&self) -> bool {
        self.lo <= self.hi
    }
}

const FACTORS: [Factor; 4] = [Factor::Temperature, Factor::Ph, Factor::Gh, Factor::Kh];

fn envelope(plant: &Plant, factor: Factor) -> [f64; 4] {
    match factor {
        Factor::Ph => plant.ph.values().map(Quantity::base),
        Factor::Gh => plant.gh.values().map(Quantity::base),
        Factor::Kh => plant.kh.values().map(Quantity::base),
        _ => plant.temperature.values().map(Quantity::base),
    }
}

/// The common windows of a list; none for an empty one.
pub fn windows(list: &[Planted<'_>]) -> Vec<Window> {
    FACTORS.into_iter().filter_map(|factor| window(list, factor)).collect()
}

fn window(list: &[Planted<'_>], factor: Factor) -> Option<Window> {
    let spans: Vec<(f64, f64)> =
        list.iter().map(|p| at_least(envelope(p.plant, factor), Verdict::GROWS)).collect();
    let (needs_most, lo) = highest(spans.iter().map(|s| s.0))?;
    let (bears_least, hi) = highest(spans.iter().map(|s| -s.1)).map(|(i, hi)| (i, -hi))?;
    let without = |out: usize| {
        let rest = || spans.iter().enumerate().filter(move |(i, _)| *i != out).map(|(_, s)| s);
        let (lo, hi) = (highest(rest().map(|s| s.0))?.1, -highest(rest().map(|s| -s.1))?.1);
        Some(hi - lo)
    };
    let widened = (0..list.len()).filter_map(|i| Some((i, without(i)? - (hi - lo))));
    let most = widened.reduce(|a, b| if b.1 > a.1 { b } else { a });
    Some(Window { factor, lo, hi, needs_most, bears_least, narrowed_by: most.filter(|m| m.1 > 1e-9) })
}

/// The first of the highest values, with its index.
fn highest(values: impl Iterator<Item = f64>) -> Option<(usize, f64)> {
    values.enumerate().reduce(|a, b| if b.1 > a.1 { b } else { a })
}
