//! Views as drawings: SVG 1.1, to scale, readable in greys and in print.
//!
//! A page is measured in millimetres, so a drawing printed at its own size has the scale it
//! states. One ink on paper: greys and lines carry the meaning, never a hue.

mod contours;
mod envelope;
mod light_legend;
mod light_map;
mod sheet;
mod writer;

pub use envelope::check;
pub use light_map::light_map;
pub use writer::{Svg, number};
