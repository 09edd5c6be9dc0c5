//! Bounds of carbon against dense sampling, where they are hardest to hold: at almost no alkalinity.

use quillwort::tank::carbon::{CarbonateRange, CarbonateSystem, spread};
use quillwort::units::{
    CarbonateHardness, Concentration, GeneralHardness, Interval, Ph, Quantity, Temperature,
};

use crate::fit_support::Stream;

/// A box of KH, GH, temperature and pH.
#[derive(Debug, Clone, Copy)]
struct Box4 {
    kh: Interval<CarbonateHardness>,
    gh: Interval<GeneralHardness>,
    t: Interval<Temperature>,
    ph: Interval<Ph>,
}

/// A value `share` of the way between the ends.
fn within<Q: Quantity>(range: Interval<Q>, share: f64) -> Q {
    let (lo, hi) = (range.lo().base(), range.hi().base());
    Q::from_base((lo + (hi - lo) * share).clamp(lo, hi))
}

fn span<Q: Quantity>(lo: f64, width: f64) -> Interval<Q> {
    Interval::spanning(Q::from_base(lo), Q::from_base(lo + width))
}

impl Box4 {
    fn range(&self) -> CarbonateRange {
        CarbonateRange::new(self.kh, self.gh, self.t).expect("within limits")
    }

    fn water(&self, [kh, gh, t]: [f64; 3]) -> Option<CarbonateSystem> {
        CarbonateSystem::new(within(self.kh, kh), within(self.gh, gh), within(self.t, t)).ok()
    }

    /// CO2 and bicarbonate at a point of the box, where there are any.
    fn at(&self, [kh, gh, t, ph]: [f64; 4]) -> Option<(f64, f64)> {
        let (water, ph) = (self.water([kh, gh, t])?, within(self.ph, ph));
        Some((water.co2(ph).ok()?.mg_l(), water.bicarbonate(ph).ok()?.mg_l()))
    }

    /// The least and the most of bicarbonate that a fine grid of hardness and warmth reaches.
    fn reached(&self) -> (f64, f64) {
        let (mut least, mut most) = (f64::INFINITY, 0.0_f64);
        for g in 0..=400 {
            for t in 0..=10 {
                // Finer at the soft end, where the correction for activity is steepest.
                let (g, t) = ((f64::from(g) / 400.0).powi(2), f64::from(t) / 10.0);
                least = least.min(self.at([0.0, g, t, 1.0]).map_or(0.0, |(_, b)| b));
                most = most.max(self.at([1.0, g, t, 0.0]).map_or(0.0, |(_, b)| b));
            }
        }
        (least, most)
    }
}

/// Boxes from nearly no alkalinity upwards, soft and hard, acid and alkaline.
fn boxes(count: usize, stream: &mut Stream) -> Vec<Box4> {
    let mut draw = |lo: f64, hi: f64| lo + (hi - lo) * stream.next();
    let one = |_| Box4 {
        // Decades, from a thousandth of a degree to ten.
        kh: span(10.0_f64.powf(draw(-3.0, 1.0)), 10.0_f64.powf(draw(-3.0, 0.5))),
        gh: span([0.0, draw(0.0, 30.0)][usize::from(draw(0.0, 1.0) > 0.5)], draw(0.0, 10.0)),
        t: span(draw(1.0, 34.0), draw(0.0, 5.0)),
        ph: span(draw(4.0, 9.0), draw(0.0, 1.0)),
    };
    (0..count).map(one).collect()
}

fn mg(range: Interval<Concentration>) -> (f64, f64) {
    (range.lo().mg_l(), range.hi().mg_l())
}

/// Once a sample was said to lie 1.3 % outside: the upper bound was that much above all waters.
#[test]
fn almost_no_alkalinity_under_a_wide_range_of_hardness_is_bounded_closely() {
    let all = Box4 { kh: span(0.0, 0.01), gh: span(0.0, 6.2264), t: span(1.0, 0.0), ph: span(6.015, 0.0) };
    let (lo, hi) = mg(all.range().bicarbonate(all.ph).expect("some alkalinity"));
    let (_, b) = all.at([0.3779, 0.0, 0.0, 0.0]).expect("a water of the box");
    assert!(lo <= b && b <= hi, "{b} outside {lo}..{hi}");
    let (_, most) = all.reached();
    assert!(most <= hi && hi <= most * 1.000_2, "{hi} where {most} is reached");
}

#[test]
fn no_water_of_a_hundred_thousand_lies_outside() {
    let mut stream = Stream(71);
    let mut samples = 0;
    for each in boxes(1000, &mut stream) {
        let (Ok(co2), Ok(bicarbonate)) = (each.range().co2(each.ph), each.range().bicarbonate(each.ph))
        else {
            continue;
        };
        let (co2, bicarbonate) = (mg(co2), mg(bicarbonate));
        for _ in 0..150 {
            let share: [f64; 4] = std::array::from_fn(|_| stream.next());
            let Some((c, b)) = each.at(share) else { continue };
            samples += 1;
            let slack = 1.0 + 1e-12;
            assert!(co2.0 <= c * slack && c <= co2.1 * slack, "CO2 {c} outside {co2:?}: {each:?}");
            let (lo, hi) = bicarbonate;
            assert!(lo <= b * slack && b <= hi * slack, "HCO3 {b} outside {lo}..{hi}: {each:?} {share:?}");
        }
    }
    assert!(samples >= 100_000, "{samples}");
}

#[test]
fn the_bounds_are_reached() {
    let mut stream = Stream(72);
    for each in boxes(60, &mut stream) {
        let Ok(co2) = each.range().co2(each.ph) else { continue };
        let (lo, hi) = mg(co2);
        let (least, most) = (each.at([0.0, 1.0, 1.0, 1.0]), each.at([1.0, 0.0, 0.0, 0.0]));
        assert!((lo - least.map_or(0.0, |l| l.0)).abs() <= 1e-9 * hi, "{lo}, {least:?}: {each:?}");
        assert!((hi - most.map_or(0.0, |m| m.0)).abs() <= 1e-9 * hi, "{hi}, {most:?}: {each:?}");
        let (lo, hi) = mg(each.range().bicarbonate(each.ph).expect("CO2 is there"));
        let (least, most) = each.reached();
        // The grid itself misses the extreme by less than this.
        let near = spread::NEAR + 1e-4;
        assert!(hi <= most * (1.0 + near), "{hi} where {most} is reached: {each:?}");
        assert!(lo >= least * (1.0 - near), "{lo} where {least} is reached: {each:?}");
    }
}

#[test]
fn with_co2_known_no_water_lies_outside_either() {
    let mut stream = Stream(73);
    let mut samples = 0;
    for each in boxes(450, &mut stream) {
        let co2 = span(0.3 + 30.0 * stream.next(), 10.0 * stream.next());
        let Ok(bicarbonate) = each.range().bicarbonate_with(co2) else { continue };
        let (lo, hi) = mg(bicarbonate);
        for _ in 0..250 {
            let share: [f64; 4] = std::array::from_fn(|_| stream.next());
            let Some(water) = each.water([share[0], share[1], share[2]]) else { continue };
            let Ok(ph) = water.ph_for(within(co2, share[3])) else { continue };
            let b = water.bicarbonate(ph).expect("it has a pH").mg_l();
            samples += 1;
            assert!(lo <= b * (1.0 + 1e-9) && b <= hi * (1.0 + 1e-9), "{b} outside {lo}..{hi}: {each:?}");
        }
    }
    assert!(samples >= 100_000, "{samples}");
}
