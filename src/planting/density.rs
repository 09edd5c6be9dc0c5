//! How close the pieces stand on the first day.

use crate::units::{Fraction, Length};

/// How close the pieces stand on the first day, as a factor on the spacing of the catalogue.
///
/// Dense is what `fill` counts and what planting starts from: much plant from day one leaves
/// algae less (common practice, no source). The factors of the others are ours: about two thirds
/// and about two fifths of the places of dense planting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Density {
    /// 1.6 times the spacing of the catalogue: 39 % of the places of dense planting.
    Sparse,
    /// 1.25 times the spacing: 64 % of the places.
    Usual,
    /// The spacing of the catalogue.
    #[default]
    Dense,
}

impl Density {
    /// The written words.
    pub const WORDS: &'static [&'static str] = &["sparse", "usual", "dense"];

    /// The written word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sparse => "sparse",
            Self::Usual => "usual",
            Self::Dense => "dense",
        }
    }

    /// The factor on the spacing.
    pub const fn factor(self) -> f64 {
        match self {
            Self::Sparse => 1.6,
            Self::Usual => 1.25,
            Self::Dense => 1.0,
        }
    }

    /// Places in percent of those of dense planting: the factor to the power of −2.
    pub fn share_of_dense(self) -> Fraction {
        Fraction::new(1.0 / (self.factor() * self.factor()))
    }

    /// The spacing at this density.
    pub fn spaced(self, spacing: Length) -> Length {
        Length::from_m(spacing.m() * self.factor())
    }
}
