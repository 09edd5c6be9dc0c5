//! What can limit a plant, and the words of a verdict.

/// The factors of fit, in the order in which a tie names the limiting one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Factor {
    /// The plant does not serve this part of the layout.
    Placement,
    /// Nothing here to hold on to.
    Footing,
    /// Too tall or too short for the zone.
    Height,
    /// The bed is too thin to root in.
    BedDepth,
    /// The bed does not feed a root feeder.
    Feeding,
    /// Daily light at the leaf.
    Light,
    /// Usable carbon.
    Carbon,
    /// Temperature.
    Temperature,
    /// pH.
    Ph,
    /// General hardness.
    Gh,
    /// Carbonate hardness.
    Kh,
}

impl Factor {
    /// Every factor; the order is that of [`super::Assessment::factors`].
    pub const ALL: [Self; 11] = [
        Self::Placement,
        Self::Footing,
        Self::Height,
        Self::BedDepth,
        Self::Feeding,
        Self::Light,
        Self::Carbon,
        Self::Temperature,
        Self::Ph,
        Self::Gh,
        Self::Kh,
    ];

    /// The factor in a word or two.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Placement => "placement",
            Self::Footing => "footing",
            Self::Height => "height",
            Self::BedDepth => "bed depth",
            Self::Feeding => "feeding",
            Self::Light => "light",
            Self::Carbon => "carbon",
            Self::Temperature => "temperature",
            Self::Ph => "pH",
            Self::Gh => "GH",
            Self::Kh => "KH",
        }
    }

    /// The unit of the numbers behind the factor; empty for pH and for factors that are words.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Height | Self::BedDepth => "cm",
            Self::Light => "mol/m²/d",
            Self::Carbon => "mg/L",
            Self::Temperature => "°C",
            Self::Gh => "dGH",
            Self::Kh => "dKH",
            Self::Placement | Self::Footing | Self::Feeding | Self::Ph => "",
        }
    }

    /// The decimals that its numbers are good for.
    pub const fn decimals(self) -> i32 {
        match self {
            Self::Light | Self::Ph => 2,
            _ => 1,
        }
    }
}

impl std::fmt::Display for Factor {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(self.word())
    }
}

/// The verdict on a plant in a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Suitability 0.
    Fails,
    /// Suitability above 0 and below 0.5.
    Lingers,
    /// Suitability 0.5 or more.
    Grows,
    /// Suitability 0.8 or more.
    Thrives,
}

impl Verdict {
    /// The suitability from which a plant grows.
    pub const GROWS: f64 = 0.5;
    /// The suitability from which a plant thrives.
    pub const THRIVES: f64 = 0.8;

    /// The verdict of a suitability.
    pub fn of(suitability: f64) -> Self {
        if suitability >= Self::THRIVES {
            Self::Thrives
        } else if suitability >= Self::GROWS {
            Self::Grows
        } else if suitability > 0.0 {
            Self::Lingers
        } else {
            Self::Fails
        }
    }

    /// The suitability from which the verdict holds; for *lingers*, the least above 0.
    pub const fn threshold(self) -> f64 {
        match self {
            Self::Thrives => Self::THRIVES,
            Self::Grows => Self::GROWS,
            Self::Lingers => f64::MIN_POSITIVE,
            Self::Fails => 0.0,
        }
    }

    /// The word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Thrives => "thrives",
            Self::Grows => "grows",
            Self::Lingers => "lingers",
            Self::Fails => "fails",
        }
    }
}

impl std::fmt::Display for Verdict {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(self.word())
    }
}
