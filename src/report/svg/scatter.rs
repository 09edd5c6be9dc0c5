//! Scatter that is the same each time: a hash walked step by step, no clock and no random source.

/// A sequence of numbers that follows from its seed alone (SplitMix64, Steele et al. 2014).
#[derive(Debug, Clone)]
pub(super) struct Scatter {
    state: u64,
}

impl Scatter {
    pub fn new(seed: u64) -> Self {
        Self { state: seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(0x1234_5678_9ABC_DEF1) }
    }

    /// From 0 to below 1.
    pub fn unit(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// From `a` to `b`.
    pub fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * self.unit()
    }

    /// From −`most` to `most`.
    pub fn about(&mut self, most: f64) -> f64 {
        self.between(-most, most)
    }

    /// `value`, up to `share` of it more or less.
    pub fn near(&mut self, value: f64, share: f64) -> f64 {
        value * (1.0 + self.about(share))
    }
}
