//! Free text as a query: phrases of traits, words of names, and what to do with the rest.
//!
//! The text becomes *units*, each a phrase that means a trait or a word. A hit has every
//! unit, or, when no taxon does, as many as possible.

use tantivy::query::{
    BooleanQuery, BoostQuery, ConstScoreQuery, DisjunctionMaxQuery, Occur, Query, TermQuery,
};
use tantivy::schema::IndexRecordOption;
use tantivy::{Searcher, Term};

use super::fold;
use super::phrases::{Meaning, Phrases};
use super::schema::{self, NAMES, TERMS, TEXT, TextField, WHOLE};

/// Words that carry no question.
#[rustfmt::skip]
const EMPTY: &[&str] = &[
    "a", "an", "and", "any", "aquarium", "aquatic", "are", "be", "best", "but", "can", "do", "for", "from",
    "give", "good", "i", "in", "is", "it", "like", "likes", "live", "me", "my", "native", "need", "needs", "nice", "of",
    "on", "or", "plant", "plants", "please", "show", "some", "species", "tank", "tanks", "that", "the", "to",
    "want", "what", "which", "with",
];

/// Words read of a text; each costs look-ups and, when nothing has all, a round more.
const MOST_WORDS: usize = 24;

/// What a trait phrase that is fully answered adds to a score; of the order of a word found
/// in a vernacular name.
const TRAIT: f32 = 20.0;
/// What it adds when the words of a trait phrase stand in a name.
const IN_NAME: f32 = 3.0;
/// What a query that is a whole name adds: more than any words can.
const WHOLE_NAME: f32 = 1000.0;
/// What a name of several words adds when more is asked beside it.
const NAME: f32 = 100.0;
/// The longest name looked for inside a text, in words.
const LONGEST_NAME: usize = 5;
/// Words found only by prefix, and words read as another, count for less.
const PREFIX: f32 = 0.6;
const CORRECTED: f32 = 0.5;
/// How much a word adds in a further field beside the best.
const TIE: f32 = 0.1;

/// A text understood.
pub(super) struct Text {
    /// One query a unit.
    pub units: Vec<Box<dyn Query>>,
    /// A query for taxa that have the text as a whole name.
    pub whole: Box<dyn Query>,
    /// The stems that may stand in a name, to choose the name to show.
    pub stems: Vec<String>,
    /// Words that no taxon has.
    pub unmatched: Vec<String>,
    /// Words read as another.
    pub corrected: Vec<(String, String)>,
    /// Whether there is nothing to look for.
    pub empty: bool,
}

/// Reads a text against the words of an index.
pub(super) fn read(text: &str, searcher: &Searcher) -> tantivy::Result<Text> {
    let mut words = fold::words(text);
    let beyond = words.split_off(words.len().min(MOST_WORDS));
    let mut reader = Reader {
        dictionary: Dictionary { searcher },
        phrases: Phrases::read(),
        shown: Vec::new(),
        unmatched: beyond,
        corrected: Vec::new(),
    };
    let units = reader.units(&words, Spans::Names)?;
    Ok(Text {
        empty: units.is_empty() && reader.unmatched.is_empty(),
        units,
        whole: constant(reader.dictionary.whole_name(&words), WHOLE_NAME),
        stems: reader.shown,
        unmatched: reader.unmatched,
        corrected: reader.corrected,
    })
}

/// Whether stretches of words that are a whole name are looked for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Spans {
    Names,
    Words,
}

struct Reader<'a> {
    dictionary: Dictionary<'a>,
    phrases: Phrases,
    shown: Vec<String>,
    unmatched: Vec<String>,
    corrected: Vec<(String, String)>,
}

impl Reader<'_> {
    fn units(&mut self, words: &[String], spans: Spans) -> tantivy::Result<Vec<Box<dyn Query>>> {
        let mut units = Vec::new();
        let mut rest = words;
        while let Some(word) = rest.first() {
            let span = if spans == Spans::Names { self.dictionary.leading_name(rest)? } else { 0 };
            let taken = if span > 0 {
                units.push(self.name(&rest[..span])?);
                span
            } else if let Some((taken, meaning)) = self.phrases.leading(rest) {
                units.push(self.phrase(&rest[..taken], meaning)?);
                // A longer phrase is no part of a name to show: `hard water`.
                self.shown.extend((taken == 1).then(|| fold::stem(word)));
                taken
            } else if EMPTY.contains(&word.as_str()) || (word.len() == 1 && words.len() > 1) {
                1
            } else if let Some(joined) = self.joined(rest)? {
                self.word(&joined, &mut units)?;
                2
            } else {
                self.word(word, &mut units)?;
                1
            };
            rest = &rest[taken..];
        }
        Ok(units)
    }

    /// Words that are a name: the taxa of that name, or those that answer every word.
    fn name(&mut self, words: &[String]) -> tantivy::Result<Box<dyn Query>> {
        let whole = constant(self.dictionary.whole_name(words), NAME);
        let units = self.units(words, Spans::Words)?;
        let all = units.into_iter().map(|u| (Occur::Must, u)).collect();
        Ok(any(vec![whole, Box::new(BooleanQuery::new(all))]))
    }

    /// A phrase is answered by the trait it means, and by names that hold its words.
    fn phrase(&self, words: &[String], meaning: Meaning) -> tantivy::Result<Box<dyn Query>> {
        let traits = meaning
            .into_iter()
            .map(|(term, weight)| constant(self.dictionary.term(TERMS, &term), TRAIT * weight));
        let traits: Box<dyn Query> = Box::new(DisjunctionMaxQuery::new(traits.collect()));
        let mut in_names = Vec::new();
        for word in words {
            let stem = fold::stem(word);
            in_names.push((Occur::Must, self.dictionary.exact(&stem, &NAMES)?.unwrap_or_else(nothing)));
        }
        let in_names = constant(Box::new(BooleanQuery::new(in_names)), IN_NAME);
        Ok(most(vec![traits, in_names]))
    }

    /// Two words that names write as one: `hair grass`.
    fn joined(&self, words: &[String]) -> tantivy::Result<Option<String>> {
        let [first, second, ..] = words else { return Ok(None) };
        let joined = format!("{first}{second}");
        let known = self.dictionary.exact(&fold::stem(&joined), &NAMES)?.is_some();
        Ok(known.then_some(joined))
    }

    /// The word of a name, or of a trait, that a misspelt word stands for.
    fn near(&self, stem: &str) -> tantivy::Result<Option<(String, Box<dyn Query>)>> {
        let name = self.dictionary.near(stem)?;
        if let Some((typos, phrase, meaning)) = self.phrases.near(stem)
            && name.as_ref().is_none_or(|in_name| typos <= in_name.typos)
        {
            let query = self.phrase(std::slice::from_ref(&phrase), meaning)?;
            return Ok(Some((phrase, query)));
        }
        Ok(name.map(|near| (near.word, near.query)))
    }

    fn word(&mut self, word: &str, units: &mut Vec<Box<dyn Query>>) -> tantivy::Result<()> {
        let stem = fold::stem(word);
        if let Some(query) = self.dictionary.exact(&stem, &TEXT)? {
            units.push(query);
        } else if let Some(query) = self.dictionary.beginning(&stem)? {
            units.push(query);
        } else if let Some(parts) = self.dictionary.split(&stem)? {
            units.extend(parts);
        } else if let Some((found, query)) = self.near(&stem)? {
            self.shown.push(found.clone());
            self.corrected.push((word.to_owned(), found));
            units.push(query);
        } else {
            self.unmatched.push(word.to_owned());
        }
        self.shown.push(stem);
        Ok(())
    }
}

/// The words of names nearest to a word: how far, the first of them, the taxa that have one.
struct Near {
    typos: usize,
    word: String,
    query: Box<dyn Query>,
}

/// The words of an index.
struct Dictionary<'a> {
    searcher: &'a Searcher,
}

impl Dictionary<'_> {
    fn term_of(&self, field: &str, text: &str) -> Term {
        Term::from_field_text(schema::field(self.searcher.schema(), field), text)
    }

    fn term(&self, field: &str, text: &str) -> Box<dyn Query> {
        Box::new(TermQuery::new(self.term_of(field, text), IndexRecordOption::Basic))
    }

    /// The taxa with these words, or their stems, as a whole name.
    fn whole_name(&self, words: &[String]) -> Box<dyn Query> {
        let stems: Vec<String> = words.iter().map(|w| fold::stem(w)).collect();
        let mut names = vec![fold::compact(words), fold::compact(&stems)];
        names.dedup();
        any(names.iter().map(|n| self.term(WHOLE, n)).collect())
    }

    /// How many words, two at least, the longest name takes that `words` begins with.
    fn leading_name(&self, words: &[String]) -> tantivy::Result<usize> {
        for n in (2..=words.len().min(LONGEST_NAME)).rev() {
            let stems: Vec<String> = words[..n].iter().map(|w| fold::stem(w)).collect();
            for name in [fold::compact(&words[..n]), fold::compact(&stems)] {
                if self.searcher.doc_freq(&self.term_of(WHOLE, &name))? > 0 {
                    return Ok(n);
                }
            }
        }
        Ok(0)
    }

    /// The taxa that have a stem in one of the fields; `None` when there are none.
    fn exact(&self, stem: &str, fields: &[TextField]) -> tantivy::Result<Option<Box<dyn Query>>> {
        let mut found: Vec<Box<dyn Query>> = Vec::new();
        for field in fields {
            let term = self.term_of(field.name, stem);
            if self.searcher.doc_freq(&term)? > 0 {
                let query = TermQuery::new(term, IndexRecordOption::Basic);
                found.push(Box::new(BoostQuery::new(Box::new(query), field.weight)));
            }
        }
        Ok(best(found))
    }

    /// The taxa with a name of which a word begins with the stem: `crypto`, `hygro`.
    fn beginning(&self, stem: &str) -> tantivy::Result<Option<Box<dyn Query>>> {
        if stem.len() < 3 {
            return Ok(None);
        }
        let mut found = Vec::new();
        self.each_name_word(stem, &mut |word, field| {
            if word.starts_with(stem) {
                found.push((word.to_owned(), field));
            }
            word.starts_with(stem)
        })?;
        Ok(best(self.weighted(found, PREFIX)))
    }

    /// A word run together of two that names have: `javamoss`.
    fn split(&self, stem: &str) -> tantivy::Result<Option<Vec<Box<dyn Query>>>> {
        for at in 3..stem.len().saturating_sub(2) {
            let (first, second) = stem.split_at(at);
            if let (Some(a), Some(b)) =
                (self.exact(&fold::stem(first), &NAMES)?, self.exact(&fold::stem(second), &NAMES)?)
            {
                return Ok(Some(vec![a, b]));
            }
        }
        Ok(None)
    }

    /// The nearest words of names within one typo, two in words of eight letters or more.
    fn near(&self, stem: &str) -> tantivy::Result<Option<Near>> {
        let allowed = match stem.len() {
            0..=3 => return Ok(None),
            4..=7 => 1,
            _ => 2,
        };
        let mut least = allowed;
        let mut found: Vec<(String, TextField)> = Vec::new();
        self.each_name_word("", &mut |word, field| {
            if word.len().abs_diff(stem.len()) <= least {
                let typos = strsim::osa_distance(stem, word);
                if typos < least {
                    found.clear();
                }
                if typos <= least {
                    least = typos;
                    found.push((word.to_owned(), field));
                }
            }
            true
        })?;
        let Some((first, _)) = found.first().cloned() else { return Ok(None) };
        Ok(best(self.weighted(found, CORRECTED)).map(|query| Near { typos: least, word: first, query }))
    }

    /// Words of the name fields from `start` on, in order, until `each` says no more.
    fn each_name_word(
        &self,
        start: &str,
        each: &mut dyn FnMut(&str, TextField) -> bool,
    ) -> tantivy::Result<()> {
        for segment in self.searcher.segment_readers() {
            for field in NAMES {
                let index = segment.inverted_index(schema::field(self.searcher.schema(), field.name))?;
                let mut words = index.terms().range().ge(start.as_bytes()).into_stream()?;
                while words.advance() {
                    if !std::str::from_utf8(words.key()).is_ok_and(|word| each(word, field)) {
                        break;
                    }
                }
            }
        }
        Ok(())
    }

    fn weighted(&self, words: Vec<(String, TextField)>, share: f32) -> Vec<Box<dyn Query>> {
        let query = |(word, field): (String, TextField)| -> Box<dyn Query> {
            let query = TermQuery::new(self.term_of(field.name, &word), IndexRecordOption::Basic);
            Box::new(BoostQuery::new(Box::new(query), field.weight * share))
        };
        words.into_iter().map(query).collect()
    }
}

fn constant(query: Box<dyn Query>, score: f32) -> Box<dyn Query> {
    Box::new(ConstScoreQuery::new(query, score))
}

fn nothing() -> Box<dyn Query> {
    Box::new(tantivy::query::EmptyQuery)
}

/// Any of the queries; scores add up.
pub(super) fn any(queries: Vec<Box<dyn Query>>) -> Box<dyn Query> {
    Box::new(BooleanQuery::union(queries))
}

/// Any of the queries; the best score counts, the others a little.
fn most(queries: Vec<Box<dyn Query>>) -> Box<dyn Query> {
    Box::new(DisjunctionMaxQuery::with_tie_breaker(queries, TIE))
}

/// As [`most`]; `None` of no queries.
fn best(queries: Vec<Box<dyn Query>>) -> Option<Box<dyn Query>> {
    (!queries.is_empty()).then(|| most(queries))
}
