//! From assessments, prices and wishes to a [`Problem`]: who may stand where, at what worth,
//! price and upkeep.

use super::portions::{FAST_PER_DAY, portions, trim_minutes_per_month};
use super::problem::{Candidate, Choice, Problem, Rules, SightLine, Weights, Zone};
use crate::catalogue::{Lasting, Offered, Placement, Plant};
use crate::fit::{Assessment, Verdict};
use crate::units::{Area, Length, Money};

/// A zone to be filled.
#[derive(Debug, Clone)]
pub struct ZoneOffer {
    /// The person's name for it.
    pub name: String,
    /// The part of the layout.
    pub placement: Placement,
    /// Area to plant.
    pub area: Area,
    /// The fewest taxa.
    pub least: usize,
    /// The most taxa.
    pub most: usize,
    /// How tall plants may stand.
    pub tallest: Length,
}

/// A plant with its assessment in every zone, in zone order.
#[derive(Debug, Clone)]
pub struct Entry<'a> {
    /// The plant.
    pub plant: &'a Plant,
    /// One a zone.
    pub assessments: Vec<Assessment>,
    /// Price of a portion, when known.
    pub price: Option<Money>,
    /// Whether the person or the law keeps it off the list.
    pub barred: Option<Bar>,
}

/// What keeps a plant off the list whatever its worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Bar {
    /// A law of the tank's jurisdiction restricts it.
    Law,
    /// The person does not want it.
    Never,
    /// It is not native to the areas asked for.
    NotNative,
}

/// How zones lie to one another.
#[derive(Debug, Clone, Default)]
pub struct Layout {
    /// Pairs of zones that touch.
    pub neighbours: Vec<[usize; 2]>,
    /// Pairs nearer → farther on one line of sight.
    pub sight_lines: Vec<(usize, usize)>,
}

/// A problem with the way back: candidate `i` of the problem is entry `entries[i]`.
#[derive(Debug, Clone)]
pub struct Composition {
    /// The problem.
    pub problem: Problem,
    /// Entry index of each candidate.
    pub entries: Vec<usize>,
}

/// Builds the problem. Plants that the law bars, or that grow in no zone, are no candidates;
/// `must` holds entry indices and may name such a plant: it then stands without an option, and
/// the problem is impossible for that reason. Plants that the person bars stand in the rules, so
/// that a conflict can name them.
pub fn compose(
    zones: &[ZoneOffer],
    layout: &Layout,
    entries: &[Entry<'_>],
    must: &[usize],
    rules: Rules,
) -> Composition {
    let mut genera: Vec<&str> = entries.iter().map(|e| e.plant.genus()).collect();
    genera.sort_unstable();
    genera.dedup();
    let genus_number = |e: &Entry<'_>| genera.binary_search(&e.plant.genus()).unwrap_or(0) as u32;
    let mut problem = Problem {
        zones: zones.iter().map(|z| Zone { name: z.name.clone(), least: z.least, most: z.most }).collect(),
        neighbours: layout.neighbours.clone(),
        sight_lines: layout
            .sight_lines
            .iter()
            .map(|&(nearer, farther)| SightLine { nearer, farther })
            .collect(),
        water: Vec::new(),
        candidates: Vec::new(),
        weights: Weights::default(),
        rules,
    };
    let mut kept = Vec::new();
    for (index, entry) in entries.iter().enumerate() {
        let options = options(entry, zones);
        let wanted = must.contains(&index);
        if options.is_empty() && !wanted {
            continue;
        }
        if wanted {
            problem.rules.must.push(problem.candidates.len());
        }
        match entry.barred {
            Some(Bar::Never) => problem.rules.never.push(problem.candidates.len()),
            Some(Bar::NotNative) => problem.rules.foreign.push(problem.candidates.len()),
            Some(Bar::Law) | None => {}
        }
        problem.candidates.push(candidate(entry, genus_number(entry), options));
        kept.push(index);
    }
    Composition { problem, entries: kept }
}

fn options(entry: &Entry<'_>, zones: &[ZoneOffer]) -> Vec<Choice> {
    if entry.barred == Some(Bar::Law) {
        return Vec::new();
    }
    let grows = |(zone, a): (usize, &Assessment)| {
        (a.suitability >= Verdict::GROWS).then(|| choice(entry.plant, zone, &zones[zone], a.suitability))
    };
    entry.assessments.iter().enumerate().filter_map(grows).collect()
}

fn choice(plant: &Plant, zone: usize, offer: &ZoneOffer, suitability: f64) -> Choice {
    let shares: Vec<Area> =
        (1..=offer.most.max(1)).map(|k| Area::from_m2(offer.area.m2() / k as f64)).collect();
    Choice {
        zone,
        worth: worth(plant, suitability),
        // What it reaches, or is trimmed to.
        height: (plant.height.hi().m().min(offer.tallest.m()) * 1000.0).round() as i64,
        portions: shares.iter().map(|&a| i64::from(portions(plant, offer.placement, a))).collect(),
        trim: shares.iter().map(|&a| i64::from(trim_minutes_per_month(plant, a))).collect(),
    }
}

/// What a plant is worth in a zone: 1000 for one that suits perfectly, less for one that is hard
/// to come by or does not last under water (our weights; the catalogue's columns `offered` and
/// `lasting` are common practice).
pub fn worth(plant: &Plant, suitability: f64) -> i64 {
    let rarity = match plant.offered {
        Offered::Often => 0,
        Offered::Sometimes => 40,
        Offered::Seldom => 150,
        Offered::Wild => 350,
    };
    let transience = match plant.lasting {
        Lasting::Lasting => 0,
        Lasting::Short => 250,
    };
    (suitability * 1000.0).round() as i64 - rarity - transience
}

fn candidate(entry: &Entry<'_>, genus: u32, options: Vec<Choice>) -> Candidate {
    let plant = entry.plant;
    Candidate {
        key: plant.id.0.clone(),
        genus,
        texture: plant.texture as u8,
        colour: plant.colour as u8,
        fast: plant.growth_per_day >= FAST_PER_DAY,
        price: entry.price.map(|p| p.0),
        water: Vec::new(),
        options,
    }
}
