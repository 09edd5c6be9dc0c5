//! What a person should know before acting, chosen by what is in the tank and on the list.
//! The words are ours; they defer to local codes and licensed practice.

use super::tank_report::about_kg;
use crate::catalogue::{Hazard, Plant};
use crate::tank::TankModel;
use crate::tank::file::Injection;
use crate::tank::loads::FloorVerdict;
use crate::units::{Mass, Quantity, UnitSystem};

/// The cautions that apply to a tank and a list of plants (none for the tank alone).
pub fn cautions(model: &TankModel, plants: &[&Plant]) -> Vec<String> {
    let mut cautions = Vec::new();
    cautions.extend(gas(model));
    cautions.push(
        "Electricity: mains gear stands beside water. Use a residual-current device and drip loops, pull the \
         plugs before putting hands in, and follow your local wiring code."
            .to_owned(),
    );
    cautions.push(floor(model));
    cautions.extend(handling(plants));
    if !plants.is_empty() {
        cautions.push(
            "Release: never put plants, cuttings or tank water into drains, ponds or nature; many water plants \
             are invasive somewhere. Law lists carried here are partial and dated; a plant not found in them is \
             not thereby lawful. This is not legal advice: check with the authority."
                .to_owned(),
        );
    }
    cautions
}

fn gas(model: &TankModel) -> Option<String> {
    match model.spec.gas.injection {
        Injection::None => None,
        Injection::Pressurised => Some(
            "Gas: CO2 is heavier than air and suffocates without warning. Fix the cylinder upright, test for \
             leaks, keep the room aired, have cylinders filled and tested by those licensed to, and watch the \
             animals whenever gas is raised."
                .to_owned(),
        ),
        Injection::Fermentation => Some(
            "Gas: fermentation builds pressure and CO2 suffocates without warning. Never close the vessel, use \
             a check valve, and keep the room aired."
                .to_owned(),
        ),
    }
}

fn floor(model: &TankModel) -> String {
    let pressure = model.masses.floor_pressure();
    let total = Mass::from_kg(about_kg(model.masses.total()));
    let measure = match FloorVerdict::of(pressure) {
        FloorVerdict::WithinAll => "not above",
        FloorVerdict::WithinSome => "within",
        FloorVerdict::AboveAll => "more than",
    };
    format!(
        "Floor: filled, the tank weighs about {total} ({:.0} lb) without its stand and presses {:.1} kPa \
         ({} psf) on its base, {measure} the 1.5 to 2.0 kPa (40 psf in the United States) that floors of \
         dwellings are usually designed for. That load is for a whole floor, so this alone decides nothing: \
         ask a structural engineer.",
        total.kg() / Mass::UNITS[2].factor,
        pressure.kpa(),
        pressure.show_number(UnitSystem::Us),
    )
}

fn handling(plants: &[&Plant]) -> Option<String> {
    let with = |hazard: Hazard| plants.iter().any(|p| p.hazards.contains(&hazard));
    let mut words = Vec::new();
    if with(Hazard::CalciumOxalate) {
        words.push("aroids hold needles of calcium oxalate");
    }
    if with(Hazard::IrritantSap) {
        words.push("some sap irritates skin and eyes");
    }
    if with(Hazard::ToxicIfEaten) {
        words.push("some plants are poisonous when eaten");
    }
    if words.is_empty() {
        return None;
    }
    Some(format!(
        "Handling: {}. Wash hands after cutting, and keep trimmings from children and pets.",
        words.join("; ")
    ))
}

/// What no figure in the output accounts for.
pub fn left_out() -> Vec<String> {
    vec![
        "Light: waves, algae on the glass, shade of hardscape and of other plants, hot spots of single diodes."
            .to_owned(),
        "Carbon: what plants take out by day and give back by night, mixing by the filter.".to_owned(),
        "Plants: nutrients other than carbon, animals that eat plants, the settling weeks after planting; \
         figures of the catalogue are mostly common practice: the account of a plant says which are not."
            .to_owned(),
    ]
}
