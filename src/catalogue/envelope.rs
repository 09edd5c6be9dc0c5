//! The envelope of a factor: where a plant dies, where it does best, and the slopes between.

use crate::units::Quantity;

/// Four ordered values of one factor: `abs_min <= opt_min <= opt_max <= abs_max`.
///
/// Suitability is 0 at and beyond the absolute limits, 1 between the optimal ones, linear
/// between (the envelope method of agronomic suitability models); `fit` computes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Envelope<Q> {
    abs_min: Q,
    opt_min: Q,
    opt_max: Q,
    abs_max: Q,
}

impl<Q: Quantity> Envelope<Q> {
    /// The envelope of four values; `None` when they are not finite and ascending.
    pub fn new(abs_min: Q, opt_min: Q, opt_max: Q, abs_max: Q) -> Option<Self> {
        let bases = [abs_min, opt_min, opt_max, abs_max].map(Quantity::base);
        let ordered = bases.windows(2).all(|w| w[0] <= w[1]) && bases.iter().all(|b| b.is_finite());
        ordered.then_some(Self { abs_min, opt_min, opt_max, abs_max })
    }

    /// The value at and below which nothing grows.
    pub fn abs_min(self) -> Q {
        self.abs_min
    }

    /// The lower end of the best range.
    pub fn opt_min(self) -> Q {
        self.opt_min
    }

    /// The upper end of the best range.
    pub fn opt_max(self) -> Q {
        self.opt_max
    }

    /// The value at and above which nothing grows.
    pub fn abs_max(self) -> Q {
        self.abs_max
    }

    /// The four values, ascending.
    pub fn values(self) -> [Q; 4] {
        [self.abs_min, self.opt_min, self.opt_max, self.abs_max]
    }
}
