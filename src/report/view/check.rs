//! A wish list against a tank, as answered by `check`.

use schemars::JsonSchema;
use serde::Serialize;

use super::{
    ExplainView, FactorView, GroupView, InputsView, JudgedView, OpenView, PairView, RemedyView,
    SubstituteView, TankView,
};
use crate::fit::{Assessment, Patch, Side, Wrong};

/// The verdict in a zone, in short.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ElsewhereView {
    /// Index into the zones of the tank.
    pub zone: usize,
    /// The verdict there.
    pub verdict: String,
    /// The suitability there.
    pub suitability: f64,
    /// What limits it there.
    pub limiting: String,
}

/// The verdict in a zone.
pub fn elsewhere(zone: usize, there: &Assessment) -> ElsewhereView {
    ElsewhereView {
        zone,
        verdict: there.verdict().word().to_owned(),
        suitability: super::rounded(there.suitability, 3),
        limiting: there.limiting.word().to_owned(),
    }
}

/// A plant of the list in the zone that suits it best.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct WishView {
    /// The names by which the list wishes for it.
    pub written: Vec<String>,
    /// Index into the zones of the tank: the one that suits it best.
    pub zone: usize,
    /// Its verdict there.
    #[serde(flatten)]
    pub judged: JudgedView,
    /// Whether a law of the tank's jurisdiction restricts it.
    pub barred: bool,
    /// Whether it at least grows and is not barred.
    pub fits: bool,
    /// Every factor of the verdict.
    pub factors: Vec<FactorView>,
    /// The factors that keep it from growing.
    pub short_of: Vec<String>,
    /// Where in the zone it does not grow, when it grows in the rest.
    pub patch: Option<PatchView>,
    /// Single changes with which it grows, the smallest first.
    pub remedies: Vec<RemedyView>,
    /// Two changes together, when no single one is enough.
    pub together: Option<PairView>,
    /// Lawful plants like it that grow there, the likest first.
    pub substitutes: Vec<SubstituteView>,
    /// The verdicts in the other zones that it serves.
    pub elsewhere: Vec<ElsewhereView>,
}

/// A line over the plan; the side of it where the plant does not grow.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SideView {
    /// `left-of`, `right-of`, `in-front-of` or `behind`.
    pub side: String,
    /// Where the line lies: from the left glass, or from the front glass.
    pub line_cm: f64,
}

/// The part of a zone where a plant does not grow.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PatchView {
    /// `too-dim` or `too-bright`.
    pub wrong: String,
    /// The sides that describe it; empty when no lines do.
    pub sides: Vec<SideView>,
}

/// A patch for the report.
pub fn patch_view(patch: &Patch) -> PatchView {
    let side = |side: &Side| {
        let (word, line) = match side {
            Side::LeftOf(line) => ("left-of", line),
            Side::RightOf(line) => ("right-of", line),
            Side::InFrontOf(line) => ("in-front-of", line),
            Side::Behind(line) => ("behind", line),
        };
        SideView { side: word.to_owned(), line_cm: super::rounded(line.cm(), 0) }
    };
    let wrong = match patch.wrong {
        Wrong::TooDim => "too-dim",
        Wrong::TooBright => "too-bright",
    };
    PatchView { wrong: wrong.to_owned(), sides: patch.sides.iter().map(side).collect() }
}

/// What `check` answers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CheckView {
    /// The tank.
    pub tank: TankView,
    /// How many of the list do not fit.
    pub misfits: usize,
    /// The list, worst first.
    pub wishes: Vec<WishView>,
    /// The list as a whole.
    pub group: GroupView,
    /// What the verdicts take as measured, and what that leaves open.
    pub measured: Vec<OpenView>,
    /// The full reasoning about one plant, when asked for.
    pub explained: Option<ExplainView>,
    /// Every number that the verdicts were computed from, when asked for.
    pub inputs: Option<InputsView>,
    /// What the person should know before acting.
    pub cautions: Vec<String>,
    /// What the model leaves out.
    pub left_out: Vec<String>,
}
