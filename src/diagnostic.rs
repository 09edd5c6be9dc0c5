//! Findings: what is wrong in an input, where, what was expected, and the nearest right word.
//!
//! Readers collect findings and go on, so that one run shows them all. Rendering lives here
//! and nowhere else, so that every message in the program has one style.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

/// A text that findings point into.
#[derive(Debug, PartialEq, Eq)]
pub struct Document {
    /// The name shown to the person: the path as they gave it, or `<stdin>`.
    pub name: String,
    /// The whole text.
    pub text: String,
}

impl Document {
    /// A document that findings can share.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Self> {
        Arc::new(Self { name: name.into(), text: text.into() })
    }

    /// One-based line and column (in characters) of a byte offset.
    pub fn position(&self, offset: usize) -> (usize, usize) {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        let before = &self.text[..offset];
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
    }
}

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Worth knowing; nothing is wrong.
    Note,
    /// Doubtful, but the work goes on.
    Warning,
    /// The input cannot be used.
    Error,
}

/// A place in a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The document.
    pub document: Arc<Document>,
    /// The bytes meant.
    pub span: Range<usize>,
}

/// One thing found in an input.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// How much it matters.
    pub severity: Severity,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// Where; `None` when the input as a whole is meant (a file that cannot be read).
    pub place: Option<Place>,
    /// What a right input looks like.
    pub expected: Option<String>,
    /// The nearest right words, the best first.
    pub near: Vec<String>,
}

impl Finding {
    /// A finding with no place yet.
    pub fn new(severity: Severity, message: impl Into<String>) -> Self {
        Self { severity, message: message.into(), place: None, expected: None, near: Vec::new() }
    }

    /// An error; see [`Finding::new`].
    pub fn error(message: impl Into<String>) -> Self {
        Self::new(Severity::Error, message)
    }

    /// A warning; see [`Finding::new`].
    pub fn warning(message: impl Into<String>) -> Self {
        Self::new(Severity::Warning, message)
    }

    /// Says where.
    #[must_use]
    pub fn at(mut self, document: &Arc<Document>, span: Range<usize>) -> Self {
        self.place = Some(Place { document: Arc::clone(document), span });
        self
    }

    /// Says what was expected.
    #[must_use]
    pub fn expected(mut self, expected: impl Into<String>) -> Self {
        self.expected = Some(expected.into());
        self
    }

    /// Adds near matches.
    #[must_use]
    pub fn near(mut self, near: impl IntoIterator<Item = String>) -> Self {
        self.near.extend(near);
        self
    }

    fn near_line(&self) -> Option<String> {
        let quoted: Vec<String> = self.near.iter().map(|n| format!("`{n}`")).collect();
        match quoted.as_slice() {
            [] => None,
            [one] => Some(format!("did you mean {one}?")),
            many => Some(format!("did you mean one of {}?", many.join(", "))),
        }
    }
}

/// The findings of one run: readers add, the command line renders.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Findings(Vec<Finding>);

impl Findings {
    /// Adds one.
    pub fn push(&mut self, finding: Finding) {
        self.0.push(finding);
    }

    /// Adds all of another collection.
    pub fn extend(&mut self, other: Self) {
        self.0.extend(other.0);
    }

    /// All findings in the order they were made.
    pub fn iter(&self) -> impl Iterator<Item = &Finding> {
        self.0.iter()
    }

    /// Whether nothing was found.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How many were found.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether any finding forbids going on.
    pub fn has_errors(&self) -> bool {
        self.0.iter().any(|f| f.severity == Severity::Error)
    }

    /// `value` when nothing forbids going on, else the findings.
    ///
    /// # Errors
    /// The findings themselves, when one of them is an error.
    pub fn into_result<T>(self, value: T) -> Result<(T, Self), Self> {
        if self.has_errors() { Err(self) } else { Ok((value, self)) }
    }
}

impl From<Finding> for Findings {
    fn from(finding: Finding) -> Self {
        Self(vec![finding])
    }
}

impl fmt::Display for Findings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&render(self, &Renderer::plain()))
    }
}

/// The findings as styled or plain text, `width` columns wide.
pub fn render_for_terminal(findings: &Findings, width: usize, styled: bool) -> String {
    let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
    render(findings, &renderer.term_width(width))
}

fn render(findings: &Findings, renderer: &Renderer) -> String {
    let rendered: Vec<String> = findings.0.iter().map(|f| render_one(f, renderer)).collect();
    let mut text = rendered.join("\n\n");
    if !text.is_empty() {
        text.push('\n');
    }
    text
}

fn render_one(finding: &Finding, renderer: &Renderer) -> String {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let title = level.primary_title(finding.message.as_str());
    let mut group = match &finding.place {
        Some(place) => title.element(snippet(place)),
        None => Group::with_title(title),
    };
    if let Some(expected) = &finding.expected {
        group = group.element(Level::NOTE.with_name("expected").message(expected.as_str()));
    }
    if let Some(near) = finding.near_line() {
        group = group.element(Level::HELP.message(near));
    }
    renderer.render(&[group])
}

fn snippet(place: &Place) -> Snippet<'_, annotate_snippets::Annotation<'_>> {
    let len = place.document.text.len();
    let start = place.span.start.min(len);
    let end = place.span.end.clamp(start, len);
    Snippet::source(place.document.text.as_str())
        .path(place.document.name.as_str())
        .annotation(AnnotationKind::Primary.span(start..end))
}

/// The candidates nearest to `word`, best first, at most `limit`; none that is far off.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>, limit: usize) -> Vec<String> {
    let folded = word.to_lowercase();
    let mut scored: Vec<(f64, &str)> = candidates
        .into_iter()
        .map(|c| (strsim::normalized_damerau_levenshtein(&folded, &c.to_lowercase()), c))
        .filter(|(score, _)| *score >= 0.55)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    scored.dedup_by(|a, b| a.1 == b.1);
    scored.into_iter().take(limit).map(|(_, c)| c.to_owned()).collect()
}
