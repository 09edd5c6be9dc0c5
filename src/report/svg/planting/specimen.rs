//! The specimen sheet: every form and look of leaf side by side, for the eye of whoever changes them.

use super::stage::{Hold, SMALL, Stage};
use crate::catalogue::{Colour, GrowthForm, LeafTexture};
use crate::report::svg::face::Slant;
use crate::report::svg::light_map::INK;
use crate::report::svg::paint::paint;
use crate::report::svg::silhouette::{Habit, draw};
use crate::report::svg::writer::number;

/// Width and height of the room for one plant, mm.
const CELL: [f64; 2] = [34.0, 42.0];
const COLUMNS: usize = 8;
const LEFT: f64 = 3.5;
const TOP: f64 = 30.0;

/// Forms with the looks their leaves have, and height and width in cm.
const PLANTS: [(GrowthForm, LeafTexture, f64, f64); 32] = {
    use GrowthForm::{Alga, Bulb, Creeper, Fern, Floater, Liverwort, Moss, Rhizome, Rosette, Runner, Stem};
    use LeafTexture::{Broad, Fine, Linear, Small};
    [
        (Stem, Small, 30.0, 7.0),
        (Stem, Broad, 35.0, 12.0),
        (Stem, Linear, 38.0, 10.0),
        (Stem, Fine, 38.0, 7.0),
        (Creeper, Small, 4.0, 7.0),
        (Creeper, Linear, 7.0, 9.0),
        (Moss, Fine, 4.0, 8.0),
        (Moss, Fine, 20.0, 14.0),
        (Liverwort, Small, 5.0, 9.0),
        (Liverwort, Fine, 4.0, 8.0),
        (Rosette, Broad, 25.0, 22.0),
        (Rosette, Linear, 25.0, 20.0),
        (Rosette, Small, 12.0, 12.0),
        (Rosette, Fine, 10.0, 10.0),
        (Runner, Linear, 40.0, 14.0),
        (Runner, Fine, 8.0, 6.0),
        (Runner, Small, 8.0, 8.0),
        (Runner, Broad, 36.0, 36.0),
        (Rhizome, Broad, 22.0, 22.0),
        (Rhizome, Small, 7.0, 10.0),
        (Rhizome, Linear, 30.0, 15.0),
        (Bulb, Broad, 38.0, 30.0),
        (Bulb, Linear, 46.0, 34.0),
        (Fern, Broad, 30.0, 24.0),
        (Fern, Linear, 24.0, 20.0),
        (Fern, Fine, 32.0, 28.0),
        (Fern, Small, 12.0, 9.0),
        (Floater, Broad, 15.0, 18.0),
        (Floater, Small, 7.0, 12.0),
        (Floater, Fine, 14.0, 18.0),
        (Alga, Fine, 8.0, 8.0),
        (Alga, Fine, 30.0, 15.0),
    ]
};

/// All forms as an SVG page, each grown to `maturity` from 0 to 1; colours go round.
pub fn specimen_sheet(maturity: f64) -> String {
    let height = TOP + PLANTS.len().div_ceil(COLUMNS) as f64 * CELL[1] + 6.0;
    let titles = ["Specimens", "Every growth form with the looks its leaves have, drawn by the program."];
    let mut stage = Stage::open("Specimens", height, titles, "Each form with the looks its leaves have.");
    for (i, (form, texture, tall, wide)) in PLANTS.into_iter().enumerate() {
        let corner = [LEFT + (i % COLUMNS) as f64 * CELL[0], TOP + (i / COLUMNS) as f64 * CELL[1]];
        let grown = 0.35 + 0.65 * maturity;
        let habit = Habit {
            form,
            texture,
            height_cm: tall * grown,
            grown_cm: tall,
            spread_cm: wide * grown,
            room_cm: 34.0,
            air_cm: 20.0,
            maturity,
            seed: i as u64,
        };
        specimen(&mut stage, &habit, Colour::ALL[i % Colour::ALL.len()], corner, [tall, wide]);
    }
    stage.svg.close();
    stage.svg.finish()
}

fn specimen(stage: &mut Stage, habit: &Habit, colour: Colour, [x, y]: [f64; 2], [tall, wide]: [f64; 2]) {
    let scale = (0.86 * CELL[0] / wide).min(0.72 * CELL[1] / tall).min(3.4);
    let afloat = habit.form == GrowthForm::Floater;
    let foot = [x + CELL[0] / 2.0, y + CELL[1] * if afloat { 0.45 } else { 0.82 }];
    let ground = [("stroke", INK), ("stroke-width", "0.12"), ("stroke-opacity", "0.6")];
    stage.svg.line([x + 2.0, foot[1]], [x + CELL[0] - 2.0, foot[1]], &ground);
    stage.svg.open("g", &[("transform", &format!("translate({} {})", number(foot[0]), number(foot[1])))]);
    paint(&mut stage.svg, &draw(habit), colour, scale);
    stage.svg.close();
    let words = format!("{}, {}", habit.form, habit.texture);
    stage.words([foot[0], y + CELL[1] - 2.0], &words, Slant::Italic, SMALL, Hold::Middle);
}
