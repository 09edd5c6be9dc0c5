//! Lines of equal light by marching squares (Lorensen & Cline 1987 in the plane).

use crate::report::view::MapView;

/// A closed line, the brighter side on its left; the first point is not repeated.
pub(super) type Ring = Vec<[f64; 2]>;

/// Values at the nodes of a grid over the plan, in cm. The outermost nodes lie on the glass, and
/// around them stands one more frame of nodes at the same places, darker than anything: so every
/// region is closed along the glass.
#[derive(Debug)]
pub(super) struct Grid {
    x: Vec<f64>,
    y: Vec<f64>,
    values: Vec<f64>,
}

/// The value of the outer frame.
const OUTSIDE: f64 = f64::NEG_INFINITY;

/// The sides of a cell.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Side {
    Front,
    Right,
    Back,
    Left,
}

impl Grid {
    /// From a map, with `times` steps from cell to cell: in between smooth, by the cubic of Catmull
    /// & Rom 1974 through the known values, and from the outermost cells on to the glass straight.
    pub fn of(map: &MapView, times: usize) -> Self {
        let times = times.max(1);
        let places = |cell: f64, count: usize| {
            let end = cell * count as f64;
            let inner = (0..=(count - 1) * times).map(move |i| (0.5 + i as f64 / times as f64) * cell);
            [0.0, 0.0].into_iter().chain(inner).chain([end, end]).collect::<Vec<f64>>()
        };
        let (x, y) = (places(map.cell_x_cm, map.columns), places(map.cell_y_cm, map.rows));
        let along: Vec<Vec<f64>> =
            map.ppfd_umol_m2_s.iter().map(|row| carried(&finer(row, times), times)).collect();
        let column = |c: usize| {
            let known: Vec<f64> = along.iter().map(|row| row[c]).collect();
            if known[0] == OUTSIDE { vec![OUTSIDE; y.len()] } else { carried(&finer(&known, times), times) }
        };
        let columns: Vec<Vec<f64>> = (0..x.len()).map(column).collect();
        let values = (0..y.len()).flat_map(|r| columns.iter().map(move |c| c[r])).collect();
        Self { x, y, values }
    }

    fn value(&self, column: usize, row: usize) -> f64 {
        self.values[row * self.x.len() + column]
    }

    /// The borders of the region with at least `level`: outer borders counter-clockwise seen from
    /// above with x to the right and y to the back, holes clockwise.
    pub fn rings(&self, level: f64) -> Vec<Ring> {
        let (columns, rows) = (self.x.len(), self.y.len());
        // Where the line that comes in over an edge goes out; an edge is known by its first node.
        let mut next = vec![usize::MAX; 2 * columns * rows];
        for row in 0..rows - 1 {
            for column in 0..columns - 1 {
                for (from, to) in self.segments(column, row, level) {
                    next[edge(columns, column, row, from)] = edge(columns, column, row, to);
                }
            }
        }
        let mut rings = Vec::new();
        for start in 0..next.len() {
            let mut ring = Ring::new();
            let mut at = start;
            while next[at] != usize::MAX {
                let point = self.crossing(at, level);
                if ring.last() != Some(&point) {
                    ring.push(point);
                }
                at = std::mem::replace(&mut next[at], usize::MAX);
            }
            let ring = straightened(ring);
            if ring.len() >= 3 {
                rings.push(ring);
            }
        }
        rings
    }

    /// The pieces of line in a cell, from side to side, the brighter corner on the left.
    fn segments(&self, column: usize, row: usize, level: f64) -> Vec<(Side, Side)> {
        use Side::{Back, Front, Left, Right};
        let corners = [(0, 0), (1, 0), (1, 1), (0, 1)].map(|(i, j)| self.value(column + i, row + j));
        let inside = corners.map(|v| v >= level);
        let joined = corners.iter().sum::<f64>() / 4.0 >= level;
        match inside {
            [true, false, false, false] => vec![(Front, Left)],
            [false, true, false, false] => vec![(Right, Front)],
            [false, false, true, false] => vec![(Back, Right)],
            [false, false, false, true] => vec![(Left, Back)],
            [true, true, false, false] => vec![(Right, Left)],
            [false, true, true, false] => vec![(Back, Front)],
            [false, false, true, true] => vec![(Left, Right)],
            [true, false, false, true] => vec![(Front, Back)],
            [true, true, true, false] => vec![(Back, Left)],
            [true, true, false, true] => vec![(Right, Back)],
            [true, false, true, true] => vec![(Front, Right)],
            [false, true, true, true] => vec![(Left, Front)],
            [true, false, true, false] if joined => vec![(Front, Right), (Back, Left)],
            [true, false, true, false] => vec![(Front, Left), (Back, Right)],
            [false, true, false, true] if joined => vec![(Left, Front), (Right, Back)],
            [false, true, false, true] => vec![(Right, Front), (Left, Back)],
            [true, true, true, true] | [false, false, false, false] => Vec::new(),
        }
    }

    /// Where the line crosses an edge.
    fn crossing(&self, edge: usize, level: f64) -> [f64; 2] {
        let columns = self.x.len();
        let (column, row) = (edge / 2 % columns, edge / 2 / columns);
        let (i, j) = if edge.is_multiple_of(2) { (column + 1, row) } else { (column, row + 1) };
        let (a, b) = (self.value(column, row), self.value(i, j));
        // A node of the outer frame is infinitely dark: the line lies on the glass itself.
        let share = if a == OUTSIDE {
            1.0
        } else if b == OUTSIDE {
            0.0
        } else {
            (level - a) / (b - a)
        };
        let between = |axis: &[f64], from: usize, to: usize| axis[from] + (axis[to] - axis[from]) * share;
        [between(&self.x, column, i), between(&self.y, row, j)]
    }
}

/// Values with `times` steps from one to the next; beyond the ends they go on straight.
fn finer(values: &[f64], times: usize) -> Vec<f64> {
    let last = values.len() - 1;
    let known = |i: isize| match usize::try_from(i) {
        Err(_) => 2.0 * values[0] - values[1.min(last)],
        Ok(i) if i > last => 2.0 * values[last] - values[last.saturating_sub(1)],
        Ok(i) => values[i],
    };
    let at = |k: usize| {
        let (i, t) = ((k / times) as isize, (k % times) as f64 / times as f64);
        let [a, b, c, d] = [known(i - 1), known(i), known(i + 1), known(i + 2)];
        let bend = (2.0 * a - 5.0 * b + 4.0 * c - d) + (3.0 * (b - c) + d - a) * t;
        b + 0.5 * t * (c - a + t * bend)
    };
    (0..=last * times).map(at).collect()
}

/// Values carried on straight to the glass, half a cell away, and the outer frame around them.
fn carried(values: &[f64], times: usize) -> Vec<f64> {
    let last = values.len() - 1;
    let beyond = |edge: f64, next: f64| (edge + (edge - next) * times as f64 / 2.0).max(0.0);
    let ends = [beyond(values[0], values[1.min(last)]), beyond(values[last], values[last.saturating_sub(1)])];
    [&[OUTSIDE, ends[0]], values, &[ends[1], OUTSIDE]].concat()
}

/// The number of an edge: twice its first node, one more for an edge towards the back.
fn edge(columns: usize, column: usize, row: usize, side: Side) -> usize {
    let node = |c: usize, r: usize| 2 * (r * columns + c);
    match side {
        Side::Front => node(column, row),
        Side::Back => node(column, row + 1),
        Side::Left => node(column, row) + 1,
        Side::Right => node(column + 1, row) + 1,
    }
}

/// The ring without points on the straight line between their neighbours.
fn straightened(mut ring: Ring) -> Ring {
    if ring.len() > 1 && ring.first() == ring.last() {
        ring.pop();
    }
    let count = ring.len();
    let turns = |i: usize| {
        let [a, b, c] = [ring[(i + count - 1) % count], ring[i], ring[(i + 1) % count]];
        let area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        area.abs() > 1e-9
    };
    (0..count).filter(|i| turns(*i)).map(|i| ring[i]).collect()
}

#[cfg(test)]
mod tests {
    use super::Grid;
    use crate::report::view::MapView;

    fn map(columns: usize, rows: usize, value: impl Fn(f64, f64) -> f64) -> MapView {
        let row = |r: usize| (0..columns).map(|c| value(c as f64 + 0.5, r as f64 + 0.5)).collect();
        MapView {
            columns,
            rows,
            cell_x_cm: 1.0,
            cell_y_cm: 1.0,
            ppfd_umol_m2_s: (0..rows).map(row).collect(),
        }
    }

    /// Twice the area, positive for a ring that runs counter-clockwise.
    fn area(ring: &[[f64; 2]]) -> f64 {
        let next = ring.iter().cycle().skip(1);
        ring.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>() / 2.0
    }

    #[test]
    fn a_slope_is_cut_by_a_straight_line_from_glass_to_glass() {
        let rings = Grid::of(&map(10, 6, |x, _| x), 1).rings(4.0);
        assert_eq!(rings.len(), 1);
        let mut corners = rings[0].clone();
        corners.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        assert_eq!(corners, [[4.0, 0.0], [4.0, 6.0], [10.0, 0.0], [10.0, 6.0]]);
        assert!((area(&rings[0]) - 36.0).abs() < 1e-9);
    }

    #[test]
    fn a_cone_gives_a_circle_and_a_bowl_a_hole() {
        let away = |x: f64, y: f64| (x - 20.0).hypot(y - 15.0);
        let cone = Grid::of(&map(40, 30, |x, y| 100.0 - away(x, y)), 1).rings(90.0);
        assert_eq!(cone.len(), 1);
        let disc = std::f64::consts::PI * 100.0;
        assert!((area(&cone[0]) / disc - 1.0).abs() < 0.01, "{}", area(&cone[0]));
        let bowl = Grid::of(&map(40, 30, away), 1).rings(10.0);
        let total: f64 = bowl.iter().map(|r| area(r)).sum();
        assert_eq!(bowl.len(), 2);
        assert!((total / (1200.0 - disc) - 1.0).abs() < 0.01, "{total}");
    }

    #[test]
    fn above_the_brightest_there_is_nothing_and_below_the_darkest_the_whole_plan() {
        let grid = Grid::of(&map(8, 4, |x, y| 5.0 + x * 0.1 + y * 0.1), 1);
        assert!(grid.rings(7.0).is_empty());
        let whole = grid.rings(1.0);
        assert_eq!(whole.len(), 1);
        assert_eq!(whole[0].len(), 4);
        assert!((area(&whole[0]) - 32.0).abs() < 1e-9);
    }

    /// The line ends on the glass, where the frame of nodes stands thrice at one place.
    #[test]
    fn a_bright_corner_keeps_its_corner() {
        for flip in [false, true] {
            let rings = Grid::of(&map(9, 9, |x, y| if flip { x + y } else { 18.0 - x - y }), 1).rings(12.0);
            assert_eq!(rings.len(), 1);
            assert!((area(&rings[0]) - 18.0).abs() < 1e-9, "{:?}", rings[0]);
        }
    }

    #[test]
    fn refining_keeps_what_is_straight_and_rounds_what_is_round() {
        let slope = Grid::of(&map(10, 6, |x, y| 2.0 * x + y), 3).rings(12.0);
        assert!((area(&slope[0]) - 33.0).abs() < 1e-9, "{}", area(&slope[0]));
        let away = |x: f64, y: f64| 100.0 - (x - 20.0).hypot(y - 15.0);
        let cone = Grid::of(&map(40, 30, away), 4).rings(90.0);
        assert!((area(&cone[0]) / (std::f64::consts::PI * 100.0) - 1.0).abs() < 0.002, "{}", area(&cone[0]));
    }

    #[test]
    fn crossed_corners_stay_apart_or_join_by_their_mean() {
        let chess = |high: f64| move |x: f64, y: f64| if (x < 1.0) == (y < 1.0) { high } else { 0.0 };
        assert_eq!(Grid::of(&map(2, 2, chess(10.0)), 1).rings(6.0).len(), 2);
        assert_eq!(Grid::of(&map(2, 2, chess(10.0)), 1).rings(4.0).len(), 1);
    }
}
