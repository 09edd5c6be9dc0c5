//! `grow`: how a planted tank grows in, week by week.

use super::Answer;
use super::args::{Format, Global, GrowArgs};
use super::chosen::chosen;
use super::house;
use super::output::{Failure, Output};
use super::tank::{compute, needs_zones, read_tank, unprintable};
use crate::answers;
use crate::answers::files::write_whole;
use crate::report::text::{self, Marks, Page};
use crate::report::view::GrowView;
use crate::report::{csv, json, svg};

pub(super) fn run(args: &GrowArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let spec = read_tank(&args.tank, output)?;
    let house = house::open(global, output)?;
    needs_zones(&spec, &args.tank, "plant")?;
    let model = compute(&spec, &house, output)?;
    let list = chosen(args.list.as_deref(), &args.tank, &model, &house, output)?;
    let view = answers::grow(&model, &list, args.weeks)?;
    if let Some(path) = &args.svg {
        write_whole(path, &svg::growth_chart(&view))?;
    }
    output.data(&render(&view, global, output)?)?;
    Ok(Answer::Yes)
}

fn render(view: &GrowView, global: &Global, output: &Output) -> Result<String, Failure> {
    match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::grow(&mut page, view, marks());
            Ok(page.finish())
        }
        Format::Json => json::json(view).map_err(unprintable),
        Format::Csv => csv::grow(view).map_err(unprintable),
    }
}

/// The marks that the person's terminal can show, by the usual order of the locale variables. Where
/// none is set the rest of our output is UTF-8 too.
fn marks() -> Marks {
    let set = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|name| {
        let value = std::env::var(name).ok()?;
        (!value.is_empty()).then(|| value.to_lowercase())
    });
    match set {
        Some(locale) if !locale.contains("utf-8") && !locale.contains("utf8") => Marks::Digits,
        _ => Marks::Blocks,
    }
}
