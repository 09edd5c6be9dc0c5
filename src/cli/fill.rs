//! `fill`: the best list of plants for every zone, with proof.

use super::Answer;
use super::args::{FillArgs, Format, FurtherArgs, Global};
use super::house;
use super::list::{read_lists, tell_reading};
use super::output::{Failure, Output};
use super::patience::Patience;
use super::prices;
use super::tank::{compute, needs_zones, read_tank, unprintable};
use crate::answers::files::write_whole;
use crate::answers::{Depth, FillAsked, Filling, House, resolve_wishes};
use crate::catalogue::TaxonId;
use crate::diagnostic::Findings;
use crate::report::text::{self, Page};
use crate::report::view::FillView;
use crate::report::{csv, json};
use crate::select::{Ask, Outcome, Progress};

pub(super) fn run(args: &FillArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let mut patience = Patience::new(args.time_limit)?;
    let mut spec = read_tank(&args.tank, output)?;
    args.demands.apply(&mut spec)?;
    let house = house::open(global, output)?;
    let mut notes = Findings::default();
    let names = house.names()?;
    let wished = resolve_wishes(&spec, &args.keep, &args.without, names)?;
    let wishes = spec.wishes.must.iter().chain(&spec.wishes.never).map(|w| &w.text);
    for name in wishes.chain(&args.keep).chain(&args.without) {
        tell_reading(name, names, output);
    }
    let near =
        read_lists(&args.further.near, names, output)?.into_iter().map(|l| l.taxon).collect::<Vec<_>>();
    let prices = prices::load(args.prices.as_ref(), &args.tank, &spec, names, &mut notes)?;
    output.findings(&notes);
    needs_zones(&spec, &args.tank, "fill")?;
    let model = compute(&spec, &house, output)?;
    let mut filling = Filling::new(&model, &house, FillAsked { wished: &wished, prices: &prices })?;
    let (outcome, view) = answer(&mut filling, &args.further, &near, &house, &mut patience)?;
    patience.finish();
    write_files(&filling, &outcome, &args.further)?;
    output.data(&render(&view, global, output)?)?;
    Ok(if outcome.answer().is_some() { Answer::Yes } else { Answer::No })
}

/// The list and everything that was asked about it.
fn answer(
    filling: &mut Filling<'_>,
    further: &FurtherArgs,
    near: &[TaxonId],
    house: &House,
    patience: &mut Patience,
) -> Result<(Outcome, FillView), Failure> {
    let mut watch = |progress: &Progress| patience.watch(progress);
    let (outcome, changed) = if near.is_empty() {
        (filling.solve(&mut watch)?, None)
    } else {
        let (outcome, view) = filling.near(near, further.changes, &mut watch)?;
        (outcome, Some(view))
    };
    let mut view = filling.view_within(&outcome, &mut Patience::steady());
    view.near = changed;
    let Some(best) = outcome.answer() else { return Ok((outcome, view)) };
    if further.why && matches!(outcome, Outcome::Optimal(_)) {
        filling.reasons(best, Depth::Whole, &mut view, &mut Patience::steady())?;
    }
    if further.alternatives > 0 {
        let ask = Ask { count: further.alternatives, differ: further.differ };
        view.alternatives = filling.alternatives(best, ask, &mut watch)?;
    }
    if further.what_if {
        view.what_if = filling.what_if(best, house, &mut watch)?;
    }
    Ok((outcome, view))
}

fn write_files(filling: &Filling<'_>, outcome: &Outcome, further: &FurtherArgs) -> Result<(), Failure> {
    if further.write_model.is_none() && further.write_solution.is_none() {
        return Ok(());
    }
    let exported = filling.exported(outcome)?;
    if let Some(path) = &further.write_model {
        write_whole(path, &exported.model)?;
    }
    if let Some(path) = &further.write_solution {
        write_whole(path, &exported.solution)?;
    }
    Ok(())
}

fn render(view: &FillView, global: &Global, output: &Output) -> Result<String, Failure> {
    match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::fill(&mut page, view);
            Ok(page.finish())
        }
        Format::Json => json::json(view).map_err(unprintable),
        Format::Csv => csv::fill(view).map_err(unprintable),
    }
}
