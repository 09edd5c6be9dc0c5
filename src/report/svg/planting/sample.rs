//! A drift made up for tests.

use crate::catalogue::{Colour, GrowthForm, LeafTexture};
use crate::report::view::{DriftPictureView, StandView};

/// A drift of the given number; form, look and colour go round.
pub(super) fn drift(number: usize) -> DriftPictureView {
    DriftPictureView {
        number,
        name: format!("Plantago numerata '{number}'"),
        zone: "middle".to_owned(),
        growth_form: GrowthForm::ALL[number % GrowthForm::ALL.len()],
        texture: LeafTexture::ALL[number % LeafTexture::ALL.len()],
        colour: Colour::ALL[number % Colour::ALL.len()],
        stand: StandView::Bed,
        outline_cm: vec![vec![[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]]],
        places_cm: vec![[5.0, 5.0, 4.0]],
        piece_word: "stems".to_owned(),
        portions: 1,
        height_cm: 12.0,
        grown_height_cm: [10.0, 30.0],
        spread_cm: 8.0,
        spacing_cm: 5.0,
        cover: 0.6,
    }
}
