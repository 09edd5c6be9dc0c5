//! Fit: how well a plant suits a zone, what limits it, and by how much. Pure.
//!
//! Each factor gives a suitability from 0 to 1 by the trapezoid of the plant's envelope; they
//! combine by the minimum (Liebig's law, the limiting-factor form of the US Fish and Wildlife
//! Service's habitat suitability manual, 103 ESM, 1981). Light is judged cell by cell.
//! Not here: the tank (`tank`), the choice of a list (`select`), prose (`report`).

mod assess;
mod certainty;
mod conditions;
mod factor;
pub mod group;
mod height;
mod light;
mod measured;
mod patch;
mod reason;
pub mod remedy;
mod spot;
mod substitute;
mod trapezoid;

pub use assess::{Assessment, Bounds, REFERENCE_HOURS, assess, bed_wanted, bounds, level_for, usable_carbon};
pub use certainty::{Certainty, Condition, Dependence, certainty};
pub use conditions::{Water, ZoneConditions, placement_of};
pub use factor::{Factor, Verdict};
pub use height::{Ceiling, room_wanted};
pub use light::{LightLevel, LightShare};
pub use measured::{Measured, light_gain, resolution, with_kit_resolution};
pub use patch::{MISSED, Patch, Side, Wrong, patch};
pub use reason::{Edge, Graded, Reason, graded, reason};
pub use spot::{Spot, best_spot};
pub use substitute::{substitutes, unlikeness};
pub use trapezoid::{suitability, suitability_bounds};
