//! `show`: all that is known of one plant.

use super::Answer;
use super::args::{Format, Global, ShowArgs};
use super::house::House;
use super::output::{Failure, Output};
use super::tank::unprintable;
use crate::catalogue::Plant;
use crate::report::text::{self, Page};
use crate::report::view::{Background, show_view};
use crate::report::{csv, json};
use crate::search::Areas;

pub(super) fn run(args: &ShowArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let house = House::open(global, output)?;
    let taxon = house.resolver()?.resolve(&args.name.join(" "))?;
    let Some(plant) = house.plant(&taxon)? else { return Ok(Answer::No) };
    let about = house.about(&taxon)?;
    let background = Background {
        names: &about.names,
        claims: &about.claims,
        legal: &about.legal,
        sources: &about.sources,
    };
    let view = show_view(&plant, background, &areas(&plant));
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

/// The native range with the names of its areas.
fn areas(plant: &Plant) -> Vec<String> {
    let areas = Areas::read();
    plant
        .native
        .iter()
        .map(|code| areas.name(code).map_or(code.clone(), |name| format!("{name} ({code})")))
        .collect()
}
