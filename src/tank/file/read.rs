//! Reads a tank file section by section, every finding collected.

use std::sync::Arc;

use toml::de::DeTable;

use super::check;
use super::layout::{hardscape, wishes, zone};
use super::section::{Section, places};
use super::spec::{
    Bed, BedKind, Gas, Glass, Injection, LampOutput, LampSpec, LightReading, Lighting, Livestock, TankSpec,
    Tint, Top, WaterSpec, Wishes,
};
use crate::diagnostic::{Document, Finding, Findings};
use crate::units::{Angle, Duration, FlowRate, Fraction, Interval, Length, Quantity};

/// The part of the photoperiod that gas keeps clear of at both ends, unless stated
/// (common practice, no source).
const GAS_LEAD: Duration = Duration::from_hours(1.0);

/// Reads and checks a tank file.
///
/// # Errors
/// Every finding at once, when any of them forbids going on. Warnings come with the result.
pub fn read(document: &Arc<Document>) -> Result<(TankSpec, Findings), Findings> {
    let mut findings = Findings::default();
    if document.text.trim().is_empty() {
        let finding = Finding::error(format!("`{}` is empty", document.name));
        return Err(finding.expected("a tank file in TOML, beginning with name = \"…\" and [glass]").into());
    }
    let (table, errors) = DeTable::parse_recoverable(&document.text);
    if !errors.is_empty() {
        for error in errors {
            let message = error.message().trim().replace('\n', "; ");
            let finding = Finding::error(format!("this is not TOML: {message}"));
            findings.push(finding.at(document, error.span().unwrap_or(0..0)));
        }
        return Err(findings);
    }
    let mut root = Section::root(&table, document);
    let spec = read_root(&mut root, document, &mut findings);
    root.finish(&mut findings);
    if let Some(spec) = &spec {
        check::check(spec, &places(&table), &mut findings);
    }
    match (spec, findings.has_errors()) {
        (Some(spec), false) => Ok((spec, findings)),
        _ => Err(findings),
    }
}

fn read_root(root: &mut Section<'_>, document: &Arc<Document>, findings: &mut Findings) -> Option<TankSpec> {
    let name = root.text("name", findings).map_or_else(|| "Unnamed tank".to_owned(), |w| w.text);
    let jurisdictions = jurisdictions(root, findings);
    let glass = section(root, "glass", findings, glass);
    let bed = section(root, "bed", findings, bed);
    let light = section(root, "light", findings, light);
    let gas = match root.table("gas", findings) {
        Some(mut s) => finished(gas(&mut s, findings), s, findings),
        None => Some(no_gas()),
    };
    let water = section(root, "water", findings, water);
    let filter_flow = root.table("filter", findings).and_then(|mut s| {
        let flow = s.required::<FlowRate>("flow", findings);
        finished(flow, s, findings)
    });
    let livestock = root.table("livestock", findings).and_then(|mut s| {
        let fish = s.flag("fish", findings);
        finished(fish, s, findings)
    });
    let hardscape = all(root.tables("hardscape", findings), findings, hardscape);
    let names: Vec<String> = hardscape.iter().flatten().map(|h| h.name.clone()).collect();
    let surface = glass.as_ref().map(|g| (g.length, g.depth));
    let zones = all(root.tables("zone", findings), findings, |s, f| zone(s, surface, &names, f));
    let wishes = match root.table("wishes", findings) {
        Some(mut s) => {
            let read = wishes(&mut s, findings);
            finished(Some(read), s, findings)?
        }
        None => Wishes::default(),
    };
    Some(TankSpec {
        document: Arc::clone(document),
        name,
        jurisdictions,
        glass: glass?,
        bed: bed?,
        light: light?,
        gas: gas?,
        water: water?,
        filter_flow,
        livestock: if livestock == Some(true) { Livestock::Fish } else { Livestock::None },
        hardscape: hardscape.into_iter().collect::<Option<_>>()?,
        zones: zones.into_iter().collect::<Option<_>>()?,
        wishes,
    })
}

fn finished<T>(value: Option<T>, section: Section<'_>, findings: &mut Findings) -> Option<T> {
    section.finish(findings);
    value
}

/// A section that has to be there.
fn section<T>(
    root: &mut Section<'_>,
    key: &'static str,
    findings: &mut Findings,
    read: impl Fn(&mut Section<'_>, &mut Findings) -> Option<T>,
) -> Option<T> {
    if !root.has(key) {
        root.missing(key, format!("a table: [{key}]"), findings);
    }
    let mut inner = root.table(key, findings)?;
    let value = read(&mut inner, findings);
    finished(value, inner, findings)
}

/// Every table of an array, read to its end.
fn all<T>(
    sections: Vec<Section<'_>>,
    findings: &mut Findings,
    read: impl Fn(&mut Section<'_>, &mut Findings) -> Option<T>,
) -> Vec<Option<T>> {
    let mut values = Vec::new();
    for mut section in sections {
        let value = read(&mut section, findings);
        values.push(finished(value, section, findings));
    }
    values
}

/// Whether a text can be a place of law: EU, or an ISO 3166 code in capitals.
pub fn is_jurisdiction(text: &str) -> bool {
    let (country, part) = text.split_once('-').unwrap_or((text, "A"));
    let upper = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit());
    country.len() == 2 && upper(country) && upper(part) && part.len() <= 3
}

fn jurisdictions(root: &mut Section<'_>, findings: &mut Findings) -> Vec<String> {
    let written = root.texts("jurisdiction", findings);
    for wish in &written {
        if !is_jurisdiction(&wish.text) {
            let message = format!("`{}` is not a jurisdiction", wish.text);
            let expected = "EU, or an ISO 3166 code in capitals such as DE, GB-SCT, US-CA";
            findings.push(root.error(wish.span.clone(), message).expected(expected));
        }
    }
    written.into_iter().map(|w| w.text).collect()
}

fn glass(s: &mut Section<'_>, findings: &mut Findings) -> Option<Glass> {
    let length = s.required("length", findings);
    let depth = s.required("depth", findings);
    let height = s.required("height", findings);
    let water = s.required("water", findings);
    let open = s.flag("open_top", findings).unwrap_or(true);
    let stated = s.quantity::<Fraction>("cover_transmittance", findings);
    let (top, cover_transmittance) = match (open, stated) {
        (true, _) => (Top::Open, Fraction::new(1.0)),
        // A clean 4 mm float-glass cover passes about 0.9 of PAR (memory: two Fresnel surfaces
        // of n = 1.52 pass 0.92, absorption takes the rest).
        (false, None) => (Top::Covered, Fraction::new(0.9)),
        (false, Some(value)) => (Top::Covered, value),
    };
    Some(Glass { length: length?, depth: depth?, height: height?, water: water?, top, cover_transmittance })
}

fn bed(s: &mut Section<'_>, findings: &mut Findings) -> Option<Bed> {
    if !s.has("kind") {
        s.missing("kind", format!("one of: {}", BedKind::WORDS.join(", ")), findings);
    }
    let kind = s.word("kind", BedKind::from_word, BedKind::WORDS, findings);
    if kind == Some(BedKind::Bare) {
        let zero = Length::from_cm(0.0);
        let (front, back) = (s.quantity("front", findings), s.quantity("back", findings));
        return Some(Bed { kind: kind?, front: front.unwrap_or(zero), back: back.unwrap_or(zero) });
    }
    let (front, back) = (s.required("front", findings), s.required("back", findings));
    Some(Bed { kind: kind?, front: front?, back: back? })
}

fn light(s: &mut Section<'_>, findings: &mut Findings) -> Option<Lighting> {
    let hours = hours(s, findings);
    let lamps = all(s.tables("lamp", findings), findings, lamp);
    let readings = all(s.tables("reading", findings), findings, reading);
    let floating_cover = s.quantity("floating_cover", findings).unwrap_or(Fraction::new(0.0));
    if lamps.is_empty() && readings.is_empty() {
        let finding = s.error(s.span.clone(), "there is no lamp and no reading of light");
        findings.push(finding.expected("at least one [[light.lamp]] or [[light.reading]]"));
        return None;
    }
    Some(Lighting {
        hours: hours?,
        lamps: lamps.into_iter().collect::<Option<_>>()?,
        readings: readings.into_iter().collect::<Option<_>>()?,
        floating_cover,
    })
}

/// `hours = 8` or `hours = "8 h"`.
fn hours(s: &mut Section<'_>, findings: &mut Findings) -> Option<Duration> {
    let at = s.value("hours");
    match at.map(|v| v.value) {
        Some(toml::de::DeValue::Integer(n)) => n.as_str().parse().ok().map(Duration::from_hours),
        Some(toml::de::DeValue::Float(n)) => n.as_str().parse().ok().map(Duration::from_hours),
        Some(_) => s.quantity("hours", findings),
        None => {
            s.missing("hours", "the hours of light a day: hours = 8", findings);
            None
        }
    }
}

fn lamp(s: &mut Section<'_>, findings: &mut Findings) -> Option<LampSpec> {
    let output = lamp_output(s, findings);
    let dimmed_to = s.quantity("dimmed_to", findings).unwrap_or(Fraction::new(1.0));
    let spectrum = s.text("spectrum", findings);
    for key in ["size", "at"] {
        if !s.has(key) {
            s.missing(key, "two lengths: [\"50 cm\", \"8 cm\"]", findings);
        }
    }
    let size = s.spot("size", findings);
    let above_water = s.required("above_water", findings);
    let beam = s.quantity("beam", findings).unwrap_or(Angle::from_degrees(120.0));
    let at = s.spot("at", findings);
    let (output, output_known) = output?;
    Some(LampSpec {
        output,
        output_known,
        dimmed_to,
        spectrum,
        size: size?,
        above_water: above_water?,
        beam,
        at: at?,
    })
}

/// The output of a lamp, and what a range leaves open of it.
type Output = (LampOutput, Option<Interval<Fraction>>);

/// A range as its middle, and its ends as multiples of that.
fn middle<Q: Quantity>(range: Interval<Q>) -> (Q, Option<Interval<Fraction>>) {
    let times = |q: Q| Fraction::new(q.base() / range.mid().base());
    let known = (!range.is_point()).then(|| Interval::spanning(times(range.lo()), times(range.hi())));
    (range.mid(), known)
}

/// What two ranges leave open of their product.
fn both(a: Option<Interval<Fraction>>, b: Option<Interval<Fraction>>) -> Option<Interval<Fraction>> {
    let times = |a: Fraction, b: Fraction| Fraction::new(a.value() * b.value());
    match (a, b) {
        (Some(a), Some(b)) => Some(Interval::spanning(times(a.lo(), b.lo()), times(a.hi(), b.hi()))),
        (one, other) => one.or(other),
    }
}

fn lamp_output(s: &mut Section<'_>, findings: &mut Findings) -> Option<Output> {
    let before = findings.len();
    let photons = s.interval("photon_flux", findings).map(middle);
    let photons = photons.map(|(q, known)| (LampOutput::Photons(q), known));
    let lumens = s.interval("luminous_flux", findings).map(middle);
    let lumens = lumens.map(|(q, known)| (LampOutput::Lumens(q), known));
    let power = s.interval("power", findings).map(middle);
    let photon_efficacy = s.interval("photon_efficacy", findings).map(middle);
    let luminous_efficacy = s.interval("luminous_efficacy", findings).map(middle);
    let by_power = match (power, photon_efficacy, luminous_efficacy) {
        (Some(w), Some(e), _) => Some((LampOutput::PhotonPower(w.0, e.0), both(w.1, e.1))),
        (Some(w), None, Some(e)) => Some((LampOutput::LumenPower(w.0, e.0), both(w.1, e.1))),
        _ => None,
    };
    let stated: Vec<Output> = [photons, lumens, by_power].into_iter().flatten().collect();
    if stated.len() == 1 {
        return stated.into_iter().next();
    }
    if findings.len() == before {
        let message = if stated.is_empty() {
            "the output of the lamp is not stated"
        } else {
            "the output of the lamp is stated more than once"
        };
        let expected = "one of: photon_flux; luminous_flux; power with photon_efficacy or luminous_efficacy";
        findings.push(s.error(s.span.clone(), message).expected(expected));
    }
    None
}

fn reading(s: &mut Section<'_>, findings: &mut Findings) -> Option<LightReading> {
    let ppfd = s.required_interval("ppfd", findings);
    if !s.has("at") {
        s.missing("at", "a point on the plan: [\"30 cm\", \"15 cm\"]", findings);
    }
    let at = s.spot("at", findings);
    let above_bed = s.quantity("above_bed", findings).unwrap_or(Length::from_cm(0.0));
    let span = s.span.clone();
    Some(LightReading { ppfd: ppfd?, at: at?, above_bed, span })
}

fn no_gas() -> Gas {
    Gas { injection: Injection::None, target: None, on_before: GAS_LEAD, off_before: GAS_LEAD }
}

fn gas(s: &mut Section<'_>, findings: &mut Findings) -> Option<Gas> {
    if !s.has("injection") {
        s.missing("injection", format!("one of: {}", Injection::WORDS.join(", ")), findings);
    }
    let injection = s.word("injection", Injection::from_word, Injection::WORDS, findings);
    let target = s.interval("target", findings);
    let on_before = s.quantity("on_before", findings).unwrap_or(GAS_LEAD);
    let off_before = s.quantity("off_before", findings).unwrap_or(GAS_LEAD);
    Some(Gas { injection: injection?, target, on_before, off_before })
}

fn water(s: &mut Section<'_>, findings: &mut Findings) -> Option<WaterSpec> {
    let temperature = s.required_interval("temperature", findings);
    let ph = s.required_interval("ph", findings);
    let gh = s.required_interval("gh", findings);
    let kh = s.required_interval("kh", findings);
    let tint = s.word("tint", Tint::from_word, Tint::WORDS, findings);
    let tint = if s.has("tint") { tint } else { Some(Tint::Clear) };
    let weekly_change = s.quantity("weekly_change", findings);
    Some(WaterSpec { temperature: temperature?, ph: ph?, gh: gh?, kh: kh?, tint: tint?, weekly_change })
}
