//! Linear equations with a positive definite matrix of narrow band, solved directly.

/// A symmetric matrix with `band` entries left of the diagonal; one row after another.
#[derive(Debug, Clone)]
pub(super) struct Banded {
    size: usize,
    band: usize,
    /// Row `i` holds columns `i − band ..= i`; those before the first column are zero.
    rows: Vec<f64>,
}

impl Banded {
    /// The zero matrix.
    pub fn new(size: usize, band: usize) -> Self {
        Self { size, band, rows: vec![0.0; size * (band + 1)] }
    }

    fn index(&self, row: usize, column: usize) -> usize {
        row * (self.band + 1) + self.band + column - row
    }

    /// Adds to an entry at or left of the diagonal, inside the band.
    pub fn add(&mut self, row: usize, column: usize, value: f64) {
        let at = self.index(row, column);
        self.rows[at] += value;
    }

    /// The solution for `right`, by Cholesky's decomposition in place. A pivot that rounding has
    /// brought to zero counts as the smallest number, so the result is finite.
    pub fn solve(mut self, mut right: Vec<f64>) -> Vec<f64> {
        for row in 0..self.size {
            self.eliminate(row);
        }
        for row in 0..self.size {
            let first = row.saturating_sub(self.band);
            let known: f64 = (first..row).map(|c| self.rows[self.index(row, c)] * right[c]).sum();
            right[row] = (right[row] - known) / self.rows[self.index(row, row)];
        }
        for row in (0..self.size).rev() {
            right[row] /= self.rows[self.index(row, row)];
            let value = right[row];
            let first = row.saturating_sub(self.band);
            for (column, entry) in right.iter_mut().enumerate().take(row).skip(first) {
                *entry -= self.rows[self.index(row, column)] * value;
            }
        }
        right
    }

    fn eliminate(&mut self, row: usize) {
        let first = row.saturating_sub(self.band);
        for column in first..=row {
            let shared = first.max(column.saturating_sub(self.band));
            let (mine, theirs) = (self.index(row, shared), self.index(column, shared));
            let length = column - shared;
            let products = self.rows[mine..mine + length].iter().zip(&self.rows[theirs..theirs + length]);
            let done: f64 = products.map(|(a, b)| a * b).sum();
            let at = self.index(row, column);
            let rest = self.rows[at] - done;
            self.rows[at] = if column == row {
                rest.max(f64::MIN_POSITIVE).sqrt()
            } else {
                rest / self.rows[self.index(column, column)]
            };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Banded;

    /// Three springs between walls: 2 −1 0 / −1 2 −1 / 0 −1 2, solved by hand.
    #[test]
    fn three_springs() {
        let mut matrix = Banded::new(3, 1);
        for row in 0..3 {
            matrix.add(row, row, 2.0);
            if row > 0 {
                matrix.add(row, row - 1, -1.0);
            }
        }
        let solved = matrix.solve(vec![0.0, 0.0, 4.0]);
        for (got, wanted) in solved.iter().zip([1.0, 2.0, 3.0]) {
            assert!((got - wanted).abs() < 1e-12, "{solved:?}");
        }
    }
}
