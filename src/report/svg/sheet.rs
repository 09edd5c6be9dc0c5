//! A sheet of SVG under construction: lines, shapes, text; numbers rounded, text escaped.

use std::fmt::Write;

/// A drawing in user units, one a pixel at full size.
#[derive(Debug, Default)]
pub struct Sheet {
    body: String,
}

/// Where a text is held.
#[derive(Debug, Clone, Copy)]
pub enum Anchor {
    /// At its start.
    Start,
    /// At its middle.
    Middle,
    /// At its end.
    End,
}

impl Sheet {
    /// The finished drawing, `width` by `height`, with a title and a description for readers who
    /// do not see it. Styles are classes of `style`.
    pub fn finish(self, (width, height): (f64, f64), title: &str, description: &str, style: &str) -> String {
        let (width, height) = (number(width), number(height));
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" \
             height=\"{height}\" role=\"img\" aria-labelledby=\"title description\">\n\
             <title id=\"title\">{}</title>\n<desc id=\"description\">{}</desc>\n\
             <style>{style}</style>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n{}</svg>\n",
            escaped(title),
            escaped(description),
            self.body
        )
    }

    /// A line.
    pub fn line(&mut self, class: &str, from: (f64, f64), to: (f64, f64)) {
        let [x1, y1, x2, y2] = [from.0, from.1, to.0, to.1].map(number);
        let _ =
            writeln!(self.body, "<line class=\"{class}\" x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"/>");
    }

    /// A rectangle.
    pub fn rect(&mut self, class: &str, at: (f64, f64), size: (f64, f64)) {
        let [x, y, w, h] = [at.0, at.1, size.0, size.1].map(number);
        let _ =
            writeln!(self.body, "<rect class=\"{class}\" x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\"/>");
    }

    /// A closed shape.
    pub fn polygon(&mut self, class: &str, corners: &[(f64, f64)]) {
        let points: Vec<String> =
            corners.iter().map(|(x, y)| format!("{},{}", number(*x), number(*y))).collect();
        let _ = writeln!(self.body, "<polygon class=\"{class}\" points=\"{}\"/>", points.join(" "));
    }

    /// A text.
    pub fn text(&mut self, class: &str, (x, y): (f64, f64), anchor: Anchor, text: &str) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let (x, y) = (number(x), number(y));
        let _ = writeln!(
            self.body,
            "<text class=\"{class}\" x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\">{}</text>",
            escaped(text)
        );
    }
}

/// Two decimals at most, no trailing zeros.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
