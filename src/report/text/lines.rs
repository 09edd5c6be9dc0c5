//! A page of text under construction: headings, wrapped paragraphs, left and right columns.

use std::fmt::Write;

use anstyle::{Effects, Style};
use unicode_width::UnicodeWidthStr;

use crate::units::UnitSystem;

const STRONG: Style = Style::new().effects(Effects::BOLD);
const QUIET: Style = Style::new().effects(Effects::DIMMED);

/// Text being laid out.
#[derive(Debug)]
pub struct Page {
    text: String,
    width: usize,
    /// The units the reader wants.
    pub units: UnitSystem,
}

/// Words of a weight.
pub(super) fn strong(text: &str) -> String {
    format!("{STRONG}{text}{STRONG:#}")
}

/// Words in the background.
pub(super) fn quiet(text: &str) -> String {
    format!("{QUIET}{text}{QUIET:#}")
}

impl Page {
    /// An empty page of `width` columns.
    pub fn new(width: usize, units: UnitSystem) -> Self {
        Self { text: String::new(), width, units }
    }

    /// The finished text.
    pub fn finish(self) -> String {
        self.text
    }

    /// Columns of the page.
    pub fn width(&self) -> usize {
        self.width
    }

    /// An empty line.
    pub fn gap(&mut self) {
        self.text.push('\n');
    }

    /// A heading.
    pub fn heading(&mut self, text: &str) {
        let _ = writeln!(self.text, "{}", strong(text));
    }

    /// A heading with words in the background after it.
    pub fn heading_with(&mut self, text: &str, aside: &str) {
        let room = self.width.saturating_sub(text.width() + 3);
        if aside.width() <= room {
            let _ = writeln!(self.text, "{}   {}", strong(text), quiet(aside));
        } else {
            self.heading(text);
            self.paragraph(aside, 2);
        }
    }

    /// A wrapped paragraph, indented.
    pub fn paragraph(&mut self, text: &str, indent: usize) {
        self.hanging("", text, indent);
    }

    /// A wrapped paragraph whose first line begins with `label`; later lines hang under the text.
    pub fn hanging(&mut self, label: &str, text: &str, indent: usize) {
        let pad = " ".repeat(indent);
        let hang = " ".repeat(indent + label.width());
        let first = format!("{pad}{label}");
        let options = textwrap::Options::new(self.width).initial_indent(&first).subsequent_indent(&hang);
        for line in textwrap::wrap(text, options) {
            let _ = writeln!(self.text, "{}", line.trim_end());
        }
    }

    /// A label in a fixed column and wrapped text beside it.
    pub fn labelled(&mut self, label: &str, text: &str, column: usize) {
        let padded = format!("{label:<column$}");
        self.hanging(&padded, text, 2);
    }

    /// Text at the left and text at the right end of one line, two lines when they do not fit.
    pub fn left_right(&mut self, indent: usize, left: &str, right: &str) {
        let pad = " ".repeat(indent);
        let room = self.width.saturating_sub(indent + plain_width(left) + plain_width(right));
        if room >= 2 {
            let _ = writeln!(self.text, "{pad}{left}{}{right}", " ".repeat(room));
        } else {
            let _ = writeln!(self.text, "{pad}{left}");
            let space = " ".repeat(self.width.saturating_sub(plain_width(right)));
            let _ = writeln!(self.text, "{space}{right}");
        }
    }

    /// A line as it is.
    pub fn line(&mut self, text: &str) {
        let _ = writeln!(self.text, "{text}");
    }
}

/// A heading with a list under it; nothing for an empty list.
pub(super) fn bullets(page: &mut Page, heading: &str, items: &[String]) {
    if items.is_empty() {
        return;
    }
    page.gap();
    page.heading(heading);
    for item in items {
        page.hanging("- ", item, 2);
    }
}

/// Columns a styled text takes.
fn plain_width(text: &str) -> usize {
    anstream::adapter::strip_str(text).to_string().width()
}
