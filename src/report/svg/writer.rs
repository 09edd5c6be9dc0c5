//! Writes SVG: elements with escaped attributes and text, closed in order.

use std::fmt::Write;

/// An SVG 1.1 document under construction, in millimetres.
#[derive(Debug)]
pub struct Svg {
    text: String,
    open: Vec<&'static str>,
}

/// A number with at most two decimals and no trailing zeros: a hundredth of a millimetre is
/// finer than print.
pub fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Text that may stand in an element or a quoted attribute. Characters that XML 1.0 cannot hold
/// become U+FFFD.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\t' | '\n' | '\r' => safe.push(' '),
            '\u{FFFE}' | '\u{FFFF}' => safe.push('\u{FFFD}'),
            c if c.is_control() => safe.push('\u{FFFD}'),
            c => safe.push(c),
        }
    }
    safe
}

/// Attributes of an element.
pub type Attributes<'a> = &'a [(&'a str, &'a str)];

impl Svg {
    /// A page of so many millimetres with its title and description, which screen readers read out.
    pub fn page(width_mm: f64, height_mm: f64, title: &str, description: &str) -> Self {
        Self::begin([width_mm, height_mm], &[], title, description)
    }

    /// A page whose parts may be used again by their `id` ([`Self::reuse`]).
    pub fn page_with_parts(size_mm: [f64; 2], title: &str, description: &str) -> Self {
        Self::begin(size_mm, &[("xmlns:xlink", "http://www.w3.org/1999/xlink")], title, description)
    }

    fn begin(size_mm: [f64; 2], more: Attributes<'_>, title: &str, description: &str) -> Self {
        let mut svg =
            Self { text: "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".to_owned(), open: Vec::new() };
        let [width, height] = size_mm.map(number);
        let size = [
            ("version", "1.1"),
            ("width", &*format!("{width}mm")),
            ("height", &*format!("{height}mm")),
            ("viewBox", &*format!("0 0 {width} {height}")),
        ];
        svg.open("svg", &[&[("xmlns", "http://www.w3.org/2000/svg")][..], more, &size].concat());
        svg.words("title", &[], title);
        svg.words("desc", &[], description);
        svg
    }

    fn start(&mut self, tag: &str, attributes: Attributes<'_>) {
        let _ = write!(self.text, "{}<{tag}", " ".repeat(self.open.len()));
        for (name, value) in attributes {
            let _ = write!(self.text, " {name}=\"{}\"", escaped(value));
        }
    }

    /// Begins an element that holds others.
    pub fn open(&mut self, tag: &'static str, attributes: Attributes<'_>) {
        self.start(tag, attributes);
        self.text.push_str(">\n");
        self.open.push(tag);
    }

    /// Ends the element begun last.
    pub fn close(&mut self) {
        if let Some(tag) = self.open.pop() {
            let _ = writeln!(self.text, "{}</{tag}>", " ".repeat(self.open.len()));
        }
    }

    /// An element that holds nothing.
    pub fn leaf(&mut self, tag: &str, attributes: Attributes<'_>) {
        self.start(tag, attributes);
        self.text.push_str("/>\n");
    }

    /// An element that holds words.
    pub fn words(&mut self, tag: &str, attributes: Attributes<'_>, words: &str) {
        self.start(tag, attributes);
        let _ = writeln!(self.text, ">{}</{tag}>", escaped(words));
    }

    /// Words in parts, each with whether it is set in italics.
    pub fn spans(&mut self, tag: &str, attributes: Attributes<'_>, parts: &[(bool, String)]) {
        // Some readers drop the spaces at the ends of a part where they are not told to keep them.
        self.start(tag, &[attributes, &[("xml:space", "preserve")]].concat());
        self.text.push('>');
        for (italic, words) in parts {
            let style = if *italic { "italic" } else { "normal" };
            let _ = write!(self.text, "<tspan font-style=\"{style}\">{}</tspan>", escaped(words));
        }
        let _ = writeln!(self.text, "</{tag}>");
    }

    /// A part defined by its `id`, once more under a transformation.
    pub fn reuse(&mut self, id: &str, transform: &str) {
        self.leaf("use", &[("xlink:href", &format!("#{id}")), ("transform", transform)]);
    }

    /// Words at a place; the group around them gives font and anchor.
    pub fn label(&mut self, x: f64, y: f64, words: &str) {
        self.words("text", &[("x", &number(x)), ("y", &number(y))], words);
    }

    /// A straight line, with further attributes.
    pub fn line(&mut self, from: [f64; 2], to: [f64; 2], more: Attributes<'_>) {
        let [x1, y1, x2, y2] = [from[0], from[1], to[0], to[1]].map(number);
        let mut attributes = vec![("x1", &*x1), ("y1", &*y1), ("x2", &*x2), ("y2", &*y2)];
        attributes.extend_from_slice(more);
        self.leaf("line", &attributes);
    }

    /// A rectangle by its upper left corner and size, with further attributes.
    pub fn rect(&mut self, [x, y]: [f64; 2], [width, height]: [f64; 2], more: Attributes<'_>) {
        let [x, y, width, height] = [x, y, width, height].map(number);
        let mut attributes = vec![("x", &*x), ("y", &*y), ("width", &*width), ("height", &*height)];
        attributes.extend_from_slice(more);
        self.leaf("rect", &attributes);
    }

    /// The document, everything closed.
    pub fn finish(mut self) -> String {
        while !self.open.is_empty() {
            self.close();
        }
        self.text
    }
}

/// Closed rings as the data of a `path`.
pub(super) fn path_data(rings: &[Vec<[f64; 2]>]) -> String {
    let mut data = String::new();
    for ring in rings {
        for (i, [x, y]) in ring.iter().enumerate() {
            let verb = if i == 0 { 'M' } else { 'L' };
            let _ = write!(data, "{verb}{} {}", number(*x), number(*y));
        }
        data.push('Z');
    }
    data
}

#[cfg(test)]
mod tests {
    use super::{Svg, number};

    #[test]
    fn names_cannot_break_the_document() {
        let mut svg = Svg::page(10.0, 10.0, "a < b & \"c\"", "bell \u{7}");
        svg.open("g", &[("id", "x\"y<")]);
        svg.label(1.0, 2.0, "</text><script>");
        let text = svg.finish();
        assert!(text.contains("<title>a &lt; b &amp; &quot;c&quot;</title>"), "{text}");
        assert!(text.contains("<desc>bell \u{FFFD}</desc>"), "{text}");
        assert!(text.contains("<g id=\"x&quot;y&lt;\">"), "{text}");
        assert!(text.contains("<text x=\"1\" y=\"2\">&lt;/text&gt;&lt;script&gt;</text>"), "{text}");
        assert!(text.ends_with(" </g>\n</svg>\n"), "{text}");
    }

    #[test]
    fn numbers_are_short_and_never_minus_zero() {
        assert_eq!([1.0, 0.126, -0.001, 10.5, 100.0].map(number), ["1", "0.13", "0", "10.5", "100"]);
    }
}
