//! The growth chart: a panel a drift, cover above and height below, each with the range it may lie in.

use std::fmt::Write;

use super::stage::{Hold, MARGIN, NAME, PAGE, RING, SMALL, Stage};
use crate::report::svg::face::Slant;
use crate::report::svg::light_map::INK;
use crate::report::svg::writer::number;
use crate::report::view::{CutView, DriftCourseView, GrowView, RunsView, WeekView};

const COLUMNS: usize = 3;
/// Width and height of a panel, its name and axis included.
const CELL: [f64; 2] = [(PAGE - 2.0 * MARGIN) / COLUMNS as f64, 55.0];
/// From the corner of a cell to its plots.
const INSET: [f64; 2] = [9.0, 10.5];
const WIDE: f64 = 56.0;
/// Height of the two plots and the gap between them.
const PLOTS: [f64; 3] = [13.0, 4.0, 17.0];
const TOP: f64 = 34.0;
/// The tone of what is open.
const BAND: &str = "#cfd5d2";

/// One of the two plots of a panel.
struct Plot {
    left: f64,
    top: f64,
    high: f64,
    weeks: f64,
    /// The value at its top.
    most: f64,
    value: fn(&WeekView) -> RunsView,
    /// What a trim leaves.
    cut: fn(&CutView) -> f64,
}

impl Plot {
    fn x(&self, week: u32) -> f64 {
        self.left + f64::from(week) / self.weeks * WIDE
    }

    fn y(&self, value: f64) -> f64 {
        self.top + self.high * (1.0 - (value / self.most).clamp(0.0, 1.0))
    }
}

/// The growth of all drifts as an SVG page.
pub fn growth_chart(view: &GrowView) -> String {
    let rows = view.drifts.len().div_ceil(COLUMNS).max(1);
    let height = TOP + rows as f64 * CELL[1] + 12.0;
    let weeks = view.drifts.iter().flat_map(|d| &d.weeks).map(|p| p.week).max().unwrap_or(0).max(1);
    let title = format!("Growth in {}, week by week", view.tank);
    let heading = format!("Growth over {weeks} weeks: cover and height of each drift.");
    let mut stage = Stage::open(&view.tank, height, [&title, &description(view)], &heading);
    for (i, drift) in view.drifts.iter().enumerate() {
        let corner = [MARGIN + (i % COLUMNS) as f64 * CELL[0], TOP + (i / COLUMNS) as f64 * CELL[1]];
        panel(&mut stage, (i + 1, drift), corner, weeks);
    }
    let words = "Line: the middle run; band: from the slow run to the fast one. Triangles: trims, after which height and cover fall.";
    stage.words([MARGIN, height - 7.0], words, Slant::Italic, SMALL, Hold::Start);
    stage.svg.close();
    stage.svg.finish()
}

fn description(view: &GrowView) -> String {
    let each = |(i, d): (usize, &DriftCourseView)| {
        let [Some(first), Some(last)] = [d.weeks.first(), d.weeks.last()] else { return d.name.clone() };
        format!(
            "{} {}: cover from {:.0} to {:.0} %, height from {:.0} to {:.0} cm by week {}",
            i + 1,
            d.name,
            first.cover.mid * 100.0,
            last.cover.mid * 100.0,
            first.height_cm.mid,
            last.height_cm.mid,
            last.week
        )
    };
    let drifts: Vec<String> = view.drifts.iter().enumerate().map(each).collect();
    format!("Small panels, one a drift. {}.", drifts.join("; "))
}

fn panel(stage: &mut Stage, (index, drift): (usize, &DriftCourseView), [x, y]: [f64; 2], weeks: u32) {
    stage.ring([x + RING, y + 3.0], index);
    let room = CELL[0] - 2.0 * RING - 8.0;
    let full = stage.name_width(&drift.name, NAME);
    let size = (NAME * room / full.max(1.0)).min(NAME);
    stage.name([x + 2.0 * RING + 1.2, y + 4.0], &drift.name, size, Hold::Start);
    let [upper, lower] = plots(drift, [x + INSET[0], y + INSET[1]], weeks);
    draw(stage, &upper, drift);
    draw(stage, &lower, drift);
    scale(stage, &upper, "100", "cover %");
    scale(stage, &lower, &number(lower.most), "height cm");
    if let Some(last) = drift.weeks.last() {
        let (cover, height) = (last.cover.mid, last.height_cm.mid);
        end(stage, &upper, cover, &format!("{:.0} %", cover * 100.0));
        end(stage, &lower, height, &format!("{} cm", number((height * 10.0).round() / 10.0)));
    }
    axis(stage, &lower, drift, weeks);
}

/// The plots of a panel: cover, and height up to a round number.
fn plots(drift: &DriftCourseView, [left, top]: [f64; 2], weeks: u32) -> [Plot; 2] {
    const TOPS: [f64; 14] =
        [2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0, 150.0, 200.0, 300.0];
    let weeks = f64::from(weeks);
    let highest = drift.weeks.iter().map(|p| p.height_cm.high).fold(1.0, f64::max);
    let most = TOPS.into_iter().find(|m| *m >= highest).unwrap_or(highest);
    let cover = Plot { left, top, high: PLOTS[0], weeks, most: 1.0, value: |p| p.cover, cut: |c| c.cover };
    let height = Plot {
        top: top + PLOTS[0] + PLOTS[1],
        high: PLOTS[2],
        most,
        value: |p| p.height_cm,
        cut: |c| c.height_cm,
        ..cover
    };
    [cover, height]
}

/// The value of the last week, beside the end of its line.
fn end(stage: &mut Stage, plot: &Plot, value: f64, words: &str) {
    let y = plot.y(value).clamp(plot.top + 1.6, plot.top + plot.high);
    stage.words([plot.left + WIDE + 1.4, y + 0.6], words, Slant::Upright, SMALL, Hold::Start);
}

/// The range as a band, the expected as a line, over a frame of two sides.
fn draw(stage: &mut Stage, plot: &Plot, drift: &DriftCourseView) {
    let frame = [("stroke", INK), ("stroke-width", "0.2")];
    let floor = plot.top + plot.high;
    for share in [0.0, 0.5] {
        let y = plot.top + share * plot.high;
        let fine = [("stroke", INK), ("stroke-width", "0.1"), ("stroke-opacity", "0.35")];
        stage.svg.line([plot.left, y], [plot.left + WIDE, y], &fine);
    }
    if drift.weeks.len() > 1 {
        let point = |p: &WeekView, v: f64| format!("{} {}", number(plot.x(p.week)), number(plot.y(v)));
        let lower = drift.weeks.iter().map(|p| point(p, (plot.value)(p).low));
        let upper = drift.weeks.iter().rev().map(|p| point(p, (plot.value)(p).high));
        let band: Vec<String> = lower.chain(upper).collect();
        stage.svg.leaf("polygon", &[("points", &band.join(" ")), ("fill", BAND)]);
        let steps = |p: &WeekView| [Some((plot.value)(p).mid), p.cut.as_ref().map(plot.cut)];
        let line = drift.weeks.iter().flat_map(|p| steps(p).into_iter().flatten().map(|v| point(p, v)));
        let line: Vec<String> = line.collect();
        let look =
            [("fill", "none"), ("stroke", INK), ("stroke-width", "0.55"), ("stroke-linejoin", "round")];
        stage.svg.leaf("polyline", &[&[("points", &*line.join(" "))][..], &look[..]].concat());
    }
    stage.svg.line([plot.left, plot.top], [plot.left, floor], &frame);
    stage.svg.line([plot.left, floor], [plot.left + WIDE, floor], &frame);
}

/// The ends of a scale and what it measures.
fn scale(stage: &mut Stage, plot: &Plot, most: &str, words: &str) {
    let floor = plot.top + plot.high;
    stage.words([plot.left - 1.0, plot.top + 1.8], most, Slant::Upright, SMALL, Hold::End);
    stage.words([plot.left - 1.0, floor], "0", Slant::Upright, SMALL, Hold::End);
    stage.words([plot.left + 0.8, plot.top - 0.6], words, Slant::Italic, SMALL, Hold::Start);
}

/// The weeks under a panel, and the trims on them.
fn axis(stage: &mut Stage, plot: &Plot, drift: &DriftCourseView, weeks: u32) {
    let step = [1, 2, 4, 8, 13, 26].into_iter().find(|s| weeks / s <= 7).unwrap_or(52);
    let floor = plot.top + plot.high;
    for week in (0..=weeks).step_by(step as usize) {
        let x = plot.x(week);
        stage.svg.line([x, floor], [x, floor + 0.9], &[("stroke", INK), ("stroke-width", "0.2")]);
        let words = if week == 0 { "week 0".to_owned() } else { week.to_string() };
        stage.words([x, floor + 3.6], &words, Slant::Upright, SMALL, Hold::Middle);
    }
    let mut data = String::new();
    for week in drift.trims.iter().map(|t| t.week).filter(|w| *w <= weeks) {
        let _ = write!(data, "M{} {}l.8-1.4h-1.6z", number(plot.x(week)), number(plot.top + 1.4));
    }
    if !data.is_empty() {
        stage.svg.leaf("path", &[("d", &data), ("fill", INK)]);
    }
}
