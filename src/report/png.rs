//! Drawings as PNG, rendered by a pure Rust renderer with the typeface that travels with the program.

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Group, Node, Options, TextChunk, Tree};

use super::svg::{ITALIC, REGULAR, lacking};

/// Most pixels of a side: a drawing asked for larger is a mistake or an attack.
const MOST_PIXELS: f64 = 16_000.0;

/// A picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// The PNG file.
    pub bytes: Vec<u8>,
    /// Letters of its words that the typeface lacks: they are empty boxes.
    pub lacking: Vec<char>,
}

/// Why there is no picture.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PictureError {
    /// The drawing cannot be read.
    #[error("the drawing cannot be read: {0}")]
    Drawing(String),
    /// Too fine or too coarse.
    #[error("a picture of {0:.0} by {1:.0} pixels cannot be made; expected 1 to 16000 a side")]
    Size(f64, f64),
    /// The pixels cannot be packed.
    #[error("the picture cannot be packed: {0}")]
    Packing(String),
}

/// Renders a drawing at so many pixels to the inch of its own size; the same bytes each time.
///
/// # Errors
/// A drawing that is no SVG, a size out of bounds.
pub fn png(svg: &str, pixels_per_inch: f64) -> Result<Picture, PictureError> {
    let mut options = Options { font_family: "Gelasio".to_owned(), ..Options::default() };
    let fonts = options.fontdb_mut();
    fonts.load_font_data(REGULAR.to_vec());
    fonts.load_font_data(ITALIC.to_vec());
    fonts.set_serif_family("Gelasio");
    fonts.set_sans_serif_family("Gelasio");
    let tree = Tree::from_str(svg, &options).map_err(|e| PictureError::Drawing(e.to_string()))?;
    let zoom = pixels_per_inch / 96.0;
    let [width, height] = [tree.size().width(), tree.size().height()].map(|s| (f64::from(s) * zoom).ceil());
    let sound = |side: f64| (1.0..=MOST_PIXELS).contains(&side);
    let room = if sound(width) && sound(height) { Pixmap::new(width as u32, height as u32) } else { None };
    let mut pixels = room.ok_or(PictureError::Size(width, height))?;
    resvg::render(&tree, Transform::from_scale(zoom as f32, zoom as f32), &mut pixels.as_mut());
    let bytes = pixels.encode_png().map_err(|e| PictureError::Packing(e.to_string()))?;
    let mut words = String::new();
    said(tree.root(), &mut words);
    Ok(Picture { bytes, lacking: lacking(&words) })
}

/// All words of a drawing, one after another.
fn said(group: &Group, words: &mut String) {
    for node in group.children() {
        match node {
            Node::Group(inner) => said(inner, words),
            Node::Text(text) => words.extend(text.chunks().iter().map(TextChunk::text)),
            _ => {}
        }
    }
}
