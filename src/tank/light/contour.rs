//! Lines of equal light on a map, by marching squares between the centres of cells.

use std::collections::BTreeMap;

use super::map::LightMap;
use crate::units::{Length, Ppfd};

/// A line of equal light.
#[derive(Debug, Clone, PartialEq)]
pub struct Contour {
    /// Points along it: from the left, from the front. A closed line ends where it begins.
    pub points: Vec<(Length, Length)>,
    /// Whether it closes on itself; an open one ends half a cell from the glass.
    pub closed: bool,
}

/// A side of a square of four centres: the column and row of its lower left centre, and whether it
/// runs along x or along y from there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Side {
    AlongX(usize, usize),
    AlongY(usize, usize),
}

impl LightMap {
    /// The lines along which the map has `level`, in an order that depends on the map alone.
    pub fn contours(&self, level: Ppfd) -> Vec<Contour> {
        let level = level.umol_m2_s();
        let mut joined: BTreeMap<Side, Vec<Side>> = BTreeMap::new();
        for row in 0..self.rows().saturating_sub(1) {
            for column in 0..self.columns().saturating_sub(1) {
                for (a, b) in self.segments(column, row, level) {
                    joined.entry(a).or_default().push(b);
                    joined.entry(b).or_default().push(a);
                }
            }
        }
        let mut lines = Vec::new();
        // Open lines first, from their ends; what is left closes.
        let ends: Vec<Side> = joined.iter().filter(|(_, to)| to.len() == 1).map(|(side, _)| *side).collect();
        for start in ends {
            if joined.contains_key(&start) {
                lines.push(self.follow(start, level, &mut joined));
            }
        }
        while let Some(start) = joined.keys().next().copied() {
            lines.push(self.follow(start, level, &mut joined));
        }
        lines
    }

    /// The pieces of contour within one square, each from side to side.
    fn segments(&self, column: usize, row: usize, level: f64) -> Vec<(Side, Side)> {
        let corners = [(0, 0), (1, 0), (1, 1), (0, 1)].map(|(c, r)| self.value(column + c, row + r));
        let above = corners.map(|value| value >= level);
        let sides = [
            Side::AlongX(column, row),
            Side::AlongY(column + 1, row),
            Side::AlongX(column, row + 1),
            Side::AlongY(column, row),
        ];
        let crossed: Vec<usize> = (0..4).filter(|&i| above[i] != above[(i + 1) % 4]).collect();
        match crossed[..] {
            [a, b] => vec![(sides[a], sides[b])],
            [_, _, _, _] => {
                // A saddle: the mean of the corners says which two corners belong together.
                let middle = corners.iter().sum::<f64>() / 4.0 >= level;
                if middle == above[0] {
                    vec![(sides[0], sides[1]), (sides[2], sides[3])]
                } else {
                    vec![(sides[3], sides[0]), (sides[1], sides[2])]
                }
            }
            _ => Vec::new(),
        }
    }

    /// Takes the line that passes `start` out of `joined`; `start` is one of its ends if it has any.
    fn follow(&self, start: Side, level: f64, joined: &mut BTreeMap<Side, Vec<Side>>) -> Contour {
        let (mut points, mut closed) = (Vec::new(), false);
        let mut here = Some(start);
        while let Some(side) = here {
            let neighbours = joined.remove(&side).unwrap_or_default();
            closed |= points.is_empty() && neighbours.len() == 2;
            points.push(self.crossing(side, level));
            here = neighbours.into_iter().find(|next| joined.contains_key(next));
        }
        if closed {
            points.push(points[0]);
        }
        Contour { points, closed }
    }

    /// Where the level is crossed on a side, linear between its ends.
    fn crossing(&self, side: Side, level: f64) -> (Length, Length) {
        let (column, row, (right, back)) = match side {
            Side::AlongX(column, row) => (column, row, (1, 0)),
            Side::AlongY(column, row) => (column, row, (0, 1)),
        };
        let (a, b) = (self.value(column, row), self.value(column + right, row + back));
        let share = ((level - a) / (b - a)).clamp(0.0, 1.0);
        let (from, to) = (self.centre(column, row), self.centre(column + right, row + back));
        let between = |a: Length, b: Length| Length::from_m(a.m() + share * (b.m() - a.m()));
        (between(from.0, to.0), between(from.1, to.1))
    }

    fn value(&self, column: usize, row: usize) -> f64 {
        self.get(column, row).map_or(0.0, Ppfd::umol_m2_s)
    }
}
