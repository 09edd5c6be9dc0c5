//! From a list to a planted tank: who stands where, how many pieces, how many portions.
//!
//! [`plant_out`] splits the ground of every zone among its taxa into drifts, each one contiguous
//! patch of its share of the area, and sets places on a hexagonal lattice inside each drift.
//! [`growth`] follows how they grow in, [`calendar`] says what to do when.
//! Pure: no files, no clock, no printing. Not here: what suits a plant (`fit`), which plants are
//! chosen (`select`), drawing (`report`).

mod arrange;
mod balance;
mod banded;
mod border;
mod density;
mod foot;
mod ground;
mod places;
mod plan;
mod potential;
mod shore;
mod split;
mod zone;

pub mod calendar;
pub mod growth;

pub use density::Density;
pub use foot::hardscape_top;
pub use places::lattice;
pub use plan::{Chosen, Drift, Place, Planting, PlantingError, Remark, Ring, plant_out};
