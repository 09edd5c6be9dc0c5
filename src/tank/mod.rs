//! The tank: its file, its geometry, its light, its carbon and its water. Pure.

pub mod audit;
pub mod carbon;
pub mod file;
pub mod geometry;
pub mod light;
pub mod loads;
pub mod outline;
pub mod salts;
pub mod water;
