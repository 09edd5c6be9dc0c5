//! The one integration-test binary: a module a command or a room, listed here.

mod bad_input;
mod catalogue;
mod cli;
mod fill;
mod find;
mod library;
mod names;
mod program;
mod readme;
mod rooms;
mod rows;
mod search;
mod select;
mod select_instance;
mod select_support;
mod show;
mod tank_audit;
mod tank_carbon;
mod tank_carbon_estimate;
mod tank_geometry;
mod tank_light;
mod tank_light_montecarlo;
mod tank_light_traced;
mod tank_water;
mod units;
