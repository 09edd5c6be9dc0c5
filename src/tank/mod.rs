//! The tank: its file, its geometry, its light, its carbon and its water. Pure.

pub mod audit;
pub mod carbon;
pub mod file;
pub mod geometry;
mod layout;
pub mod light;
mod lighting;
pub mod loads;
mod model;
pub mod outline;
pub mod salts;
pub mod water;
mod zones;

pub use layout::Ground;
pub use lighting::{LightBasis, LitLamp};
pub use model::{ModelError, TankModel, carbon_of, gas_of, model};
pub use zones::{ZoneLevel, ZoneModel, level_map};
