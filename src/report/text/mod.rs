//! Views as text for people: 80 columns at most, legible without colour.
//!
//! Styles are written as ANSI codes; the stream takes them off where they are not wanted.

mod calendar;
mod catalogue;
mod check;
mod compare;
mod explain;
mod fill;
mod find;
mod group;
mod grow;
mod lines;
mod plan;
mod remedy;
mod show;
mod spark;
mod tank;
mod tank_map;

pub use calendar::calendar;
pub use catalogue::catalogue;
pub use check::{certainty_words, check, patch_words};
pub use compare::compare;
pub use fill::{cannot_be_met, conflict_proof_words, fill, limit_words, proof_words, way_out_words};
pub use find::find;
pub use grow::grow;
pub use lines::Page;
use lines::bullets;
pub use plan::plan;
pub use remedy::change_words;
pub use show::show;
pub use spark::Marks;
pub use tank::{tank, tank_head};
