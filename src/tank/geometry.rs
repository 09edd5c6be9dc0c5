//! The inside of the glass: bed, hardscape and water as volumes.
//!
//! Inner measures; x from the left, y from the front, heights above the floor of the glass.
//! Hardscape is a prism over its outline, which a real stone does not fill: what it displaces is an
//! upper bound. Pieces that overlap are counted twice.

use super::file::{Bed, Glass, Spot};
use super::outline::Outline;
use crate::units::{Angle, Area, Length, Quantity, Volume};

/// Why there is no such tank.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum GeometryError {
    /// A side that is not above zero, or not a number.
    #[error("a {0} of {1} is no side of a tank")]
    Side(&'static str, Length),
    /// Water below the floor or above the rim.
    #[error("water at {water} in a tank of {height}")]
    WaterLevel {
        /// The level.
        water: Length,
        /// The rim.
        height: Length,
    },
    /// A bed below zero or not below the water.
    #[error("a bed of {0} does not lie below the water")]
    Bed(Length),
    /// More hardscape than room.
    #[error("the hardscape leaves no water")]
    NoWater,
}

/// The bed: a plane that rises or falls from the front glass to the back glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BedProfile {
    front: f64,
    back: f64,
    depth: f64,
}

impl BedProfile {
    /// A bed of `front` thickness at the front glass and `back` at the back glass, `depth` apart.
    ///
    /// # Errors
    /// A thickness below zero, a depth not above zero, NaN.
    pub fn new(front: Length, back: Length, depth: Length) -> Result<Self, GeometryError> {
        for thickness in [front, back] {
            if !(thickness.m() >= 0.0 && thickness.m().is_finite()) {
                return Err(GeometryError::Bed(thickness));
            }
        }
        if !(depth.m() > 0.0 && depth.m().is_finite()) {
            return Err(GeometryError::Side("depth", depth));
        }
        Ok(Self { front: front.m(), back: back.m(), depth: depth.m() })
    }

    /// Thickness at the front glass.
    pub fn front(&self) -> Length {
        Length::from_m(self.front)
    }

    /// Thickness at the back glass.
    pub fn back(&self) -> Length {
        Length::from_m(self.back)
    }

    /// Height of the bed at `y` from the front; beyond the glass, as at the glass.
    pub fn height_at(&self, y: Length) -> Length {
        let share = (y.m() / self.depth).clamp(0.0, 1.0);
        Length::from_m(self.front + (self.back - self.front) * share)
    }

    /// The steepness, above zero when the bed rises towards the back.
    pub fn slope(&self) -> Angle {
        Angle::from_radians(libm::atan2(self.back - self.front, self.depth))
    }

    /// The volume of the bed under an outline that lies inside the glass.
    pub fn volume_under(&self, outline: &Outline) -> Volume {
        // The height is linear, so its mean is the height at the centre of area.
        let (_, y) = outline.centre();
        litres(outline.area().m2() * self.height_at(y).m())
    }

    /// The volume between the bed and the level plane `top` over an outline that lies inside the
    /// glass; where the bed is higher than `top` there is none.
    pub fn volume_below(&self, outline: &Outline, top: Length) -> Volume {
        let rise = (self.back - self.front) / self.depth;
        let bare = if rise == 0.0 {
            (self.front < top.m()).then(|| outline.clone())
        } else {
            let shore = (top.m() - self.front) / rise;
            if rise > 0.0 { outline.in_front_of(shore) } else { outline.behind(shore) }
        };
        let above_bed = |part: Outline| top.m() * part.area().m2() - self.volume_under(&part).litres() / 1e3;
        litres(bare.map_or(0.0, above_bed).max(0.0))
    }
}

fn litres(cubic_metres: f64) -> Volume {
    Volume::from_litres(cubic_metres * 1e3)
}

/// A piece of hardscape: a prism over its outline, from the bed to its top.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// On the plan.
    pub outline: Outline,
    /// Above the floor of the glass.
    pub top: Length,
}

/// The inside of the glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interior {
    length: Length,
    depth: Length,
    height: Length,
    water: Length,
    bed: BedProfile,
}

/// What fills the glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Volumes {
    /// Floor to water level, everything in it.
    pub filled: Volume,
    /// The bed, pores included.
    pub bed: Volume,
    /// What the hardscape displaces between bed and water level.
    pub displaced: Volume,
    /// Free water above the bed.
    pub water: Volume,
    /// The open surface: the plan without pieces that pierce it.
    pub surface: Area,
}

impl Interior {
    /// The inside of `glass` with its bed.
    ///
    /// # Errors
    /// Sides not above zero, a water level outside the glass, a bed not below the water.
    pub fn new(glass: &Glass, bed: &Bed) -> Result<Self, GeometryError> {
        let &Glass { length, depth, height, water, .. } = glass;
        for (name, side) in [("length", length), ("depth", depth), ("height", height)] {
            if !(side.m() > 0.0 && side.m().is_finite()) {
                return Err(GeometryError::Side(name, side));
            }
        }
        if !(water.m() > 0.0 && water.m() <= height.m()) {
            return Err(GeometryError::WaterLevel { water, height });
        }
        let profile = BedProfile::new(bed.front, bed.back, depth)?;
        for thickness in [bed.front, bed.back] {
            if thickness.base() >= water.base() {
                return Err(GeometryError::Bed(thickness));
            }
        }
        Ok(Self { length, depth, height, water, bed: profile })
    }

    /// Left to right.
    pub fn length(&self) -> Length {
        self.length
    }

    /// Front to back.
    pub fn depth(&self) -> Length {
        self.depth
    }

    /// Floor to rim.
    pub fn height(&self) -> Length {
        self.height
    }

    /// Water level.
    pub fn water(&self) -> Length {
        self.water
    }

    /// The bed.
    pub fn bed(&self) -> BedProfile {
        self.bed
    }

    /// Depth of water over the bed at `y` from the front.
    pub fn water_over_bed_at(&self, y: Length) -> Length {
        Length::from_m(self.water.m() - self.bed.height_at(y).m())
    }

    /// The area of the plan.
    pub fn plan(&self) -> Area {
        Area::from_m2(self.length.m() * self.depth.m())
    }

    /// All of a piece above the bed, what stands out of the water included; what reaches outside the
    /// glass is cut off.
    pub fn piece_volume(&self, piece: &Piece) -> Volume {
        let (a, b) = self.corners();
        let inside = piece.outline.clipped(a, b);
        inside.map_or(Volume::from_litres(0.0), |inside| self.bed.volume_below(&inside, piece.top))
    }

    fn corners(&self) -> (Spot, Spot) {
        let zero = Length::from_m(0.0);
        ((zero, zero), (self.length, self.depth))
    }

    /// The volumes with these pieces in the tank; what of them reaches outside the glass is cut off.
    ///
    /// # Errors
    /// Hardscape that leaves no water.
    pub fn volumes(&self, pieces: &[Piece]) -> Result<Volumes, GeometryError> {
        let plan = self.plan().m2();
        let filled = plan * self.water.m() * 1e3;
        let bed = plan * f64::midpoint(self.bed.front, self.bed.back) * 1e3;
        let (mut displaced, mut surface) = (0.0, plan);
        let (a, b) = self.corners();
        for piece in pieces {
            let Some(inside) = piece.outline.clipped(a, b) else { continue };
            let drowned = if piece.top.base() < self.water.base() { piece.top } else { self.water };
            displaced += self.bed.volume_below(&inside, drowned).litres();
            if piece.top.base() > self.water.base() {
                surface -= inside.area().m2();
            }
        }
        let water = filled - bed - displaced;
        if water <= 0.0 || surface <= 0.0 {
            return Err(GeometryError::NoWater);
        }
        let volume = Volume::from_litres;
        Ok(Volumes {
            filled: volume(filled),
            bed: volume(bed),
            displaced: volume(displaced),
            water: volume(water),
            surface: Area::from_m2(surface),
        })
    }
}
