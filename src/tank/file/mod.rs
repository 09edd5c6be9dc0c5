//! The tank file: what a person writes about glass, lamp, gas, water, layout and wishes.
//!
//! [`read`] turns the TOML text into a checked [`TankSpec`] or into all that is wrong with it.
//! Not here: any physics beyond "this cannot be a tank".

mod check;
mod layout;
mod read;
mod section;
mod spec;

pub use read::{is_jurisdiction, read};
pub use spec::{
    Bed, BedKind, Counts, Gas, Glass, Hardscape, HeightOrder, Injection, LampOutput, LampSpec, LightReading,
    Lighting, Livestock, Material, Region, Spot, TankSpec, Tint, Top, WaterSpec, Wish, Wishes, ZoneRole,
    ZoneSpec,
};
