//! Inks: muted natural colours on warm paper, each chosen so that greys alone still tell them apart.

use super::silhouette::Tone;
use crate::catalogue::Colour;

/// A colour, red, green, blue, 0 to 255.
pub(super) type Rgb = [f64; 3];

/// Lines and words.
pub(super) const INK_RGB: Rgb = [28.0, 40.0, 38.0];
const SUN: Rgb = [248.0, 243.0, 208.0];
const EARTH: Rgb = [122.0, 104.0, 70.0];
const BARK: Rgb = [190.0, 168.0, 132.0];

/// So much of `b` in `a`.
pub(super) fn mixed(a: Rgb, b: Rgb, share: f64) -> Rgb {
    std::array::from_fn(|i| a[i] + (b[i] - a[i]) * share)
}

/// As written in SVG.
pub(super) fn hex(rgb: Rgb) -> String {
    let [r, g, b] = rgb.map(|v| v.round().clamp(0.0, 255.0) as u8);
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// Foliage of a colour.
pub(super) fn foliage(colour: Colour) -> Rgb {
    match colour {
        Colour::LightGreen => [172.0, 188.0, 110.0],
        Colour::Green => [127.0, 154.0, 90.0],
        Colour::DarkGreen => [78.0, 113.0, 80.0],
        Colour::Red => [168.0, 84.0, 76.0],
        Colour::Brown => [146.0, 112.0, 70.0],
    }
}

/// The ink of a part.
pub(super) fn toned(colour: Colour, tone: Tone) -> Rgb {
    let leaf = foliage(colour);
    match tone {
        Tone::Deep => mixed(leaf, INK_RGB, 0.34),
        Tone::Mid => leaf,
        Tone::Bright => mixed(leaf, SUN, 0.28),
        Tone::Stalk => mixed(mixed(leaf, EARTH, 0.42), INK_RGB, 0.12),
        Tone::Root => BARK,
    }
}

/// The outline around a part.
pub(super) fn outlined(colour: Colour, tone: Tone) -> Rgb {
    match tone {
        Tone::Root => mixed(BARK, INK_RGB, 0.62),
        _ => mixed(foliage(colour), INK_RGB, 0.7),
    }
}
