//! A list as a whole, for the report.

use schemars::JsonSchema;
use serde::Serialize;

use super::judged::hazard_words;
use super::rounded;
use crate::catalogue::Hazard;
use crate::fit::group::{CANOPY_LIGHT, Fall, Group, Planted, Window};
use crate::tank::audit::{AuditLine, Standing, Topic};

/// Two plants on one line of sight in the wrong order.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct HeightOrderView {
    /// The nearer plant.
    pub near: String,
    /// Its height as kept.
    pub near_cm: f64,
    /// The farther, lower plant.
    pub far: String,
    /// Its height as kept.
    pub far_cm: f64,
}

/// A plant whose verdict falls in shade.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FallView {
    /// The plant.
    pub name: String,
    /// Its verdict without the shade.
    pub from: String,
    /// Its verdict in the shade.
    pub to: String,
}

/// Shade by plants of the list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ShadeView {
    /// Who casts it; `null` for the floating plants together.
    pub by: Option<String>,
    /// Share of the light that is left.
    pub light_left: f64,
    /// Who falls.
    pub falls: Vec<FallView>,
}

/// The values of one factor at which every plant of the list grows.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct WindowView {
    /// Temperature, pH, GH or KH.
    pub factor: String,
    /// From here.
    pub lo: f64,
    /// To here; below `lo` when no value suits all.
    pub hi: f64,
    /// The unit of both.
    pub unit: String,
    /// Whether some value suits all.
    pub open: bool,
    /// The plant that sets the lower end.
    pub needs_most: String,
    /// The plant that sets the upper end.
    pub bears_least: String,
    /// The plant without which it would be widest.
    pub narrowed_by: Option<String>,
    /// How much wider.
    pub wider_by: Option<f64>,
}

/// A plant that the list names more than once.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RepeatView {
    /// The plant.
    pub name: String,
    /// The names the list uses.
    pub written: Vec<String>,
}

/// A hazard and the plants of the list that have it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct HazardView {
    /// What it does.
    pub words: String,
    /// Who has it.
    pub plants: Vec<String>,
}

/// A list as a whole.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct GroupView {
    /// Plants named more than once, by one name or several.
    pub repeats: Vec<RepeatView>,
    /// Where something low stands behind something taller.
    pub height_order: Vec<HeightOrderView>,
    /// Shade that plants of the list cast on others.
    pub shade: Vec<ShadeView>,
    /// Share of the rooted zones covered right after planting.
    pub cover_at_planting: Option<f64>,
    /// Fast growers.
    pub fast: usize,
    /// Plants.
    pub plants: usize,
    /// The water that suits all.
    pub windows: Vec<WindowView>,
    /// What light does that carbon cannot follow, for the tank; `null` when in balance.
    pub light_against_carbon: Option<String>,
    /// Plants with light for their best and too little carbon.
    pub starved: Vec<String>,
    /// Slow plants in more light than they can use, without gas.
    pub overlit: Vec<String>,
    /// What hands, children and pets are to be kept from.
    pub hazards: Vec<HazardView>,
    /// Minutes of trimming a month.
    pub trim_minutes_per_month: u32,
    /// The limit that the tank file sets.
    pub trim_limit: Option<u32>,
}

/// A list as a whole, for the report. `written` are the names by which the list wishes for each.
pub fn group_view(
    group: &Group,
    list: &[Planted<'_>],
    written: &[Vec<String>],
    audit: &[AuditLine],
    trim_limit: Option<u32>,
) -> GroupView {
    let name = |i: usize| list[i].plant.display_name();
    let names = |indices: &[usize]| indices.iter().map(|i| name(*i)).collect();
    let fall = |f: &Fall| FallView {
        name: name(f.plant),
        from: f.from.word().to_owned(),
        to: f.to.word().to_owned(),
    };
    let floating = group.floating_shade.iter().filter(|s| !s.falls.is_empty()).map(|s| ShadeView {
        by: None,
        light_left: rounded(1.0 - s.cover.value(), 2),
        falls: s.falls.iter().map(fall).collect(),
    });
    let canopies = group.canopies.iter().map(|c| ShadeView {
        by: Some(name(c.tall)),
        light_left: CANOPY_LIGHT,
        falls: c.falls.iter().map(fall).collect(),
    });
    let outrun = audit.iter().find(|l| l.topic == Topic::LightAndCarbon && l.standing == Standing::Unusual);
    GroupView {
        repeats: written
            .iter()
            .enumerate()
            .filter(|(_, names)| names.len() > 1)
            .map(|(i, names)| RepeatView { name: name(i), written: names.clone() })
            .collect(),
        height_order: group
            .height_order
            .iter()
            .map(|o| HeightOrderView {
                near: name(o.near),
                near_cm: rounded(o.near_height.cm(), 0),
                far: name(o.far),
                far_cm: rounded(o.far_height.cm(), 0),
            })
            .collect(),
        shade: floating.chain(canopies).collect(),
        cover_at_planting: group.cover_at_planting.map(|c| rounded(c.value(), 2)),
        fast: group.fast,
        plants: list.len(),
        windows: group.windows.iter().map(|w| window(w, name)).collect(),
        light_against_carbon: outrun.map(|l| l.words.to_owned()),
        starved: names(&group.starved),
        overlit: names(&group.overlit),
        hazards: hazards(list),
        trim_minutes_per_month: group.trim_minutes_per_month,
        trim_limit,
    }
}

/// The hazards of a list, in the order of the vocabulary.
fn hazards(list: &[Planted<'_>]) -> Vec<HazardView> {
    let with = |hazard: Hazard| -> Vec<String> {
        list.iter().filter(|p| p.plant.hazards.contains(&hazard)).map(|p| p.plant.display_name()).collect()
    };
    let known = Hazard::ALL.iter().filter_map(|h| Some((hazard_words(*h)?, with(*h))));
    let met = known.filter(|(_, plants)| !plants.is_empty());
    met.map(|(words, plants)| HazardView { words: words.to_owned(), plants }).collect()
}

/// Ends are rounded inwards, so that the window is never wider than the exact one.
fn window(window: &Window, name: impl Fn(usize) -> String) -> WindowView {
    let scale = 10_f64.powi(window.factor.decimals());
    WindowView {
        factor: window.factor.word().to_owned(),
        lo: (window.lo * scale - 1e-9).ceil() / scale,
        hi: (window.hi * scale + 1e-9).floor() / scale,
        unit: window.factor.unit().to_owned(),
        open: window.is_open(),
        needs_most: name(window.needs_most),
        bears_least: name(window.bears_least),
        narrowed_by: window.narrowed_by.map(|(i, _)| name(i)),
        wider_by: window.narrowed_by.map(|(_, by)| rounded(by, window.factor.decimals())),
    }
}
