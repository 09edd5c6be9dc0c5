//! How wide words are at most, in whichever typeface a viewer sets them.
//!
//! A drawing names the typeface that travels with the program, and most viewers do not have it. So
//! nothing is laid out by its exact widths: every word is given the room that the widest of the usual
//! serif faces would take, and is held at the end where something stands beside it.

use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::{FontRef, MetadataProvider, charmap::Charmap};

/// The upright cut.
pub(crate) const REGULAR: &[u8] = include_bytes!("../../../data/fonts/Gelasio-Regular.ttf");
/// The italic cut.
pub(crate) const ITALIC: &[u8] = include_bytes!("../../../data/fonts/Gelasio-Italic.ttf");
/// How much wider than ours letters are in the widest usual face (DejaVu Serif, whose slanted letters
/// are as wide as its upright ones), measured over the words of the demos, rounded up.
const WIDER: f64 = 1.18;
/// The width of its digits, share of the type size.
const DIGIT: f64 = 0.64;
/// Families in the order a viewer should try them: the first has the measures of the second.
pub(super) const FAMILIES: &str = "Gelasio, Georgia, 'Times New Roman', 'DejaVu Serif', serif";

/// Upright or italic.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slant {
    Upright,
    Italic,
}

/// One cut, opened.
struct Cut {
    glyphs: GlyphMetrics<'static>,
    letters: Charmap<'static>,
    widest: f64,
}

impl Cut {
    fn open(bytes: &'static [u8]) -> Option<Self> {
        let font = FontRef::new(bytes).ok()?;
        let glyphs = font.glyph_metrics(Size::new(1.0), LocationRef::default());
        Some(Self { glyphs, letters: font.charmap(), widest: 1.0 })
    }

    /// Share of the type size; a letter that the cut lacks counts as an em.
    fn width(&self, c: char) -> f64 {
        let advance = self.letters.map(c).and_then(|glyph| self.glyphs.advance_width(glyph));
        let own = advance.map_or(self.widest, |share| f64::from(share) * WIDER);
        if c.is_ascii_digit() { own.max(DIGIT) } else { own }
    }
}

/// Letters of a drawing's words that the bundled typeface lacks, each once, in order.
pub(crate) fn lacking(words: &str) -> Vec<char> {
    let cut = Cut::open(REGULAR);
    let known = |c: char| cut.as_ref().is_some_and(|cut| cut.letters.map(c).is_some());
    let mut found: Vec<char> = words.chars().filter(|c| !c.is_control() && !known(*c)).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// Both cuts.
pub(super) struct Face {
    upright: Option<Cut>,
    italic: Option<Cut>,
}

impl Face {
    pub fn open() -> Self {
        Self { upright: Cut::open(REGULAR), italic: Cut::open(ITALIC) }
    }

    /// mm that words take at most at a size in mm.
    pub fn width(&self, words: &str, slant: Slant, size: f64) -> f64 {
        let cut = if slant == Slant::Italic { &self.italic } else { &self.upright };
        words.chars().map(|c| cut.as_ref().map_or(1.0, |cut| cut.width(c))).sum::<f64>() * size
    }

    /// The words, cut so that they take at most `room` mm; an ellipsis shows the cut.
    pub fn fitted(&self, words: &str, slant: Slant, size: f64, room: f64) -> String {
        if self.width(words, slant, size) <= room {
            return words.to_owned();
        }
        let mut kept = String::new();
        for c in words.chars() {
            let longer = format!("{kept}{c}…");
            if self.width(&longer, slant, size) > room {
                break;
            }
            kept.push(c);
        }
        format!("{}…", kept.trim_end())
    }
}
