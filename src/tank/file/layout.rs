//! Reads the layout: hardscape, zones, and the wishes about the list.

use std::ops::Range;

use super::section::Section;
use super::spec::{Counts, Hardscape, HeightOrder, Material, Region, Spot, Wish, Wishes, ZoneRole, ZoneSpec};
use crate::diagnostic::{Findings, nearest};
use crate::tank::outline::Outline;
use crate::units::{Fraction, Interval, Length, Money, Quantity, expectation, parse_interval};

pub(super) fn hardscape(s: &mut Section<'_>, findings: &mut Findings) -> Option<Hardscape> {
    if !s.has("name") {
        s.missing("name", "a name for the piece", findings);
    }
    let name = s.text("name", findings);
    if !s.has("material") {
        s.missing("material", format!("one of: {}", Material::WORDS.join(", ")), findings);
    }
    let material = s.word("material", Material::from_word, Material::WORDS, findings);
    if !s.has("outline") {
        s.missing("outline", "a list of points: [[\"0 cm\", \"0 cm\"], …]", findings);
    }
    let outline = s.outline("outline", findings);
    let top = s.required("top", findings);
    Some(Hardscape { name: name?.text, material: material?, outline: outline?, top: top? })
}

pub(super) fn zone(
    s: &mut Section<'_>,
    surface: Option<Spot>,
    hardscape: &[String],
    findings: &mut Findings,
) -> Option<ZoneSpec> {
    let span = s.span.clone();
    if !s.has("name") {
        s.missing("name", "a name for the zone", findings);
    }
    let name = s.text("name", findings);
    if !s.has("placement") {
        s.missing("placement", format!("one of: {}", ZoneRole::WORDS.join(", ")), findings);
    }
    let role = s.word("placement", ZoneRole::from_word, ZoneRole::WORDS, findings);
    let taxa = counts(s, findings);
    let taxa_span = s.value("taxa").map_or_else(|| span.clone(), |at| at.span);
    let tallest = s.quantity("tallest", findings);
    let shortest = s.quantity("shortest", findings);
    let region = region(s, role, surface, hardscape, findings);
    let (name, role, region, taxa) = (name?.text, role?, region?, taxa?);
    Some(ZoneSpec { name, role, region, taxa, tallest, shortest, taxa_span, span })
}

/// `taxa = 2` or `taxa = "1..3"`; one when not stated.
fn counts(s: &mut Section<'_>, findings: &mut Findings) -> Option<Counts> {
    let Some(at) = s.value("taxa") else { return Some(Counts { least: 1, most: 1 }) };
    let text = match at.value {
        toml::de::DeValue::String(text) => text.to_string(),
        toml::de::DeValue::Integer(n) => n.as_str().to_owned(),
        _ => String::new(),
    };
    let parsed = Counts::parse(&text);
    if parsed.is_some() {
        return parsed;
    }
    let finding = s.error(at.span, format!("`{}` is {text}", s.name("taxa")));
    let expected = format!("a count or a range such as \"1..3\", at most {}", Counts::MOST);
    findings.push(finding.expected(expected));
    None
}

fn region(
    s: &mut Section<'_>,
    role: Option<ZoneRole>,
    surface: Option<Spot>,
    hardscape: &[String],
    findings: &mut Findings,
) -> Option<Region> {
    let outline = s.outline("outline", findings);
    let front = range(s, "from_front", findings);
    let left = range(s, "from_left", findings);
    let on = s.texts("on", findings);
    let (length, depth) = surface?;
    let zero = Length::from_cm(0.0);
    if role == Some(ZoneRole::Epiphyte) {
        return on_hardscape(s, &on, hardscape, findings);
    }
    if let Some(outline) = outline {
        return Some(Region::Outline(outline));
    }
    if s.has("outline") {
        return None;
    }
    if front.is_none() && left.is_none() && role != Some(ZoneRole::Floating) && !s.has("from_front") {
        let expected = "from_front = \"0..10 cm\", or outline = [[\"0 cm\", \"0 cm\"], …]";
        findings.push(s.error(s.span.clone(), "the zone says nothing of where it lies").expected(expected));
        return None;
    }
    let (y0, y1) = front.unwrap_or((zero, depth));
    let (x0, x1) = left.unwrap_or((zero, length));
    // The ranges have a width and the glass is checked elsewhere, so this cannot fail but for
    // a glass without size, which is reported there.
    Outline::rectangle((x0, y0), (x1, y1)).ok().map(Region::Outline)
}

fn range(s: &mut Section<'_>, key: &'static str, findings: &mut Findings) -> Option<(Length, Length)> {
    let written = s.text(key, findings)?;
    let parsed = parse_interval::<Length>(&written.text);
    match parsed.map(Interval::<Length>::ends) {
        Ok((a, b)) if a.base() < b.base() => Some((a, b)),
        Ok(_) => {
            let message = format!("`{}` has no width", s.name(key));
            findings.push(s.error(written.span, message).expected("a range such as \"0..10 cm\""));
            None
        }
        Err(error) => {
            let message = format!("`{}`: {error}", s.name(key));
            let expected = format!("a range such as \"0..10 cm\"; {}", expectation::<Length>());
            findings.push(s.error(written.span, message).expected(expected));
            None
        }
    }
}

fn on_hardscape(
    s: &Section<'_>,
    on: &[Wish],
    hardscape: &[String],
    findings: &mut Findings,
) -> Option<Region> {
    if hardscape.is_empty() {
        let finding = s.error(s.span.clone(), "an epiphyte zone needs wood or rock to sit on");
        findings.push(finding.expected("a [[hardscape]] with material, outline and top"));
        return None;
    }
    if on.is_empty() {
        return Some(Region::On((0..hardscape.len()).collect()));
    }
    let mut pieces = Vec::new();
    for wish in on {
        if let Some(index) = hardscape.iter().position(|name| *name == wish.text) {
            pieces.push(index);
        } else {
            let finding = s.error(wish.span.clone(), format!("there is no hardscape `{}`", wish.text));
            findings.push(finding.near(nearest(&wish.text, hardscape.iter().map(String::as_str), 1)));
        }
    }
    (pieces.len() == on.len()).then_some(Region::On(pieces))
}

pub(super) fn wishes(s: &mut Section<'_>, findings: &mut Findings) -> Wishes {
    Wishes {
        must: s.texts("must", findings),
        never: s.texts("never", findings),
        native: s.texts("native", findings),
        budget: budget(s, findings),
        currency: s.text("currency", findings).map(|w| w.text),
        prices: s.text("prices", findings),
        trim_minutes_per_month: s.whole("trim_minutes_per_month", findings),
        fast_share: s.value("fast_share").map(|v| v.span).and_then(|span| {
            let share = s.quantity::<Fraction>("fast_share", findings)?;
            Some((share, span))
        }),
        per_genus: some(s, "per_genus", findings),
        most_taxa: some(s, "most_taxa", findings),
        one_of: s.text_lists("one_of", findings),
        height_order: match s.flag("height_order", findings) {
            Some(false) => HeightOrder::Free,
            _ => HeightOrder::Kept,
        },
    }
}

/// A count of at least one.
fn some(s: &mut Section<'_>, key: &'static str, findings: &mut Findings) -> Option<(usize, Range<usize>)> {
    let (count, span) = s.whole(key, findings)?;
    if count == 0 {
        let finding = s.error(span, format!("`{}` is 0: no plant could be chosen", s.name(key)));
        findings.push(finding.expected("1 or more, or no such key for no limit"));
        return None;
    }
    Some((count as usize, span))
}

fn budget(s: &mut Section<'_>, findings: &mut Findings) -> Option<(Money, Range<usize>)> {
    let at = s.value("budget")?;
    let text = match at.value {
        toml::de::DeValue::String(text) => text.to_string(),
        toml::de::DeValue::Integer(n) => n.as_str().to_owned(),
        toml::de::DeValue::Float(n) => n.as_str().to_owned(),
        _ => String::new(),
    };
    let parsed = Money::parse(text.trim());
    if parsed.is_none() {
        let finding = s.error(at.span.clone(), format!("`{}` is not a sum of money", s.name("budget")));
        findings
            .push(finding.expected("a sum such as \"80\" or \"79.50\"; the currency is a key of its own"));
    }
    parsed.map(|money| (money, at.span))
}
