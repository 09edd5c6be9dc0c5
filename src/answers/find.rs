//! Plants by words, facets and ranges.

use std::collections::BTreeMap;

use super::house::House;
use crate::diagnostic::{Finding, Findings, nearest};
use crate::report::view::{FindView, FoundView};
use crate::search::{Areas, Facet, Query, Ranges, Span, gas_need, light_need};
use crate::units::{ParseError, Quantity, parse_quantity};

/// What `find` is asked, in the person's words.
#[derive(Debug, Clone, Default)]
pub struct FindAsked {
    /// Names, families, looks.
    pub words: Vec<String>,
    /// Places in the layout.
    pub placement: Vec<String>,
    /// Habits.
    pub form: Vec<String>,
    /// Needs of light.
    pub light: Vec<String>,
    /// Needs of gas.
    pub gas: Vec<String>,
    /// Native areas, by WGSRPD code or name.
    pub native: Vec<String>,
    /// Places whose laws leave plants out.
    pub jurisdiction: Vec<String>,
    /// Other facets, `FACET=VALUE`.
    pub facet: Vec<String>,
    /// Ranges that must suit the plant, `NAME=A..B`.
    pub range: Vec<String>,
    /// How many to show.
    pub limit: usize,
    /// How many to pass over first.
    pub offset: usize,
}

/// Looks for plants.
///
/// # Errors
/// Everything wrong in what was asked, or a damaged library.
pub fn find(house: &House, asked: &FindAsked) -> Result<FindView, Findings> {
    let query = query(asked)?;
    let results = house.index()?.search(&query).map_err(|e| Findings::from(Finding::error(e.to_string())))?;
    let mut hits = Vec::new();
    for hit in &results.hits {
        let Some(plant) = house.plant(&hit.taxon)? else { continue };
        hits.push(FoundView::of(&plant, hit.matched.clone(), light_need(&plant), gas_need(&plant)));
    }
    Ok(FindView::of(&query, results.total, hits, &results.facets))
}

/// The arguments as one query; everything wrong in them at once.
fn query(args: &FindAsked) -> Result<Query, Findings> {
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
