//! A light field sampled over the plan.

use crate::units::{Length, Ppfd};

/// The fewest cells of a part that is filled on its own: they take many times as long as the start
/// of a thread.
const LEAST_CELLS: usize = 64;
/// The most parts. Fixed, because to ask how many cores there are is to read files of the system.
const MOST_PARTS: usize = 8;

/// PPFD over the plan in equal cells, each sampled at its centre.
#[derive(Debug, Clone, PartialEq)]
pub struct LightMap {
    extent: (f64, f64),
    columns: usize,
    rows: usize,
    /// µmol m⁻² s⁻¹, the front row first, left to right.
    values: Vec<f64>,
}

/// One cell of a map.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// Centre, from the left.
    pub x: Length,
    /// Centre, from the front.
    pub y: Length,
    /// Light at the centre.
    pub ppfd: Ppfd,
}

/// What a part of a map gets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summary {
    /// Mean over the area.
    pub mean: Ppfd,
    /// A tenth of the area gets less.
    pub p10: Ppfd,
    /// A tenth of the area gets more.
    pub p90: Ppfd,
    /// The darkest cell.
    pub least: Ppfd,
    /// The brightest cell.
    pub most: Ppfd,
}

impl LightMap {
    /// Samples `value` over a plan of `length` by `depth` in cells of about `cell`. The rows are
    /// shared out in parts that are filled side by side: a cell knows nothing of the others, so the map is the
    /// same whoever fills it. `value` takes what it may keep from one cell to the next.
    pub(super) fn sample<Kept: Default>(
        length: Length,
        depth: Length,
        cell: Length,
        value: impl Fn(Length, Length, &mut Kept) -> f64 + Sync,
    ) -> Self {
        let count = |extent: Length| (extent.m() / cell.m()).round().clamp(1.0, 10_000.0) as usize;
        let (columns, rows) = (count(length), count(depth));
        let extent = (length.m(), depth.m());
        let mut map = Self { extent, columns, rows, values: Vec::new() };
        let mut values = vec![0.0; columns * rows];
        let fill = |first: usize, part: &mut [f64]| {
            let mut kept = Kept::default();
            for (index, cell) in part.iter_mut().enumerate() {
                let (x, y) = map.centre(index % columns, first + index / columns);
                *cell = value(x, y, &mut kept);
            }
        };
        let each = rows.div_ceil((columns * rows / LEAST_CELLS).clamp(1, MOST_PARTS));
        let mut parts = values.chunks_mut(each * columns).enumerate();
        std::thread::scope(|scope| {
            let own = parts.next();
            for (number, part) in parts {
                scope.spawn(move || fill(number * each, part));
            }
            if let Some((_, part)) = own {
                fill(0, part);
            }
        });
        map.values = values;
        map
    }

    /// Number of cells from left to right.
    pub fn columns(&self) -> usize {
        self.columns
    }

    /// Number of cells from front to back.
    pub fn rows(&self) -> usize {
        self.rows
    }

    /// Length of the plan, left to right.
    pub fn length(&self) -> Length {
        Length::from_m(self.extent.0)
    }

    /// Depth of the plan, front to back.
    pub fn depth(&self) -> Length {
        Length::from_m(self.extent.1)
    }

    /// Centre of a cell, counted from 0 at the left and at the front.
    pub fn centre(&self, column: usize, row: usize) -> (Length, Length) {
        let along = |index: usize, count: usize, extent: f64| (index as f64 + 0.5) / count as f64 * extent;
        (
            Length::from_m(along(column, self.columns, self.extent.0)),
            Length::from_m(along(row, self.rows, self.extent.1)),
        )
    }

    /// Light in a cell; `None` outside the map.
    pub fn get(&self, column: usize, row: usize) -> Option<Ppfd> {
        if column >= self.columns {
            return None;
        }
        self.values.get(row * self.columns + column).copied().map(Ppfd::from_umol_m2_s)
    }

    /// All cells, the front row first, left to right.
    pub fn cells(&self) -> impl Iterator<Item = Cell> + '_ {
        self.values.iter().enumerate().map(|(i, &value)| {
            let (x, y) = self.centre(i % self.columns, i / self.columns);
            Cell { x, y, ppfd: Ppfd::from_umol_m2_s(value) }
        })
    }

    /// Mean over the plan.
    pub fn mean(&self) -> Ppfd {
        Ppfd::from_umol_m2_s(self.values.iter().sum::<f64>() / self.values.len() as f64)
    }

    /// The light that a share `q` of the plan (0 to 1, held there) stays below, linear between cells.
    pub fn percentile(&self, q: f64) -> Ppfd {
        Ppfd::from_umol_m2_s(percentile(&sorted(self.values.clone()), q))
    }

    /// What the cells with their centre in a part of the plan get; `None` when there are none.
    pub fn summary(&self, within: impl Fn(Length, Length) -> bool) -> Option<Summary> {
        let chosen = self.cells().filter(|c| within(c.x, c.y)).map(|c| c.ppfd.umol_m2_s());
        let values = sorted(chosen.collect());
        let (least, most) = (*values.first()?, *values.last()?);
        let ppfd = Ppfd::from_umol_m2_s;
        Some(Summary {
            mean: ppfd(values.iter().sum::<f64>() / values.len() as f64),
            p10: ppfd(percentile(&values, 0.1)),
            p90: ppfd(percentile(&values, 0.9)),
            least: ppfd(least),
            most: ppfd(most),
        })
    }
}

fn sorted(mut values: Vec<f64>) -> Vec<f64> {
    values.sort_by(f64::total_cmp);
    values
}

/// Linear between the ordered values, the first at 0 and the last at 1 (Hyndman & Fan 1996, type 7).
fn percentile(sorted: &[f64], q: f64) -> f64 {
    let place = q.clamp(0.0, 1.0) * (sorted.len() - 1) as f64;
    let below = place.floor() as usize;
    let above = (below + 1).min(sorted.len() - 1);
    sorted[below] + (place - below as f64) * (sorted[above] - sorted[below])
}
