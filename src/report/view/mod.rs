//! What a command answers, as plain serialisable values.
//!
//! Field names carry the unit (`dli_mol_m2_d`); numbers are rounded to the digits that the
//! model can stand for, so that output does not pretend more.

mod calendar;
mod calendar_words;
mod catalogue;
mod cautions;
mod check;
mod compare;
mod factors;
mod fill;
mod find;
mod group;
mod grow;
mod handling;
mod inputs;
mod judged;
mod open;
mod picture;
mod plan;
mod planting;
mod remedy;
mod show;
mod tank;
mod tank_carbon;
mod tank_light;
mod tank_report;

pub use calendar::{
    CalendarParts, CalendarView, DayView, EntryView, ItemView, OffsetView, TimeZoneView, WeekListView,
    calendar_view,
};
pub use catalogue::{CatalogueView, TraitView, catalogue_view};
pub use cautions::{cautions, left_out};
pub use check::{CheckView, ElsewhereView, PatchView, SideView, WishView, elsewhere, patch_view};
pub use compare::{ColumnView, CompareView, column};
pub use factors::{ExplainView, ExplainedFactorView, FactorView, explain_view, factors};
pub use fill::{
    AlternativeView, ConflictMemberView, ConflictView, DifferenceView, FillView, NearView, PickView,
    PlacedView, ProofView, RunnerView, SettingView, StatedView, TotalsView, WhatIfView, WhyNotView,
    ZoneFillView,
};
pub use find::{CountView, FindView, FoundView};
pub use group::{
    FallView, GroupView, HazardView, HeightOrderView, RepeatView, ShadeView, WindowView, group_view,
};
pub use grow::{CutView, DriftCourseView, GrowView, RunsView, TrimView, WeekView, grow_view};
pub use handling::{EVERY_ARRIVAL, how_to_plant, on_arrival, piece_word};
pub use inputs::{
    InputsView, LevelInputs, MeasuredView, PlantInputs, VerdictOutput, ZoneInputs, inputs_view,
};
pub use judged::{CertaintyView, ConditionView, JudgedView, LimitView, flags, judged};
pub use open::{OpenView, open_view};
pub use picture::{PictureAsked, picture_view};
pub use plan::{
    DensityView, DriftView, PlanView, PurchaseTotalsView, PurchaseView, assumed, density_view, drift_view,
    remarks,
};
pub use planting::{DriftPictureView, LightLinesView, PictureView, StandView, ZoneBorderView};
pub use remedy::{
    ChangeView, PairView, RemedyView, SideEffectView, SubstituteView, ThenView, pair_view, remedy_view,
    substitute_view,
};
pub use show::{
    Background, ClaimView, EnvelopeView, FactView, NameView, OriginView, ShowView, SourceView, show_view,
};
pub use tank::{RangeView, TankView, ZoneView, tank_view};
pub use tank_carbon::{CarbonView, ProductRuleView};
pub use tank_light::{BandView, LampView, LightView, MapView, ReadingView, ScaleView, SpotView};
pub use tank_report::{
    AuditValueView, AuditView, LoadsView, PieceView, TankReportView, VolumesView, ZonePlanView, encloses,
    tank_report_view,
};

/// Rounds to `decimals`.
pub(crate) fn rounded(value: f64, decimals: i32) -> f64 {
    let scale = 10_f64.powi(decimals);
    let value = (value * scale).round() / scale;
    if value == 0.0 { 0.0 } else { value }
}
