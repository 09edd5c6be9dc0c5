//! The answers drawn as HTML, on the server. A drawing shows a view and computes nothing.

pub(super) mod bits;
pub(super) mod catalogue;
pub(super) mod fields;
pub(super) mod frame;
pub(super) mod further;
pub(super) mod later;
pub(super) mod list;
pub(super) mod plan;
pub(super) mod plant;
pub(super) mod sheet;
pub(super) mod strip;
pub(super) mod tank;
