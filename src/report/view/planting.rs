//! A planted tank at a week, as its drawings take it: glass, bed, hardscape, zones, drifts.

use schemars::JsonSchema;
use serde::Serialize;

use super::{BandView, LampView, MapView, PieceView};
use crate::catalogue::{Colour, GrowthForm, LeafTexture};

/// What a drift holds on to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StandView {
    /// Planted in the bed.
    Bed,
    /// Tied or wedged on wood or rock.
    Hardscape,
    /// Afloat.
    Surface,
}

/// A zone by its border on the plan.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ZoneBorderView {
    /// The person's name for it.
    pub name: String,
    /// Rings of corners, from the left and from the front; empty for a zone on hardscape.
    pub outline_cm: Vec<Vec<[f64; 2]>>,
}

/// A drift as it stands at the week of the drawing.
#[derive(Debug, Clone)]
pub struct DriftPictureView {
    /// Its number in every list of the plan, from 1.
    pub number: usize,
    /// The plant's accepted name, the cultivar in quotes.
    pub name: String,
    /// The zone it lies in.
    pub zone: String,
    /// The form of the plant.
    pub growth_form: GrowthForm,
    /// The look of its leaves.
    pub texture: LeafTexture,
    /// The colour of its leaves.
    pub colour: Colour,
    /// What it holds on to.
    pub stand: StandView,
    /// Rings of corners on the plan, from the left and from the front.
    pub outline_cm: Vec<Vec<[f64; 2]>>,
    /// Where each piece stands: from the left, from the front, above the floor of the glass.
    pub places_cm: Vec<[f64; 3]>,
    /// What the pieces are called (stems, plantlets, pads).
    pub piece_word: String,
    /// Portions to buy.
    pub portions: usize,
    /// Mean height of the plants this week.
    pub height_cm: f64,
    /// Height when grown, least and most.
    pub grown_height_cm: [f64; 2],
    /// Width of one grown plant.
    pub spread_cm: f64,
    /// Distance between pieces as planted.
    pub spacing_cm: f64,
    /// Share of the drift that leaves cover this week, 0 to 1.
    pub cover: f64,
}

/// A planted tank at a week.
#[derive(Debug, Clone)]
pub struct PictureView {
    /// The person's name for the tank.
    pub tank: String,
    /// Weeks since planting.
    pub week: u32,
    /// Inside, left to right.
    pub length_cm: f64,
    /// Inside, front to back.
    pub depth_cm: f64,
    /// Inside, floor to rim.
    pub height_cm: f64,
    /// Water level above the floor.
    pub water_cm: f64,
    /// No cover over it.
    pub open_top: bool,
    /// `active soil`, `sand`, `gravel`, `capped soil` or `bare`.
    pub bed_kind: String,
    /// Thickness of the bed at the front glass and at the back glass.
    pub bed_cm: [f64; 2],
    /// The lamps.
    pub lamps: Vec<LampView>,
    /// Wood and rock.
    pub hardscape: Vec<PieceView>,
    /// The zones, in file order.
    pub zones: Vec<ZoneBorderView>,
    /// The drifts by number.
    pub drifts: Vec<DriftPictureView>,
    /// Light on the bed; `None` where no lines of equal light are wanted.
    pub light: Option<LightLinesView>,
}

/// What lines of equal light are drawn from.
#[derive(Debug, Clone)]
pub struct LightLinesView {
    /// The map.
    pub map: MapView,
    /// Its bands; lines are drawn between them.
    pub bands: Vec<BandView>,
}

impl PictureView {
    /// Top of the bed above the floor, so far from the front glass.
    pub fn bed_at_cm(&self, from_front_cm: f64) -> f64 {
        let share = (from_front_cm / self.depth_cm).clamp(0.0, 1.0);
        self.bed_cm[0] + (self.bed_cm[1] - self.bed_cm[0]) * share
    }
}

impl DriftPictureView {
    /// Height when grown, the middle of its range.
    pub fn grown_cm(&self) -> f64 {
        f64::midpoint(self.grown_height_cm[0], self.grown_height_cm[1])
    }

    /// Whether nothing to be seen is left of it.
    pub fn is_gone(&self) -> bool {
        self.height_cm < 0.05 || self.cover < 0.005
    }

    /// How far the plants have grown in, 0 as planted, 1 at full cover.
    pub fn maturity(&self) -> f64 {
        let tall = f64::midpoint(self.grown_height_cm[0], self.grown_height_cm[1]).max(0.1);
        (0.5 * self.cover + 0.5 * (self.height_cm / tall)).clamp(0.0, 1.0)
    }

    /// Width of one plant this week: at full cover plants are as wide as they grow.
    pub fn plant_width_cm(&self) -> f64 {
        let closed = self.spread_cm.max(1.15 * self.spacing_cm);
        closed * libm::sqrt(self.cover.clamp(0.02, 1.0))
    }
}
