//! A closed interval of a quantity: what a measurement or an estimate leaves open.

use super::Quantity;

/// A closed interval `lo..=hi` with finite ends and `lo <= hi`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval<Q> {
    lo: Q,
    hi: Q,
}

impl<Q: Quantity> Interval<Q> {
    /// The interval from `lo` to `hi`; `None` when reversed or not finite.
    pub fn new(lo: Q, hi: Q) -> Option<Self> {
        let (a, b) = (lo.base(), hi.base());
        (a.is_finite() && b.is_finite() && a <= b).then_some(Self { lo, hi })
    }

    /// The interval that holds both values, in whichever order they come.
    pub fn spanning(a: Q, b: Q) -> Self {
        if a.base() <= b.base() { Self { lo: a, hi: b } } else { Self { lo: b, hi: a } }
    }

    /// An exactly known value.
    pub fn point(value: Q) -> Self {
        Self { lo: value, hi: value }
    }

    /// The lower end.
    pub fn lo(self) -> Q {
        self.lo
    }

    /// The upper end.
    pub fn hi(self) -> Q {
        self.hi
    }

    /// Both ends.
    pub fn ends(self) -> (Q, Q) {
        (self.lo, self.hi)
    }

    /// The midpoint, used where a single nominal value is wanted.
    pub fn mid(self) -> Q {
        Q::from_base(f64::midpoint(self.lo.base(), self.hi.base()))
    }

    /// Whether the value is known exactly.
    pub fn is_point(self) -> bool {
        self.lo.base() >= self.hi.base()
    }

    /// Whether `value` lies in the interval, ends included.
    pub fn contains(self, value: Q) -> bool {
        self.lo.base() <= value.base() && value.base() <= self.hi.base()
    }

    /// Both ends held inside `lo..=hi`.
    #[must_use]
    pub fn clamp(self, lo: Q, hi: Q) -> Self {
        let hold = |q: Q| Q::from_base(q.base().max(lo.base()).min(hi.base()));
        Self { lo: hold(self.lo), hi: hold(self.hi) }
    }

    /// The image under a function that rises or falls over the whole interval.
    pub fn map_monotone<R: Quantity>(self, f: impl Fn(Q) -> R) -> Interval<R> {
        Interval::spanning(f(self.lo), f(self.hi))
    }

    /// `"23..25 °C"`, or `"24 °C"` when exact.
    pub fn show(self, system: super::UnitSystem) -> String {
        if self.is_point() {
            return self.lo.show(system);
        }
        let (lo, hi) = (self.lo.show_number(system), self.hi.show(system));
        format!("{lo}..{hi}")
    }
}
