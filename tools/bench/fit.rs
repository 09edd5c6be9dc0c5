//! Fit's figures on the shipped catalogue and the low-tech demo tank, one core: verdicts a second
//! without uncertainty (to stay above 2 million) and with it (above 300 thousand), and what the
//! parts of a remedy cost.

use std::hint::black_box;
use std::time::Instant;

use quillwort::catalogue::{Plant, SHIPPED, read_catalogue};
use quillwort::diagnostic::Document;
use quillwort::fit::{ZoneConditions, assess, bounds, certainty};
use quillwort::tank::light::{PhotonBands, Spectrum};
use quillwort::tank::{TankModel, carbon_of, file, model};

fn tank(plants: &mut Vec<Plant>) -> TankModel {
    let documents: Vec<_> = SHIPPED.iter().map(|f| Document::new(f.name, f.text)).collect();
    let (catalogue, _) = read_catalogue(&documents);
    *plants = catalogue.plants;
    let spectra: Vec<Spectrum> = catalogue
        .lights
        .into_iter()
        .map(|l| {
            let bands = PhotonBands::from_shares(&l.bands).expect("shipped bands add up");
            Spectrum { key: l.key, lux_per_umol: l.lux_per_umol, bands }
        })
        .collect();
    let default = spectra.iter().find(|s| s.key == "led-6600k").expect("the default spectrum is shipped");
    let text = include_str!("../../data/demo/attic-lowtech.toml");
    let (spec, _) = file::read(&Document::new("attic", text)).expect("the demo is lawful");
    model(&spec, &spectra, default).expect("the demo can be computed")
}

/// Seconds for one piece of work, the median of rounds that take long enough to be timed.
fn each(rounds: usize, repeats: usize, mut work: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..rounds)
        .map(|_| {
            let start = Instant::now();
            for _ in 0..repeats {
                work();
            }
            start.elapsed().as_secs_f64() / repeats as f64
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[rounds / 2]
}

fn main() {
    let mut plants = Vec::new();
    let model = tank(&mut plants);
    let zones = ZoneConditions::all(&model);
    let pairs = (plants.len() * zones.len()) as f64;
    let over = |judge: &dyn Fn(&Plant, &ZoneConditions)| {
        for plant in &plants {
            for zone in &zones {
                judge(black_box(plant), black_box(zone));
            }
        }
    };
    let plain = each(11, 5, || over(&|p, z| _ = black_box(assess(p, z))));
    let bounded = each(11, 5, || over(&|p, z| _ = black_box((assess(p, z), bounds(p, z)))));
    let sure = each(5, 2, || over(&|p, z| drop(black_box(certainty(p, z)))));
    println!("{} plants in {} zones", plants.len(), zones.len());
    println!("verdicts            {:9.0} /s", pairs / plain);
    println!("  with bounds       {:9.0} /s", pairs / bounded);
    println!("  what settles them {:9.0} /s", pairs / sure);
    let carbon = each(11, 200, || drop(black_box(carbon_of(black_box(&model.spec)))));
    let conditions = each(11, 20, || drop(black_box(ZoneConditions::all(black_box(&model)))));
    println!("carbon of a tank    {:9.1} µs", carbon * 1e6);
    println!("conditions of zones {:9.1} µs", conditions * 1e6);
}
