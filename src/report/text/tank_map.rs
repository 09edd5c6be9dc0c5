//! The light on the bed drawn with characters: denser is brighter, in bands named beneath.
//!
//! A character is twice as tall as wide, so one stands for a cell of the plan twice as deep as
//! long and the picture keeps the shape of the tank. The front glass is at the bottom.

use unicode_width::UnicodeWidthStr;

use super::lines::Page;
use crate::report::view::{BandView, LampView, TankReportView, encloses};
use crate::units::UnitSystem;

/// Room for the numbers of the left axis.
const GUTTER: usize = 5;
/// Most rows a map takes, so that it fits on a screen.
const MOST_ROWS: usize = 26;
/// Lengths in cm that a character may stand for.
const PER_CHARACTER: [f64; 18] =
    [0.1, 0.2, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0];
/// Lengths between two numbers of an axis, in the reader's unit.
const TICKS: [f64; 8] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0];
/// Hardscape: there the bed is covered.
const PIECE: char = '╱';

/// The characters of so many bands, from the darkest to the brightest.
fn densities(bands: usize) -> &'static [char] {
    match bands {
        0 | 1 => &['▒'],
        2 => &['░', '▓'],
        3 => &['·', '▒', '█'],
        4 => &['·', '░', '▒', '▓'],
        5 => &['·', '░', '▒', '▓', '█'],
        _ => &[' ', '·', '░', '▒', '▓', '█'],
    }
}

/// The map with its axes, and what its characters mean.
pub(super) fn map(page: &mut Page, view: &TankReportView) {
    let sheet = Sheet::new(view, page.width(), page.units);
    let mut canvas = sheet.shaded(view);
    sheet.draw_hardscape(view, &mut canvas);
    sheet.number_zones(view, &mut canvas);
    let lamps = &view.light.lamps;
    let labels = sheet.row_labels();
    let edge = |row: usize| format!("{:>GUTTER$} ", labels[row]);
    let above: String =
        (0..sheet.columns).map(|c| if sheet.over_column(lamps, c) { '━' } else { '─' }).collect();
    page.line(&format!("{}┌{above}┐", edge(0)));
    for (row, cells) in canvas.iter().enumerate() {
        let side = if sheet.beside_row(lamps, row) { '┃' } else { '│' };
        page.line(&format!("{}│{}{side}", edge(row + 1), String::from_iter(cells)));
    }
    let [frame, numbers] = sheet.bottom();
    page.line(&format!("{}{frame}", edge(sheet.rows + 1)));
    page.line(&format!("{}{numbers}", " ".repeat(GUTTER + 1)));
    page.paragraph(&caption(view, sheet.unit), GUTTER + 1);
    page.gap();
    let bands = &view.light.bands;
    for (band, mark) in bands.iter().zip(densities(bands.len())).rev() {
        page.line(&band_line(band, *mark, page.width()));
    }
}

fn caption(view: &TankReportView, unit: &str) -> String {
    let mut words = vec![format!("{unit}, front glass below")];
    if !view.light.lamps.is_empty() {
        words.push("━ ┃ lamps".to_owned());
    }
    if !view.hardscape.is_empty() {
        words.push(format!("{PIECE} hardscape"));
    }
    if !view.zone_plan.is_empty() {
        words.push("numbers: zones".to_owned());
    }
    words.join("; ")
}

fn band_line(band: &BandView, mark: char, width: usize) -> String {
    let ppfd = format!("{} to {}", band.from_umol_m2_s, band.to_umol_m2_s);
    let share = band.share();
    let swatch = String::from_iter([mark; 3]);
    let dli = format!("{:.2} to {:.2}", band.from_mol_m2_d, band.to_mol_m2_d);
    let full = format!("  {swatch}  {ppfd:<12} µmol/m²/s  {dli:<12} mol/m²/d {share:>5} of the bed");
    if full.width() <= width { full } else { format!("  {swatch}  {ppfd:<14} {share:>5} of the bed") }
}

/// The grid of characters over the plan.
struct Sheet {
    columns: usize,
    rows: usize,
    /// cm from left to right in a character.
    per_x: f64,
    /// cm from front to back in a character.
    per_y: f64,
    depth: f64,
    /// cm in the reader's unit, and its name.
    unit_cm: f64,
    unit: &'static str,
    /// cm between two numbers of an axis.
    tick: f64,
}

impl Sheet {
    fn new(view: &TankReportView, width: usize, units: UnitSystem) -> Self {
        let (length, depth) = (view.light.map.length_cm(), view.light.map.depth_cm());
        let room = (width.saturating_sub(GUTTER + 3).max(10)) as f64;
        let fits = |per: &&f64| length / **per <= room + 1e-9 && depth / (2.0 * **per) <= MOST_ROWS as f64;
        let per = PER_CHARACTER.iter().find(fits).copied().unwrap_or(length / room);
        let columns = ((length / per).round() as usize).max(1);
        let rows = ((depth / (2.0 * per)).round() as usize).max(1);
        let (unit_cm, unit) = match units {
            UnitSystem::Metric => (1.0, "cm"),
            UnitSystem::Us => (2.54, "in"),
        };
        // Numbers at least seven characters apart.
        let ticks = TICKS.map(|t| t * unit_cm);
        let tick = ticks.into_iter().find(|t| t / per >= 7.0).unwrap_or(length);
        let (per_x, per_y) = (length / columns as f64, depth / rows as f64);
        Self { columns, rows, per_x, per_y, depth, unit_cm, unit, tick }
    }

    /// Middle of a cell in cm; rows count from the back.
    fn middle(&self, column: usize, row: usize) -> (f64, f64) {
        ((column as f64 + 0.5) * self.per_x, self.depth - (row as f64 + 0.5) * self.per_y)
    }

    fn shaded(&self, view: &TankReportView) -> Vec<Vec<char>> {
        let light = &view.light;
        let marks = densities(light.bands.len());
        let mark = |column, row| {
            let (x, y) = self.middle(column, row);
            let ppfd = light.map.at(x, y);
            let band = light.bands.iter().rposition(|b| ppfd >= b.from_umol_m2_s).unwrap_or(0);
            marks[band.min(marks.len() - 1)]
        };
        (0..self.rows).map(|row| (0..self.columns).map(|column| mark(column, row)).collect()).collect()
    }

    fn draw_hardscape(&self, view: &TankReportView, canvas: &mut [Vec<char>]) {
        for (row, cells) in canvas.iter_mut().enumerate() {
            for (column, cell) in cells.iter_mut().enumerate() {
                let at = self.middle(column, row);
                if view.hardscape.iter().any(|p| encloses(&p.outline_cm, [at.0, at.1])) {
                    *cell = PIECE;
                }
            }
        }
    }

    /// Writes the number of each zone near its middle, with a blank at either side.
    fn number_zones(&self, view: &TankReportView, canvas: &mut [Vec<char>]) {
        let mut taken: Vec<(usize, usize)> = Vec::new();
        for (index, zone) in view.zone_plan.iter().enumerate() {
            let text = format!(" {} ", index + 1);
            let [x, y] = zone.mark_cm;
            let last = self.columns.saturating_sub(text.len());
            let mut column = ((x / self.per_x) as usize).saturating_sub(1).min(last);
            let row = (((self.depth - y) / self.per_y) as usize).min(self.rows - 1);
            while taken.iter().any(|(r, c)| *r == row && c.abs_diff(column) < 4) && column + 4 <= last {
                column += 4;
            }
            taken.push((row, column));
            for (cell, letter) in canvas[row][column..].iter_mut().zip(text.chars()) {
                *cell = letter;
            }
        }
    }

    fn over_column(&self, lamps: &[LampView], column: usize) -> bool {
        let (x, _) = self.middle(column, 0);
        lamps.iter().any(|l| (x - l.at_cm[0]).abs() <= l.size_cm[0] / 2.0)
    }

    fn beside_row(&self, lamps: &[LampView], row: usize) -> bool {
        let (_, y) = self.middle(0, row);
        // A lamp thinner than a row still has one.
        lamps.iter().any(|l| (y - l.at_cm[1]).abs() <= (l.size_cm[1] / 2.0).max(self.per_y / 2.0))
    }

    /// The ticks of an axis: place in cm and number in the reader's unit.
    fn ticks(&self, extent: f64) -> impl Iterator<Item = (f64, String)> {
        let (tick, unit_cm) = (self.tick, self.unit_cm);
        let count = (extent / tick + 1e-6).floor() as usize;
        (0..=count).map(move |i| (i as f64 * tick, format!("{:.0}", i as f64 * tick / unit_cm)))
    }

    /// What stands left of the top frame, each row and the bottom frame.
    fn row_labels(&self) -> Vec<String> {
        let mut labels = vec![String::new(); self.rows + 2];
        for (y, number) in self.ticks(self.depth) {
            let from_top = (self.depth - y) / self.per_y;
            // The frame stands at the glass itself, a row half its depth further in.
            let line = if from_top < 0.25 { 0 } else { (from_top + 0.5).round() as usize };
            let line = if y == 0.0 { self.rows + 1 } else { line.min(self.rows) };
            labels[line] = number;
        }
        labels
    }

    /// The bottom frame with its ticks and the numbers under it.
    fn bottom(&self) -> [String; 2] {
        let mut frame: Vec<char> = std::iter::repeat_n('─', self.columns + 2).collect();
        (frame[0], frame[self.columns + 1]) = ('└', '┘');
        let mut numbers = vec![' '; self.columns + 8];
        for (x, number) in self.ticks(self.columns as f64 * self.per_x) {
            let at = (x / self.per_x).round() as usize;
            let at = if at == self.columns { at + 1 } else { at };
            if at > 0 && at <= self.columns {
                frame[at] = '┴';
            }
            // The last number ends with the frame, so that it stays on the page.
            let start = at.saturating_sub(number.len() / 2).min(self.columns + 2 - number.len());
            for (cell, digit) in numbers[start..].iter_mut().zip(number.chars()) {
                *cell = digit;
            }
        }
        [String::from_iter(frame), String::from_iter(numbers).trim_end().to_owned()]
    }
}
