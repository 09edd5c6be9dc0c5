//! The front view: the planted tank to scale, as it looks through the front glass.

use super::hardscape::Stone;
use super::key;
use super::names::{Anchor, Named, Rows, Stairs, place_names};
use super::scenery;
use super::stage::{
    Hold, LAMP_CM, MOST_ABOVE_CM, PAGE, Ruler, SMALL, Stage, above_rim, scale_of, sizes, week_words,
};
use crate::catalogue::GrowthForm;
use crate::report::svg::labels::Area;
use crate::report::svg::paint::paint;
use crate::report::svg::silhouette::{Habit, draw};
use crate::report::svg::writer::{Svg, number};
use crate::report::view::{DriftPictureView, PictureView, StandView};
use crate::units::UnitSystem;

/// mm between two rows of names.
const ROW: f64 = 5.4;
/// Rows of names over the tank, at most.
const ROWS: usize = 8;
/// Different pictures of one plant: more are not noticed.
const VARIANTS: usize = 3;
/// Veils of water between back and front, each with its share of the depth.
const VEILS: [f64; 3] = [0.72, 0.48, 0.26];

/// Where the glass lies on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Front {
    pub mm_per_cm: f64,
    left: f64,
    /// The floor of the glass on the page.
    pub floor: f64,
}

impl Front {
    pub fn x(&self, cm: f64) -> f64 {
        self.left + cm * self.mm_per_cm
    }

    pub fn y(&self, cm: f64) -> f64 {
        self.floor - cm * self.mm_per_cm
    }

    pub fn mm(&self, cm: f64) -> f64 {
        cm * self.mm_per_cm
    }
}

/// A plant of a drift where it stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Standing {
    /// Which drift, counted from 0.
    pub drift: usize,
    /// From the left, from the front, above the floor.
    pub foot: [f64; 3],
    /// Which picture of the plant, and how it is stretched.
    variant: usize,
    stretch: [f64; 2],
}

/// The front view of a planted tank as an SVG page.
pub fn front_view(view: &PictureView, units: UnitSystem) -> String {
    let mm_per_cm = 10.0 / scale_of(view);
    let left = (PAGE - view.length_cm * mm_per_cm) / 2.0;
    let stones: Vec<Stone> = view.hardscape.iter().map(|p| Stone::of(p, view)).collect();
    let plants = standing(view, &stones);
    let mut front = Front { mm_per_cm, left, floor: mm_per_cm * (view.height_cm + above_rim(view)) };
    let rows = rows_of(view, &front, &plants, &stones);
    front.floor += 29.0 + ROW * rows as f64;
    let key_at = front.floor + 20.0;
    let height = key_at + key::height(view.drifts.len()) + 17.0;
    let (title, description) = words(view, units);
    let heading = format!(
        "Front view, {}. {}, water at {}.",
        week_words(view.week),
        sizes(view, units),
        water(view, units)
    );
    let mut stage = Stage::begin(view, height, [&title, &description], &heading);
    stage.svg.open("defs", &[]);
    scenery::definitions(&mut stage.svg, view, &front);
    pictures(&mut stage.svg, view, mm_per_cm);
    stage.svg.close();
    scenery::water(&mut stage.svg, view, &front);
    scenery::slope(&mut stage.svg, view, &front);
    depth(&mut stage.svg, view, &front, &stones, &plants);
    scenery::cut(&mut stage.svg, view, &front);
    scenery::surface(&mut stage.svg, view, &front);
    scenery::glass(&mut stage.svg, view, &front);
    rulers(&mut stage, view, &front);
    keep_clear(&mut stage, view, &front);
    let named = named(view, &front, &plants, &stones);
    names(&mut stage, view, &front, &named, rows);
    key::draw_key(&mut stage, view, key_at, key::Sample::Picture);
    foot(&mut stage, view, height);
    stage.svg.close();
    stage.svg.finish()
}

fn water(view: &PictureView, units: UnitSystem) -> String {
    use crate::units::{Length, Quantity};
    Length::from_cm(view.water_cm).show(units)
}

fn words(view: &PictureView, units: UnitSystem) -> (String, String) {
    let title = format!("Front view of {}, {}", view.tank, week_words(view.week));
    let each = |d: &DriftPictureView| {
        format!("{} {}, about {:.0} cm high, {}", d.number, d.name, d.height_cm, d.zone)
    };
    let drifts: Vec<String> = view.drifts.iter().map(each).collect();
    let description = format!(
        "The planted tank seen through the front glass at 1 to {}, {}. Plants by number: {}.",
        scale_of(view),
        sizes(view, units),
        drifts.join("; ")
    );
    (title, description)
}

/// Every plant with its foot on what it holds on to.
fn standing(view: &PictureView, stones: &[Stone]) -> Vec<Standing> {
    let mut all = Vec::new();
    for (index, drift) in view.drifts.iter().enumerate().filter(|(_, d)| !d.is_gone()) {
        let mut scatter = crate::report::svg::scatter::Scatter::new(drift.number as u64 * 131);
        for (i, place) in drift.places_cm.iter().enumerate() {
            let foot = match drift.stand {
                StandView::Hardscape => seated(*place, stones),
                StandView::Bed => [place[0], place[1], view.bed_at_cm(place[1])],
                StandView::Surface => [place[0], place[1], view.water_cm],
            };
            let side = if scatter.unit() < 0.5 { -1.0 } else { 1.0 };
            let stretch = [side * scatter.between(0.9, 1.1), scatter.between(0.88, 1.08)];
            all.push(Standing { drift: index, foot, variant: (i * 7 + drift.number) % VARIANTS, stretch });
        }
    }
    // From the back to the front; from left to right where the depth is the same.
    all.sort_by(|a, b| b.foot[1].total_cmp(&a.foot[1]).then(a.foot[0].total_cmp(&b.foot[0])));
    all
}

/// The place of an epiphyte, moved onto the piece as it is drawn.
fn seated(place: [f64; 3], stones: &[Stone]) -> [f64; 3] {
    let near = |s: &&Stone| {
        let [left, right] = s.width();
        (left - place[0]).max(place[0] - right).max(0.0) + 0.3 * (s.middle_cm - place[1]).abs()
    };
    let Some(stone) = stones.iter().min_by(|a, b| near(a).total_cmp(&near(b))) else { return place };
    let [left, right] = stone.width();
    let inset = 0.06 * (right - left);
    let x = place[0].clamp(left + inset, right - inset);
    let top = stone.top_at(x).unwrap_or(place[2]);
    // What sits on the front of the piece is drawn over it, what sits behind is half hidden.
    [x, place[1].min(stone.middle_cm + 2.0), top - 0.3]
}

/// A few pictures of each plant, defined once.
fn pictures(svg: &mut Svg, view: &PictureView, mm_per_cm: f64) {
    for drift in view.drifts.iter().filter(|d| !d.is_gone()) {
        for variant in 0..VARIANTS.min(drift.places_cm.len()) {
            let habit = habit(view, drift, variant);
            svg.open("g", &[("id", &picture_id(drift.number, variant))]);
            paint(svg, &draw(&habit), drift.colour, mm_per_cm);
            svg.close();
        }
    }
}

fn picture_id(number: usize, variant: usize) -> String {
    format!("plant{number}-{variant}")
}

/// What the pictures of a drift are made from.
fn habit(view: &PictureView, drift: &DriftPictureView, variant: usize) -> Habit {
    let y = drift.places_cm.iter().map(|p| p[1]).sum::<f64>() / drift.places_cm.len().max(1) as f64;
    let room = match drift.stand {
        StandView::Bed => view.water_cm - view.bed_at_cm(y) - 0.5,
        StandView::Surface => view.water_cm - view.bed_at_cm(y),
        StandView::Hardscape => {
            let foot =
                drift.places_cm.iter().map(|p| p[2]).sum::<f64>() / drift.places_cm.len().max(1) as f64;
            (view.water_cm - foot - 0.5).max(2.0)
        }
    };
    // A cushion on wood or rock keeps to its place.
    let cushion = matches!(drift.growth_form, GrowthForm::Moss | GrowthForm::Liverwort);
    let most = if cushion && drift.stand == StandView::Hardscape { 1.3 * drift.spacing_cm } else { f64::MAX };
    let width = drift.plant_width_cm().min(most);
    Habit {
        form: drift.growth_form,
        texture: drift.texture,
        height_cm: drift.height_cm,
        grown_cm: drift.grown_cm(),
        spread_cm: width,
        room_cm: room.max(1.0),
        air_cm: if view.open_top { 30.0 } else { (view.height_cm - view.water_cm).max(0.5) },
        maturity: drift.maturity(),
        seed: drift.number as u64 * 16 + variant as u64,
    }
}

/// Plants and hardscape from the back to the front, with veils of water between.
fn depth(svg: &mut Svg, view: &PictureView, front: &Front, stones: &[Stone], plants: &[Standing]) {
    let mut order: Vec<usize> = (0..stones.len()).collect();
    order.sort_by(|a, b| stones[*b].middle_cm.total_cmp(&stones[*a].middle_cm));
    let mut waiting = order.into_iter().peekable();
    let mut veils = VEILS.iter().peekable();
    svg.open("g", &[("clip-path", "url(#inside)")]);
    let mut until = |svg: &mut Svg, y: f64| loop {
        let stone = waiting.peek().map(|s| stones[*s].middle_cm).filter(|m| *m >= y);
        let veil = veils.peek().map(|v| **v * view.depth_cm).filter(|v| *v >= y);
        if veil.is_some() && veil >= stone {
            veils.next();
            let size = [front.mm(view.length_cm), front.mm(view.water_cm)];
            svg.rect(
                [front.x(0.0), front.y(view.water_cm)],
                size,
                &[("fill", scenery::VEIL), ("fill-opacity", "0.17")],
            );
        } else if stone.is_some() {
            let Some(index) = waiting.next() else { break };
            svg.open(
                "g",
                &[("transform", &format!("translate({} {})", number(front.x(0.0)), number(front.floor)))],
            );
            stones[index].draw(svg, front.mm_per_cm);
            svg.close();
        } else {
            break;
        }
    };
    for plant in plants {
        until(svg, plant.foot[1]);
        planted(svg, view, front, plant);
    }
    until(svg, f64::NEG_INFINITY);
    svg.close();
}

/// One plant where it stands.
fn planted(svg: &mut Svg, view: &PictureView, front: &Front, plant: &Standing) {
    let drift = &view.drifts[plant.drift];
    let [x, y] = [front.x(plant.foot[0]), front.y(plant.foot[2])].map(number);
    let [sx, sy] = [plant.stretch[0], steadied(view, drift, plant)].map(number);
    let variant = plant.variant % drift.places_cm.len().min(VARIANTS);
    svg.reuse(&picture_id(drift.number, variant), &format!("translate({x} {y}) scale({sx} {sy})"));
}

/// How much taller than its picture a plant is drawn: what is near the surface is not stretched
/// through it.
fn steadied(view: &PictureView, drift: &DriftPictureView, plant: &Standing) -> f64 {
    let room = view.water_cm - plant.foot[2];
    match drift.stand {
        StandView::Surface => plant.stretch[1],
        _ if drift.height_cm > 0.9 * room => plant.stretch[1].min(1.0),
        _ => plant.stretch[1].min(room / drift.height_cm.max(0.1)),
    }
}

fn rulers(stage: &mut Stage, view: &PictureView, front: &Front) {
    let wall = scenery::WALL;
    let (left, right) = (front.x(0.0), front.x(view.length_cm));
    for (zero, along, out, extent_cm, inches) in [
        ([left - wall - 1.2, front.floor], [0.0, -1.0], [-1.0, 0.0], view.height_cm, false),
        ([right + wall + 1.2, front.floor], [0.0, -1.0], [1.0, 0.0], view.height_cm, true),
        ([left, front.floor + wall + 1.2], [1.0, 0.0], [0.0, 1.0], view.length_cm, false),
        ([left, front.floor + wall + 8.6], [1.0, 0.0], [0.0, 1.0], view.length_cm, true),
    ] {
        Ruler { zero, along, out, extent_cm, inches }.draw(stage);
    }
}

/// Names keep off the lamps.
fn keep_clear(stage: &mut Stage, view: &PictureView, front: &Front) {
    for lamp in &view.lamps {
        let above = lamp.above_water_cm.min(MOST_ABOVE_CM);
        let at =
            [front.x(lamp.at_cm[0] - lamp.size_cm[0] / 2.0), front.y(view.water_cm + above + LAMP_CM) - 0.5];
        stage.page.take_front(Area::new(at, [front.mm(lamp.size_cm[0]), front.mm(LAMP_CM) + 1.0]));
    }
}

/// Rows over the tank that the names need, found on a page with room for all.
fn rows_of(view: &PictureView, front: &Front, plants: &[Standing], stones: &[Stone]) -> usize {
    let trial = Front { floor: front.floor + 29.0 + ROW * ROWS as f64, ..*front };
    let stage = Stage::begin(view, 2000.0, ["", ""], "");
    let named = named(view, &trial, plants, stones);
    Stairs::best(&stage, &named, &rows(view, &trial, ROWS)).steps.clamp(1, ROWS)
}

/// The rows that names may stand in: so many over the lamps, and those in the cut of the bed.
fn rows(view: &PictureView, front: &Front, above: usize) -> Rows {
    let over = front.y(view.height_cm + above_rim(view)) - 2.6;
    let strip = [front.y(view.bed_cm[0]), front.floor];
    let below = ((strip[1] - strip[0] - 0.6) / ROW) as usize;
    Rows {
        above: (0..above).map(|r| over - r as f64 * ROW).collect(),
        below: (0..below).map(|r| strip[1] - 0.5 - r as f64 * ROW).collect(),
        glass: [front.x(0.0), front.x(view.length_cm)],
    }
}

/// All drifts with the places their names may lead to.
fn named<'a>(view: &'a PictureView, front: &Front, plants: &[Standing], stones: &[Stone]) -> Vec<Named<'a>> {
    let strip = front.mm(view.bed_cm[0]);
    let named = view.drifts.iter().enumerate().map(|(index, drift)| {
        let anchors = anchors(view, front, plants, stones, index);
        let far = plants.iter().filter(|p| p.drift == index).map(|p| p.foot[1]).fold(0.0, f64::max);
        let low = drift.stand == StandView::Bed
            && strip > ROW
            && drift.height_cm < 0.4 * view.water_cm
            && far < 0.5 * view.depth_cm;
        Named { number: drift.number, name: &drift.name, anchors, low }
    });
    named.filter(|n| !n.anchors.is_empty()).collect()
}

/// Names over the tank and in the cut of the bed, with lines to their plants; then the lamps, so that
/// the lines pass behind them.
fn names(stage: &mut Stage, view: &PictureView, front: &Front, named: &[Named<'_>], rows: usize) {
    let rows = self::rows(view, front, rows);
    let inside = Area::new(
        [front.x(0.0), front.y(view.water_cm)],
        [front.mm(view.length_cm), front.mm(view.water_cm)],
    );
    place_names(stage, named, &rows, inside, |svg| scenery::lamps(svg, view, front));
}

/// Where a line may end on a drift: the foliage of its plants, the most open to view first, then the
/// nearest to the middle of the drift.
fn anchors(
    view: &PictureView,
    front: &Front,
    plants: &[Standing],
    stones: &[Stone],
    drift: usize,
) -> Vec<Anchor> {
    let d = &view.drifts[drift];
    let own: Vec<&Standing> = plants.iter().filter(|p| p.drift == drift).collect();
    let middle = own.iter().map(|p| p.foot[0]).sum::<f64>() / own.len().max(1) as f64;
    let mut found: Vec<(usize, f64, Anchor)> = Vec::new();
    for plant in &own {
        let tall = d.height_cm.min(view.water_cm - plant.foot[2]) * plant.stretch[1];
        let shares: &[f64] = if d.stand == StandView::Surface { &[0.02] } else { &[0.62, 0.8] };
        for share in shares {
            let point = [plant.foot[0], plant.foot[1], plant.foot[2] + share * tall];
            let covers = hidden(view, plants, stones, drift, point);
            let anchor = Anchor { at: [front.x(point[0]), front.y(point[2])] };
            found.push((covers, (plant.foot[0] - middle).abs(), anchor));
        }
    }
    found.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let least = found.first().map_or(0, |f| f.0);
    found.into_iter().filter(|f| f.0 <= least + 1).map(|(_, _, a)| a).take(10).collect()
}

/// How many things stand before a point of a drift.
fn hidden(
    view: &PictureView,
    plants: &[Standing],
    stones: &[Stone],
    drift: usize,
    [x, y, z]: [f64; 3],
) -> usize {
    let before = |p: &&Standing| {
        let other = &view.drifts[p.drift];
        p.drift != drift
            && p.foot[1] < y
            && (p.foot[0] - x).abs() < 0.4 * other.plant_width_cm()
            && (p.foot[2]..p.foot[2] + 0.9 * other.height_cm).contains(&z)
    };
    let stone = |s: &&Stone| s.middle_cm < y && s.top_at(x).is_some_and(|top| z < top);
    plants.iter().filter(before).count() + 3 * stones.iter().filter(stone).count()
}

fn foot(stage: &mut Stage, view: &PictureView, height: f64) {
    let scale = scale_of(view);
    let words = format!(
        "1 : {} when printed at its own size. Each plant is a drawing of its form, not a portrait of the species; heights are those the growth model expects in week {}.",
        number(scale),
        view.week
    );
    let words = stage.face.fitted(&words, crate::report::svg::face::Slant::Italic, SMALL, PAGE - 36.0);
    stage.words(
        [super::stage::MARGIN, height - 7.0],
        &words,
        crate::report::svg::face::Slant::Italic,
        SMALL,
        Hold::Start,
    );
}
