//! A reader for the synthetic instances, shared by the tests and the benchmark.

use std::fs;
use std::path::Path;

use quillwort::select::{Candidate, Choice, Problem, Rules, Share, SightLine, Weights, Zone};
use serde::Deserialize;

#[derive(Deserialize)]
struct Instance {
    w_s: i64,
    a: i64,
    b: i64,
    pen: i64,
    budget: i64,
    trim: i64,
    #[serde(rename = "F")]
    fast: [i64; 2],
    m: usize,
    zones: Vec<InstanceZone>,
    adj: Vec<[usize; 2]>,
    behind: Vec<[usize; 2]>,
    required: Vec<usize>,
    excluded: Vec<[usize; 2]>,
    region_only: Option<Vec<u32>>,
    species: Vec<Species>,
}

#[derive(Deserialize)]
struct InstanceZone {
    row: usize,
    col: usize,
    kmin: usize,
    kmax: usize,
}

#[derive(Deserialize)]
struct Species {
    p: i64,
    t: i64,
    tex: u8,
    col: u8,
    h: i64,
    fast: u8,
    g: u32,
    r: u32,
    opts: Vec<[i64; 3]>,
}

/// Reads one synthetic instance; heights become millimetres.
pub fn read_instance(path: &Path) -> Problem {
    let text = fs::read_to_string(path).expect("the instance is readable");
    let given: Instance = serde_json::from_str(&text).expect("the instance has the known format");
    let candidates = given.species.iter().enumerate().map(|(n, s)| Candidate {
        key: format!("taxon-{n:04}"),
        genus: s.g,
        texture: s.tex,
        colour: s.col,
        fast: s.fast == 1,
        price: Some(s.p),
        water: Vec::new(),
        options: s
            .opts
            .iter()
            .filter(|_| given.region_only.as_ref().is_none_or(|only| only.contains(&s.r)))
            .map(|&[zone, worth, portions]| Choice {
                zone: usize::try_from(zone).expect("a zone is not negative"),
                worth,
                height: s.h * 10,
                portions: vec![portions],
                trim: vec![s.t],
            })
            .collect(),
    });
    Problem {
        zones: given
            .zones
            .iter()
            .map(|z| Zone { name: format!("row {} column {}", z.row, z.col), least: z.kmin, most: z.kmax })
            .collect(),
        neighbours: given.adj,
        sight_lines: given.behind.iter().map(|&[nearer, farther]| SightLine { nearer, farther }).collect(),
        water: Vec::new(),
        candidates: candidates.collect(),
        weights: Weights { suitability: given.w_s, texture: given.a, colour: given.b, genus: given.pen },
        rules: Rules {
            budget: Some(given.budget),
            trim: Some(given.trim),
            fast: Some(Share { part: given.fast[0], whole: given.fast[1] }),
            per_genus: Some(given.m),
            must: given.required,
            excluded: given.excluded,
            ..Rules::default()
        },
    }
}
