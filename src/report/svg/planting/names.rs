//! Names with lines to their plants, none on another; where a name finds no room, its number alone.

use super::stage::{Hold, NAME, RING, Stage};
use crate::report::svg::labels::{Area, Page, Place};
use crate::report::svg::light_map::{INK, PAPER};
use crate::report::svg::writer::{Svg, number};

/// A point that a name may lead to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Anchor {
    pub at: [f64; 2],
}

/// A name to be placed.
pub(super) struct Named<'a> {
    pub number: usize,
    pub name: &'a str,
    /// Where its line may end, the best first.
    pub anchors: Vec<Anchor>,
    /// Whether it belongs into the cut of the bed, if there is room.
    pub low: bool,
}

/// Lower edges of the rows that names may stand in, the nearest to the tank first.
pub(super) struct Rows {
    pub above: Vec<f64>,
    pub below: Vec<f64>,
    /// Left and right end of the rows below: the glass.
    pub glass: [f64; 2],
}

/// Sizes of names in mm, the usual first: where some find no room, all are set smaller.
const SIZES: [f64; 3] = [NAME, 2.8, 2.6];
/// Height of a name's box, mm.
const HIGH: f64 = 2.0 * RING + 0.3;
/// mm from the ring to the name, and from the name to the end of its box.
const GAP: f64 = 0.9;
const END: f64 = 1.1;

/// A way to set the names: who stands on which step, and to which side its words go.
pub(super) struct Stairs {
    /// Index of the name, its step over the tank, whether its words go to the right.
    order: Vec<(usize, usize, bool)>,
    /// Steps that are needed.
    pub steps: usize,
    /// Size of the names, mm.
    size: f64,
}

impl Stairs {
    /// The first `split` names over the tank, counted from the left, go up the left stairs.
    ///
    /// The outermost stands highest, each with its ring over its plant and its words towards the
    /// middle: so no line has to pass through words.
    fn new(named: &[Named<'_>], split: usize, size: f64) -> Self {
        let x = |i: &usize| named[*i].anchors.first().map_or(0.0, |a| a.at[0]);
        let mut over: Vec<usize> = (0..named.len()).filter(|i| !named[*i].low).collect();
        over.sort_by(|a, b| x(a).total_cmp(&x(b)));
        let right: Vec<usize> = over.split_off(split.min(over.len())).into_iter().rev().collect();
        let steps = over.len().max(right.len());
        let low = (0..named.len()).filter(|i| named[*i].low).map(|i| (i, steps, true));
        let climb = |side: Vec<usize>, rightward: bool| {
            let count = side.len();
            side.into_iter().enumerate().map(move |(i, index)| (index, count - 1 - i, rightward))
        };
        Self { order: low.chain(climb(over, true)).chain(climb(right, false)).collect(), steps, size }
    }

    /// The stairs on which most names find room, in the largest type, the lowest of those.
    pub fn best(stage: &Stage, named: &[Named<'_>], rows: &Rows) -> Self {
        let mut best: Option<(usize, Self)> = None;
        for size in SIZES {
            let (placed, stairs) = Self::best_of(stage, named, rows, size);
            if best.as_ref().is_none_or(|(most, _)| placed > *most) {
                best = Some((placed, stairs));
            }
            if placed == named.len() {
                break;
            }
        }
        best.map_or(Self { order: Vec::new(), steps: 1, size: NAME }, |(_, stairs)| stairs)
    }

    /// The best stairs in one size of type, with how many names find room.
    fn best_of(stage: &Stage, named: &[Named<'_>], rows: &Rows, size: f64) -> (usize, Self) {
        let count = named.iter().filter(|n| !n.low).count();
        let mut best: Option<(usize, usize, Self)> = None;
        for split in 0..=count {
            let stairs = Self::new(named, split, size);
            let found = stairs.set(stage, &mut stage.page.clone(), named, rows).0;
            // A low name without room below takes a step more.
            let steps = found.iter().filter(|(_, p)| p.area.bottom <= rows.above[0]).fold(
                stairs.steps,
                |most, (_, p)| {
                    most.max(
                        rows.above.iter().position(|r| *r <= p.area.bottom + 0.01).map_or(most, |r| r + 1),
                    )
                },
            );
            let better = best.as_ref().is_none_or(|(n, s, _)| (found.len(), *s) > (*n, steps));
            if better {
                best = Some((found.len(), steps, Self { steps, ..stairs }));
            }
        }
        best.map_or((0, Self { order: Vec::new(), steps: 1, size }), |(placed, _, stairs)| (placed, stairs))
    }

    /// Sets the names on a page: those that find room, and those that do not.
    fn set(
        &self,
        stage: &Stage,
        page: &mut Page,
        named: &[Named<'_>],
        rows: &Rows,
    ) -> (Vec<(usize, Place)>, Vec<usize>) {
        let (mut found, mut bare) = (Vec::new(), Vec::new());
        for &(index, step, rightward) in &self.order {
            let width = 2.0 * RING + GAP + stage.name_width(named[index].name, self.size) + END;
            match page.first(places(&named[index], rows, step, rightward, width)) {
                Some(place) => found.push((index, place)),
                None => bare.push(index),
            }
        }
        (found, bare)
    }
}

/// Places all names and draws them; `between` draws what stands before the lines and behind the names.
pub(super) fn place_names(
    stage: &mut Stage,
    named: &[Named<'_>],
    rows: &Rows,
    inside: Area,
    between: impl FnOnce(&mut Svg),
) {
    let mut page = stage.page.clone();
    let stairs = Stairs::best(stage, named, rows);
    let (found, bare) = stairs.set(stage, &mut page, named, rows);
    let mut found: Vec<(usize, Place, bool)> = found.into_iter().map(|(i, p)| (i, p, true)).collect();
    for index in bare {
        found.extend(page.first(beside(&named[index], inside)).map(|place| (index, place, false)));
    }
    stage.page = page;
    for (_, place, _) in &found {
        leader(&mut stage.svg, &place.leader);
    }
    between(&mut stage.svg);
    for (index, place, full) in &found {
        tag(stage, &named[*index], place, full.then_some(stairs.size));
    }
}

/// Boxes over or under each anchor, with a straight line to it: its own step first, then any.
fn places<'a>(
    name: &'a Named<'_>,
    rows: &'a Rows,
    step: usize,
    rightward: bool,
    width: f64,
) -> impl Iterator<Item = Place> + 'a {
    let below: &[f64] = if name.low { &rows.below } else { &[] };
    let (lower, upper) = rows.above.split_at(step.min(rows.above.len()));
    let over = upper.iter().chain(lower.iter().rev());
    let held = if rightward { [RING, width - RING] } else { [width - RING, RING] };
    let [left, right] = rows.glass;
    let inside =
        move |p: &Place| p.area.bottom < p.leader[1][1] || (p.area.left >= left && p.area.right <= right);
    let all = below.iter().chain(over).flat_map(move |row| {
        held.into_iter().flat_map(move |held| {
            name.anchors.iter().map(move |anchor| {
                let area = Area::new([anchor.at[0] - held, row - HIGH], [width, HIGH]);
                let from = if *row < anchor.at[1] { area.bottom } else { area.top };
                Place { area, leader: vec![[anchor.at[0], from], anchor.at] }
            })
        })
    });
    all.filter(inside)
}

/// A number alone, on the plant or as near as there is room.
fn beside<'a>(name: &'a Named<'_>, inside: Area) -> impl Iterator<Item = Place> + 'a {
    (0..14)
        .flat_map(move |ring| {
            name.anchors.iter().flat_map(move |anchor| {
                let steps = if ring == 0 { 1 } else { 8 };
                (0..steps).map(move |k| {
                    let turn = f64::from(k) / f64::from(steps) * std::f64::consts::TAU;
                    let away = f64::from(ring) * 2.6;
                    let at = [anchor.at[0] + away * libm::cos(turn), anchor.at[1] + away * libm::sin(turn)];
                    let area = Area::new([at[0] - RING, at[1] - RING], [2.0 * RING, 2.0 * RING]);
                    Place { area, leader: Vec::new() }
                })
            })
        })
        .filter(move |place| place.area.within(&inside))
}

/// A fine line on a halo of paper, with a dot on the plant.
fn leader(svg: &mut Svg, points: &[[f64; 2]]) {
    let [Some(from), Some(to)] = [points.first(), points.last()] else { return };
    svg.line(*from, *to, &[("stroke", PAPER), ("stroke-width", "0.75"), ("stroke-opacity", "0.75")]);
    svg.line(*from, *to, &[("stroke", INK), ("stroke-width", "0.2")]);
    let [cx, cy] = to.map(number);
    svg.leaf(
        "circle",
        &[("cx", &cx), ("cy", &cy), ("r", "0.7"), ("fill", INK), ("stroke", PAPER), ("stroke-width", "0.25")],
    );
}

/// A name of some size on its plate, or a number in its ring.
fn tag(stage: &mut Stage, named: &Named<'_>, place: &Place, name: Option<f64>) {
    let area = place.area;
    let middle = f64::midpoint(area.top, area.bottom);
    let Some(type_size) = name else {
        stage.ring([f64::midpoint(area.left, area.right), middle], named.number);
        return;
    };
    let size = [area.right - area.left, area.bottom - area.top];
    stage.svg.rect([area.left, area.top], size, &[("rx", "2.2"), ("fill", PAPER), ("fill-opacity", "0.88")]);
    // The ring stands over its plant, at whichever end of the box that is.
    let line = place.leader.first().map_or(area.left, |p| p[0]);
    let at_right = line > f64::midpoint(area.left, area.right);
    let ring = if at_right { area.right - RING } else { area.left + RING };
    stage.ring([ring, middle], named.number);
    // Held at the ring, so that a name in any typeface begins or ends there.
    let beside = 2.0 * RING + GAP;
    let (x, hold) =
        if at_right { (area.right - beside, Hold::End) } else { (area.left + beside, Hold::Start) };
    stage.name([x, middle + 0.33 * type_size], named.name, type_size, hold);
}
