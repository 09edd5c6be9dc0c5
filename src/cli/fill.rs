//! `fill`: the best list of plants for every zone, with proof.

use std::ops::ControlFlow;
use std::time::{Duration, Instant};

use super::Answer;
use super::args::{FillArgs, Format, Global};
use super::house;
use super::list::tell_reading;
use super::output::{Failure, Output};
use super::prices;
use super::tank::{compute, needs_zones, read_tank, unprintable};
use crate::answers::{FillAsked, Filling, resolve_wishes};
use crate::diagnostic::{Finding, Findings};
use crate::report::text::{self, Page};
use crate::report::view::FillView;
use crate::report::{csv, json};
use crate::select::Progress;

pub(super) fn run(args: &FillArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let limit = time_limit(args.time_limit)?;
    let spec = read_tank(&args.tank, output)?;
    let house = house::open(global, output)?;
    let mut notes = Findings::default();
    let names = house.names()?;
    let wished = resolve_wishes(&spec, &args.keep, &args.without, names)?;
    let wishes = spec.wishes.must.iter().chain(&spec.wishes.never).map(|w| &w.text);
    for name in wishes.chain(&args.keep).chain(&args.without) {
        tell_reading(name, names, output);
    }
    let prices = prices::load(args.prices.as_ref(), &args.tank, &spec, names, &mut notes)?;
    output.findings(&notes);
    needs_zones(&spec, &args.tank, "fill")?;
    let model = compute(&spec, &house, output)?;
    let filling = Filling::new(&model, &house, FillAsked { wished: &wished, prices: &prices })?;
    let outcome = filling.solve(&mut within(limit))?;
    output.data(&render(&filling.view(&outcome), global, output)?)?;
    Ok(if outcome.answer().is_some() { Answer::Yes } else { Answer::No })
}

fn time_limit(seconds: f64) -> Result<Duration, Failure> {
    Duration::try_from_secs_f64(seconds).map_err(|_| {
        Finding::error(format!("a time limit of {seconds} seconds"))
            .expected("a number of seconds, 0 or more")
            .into()
    })
}

/// Ends a search when its time is over.
pub(super) fn within(limit: Duration) -> impl FnMut(&Progress) -> ControlFlow<()> {
    let started = Instant::now();
    move |_: &Progress| {
        if started.elapsed() > limit { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }
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
