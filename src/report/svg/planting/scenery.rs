//! Around the plants of the front view: glass, water, lamps, and the bed by its kind.

use super::front::Front;
use super::stage::{LAMP_CM, MOST_ABOVE_CM};
use crate::report::svg::light_map::{INK, PAPER};
use crate::report::svg::scatter::Scatter;
use crate::report::svg::writer::{Svg, number};
use crate::report::view::PictureView;

/// The water, above and below; what lies further back fades towards the upper.
const WATER: [&str; 2] = ["#eef3ef", "#dfe8e2"];
pub(super) const VEIL: &str = "#e9efea";

/// Colours of the beds: the cut at the front glass, the slope behind, the grains.
fn bed_inks(kind: &str) -> [&'static str; 3] {
    match kind {
        "sand" => ["#e3d6b8", "#ece2cb", "#a8936a"],
        "gravel" => ["#cfc6b4", "#ddd6c7", "#7f7664"],
        "capped soil" => ["#cdb996", "#ded0b4", "#6b5337"],
        "active soil" => ["#94806a", "#b3a28d", "#4f4034"],
        _ => ["#eeeae0", "#f3f0e8", "#c9c2b2"],
    }
}

/// What is defined once: gradients, grains, the window of the water.
pub(super) fn definitions(svg: &mut Svg, view: &PictureView, front: &Front) {
    svg.open("linearGradient", &[("id", "water"), ("x1", "0"), ("y1", "0"), ("x2", "0"), ("y2", "1")]);
    svg.leaf("stop", &[("offset", "0"), ("stop-color", WATER[0])]);
    svg.leaf("stop", &[("offset", "1"), ("stop-color", WATER[1])]);
    svg.close();
    svg.open("linearGradient", &[("id", "glow"), ("x1", "0"), ("y1", "0"), ("x2", "0"), ("y2", "1")]);
    svg.leaf("stop", &[("offset", "0"), ("stop-color", "#fff6d6"), ("stop-opacity", "0.9")]);
    svg.leaf("stop", &[("offset", "1"), ("stop-color", "#fff6d6"), ("stop-opacity", "0")]);
    svg.close();
    svg.open("clipPath", &[("id", "inside")]);
    let [left, right] = [0.0, view.length_cm].map(|x| front.x(x));
    svg.rect([left, front.y(view.height_cm + 60.0)], [right - left, front.mm(view.height_cm + 60.0)], &[]);
    svg.close();
    grains(svg, view, front.mm_per_cm);
}

/// cm, the side of the square of grains that is laid again and again.
const SQUARE: f64 = 4.0;
/// Sizes of grains: a path each.
const SIZES: usize = 4;
/// How flat grains lie.
const FLAT: f64 = 0.8;

/// The grain of the bed: dots, each a stroke of no length, which stays small on paper and in PDF files.
fn grains(svg: &mut Svg, view: &PictureView, mm_per_cm: f64) {
    let [inside, _, grain] = bed_inks(&view.bed_kind);
    let (count, least, most) = match view.bed_kind.as_str() {
        "gravel" => (46, 0.13, 0.26),
        "active soil" => (90, 0.07, 0.13),
        "capped soil" => (90, 0.03, 0.09),
        "sand" => (110, 0.02, 0.045),
        _ => (0, 0.0, 0.0),
    };
    let mut scatter = Scatter::new(17);
    let mut dots = vec![String::new(); SIZES];
    for i in 0..count {
        let at = [0, 1].map(|_| scatter.between(most, SQUARE - most) * mm_per_cm);
        dots[i % SIZES].push_str(&format!("M{} {}h.01", number(at[0]), number(at[1] / FLAT)));
    }
    svg.open(
        "g",
        &[
            ("id", "grain"),
            ("fill", "none"),
            ("stroke-linecap", "round"),
            ("transform", &format!("scale(1 {FLAT})")),
        ],
    );
    for (size, data) in dots.iter().enumerate().filter(|(_, data)| !data.is_empty()) {
        let share = (size as f64 + 0.5) / SIZES as f64;
        let width = 2.0 * ((least + (most - least) * share) * mm_per_cm).max(0.08);
        svg.leaf("path", &[("d", data), ("stroke", grain), ("stroke-width", &number(width))]);
        // Coarse grains are outlined, fine ones are specks.
        if view.bed_kind == "gravel" || (view.bed_kind == "active soil" && size > 0) {
            let width = (width - 0.2).max(0.1);
            svg.leaf("path", &[("d", data), ("stroke", inside), ("stroke-width", &number(width))]);
        }
    }
    svg.close();
}

/// Lays grains over a shape, from one height over the floor down to another.
fn grained(svg: &mut Svg, view: &PictureView, front: &Front, shape: [&str; 2], heights_cm: [f64; 2]) {
    let [id, data] = shape;
    svg.open("clipPath", &[("id", id)]);
    svg.leaf("path", &[("d", data)]);
    svg.close();
    svg.open("g", &[("clip-path", &format!("url(#{id})"))]);
    let mut top = heights_cm[0] + 0.2;
    while top > heights_cm[1] {
        let mut left = 0.0;
        while left < view.length_cm {
            let [x, y] = [front.x(left), front.y(top)].map(number);
            svg.reuse("grain", &format!("translate({x} {y})"));
            left += SQUARE;
        }
        top -= SQUARE;
    }
    svg.close();
}

/// Water, the light from the lamps, and the lamps over it.
pub(super) fn water(svg: &mut Svg, view: &PictureView, front: &Front) {
    let [left, right] = [0.0, view.length_cm].map(|x| front.x(x));
    svg.rect(
        [left, front.y(view.water_cm)],
        [right - left, front.mm(view.water_cm)],
        &[("fill", "url(#water)")],
    );
    svg.open("g", &[("clip-path", "url(#inside)")]);
    for lamp in &view.lamps {
        let (half, above) = (lamp.size_cm[0] / 2.0, lamp.above_water_cm.min(MOST_ABOVE_CM));
        let deep = 0.55 * view.water_cm;
        let spread = libm::tan((lamp.beam_deg / 2.0).clamp(5.0, 70.0).to_radians());
        let bent =
            libm::tan(libm::asin(libm::sin((lamp.beam_deg / 2.0).clamp(5.0, 70.0).to_radians()) / 1.333));
        let (edge, depth) = (half + above * spread, half + above * spread + deep * bent);
        let corners =
            [[-half, above], [half, above], [edge, 0.0], [depth, -deep], [-depth, -deep], [-edge, 0.0]];
        let points: Vec<String> = corners
            .iter()
            .map(|[x, z]| {
                format!("{} {}", number(front.x(lamp.at_cm[0] + x)), number(front.y(view.water_cm + z)))
            })
            .collect();
        svg.leaf("polygon", &[("points", &points.join(" ")), ("fill", "url(#glow)")]);
    }
    svg.close();
}

/// Lamps as bars on two wires.
pub(super) fn lamps(svg: &mut Svg, view: &PictureView, front: &Front) {
    let mut order: Vec<_> = view.lamps.iter().collect();
    order.sort_by(|a, b| b.at_cm[1].total_cmp(&a.at_cm[1]));
    for lamp in order {
        let above = lamp.above_water_cm.min(MOST_ABOVE_CM);
        let (x, y) = (front.x(lamp.at_cm[0] - lamp.size_cm[0] / 2.0), front.y(view.water_cm + above));
        let (width, high) = (front.mm(lamp.size_cm[0]), front.mm(LAMP_CM).clamp(2.2, 5.0));
        let body = [("rx", "0.8"), ("fill", "#d9d5ca"), ("stroke", INK), ("stroke-width", "0.3")];
        svg.rect([x, y - high], [width, high], &body);
        svg.rect(
            [x + 1.2, y - 0.9],
            [(width - 2.4).max(0.5), 0.9],
            &[("fill", "#fff3c4"), ("stroke", INK), ("stroke-width", "0.15")],
        );
    }
}

/// The bed behind the front glass: the slope up to the back glass.
pub(super) fn slope(svg: &mut Svg, view: &PictureView, front: &Front) {
    let [_, slope, _] = bed_inks(&view.bed_kind);
    let top = view.bed_cm[0].max(view.bed_cm[1]);
    let data = bed_outline(view, front, top);
    svg.leaf("path", &[("d", &data), ("fill", slope)]);
    svg.open("g", &[("opacity", "0.45")]);
    grained(svg, view, front, ["slope", &data], [top, view.bed_cm[0]]);
    svg.close();
}

/// The cut through the bed at the front glass, in front of everything.
pub(super) fn cut(svg: &mut Svg, view: &PictureView, front: &Front) {
    let [cut, _, grain] = bed_inks(&view.bed_kind);
    let data = bed_outline(view, front, view.bed_cm[0]);
    svg.leaf("path", &[("d", &data), ("fill", cut)]);
    if view.bed_kind == "capped soil" {
        let data = bed_outline(view, front, 0.55 * view.bed_cm[0]);
        svg.leaf("path", &[("d", &data), ("fill", grain), ("fill-opacity", "0.4")]);
    }
    grained(svg, view, front, ["cut", &data], [view.bed_cm[0], 0.0]);
    svg.leaf("path", &[("d", &data), ("fill", "none"), ("stroke", grain), ("stroke-width", "0.2")]);
}

/// From the floor up to a height, the top a little uneven as a bed is.
fn bed_outline(view: &PictureView, front: &Front, top_cm: f64) -> String {
    let mut scatter = Scatter::new((top_cm * 10.0) as u64);
    let mut data = format!("M{} {}", number(front.x(0.0)), number(front.y(0.0)));
    let count = (view.length_cm / 1.5).ceil().clamp(8.0, 160.0) as usize;
    for i in 0..=count {
        let x = view.length_cm * i as f64 / count as f64;
        let uneven = if top_cm > 0.3 { scatter.between(-0.1, 0.1) } else { 0.0 };
        data.push_str(&format!("L{} {}", number(front.x(x)), number(front.y(top_cm + uneven))));
    }
    data.push_str(&format!("L{} {}Z", number(front.x(view.length_cm)), number(front.y(0.0))));
    data
}

/// The surface as a drawn line, with a few ripples.
pub(super) fn surface(svg: &mut Svg, view: &PictureView, front: &Front) {
    let [left, right, surface] = [front.x(0.0), front.x(view.length_cm), front.y(view.water_cm)];
    let mut data = format!("M{} {}", number(left), number(surface));
    let waves = ((right - left) / 12.0).round().max(2.0) as usize;
    let step = (right - left) / waves as f64;
    for i in 0..waves {
        let lift = if i % 2 == 0 { -0.3 } else { 0.3 };
        let [via, to] = [left + (i as f64 + 0.5) * step, left + (i as f64 + 1.0) * step].map(number);
        data.push_str(&format!("Q{via} {} {to} {}", number(surface + lift), number(surface)));
    }
    svg.leaf("path", &[("d", &data), ("fill", "none"), ("stroke", "#5d7c83"), ("stroke-width", "0.3")]);
    for (share, length, down) in [(0.08, 9.0, 1.1), (0.46, 7.0, 1.4), (0.83, 8.0, 1.1)] {
        let x = left + share * (right - left);
        svg.line(
            [x, surface + down],
            [x + length, surface + down],
            &[("stroke", "#8ba3a7"), ("stroke-width", "0.18")],
        );
    }
}

/// The glass around all, and its cover.
pub(super) fn glass(svg: &mut Svg, view: &PictureView, front: &Front) {
    let [left, right] = [front.x(0.0), front.x(view.length_cm)];
    let (rim, floor, wall) = (front.y(view.height_cm), front.y(0.0), WALL);
    let outer =
        [[left - wall, rim], [left - wall, floor + wall], [right + wall, floor + wall], [right + wall, rim]];
    let inner = [[right, rim], [right, floor], [left, floor], [left, rim]];
    let points: Vec<String> =
        outer.iter().chain(&inner).map(|[x, y]| format!("{} {}", number(*x), number(*y))).collect();
    let look = [
        ("fill", "#dfe9e8"),
        ("fill-opacity", "0.9"),
        ("stroke", INK),
        ("stroke-width", "0.25"),
        ("stroke-linejoin", "round"),
    ];
    svg.leaf("polygon", &[&[("points", &*points.join(" "))][..], &look[..]].concat());
    if !view.open_top {
        svg.rect(
            [left - wall, rim - 0.9],
            [right - left + 2.0 * wall, 0.9],
            &[("fill", PAPER), ("stroke", INK), ("stroke-width", "0.2")],
        );
    }
}

/// mm, the walls as drawn; panes are thinner or thicker by the size of the tank.
pub(super) const WALL: f64 = 1.1;
