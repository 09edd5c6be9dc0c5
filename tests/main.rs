//! The one integration-test binary: a module a command or a room, listed here.

mod rooms;
mod select;
mod select_support;
