//! The envelopes of every plant of a list against the tank: a row a plant, a panel a factor.
//!
//! In each panel the grey shape is what suits the plant (its height is the suitability), the
//! hatched band what the measurement leaves open, the black line the value taken. The limiting
//! factor's panel has a heavy frame. Legible without colour.

use super::sheet::{Anchor, Sheet};
use crate::report::view::{CheckView, FactorView, WishView};

const MARGIN: f64 = 16.0;
const NAME: f64 = 190.0;
const PANEL: (f64, f64) = (112.0, 46.0);
const GAP: (f64, f64) = (12.0, 34.0);
const HEAD: f64 = 64.0;

/// The factors drawn, each with the ends of its scale.
type Scales = [(&'static str, f64, f64); 6];

/// Light and carbon differ from tank to tank by more than one scale shows: theirs ends where the
/// best of the most demanding plant begins, or beyond what the tank has.
fn scales(view: &CheckView) -> Scales {
    let end = |name: &str, least: f64| {
        let factors = view.wishes.iter().flat_map(|w| &w.factors).filter(|f| f.factor == name);
        let ends = factors.filter_map(|f| Some(f.curve?[1]?.max(f.hi?)));
        (1.25 * ends.fold(least, f64::max)).ceil()
    };
    [
        ("light", 0.0, end("light", 2.0)),
        ("carbon", 0.0, end("carbon", 4.0)),
        ("temperature", 10.0, 36.0),
        ("pH", 4.0, 10.0),
        ("GH", 0.0, 30.0),
        ("KH", 0.0, 25.0),
    ]
}

const STYLE: &str = "text{font-family:sans-serif;font-size:11px;fill:#111}.name{font-style:italic;font-size:13px}\
    .title{font-size:16px;font-weight:bold}.quiet{fill:#555}.suits{fill:#c4c4c4;stroke:#666;stroke-width:.8}\
    .open{fill:#000;fill-opacity:.28}.value{stroke:#000;stroke-width:2}.frame{fill:none;stroke:#999}\
    .limits{fill:none;stroke:#000;stroke-width:2.4}.off{fill:#000}";

/// The chart of a checked list.
pub fn check(view: &CheckView) -> String {
    let (mut sheet, scales) = (Sheet::default(), scales(view));
    let width = MARGIN * 2.0 + NAME + scales.len() as f64 * (PANEL.0 + GAP.0) - GAP.0;
    let row = PANEL.1 + GAP.1;
    let height = MARGIN + HEAD + view.wishes.len() as f64 * row;
    sheet.text(
        "title",
        (MARGIN, MARGIN + 14.0),
        Anchor::Start,
        &format!("{}: the list against the tank", view.tank.name),
    );
    let legend = "grey: what suits the plant; dark band: what the measurement leaves open; line: the value \
                  taken; heavy frame: what limits";
    sheet.text("quiet", (MARGIN, MARGIN + 32.0), Anchor::Start, legend);
    for (column, (factor, ..)) in scales.iter().enumerate() {
        let unit = unit_of(view, factor);
        let x = left(column) + PANEL.0 / 2.0;
        sheet.text("", (x, MARGIN + HEAD - 10.0), Anchor::Middle, format!("{factor} {unit}").trim_end());
    }
    for (n, wish) in view.wishes.iter().enumerate() {
        draw_row(&mut sheet, (view, &scales), wish, MARGIN + HEAD + n as f64 * row);
    }
    let description = description(view);
    sheet.finish(
        (width, height),
        &format!("{}: envelopes against the tank", view.tank.name),
        &description,
        STYLE,
    )
}

fn unit_of<'a>(view: &'a CheckView, factor: &str) -> &'a str {
    let found =
        view.wishes.iter().flat_map(|w| &w.factors).find(|f| f.factor == factor && !f.unit.is_empty());
    found.map_or("", |f| &f.unit)
}

/// The chart in words, a sentence a plant.
fn description(view: &CheckView) -> String {
    let sentence = |w: &WishView| {
        format!("{} {}, limited by {}.", w.judged.name, w.judged.verdict, w.judged.limiting.factor)
    };
    view.wishes.iter().map(sentence).collect::<Vec<_>>().join(" ")
}

fn left(column: usize) -> f64 {
    MARGIN + NAME + column as f64 * (PANEL.0 + GAP.0)
}

fn draw_row(sheet: &mut Sheet, (view, scales): (&CheckView, &Scales), wish: &WishView, top: f64) {
    let judged = &wish.judged;
    sheet.text("name", (MARGIN, top + 14.0), Anchor::Start, &short(&judged.name));
    let verdict = if wish.barred { "barred by law" } else { &judged.verdict };
    let sure = if judged.certainty.sure { "" } else { "?" };
    sheet.text(
        "",
        (MARGIN, top + 30.0),
        Anchor::Start,
        &format!("{verdict}{sure} · {}", view.tank.zones[wish.zone].name),
    );
    let limiting = &judged.limiting.factor;
    if scales.iter().all(|(factor, ..)| factor != limiting) {
        sheet.text("quiet", (MARGIN, top + 44.0), Anchor::Start, &format!("limited by {limiting}"));
    }
    for (column, (name, lo, hi)) in scales.iter().enumerate() {
        let Some(factor) = wish.factors.iter().find(|f| f.factor == *name) else { continue };
        panel(sheet, factor, (left(column), top), (*lo, *hi), name == limiting);
    }
}

/// A name that fits its column.
fn short(name: &str) -> String {
    const MOST: usize = 25;
    if name.chars().count() <= MOST {
        return name.to_owned();
    }
    let cut: String = name.chars().take(MOST - 1).collect();
    format!("{cut}…")
}

fn panel(sheet: &mut Sheet, factor: &FactorView, (x, y): (f64, f64), (lo, hi): (f64, f64), limits: bool) {
    let floor = y + PANEL.1;
    let at = |v: f64| x + (v.clamp(lo, hi) - lo) / (hi - lo) * PANEL.0;
    let (Some(curve), Some(value)) = (factor.curve, factor.value) else {
        sheet.rect("frame", (x, y), PANEL);
        sheet.text("quiet", (x + PANEL.0 / 2.0, y + PANEL.1 / 2.0 + 4.0), Anchor::Middle, "does not limit");
        return;
    };
    sheet.polygon("suits", &outline(curve, (lo, hi), |v, s| (at(v), floor - s * (PANEL.1 - 6.0))));
    if let (Some(from), Some(to)) = (factor.lo, factor.hi)
        && to > from
    {
        sheet.rect("open", (at(from), y), ((at(to) - at(from)).max(1.0), PANEL.1));
    }
    sheet.line("value", (at(value), y), (at(value), floor));
    if value > hi || value < lo {
        let (tip, base) = if value > hi { (x + PANEL.0, x + PANEL.0 - 6.0) } else { (x, x + 6.0) };
        sheet.polygon("off", &[(tip, y + 8.0), (base, y + 4.0), (base, y + 12.0)]);
    }
    sheet.rect(if limits { "limits" } else { "frame" }, (x, y), PANEL);
    sheet.text("quiet", (x, floor + 12.0), Anchor::Start, &lo.to_string());
    sheet.text("quiet", (x + PANEL.0, floor + 12.0), Anchor::End, &hi.to_string());
    sheet.text("", (x + PANEL.0 / 2.0, floor + 12.0), Anchor::Middle, &value.to_string());
}

/// The corners of a plant's curve over a scale, cut off at its ends.
fn outline(
    curve: [Option<f64>; 4],
    (lo, hi): (f64, f64),
    place: impl Fn(f64, f64) -> (f64, f64),
) -> Vec<(f64, f64)> {
    let [a, b, c, d] = curve.map(|v| v.unwrap_or(f64::INFINITY));
    let suits = |v: f64| {
        if v < b {
            ((v - a) / (b - a)).clamp(0.0, 1.0)
        } else if v <= c {
            1.0
        } else {
            ((d - v) / (d - c)).clamp(0.0, 1.0)
        }
    };
    let mut corners = vec![place(lo, 0.0), place(lo, suits(lo))];
    let inside = [(a, 0.0), (b, 1.0), (c, 1.0), (d, 0.0)];
    corners.extend(inside.into_iter().filter(|(v, _)| *v > lo && *v < hi).map(|(v, s)| place(v, s)));
    corners.extend([place(hi, suits(hi)), place(hi, 0.0)]);
    corners
}
