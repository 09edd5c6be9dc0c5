//! A measured value: what is taken for it, and what the measurement leaves open.
//!
//! A bare number in a tank file is not exact: it was read from a test kit. It gets the
//! resolution of the usual kit as its range, see [`resolution`].

use crate::tank::LightBasis;
use crate::tank::file::{LampSpec, LightReading, TankSpec};
use crate::units::{Fraction, Interval, Quantity};

/// A nominal value inside the range that a measurement leaves open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured<Q> {
    nominal: Q,
    range: Interval<Q>,
}

impl<Q: Quantity> Measured<Q> {
    /// A range with its midpoint as the nominal value.
    pub fn of(range: Interval<Q>) -> Self {
        Self { nominal: range.mid(), range }
    }

    /// A nominal value; the range is stretched to hold it where it does not.
    pub fn new(nominal: Q, range: Interval<Q>) -> Self {
        let (lo, hi) = (range.lo().base().min(nominal.base()), range.hi().base().max(nominal.base()));
        Self { nominal, range: Interval::spanning(Q::from_base(lo), Q::from_base(hi)) }
    }

    /// A value known exactly.
    pub fn exact(value: Q) -> Self {
        Self { nominal: value, range: Interval::point(value) }
    }

    /// The value taken where one is wanted.
    pub fn nominal(self) -> Q {
        self.nominal
    }

    /// What is open.
    pub fn range(self) -> Interval<Q> {
        self.range
    }

    /// The measurement of a multiple.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        let by = |q: Q| Q::from_base(q.base() * factor);
        Self { nominal: by(self.nominal), range: self.range.map_monotone(by) }
    }

    /// The same measurement of a sum.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        let sum = |a: Q, b: Q| Q::from_base(a.base() + b.base());
        let (a, b) = (self.range, other.range);
        Self {
            nominal: sum(self.nominal, other.nominal),
            range: Interval::spanning(sum(a.lo(), b.lo()), sum(a.hi(), b.hi())),
        }
    }
}

/// How far a reading of the usual kit may be off, to either side, when the tank file gives a bare
/// number. All of it common practice, no source.
pub mod resolution {
    /// A stick-on or glass thermometer, °C.
    pub const TEMPERATURE_C: f64 = 0.5;
    /// A colour scale in steps of 0.4 or so.
    pub const PH: f64 = 0.2;
    /// Titration by drops of one degree.
    pub const GH_DGH: f64 = 0.5;
    /// Titration by drops of one degree.
    pub const KH_DKH: f64 = 0.5;
    /// A level of gas judged by the colour of an indicator, as a share of it.
    pub const GAS_SHARE: f64 = 0.2;
    /// Light computed from the stated output of a lamp, as a share of it: rating, age, dirt.
    pub const LIGHT_SHARE: f64 = 0.1;
    /// A reading of PPFD, as a share of it: calibration, and a sensor that is not quite level.
    pub const METER_SHARE: f64 = 0.1;
}

/// What is open of the light as computed: one unknown factor for all lamps and readings, from 1.
///
/// With readings it is what their ranges leave to the factor that fits them (with lamps), or the
/// widest of their ranges (alone); without, the widest range of the outputs of the lamps. A bare
/// number is known to [`resolution`]. That the shape of the beam may be off is left out.
pub fn light_gain(spec: &TankSpec, basis: &LightBasis) -> Measured<Fraction> {
    let within = |share: f64| (1.0 - share, 1.0 + share);
    let lamps = || {
        let bare = within(resolution::LIGHT_SHARE);
        let known = |l: &LampSpec| l.output_known.map_or(bare, |k| (k.lo().value(), k.hi().value()));
        widest(spec.light.lamps.iter().map(known)).unwrap_or(bare)
    };
    let bare = within(resolution::METER_SHARE);
    let shown = |r: &LightReading| {
        let (lo, hi) = r.ppfd.ends();
        let middle = r.ppfd.mid().base();
        if r.ppfd.is_point() { bare } else { (lo.base() / middle, hi.base() / middle) }
    };
    let readings = || spec.light.readings.iter().map(shown);
    let (lo, hi) = match basis {
        LightBasis::Lamps => lamps(),
        LightBasis::Readings => widest(readings()).unwrap_or(bare),
        // The factor is a geometric mean, and so is what is open of it.
        LightBasis::LampsSetByReadings(_) => {
            let mean = |end: fn((f64, f64)) -> f64| {
                let (sum, count) = readings().fold((0.0, 0.0), |(s, n), r| (s + libm::log(end(r)), n + 1.0));
                libm::exp(sum / count)
            };
            (mean(|r| r.0), mean(|r| r.1))
        }
    };
    Measured::new(Fraction::new(1.0), Interval::spanning(Fraction::new(lo), Fraction::new(hi)))
}

/// The least lower and the greatest upper end.
fn widest(ranges: impl Iterator<Item = (f64, f64)>) -> Option<(f64, f64)> {
    ranges.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
}

/// The tank with the resolution of the usual kit around every bare number of its water and gas.
/// Hardness does not go below zero; pH stays within what alkalinity can be read at.
pub fn with_kit_resolution(spec: &TankSpec) -> TankSpec {
    let mut wide = spec.clone();
    let (water, limits) = (&mut wide.water, crate::tank::carbon::PH_LIMITS);
    water.temperature = widened(water.temperature, resolution::TEMPERATURE_C, [0.1, 40.0]);
    water.ph = widened(water.ph, resolution::PH, [limits.0.base(), limits.1.base()]);
    water.gh = widened(water.gh, resolution::GH_DGH, [0.0, f64::MAX]);
    water.kh = widened(water.kh, resolution::KH_DKH, [0.0, f64::MAX]);
    wide.gas.target = wide.gas.target.map(|t| {
        let by = t.mid().base() * resolution::GAS_SHARE;
        widened(t, by, [0.0, f64::MAX])
    });
    wide
}

fn widened<Q: Quantity>(value: Interval<Q>, by: f64, [least, most]: [f64; 2]) -> Interval<Q> {
    if !value.is_point() {
        return value;
    }
    let at = value.lo().base();
    Interval::spanning(Q::from_base((at - by).max(least.min(at))), Q::from_base((at + by).min(most.max(at))))
}
