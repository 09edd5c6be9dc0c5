//! The entries of a calendar in words.

use super::calendar::clock;
use crate::catalogue::{Hazard, Plant};
use crate::planting::calendar::{Check, Entry, Task, TrimDue, When};
use crate::tank::TankModel;
use crate::tank::file::{BedKind, Injection, Livestock};
use crate::units::{Fraction, Quantity, UnitSystem, Volume};

const PRACTICE: &str = "common practice, no source";
const TANK_FILE: &str = "tank file";
const GROWTH: &str = "growth model, see `grow`";

/// An entry in words.
pub(super) struct Told {
    pub title: String,
    pub details: Vec<String>,
    pub basis: String,
}

/// Who says it: knows the tank, the names and the units.
pub(super) struct Speaker<'a> {
    pub model: &'a TankModel,
    pub plants: &'a [&'a Plant],
    pub units: UnitSystem,
}

fn told(title: impl Into<String>, details: &[&str], basis: &str) -> Told {
    Told {
        title: title.into(),
        details: details.iter().map(|d| (*d).to_owned()).collect(),
        basis: basis.to_owned(),
    }
}

fn timer(what: &str, entry: &Entry, basis: &str) -> Told {
    let When::Span { from, length } = entry.when else { return told(what, &[], basis) };
    let (on, off) = (clock(from), clock(from.after(length)));
    let title = if length.hours() >= 24.0 {
        format!("{what} on all day")
    } else {
        format!("{what} on {on} to {off}")
    };
    Told { title, details: vec![], basis: basis.to_owned() }
}

impl Speaker<'_> {
    pub fn tell(&self, entry: &Entry) -> Told {
        match &entry.task {
            Task::Light => timer("Light", entry, "tank file; the hour is yours to choose"),
            Task::Gas { lead, early_stop } => {
                let mut told = timer("Gas (CO2)", entry, TANK_FILE);
                let (lead, stop) = (lead.show(self.units), early_stop.show(self.units));
                told.details.push(format!("On {lead} before the light, off {stop} before its end."));
                told
            }
            Task::Fill { water } => self.fill(*water),
            Task::WaterChange { volume, share, extra } => self.change(*volume, *share, *extra),
            Task::Feed => self.feed(),
            Task::FeedRoots { drifts } => Told {
                title: "Feed the roots".to_owned(),
                details: vec![format!("Root feeders in a bed that feeds nothing: {}.", self.names(drifts))],
                basis: PRACTICE.to_owned(),
            },
            Task::Trim { drifts, .. } => self.trim(drifts),
            Task::Check(check) => self.check(check),
            Task::RenewGas => told(
                "Renew the gas mixture",
                &["Never close the vessel; keep the check valve in the hose and the room aired."],
                PRACTICE,
            ),
            Task::Animals => told(
                "Animals, if the tests allow",
                &[
                    "Only when ammonia and nitrite were 0 in two tests running, a week apart; otherwise wait.",
                    "A few at a time; watch how they breathe.",
                ],
                PRACTICE,
            ),
            Task::Settled => told(
                "Three months: the tank counts as settled",
                &[
                    "Go on with weekly changes; measure light, pH, KH and temperature again and run the plan on \
                   them.",
                ],
                PRACTICE,
            ),
        }
    }

    fn fill(&self, water: Volume) -> Told {
        let mut details = vec![
            format!("It takes about {} of water over the bed.", water.show(self.units)),
            "Rinse what was bought, take off pots, wool and rotten leaves; keep plants wet while you work."
                .to_owned(),
            "Set the timers, start the filter, look for leaks before you leave.".to_owned(),
            "Pull the plugs before putting hands in. Floor, gear and handling: see the cautions.".to_owned(),
        ];
        if self.model.spec.gas.injection == Injection::Pressurised {
            details.push(
                "Gas: fix the cylinder upright, test every joint with soapy water, keep the room aired: CO2 \
                 suffocates."
                    .to_owned(),
            );
        }
        Told {
            title: "Fill and plant".to_owned(),
            details,
            basis: "volume: model; the rest common practice".to_owned(),
        }
    }

    fn change(&self, volume: Volume, share: Fraction, extra: bool) -> Told {
        let (litres, share) = (volume.show(self.units), share.show(self.units));
        let title = if extra {
            format!("Change {litres} of water in between")
        } else {
            format!("Change {litres} of water ({share})")
        };
        let mut details = vec![
            "Pull the plugs first; fresh water as warm as the tank, chlorine or chloramine bound.".to_owned(),
        ];
        if extra {
            details.insert(0, "Fresh active soil gives off ammonium in its first weeks.".to_owned());
        }
        let stated = self.model.spec.water.weekly_change.is_some();
        let basis = if stated && !extra {
            "share: tank file; volume: model"
        } else {
            "volume: model; the rest common practice, no source"
        };
        Told { title, details, basis: basis.to_owned() }
    }

    fn feed(&self) -> Told {
        let rich = matches!(self.model.spec.bed.kind, BedKind::ActiveSoil | BedKind::CappedSoil);
        let why = if rich {
            "The soil has fed the plants so far."
        } else {
            "The bed feeds nothing: what plants need comes with the water."
        };
        let dose = "Begin at a third of the maker's dose; more only while leaves are pale and algae few.";
        told("Feed the water", &[why, dose], PRACTICE)
    }

    fn trim(&self, drifts: &[TrimDue]) -> Told {
        let indices: Vec<usize> = drifts.iter().map(|d| d.drift).collect();
        let mut details: Vec<String> = drifts.iter().map(|d| self.cut(d)).collect();
        let hazardous = |i: &&usize| {
            let hazards = self.plants.get(**i).map_or(&[][..], |p| &p.hazards);
            hazards
                .iter()
                .any(|h| matches!(h, Hazard::CalciumOxalate | Hazard::IrritantSap | Hazard::ToxicIfEaten))
        };
        let hazardous: Vec<usize> = indices.iter().filter(hazardous).copied().collect();
        if !hazardous.is_empty() {
            let names = self.names(&hazardous);
            details.push(format!(
                "Irritating or poisonous sap: {names}. Wash hands; keep cuttings from children and pets."
            ));
        }
        details.push("Cuttings never go into drains, ponds or nature.".to_owned());
        Told { title: format!("Trim {}", self.names(&indices)), details, basis: GROWTH.to_owned() }
    }

    /// "Egeria densa: from 25 to 12 cm, it reaches the surface; due in weeks 3 to 6".
    fn cut(&self, due: &TrimDue) -> String {
        let (from, to) = (due.from.show_number(self.units), due.to.show(self.units));
        let heights = if due.to.m() < due.from.m() - 0.0005 {
            format!("from {from} to {to}")
        } else {
            format!("thin out to {} of its ground", due.cover.show(self.units))
        };
        let when = match due.latest {
            Some(latest) if latest == due.earliest => String::new(),
            Some(latest) => format!("; due between weeks {} and {latest}", due.earliest),
            None => format!("; due in week {} at the earliest, perhaps not at all yet", due.earliest),
        };
        format!("{}: {heights}, {}{when}.", self.name(due.drift), due.reason.words())
    }

    fn check(&self, check: &Check) -> Told {
        match check {
            Check::Gas => self.gas_check(),
            Check::Water => self.water_test(),
            Check::Algae => told(
                "Look for algae",
                &["More than a film: an hour less light and one more change of water, before anything else."],
                PRACTICE,
            ),
            Check::Leaves { drifts } => Told {
                title: "Look at the leaves".to_owned(),
                details: vec![
                    format!(
                        "Leaves grown in air give way to leaves grown under water: {}.",
                        self.names(drifts)
                    ),
                    "Take out what rots; new leaves show that the plant has taken hold.".to_owned(),
                ],
                basis: PRACTICE.to_owned(),
            },
            Check::Gear => {
                let mut told = told(
                    "Look at the gear",
                    &["Test button of the residual-current device, drip loops, hoses, stand and floor."],
                    PRACTICE,
                );
                if self.model.spec.gas.injection != Injection::None {
                    told.details
                        .push("Gas: soapy water on every joint, cylinder upright, room aired.".to_owned());
                }
                told
            }
        }
    }

    fn gas_check(&self) -> Told {
        let aim = self.model.carbon.course.photoperiod_mean;
        let mut details = vec![format!(
            "Before the light comes on and in the middle of its hours: the model expects {} over the day; read the \
             indicator or the drop of pH.",
            aim.show(self.units)
        )];
        if self.model.spec.livestock == Livestock::Fish {
            details
                .push("Animals gasping at the surface: gas off, stir the surface, change water.".to_owned());
        }
        Told {
            title: "Look at the CO2".to_owned(),
            details,
            basis: "level: model; the rest common practice".to_owned(),
        }
    }

    fn water_test(&self) -> Told {
        let water = &self.model.spec.water;
        Told {
            title: "Test pH, KH, ammonia and nitrite".to_owned(),
            details: vec![
                format!(
                    "The plan rests on pH {} and KH {}; far from that, run it again.",
                    water.ph.show(self.units),
                    water.kh.show(self.units)
                ),
                "Ammonia and nitrite until both are 0 twice running; before that, no animals.".to_owned(),
            ],
            basis: PRACTICE.to_owned(),
        }
    }

    fn name(&self, drift: usize) -> String {
        self.plants.get(drift).map_or_else(String::new, |p| p.display_name())
    }

    fn names(&self, drifts: &[usize]) -> String {
        drifts.iter().map(|d| self.name(*d)).collect::<Vec<_>>().join(", ")
    }
}
