//! A row of numbers as a row of marks.

/// Marks from low to high in Unicode and in plain ASCII.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Marks {
    /// Eight heights of a block.
    Blocks,
    /// Digits 0 to 9, for terminals that know ASCII alone.
    Digits,
}

impl Marks {
    fn of(self) -> &'static [char] {
        match self {
            Self::Blocks => &['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'],
            Self::Digits => &['0', '1', '2', '3', '4', '5', '6', '7', '8', '9'],
        }
    }

    /// One mark a value, 0 the lowest and `top` the highest; evenly thinned to at most `width` marks,
    /// the last value kept.
    pub fn line(self, values: &[f64], top: f64, width: usize) -> String {
        let marks = self.of();
        let mark = |value: &f64| {
            let share = if top > 0.0 { (value / top).clamp(0.0, 1.0) } else { 0.0 };
            let step = (share * marks.len() as f64).floor() as usize;
            marks[step.min(marks.len() - 1)]
        };
        let width = width.max(2);
        if values.len() <= width {
            return values.iter().map(mark).collect();
        }
        let last = values.len() - 1;
        (0..width).map(|n| mark(&values[n * last / (width - 1)])).collect()
    }
}
