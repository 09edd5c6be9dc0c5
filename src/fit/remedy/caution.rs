//! What a remedy breaks: the rules of set-up that held before and do not hold after, and what
//! soil and rock make of softer or harder water.

use super::{Change, Site};
use crate::tank::audit::{AuditLine, SetUp, Standing, audit};
use crate::tank::carbon::CarbonEstimate;
use crate::tank::file::{BedKind, Injection, Material, TankSpec};
use crate::tank::geometry::BedProfile;
use crate::tank::{carbon_of, gas_of};
use crate::units::{Ppfd, Quantity};

/// The cautions that go with a change, in words.
pub(super) fn cautions(site: &Site<'_>, change: Change) -> Vec<String> {
    let spec = site.spec();
    let after = change.applied(spec);
    let mut found = broken_rules(site, change, &after);
    let rock = spec.hardscape.iter().any(|h| h.material == Material::CarbonateRock);
    match change {
        Change::SoftWater(_) if rock => {
            found.push("the carbonate rock hardens the water again between changes".to_owned());
        }
        Change::Gh(_) | Change::Kh(_) if spec.bed.kind == BedKind::ActiveSoil => {
            found.push("active soil takes the hardness up again until it is spent".to_owned());
        }
        Change::Gas(_) if spec.gas.injection == Injection::None => {
            found.push("gas needs a cylinder, a timer and care: see the cautions on gas".to_owned());
        }
        _ => {}
    }
    found
}

/// The rules that held before the change and do not hold after it.
fn broken_rules(site: &Site<'_>, change: Change, after: &TankSpec) -> Vec<String> {
    let Ok(carbon) = carbon_of(after) else { return Vec::new() };
    let gain = site.zone_after(0, change).map_or(1.0, |z| z.gain.nominal().value());
    let hours = after.light.hours.hours() / site.spec().light.hours.hours();
    let mean = site.model.bed_light.mean().umol_m2_s();
    // The audit takes light and hours apart.
    let bright = if let Change::LampHeight(by) = change {
        mean * site.hung_ratio(0, by).unwrap_or(1.0)
    } else {
        mean * gain / hours
    };
    let now = lines(site, after, &carbon, bright);
    let unusual = |line: &&AuditLine| line.standing == Standing::Unusual;
    let was =
        |line: &AuditLine| site.model.audit.iter().any(|b| b.topic == line.topic && b.words == line.words);
    now.iter().filter(unusual).filter(|l| !was(l)).map(|l| format!("{}: {}", l.topic, l.words)).collect()
}

fn lines(site: &Site<'_>, spec: &TankSpec, carbon: &CarbonEstimate, ppfd: f64) -> Vec<AuditLine> {
    let (bed, hardscape) = (&spec.bed, &spec.hardscape);
    let Ok(profile) = BedProfile::new(bed.front, bed.back, spec.glass.depth) else { return Vec::new() };
    let materials: Vec<Material> = hardscape.iter().map(|h| h.material).collect();
    audit(&SetUp {
        photoperiod: spec.light.hours,
        gas: gas_of(spec),
        water: site.model.volumes.water,
        filter_flow: spec.filter_flow,
        weekly_change: spec.water.weekly_change,
        bed_kind: bed.kind,
        bed: profile,
        hardscape: &materials,
        livestock: spec.livestock,
        light: Some(Ppfd::from_base(ppfd)),
        carbon,
    })
}
