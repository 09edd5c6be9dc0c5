//! Views as a page for a browser and for paper: one file, no request to anywhere.

mod calendar;
mod sheet;

pub use sheet::{Drawing, Sheet, sheet};
