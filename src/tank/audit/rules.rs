//! The rules themselves, a function each.

use super::{AuditLine, AuditValue, Origin, Standing, Topic, balance};
use crate::tank::carbon::{CarbonEstimate, GasHours, GasSupply};
use crate::tank::file::{BedKind, Livestock, Material};
use crate::tank::geometry::BedProfile;
use crate::units::{Duration, FlowRate, Fraction, Ppfd, Volume};

/// Below, within or above a usual span, with words for each.
fn against(
    value: f64,
    usual: std::ops::RangeInclusive<f64>,
    words: [&'static str; 3],
) -> (Standing, &'static str) {
    if usual.contains(&value) {
        (Standing::Usual, words[1])
    } else if value > *usual.end() {
        (Standing::Unusual, words[2])
    } else {
        (Standing::Unusual, words[0])
    }
}

/// About 8 hours; 6 to 10 pass.
pub(super) fn photoperiod(hours: Duration) -> AuditLine {
    let words =
        ["short: plants may not get their day's light", "as usual", "long: feeds algae more than plants"];
    let verdict = against(hours.hours(), 6.0..=10.0, words);
    AuditLine::practice(
        Topic::Photoperiod,
        AuditValue::Time(hours),
        verdict,
        "about 8 hours of light a day, on a timer",
    )
}

/// On an hour before light, off an hour before dark; half an hour to two hours pass.
pub(super) fn gas_timer(gas: GasSupply) -> Option<AuditLine> {
    const RULE: &str = "gas on 1 hour before light, off 1 hour before its end";
    let GasSupply::Pressurised { hours, .. } = gas else { return None };
    let GasHours::Timed { lead, early_stop } = hours else {
        let verdict = (Standing::Unusual, "day and night: CO2 is highest when nothing uses it");
        return Some(AuditLine::practice(Topic::GasTimer, None, verdict, RULE));
    };
    let (standing, words) = against(
        lead.hours(),
        0.5..=2.0,
        [
            "late: CO2 is still low when the light comes on",
            "as usual",
            "early: gas runs for hours with nothing to use it",
        ],
    );
    let stop = "stops late: CO2 lasts into the dark";
    let early = "stops early: the last hours of light run short of CO2";
    let verdict = match (standing, against(early_stop.hours(), 0.25..=2.0, [stop, words, early])) {
        (Standing::Usual, stopping) => stopping,
        starting => (starting.0, words),
    };
    Some(AuditLine::practice(Topic::GasTimer, AuditValue::GasLead(lead, early_stop), verdict, RULE))
}

/// What light allows against what carbon allows; see [`balance`].
pub(super) fn light_and_carbon(
    light: Ppfd,
    photoperiod: Duration,
    carbon: &CarbonEstimate,
    gas: GasSupply,
) -> AuditLine {
    let light = balance::light_support(light, photoperiod);
    let support = balance::carbon_support(carbon.course.photoperiod_mean);
    let (standing, words) = if light > support.hi() {
        (Standing::Unusual, "more light than the carbon can feed: algae take the rest")
    } else if light > support.lo() {
        (Standing::Usual, "in balance only if CO2 is at the upper end of its range")
    } else if matches!(gas, GasSupply::Pressurised { .. }) && light.value() < 0.5 * support.lo().value() {
        (Standing::Unusual, "more gas than the light can use")
    } else {
        (Standing::Usual, "in balance: light, not carbon, sets the pace")
    };
    AuditLine {
        topic: Topic::LightAndCarbon,
        value: Some(AuditValue::Support(light, support)),
        standing,
        words,
        rule: "light should not support more growth than carbon does",
        origin: Origin::Source(balance::ORIGIN),
    }
}

/// CO2 above about 30 mg/L is hard on fish.
pub(super) fn gas_and_fish(carbon: &CarbonEstimate, livestock: Livestock) -> Option<AuditLine> {
    if livestock == Livestock::None {
        return None;
    }
    let highest = carbon.co2.hi().mg_l();
    let verdict = if highest > 30.0 {
        (Standing::Unusual, "more than fish breathe well in: watch for gasping at the surface")
    } else {
        (Standing::Usual, "below what troubles fish")
    };
    let rule = "CO2 up to about 30 mg/L where fish live";
    Some(AuditLine::practice(Topic::GasAndFish, AuditValue::Co2(carbon.co2), verdict, rule))
}

/// About ten volumes an hour; 5 to 15 pass.
pub(super) fn turnover(flow: Option<FlowRate>, water: Volume) -> AuditLine {
    const RULE: &str = "the filter moves about 10 times the water an hour, by its nominal flow";
    let times = flow.map(|flow| flow.l_h() / water.litres()).filter(|t| t.is_finite());
    let Some(times) = times else {
        return AuditLine::practice(Topic::Turnover, None, (Standing::NotStated, "not stated"), RULE);
    };
    let words = [
        "weak: food and CO2 may not reach every corner",
        "as usual",
        "strong: light plants may be torn loose",
    ];
    let verdict = against(times, 5.0..=15.0, words);
    AuditLine::practice(Topic::Turnover, AuditValue::VolumesPerHour(times), verdict, RULE)
}

/// Half the water weekly; 30 to 70 % pass.
pub(super) fn water_change(share: Option<Fraction>) -> AuditLine {
    const RULE: &str = "half of the water changed weekly";
    let Some(share) = share else {
        return AuditLine::practice(Topic::WaterChange, None, (Standing::NotStated, "not stated"), RULE);
    };
    let words =
        ["less than usual: waste builds up", "as usual", "more than usual: match temperature and hardness"];
    let verdict = against(share.value(), 0.3..=0.7, words);
    AuditLine::practice(Topic::WaterChange, AuditValue::Share(share), verdict, RULE)
}

/// Active soil feeds for the first weeks.
pub(super) fn feeding(bed: BedKind) -> AuditLine {
    let (words, rule) = match bed {
        BedKind::ActiveSoil => (
            "no liquid feed at first; begin in week 3 or 4",
            "over active soil, liquid feed from week 3 to 4",
        ),
        BedKind::CappedSoil => (
            "the soil feeds roots; feed the water once plants grow",
            "over capped soil, liquid feed once plants grow",
        ),
        BedKind::Sand | BedKind::Gravel | BedKind::Bare => (
            "the bed holds no food: feed the water from the start, and roots where they feed",
            "over a bed without food, liquid feed from the start",
        ),
    };
    AuditLine::practice(Topic::Feeding, None, (Standing::Advice, words), rule)
}

/// Thin in front, thick behind, not steeper than it holds.
pub(super) fn bed_slope(kind: BedKind, bed: BedProfile) -> Option<AuditLine> {
    // Dry sand rests at 30 to 35°; roots and stones hold more, water movement less.
    const STEEPEST_DEGREES: f64 = 25.0;
    if kind == BedKind::Bare {
        return None;
    }
    let degrees = bed.slope().degrees();
    let verdict = if degrees.abs() > STEEPEST_DEGREES {
        (Standing::Unusual, "steep: it will slide unless it is held")
    } else if degrees > 0.5 {
        (Standing::Usual, "as usual")
    } else if degrees >= -0.5 {
        (Standing::Unusual, "level: little room for roots behind, little depth to the eye")
    } else {
        (Standing::Unusual, "thicker in front: tall plants behind get the least room for roots")
    };
    let value = AuditValue::FrontAndBack(bed.front(), bed.back());
    Some(AuditLine::practice(Topic::BedSlope, value, verdict, "bed thin in front and thick behind"))
}

/// Carbonate rock hardens the water.
pub(super) fn carbonate_rock(hardscape: &[Material]) -> Option<AuditLine> {
    let line = AuditLine {
        topic: Topic::CarbonateRock,
        value: None,
        standing: Standing::Advice,
        words: "raises KH and GH between water changes, faster with gas: measure before you trust a figure",
        rule: "carbonate rock dissolves in water that holds CO2",
        origin: Origin::Source("calcite equilibria, Plummer & Busenberg 1982"),
    };
    hardscape.contains(&Material::CarbonateRock).then_some(line)
}

/// Wood floats and stains.
pub(super) fn wood(hardscape: &[Material]) -> Option<AuditLine> {
    let verdict = (Standing::Advice, "may float until it is soaked, and may stain the water for months");
    let rule = "wood is soaked or weighed down before planting";
    hardscape.contains(&Material::Wood).then(|| AuditLine::practice(Topic::Wood, None, verdict, rule))
}

/// Monthly trim.
pub(super) fn trim() -> AuditLine {
    let verdict = (Standing::Advice, "plan a trim each month; fast plants need more");
    AuditLine::practice(Topic::Trim, None, verdict, "plants trimmed about once a month")
}

/// Up to three months.
pub(super) fn maturing() -> AuditLine {
    let verdict =
        (Standing::Advice, "expect algae and melting leaves in the first weeks; judge after three months");
    AuditLine::practice(Topic::Maturing, None, verdict, "a new tank takes up to 3 months to mature")
}
