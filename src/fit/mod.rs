//! Fit: how well a plant suits a zone, what limits it, and by how much. Pure.
//!
//! Each factor gives a suitability from 0 to 1 by the trapezoid of the plant's envelope; they
//! combine by the minimum (Liebig's law, the limiting-factor form of the US Fish and Wildlife
//! Service's habitat suitability manual, 103 ESM, 1981). Light is judged cell by cell.
//! Not here: the tank (`tank`), the choice of a list (`select`), prose (`report`).

mod assess;
mod conditions;
mod factor;
mod light;
mod reason;
mod trapezoid;

pub use assess::{Assessment, Bounds, assess, bounds};
pub use conditions::{Water, ZoneConditions, placement_of};
pub use factor::{Factor, Verdict};
pub use light::{LightLevel, LightShare};
pub use reason::{Edge, Reason, reason};
pub use trapezoid::{suitability, suitability_bounds};
