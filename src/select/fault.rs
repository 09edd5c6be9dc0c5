//! What can be wrong with a problem before anybody tries to solve it.

use thiserror::Error;

use super::problem::{Candidate, Problem};

/// Largest magnitude of any number in a problem; sums over a list stay far inside `i64`.
pub const LARGEST: i64 = 1_000_000_000;
/// Most zones.
pub const MOST_ZONES: usize = 64;
/// Most taxa a zone may ask for.
pub const MOST_IN_ZONE: usize = 8;
/// Most candidates.
pub const MOST_CANDIDATES: usize = 100_000;

/// A problem that cannot be read as one. Being impossible to satisfy is not a fault.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Fault {
    /// More of something than the solver takes.
    #[error("{count} {what}; at most {most} are supported")]
    TooMany {
        /// What is counted.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many may be.
        most: usize,
    },
    /// An index points outside its list.
    #[error("{place} names {what} number {index}, but there are only {len}")]
    NoSuch {
        /// Where the index stands.
        place: String,
        /// What it should name.
        what: &'static str,
        /// The index.
        index: usize,
        /// Length of the list.
        len: usize,
    },
    /// A number outside what is allowed.
    #[error("{place} is {value}; it must lie in {low}..{high}")]
    OutOfRange {
        /// Where the number stands.
        place: String,
        /// The number.
        value: i64,
        /// Smallest allowed.
        low: i64,
        /// Largest allowed.
        high: i64,
    },
    /// Something that must be there once is there twice.
    #[error("{place} is given twice")]
    Twice {
        /// What is repeated.
        place: String,
    },
    /// Something that must relate two different things relates one to itself.
    #[error("{place} joins one thing with itself")]
    WithItself {
        /// Where.
        place: String,
    },
    /// A table has the wrong length.
    #[error("{place} has {found} entries; {expected} expected")]
    Length {
        /// Which table.
        place: String,
        /// Its length.
        found: usize,
        /// What was expected, in words.
        expected: String,
    },
}

/// Every fault of a problem, in the order met; empty when it can be solved.
pub fn faults(problem: &Problem) -> Vec<Fault> {
    let mut check = Check { problem, found: Vec::new() };
    check.sizes();
    check.zones();
    check.pairs_of_zones();
    check.weights();
    check.keys();
    for candidate in &problem.candidates {
        check.candidate(candidate);
    }
    check.rules();
    check.found
}

struct Check<'a> {
    problem: &'a Problem,
    found: Vec<Fault>,
}

impl Check<'_> {
    fn sizes(&mut self) {
        let sizes = [
            ("zones", self.problem.zones.len(), MOST_ZONES),
            ("candidates", self.problem.candidates.len(), MOST_CANDIDATES),
        ];
        for (what, count, most) in sizes {
            if count > most {
                self.found.push(Fault::TooMany { what, count, most });
            }
        }
    }

    fn zones(&mut self) {
        for zone in &self.problem.zones {
            let most = MOST_IN_ZONE as i64;
            self.range(|| format!("the most taxa of zone `{}`", zone.name), as_i64(zone.most), 0, most);
            self.range(|| format!("the fewest taxa of zone `{}`", zone.name), as_i64(zone.least), 0, most);
        }
    }

    fn pairs_of_zones(&mut self) {
        for &[a, b] in &self.problem.neighbours {
            self.two_zones("a pair of neighbours", a, b);
        }
        for line in &self.problem.sight_lines {
            self.two_zones("a line of sight", line.nearer, line.farther);
        }
    }

    fn two_zones(&mut self, place: &str, a: usize, b: usize) {
        let len = self.problem.zones.len();
        for index in [a, b] {
            self.index(|| place.to_owned(), "zone", index, len);
        }
        if a == b {
            self.found.push(Fault::WithItself { place: place.to_owned() });
        }
    }

    fn weights(&mut self) {
        let w = self.problem.weights;
        let all = [
            ("suitability", w.suitability),
            ("texture", w.texture),
            ("colour", w.colour),
            ("genus", w.genus),
        ];
        for (name, value) in all {
            self.range(|| format!("the weight `{name}`"), value, 0, 100_000);
        }
    }

    fn keys(&mut self) {
        let mut keys: Vec<&str> = self.problem.candidates.iter().map(|c| c.key.as_str()).collect();
        keys.sort_unstable();
        for pair in keys.windows(2) {
            if pair[0] == pair[1] {
                self.found.push(Fault::Twice { place: format!("candidate `{}`", pair[0]) });
            }
        }
    }

    fn candidate(&mut self, candidate: &Candidate) {
        let key = &candidate.key;
        if let Some(price) = candidate.price {
            self.range(|| format!("the price of `{key}`"), price, 0, LARGEST);
        }
        self.water(candidate);
        let mut seen = Vec::new();
        for option in &candidate.options {
            let place = || format!("an option of `{key}`");
            self.index(place, "zone", option.zone, self.problem.zones.len());
            if seen.contains(&option.zone) {
                self.found.push(Fault::Twice { place: format!("zone {} of `{key}`", option.zone) });
            }
            seen.push(option.zone);
            self.range(|| format!("the worth of `{key}`"), option.worth, -1_000_000, 1_000_000);
            self.range(|| format!("the height of `{key}`"), option.height, -LARGEST, LARGEST);
            for &portions in &option.portions {
                self.range(|| format!("the portions of `{key}`"), portions, 0, LARGEST);
                let cost = portions.saturating_mul(candidate.price.unwrap_or(0));
                self.range(|| format!("the cost of `{key}`"), cost, 0, LARGEST);
            }
            for &trim in &option.trim {
                self.range(|| format!("the trimming of `{key}`"), trim, 0, LARGEST);
            }
        }
    }

    fn water(&mut self, candidate: &Candidate) {
        let (found, expected) = (candidate.water.len(), self.problem.water.len());
        if found != expected {
            let place = format!("the water of `{}`", candidate.key);
            self.found.push(Fault::Length { place, found, expected: expected.to_string() });
        }
        for &[low, high] in &candidate.water {
            self.range(|| format!("the water of `{}`", candidate.key), low, -LARGEST, LARGEST);
            self.range(|| format!("the water of `{}`", candidate.key), high, low.max(-LARGEST), LARGEST);
        }
    }

    fn rules(&mut self) {
        let rules = &self.problem.rules;
        for (name, limit) in [("budget", rules.budget), ("trimming", rules.trim)] {
            if let Some(limit) = limit {
                self.range(|| format!("the limit on {name}"), limit, 0, LARGEST * 1000);
            }
        }
        if let Some(share) = rules.fast {
            self.range(|| "the share of fast growers (denominator)".to_owned(), share.whole, 1, 1_000_000);
            self.range(|| "the share of fast growers".to_owned(), share.part, 0, share.whole.max(1));
        }
        let len = self.problem.candidates.len();
        let lists = [("musts", &rules.must), ("nevers", &rules.never), ("foreign taxa", &rules.foreign)];
        for (place, list) in lists {
            for &index in list {
                self.index(|| format!("the {place}"), "candidate", index, len);
            }
        }
        for &[a, b] in &rules.excluded {
            for index in [a, b] {
                self.index(|| "an excluded pair".to_owned(), "candidate", index, len);
            }
            if a == b {
                self.found.push(Fault::WithItself { place: "an excluded pair".to_owned() });
            }
        }
        for group in &rules.groups {
            for &index in &group.taxa {
                self.index(|| format!("the group `{}`", group.name), "candidate", index, len);
            }
            let mut taxa = group.taxa.clone();
            taxa.sort_unstable();
            if taxa.windows(2).any(|w| w[0] == w[1]) {
                self.found.push(Fault::Twice { place: format!("a taxon of the group `{}`", group.name) });
            }
        }
    }

    fn range(&mut self, place: impl FnOnce() -> String, value: i64, low: i64, high: i64) {
        if value < low || value > high {
            self.found.push(Fault::OutOfRange { place: place(), value, low, high });
        }
    }

    fn index(&mut self, place: impl FnOnce() -> String, what: &'static str, index: usize, len: usize) {
        if index >= len {
            self.found.push(Fault::NoSuch { place: place(), what, index, len });
        }
    }
}

fn as_i64(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}
