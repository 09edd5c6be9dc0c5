//! Reports: results as plain values ([`view`]), and those values as text, JSON, CSV, SVG, PNG or HTML.
//!
//! A view holds what a command answers, every number with its unit in its name; all formats
//! are made from the view, so they cannot disagree. Not here: computing, files, streams.

pub mod csv;
pub mod html;
pub mod ics;
pub mod json;
pub mod png;
pub mod svg;
pub mod text;
pub mod view;
