//! The tank: its file, its geometry, its light, its carbon and its water. Pure.

pub mod carbon;
pub mod file;
