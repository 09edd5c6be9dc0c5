//! The closed vocabularies of the data files. Each enum knows its written words.

macro_rules! vocabulary {
    ($(#[$doc:meta])* $name:ident { $( $(#[$vdoc:meta])* $variant:ident = $word:literal ),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
        pub enum $name { $( $(#[$vdoc])* #[serde(rename = $word)] $variant ),+ }

        impl $name {
            /// Every value, in the order of the documentation.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The written words, in the order of [`Self::ALL`].
            pub const WORDS: &'static [&'static str] = &[$($word),+];

            /// The written word.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// The value of a written word, exactly as written.
            pub fn from_word(word: &str) -> Option<Self> {
                match word { $($word => Some(Self::$variant),)+ _ => None }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.word())
            }
        }
    };
}
pub(super) use vocabulary;

vocabulary!(
    /// The habit of a plant, in the words of growth-form systems and the trade.
    GrowthForm {
        /// Upright or ascending shoots with leaves along them.
        Stem = "stem",
        /// Low prostrate shoots that root as they go and carpet.
        Creeper = "creeper",
        /// Leaves from one crown.
        Rosette = "rosette",
        /// Rosettes that spread by stolons.
        Runner = "runner",
        /// A creeping rhizome (not a fern).
        Rhizome = "rhizome",
        /// A bulb or tuber.
        Bulb = "bulb",
        /// A fern or fern ally.
        Fern = "fern",
        /// A moss.
        Moss = "moss",
        /// A liverwort.
        Liverwort = "liverwort",
        /// Floats at the surface.
        Floater = "floater",
        /// A macroscopic alga kept as a plant.
        Alga = "alga",
    }
);
vocabulary!(
    /// Where in the layout a plant serves.
    Placement {
        /// The front of the bed.
        Foreground = "foreground",
        /// The middle of the bed.
        Midground = "midground",
        /// The back of the bed.
        Background = "background",
        /// On wood or rock.
        Epiphyte = "epiphyte",
        /// At or just under the surface, unrooted.
        Floating = "floating",
    }
);
vocabulary!(
    /// What a plant holds on to.
    Footing {
        /// Rooted in the bed.
        Bed = "bed",
        /// Attached to wood or rock.
        Hardscape = "hardscape",
        /// Floating on the surface.
        Surface = "surface",
        /// Unattached in the water.
        Drifting = "drifting",
    }
);
vocabulary!(
    /// Which inorganic carbon the leaves can use.
    CarbonUse {
        /// Dissolved CO2 only.
        Co2 = "co2",
        /// Dissolved CO2 and, less readily, bicarbonate.
        Bicarbonate = "co2+bicarbonate",
        /// CO2 of the air, by floating or emergent leaves.
        Air = "air",
    }
);
vocabulary!(
    /// Where nutrients are mainly taken up.
    Feeding {
        /// By roots from the bed.
        Root = "root",
        /// By leaves from the water.
        Column = "column",
        /// By both.
        Both = "both",
    }
);
vocabulary!(
    /// The look of the foliage, for contrast.
    LeafTexture {
        /// Divided, needle-like or mossy.
        Fine = "fine",
        /// Grass-like or ribbon-like.
        Linear = "linear",
        /// Small simple leaves, up to about 3 cm.
        Small = "small",
        /// Larger simple leaves.
        Broad = "broad",
    }
);
vocabulary!(
    /// The colour of the foliage under water in good light, for contrast.
    Colour {
        /// Light green.
        LightGreen = "light green",
        /// Mid green.
        Green = "green",
        /// Dark green.
        DarkGreen = "dark green",
        /// Red, pink or purple.
        Red = "red",
        /// Brown, bronze or olive-brown.
        Brown = "brown",
    }
);
vocabulary!(
    /// Whether the plant grows with its leaves in air.
    Emersed {
        /// Lives only on or under water.
        No = "no",
        /// Can grow with leaves in air.
        Yes = "yes",
        /// Tends to leave the water; wants an open top to show itself.
        OpenTop = "open-top",
    }
);
vocabulary!(
    /// How the plant lasts submerged when all else suits it.
    Lasting {
        /// A true aquatic, or one that is kept submerged for years.
        Lasting = "lasting",
        /// Declines, or outgrows the water, within months.
        Short = "short",
    }
);
vocabulary!(
    /// How often the plant is offered where planted-tank plants are sold (common practice).
    Offered {
        /// In nearly every assortment.
        Often = "often",
        /// In specialist assortments.
        Sometimes = "sometimes",
        /// Among collectors.
        Seldom = "seldom",
        /// Not traded as a tank plant; met in the wild.
        Wild = "wild",
    }
);
vocabulary!(
    /// What can hurt people or animals that touch or eat the plant.
    Hazard {
        /// Nothing known to us, which is not a promise.
        NoneKnown = "none-known",
        /// Needles of calcium oxalate: irritates mouth, eyes and skin.
        CalciumOxalate = "calcium-oxalate",
        /// Sap irritates skin.
        IrritantSap = "irritant-sap",
        /// Poisonous when eaten.
        ToxicIfEaten = "toxic-if-eaten",
        /// Spines or thorny fruits.
        Spiny = "spiny",
    }
);
