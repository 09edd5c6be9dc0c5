//! `plan`: who stands where, how many portions, what to buy, and all of it as a folder to print.

use super::Answer;
use super::args::{DensityArg, Format, Global, PlanArgs};
use super::chosen::chosen;
use super::house;
use super::output::{Failure, Output};
use super::prices;
use super::tank::{compute, needs_zones, read_tank, unprintable};
use crate::answers::files::{Standing, write_folder};
use crate::answers::{self, CalendarAsked, PlanAsked, SheetAsked};
use crate::diagnostic::Findings;
use crate::planting::{Chosen, Density};
use crate::report::text::{self, Page};
use crate::report::view::PlanView;
use crate::report::{csv, json};

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
    let (_, view) = answers::plan(&model, &house, asked)?;
    if let Some(folder) = &args.out {
        let asked = SheetAsked { list: &list, calendar: calendar.as_ref(), weeks: WEEKS, units };
        let parts = answers::sheet(&model, &view, &asked)?;
        let standing = if args.force { Standing::Replace } else { Standing::Keep };
        write_folder(folder, &parts, standing, answers::is_of_sheet)?;
        output.note(&format!("The project sheet is {}", folder.join("index.html").display()));
    }
    output.data(&render(&view, global, output)?)?;
    Ok(Answer::Yes)
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
