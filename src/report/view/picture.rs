//! From a tank and its planting plan to the values that drawings take.

use super::planting::{DriftPictureView, LightLinesView, PictureView, StandView, ZoneBorderView};
use super::tank_light::light_view;
use super::{PieceView, piece_word, rounded};
use crate::catalogue::{Footing, Plant};
use crate::planting::Drift;
use crate::planting::growth::{Course, WeekState};
use crate::tank::TankModel;
use crate::tank::file::{Region, Spot, Top};
use crate::tank::outline::Outline;
use crate::units::Length;

/// What a drawing is asked for.
#[derive(Debug, Clone, Copy)]
pub struct PictureAsked<'a> {
    /// Weeks since planting.
    pub week: u32,
    /// The course of every drift, in the order of the plan.
    pub courses: &'a [Course],
    /// Whether lines of equal light are wanted.
    pub light: bool,
}

/// The drawing of a planting plan, its drifts with their taxa.
pub fn picture_view(model: &TankModel, planted: &[(&Drift, &Plant)], asked: PictureAsked<'_>) -> PictureView {
    let spec = &model.spec;
    let glass = &spec.glass;
    let light = light_view(model, &model.bed_light);
    let drifts = planted.iter().zip(asked.courses).enumerate();
    PictureView {
        tank: spec.name.clone(),
        week: asked.week,
        length_cm: cm(glass.length),
        depth_cm: cm(glass.depth),
        height_cm: cm(glass.height),
        water_cm: cm(glass.water),
        open_top: glass.top == Top::Open,
        bed_kind: spec.bed.kind.word().to_owned(),
        bed_cm: [cm(spec.bed.front), cm(spec.bed.back)],
        hardscape: spec.hardscape.iter().map(piece).collect(),
        zones: (0..spec.zones.len()).map(|i| zone(model, i)).collect(),
        drifts: drifts
            .map(|(i, ((drift, plant), course))| {
                drift_view(model, i, drift, plant, course.weeks.iter().find(|w| w.week == asked.week))
            })
            .collect(),
        light: asked.light.then(|| LightLinesView { map: light.map.clone(), bands: light.bands.clone() }),
        lamps: light.lamps,
    }
}

fn cm(length: Length) -> f64 {
    rounded(length.cm(), 2)
}

fn corners(outline: &Outline) -> Vec<[f64; 2]> {
    outline.spots().map(spot).collect()
}

fn spot((x, y): Spot) -> [f64; 2] {
    [cm(x), cm(y)]
}

fn piece(piece: &crate::tank::file::Hardscape) -> PieceView {
    PieceView {
        name: piece.name.clone(),
        material: piece.material.word().to_owned(),
        outline_cm: corners(&piece.outline),
        top_cm: cm(piece.top),
    }
}

fn zone(model: &TankModel, index: usize) -> ZoneBorderView {
    let zone = &model.spec.zones[index];
    let outline_cm = match &zone.region {
        Region::Outline(outline) => vec![corners(outline)],
        Region::On(_) => Vec::new(),
    };
    ZoneBorderView { name: zone.name.clone(), outline_cm }
}

fn drift_view(
    model: &TankModel,
    index: usize,
    drift: &Drift,
    plant: &Plant,
    state: Option<&WeekState>,
) -> DriftPictureView {
    let height = state.map_or(Length::from_cm(0.0), |s| s.height.nominal());
    let cover = state.map_or(0.0, |s| s.cover.nominal().value());
    DriftPictureView {
        number: index + 1,
        name: plant.display_name(),
        zone: model.spec.zones[drift.zone].name.clone(),
        growth_form: plant.growth_form,
        texture: plant.texture,
        colour: plant.colour,
        stand: match drift.footing {
            Footing::Bed => StandView::Bed,
            Footing::Hardscape => StandView::Hardscape,
            Footing::Surface | Footing::Drifting => StandView::Surface,
        },
        outline_cm: drift.outline.iter().map(|r| r.points.iter().copied().map(spot).collect()).collect(),
        places_cm: drift.places.iter().map(|p| [cm(p.at.0), cm(p.at.1), cm(p.foot)]).collect(),
        piece_word: piece_word(plant.growth_form, drift.places.len()).to_owned(),
        portions: drift.portions as usize,
        height_cm: rounded(height.cm(), 1),
        grown_height_cm: [cm(plant.height.lo()), cm(plant.height.hi())],
        spread_cm: cm(plant.spread),
        spacing_cm: cm(drift.spacing),
        cover: rounded(cover, 3),
    }
}
