//! `check`: a wish list against a tank: a verdict each, what would help, and the list as a whole.

use super::Answer;
use super::args::{CheckArgs, Format, Global};
use super::house;
use super::list::{read_lists, tell_reading};
use super::output::{Failure, Output};
use super::tank::{compute, needs_zones, read_tank, unprintable};
use crate::answers::files::write_whole;
use crate::answers::{self, CheckAsked};
use crate::report::text::{self, Page};
use crate::report::view::CheckView;
use crate::report::{csv, json, svg};

pub(super) fn run(args: &CheckArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let spec = read_tank(&args.tank, output)?;
    let house = house::open(global, output)?;
    let names = house.names()?;
    let listed = read_lists(&args.wishes, names, output)?;
    let asked = args.explain.as_ref().map(|name| names.resolve(name)).transpose()?;
    if let Some(name) = &args.explain {
        tell_reading(name, names, output);
    }
    needs_zones(&spec, &args.tank, "plant")?;
    let model = compute(&spec, &house, output)?;
    let asked = CheckAsked { listed: &listed, explain: asked.as_ref(), inputs: args.inputs };
    let view = answers::check(&model, &house, asked)?;
    if let Some(path) = &args.svg {
        write_whole(path, &svg::check(&view))?;
    }
    output.data(&render(&view, global, output)?)?;
    Ok(if view.misfits == 0 { Answer::Yes } else { Answer::No })
}

fn render(view: &CheckView, global: &Global, output: &Output) -> Result<String, Failure> {
    match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::check(&mut page, view);
            Ok(page.finish())
        }
        Format::Json => json::json(view).map_err(unprintable),
        Format::Csv => csv::check(view).map_err(unprintable),
    }
}
