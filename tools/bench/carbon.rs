//! How long the carbon of a tank takes. Goal: under 20 µs for the whole estimate.
//!
//! `cargo bench --bench carbon`

use std::hint::black_box;
use std::time::Instant;

use quillwort::tank::carbon::{
    AcidSource, Air, CarbonInputs, CarbonateSystem, GasHours, GasPace, GasSupply, estimate,
};
use quillwort::units::{
    CarbonateHardness, Concentration, Duration, GeneralHardness, Interval, Ph, Temperature,
};

/// Prints the median and the best of 31 rounds, nanoseconds a call.
fn time<R>(name: &str, mut work: impl FnMut() -> R) {
    const CALLS: u32 = 2_000;
    let mut round = || {
        let start = Instant::now();
        for _ in 0..CALLS {
            black_box(work());
        }
        start.elapsed().as_secs_f64() * 1e9 / f64::from(CALLS)
    };
    let mut rounds: Vec<f64> = (0..31).map(|_| round()).collect();
    rounds.sort_by(f64::total_cmp);
    println!("{name:<36} median {:>8.0} ns   best {:>8.0} ns", rounds[15], rounds[0]);
}

fn inputs(gas: GasSupply) -> CarbonInputs<'static> {
    CarbonInputs {
        temperature: Interval::spanning(Temperature::from_celsius(23.0), Temperature::from_celsius(25.0)),
        kh: Interval::spanning(CarbonateHardness::from_dkh(3.0), CarbonateHardness::from_dkh(5.0)),
        gh: Interval::spanning(GeneralHardness::from_dgh(6.0), GeneralHardness::from_dgh(8.0)),
        ph: Some(Interval::spanning(Ph::new(6.6), Ph::new(7.0))),
        air: Air::default(),
        gas,
        acids: &[AcidSource::Wood],
        photoperiod: Duration::from_hours(8.0),
    }
}

fn main() {
    let gas = GasSupply::Pressurised { target: None, hours: GasHours::USUAL, pace: GasPace::default() };
    time("estimate, pressurised, ranges", || estimate(black_box(&inputs(gas))));
    time("estimate, no gas, ranges", || estimate(black_box(&inputs(GasSupply::None))));
    let system = || {
        let (kh, gh) = (CarbonateHardness::from_dkh(4.0), GeneralHardness::from_dgh(6.0));
        CarbonateSystem::new(black_box(kh), gh, Temperature::from_celsius(24.0))
    };
    time("one water and its CO2", || system().and_then(|s| s.co2(black_box(Ph::new(6.8)))));
    let water = system().expect("a water within limits");
    time("pH for 25 mg/L", || water.ph_for(black_box(Concentration::from_mg_l(25.0))));
}
