//! How wide words are: the advance widths of the typeface that travels with the program.

use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::{FontRef, MetadataProvider, charmap::Charmap};

/// The upright cut.
pub(crate) const REGULAR: &[u8] = include_bytes!("../../../data/fonts/Gelasio-Regular.ttf");
/// The italic cut.
pub(crate) const ITALIC: &[u8] = include_bytes!("../../../data/fonts/Gelasio-Italic.ttf");
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
        advance.map_or(self.widest, f64::from)
    }
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

    /// mm that words take at a size in mm; kerning only makes them narrower.
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
