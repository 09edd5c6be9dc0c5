//! The list that is to be planted, as a person gives it: a name a line, with its zone if they like
//! (`Vallisneria spiralis @ back hedge`), and its share of that zone (`… @ back hedge = 40 %`). A
//! name without a zone stands where it suits best, those without a share divide what is left.
//!
//! A list of our own making comes from [`super::Filling::chosen`] instead.

use std::sync::Arc;

use super::fill::Choice;
use super::house::House;
use super::list::{Written, names_in};
use crate::diagnostic::{Document, Finding, Findings, nearest};
use crate::fit::{Verdict, ZoneConditions, assess, best_spot};
use crate::tank::TankModel;
use crate::units::{Fraction, parse_quantity};

/// What stands between a name and its zone.
const AT: char = '@';
/// What stands between them and the share.
const SHARE: char = '=';
/// Near zone names shown.
const NEAR: usize = 3;

/// The plants of a list with their zones. A plant that does not grow where it is to stand is noted.
///
/// # Errors
/// A list without a name, names that cannot be resolved, zones that are not in the tank: all of them.
pub fn chosen_in<'a>(
    document: &Arc<Document>,
    model: &TankModel,
    house: &'a House,
    notes: &mut Findings,
) -> Result<Vec<Choice<'a>>, Findings> {
    let written = names_in(document);
    if written.is_empty() {
        let finding = Finding::error(format!("`{}` names no plant", document.name));
        return Err(finding.expected("one name a line").into());
    }
    let zones = ZoneConditions::all(model);
    let mut findings = Findings::default();
    let mut choices = Vec::new();
    for line in written {
        match choice(&line, model, &zones, house)? {
            Ok(choice) => {
                notes.extend(doubt(&choice, &line, model, &zones));
                choices.push(choice);
            }
            Err(finding) => findings.push(finding),
        }
    }
    let (choices, _) = findings.into_result(choices)?;
    Ok(choices)
}

/// One line; the outer error is a damaged library.
fn choice<'a>(
    line: &Written,
    model: &TankModel,
    zones: &[ZoneConditions],
    house: &'a House,
) -> Result<Result<Choice<'a>, Finding>, Findings> {
    let (line, share) = line.split(SHARE);
    let (name, zone) = line.split(AT);
    let taxon = match house.names()?.resolve(name.text()) {
        Ok(taxon) => taxon,
        Err(finding) => return Ok(Err(name.blamed(finding))),
    };
    let Some(plant) = house.plants()?.iter().find(|p| p.id == taxon) else {
        return Ok(Err(name.blamed(Finding::error(format!("`{taxon}` has no row in the catalogue")))));
    };
    let zone = match zone {
        None => best_spot(plant, zones).zone,
        Some(zone) => match zone_named(&zone, model) {
            Ok(index) => index,
            Err(finding) => return Ok(Err(finding)),
        },
    };
    Ok(share.map(|s| share_of(&s)).transpose().map(|share| Choice { plant, zone, share }))
}

fn share_of(written: &Written) -> Result<Fraction, Finding> {
    match parse_quantity::<Fraction>(written.text()) {
        Ok(share) if share.value() > 0.0 && share.value() <= 1.0 => Ok(share),
        _ => {
            let finding = Finding::error(format!("`{}` is not a share of a zone", written.text()));
            Err(written.blamed(finding.expected("a share such as \"40 %\", above 0 % and at most 100 %")))
        }
    }
}

fn zone_named(zone: &Written, model: &TankModel) -> Result<usize, Finding> {
    let wanted = zone.text().to_lowercase();
    let found = model.spec.zones.iter().position(|z| z.name.to_lowercase() == wanted);
    found.ok_or_else(|| {
        let names: Vec<&str> = model.spec.zones.iter().map(|z| z.name.as_str()).collect();
        let near = nearest(zone.text(), names.iter().copied(), NEAR);
        let finding = Finding::error(format!("`{}` is not a zone of the tank", zone.text())).near(near);
        zone.blamed(finding.expected(format!("one of: {}", names.join(", "))))
    })
}

/// What is to be said of a plant that does not grow where it is to stand.
fn doubt(choice: &Choice<'_>, line: &Written, model: &TankModel, zones: &[ZoneConditions]) -> Findings {
    let assessment = assess(choice.plant, &zones[choice.zone]);
    let mut findings = Findings::default();
    if assessment.verdict() < Verdict::Grows {
        let zone = &model.spec.zones[choice.zone].name;
        let name = choice.plant.display_name();
        let message =
            format!("{name} {} in “{zone}”, limited by {}", assessment.verdict(), assessment.limiting);
        findings.push(line.blamed(Finding::warning(message)));
    }
    findings
}
