//! Quillwort plans a planted freshwater tank: it models the light and the carbon in the
//! water, judges every plant of its catalogue in every zone, and picks the best list.
//!
//! The rooms, in the order data walks through them (an import may only point to the left):
//!
//! ```text
//! units, diagnostic → catalogue, tank → fit → select → planting → report → answers → page → cli
//!                     catalogue → library, search
//! ```
//!
//! `tank`, `fit`, `select` and `planting` are pure: no files, no clock, no printing.
//! `tests/rooms.rs` fails on an import that goes against the arrows.

pub mod answers;
pub mod catalogue;
pub mod cli;
pub mod diagnostic;
pub mod fit;
pub mod library;
pub mod page;
pub mod planting;
pub mod report;
pub mod search;
pub mod select;
pub mod tank;
pub mod units;

/// The name by which support shared with the integration tests knows the crate.
#[cfg(test)]
extern crate self as quillwort;
