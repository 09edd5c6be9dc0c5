//! The checked content of a tank file. Positions are inner coordinates: x from the left, y from
//! the front, heights above the floor of the glass unless a name says otherwise.

use std::ops::Range;
use std::sync::Arc;

use crate::diagnostic::Document;
use crate::tank::outline::Outline;
use crate::units::{
    Angle, CarbonateHardness, Concentration, Duration, FlowRate, Fraction, GeneralHardness, Interval, Length,
    LuminousEfficacy, LuminousFlux, Money, Ph, PhotonEfficacy, PhotonFlux, Power, Ppfd, Temperature,
};

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $( $(#[$vdoc:meta])* $variant:ident = $word:literal ),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
        pub enum $name { $( $(#[$vdoc])* #[serde(rename = $word)] $variant ),+ }

        impl $name {
            /// The written words.
            pub const WORDS: &'static [&'static str] = &[$($word),+];
            /// The written word.
            pub const fn word(self) -> &'static str { match self { $(Self::$variant => $word),+ } }
            /// The value of a written word.
            pub fn from_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result { f.pad(self.word()) }
        }
    };
}

words!(
    /// What the bed is made of.
    BedKind {
        /// Granulated soil that exchanges ions: lowers KH and pH, feeds roots.
        ActiveSoil = "active soil",
        /// Sand.
        Sand = "sand",
        /// Gravel.
        Gravel = "gravel",
        /// A nutrient layer under sand or gravel.
        CappedSoil = "capped soil",
        /// No bed.
        Bare = "bare",
    }
);
words!(
    /// Where injected gas comes from.
    Injection {
        /// No gas.
        None = "none",
        /// A cylinder with a regulator.
        Pressurised = "pressurised",
        /// Sugar and yeast, or acid and bicarbonate.
        Fermentation = "fermentation",
    }
);
words!(
    /// The colour of the water, from clear to brown with humic matter.
    Tint {
        /// Clear tap or soft water.
        Clear = "clear",
        /// A faint straw colour.
        Faint = "faint",
        /// As weak tea.
        Tea = "tea",
        /// As strong tea.
        Dark = "dark",
    }
);
words!(
    /// What a piece of hardscape is made of.
    Material {
        /// Wood: may float at first and stains the water.
        Wood = "wood",
        /// Rock that does not react with water.
        InertRock = "inert rock",
        /// Rock that raises GH and KH.
        CarbonateRock = "carbonate rock",
    }
);
words!(
    /// What the opening is covered with.
    Top {
        /// Nothing: leaves may grow out of the water.
        Open = "open",
        /// A glass or plastic cover.
        Covered = "covered",
    }
);
words!(
    /// The part of the layout a zone is.
    ZoneRole {
        /// The front of the bed.
        Foreground = "foreground",
        /// The middle of the bed.
        Midground = "midground",
        /// The back of the bed.
        Background = "background",
        /// On wood or rock.
        Epiphyte = "epiphyte",
        /// On the surface.
        Floating = "floating",
    }
);

/// A point of the plan: `(x, y)`.
pub type Spot = (Length, Length);

/// The glass box, inner measures.
#[derive(Debug, Clone, PartialEq)]
pub struct Glass {
    /// Left to right.
    pub length: Length,
    /// Front to back.
    pub depth: Length,
    /// Floor to rim.
    pub height: Length,
    /// Water level above the floor.
    pub water: Length,
    /// Open or covered.
    pub top: Top,
    /// PAR transmittance of the cover, 1 when open.
    pub cover_transmittance: Fraction,
}

/// The bed, a plane from front to back.
#[derive(Debug, Clone, PartialEq)]
pub struct Bed {
    /// What it is made of.
    pub kind: BedKind,
    /// Thickness at the front glass.
    pub front: Length,
    /// Thickness at the back glass.
    pub back: Length,
}

/// How the output of a lamp is stated.
#[derive(Debug, Clone, PartialEq)]
pub enum LampOutput {
    /// Photons of 400–700 nm a second.
    Photons(PhotonFlux),
    /// Lumens; the spectrum of the lamp turns them into photons.
    Lumens(LuminousFlux),
    /// Electrical watts and photons per joule.
    PhotonPower(Power, PhotonEfficacy),
    /// Electrical watts and lumens per watt; the spectrum does the rest.
    LumenPower(Power, LuminousEfficacy),
}

/// One lamp: a level rectangle above the water.
#[derive(Debug, Clone, PartialEq)]
pub struct LampSpec {
    /// Its output at full power; the middle where the file gives a range.
    pub output: LampOutput,
    /// What that range leaves open, as multiples of the middle; `None` for a bare number.
    pub output_known: Option<Interval<Fraction>>,
    /// Share of full power used.
    pub dimmed_to: Fraction,
    /// Key of the spectrum in `light-sources.csv`; `None` takes the default.
    pub spectrum: Option<Wish>,
    /// Size along x and along y.
    pub size: (Length, Length),
    /// Height above the water.
    pub above_water: Length,
    /// Full angle between the directions of half intensity.
    pub beam: Angle,
    /// The centre.
    pub at: Spot,
}

/// A PPFD reading at a point.
#[derive(Debug, Clone, PartialEq)]
pub struct LightReading {
    /// What the sensor showed.
    pub ppfd: Interval<Ppfd>,
    /// Where on the plan.
    pub at: Spot,
    /// Height above the bed.
    pub above_bed: Length,
    /// Where the reading stands in the file.
    pub span: Range<usize>,
}

/// The lamps, their timer and what was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Lighting {
    /// Hours of light a day.
    pub hours: Duration,
    /// The lamps.
    pub lamps: Vec<LampSpec>,
    /// The readings.
    pub readings: Vec<LightReading>,
    /// Share of the surface that floating plants already cover.
    pub floating_cover: Fraction,
}

/// Gas injection.
#[derive(Debug, Clone, PartialEq)]
pub struct Gas {
    /// The kind.
    pub injection: Injection,
    /// The concentration aimed at; `None` leaves it to pH and KH.
    pub target: Option<Interval<Concentration>>,
    /// How long before the light the gas starts.
    pub on_before: Duration,
    /// How long before the end of light the gas stops.
    pub off_before: Duration,
}

/// The water as measured.
#[derive(Debug, Clone, PartialEq)]
pub struct WaterSpec {
    /// Temperature.
    pub temperature: Interval<Temperature>,
    /// pH.
    pub ph: Interval<Ph>,
    /// General hardness.
    pub gh: Interval<GeneralHardness>,
    /// Carbonate hardness.
    pub kh: Interval<CarbonateHardness>,
    /// Colour.
    pub tint: Tint,
    /// Share of the water changed weekly, when stated.
    pub weekly_change: Option<Fraction>,
}

/// Animals that limit what may be done to gas and water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Livestock {
    /// None declared.
    #[default]
    None,
    /// Fish or other animals that breathe in the water.
    Fish,
}

/// A piece of wood or rock: a prism over its outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Hardscape {
    /// The person's name for it.
    pub name: String,
    /// What it is made of.
    pub material: Material,
    /// Its outline on the plan.
    pub outline: Outline,
    /// Its top above the floor of the glass.
    pub top: Length,
}

/// Where on the plan a zone lies.
#[derive(Debug, Clone, PartialEq)]
pub enum Region {
    /// A rectangle or polygon on the plan.
    Outline(Outline),
    /// On pieces of hardscape, by index in [`TankSpec::hardscape`].
    On(Vec<usize>),
}

/// How many taxa a zone takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counts {
    /// At least.
    pub least: usize,
    /// At most.
    pub most: usize,
}

impl Counts {
    /// The most taxa of a zone that a list is sought for.
    pub const MOST: usize = 8;

    /// "2" or "1..3".
    pub fn parse(text: &str) -> Option<Self> {
        let (least, most) = text.split_once("..").unwrap_or((text, text));
        let (least, most) = (least.trim().parse().ok()?, most.trim().parse().ok()?);
        (least <= most && (1..=Self::MOST).contains(&most)).then_some(Self { least, most })
    }
}

/// A part of the layout to be planted.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneSpec {
    /// The person's name for it.
    pub name: String,
    /// Its part in the layout.
    pub role: ZoneRole,
    /// Where it lies.
    pub region: Region,
    /// How many taxa.
    pub taxa: Counts,
    /// How tall plants may stand above the bed.
    pub tallest: Option<Length>,
    /// How tall plants must at least get.
    pub shortest: Option<Length>,
    /// Where the number of taxa stands in the file; the zone itself when it is not stated.
    pub taxa_span: Range<usize>,
    /// Where the zone stands in the file.
    pub span: Range<usize>,
}

/// A name the person wrote, with its place, to be resolved against the catalogue.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wish {
    /// As written.
    pub text: String,
    /// Where.
    pub span: Range<usize>,
}

/// Whether what stands nearer to the eye has to be no taller than what stands behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum HeightOrder {
    /// It has to be.
    #[default]
    Kept,
    /// Any order will do.
    Free,
}

/// What the person wants of the list as a whole.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Wishes {
    /// Plants that must be on the list.
    pub must: Vec<Wish>,
    /// Plants that must not.
    pub never: Vec<Wish>,
    /// Only plants native to one of these WGSRPD level-2 areas; empty for all.
    pub native: Vec<Wish>,
    /// What may be spent.
    pub budget: Option<(Money, Range<usize>)>,
    /// In which currency.
    pub currency: Option<String>,
    /// A price list, relative to the tank file.
    pub prices: Option<Wish>,
    /// Minutes a month for trimming.
    pub trim_minutes_per_month: Option<(u32, Range<usize>)>,
    /// Share of fast growers among the taxa, at least.
    pub fast_share: Option<(Fraction, Range<usize>)>,
    /// Taxa of one genus, at most.
    pub per_genus: Option<(usize, Range<usize>)>,
    /// Taxa overall, at most.
    pub most_taxa: Option<(usize, Range<usize>)>,
    /// Of each of these sets at least one plant is on the list.
    pub one_of: Vec<(Vec<Wish>, Range<usize>)>,
    /// The order of heights along lines of sight.
    pub height_order: HeightOrder,
}

/// A tank file, read and checked.
#[derive(Debug, Clone, PartialEq)]
pub struct TankSpec {
    /// The text it was read from, for later findings.
    pub document: Arc<Document>,
    /// The person's name for the tank.
    pub name: String,
    /// Whose law applies.
    pub jurisdictions: Vec<String>,
    /// The glass.
    pub glass: Glass,
    /// The bed.
    pub bed: Bed,
    /// The light.
    pub light: Lighting,
    /// The gas.
    pub gas: Gas,
    /// The water.
    pub water: WaterSpec,
    /// Filter flow, when stated.
    pub filter_flow: Option<FlowRate>,
    /// Animals.
    pub livestock: Livestock,
    /// Wood and rock.
    pub hardscape: Vec<Hardscape>,
    /// The zones, in file order.
    pub zones: Vec<ZoneSpec>,
    /// The wishes.
    pub wishes: Wishes,
}
