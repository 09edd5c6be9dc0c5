//! One table of a TOML file: typed look-ups that report and go on.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::spec::{Spot, Wish};
use crate::diagnostic::{Document, Finding, Findings, nearest};
use crate::tank::outline::Outline;
use crate::units::{Interval, Length, ParseError, Quantity, expectation, parse_interval, parse_quantity};

/// A value with its place in the file.
pub(super) struct Value<'a> {
    pub value: &'a DeValue<'a>,
    pub span: Range<usize>,
}

/// A table being read. Keys asked for are known; [`Section::finish`] reports the rest.
pub(super) struct Section<'a> {
    table: &'a DeTable<'a>,
    pub span: Range<usize>,
    path: String,
    document: &'a Arc<Document>,
    known: Vec<&'static str>,
}

impl<'a> Section<'a> {
    pub fn root(table: &'a Spanned<DeTable<'a>>, document: &'a Arc<Document>) -> Self {
        let span = 0..document.text.len().min(1);
        Self { table: table.get_ref(), span, path: String::new(), document, known: Vec::new() }
    }

    fn entry(&mut self, key: &'static str) -> Option<(&'a Spanned<DeValue<'a>>, Range<usize>)> {
        self.known.push(key);
        let found = self.table.iter().find(|(k, _)| k.get_ref() == key);
        found.map(|(k, v)| (v, k.span()))
    }

    /// Whether the key stands in the file; marks it as known.
    pub fn has(&mut self, key: &'static str) -> bool {
        self.entry(key).is_some()
    }

    pub fn value(&mut self, key: &'static str) -> Option<Value<'a>> {
        self.entry(key).map(|(v, _)| Value { value: v.get_ref(), span: v.span() })
    }

    /// A finding at `span` of this file.
    pub fn error(&self, span: Range<usize>, message: impl Into<String>) -> Finding {
        Finding::error(message).at(self.document, span)
    }

    /// The full name of a key, for messages.
    pub fn name(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    pub fn missing(&self, key: &str, expected: impl Into<String>, findings: &mut Findings) {
        let message = format!("`{}` is missing", self.name(key));
        findings.push(self.error(self.span.clone(), message).expected(expected));
    }

    fn wrong_type(&self, key: &str, at: &Value<'_>, expected: impl Into<String>) -> Finding {
        let message = format!("`{}` is {}", self.name(key), type_name(at.value));
        self.error(at.span.clone(), message).expected(expected)
    }

    /// A sub-table, or `None` when it is not there.
    pub fn table(&mut self, key: &'static str, findings: &mut Findings) -> Option<Section<'a>> {
        let (value, key_span) = self.entry(key)?;
        self.as_section(key, value, key_span, findings)
    }

    fn as_section(
        &self,
        key: &str,
        value: &'a Spanned<DeValue<'a>>,
        span: Range<usize>,
        findings: &mut Findings,
    ) -> Option<Section<'a>> {
        if let DeValue::Table(table) = value.get_ref() {
            let path = self.name(key);
            return Some(Section { table, span, path, document: self.document, known: Vec::new() });
        }
        let at = Value { value: value.get_ref(), span: value.span() };
        findings.push(self.wrong_type(key, &at, format!("a table: [{}]", self.name(key))));
        None
    }

    /// The tables of `[[key]]`, none when it is not there.
    pub fn tables(&mut self, key: &'static str, findings: &mut Findings) -> Vec<Section<'a>> {
        let Some((value, key_span)) = self.entry(key) else { return Vec::new() };
        let DeValue::Array(items) = value.get_ref() else {
            let at = Value { value: value.get_ref(), span: value.span() };
            findings.push(self.wrong_type(key, &at, format!("one or more tables: [[{}]]", self.name(key))));
            return Vec::new();
        };
        let span_of = |item: &Spanned<DeValue<'a>>| {
            if item.span().is_empty() { key_span.clone() } else { self.header_span(item.span()) }
        };
        items.iter().filter_map(|item| self.as_section(key, item, span_of(item), findings)).collect()
    }

    /// A table spans all its lines; findings about it point at the first.
    fn header_span(&self, span: Range<usize>) -> Range<usize> {
        let line = self.document.text[span.clone()].lines().next().map_or(0, str::len);
        span.start..span.start + line.max(1)
    }

    /// A quantity in a string.
    pub fn quantity<Q: Quantity>(&mut self, key: &'static str, findings: &mut Findings) -> Option<Q> {
        let at = self.value(key)?;
        self.parse::<Q, _>(key, &at, parse_quantity::<Q>, findings)
    }

    /// A quantity that has to be there.
    pub fn required<Q: Quantity>(&mut self, key: &'static str, findings: &mut Findings) -> Option<Q> {
        if !self.has(key) {
            self.missing(key, expectation::<Q>(), findings);
        }
        self.quantity(key, findings)
    }

    /// A quantity or range in a string; a bare number serves where the quantity has no unit.
    pub fn interval<Q: Quantity>(
        &mut self,
        key: &'static str,
        findings: &mut Findings,
    ) -> Option<Interval<Q>> {
        let at = self.value(key)?;
        self.parse::<Q, _>(key, &at, parse_interval::<Q>, findings)
    }

    /// An interval that has to be there.
    pub fn required_interval<Q: Quantity>(
        &mut self,
        key: &'static str,
        findings: &mut Findings,
    ) -> Option<Interval<Q>> {
        if !self.has(key) {
            self.missing(key, expectation::<Q>(), findings);
        }
        self.interval(key, findings)
    }

    fn parse<Q: Quantity, T>(
        &self,
        key: &str,
        at: &Value<'_>,
        parse: fn(&str) -> Result<T, ParseError>,
        findings: &mut Findings,
    ) -> Option<T> {
        let parsed = match at.value {
            DeValue::String(text) => parse(text),
            DeValue::Integer(_) | DeValue::Float(_) => parse(&self.document.text[at.span.clone()]),
            _ => {
                findings.push(self.wrong_type(key, at, expectation::<Q>()));
                return None;
            }
        };
        match parsed {
            Ok(value) => Some(value),
            Err(error) => {
                let message = format!("`{}`: {error}", self.name(key));
                findings.push(self.error(at.span.clone(), message).expected(expectation::<Q>()));
                None
            }
        }
    }

    /// Free text.
    pub fn text(&mut self, key: &'static str, findings: &mut Findings) -> Option<Wish> {
        let at = self.value(key)?;
        if let DeValue::String(text) = at.value {
            return Some(Wish { text: text.trim().to_owned(), span: at.span });
        }
        findings.push(self.wrong_type(key, &at, "text in quotes"));
        None
    }

    /// A list of texts, empty when it is not there.
    pub fn texts(&mut self, key: &'static str, findings: &mut Findings) -> Vec<Wish> {
        let Some(at) = self.value(key) else { return Vec::new() };
        self.as_texts(key, &at, findings)
    }

    /// A list of lists of texts with their places, empty when it is not there.
    pub fn text_lists(
        &mut self,
        key: &'static str,
        findings: &mut Findings,
    ) -> Vec<(Vec<Wish>, Range<usize>)> {
        let Some(at) = self.value(key) else { return Vec::new() };
        let expected = "a list of lists: [[\"one\", \"another\"], [\"a third\", \"a fourth\"]]";
        let lists = match at.value {
            DeValue::Array(items) if items.iter().all(|i| i.get_ref().is_array()) => items,
            _ => {
                findings.push(self.wrong_type(key, &at, expected));
                return Vec::new();
            }
        };
        let mut read = Vec::new();
        for list in lists {
            let at = Value { value: list.get_ref(), span: list.span() };
            let texts = self.as_texts(key, &at, findings);
            if texts.is_empty() {
                let message = format!("a list of `{}` names nothing", self.name(key));
                findings.push(self.error(at.span.clone(), message).expected(expected));
            }
            read.push((texts, at.span));
        }
        read
    }

    fn as_texts(&self, key: &str, at: &Value<'_>, findings: &mut Findings) -> Vec<Wish> {
        let expected = "a list of texts: [\"one\", \"two\"]";
        let DeValue::Array(items) = at.value else {
            findings.push(self.wrong_type(key, at, expected));
            return Vec::new();
        };
        let mut texts = Vec::new();
        for item in items {
            match item.get_ref() {
                DeValue::String(text) => texts.push(Wish { text: text.trim().to_owned(), span: item.span() }),
                other => {
                    let at = Value { value: other, span: item.span() };
                    findings.push(self.wrong_type(key, &at, expected));
                }
            }
        }
        texts
    }

    /// A word of a closed vocabulary.
    pub fn word<T>(
        &mut self,
        key: &'static str,
        from: fn(&str) -> Option<T>,
        words: &[&'static str],
        findings: &mut Findings,
    ) -> Option<T> {
        let written = self.text(key, findings)?;
        let value = from(&written.text);
        if value.is_none() {
            let message = format!("`{}` is not a value of `{}`", written.text, self.name(key));
            let finding = self.error(written.span, message).expected(format!("one of: {}", words.join(", ")));
            findings.push(finding.near(nearest(&written.text, words.iter().copied(), 1)));
        }
        value
    }

    /// Yes or no.
    pub fn flag(&mut self, key: &'static str, findings: &mut Findings) -> Option<bool> {
        let at = self.value(key)?;
        if let DeValue::Boolean(value) = at.value {
            return Some(*value);
        }
        findings.push(self.wrong_type(key, &at, "true or false"));
        None
    }

    /// A whole number from 0 to a million.
    pub fn whole(&mut self, key: &'static str, findings: &mut Findings) -> Option<(u32, Range<usize>)> {
        let at = self.value(key)?;
        let text = &self.document.text[at.span.clone()];
        let text = text.trim_matches(['"', '\'']).replace('_', "");
        let parsed = text.trim().parse::<u32>().ok().filter(|n| *n <= 1_000_000);
        if parsed.is_none() {
            let message = format!("`{}` is {text}", self.name(key));
            findings.push(self.error(at.span.clone(), message).expected("a whole number, 0 or more"));
        }
        parsed.map(|n| (n, at.span))
    }

    /// A point `["20 cm", "10 cm"]`.
    pub fn spot(&mut self, key: &'static str, findings: &mut Findings) -> Option<Spot> {
        let at = self.value(key)?;
        self.as_spot(key, &at, findings)
    }

    fn as_spot(&self, key: &str, at: &Value<'_>, findings: &mut Findings) -> Option<Spot> {
        let expected = "two lengths: [\"20 cm\", \"10 cm\"]";
        let DeValue::Array(items) = at.value else {
            findings.push(self.wrong_type(key, at, expected));
            return None;
        };
        if items.len() != 2 {
            let message = format!("`{}` has {} values", self.name(key), items.len());
            findings.push(self.error(at.span.clone(), message).expected(expected));
            return None;
        }
        let mut both = items.iter().map(|item| {
            let at = Value { value: item.get_ref(), span: item.span() };
            self.parse::<Length, _>(key, &at, parse_quantity::<Length>, findings)
        });
        let (x, y) = (both.next()?, both.next()?);
        Some((x?, y?))
    }

    /// An outline on the plan.
    pub fn outline(&mut self, key: &'static str, findings: &mut Findings) -> Option<Outline> {
        let at = self.value(key)?;
        let DeValue::Array(items) = at.value else {
            findings.push(self.wrong_type(key, &at, "a list of points: [[\"0 cm\", \"0 cm\"], …]"));
            return None;
        };
        let point = |item: &Spanned<DeValue<'_>>, findings: &mut Findings| {
            self.as_spot(key, &Value { value: item.get_ref(), span: item.span() }, findings)
        };
        let points: Vec<Option<Spot>> = items.iter().map(|item| point(item, findings)).collect();
        let points: Vec<Spot> = points.into_iter().collect::<Option<_>>()?;
        let outline = Outline::new(&points);
        if let Err(error) = &outline {
            let message = format!("`{}`: {error}", self.name(key));
            let expected = "three points or more around an area, no side crossing another";
            findings.push(self.error(at.span, message).expected(expected));
        }
        outline.ok()
    }

    /// Reports every key that nobody asked for.
    pub fn finish(self, findings: &mut Findings) {
        for (key, _) in self.table {
            let name = key.get_ref().as_ref();
            if self.known.contains(&name) {
                continue;
            }
            let place = if self.path.is_empty() { "the file".to_owned() } else { format!("[{}]", self.path) };
            let message = format!("`{name}` is not a key of {place}");
            let finding =
                self.error(key.span(), message).expected(format!("one of: {}", self.known.join(", ")));
            findings.push(finding.near(nearest(name, self.known.iter().copied(), 1)));
        }
    }
}

/// Where every key stands, by its full name: `glass.water`, `light.lamp[0].beam`, `zone[2]`.
pub(super) type Places = BTreeMap<String, Range<usize>>;

/// The places of all keys below `table`. A key's place is its value, a table's its header.
pub(super) fn places(table: &Spanned<DeTable<'_>>) -> Places {
    let mut found = Places::new();
    for (key, value) in table.get_ref() {
        note_places(key.get_ref(), key.span(), value, &mut found);
    }
    found
}

fn note_places(path: &str, key_span: Range<usize>, value: &Spanned<DeValue<'_>>, found: &mut Places) {
    match value.get_ref() {
        DeValue::Table(table) => {
            found.insert(path.to_owned(), key_span);
            for (key, inner) in table {
                note_places(&format!("{path}.{}", key.get_ref()), key.span(), inner, found);
            }
        }
        DeValue::Array(items) if items.iter().any(|i| i.get_ref().is_table()) => {
            for (i, item) in items.iter().enumerate() {
                note_places(&format!("{path}[{i}]"), key_span.clone(), item, found);
            }
        }
        _ => {
            found.insert(path.to_owned(), value.span());
        }
    }
}

fn type_name(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
