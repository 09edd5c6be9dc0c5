//! The one integration-test binary: a module a command or a room, listed here.

// Where a result is exact, the tests ask for it exactly.
#![allow(clippy::float_cmp)]

mod bad_input;
mod calendar;
mod catalogue;
mod check;
mod cli;
mod compare;
mod fill;
mod find;
mod fit_bounds;
mod fit_group;
mod fit_remedy;
mod fit_suitability;
mod fit_support;
mod fit_trade;
mod grow;
mod library;
mod mended;
mod names;
mod page_api;
mod page_desk;
mod page_guard;
mod page_support;
mod planting_calendar;
mod planting_growth;
mod program;
mod read_as;
mod readme;
mod rooms;
mod rows;
mod schema;
mod search;
mod select;
mod select_export;
mod select_instance;
mod select_lists;
mod select_published;
mod select_support;
mod show;
mod tank;
mod tank_audit;
mod tank_carbon;
mod tank_carbon_bounds;
mod tank_carbon_estimate;
mod tank_drawing;
mod tank_geometry;
mod tank_light;
mod tank_light_laws;
mod tank_light_montecarlo;
mod tank_light_readings;
mod tank_light_traced;
mod tank_readings;
mod tank_water;
mod units;
