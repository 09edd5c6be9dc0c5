//! What a planted tank looks like, week by week, as values to draw from.

use super::fill::Choice;
use super::grow::{Grown, stands};
use crate::diagnostic::{Finding, Findings};
use crate::planting::Planting;
use crate::report::png::{PictureError, png};
use crate::report::view::{PictureAsked, PictureView, picture_view};
use crate::tank::TankModel;

/// Pixels to the inch of a drawing's own size.
const FINE: f64 = 150.0;

/// A drawing as a PNG file. Letters that it cannot show are told, once for all drawings.
///
/// # Errors
/// As [`png`].
pub fn in_pixels(svg: &str, notes: &mut Findings) -> Result<Vec<u8>, PictureError> {
    let picture = png(svg, FINE)?;
    if !picture.lacking.is_empty() {
        let letters: Vec<String> = picture.lacking.iter().map(|c| format!("“{c}”")).collect();
        let message = format!(
            "PNG pictures have empty boxes for what their typeface lacks: {}; SVG drawings do not",
            letters.join(", ")
        );
        if notes.iter().all(|n| n.message != message) {
            notes.push(Finding::warning(message).expected("names in Latin letters"));
        }
    }
    Ok(picture.bytes)
}

/// A picture of a planting plan in each of these weeks; `list` holds the plants of its drifts. With
/// `light`, lines of equal light are drawn on the plan.
pub fn pictures(
    model: &TankModel,
    planting: &Planting,
    list: &[Choice<'_>],
    weeks: &[u32],
    light: bool,
) -> Vec<PictureView> {
    let last = weeks.iter().copied().max().unwrap_or(0);
    let grown = Grown::planted(model, planting, list, last);
    of_grown(model, (planting, list), &grown, weeks, light)
}

/// As [`pictures`], of a planting that was followed for as many weeks as the last of these, or more.
pub(super) fn of_grown(
    model: &TankModel,
    (planting, list): (&Planting, &[Choice<'_>]),
    grown: &Grown<'_>,
    weeks: &[u32],
    light: bool,
) -> Vec<PictureView> {
    let planted = stands(planting, list);
    let picture = |week: &u32| {
        picture_view(model, &planted, PictureAsked { week: *week, courses: &grown.courses, light })
    };
    weeks.iter().map(picture).collect()
}
