//! An open index, and how a question is answered from it.

use std::collections::BTreeMap;
use std::ops::Bound;
use std::path::{Path, PathBuf};

use tantivy::collector::TopDocs;
use tantivy::directory::MmapDirectory;
use tantivy::query::{
    AllQuery, BooleanQuery, ConstScoreQuery, Occur, Query as TantivyQuery, RangeQuery, TermQuery,
};
use tantivy::schema::{IndexRecordOption, Value};
use tantivy::{
    DocAddress, DocId, ReloadPolicy, Score, Searcher, SegmentReader, TantivyDocument, TantivyError, Term,
};

use super::collect::{CountFacets, Counts};
use super::directory::ReadOnly;
use super::schema::{self, Measure, RENOWN, TAXON, TERMS, WRITTEN};
use super::words::{self, Text};
use super::{Areas, Facet, FacetCount, Hit, Query, Results, SearchError, fold};
use crate::catalogue::{TaxonId, covers};
use crate::diagnostic::nearest;

/// What being well known adds to a score, times the logarithm of the points: the best known
/// gain as much as half a trait, so that of those that answer equally well the ones in
/// everyone's hands come first.
const RENOWN_WEIGHT: f32 = 3.0;

/// An open index. Read only; nothing in it changes while it is open.
pub struct Index {
    searcher: Searcher,
    path: PathBuf,
}

/// Holds every file of the segments against the sum written at its end: they are mapped, and
/// read without a look otherwise.
fn check_sums(index: &tantivy::Index, folder: &Path) -> tantivy::Result<()> {
    let segments: Vec<String> =
        index.searchable_segment_ids()?.iter().map(tantivy::index::SegmentId::uuid_string).collect();
    for entry in std::fs::read_dir(folder)? {
        let name = PathBuf::from(entry?.file_name());
        let ours = segments.iter().any(|id| name.to_string_lossy().starts_with(id.as_str()));
        if ours && !index.directory().validate_checksum(&name)? {
            let what = format!("`{}` is not as it was written", name.display());
            return Err(TantivyError::InternalError(what));
        }
    }
    Ok(())
}

impl Index {
    /// Opens the index folder of a library.
    ///
    /// # Errors
    /// The index is missing, damaged, or made by another version.
    pub fn open(folder: &Path) -> Result<Self, SearchError> {
        let opened = || -> tantivy::Result<Searcher> {
            let index = tantivy::Index::open(ReadOnly(MmapDirectory::open(folder)?))?;
            if index.schema() != schema::schema() {
                return Err(TantivyError::SchemaError("its fields are of another version".to_owned()));
            }
            check_sums(&index, folder)?;
            let reader = index.reader_builder().reload_policy(ReloadPolicy::Manual).try_into()?;
            Ok(reader.searcher())
        };
        let searcher = opened().map_err(SearchError::damaged(folder))?;
        Ok(Self { searcher, path: folder.to_owned() })
    }

    /// Answers a question.
    ///
    /// # Errors
    /// A facet has no such value, or the index is damaged.
    pub fn search(&self, query: &Query) -> Result<Results, SearchError> {
        let damaged = SearchError::damaged(&self.path);
        let filters = self.filters(query)?;
        let text = words::read(&query.text, &self.searcher).map_err(&damaged)?;
        let mut required = text.units.len();
        loop {
            let asked = Self::compose(&text, required, &filters);
            let (found, counts) = self.run(asked.as_ref(), query).map_err(&damaged)?;
            if counts.total > 0 || required <= 1 {
                return self.results(text, required, found, &counts).map_err(&damaged);
            }
            required -= 1;
        }
    }

    fn run(
        &self,
        asked: &dyn TantivyQuery,
        query: &Query,
    ) -> tantivy::Result<(Vec<(f32, DocAddress)>, Counts)> {
        // A heap needs room for one at least.
        let top = TopDocs::with_limit(query.limit.max(1)).and_offset(query.offset);
        let top = top.tweak_score(|segment: &SegmentReader| {
            let renown = segment.fast_fields().u64(RENOWN).ok();
            move |doc: DocId, score: Score| {
                let points = renown.as_ref().and_then(|r| r.first(doc)).unwrap_or(0);
                score + RENOWN_WEIGHT * libm::log1pf(points as f32)
            }
        });
        let (mut found, counts) = self.searcher.search(asked, &(top, CountFacets))?;
        found.truncate(query.limit);
        Ok((found, counts))
    }

    /// The text with `required` of its units, or as a whole name; and every filter.
    fn compose(text: &Text, required: usize, filters: &Filters) -> Box<dyn TantivyQuery> {
        let words: Box<dyn TantivyQuery> = if text.empty {
            Box::new(AllQuery)
        } else {
            let units = text.units.iter().map(|u| u.box_clone()).collect();
            let units: Box<dyn TantivyQuery> =
                Box::new(BooleanQuery::union_with_minimum_required_clauses(units, required.max(1)));
            words::any(vec![units, text.whole.box_clone()])
        };
        let mut clauses = vec![(Occur::Must, words)];
        clauses.extend(filters.must.iter().map(|f| (Occur::Must, f.box_clone())));
        clauses.extend(filters.must_not.iter().map(|f| (Occur::MustNot, f.box_clone())));
        Box::new(BooleanQuery::new(clauses))
    }

    fn results(
        &self,
        text: Text,
        required: usize,
        found: Vec<(f32, DocAddress)>,
        counts: &Counts,
    ) -> tantivy::Result<Results> {
        let mut hits = Vec::with_capacity(found.len());
        for (score, address) in found {
            hits.push(self.hit(score, address, &text.stems)?);
        }
        let areas = Areas::read();
        let mut facets = BTreeMap::new();
        for facet in Facet::ALL {
            let label = |value: &str| match facet {
                Facet::Native => areas.name(value).unwrap_or(value).to_owned(),
                _ => value.to_owned(),
            };
            let counted = counts.of(*facet).into_iter();
            let counted = counted.map(|(value, count)| FacetCount { label: label(&value), value, count });
            facets.insert(*facet, counted.collect());
        }
        let partial = required < text.units.len();
        let (unmatched, corrected) = (text.unmatched, text.corrected);
        Ok(Results { total: counts.total, hits, facets, unmatched, corrected, partial })
    }

    fn hit(&self, score: f32, address: DocAddress, stems: &[String]) -> tantivy::Result<Hit> {
        let doc: TantivyDocument = self.searcher.doc(address)?;
        let text = |name| {
            let value = doc.get_first(schema::field(self.searcher.schema(), name));
            value.and_then(|v| v.as_str().map(str::to_owned)).unwrap_or_default()
        };
        let written = text(WRITTEN);
        let mut names = written.lines();
        let name = names.next().unwrap_or_default().to_owned();
        let has = |candidate: &str| {
            let words: Vec<String> = fold::words(candidate).iter().map(|w| fold::stem(w)).collect();
            let shared = words.iter().filter(|w| stems.contains(w)).count();
            // Of two names with the same words of the text, the one with fewer others.
            (shared, std::cmp::Reverse(words.len() - shared))
        };
        let own = has(&name);
        // The first of equals, as names stand in the file.
        let other = names.map(|n| (has(n), n)).reduce(|best, next| if next.0 > best.0 { next } else { best });
        let matched = other.filter(|(score, _)| *score > own && score.0 > 0).map(|(_, n)| n.to_owned());
        Ok(Hit { taxon: TaxonId(text(TAXON)), score, name, matched })
    }

    fn term(&self, term: &str) -> Term {
        Term::from_field_text(schema::field(self.searcher.schema(), TERMS), term)
    }

    /// A filter does not change the order of the hits.
    fn filter(&self, terms: &[String]) -> Box<dyn TantivyQuery> {
        let one = |t: &String| -> Box<dyn TantivyQuery> {
            Box::new(TermQuery::new(self.term(t), IndexRecordOption::Basic))
        };
        Box::new(ConstScoreQuery::new(words::any(terms.iter().map(one).collect()), 0.0))
    }

    fn filters(&self, query: &Query) -> Result<Filters, SearchError> {
        let mut filters = Filters::default();
        for (facet, values) in query.facets.iter().filter(|(_, values)| !values.is_empty()) {
            let mut terms = Vec::new();
            for value in values {
                terms.extend(self.values(*facet, value)?.iter().map(|v| schema::facet_term(*facet, v)));
            }
            filters.must.push(self.filter(&terms));
        }
        for (measure, ends) in query.ranges.set() {
            filters.must.extend(self.range(measure, ends));
        }
        if !query.not_listed_in.is_empty() {
            let laws = self.known_values(Facet::Law).map_err(SearchError::damaged(&self.path))?;
            let touched = |law: &String| query.not_listed_in.iter().any(|place| covers(law, place));
            let terms: Vec<String> =
                laws.into_iter().filter(touched).map(|l| schema::facet_term(Facet::Law, &l)).collect();
            filters.must_not.push(self.filter(&terms));
        }
        Ok(filters)
    }

    /// The values of a facet that a person means by `value`.
    fn values(&self, facet: Facet, value: &str) -> Result<Vec<String>, SearchError> {
        if facet == Facet::Native {
            let areas = Areas::read();
            let near = || areas.near(value);
            return match areas.find(value) {
                Some(area) => Ok(area.codes),
                None => Err(SearchError::UnknownValue { facet, value: value.to_owned(), near: near() }),
            };
        }
        let known: Vec<String> = match facet.words() {
            [] => self.known_values(facet).map_err(SearchError::damaged(&self.path))?,
            words => words.iter().map(|w| (*w).to_owned()).collect(),
        };
        let wanted = fold::words(value);
        if let Some(found) = known.iter().find(|k| fold::words(k) == wanted) {
            return Ok(vec![found.clone()]);
        }
        let mut near = nearest(value, known.iter().map(String::as_str), 3);
        if near.is_empty() && !facet.words().is_empty() {
            near = known;
        }
        Err(SearchError::UnknownValue { facet, value: value.to_owned(), near })
    }

    /// All values that occur in a facet whose values come from the data.
    fn known_values(&self, facet: Facet) -> tantivy::Result<Vec<String>> {
        let mut known = Vec::new();
        for segment in self.searcher.segment_readers() {
            let Some(column) = segment.fast_fields().str(facet.word())? else { continue };
            for ordinal in 0..column.num_terms() as u64 {
                let mut value = String::new();
                column.ord_to_str(ordinal, &mut value)?;
                known.push(value);
            }
        }
        known.sort();
        known.dedup();
        Ok(known)
    }

    /// Two filters that together say: the plant's range meets the range asked for.
    fn range(&self, measure: Measure, [lo, hi]: [Option<f64>; 2]) -> Vec<Box<dyn TantivyQuery>> {
        let [lower, upper] = measure.fields();
        let number = |name, value| Term::from_field_f64(schema::field(self.searcher.schema(), name), value);
        let mut filters: Vec<Box<dyn TantivyQuery>> = Vec::new();
        if let Some(hi) = hi {
            filters.push(Box::new(RangeQuery::new(Bound::Unbounded, Bound::Included(number(lower, hi)))));
        }
        if let Some(lo) = lo {
            filters.push(Box::new(RangeQuery::new(Bound::Included(number(upper, lo)), Bound::Unbounded)));
        }
        filters.into_iter().map(|f| Box::new(ConstScoreQuery::new(f, 0.0)) as Box<dyn TantivyQuery>).collect()
    }
}

#[derive(Default)]
struct Filters {
    must: Vec<Box<dyn TantivyQuery>>,
    must_not: Vec<Box<dyn TantivyQuery>>,
}
