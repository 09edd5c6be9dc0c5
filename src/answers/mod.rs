//! Answers: one file a question that a person can ask.
//!
//! Each takes the open library ([`House`]) and documents that were read, walks through the rooms
//! and gives back a view of `report`; the command line and the local page both ask here, so that
//! they cannot disagree. What is doubtful but no reason to stop goes into the caller's `notes`.
//! Reads the library and the person's own rows; knows no arguments, no streams, no clock.

mod calendar;
mod check;
mod chosen;
mod compare;
mod dates;
mod draw;
mod fill;
mod find;
mod grow;
mod house;
mod list;
mod names;
mod plan;
mod prices;
mod sheet;
mod show;
mod tank;
mod wishes;

pub mod files;

pub use calendar::{CalendarAsked, calendar};
pub use check::{CheckAsked, check};
pub use chosen::chosen_in;
pub use compare::{Across, compare};
pub use draw::{in_pixels, pictures};
pub use fill::{Choice, Depth, Exported, FillAsked, Filling, reasoned_enough};
pub use find::{FindAsked, find};
pub use grow::grow;
pub use house::{About, Building, House, LibraryPlace, documents, own_documents, shipped};
pub use list::{Listed, Written, names_in, resolve_list};
pub use names::Names;
pub use plan::{PlanAsked, plan};
pub use prices::Prices;
pub use sheet::{SheetAsked, is_of_sheet, sheet};
pub use show::show;
pub use tank::{compute, read_tank};
pub use wishes::{Wished, resolve_wishes};
