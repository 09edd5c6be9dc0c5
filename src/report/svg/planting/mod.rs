//! Drawings of a planted tank: the plan and the front view, to scale, on pages of one width.
//!
//! Pages are in mm and 279 wide, so that A4 and US letter on their side both take them. A drift has
//! one number in all drawings; hatch, form and number tell drifts apart where colour does not.

mod front;
mod growth;
mod hardscape;
mod hatch;
mod key;
mod lines;
mod marks;
mod names;
mod pieces;
mod plan;
#[cfg(test)]
mod sample;
mod scenery;
mod specimen;
mod stage;

use super::silhouette::Step;
pub use front::front_view;
pub use growth::growth_chart;
pub use plan::plan_view;
pub use specimen::specimen_sheet;
