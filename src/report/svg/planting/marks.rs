//! Where each piece of a drift goes on the plan, and the legend at its foot.

use std::fmt::Write;

use super::plan::Plan;
use super::stage::{Hold, MARGIN, SMALL, Stage, scale_of};
use crate::catalogue::GrowthForm;
use crate::report::svg::face::Slant;
use crate::report::svg::light_map::{INK, PAPER};
use crate::report::svg::writer::{Svg, number};
use crate::report::view::{PictureView, piece_word};

/// Where each piece goes: a mark by the form of the plant, on a halo of paper.
pub(super) fn draw(svg: &mut Svg, view: &PictureView, plan: &Plan) {
    for drift in &view.drifts {
        let mut data = String::new();
        for place in &drift.places_cm {
            let [x, y] = plan.at([place[0], place[1]]);
            let _ = write!(data, "M{} {}{}", number(x), number(y), mark(drift.growth_form));
        }
        marked(svg, &data);
    }
}

/// Marks in ink on a halo of paper.
fn marked(svg: &mut Svg, data: &str) {
    for (stroke, width) in [(PAPER, "1.1"), (INK, "0.38")] {
        let look = [("fill", "none"), ("stroke", stroke), ("stroke-width", width)];
        let round = [("stroke-linecap", "round"), ("stroke-linejoin", "round")];
        svg.leaf("path", &[&[("d", data)][..], &look, &round].concat());
    }
}

/// The mark of a form, as path data from its middle.
fn mark(form: GrowthForm) -> &'static str {
    match form {
        GrowthForm::Stem => "m-.6-.6l1.2 1.2m0-1.2l-1.2 1.2",
        GrowthForm::Rosette | GrowthForm::Bulb | GrowthForm::Runner => {
            "m-.7 0a.7.7 0 1 0 1.4 0a.7.7 0 1 0-1.4 0z"
        }
        GrowthForm::Rhizome | GrowthForm::Fern => "m-.9 .35l1.8-.7",
        GrowthForm::Floater => "m-.8 0h1.6m-.8-.8v1.6",
        _ => "m-.2 0a.2.2 0 1 0 .4 0a.2.2 0 1 0-.4 0z",
    }
}

/// Scale, and what lines and marks mean.
pub(super) fn foot(stage: &mut Stage, view: &PictureView, height: f64) {
    let mut phrases = vec![
        format!("1 : {} when printed at its own size.", number(scale_of(view))),
        "Dashed: zones.".to_owned(),
        "Stronger tint: what leaves cover.".to_owned(),
    ];
    if view.light.is_some() {
        phrases.push("Dotted: equal light on the bed, µmol/m²/s.".to_owned());
    }
    stage.words([MARGIN, height - 11.6], &phrases.join(" "), Slant::Italic, SMALL, Hold::Start);
    let y = height - 7.0;
    let said = stage.words([MARGIN, y], "A piece goes at each mark:", Slant::Italic, SMALL, Hold::Start);
    let mut x = said.right + 3.0;
    for (mark, words) in legend(view) {
        marked(&mut stage.svg, &format!("M{} {}{mark}", number(x), number(y - 0.8)));
        x = stage.words([x + 1.8, y], &words, Slant::Italic, SMALL, Hold::Start).right + 3.5;
    }
}

/// The marks on the plan, each with what its pieces are called.
fn legend(view: &PictureView) -> Vec<(&'static str, String)> {
    let mut found: Vec<(&'static str, Vec<String>)> = Vec::new();
    for drift in &view.drifts {
        let sign = mark(drift.growth_form);
        let alike = view.drifts.iter().filter(|d| mark(d.growth_form) == sign);
        let pieces = alike.map(|d| d.places_cm.len()).sum();
        let afloat = if drift.growth_form == GrowthForm::Floater { " afloat" } else { "" };
        let word = format!("{}{afloat}", piece_word(drift.growth_form, pieces));
        match found.iter_mut().find(|(known, _)| *known == sign) {
            Some((_, words)) if words.contains(&word) => {}
            Some((_, words)) => words.push(word),
            None => found.push((sign, vec![word])),
        }
    }
    found.into_iter().map(|(sign, words)| (sign, words.join(", "))).collect()
}
