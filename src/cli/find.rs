//! `find`: plants by words, facets and ranges.

use std::collections::BTreeMap;

use super::Answer;
use super::args::{FindArgs, Format, Global};
use super::house::House;
use super::output::{Failure, Output};
use super::tank::unprintable;
use crate::diagnostic::{Finding, Findings, nearest};
use crate::report::text::{self, Page};
use crate::report::view::{FindView, FoundView};
use crate::report::{csv, json};
use crate::search::{Areas, Facet, Query, Ranges, Span, gas_need, light_need};
use crate::units::{ParseError, Quantity, parse_quantity};

pub(super) fn run(args: &FindArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let query = query(args)?;
    let house = House::open(global, output)?;
    let results = house.index()?.search(&query).map_err(|e| Failure::from(Finding::error(e.to_string())))?;
    let mut hits = Vec::new();
    for hit in &results.hits {
        let Some(plant) = house.plant(&hit.taxon)? else { continue };
        hits.push(FoundView::of(&plant, hit.matched.clone(), light_need(&plant), gas_need(&plant)));
    }
    let view = FindView::of(&query, results.total, hits, &results.facets);
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

/// The arguments as one query; everything wrong in them at once.
fn query(args: &FindArgs) -> Result<Query, Failure> {
    let mut findings = Findings::default();
    let mut facets: BTreeMap<Facet, Vec<String>> = BTreeMap::new();
    let gas: Vec<String> = args.gas.iter().map(|g| gas_word(g).to_owned()).collect();
    let named = [
        (Facet::Placement, &args.placement),
        (Facet::GrowthForm, &args.form),
        (Facet::Light, &args.light),
        (Facet::Gas, &gas),
        (Facet::Native, &args.native),
    ];
    for (facet, values) in named {
        for value in values {
            add(facet, value, &mut facets, &mut findings);
        }
    }
    for pair in &args.facet {
        let (name, value) = pair.split_once('=').unwrap_or((pair, ""));
        match Facet::ALL.iter().find(|f| f.word().eq_ignore_ascii_case(name.trim())) {
            Some(facet) => add(*facet, value, &mut facets, &mut findings),
            None => findings.push(unknown("facet", name, Facet::ALL.iter().map(|f| f.word()))),
        }
    }
    let mut ranges = Ranges::default();
    for range in &args.range {
        if let Err(finding) = set_range(&mut ranges, range) {
            findings.push(finding);
        }
    }
    let query = Query {
        text: args.words.join(" "),
        facets,
        ranges,
        not_listed_in: args.jurisdiction.clone(),
        offset: args.offset,
        limit: args.limit,
    };
    let (query, _) = findings.into_result(query)?;
    Ok(query)
}

/// Short words for the bands of gas need.
fn gas_word(word: &str) -> &str {
    match word {
        "none" | "no" => "without gas",
        "helped" => "helped by gas",
        "needed" | "needs" => "needs gas",
        other => other,
    }
}

fn unknown<'a>(what: &str, word: &str, words: impl Iterator<Item = &'a str> + Clone) -> Finding {
    let known: Vec<&str> = words.clone().collect();
    Finding::error(format!("`{word}` is not a {what}"))
        .expected(format!("one of: {}", known.join(", ")))
        .near(nearest(word, words, 1))
}

fn add(facet: Facet, value: &str, facets: &mut BTreeMap<Facet, Vec<String>>, findings: &mut Findings) {
    let plain = |s: &str| s.to_lowercase().replace([' ', '-'], "");
    let known = facet.words();
    if !known.is_empty() && !known.iter().any(|w| plain(w) == plain(value)) {
        findings.push(unknown(&format!("value of {facet}"), value, known.iter().copied()));
    } else if facet == Facet::Native && Areas::read().find(value).is_none() {
        let finding = Finding::error(format!("`{value}` is not an area of the world geographical scheme"));
        findings.push(finding.expected("a WGSRPD code or name").near(Areas::read().near(value)));
    } else {
        facets.entry(facet).or_default().push(value.to_owned());
    }
}

/// `gh=12..18`, `height=..10`, `ph=6.5`.
fn set_range(ranges: &mut Ranges, text: &str) -> Result<(), Finding> {
    let names = ["height", "ppfd", "temperature", "ph", "gh", "kh"];
    let (name, value) = text.split_once('=').unwrap_or((text, ""));
    match name.trim().to_lowercase().as_str() {
        "height" => ranges.height = Some(span(value, "cm", text)?),
        "ppfd" => ranges.ppfd = Some(span(value, "umol/m2/s", text)?),
        "temperature" => ranges.temperature = Some(span(value, "degC", text)?),
        "ph" => ranges.ph = Some(span(value, "", text)?),
        "gh" => ranges.gh = Some(span(value, "dGH", text)?),
        "kh" => ranges.kh = Some(span(value, "dKH", text)?),
        other => return Err(unknown("range", other, names.into_iter())),
    }
    Ok(())
}

/// A value, `a..b`, `a..` or `..b`; a number without a unit has the usual one.
fn span<Q: Quantity>(value: &str, unit: &str, whole: &str) -> Result<Span<Q>, Finding> {
    let (lo, hi) = value.split_once("..").unwrap_or((value, value));
    let end = |text: &str| -> Result<Option<Q>, Finding> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(None);
        }
        let parsed = match parse_quantity::<Q>(text) {
            Err(ParseError::NoUnit { .. }) => parse_quantity::<Q>(&format!("{text} {unit}")),
            other => other,
        };
        let expected = format!("NAME=A..B, for example gh=12..18; a bare number is read in {unit}");
        parsed.map(Some).map_err(|e| Finding::error(format!("`{whole}`: {e}")).expected(expected))
    };
    let span = Span { lo: end(lo)?, hi: end(hi)? };
    let reversed = matches!((span.lo, span.hi), (Some(a), Some(b)) if a.base() > b.base());
    if reversed || (span.lo.is_none() && span.hi.is_none()) {
        let finding = Finding::error(format!("`{whole}` is not a range"));
        return Err(finding.expected("NAME=A..B with A not above B; one end may be left open"));
    }
    Ok(span)
}
