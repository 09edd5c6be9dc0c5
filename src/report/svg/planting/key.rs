//! The key under both drawings: number, sample, name, and what the drift is made of.

use super::hatch;
use super::stage::{Hold, MARGIN, NAME, PAGE, RING, SMALL, Stage};
use crate::report::svg::face::Slant;
use crate::report::svg::light_map::INK;
use crate::report::svg::paint::paint;
use crate::report::svg::silhouette::{Habit, draw};
use crate::report::svg::writer::number;
use crate::report::view::{DriftPictureView, PictureView};

const COLUMNS: usize = 3;
const ROW: f64 = 13.8;
/// Width and height of a sample.
const SAMPLE: [f64; 2] = [11.0, 10.2];

/// What stands beside a name.
#[derive(Debug, Clone, Copy)]
pub(super) enum Sample<'a> {
    /// The plant grown, small.
    Picture,
    /// Its hatch on the plan, of each drift.
    Hatch(&'a [hatch::Hatch]),
}

/// mm that the key of so many drifts takes.
pub(super) fn height(drifts: usize) -> f64 {
    drifts.div_ceil(COLUMNS) as f64 * ROW
}

/// Draws the key, filled column by column.
pub(super) fn draw_key(stage: &mut Stage, view: &PictureView, top: f64, sample: Sample<'_>) {
    let rows = view.drifts.len().div_ceil(COLUMNS);
    let width = (PAGE - 2.0 * MARGIN) / COLUMNS as f64;
    for (i, drift) in view.drifts.iter().enumerate() {
        let at = [MARGIN + (i / rows) as f64 * width, top + (i % rows) as f64 * ROW];
        draw_sample(stage, drift, (i, sample), [at[0] + 2.0 * RING + 1.8, at[1]]);
        entry(stage, drift, at, width, sample);
    }
}

fn draw_sample(
    stage: &mut Stage,
    drift: &DriftPictureView,
    (index, sample): (usize, Sample<'_>),
    at: [f64; 2],
) {
    match sample {
        Sample::Picture => picture(stage, drift, at),
        Sample::Hatch(hatches) => {
            if let Some(hatch) = hatches.get(index) {
                hatch::swatch(&mut stage.svg, drift, *hatch, at, SAMPLE);
            }
        }
    }
}

/// Number, name and particulars.
fn entry(stage: &mut Stage, drift: &DriftPictureView, [x, y]: [f64; 2], width: f64, sample: Sample<'_>) {
    stage.ring([x + RING, y + 0.5 * SAMPLE[1]], drift.number);
    let words_at = x + 2.0 * RING + 1.8 + SAMPLE[0] + 2.2;
    let room = x + width - words_at - 3.0;
    let full = stage.name_width(&drift.name, NAME);
    let size = (NAME * room / full.max(1.0)).min(NAME);
    stage.name([words_at, y + 3.2], &drift.name, size, Hold::Start);
    let pieces = drift.places_cm.len();
    let each = if pieces == 1 {
        "1 piece".to_owned()
    } else {
        format!("{pieces} {} {} apart", drift.piece_word, cm(drift.spacing_cm))
    };
    let portions =
        if drift.portions == 1 { "1 portion".to_owned() } else { format!("{} portions", drift.portions) };
    let words = match sample {
        Sample::Picture if drift.is_gone() => "nothing left of it".to_owned(),
        Sample::Picture => {
            format!("{} high, grown {}", cm(drift.height_cm), range(drift.grown_height_cm))
        }
        Sample::Hatch(_) => format!("{portions}, {each}"),
    };
    for (words, down) in [(&drift.zone, 6.8), (&words, 10.1)] {
        let words = stage.face.fitted(words, Slant::Upright, SMALL, room);
        stage.words([words_at, y + down], &words, Slant::Upright, SMALL, Hold::Start);
    }
}

fn cm(value: f64) -> String {
    format!("{} cm", number((value * 10.0).round() / 10.0))
}

fn range([low, high]: [f64; 2]) -> String {
    format!("{} to {}", number(low), cm(high))
}

/// The grown plant in a small box.
fn picture(stage: &mut Stage, drift: &DriftPictureView, [x, y]: [f64; 2]) {
    let habit = Habit {
        form: drift.growth_form,
        texture: drift.texture,
        height_cm: drift.grown_cm(),
        grown_cm: drift.grown_cm(),
        spread_cm: drift.spread_cm,
        room_cm: 300.0,
        air_cm: 300.0,
        maturity: 0.7,
        seed: drift.number as u64,
    };
    let drawing = draw(&habit);
    let [low, high] = drawing.bounds();
    let size = [high[0] - low[0], high[1] - low[1]];
    let scale = (SAMPLE[0] / size[0].max(0.1)).min(SAMPLE[1] / size[1].max(0.1));
    let left = x + (SAMPLE[0] - size[0] * scale) / 2.0 - low[0] * scale;
    let foot = y + SAMPLE[1] + low[1] * scale;
    stage.svg.open("g", &[("transform", &format!("translate({} {})", number(left), number(foot)))]);
    paint(&mut stage.svg, &drawing, drift.colour, scale);
    stage.svg.close();
    let line = [("stroke", INK), ("stroke-width", "0.12"), ("stroke-opacity", "0.6")];
    stage.svg.line(
        [x, y + SAMPLE[1] + low[1].min(0.0) * scale],
        [x + SAMPLE[0], y + SAMPLE[1] + low[1].min(0.0) * scale],
        &line,
    );
}
