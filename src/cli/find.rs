//! `find`: plants by words, facets and ranges.

use super::Answer;
use super::args::{FindArgs, Format, Global};
use super::house;
use super::list::tell_reading;
use super::output::{Failure, Output};
use super::tank::unprintable;
use crate::answers::{self, FindAsked};
use crate::report::text::{self, Page};
use crate::report::{csv, json};

pub(super) fn run(args: &FindArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let house = house::open(global, output)?;
    let view = answers::find(&house, &asked(args))?;
    // Words are no name unless what they would be read as is among what was found.
    let (words, names) = (args.words.join(" "), house.names()?);
    let meant = names.resolve(&words).ok();
    if meant.is_some_and(|taxon| view.hits.iter().any(|hit| hit.taxon == taxon.0)) {
        tell_reading(&words, names, output);
    }
    let text = match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::find(&mut page, &view);
            page.finish()
        }
        Format::Json => json::json(&view).map_err(unprintable)?,
        Format::Csv => csv::find(&view).map_err(unprintable)?,
    };
    output.data(&text)?;
    Ok(if view.total == 0 { Answer::No } else { Answer::Yes })
}

fn asked(args: &FindArgs) -> FindAsked {
    FindAsked {
        words: args.words.clone(),
        placement: args.placement.clone(),
        form: args.form.clone(),
        light: args.light.clone(),
        gas: args.gas.clone(),
        native: args.native.clone(),
        jurisdiction: args.jurisdiction.clone(),
        facet: args.facet.clone(),
        range: args.range.clone(),
        limit: args.limit,
        offset: args.offset,
    }
}
