//! `show`: all that is known of one plant.

use super::Answer;
use super::args::{Format, Global, ShowArgs};
use super::house;
use super::list::tell_reading;
use super::output::{Failure, Output};
use super::tank::unprintable;
use crate::answers;
use crate::report::text::{self, Page};
use crate::report::{csv, json};

pub(super) fn run(args: &ShowArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let house = house::open(global, output)?;
    let (name, names) = (args.name.join(" "), house.names()?);
    let taxon = names.resolve(&name)?;
    tell_reading(&name, names, output);
    let Some(view) = answers::show(&house, &taxon)? else { return Ok(Answer::No) };
    let text = match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::show(&mut page, &view);
            page.finish()
        }
        Format::Json => json::json(&view).map_err(unprintable)?,
        Format::Csv => csv::show(&view).map_err(unprintable)?,
    };
    output.data(&text)?;
    Ok(Answer::Yes)
}
