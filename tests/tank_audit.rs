//! The set-up audit: each rule at its edges, and what every line must carry.

use proptest::prelude::*;
use quillwort::tank::audit::{
    AuditLine, Origin, SetUp, Standing, Topic, audit, carbon_support, light_support,
};
use quillwort::tank::carbon::{Air, CarbonEstimate, CarbonInputs, GasHours, GasPace, GasSupply, estimate};
use quillwort::tank::file::{BedKind, Livestock, Material};
use quillwort::tank::geometry::BedProfile;
use quillwort::units::{
    CarbonateHardness, Concentration, Duration, FlowRate, Fraction, GeneralHardness, Interval, Length, Ppfd,
    Temperature, UnitSystem, Volume,
};

fn span(lo: f64, hi: f64) -> Interval<Concentration> {
    Interval::spanning(Concentration::from_mg_l(lo), Concentration::from_mg_l(hi))
}

fn gas(target: (f64, f64), hours: GasHours) -> GasSupply {
    GasSupply::Pressurised { target: Some(span(target.0, target.1)), hours, pace: GasPace::default() }
}

fn timed(lead: f64, early_stop: f64) -> GasHours {
    GasHours::Timed { lead: Duration::from_hours(lead), early_stop: Duration::from_hours(early_stop) }
}

fn carbon(gas: GasSupply) -> CarbonEstimate {
    let inputs = CarbonInputs {
        temperature: Interval::point(Temperature::from_celsius(25.0)),
        kh: Interval::point(CarbonateHardness::from_dkh(4.0)),
        gh: Interval::point(GeneralHardness::from_dgh(6.0)),
        ph: None,
        air: Air::default(),
        gas,
        acids: &[],
        photoperiod: Duration::from_hours(8.0),
    };
    estimate(&inputs).expect("sound inputs")
}

fn bed(front: f64, back: f64) -> BedProfile {
    let cm = Length::from_cm;
    BedProfile::new(cm(front), cm(back), cm(30.0)).expect("a bed")
}

/// A 46 L tank with gas that keeps every rule.
fn usual(carbon: &CarbonEstimate) -> SetUp<'_> {
    SetUp {
        photoperiod: Duration::from_hours(8.0),
        gas: gas((20.0, 28.0), GasHours::USUAL),
        water: Volume::from_litres(46.0),
        filter_flow: Some(FlowRate::from_l_h(460.0)),
        weekly_change: Some(Fraction::new(0.5)),
        bed_kind: BedKind::ActiveSoil,
        bed: bed(3.0, 8.0),
        hardscape: &[],
        livestock: Livestock::Fish,
        light: Some(Ppfd::from_umol_m2_s(60.0)),
        carbon,
    }
}

fn gassed() -> CarbonEstimate {
    carbon(gas((20.0, 28.0), GasHours::USUAL))
}

fn line(topic: Topic, tank: &SetUp<'_>) -> Option<AuditLine> {
    audit(tank).into_iter().find(|line| line.topic == topic)
}

fn standing(topic: Topic, tank: &SetUp<'_>) -> Standing {
    line(topic, tank).unwrap_or_else(|| panic!("no line on {topic}")).standing
}

#[test]
fn a_tank_run_as_usual_has_nothing_unusual() {
    use Topic::{
        BedSlope, Feeding, GasAndFish, GasTimer, LightAndCarbon, Maturing, Photoperiod, Trim, Turnover,
        WaterChange,
    };
    let carbon = gassed();
    let tank = usual(&carbon);
    for topic in [Photoperiod, GasTimer, LightAndCarbon, GasAndFish, Turnover, WaterChange, BedSlope] {
        assert_eq!(standing(topic, &tank), Standing::Usual, "{topic}");
    }
    for topic in [Feeding, Trim, Maturing] {
        assert_eq!(standing(topic, &tank), Standing::Advice, "{topic}");
    }
    assert_eq!(audit(&tank).len(), 10, "nothing on wood and rock");
}

#[test]
fn hours_flow_and_water_change_have_their_usual_spans() {
    use Standing::{NotStated, Unusual, Usual};
    let carbon = gassed();
    for (hours, expected) in [(5.9, Unusual), (6.0, Usual), (10.0, Usual), (10.1, Unusual)] {
        let tank = SetUp { photoperiod: Duration::from_hours(hours), ..usual(&carbon) };
        assert_eq!(standing(Topic::Photoperiod, &tank), expected, "{hours} h");
    }
    for (flow, expected) in [(200.0, Unusual), (240.0, Usual), (680.0, Usual), (700.0, Unusual)] {
        let tank = SetUp { filter_flow: Some(FlowRate::from_l_h(flow)), ..usual(&carbon) };
        assert_eq!(standing(Topic::Turnover, &tank), expected, "{flow} L/h");
    }
    for (share, expected) in [(0.2, Unusual), (0.3, Usual), (0.7, Usual), (0.9, Unusual)] {
        let tank = SetUp { weekly_change: Some(Fraction::new(share)), ..usual(&carbon) };
        assert_eq!(standing(Topic::WaterChange, &tank), expected, "{share}");
    }
    let silent = SetUp { filter_flow: None, weekly_change: None, ..usual(&carbon) };
    assert_eq!(standing(Topic::Turnover, &silent), NotStated);
    assert_eq!(standing(Topic::WaterChange, &silent), NotStated);
}

#[test]
fn the_bed_is_thin_in_front_and_the_hardscape_is_named() {
    use Standing::{Unusual, Usual};
    let carbon = gassed();
    for (front, back, expected) in
        [(3.0, 8.0, Usual), (5.0, 5.0, Unusual), (8.0, 3.0, Unusual), (1.0, 18.0, Unusual)]
    {
        let tank = SetUp { bed: bed(front, back), ..usual(&carbon) };
        assert_eq!(standing(Topic::BedSlope, &tank), expected, "{front} to {back} cm");
    }
    let bare = SetUp { bed_kind: BedKind::Bare, ..usual(&carbon) };
    assert_eq!(line(Topic::BedSlope, &bare), None);
    let both = SetUp { hardscape: &[Material::Wood, Material::CarbonateRock], ..usual(&carbon) };
    let inert = SetUp { hardscape: &[Material::InertRock], ..usual(&carbon) };
    for topic in [Topic::Wood, Topic::CarbonateRock] {
        assert_eq!(standing(topic, &both), Standing::Advice);
        assert_eq!(line(topic, &inert), None);
    }
    let feeding =
        |bed_kind| line(Topic::Feeding, &SetUp { bed_kind, ..usual(&carbon) }).expect("always there");
    assert!(feeding(BedKind::ActiveSoil).words.contains("week 3"));
    assert_ne!(feeding(BedKind::ActiveSoil).words, feeding(BedKind::Sand).words);
}

#[test]
fn the_gas_timer_is_held_against_the_light() {
    use Standing::{Unusual, Usual};
    let carbon = gassed();
    for (lead, stop, expected, word) in [
        (1.0, 1.0, Usual, "as usual"),
        (0.0, 1.0, Unusual, "late"),
        (3.0, 1.0, Unusual, "early: gas"),
        (1.0, 0.0, Unusual, "stops late"),
        (1.0, 3.0, Unusual, "stops early"),
    ] {
        let tank = SetUp { gas: gas((20.0, 28.0), timed(lead, stop)), ..usual(&carbon) };
        let found = line(Topic::GasTimer, &tank).expect("there is gas");
        assert_eq!(found.standing, expected, "{lead} {stop}");
        assert!(found.words.starts_with(word), "{} for {lead} {stop}", found.words);
    }
    let all_day = SetUp { gas: gas((20.0, 28.0), GasHours::AllDay), ..usual(&carbon) };
    assert_eq!(standing(Topic::GasTimer, &all_day), Unusual);
    for gas in [GasSupply::None, GasSupply::Fermentation { target: None }] {
        assert_eq!(line(Topic::GasTimer, &SetUp { gas, ..usual(&carbon) }), None);
    }
}

#[test]
fn light_is_held_against_carbon() {
    let on = |ppfd: f64, gas: GasSupply| {
        let carbon = carbon(gas);
        let tank = SetUp { gas, light: Some(Ppfd::from_umol_m2_s(ppfd)), ..usual(&carbon) };
        line(Topic::LightAndCarbon, &tank).expect("there is light")
    };
    // Without gas carbon allows 10 to 39 % of full growth; 25 µmol/m²/s is light for 24 %, 80 for 66 %.
    assert_eq!(on(25.0, GasSupply::None).standing, Standing::Usual);
    let hungry = on(80.0, GasSupply::None);
    assert_eq!(hungry.standing, Standing::Unusual);
    let shown = hungry.value.expect("a figure").show(UnitSystem::Metric);
    assert_eq!(shown, "light for 66 %, carbon for 10..39 % of full growth");
    let supply = gas((25.0, 30.0), GasHours::USUAL);
    assert_eq!(on(80.0, supply).standing, Standing::Usual);
    let wasted = on(20.0, supply);
    assert_eq!((wasted.standing, wasted.words), (Standing::Unusual, "more gas than the light can use"));
    let carbon = gassed();
    assert_eq!(line(Topic::LightAndCarbon, &SetUp { light: None, ..usual(&carbon) }), None);
}

#[test]
fn gas_is_held_against_fish() {
    let strong = carbon(gas((30.0, 45.0), GasHours::USUAL));
    assert_eq!(standing(Topic::GasAndFish, &usual(&strong)), Standing::Unusual);
    let empty = SetUp { livestock: Livestock::None, ..usual(&strong) };
    assert_eq!(line(Topic::GasAndFish, &empty), None);
}

#[test]
fn every_line_says_its_rule_and_where_it_comes_from() {
    let carbon = gassed();
    let lines = audit(&SetUp { hardscape: &[Material::Wood, Material::CarbonateRock], ..usual(&carbon) });
    assert_eq!(lines.len(), 12, "every topic once");
    assert!(lines.is_sorted_by_key(|l| l.topic), "in a fixed order");
    for line in lines {
        assert!(!line.words.is_empty() && !line.rule.is_empty() && !line.topic.to_string().is_empty());
        assert!(!line.origin.to_string().is_empty());
        let sourced = matches!(line.topic, Topic::LightAndCarbon | Topic::CarbonateRock);
        assert_eq!(line.origin != Origin::CommonPractice, sourced, "{}", line.topic);
    }
}

#[test]
fn support_is_half_at_its_half_rate_and_none_at_compensation() {
    // 110 µmol/L of CO2 is 4.84 mg/L, 2.5 µmol/L is 0.11 mg/L.
    assert!((carbon_support(span(4.84, 4.84)).lo().value() - 0.5).abs() < 1e-9);
    assert!(carbon_support(span(0.05, 0.11)).hi().value().abs() < 1e-9);
    let full = light_support(Ppfd::from_umol_m2_s(1000.0), Duration::from_hours(8.0));
    assert!((full.value() - 1.0).abs() < 1e-6);
}

proptest! {
    #[test]
    fn more_light_or_more_carbon_never_supports_less(
        ppfd in 0.0..500.0f64, hours in 1.0..14.0f64, co2 in 0.0..60.0f64, step in 0.0..50.0f64,
    ) {
        let light = |ppfd: f64, h: f64| light_support(Ppfd::from_umol_m2_s(ppfd), Duration::from_hours(h)).value();
        prop_assert!(light(ppfd + step, hours) >= light(ppfd, hours));
        prop_assert!(light(ppfd, hours + step / 10.0) >= light(ppfd, hours));
        let support = carbon_support(span(co2, co2 + step));
        prop_assert!(0.0 <= support.lo().value() && support.lo() <= support.hi() && support.hi().value() < 1.0);
    }
}
