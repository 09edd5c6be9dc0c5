//! `plan`: who stands where, how many portions, what to buy, and all of it as a folder to print.

use std::path::{Path, PathBuf};

use super::Answer;
use super::args::{DensityArg, Format, Global, PlanArgs};
use super::chosen::chosen;
use super::house;
use super::output::{Failure, Output};
use super::prices;
use super::tank::{compute, needs_zones, read_tank, unprintable};
use crate::answers::files::{Standing, write_bytes, write_folder, write_whole};
use crate::answers::{self, CalendarAsked, PlanAsked, SheetAsked};
use crate::diagnostic::Findings;
use crate::planting::{Chosen, Density};
use crate::report::text::{self, Page};
use crate::report::view::{PictureView, PlanView};
use crate::report::{csv, json, svg};
use crate::units::UnitSystem;

/// Weeks of growth and calendar on a project sheet.
const WEEKS: u32 = 12;
/// When the light comes on in the calendar of a project sheet.
const LIGHTS_ON: &str = "12:00";

pub(super) fn run(args: &PlanArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let units = global.units.system();
    let asked = |start: &String| CalendarAsked::read(start, None, LIGHTS_ON, WEEKS, units);
    let calendar = args.start.as_ref().map(asked).transpose()?;
    let spec = read_tank(&args.tank, output)?;
    let house = house::open(global, output)?;
    needs_zones(&spec, &args.tank, "plant")?;
    let model = compute(&spec, &house, output)?;
    let list = chosen(args.list.as_deref(), &args.tank, &model, &house, output)?;
    let mut notes = Findings::default();
    let prices = prices::load(args.prices.as_ref(), &args.tank, &spec, house.names()?, &mut notes)?;
    output.findings(&notes);
    let taxa: Vec<Chosen<'_>> =
        list.iter().map(|c| Chosen { plant: c.plant, zone: c.zone, share: c.share }).collect();
    let asked = PlanAsked { chosen: &taxa, density: density(args.density), prices: &prices };
    let (planting, view) = answers::plan(&model, &house, asked)?;
    let mut notes = Findings::default();
    let pictures = |weeks: &[u32]| answers::pictures(&model, &planting, &list, weeks, args.light);
    draw(args, units, &pictures, &mut notes)?;
    if let Some(folder) = &args.out {
        let calendar = calendar.as_ref();
        let (planting, pictured) = (&planting, weeks(args, &[0, WEEKS]));
        let asked = SheetAsked { planting, pictured: &pictured, list: &list, calendar, weeks: WEEKS, units };
        let parts = answers::sheet(&model, &view, &asked, &mut notes)?;
        let standing = if args.force { Standing::Replace } else { Standing::Keep };
        write_folder(folder, &parts, standing, answers::is_of_sheet)?;
        output.note(&format!("The project sheet is {}", folder.join("index.html").display()));
    }
    output.findings(&notes);
    output.data(&render(&view, global, output)?)?;
    Ok(Answer::Yes)
}

/// The weeks asked for, in order, each once; `usual` when none are.
fn weeks(args: &PlanArgs, usual: &[u32]) -> Vec<u32> {
    let mut weeks = if args.weeks.is_empty() { usual.to_vec() } else { args.weeks.clone() };
    weeks.sort_unstable();
    weeks.dedup();
    weeks
}

/// Writes the drawings asked for: the view from above under the name given, that from the front
/// beside it, those of later weeks with the week in their name.
fn draw(
    args: &PlanArgs,
    units: UnitSystem,
    pictures: &dyn Fn(&[u32]) -> Vec<PictureView>,
    notes: &mut Findings,
) -> Result<(), Failure> {
    if args.svg.is_none() && args.png.is_none() {
        return Ok(());
    }
    for (n, view) in pictures(&weeks(args, &[0])).iter().enumerate() {
        let week = if n == 0 { String::new() } else { format!("-week-{}", view.week) };
        let sides = [
            (week.clone(), svg::plan_view(view, units)),
            (format!("-front{week}"), svg::front_view(view, units)),
        ];
        for (suffix, drawing) in sides {
            if let Some(path) = &args.svg {
                write_whole(&named(path, &suffix), &drawing)?;
            }
            if let Some(path) = &args.png {
                let pixels = answers::in_pixels(&drawing, notes).map_err(unprintable)?;
                write_bytes(&named(path, &suffix), &pixels)?;
            }
        }
    }
    Ok(())
}

/// The path with something put before its ending.
fn named(path: &Path, suffix: &str) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let end = path.extension().map(|e| format!(".{}", e.to_string_lossy())).unwrap_or_default();
    if suffix.is_empty() { path.to_owned() } else { path.with_file_name(format!("{stem}{suffix}{end}")) }
}

fn density(typed: DensityArg) -> Density {
    match typed {
        DensityArg::Sparse => Density::Sparse,
        DensityArg::Usual => Density::Usual,
        DensityArg::Dense => Density::Dense,
    }
}

fn render(view: &PlanView, global: &Global, output: &Output) -> Result<String, Failure> {
    match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::plan(&mut page, view);
            Ok(page.finish())
        }
        Format::Json => json::json(view).map_err(unprintable),
        Format::Csv => csv::shopping(view).map_err(unprintable),
    }
}
