//! The carbon estimate: which route it takes, what it doubts, and the course over a day.

use proptest::prelude::*;
use quillwort::tank::carbon::{
    AcidSource, Air, CarbonError, CarbonEstimate, CarbonInputs, CarbonNote, CarbonRoute, DailyCourse,
    GasHours, GasPace, GasSupply, estimate,
};
use quillwort::units::{
    CarbonateHardness, Concentration, Duration, GeneralHardness, Interval, Ph, Temperature,
};

fn span(lo: f64, hi: f64) -> Interval<Concentration> {
    Interval::spanning(Concentration::from_mg_l(lo), Concentration::from_mg_l(hi))
}

fn pressurised(target: Option<Interval<Concentration>>) -> GasSupply {
    GasSupply::Pressurised { target, hours: GasHours::USUAL, pace: GasPace::default() }
}

/// A tank at 24..25 °C, no hardness but KH (as in the PHREEQC rows), 8 h of light.
fn tank(kh: (f64, f64), ph: Option<(f64, f64)>, gas: GasSupply, acids: &[AcidSource]) -> CarbonInputs<'_> {
    CarbonInputs {
        temperature: Interval::spanning(Temperature::from_celsius(24.0), Temperature::from_celsius(25.0)),
        kh: Interval::spanning(CarbonateHardness::from_dkh(kh.0), CarbonateHardness::from_dkh(kh.1)),
        gh: Interval::point(GeneralHardness::from_dgh(0.0)),
        ph: ph.map(|(lo, hi)| Interval::spanning(Ph::new(lo), Ph::new(hi))),
        air: Air::default(),
        gas,
        acids,
        photoperiod: Duration::from_hours(8.0),
    }
}

fn of(inputs: &CarbonInputs<'_>) -> CarbonEstimate {
    estimate(inputs).expect("sound inputs")
}

/// Within 0.3 % of figures of `carbon_dioxide.csv` (4 dKH, 25 and 24 °C) and `air_equilibrium.csv`.
fn close(range: Interval<Concentration>, lo: f64, hi: f64) {
    let (a, b) = (range.lo().mg_l(), range.hi().mg_l());
    assert!((a - lo).abs() < 0.003 * lo && (b - hi).abs() < 0.003 * hi, "{a}..{b}, expected {lo}..{hi}");
}

#[test]
fn without_gas_and_ph_it_is_air_equilibrium_to_five_times_that() {
    let carbon = of(&tank((4.0, 4.0), None, GasSupply::None, &[]));
    close(carbon.co2, 0.6155, 5.0 * 0.6337);
    assert_eq!(carbon.route, CarbonRoute::StillWater);
    assert!(carbon.notes.is_empty());
    assert_eq!(carbon.course, DailyCourse::level(carbon.co2));
    // Nearly all of 4 dKH (21.76 mg/L each); carbonate takes up to 3 % at this little CO2.
    close(carbon.bicarbonate, 0.975 * 4.0 * 21.76, 0.995 * 4.0 * 21.76);
}

#[test]
fn without_gas_a_credible_reading_narrows_it() {
    // pH 7.8 at 4 dKH and 25 °C is 2.1 mg/L.
    let carbon = of(&tank((4.0, 4.0), Some((7.8, 7.8)), GasSupply::None, &[]));
    assert_eq!(carbon.route, CarbonRoute::PhAndKhWithinStillWater);
    assert_eq!(Some(carbon.co2), carbon.by_ph_and_kh);
    assert!(carbon.notes.is_empty());
}

#[test]
fn without_gas_a_claim_beyond_still_water_is_not_believed() {
    // pH 6.8 at 4 dKH claims 21 mg/L.
    let carbon = of(&tank((4.0, 4.0), Some((6.8, 6.8)), GasSupply::None, &[AcidSource::ActiveSoil]));
    close(carbon.co2, 0.6155, 5.0 * 0.6337);
    assert!(matches!(carbon.notes[0], CarbonNote::PhLoweredByOtherAcids { .. }), "{:?}", carbon.notes);
    assert_eq!(carbon.notes[1], CarbonNote::Overstates(vec![AcidSource::ActiveSoil]));
    let words: Vec<String> = carbon.notes.iter().map(ToString::to_string).collect();
    assert_eq!(
        words,
        [
            "pH and KH claim 21.4..21.7 mg/L of CO2 where 3.2 mg/L is the most to be believed: \
             something other than CO2 lowers the pH",
            "pH and KH overstate CO2: active soil lowers the pH as well",
        ]
    );
}

#[test]
fn without_gas_part_of_a_claim_may_be_cut() {
    let carbon = of(&tank((4.0, 4.0), Some((7.2, 7.8)), GasSupply::None, &[]));
    assert!(matches!(carbon.notes[..], [CarbonNote::UpperPartCut { .. }]), "{:?}", carbon.notes);
    close(carbon.co2, 2.1283, 5.0 * 0.6337);
    // Where other acids are at work the claim is an upper bound only.
    let carbon = of(&tank((4.0, 4.0), Some((7.8, 7.8)), GasSupply::None, &[AcidSource::Tint]));
    close(carbon.co2, 0.6155, 2.1559);
    assert_eq!(carbon.notes, [CarbonNote::Overstates(vec![AcidSource::Tint])]);
}

#[test]
fn less_than_air_is_believed_and_noted() {
    let carbon = of(&tank((4.0, 4.0), Some((8.8, 8.8)), GasSupply::None, &[]));
    assert_eq!(carbon.route, CarbonRoute::PhAndKh);
    assert!(carbon.co2.hi() < carbon.air.lo());
    assert!(matches!(carbon.notes[..], [CarbonNote::BelowAir { .. }]));
}

#[test]
fn without_alkalinity_ph_is_set_aside() {
    let carbon = of(&tank((0.0, 0.0), Some((6.0, 6.5)), GasSupply::None, &[]));
    assert_eq!(carbon.route, CarbonRoute::StillWater);
    assert_eq!(carbon.notes, [CarbonNote::NoAlkalinity]);
    assert_eq!(carbon.bicarbonate, span(0.0, 0.0));
    assert_eq!(carbon.by_product_rule, None);
    let error = estimate(&tank((0.0, 0.0), Some((6.0, 6.5)), pressurised(None), &[]));
    assert_eq!(error, Err(CarbonError::NothingToGoBy));
    // A range that begins at 0 still has an upper end.
    let carbon = of(&tank((0.0, 1.0), Some((6.4, 6.4)), pressurised(None), &[]));
    assert!(carbon.co2.lo().mg_l() < 0.2 && carbon.co2.hi().mg_l() > 10.0, "{:?}", carbon.co2);
}

#[test]
fn with_gas_the_target_counts_and_the_reading_is_held_against_it() {
    let target = Some(span(25.0, 30.0));
    let agreed = of(&tank((4.0, 4.0), Some((6.6, 6.7)), pressurised(target), &[]));
    assert_eq!((agreed.co2, agreed.notes.len()), (span(25.0, 30.0), 0));
    let not_reached = of(&tank((4.0, 4.0), Some((7.2, 7.2)), pressurised(target), &[]));
    assert!(matches!(not_reached.notes[..], [CarbonNote::TargetAboveReading { .. }]));
    close(not_reached.co2, 8.52, 30.0);
    let acids = [AcidSource::Wood];
    let sour = of(&tank((4.0, 4.0), Some((6.2, 6.2)), pressurised(target), &acids));
    assert_eq!(sour.co2, span(25.0, 30.0));
    assert!(matches!(sour.notes[0], CarbonNote::PhLoweredByOtherAcids { .. }));
}

#[test]
fn with_gas_and_no_target_the_reading_counts() {
    let by_reading = of(&tank((4.0, 4.0), Some((6.6, 6.8)), pressurised(None), &[]));
    assert_eq!(by_reading.route, CarbonRoute::PhAndKh);
    close(by_reading.co2, 21.4267, 34.4047);
    let rule = by_reading.by_product_rule.expect("pH and KH were given");
    close(rule.co2, 12.0 * 1.584_89, 12.0 * 2.511_89);
    assert!((rule.error.value() + 0.11).abs() < 0.02, "{:?}", rule.error);
    let on_soil = of(&tank((4.0, 4.0), Some((6.6, 6.8)), pressurised(None), &[AcidSource::ActiveSoil]));
    close(on_soil.co2, 0.6155, 34.4047);
    let absurd = of(&tank((8.0, 8.0), Some((6.0, 6.0)), pressurised(None), &[]));
    assert!(matches!(absurd.notes[..], [CarbonNote::Doubtful { .. }]));
}

#[test]
fn fermentation_without_a_reading_takes_the_usual_span() {
    let carbon = of(&tank((4.0, 4.0), None, GasSupply::Fermentation { target: None }, &[]));
    assert_eq!((carbon.co2, carbon.route), (span(5.0, 20.0), CarbonRoute::UsualFermentation));
    assert_eq!(carbon.course.lights_on, carbon.co2);
}

#[test]
fn a_bad_day_is_refused() {
    let day = |hours: f64, lead: f64, early_stop: f64| {
        let hours_of_gas = GasHours::Timed {
            lead: Duration::from_hours(lead),
            early_stop: Duration::from_hours(early_stop),
        };
        let (level, rest) = (span(30.0, 30.0), span(1.0, 3.0));
        DailyCourse::new(Duration::from_hours(hours), hours_of_gas, GasPace::default(), level, rest).err()
    };
    for hours in [0.0, -1.0, 25.0, f64::NAN] {
        assert!(matches!(day(hours, 1.0, 1.0), Some(CarbonError::Time(_))), "{hours} h");
    }
    assert!(matches!(day(8.0, f64::NAN, 1.0), Some(CarbonError::Time(_))));
    assert!(matches!(day(8.0, 0.0, 8.0), Some(CarbonError::GasNeverOn(_))));
    assert_eq!(day(24.0, 1.0, 0.0), None);
    let pace = GasPace::new(Duration::from_hours(0.0), Duration::from_hours(1.0));
    assert!(matches!(pace, Err(CarbonError::Time(_))));
}

/// The same day by small steps of the differential equation, from the third day on:
/// (lights on, mean, lights off).
fn stepped(day: f64, lead: f64, early_stop: f64, pace: (f64, f64), level: f64, rest: f64) -> (f64, f64, f64) {
    let steps = 24_000;
    let dt = 24.0 / f64::from(steps);
    let gas = day + lead - early_stop;
    let (mut co2, mut on, mut off, mut sum) = (rest, 0.0, 0.0, 0.0);
    for n in 0..(80 * steps) {
        let time = f64::from(n % steps) * dt;
        let from_gas_on = (time + lead).rem_euclid(24.0);
        if n >= 79 * steps {
            let step = |a: f64| (time - a).abs() < dt / 2.0;
            if step(0.0) {
                on = co2;
            }
            if step(day) {
                off = co2;
            }
            if time < day {
                sum += co2 * dt;
            }
        }
        let (to, constant) = if from_gas_on < gas { (level, pace.0) } else { (rest, pace.1) };
        co2 += (to - co2) / constant * dt;
    }
    (on, sum / day, off)
}

#[test]
fn the_course_solves_its_differential_equation() {
    for (day, lead, stop, pace) in [
        (8.0, 1.0, 1.0, (0.75, 2.5)),
        (10.0, 2.0, 0.0, (0.5, 15.0)),
        (6.0, -1.0, 2.0, (2.0, 30.0)),
        (12.0, 3.0, -1.0, (1.0, 5.0)),
        (8.0, 0.0, 6.0, (1.0, 1.0)),
    ] {
        let (on, mean, off) = stepped(day, lead, stop, pace, 30.0, 2.0);
        let hours =
            GasHours::Timed { lead: Duration::from_hours(lead), early_stop: Duration::from_hours(stop) };
        let gas_pace =
            GasPace::new(Duration::from_hours(pace.0), Duration::from_hours(pace.1)).expect("sound times");
        let course =
            DailyCourse::new(Duration::from_hours(day), hours, gas_pace, span(30.0, 30.0), span(2.0, 2.0))
                .expect("a sound day");
        for (ours, theirs) in
            [(course.lights_on, on), (course.photoperiod_mean, mean), (course.lights_off, off)]
        {
            assert!((ours.lo().mg_l() - theirs).abs() < 0.05, "{ours:?} {theirs} for {day} {lead} {stop}");
        }
    }
}

proptest! {
    #[test]
    fn no_sound_input_gives_a_figure_that_is_not_a_number(
        kh in (0.0..60.0f64, 0.0..60.0f64), ph in (3.5..10.5f64, 3.5..10.5f64), target in (0.5..100.0f64, 0.5..100.0f64),
        which in 0..5u8, soil: bool,
    ) {
        let gas = match which {
            0 => GasSupply::None,
            1 => pressurised(None),
            2 => pressurised(Some(span(target.0, target.1))),
            3 => GasSupply::Fermentation { target: None },
            _ => GasSupply::Fermentation { target: Some(span(target.0, target.1)) },
        };
        let acids: &[AcidSource] = if soil { &[AcidSource::ActiveSoil] } else { &[] };
        let ph = (which != 1 || soil).then_some(ph);
        if let Ok(carbon) = estimate(&tank(kh, ph, gas, acids)) {
            let course = carbon.course;
            for range in [carbon.co2, carbon.bicarbonate, course.lights_on, course.photoperiod_mean, course.lights_off] {
                prop_assert!(range.lo().mg_l() >= 0.0 && range.lo() <= range.hi() && range.hi().mg_l().is_finite());
            }
        }
    }

    #[test]
    fn more_gas_hours_never_lower_co2(lead in 0.0..6.0f64, more in 0.0..6.0f64, day in 4.0..12.0f64) {
        let course = |lead: f64| {
            let hours = GasHours::Timed { lead: Duration::from_hours(lead), early_stop: Duration::from_hours(1.0) };
            DailyCourse::new(Duration::from_hours(day), hours, GasPace::default(), span(20.0, 30.0), span(0.6, 3.0))
                .expect("a sound day")
        };
        let (less, more) = (course(lead), course(lead + more));
        prop_assert!(more.lights_on.lo().mg_l() >= less.lights_on.lo().mg_l() - 1e-12);
        prop_assert!(more.photoperiod_mean.hi().mg_l() >= less.photoperiod_mean.hi().mg_l() - 1e-12);
    }
}
