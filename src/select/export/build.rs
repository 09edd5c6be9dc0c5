//! The columns of a problem and the rows of its rules.

use std::collections::BTreeMap;

use super::matrix::{Matrix, Range, Sense};
use super::{contrast, order};
use crate::select::judge::Pick;
use crate::select::problem::{Candidate, Choice, Problem};

/// A column that puts a candidate into a zone.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub zone: usize,
    pub candidate: usize,
    /// The taxa the zone then holds; `None` where that makes no difference.
    pub count: Option<usize>,
    pub column: usize,
}

/// A problem as columns and rows.
pub(super) struct Built<'p> {
    pub problem: &'p Problem,
    pub matrix: Matrix,
    pub places: Vec<Place>,
    /// `sizes[zone][k - 1]`: the zone holds `k` taxa or more.
    pub sizes: Vec<Vec<usize>>,
}

impl<'p> Built<'p> {
    pub fn new(problem: &'p Problem) -> Self {
        let mut built = Self { problem, matrix: Matrix::default(), places: Vec::new(), sizes: Vec::new() };
        for zone in 0..problem.zones.len() {
            built.zone(zone);
        }
        built.candidates();
        built.sums();
        built.lists();
        order::heights(&mut built);
        order::water(&mut built);
        contrast::add(&mut built);
        built
    }

    /// The column of a pick in a zone that holds `count` taxa.
    pub fn column(&self, pick: Pick, count: usize) -> Option<usize> {
        let fits = |p: &&Place| {
            (p.zone, p.candidate) == (pick.zone, pick.candidate) && p.count.is_none_or(|c| c == count)
        };
        self.places.iter().find(fits).map(|p| p.column)
    }

    pub fn candidate(&self, place: Place) -> (&'p Candidate, &'p Choice) {
        let candidate = &self.problem.candidates[place.candidate];
        let choice = candidate.options.iter().find(|o| o.zone == place.zone);
        (candidate, choice.expect("a place is made of an option"))
    }

    /// The columns of the places that `holds` is true of, each with factor 1.
    pub fn ones(&self, holds: impl Fn(&Place) -> bool) -> Vec<(usize, i64)> {
        self.places.iter().filter(|p| holds(p)).map(|p| (p.column, 1)).collect()
    }

    fn zone(&mut self, index: usize) {
        let zone = &self.problem.zones[index];
        let options: Vec<(usize, &Choice)> = (self.problem.candidates.iter().enumerate())
            .filter_map(|(i, c)| Some((i, c.choice_in(index)?)))
            .collect();
        let most = zone.most.min(options.len());
        // A zone may ask for more than there are options; the size it cannot reach says so.
        let width = most.max(zone.least);
        let sizes: Vec<usize> = (1..=width)
            .map(|k| self.matrix.column(&format!("size.{}.{k}", zone.name), Range::Binary))
            .collect();
        for k in 1..=zone.least.min(width) {
            self.matrix.columns[sizes[k - 1]].range = Range::Fixed(1);
        }
        for k in 1..width {
            let terms = [(sizes[k], 1), (sizes[k - 1], -1)];
            self.matrix.row(&format!("order.{}.{}", zone.name, k + 1), Sense::AtMost, 0, terms);
        }
        if width > zone.most {
            let terms: Vec<(usize, i64)> = sizes.iter().map(|&s| (s, 1)).collect();
            self.matrix.row(&format!("most.{}", zone.name), Sense::AtMost, zone.most as i64, terms);
        }
        let alike = |table: &dyn Fn(usize) -> i64| (2..=width).all(|k| table(k) == table(1));
        let uniform = options.iter().all(|(_, o)| alike(&|k| o.portions_at(k)) && alike(&|k| o.trim_at(k)));
        self.sizes.push(sizes);
        if uniform {
            self.places_of(index, &options, None);
        } else {
            (1..=width).for_each(|k| self.places_of(index, &options, Some(k)));
        }
        self.fill_zone(index, uniform, width);
    }

    fn places_of(&mut self, zone: usize, options: &[(usize, &Choice)], count: Option<usize>) {
        let rules = &self.problem.rules;
        for &(candidate, choice) in options {
            let end = count.map(|k| format!(".of{k}")).unwrap_or_default();
            let key = &self.problem.candidates[candidate].key;
            let name = format!("x.{}.{key}{end}", self.problem.zones[zone].name);
            let barred = rules.never.contains(&candidate) || rules.foreign.contains(&candidate);
            let range = if barred { Range::Fixed(0) } else { Range::Binary };
            let column = self.matrix.column(&name, range);
            self.matrix.columns[column].value = self.problem.weights.suitability * choice.worth;
            self.places.push(Place { zone, candidate, count, column });
        }
    }

    /// What stands in a zone is as many as its size says.
    fn fill_zone(&mut self, zone: usize, uniform: bool, width: usize) {
        let name = self.problem.zones[zone].name.clone();
        let sizes = self.sizes[zone].clone();
        if uniform {
            let mut terms = self.ones(|p| p.zone == zone);
            terms.extend(sizes.iter().map(|&s| (s, -1)));
            self.matrix.row(&format!("count.{name}"), Sense::Equal, 0, terms);
            return;
        }
        for k in 1..=width {
            let mut terms = self.ones(|p| p.zone == zone && p.count == Some(k));
            terms.push((sizes[k - 1], -(k as i64)));
            terms.extend(sizes.get(k).map(|&next| (next, k as i64)));
            self.matrix.row(&format!("count.{name}.{k}"), Sense::Equal, 0, terms);
        }
    }

    /// A taxon stands in one zone at most, and in one where it must.
    fn candidates(&mut self) {
        for (index, candidate) in self.problem.candidates.iter().enumerate() {
            let terms = self.ones(|p| p.candidate == index);
            if self.problem.rules.must.contains(&index) {
                self.matrix.row(&format!("must.{}", candidate.key), Sense::Equal, 1, terms);
            } else if terms.len() > 1 {
                self.matrix.row(&format!("once.{}", candidate.key), Sense::AtMost, 1, terms);
            }
        }
    }

    fn sums(&mut self) {
        let rules = &self.problem.rules;
        let weighed = |built: &Self, weight: &dyn Fn(Place, &Candidate, &Choice) -> i64| {
            let terms = built.places.iter().map(|&p| {
                let (candidate, choice) = built.candidate(p);
                (p.column, weight(p, candidate, choice))
            });
            terms.filter(|(_, factor)| *factor != 0).collect::<Vec<_>>()
        };
        if let Some(budget) = rules.budget {
            let terms = weighed(self, &|p, c, o| c.cost_at(o, p.count.unwrap_or(1)));
            self.matrix.row("budget", Sense::AtMost, budget, terms);
        }
        if let Some(trim) = rules.trim {
            let terms = weighed(self, &|p, _, o| o.trim_at(p.count.unwrap_or(1)));
            self.matrix.row("trim_minutes", Sense::AtMost, trim, terms);
        }
        if let Some(share) = rules.fast {
            let terms = weighed(self, &|_, c, _| i64::from(c.fast) * share.whole - share.part);
            self.matrix.row("fast_share", Sense::AtLeast, 0, terms);
        }
        if let Some(taxa) = rules.taxa {
            let terms = self.ones(|_| true);
            self.matrix.row("taxa", Sense::AtMost, taxa as i64, terms);
        }
    }

    fn lists(&mut self) {
        let (candidates, rules) = (&self.problem.candidates, &self.problem.rules);
        if let Some(most) = rules.per_genus {
            let mut genera: BTreeMap<u32, &str> = BTreeMap::new();
            for candidate in candidates {
                genera.entry(candidate.genus).or_insert(&candidate.key);
            }
            for (genus, of) in genera {
                let terms = self.ones(|p| candidates[p.candidate].genus == genus);
                if terms.len() > most {
                    self.matrix.row(&format!("genus_of.{of}"), Sense::AtMost, most as i64, terms);
                }
            }
        }
        for &[a, b] in &rules.excluded {
            let terms = self.ones(|p| p.candidate == a || p.candidate == b);
            let name = format!("either.{}.{}", candidates[a].key, candidates[b].key);
            self.matrix.row(&name, Sense::AtMost, 1, terms);
        }
        for (number, group) in rules.groups.iter().enumerate() {
            let terms = self.ones(|p| group.taxa.contains(&p.candidate));
            if group.least > 0 {
                let name = format!("least_of.{}.{}", number + 1, group.name);
                self.matrix.row(&name, Sense::AtLeast, group.least as i64, terms.clone());
            }
            if let Some(most) = group.most {
                let name = format!("most_of.{}.{}", number + 1, group.name);
                self.matrix.row(&name, Sense::AtMost, most as i64, terms);
            }
        }
    }
}
