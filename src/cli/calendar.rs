//! `calendar`: what to do when, as text, JSON, CSV, and as a file for calendar programs.

use super::Answer;
use super::args::{CalendarArgs, Format, Global};
use super::chosen::chosen;
use super::house;
use super::output::{Failure, Output};
use super::tank::{compute, needs_zones, read_tank, unprintable};
use crate::answers::files::write_whole;
use crate::answers::{self, CalendarAsked};
use crate::report::ics::{Alarms, ics};
use crate::report::text::{self, Page};
use crate::report::view::CalendarView;
use crate::report::{csv, json};

pub(super) fn run(args: &CalendarArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let (zone, units) = (args.zone.as_deref(), global.units.system());
    let asked = CalendarAsked::read(&args.start, zone, &args.lights_on, args.weeks, units)?;
    let spec = read_tank(&args.tank, output)?;
    let house = house::open(global, output)?;
    needs_zones(&spec, &args.tank, "plant")?;
    let model = compute(&spec, &house, output)?;
    let list = chosen(args.list.as_deref(), &args.tank, &model, &house, output)?;
    let view = answers::calendar(&model, &list, &asked)?;
    if let Some(path) = &args.ics {
        let alarms = if args.alarms { Alarms::Mornings } else { Alarms::None };
        write_whole(path, &ics(&view, alarms))?;
    }
    output.data(&render(&view, global, output)?)?;
    Ok(Answer::Yes)
}

fn render(view: &CalendarView, global: &Global, output: &Output) -> Result<String, Failure> {
    match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::calendar(&mut page, view);
            Ok(page.finish())
        }
        Format::Json => json::json(view).map_err(unprintable),
        Format::Csv => csv::calendar(view).map_err(unprintable),
    }
}
