//! Views as drawings: SVG 1.1, to scale, readable in greys and in print.
//!
//! A page is measured in millimetres, so a drawing printed at its own size has the scale it
//! states. One ink on paper: greys and lines carry the meaning, never a hue.

mod bands;
mod contours;
mod envelope;
mod face;
mod ink;
mod labels;
mod light_legend;
mod light_map;
mod paint;
mod planting;
mod scatter;
mod sheet;
pub mod silhouette;
mod writer;

pub use bands::{BandShape, band_shapes};
pub use envelope::check;
pub(crate) use face::{ITALIC, REGULAR, lacking};
pub use light_map::light_map;
pub use planting::{front_view, growth_chart, plan_view, specimen_sheet};
pub use writer::{Svg, number};
