//! Puts drawings of plants on the page: their paths scaled to mm, runs of one ink grouped.

use std::fmt::Write;

use super::ink::{hex, outlined, toned};
use super::silhouette::{Drawing, Hand, Path, Point, Step};
use super::writer::{Svg, number};
use crate::catalogue::Colour;

/// mm, the finest line.
const FINEST: f64 = 0.09;

/// Path data of a path in cm at so many mm to the cm, y down; relative, to keep files small.
pub(super) fn path_of(path: &Path, mm_per_cm: f64) -> String {
    let mut data = String::new();
    let (mut pen, mut start) = ([0_i64; 2], [0_i64; 2]);
    // Steps are taken between rounded places, so that roundings do not add up.
    let place = |p: Point| [p[0] * mm_per_cm, -p[1] * mm_per_cm].map(|v| (v * 100.0).round() as i64);
    for step in &path.steps {
        match *step {
            Step::Move(p) => {
                relative(&mut data, 'm', pen, &[place(p)]);
                (pen, start) = (place(p), place(p));
            }
            Step::Line(p) => {
                relative(&mut data, 'l', pen, &[place(p)]);
                pen = place(p);
            }
            Step::Curve(a, b, c) => {
                relative(&mut data, 'c', pen, &[place(a), place(b), place(c)]);
                pen = place(c);
            }
            Step::Close => {
                data.push('z');
                pen = start;
            }
        }
    }
    data
}

fn relative(data: &mut String, verb: char, pen: [i64; 2], places: &[[i64; 2]]) {
    data.push(verb);
    let mut first = true;
    for place in places {
        for i in 0..2 {
            let hundredths = place[i] - pen[i];
            if !first && hundredths >= 0 {
                data.push(' ');
            }
            let _ = write!(data, "{}", short(hundredths));
            first = false;
        }
    }
}

/// Hundredths as a number without needless digits.
fn short(hundredths: i64) -> String {
    let text = number(hundredths as f64 / 100.0);
    match text
        .strip_prefix("0.")
        .map(|r| format!(".{r}"))
        .or(text.strip_prefix("-0.").map(|r| format!("-.{r}")))
    {
        Some(text) => text,
        None => text,
    }
}

/// The attributes a part is drawn with.
fn style(
    part: (super::silhouette::Tone, Hand),
    colour: Colour,
    mm_per_cm: f64,
) -> [(&'static str, String); 3] {
    let (tone, hand) = part;
    let (fill, line) = (hex(toned(colour, tone)), hex(outlined(colour, tone)));
    match hand {
        Hand::Fill => [("fill", fill), ("stroke", line), ("stroke-width", number(FINEST))],
        Hand::Wash => [("fill", fill), ("stroke", "none".into()), ("stroke-width", "0".into())],
        Hand::Line(cm) => [
            ("fill", "none".into()),
            ("stroke", fill),
            ("stroke-width", number((cm * mm_per_cm).max(FINEST))),
        ],
    }
}

/// A plant around the origin of the group it stands in.
pub(super) fn paint(svg: &mut Svg, drawing: &Drawing, colour: Colour, mm_per_cm: f64) {
    let mut rest = &drawing.parts[..];
    while let Some(first) = rest.first() {
        let same = rest.iter().take_while(|p| (p.tone, p.hand) == (first.tone, first.hand)).count();
        let style = style((first.tone, first.hand), colour, mm_per_cm);
        let mut attributes: Vec<(&str, &str)> = style.iter().map(|(n, v)| (*n, &**v)).collect();
        attributes.extend([("stroke-linecap", "round"), ("stroke-linejoin", "round")]);
        svg.open("g", &attributes);
        for part in &rest[..same] {
            svg.leaf("path", &[("d", &path_of(&part.path, mm_per_cm))]);
        }
        svg.close();
        rest = &rest[same..];
    }
}
