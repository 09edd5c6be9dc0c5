//! Views as SVG drawings.

mod envelope;
mod sheet;

pub use envelope::check;
