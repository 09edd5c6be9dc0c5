//! The plan of the glass with the light on the bed; zones, lamps, wood and rock can be taken hold of.

use maud::{Markup, html};

use super::bits::{Look, slug};
use crate::report::svg::{band_shapes, number};
use crate::report::view::{LampView, PieceView, TankReportView, ZonePlanView};

/// A place on the drawing: centimetres from the left and from the back glass.
type Point = [f64; 2];

/// The drawing and the figures that change its size.
struct Plan<'a> {
    view: &'a TankReportView,
    look: Look,
    length: f64,
    depth: f64,
    /// Size of letters, in centimetres of the plan.
    letter: f64,
}

/// The plan with its legend.
pub(in crate::page) fn plan(view: &TankReportView, look: Look) -> Markup {
    let (length, depth) = (view.tank.length_cm, view.tank.depth_cm);
    let letter = (length.max(depth * 1.4) / 42.0).max(0.3);
    Plan { view, look, length, depth, letter }.draw()
}

impl Plan<'_> {
    fn at(&self, [x, y]: Point) -> Point {
        [x, self.depth - y]
    }

    fn points(&self, outline: &[Point]) -> String {
        let point = |p: &Point| {
            let [x, y] = self.at(*p);
            format!("{},{}", number(x), number(y))
        };
        outline.iter().map(point).collect::<Vec<_>>().join(" ")
    }

    fn draw(&self) -> Markup {
        let pad = self.letter * 2.6;
        let view_box = [-pad, -pad, self.length + 2.0 * pad, self.depth + 2.0 * pad].map(number).join(" ");
        let tank = &self.view.tank;
        let summary = format!(
            "Plan of the bed seen from above, front glass below. Light on the bed {} to {} micromole per square \
             metre and second.",
            self.view.light.least.ppfd_umol_m2_s, self.view.light.most.ppfd_umol_m2_s
        );
        html! {
            figure {
                div.mounted {
                    svg.plan viewBox=(view_box) role="group" aria-label=(summary) font-size=(number(self.letter)) {
                        (self.grain())
                        g #bands aria-hidden="true" {
                            @for band in band_shapes(&self.view.light) {
                                path.equal d=(band.path) fill=(band.tint) fill-rule="evenodd" {}
                            }
                        }
                        rect.glass width=(number(self.length)) height=(number(self.depth)) aria-hidden="true" {}
                        @for (i, piece) in self.view.hardscape.iter().enumerate() { (self.piece(i, piece)) }
                        @for (i, zone) in self.view.zone_plan.iter().enumerate() { (self.zone(i, zone)) }
                        @for (i, lamp) in self.view.light.lamps.iter().enumerate() { (self.lamp(i, lamp)) }
                        g text-anchor="middle" font-style="italic" aria-hidden="true" {
                            text x=(number(self.length / 2.0)) y=(number(self.depth + self.letter * 1.5)) { "front glass" }
                            text x=(number(self.length / 2.0)) y=(number(-self.letter * 0.7)) { "back glass" }
                        }
                    }
                }
                (self.scale())
                figcaption {
                    "Light at the bed of " (tank.name) ", µmol/m²/s, with its share of the bed. Dashed: zones, by number; dash and dot: lamps; hatched: "
                    "wood and rock. Drag them, or move them with the arrow keys; Shift with an arrow changes the size of "
                    "a zone, Enter opens what is written about it."
                }
            }
        }
    }

    /// The hatching of wood and rock.
    fn grain(&self) -> Markup {
        let step = number(self.letter * 0.5);
        html! {
            defs {
                pattern #grain patternUnits="userSpaceOnUse" width=(step) height=(step) patternTransform="rotate(45)" {
                    rect width="100%" height="100%" fill="#fffefa" fill-opacity=".8" {}
                    rect width=(number(self.letter * 0.08)) height="100%" fill="#1c2826" {}
                }
            }
        }
    }

    /// The tones with their light.
    fn scale(&self) -> Markup {
        let shapes = band_shapes(&self.view.light);
        html! {
            ol.scale #scale {
                @for (band, shape) in self.view.light.bands.iter().zip(&shapes) {
                    li {
                        svg aria-hidden="true" viewBox="0 0 1 1" preserveAspectRatio="none" {
                            rect width="1" height="1" fill=(shape.tint) {}
                        }
                        (band.from_umol_m2_s) "–" (band.to_umol_m2_s) br;
                        span.soft { (band.share()) }
                    }
                }
            }
        }
    }

    fn held(class: &str, key: &str, label: &str, inner: &Markup) -> Markup {
        html! {
            g.held.(class) id={ "held-" (slug(key)) } tabindex="0" role="button" aria-roledescription="part of the plan"
                aria-label=(label) data-part=(key) { (inner) }
        }
    }

    /// Where an outline lies, in words.
    fn extent(&self, outline: &[Point]) -> String {
        let end = |axis: usize, pick: fn(f64, f64) -> f64, from: f64| {
            outline.iter().map(|p| p[axis]).fold(from, pick)
        };
        let cm = |v: f64| self.look.cm(v);
        format!(
            "{} to {} from the left, {} to {} from the front",
            self.look.cm_number(end(0, f64::min, f64::INFINITY)),
            cm(end(0, f64::max, 0.0)),
            self.look.cm_number(end(1, f64::min, f64::INFINITY)),
            cm(end(1, f64::max, 0.0))
        )
    }

    fn piece(&self, index: usize, piece: &PieceView) -> Markup {
        let label = format!("{}, {}, {}", piece.name, piece.material, self.extent(&piece.outline_cm));
        let inner = html! { polygon.edge points=(self.points(&piece.outline_cm)) { title { (piece.name) } } };
        Self::held("piece", &format!("hardscape[{index}]"), &label, &inner)
    }

    fn zone(&self, index: usize, zone: &ZonePlanView) -> Markup {
        let name = self.view.tank.zones.get(index).map_or("", |z| z.name.as_str());
        let role = self.view.tank.zones.get(index).map_or("", |z| z.placement.as_str());
        let tag = self.tag(zone.mark_cm, index + 1);
        if zone.outline_cm.is_empty() {
            return html! { g.zone aria-hidden="true" { (tag) } };
        }
        let label = format!("zone {}, {name}, {role}, {}", index + 1, self.extent(&zone.outline_cm));
        let inner = html! {
            polygon.edge points=(self.points(&zone.outline_cm)) { title { (index + 1) " " (name) } }
            (tag)
        };
        Self::held("zone", &format!("zone[{index}]"), &label, &inner)
    }

    /// The number of a zone in a ring.
    fn tag(&self, mark: Point, number_of_zone: usize) -> Markup {
        let [x, y] = self.at(mark);
        html! {
            circle.tag cx=(number(x)) cy=(number(y)) r=(number(self.letter * 0.85)) {}
            text x=(number(x)) y=(number(y + self.letter * 0.35)) text-anchor="middle" { (number_of_zone) }
        }
    }

    fn lamp(&self, index: usize, lamp: &LampView) -> Markup {
        let [width, height] = lamp.size_cm;
        let [x, y] = self.at(lamp.at_cm);
        let look = self.look;
        let [across, along] = lamp.at_cm.map(|v| look.cm(v));
        let label = format!(
            "lamp {}, middle {across} from the left and {along} from the front, {} above the water",
            index + 1,
            look.cm(lamp.above_water_cm)
        );
        let inner = html! {
            rect.edge x=(number(x - width / 2.0)) y=(number(y - height / 2.0)) width=(number(width)) height=(number(height)) {
                title { "lamp " (index + 1) }
            }
        };
        Self::held("lamp", &format!("light.lamp[{index}]"), &label, &inner)
    }
}
