//! The arguments as typed. Each command turns its own into settings before it works.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use super::demands::DemandArgs;
use crate::planting::calendar::MOST_WEEKS as CALENDAR_WEEKS;
use crate::planting::growth::MOST_WEEKS as GROWTH_WEEKS;
use crate::units::{Length, Quantity, UnitSystem, parse_quantity};

/// Plan a planted freshwater tank: light, carbon, limits, and the best list with proof.
#[derive(Debug, Parser)]
#[command(name = "quillwort", version, propagate_version = true, arg_required_else_help = true)]
#[command(after_help = "Exit code: 0 yes or done, 1 the answer is no, 2 usage or input error.")]
pub(super) struct Cli {
    #[command(flatten)]
    pub global: Global,
    #[command(subcommand)]
    pub command: Command,
}

/// Options that every command takes.
#[derive(Debug, Args)]
pub(super) struct Global {
    /// How results are written
    #[arg(long, global = true, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Folder for the derived library [default: the platform's cache folder]
    #[arg(long, global = true, value_name = "DIR")]
    pub library: Option<PathBuf>,
    /// Folder with your own rows of the catalogue [default: the platform's data folder]
    #[arg(long, global = true, value_name = "DIR")]
    pub own: Option<PathBuf>,
    /// When to use colour
    #[arg(long, global = true, value_enum, default_value_t = ColorWhen::Auto)]
    pub color: ColorWhen,
    /// Units in text output
    #[arg(long, global = true, value_enum, default_value_t = Units::Metric)]
    pub units: Units,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For people
    Text,
    /// For programs; every number with its unit in the key
    Json,
    /// A table for spreadsheets
    Csv,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum ColorWhen {
    /// On a terminal
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// cm, L, kg, °C
    Metric,
    /// in, US gal, lb, °F
    Us,
}

impl Units {
    pub fn system(self) -> UnitSystem {
        match self {
            Self::Metric => UnitSystem::Metric,
            Self::Us => UnitSystem::Us,
        }
    }
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Choose the best plants for every zone of a tank
    Fill(Box<FillArgs>),
    /// Look for plants by words, facets and ranges
    Find(FindArgs),
    /// Show all that is known of one plant
    Show(ShowArgs),
    /// Show the light, carbon, water and loads of a tank
    Tank(TankArgs),
    /// Check a wish list against a tank
    Check(CheckArgs),
    /// Compare plants side by side against a tank, or several tanks for one plant
    Compare(CompareArgs),
    /// Plan the planting: who stands where, how many portions, what to buy
    Plan(PlanArgs),
    /// Show how a planted tank grows in: cover, height and shade, week by week
    Grow(GrowArgs),
    /// Say what to do when, from the first fill to the settled tank
    Calendar(CalendarArgs),
    /// Do all of this in a browser: a page on this machine, for nobody else
    Serve(ServeArgs),
    /// Look after the catalogue
    Catalogue(CatalogueArgs),
    /// Print the JSON Schema of what a command answers
    Schema(SchemaArgs),
    /// Print a completion script for a shell
    Completions(CompletionsArgs),
    /// Print the manual page
    Man,
}

#[derive(Debug, Args)]
pub(super) struct FillArgs {
    /// The tank file
    pub tank: PathBuf,
    /// A price list (CSV: name,price), instead of the one the tank file names
    #[arg(long, value_name = "FILE")]
    pub prices: Option<PathBuf>,
    /// Plants that must be on the list, besides those of the tank file
    #[arg(long, value_name = "NAME")]
    pub keep: Vec<String>,
    /// Plants that must not be on the list, besides those of the tank file
    #[arg(long, value_name = "NAME")]
    pub without: Vec<String>,
    #[command(flatten)]
    pub demands: DemandArgs,
    #[command(flatten)]
    pub further: FurtherArgs,
    /// Seconds to search at most
    #[arg(long, value_name = "SECONDS", default_value_t = 10.0)]
    pub time_limit: f64,
}

/// What `fill` is asked beyond the one best list.
#[derive(Debug, Args)]
#[command(next_help_heading = "Beyond the best list")]
pub(super) struct FurtherArgs {
    /// Show so many next best lists
    #[arg(long, value_name = "COUNT", default_value_t = 0)]
    pub alternatives: usize,
    /// Taxa of every better list that a next best one must do without
    #[arg(long, value_name = "COUNT", default_value_t = 2, value_parser = one_or_more)]
    pub differ: usize,
    /// Start from a list (a name, a file with one name a line, or `-`) and change as little as it takes
    #[arg(long, value_name = "LIST")]
    pub near: Vec<String>,
    /// Allow so many changes to the list given by --near
    #[arg(long, value_name = "COUNT", requires = "near")]
    pub changes: Option<usize>,
    /// Say what 10 more of money, 30 more minutes of trimming, or gas would buy
    #[arg(long)]
    pub what_if: bool,
    /// Say for every zone why the next plant was not chosen, and whether its count keeps a better list away
    #[arg(long)]
    pub why: bool,
    /// Write the problem as a model for other solvers (free MPS)
    #[arg(long, value_name = "FILE")]
    pub write_model: Option<PathBuf>,
    /// Write the list as values of the columns of that model
    #[arg(long, value_name = "FILE")]
    pub write_solution: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct FindArgs {
    /// Words: names, families, looks ("red stem low light")
    pub words: Vec<String>,
    /// Place in the layout: foreground, midground, background, epiphyte, floating
    #[arg(long, value_name = "WORD")]
    pub placement: Vec<String>,
    /// Habit: stem, rosette, moss, fern …
    #[arg(long = "form", value_name = "WORD")]
    pub form: Vec<String>,
    /// Need of light: shade, half shade, bright, full
    #[arg(long, value_name = "WORD")]
    pub light: Vec<String>,
    /// Need of gas: none (grows well without), helped, needed
    #[arg(long, value_name = "WORD")]
    pub gas: Vec<String>,
    /// Native area, by WGSRPD code or name
    #[arg(long, value_name = "AREA")]
    pub native: Vec<String>,
    /// Leave out plants that a law carried here restricts in this place (EU, DE, US-CA …)
    #[arg(long, value_name = "PLACE")]
    pub jurisdiction: Vec<String>,
    /// Any other facet, FACET=VALUE (the output names them)
    #[arg(long = "facet", value_name = "FACET=VALUE")]
    pub facet: Vec<String>,
    /// A range that must suit the plant, such as `gh=12..18`: height (cm), ppfd, temperature, ph, gh, kh
    #[arg(long = "range", value_name = "NAME=A..B")]
    pub range: Vec<String>,
    /// How many to show
    #[arg(long, default_value_t = 20)]
    pub limit: usize,
    /// How many to pass over first
    #[arg(long, default_value_t = 0)]
    pub offset: usize,
}

#[derive(Debug, Args)]
pub(super) struct ShowArgs {
    /// The plant, by any of its names
    #[arg(required = true)]
    pub name: Vec<String>,
}

#[derive(Debug, Args)]
pub(super) struct TankArgs {
    /// The tank file
    pub tank: PathBuf,
    /// Write a to-scale light map with lines of equal light
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Size of a cell of the light map
    #[arg(long, value_name = "LENGTH", default_value = "1 cm", value_parser = map_cell)]
    pub map_cell: Length,
}

#[derive(Debug, Args)]
pub(super) struct CheckArgs {
    /// The tank file
    pub tank: PathBuf,
    /// Plants, or files with one name a line (`#` begins a comment), or `-` for stdin
    #[arg(required_unless_present = "explain", value_name = "WISHES")]
    pub wishes: Vec<String>,
    /// Show the full reasoning about one plant: every number and where it comes from
    #[arg(long, value_name = "NAME")]
    pub explain: Option<String>,
    /// Write a chart of every plant's envelopes against the tank
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Add every number the verdicts were computed from to the JSON
    #[arg(long)]
    pub inputs: bool,
}

#[derive(Debug, Args)]
pub(super) struct CompareArgs {
    /// A tank file and plants; with --plant, tank files
    #[arg(required = true, value_name = "TANK PLANTS")]
    pub things: Vec<String>,
    /// Compare tanks for this plant
    #[arg(long, value_name = "NAME")]
    pub plant: Option<String>,
    /// Compare in this zone instead of the one that suits best
    #[arg(long, value_name = "NAME")]
    pub zone: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct PlanArgs {
    /// The tank file
    pub tank: PathBuf,
    /// What is planted, one name a line, `NAME @ ZONE = 40 %` to choose zone and share [default: the list of `fill`]
    #[arg(long, value_name = "FILE")]
    pub list: Option<PathBuf>,
    /// A price list (CSV: name,price), instead of the one the tank file names
    #[arg(long, value_name = "FILE")]
    pub prices: Option<PathBuf>,
    /// How close the pieces stand: dense is the spacing of the catalogue, usual 1.25 ×, sparse 1.6 × of it
    #[arg(long, value_enum, default_value_t = DensityArg::Dense)]
    pub density: DensityArg,
    /// Draw the plan from above to FILE, and from the front to a file beside it
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// The same as pixels
    #[arg(long, value_name = "FILE")]
    pub png: Option<PathBuf>,
    /// Weeks after planting to draw, such as 0,4,12; later ones go to files with the week in their name
    #[arg(long, value_name = "WEEKS", value_delimiter = ',', value_parser = clap::value_parser!(u32).range(0..=i64::from(GROWTH_WEEKS)))]
    pub weeks: Vec<u32>,
    /// Draw lines of equal light on the plan
    #[arg(long)]
    pub light: bool,
    /// Write a project sheet: a new folder with page, drawings, lists, growth and calendar
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Put the new project sheet in the place of an old one
    #[arg(long, requires = "out")]
    pub force: bool,
    /// The day of filling and planting, YYYY-MM-DD, for a calendar in the project sheet
    #[arg(long, value_name = "DATE", requires = "out")]
    pub start: Option<String>,
}

/// How close pieces stand, as typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum DensityArg {
    Sparse,
    Usual,
    Dense,
}

#[derive(Debug, Args)]
pub(super) struct GrowArgs {
    /// The tank file
    pub tank: PathBuf,
    /// What is planted, one name a line, `NAME @ ZONE` to choose the zone [default: the list of `fill`]
    #[arg(long, value_name = "FILE")]
    pub list: Option<PathBuf>,
    /// How many weeks
    #[arg(long, default_value_t = 12, value_parser = clap::value_parser!(u32).range(1..=i64::from(GROWTH_WEEKS)))]
    pub weeks: u32,
    /// Draw cover and height of each drift as an SVG file
    #[arg(long, value_name = "PATH")]
    pub svg: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct CalendarArgs {
    /// The tank file
    pub tank: PathBuf,
    /// The day of filling and planting, YYYY-MM-DD; nothing here goes by today's date
    #[arg(long, value_name = "DATE")]
    pub start: String,
    /// Time zone of the tank, such as Europe/Berlin [default: local time wherever the calendar is read]
    #[arg(long, value_name = "NAME")]
    pub zone: Option<String>,
    /// When the light comes on
    #[arg(long, value_name = "HH:MM", default_value = "12:00")]
    pub lights_on: String,
    /// How many weeks
    #[arg(long, default_value_t = 12, value_parser = clap::value_parser!(u32).range(1..=i64::from(CALENDAR_WEEKS)))]
    pub weeks: u32,
    /// Write a file for calendar programs (iCalendar, RFC 5545)
    #[arg(long, value_name = "FILE")]
    pub ics: Option<PathBuf>,
    /// Let the calendar program remind you on the morning of each day of care
    #[arg(long, requires = "ics")]
    pub alarms: bool,
    /// What is planted, one name a line, `NAME @ ZONE` to choose the zone [default: the list of `fill`]
    #[arg(long, value_name = "FILE")]
    pub list: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct ServeArgs {
    /// The tank file; without one, a new tank that can be downloaded
    pub tank: Option<PathBuf>,
    /// The port on this machine; 0 takes any free one
    #[arg(long, default_value_t = 4784)]
    pub port: u16,
    /// Open the page in the browser
    #[arg(long)]
    pub open: bool,
}

#[derive(Debug, Args)]
pub(super) struct CatalogueArgs {
    #[command(subcommand)]
    pub command: CatalogueCommand,
}

#[derive(Debug, Subcommand)]
pub(super) enum CatalogueCommand {
    /// Check the data files: the shipped ones, or those of a folder
    Check {
        /// A folder with plants.csv, names.csv and the others
        folder: Option<PathBuf>,
    },
    /// Add rows of your own, or corrections of ours, from CSV files with our columns
    Add {
        /// The files; each is known by its header
        #[arg(required = true)]
        files: Vec<PathBuf>,
    },
    /// Write the catalogue, your own rows included, as a Frictionless data package
    Export {
        /// A new or empty folder
        folder: PathBuf,
    },
}

#[derive(Debug, Args)]
pub(super) struct SchemaArgs {
    /// The command whose answer is described
    #[arg(value_enum)]
    pub name: SchemaName,
}

/// The commands that answer in JSON.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum SchemaName {
    Fill,
    Find,
    Show,
    Tank,
    Check,
    Compare,
    Plan,
    Grow,
    Calendar,
    /// The answer of `catalogue check`
    Catalogue,
}

#[derive(Debug, Args)]
pub(super) struct CompletionsArgs {
    /// The shell
    pub shell: clap_complete::Shell,
}

fn one_or_more(text: &str) -> Result<usize, String> {
    text.parse::<usize>().ok().filter(|n| *n > 0).ok_or_else(|| "1 or more is expected".to_owned())
}

/// A cell that makes a useful map in a bearable time.
fn map_cell(text: &str) -> Result<Length, String> {
    let cell = parse_quantity::<Length>(text).map_err(|e| e.to_string())?;
    if (0.2..=20.0).contains(&cell.cm()) {
        Ok(cell)
    } else {
        Err(format!("{} is not between 0.2 cm and 20 cm", cell.show(UnitSystem::Metric)))
    }
}
