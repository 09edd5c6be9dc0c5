//! Closes a node: lists the sets that fit between its bound and the floor, tightens, joins.

use std::ops::ControlFlow;

use super::anneal::annealed;
use super::joint::{End, Joint, Search};
use super::pairs::Pairs;
use super::prices::{Prices, UNIT};
use super::run::{Node, Run};
use super::shortlist;
use super::tune::Tuning;
use super::verdict::judged;
use super::zone::Subset;
use super::{Goal, Picks};
use crate::select::model::Model;
use crate::select::outcome::{Progress, Watch};

/// Widths tried before a node is split unseen.
const NARROWINGS: u32 = 16;

/// What closing came to.
pub(super) enum Close {
    /// Nothing above the floor is left.
    Done,
    /// Something may be left, worth no more than this.
    Open(i64),
}

impl Run<'_, '_, '_> {
    /// Looks for every list of a node above the floor, or above a higher mark when they are too
    /// many; `tops` are the zones' best at the node's prices.
    pub(super) fn close(&mut self, node: &Node, tops: &[i64], bound: i64) -> ControlFlow<(), Close> {
        let mut bound = bound;
        let mut width = node.dual - self.floor().unwrap_or(node.dual - node.dual.abs() / 30);
        for _ in 0..NARROWINGS {
            if self.closed(bound) {
                return ControlFlow::Continue(Close::Done);
            }
            let floor = self.floor();
            let mark = floor.unwrap_or(i64::MIN / 4).max(node.dual - width);
            if mark > bound {
                // Nothing new could be learnt.
                break;
            }
            let Some(lists) = self.lists(node, tops, mark) else {
                width = width / 4 * 3;
                continue;
            };
            match self.join(node, lists, mark)? {
                End::Stopped => return ControlFlow::Break(()),
                End::Spent if self.floor() == floor => break,
                End::Spent => width = width / 4 * 3,
                End::Finished => {
                    // Whatever is above the mark was found; look further down.
                    bound = bound.min(self.floor().unwrap_or(i64::MIN).max(mark) - 1);
                    width = width / 4 * 5;
                }
            }
        }
        ControlFlow::Continue(if self.closed(bound) { Close::Done } else { Close::Open(bound) })
    }

    /// Every set of every zone that a list worth `mark` can hold; `None` when they are too many.
    fn lists(&mut self, node: &Node, tops: &[i64], mark: i64) -> Option<Vec<Vec<Subset>>> {
        // An earlier join may have left the tables at prices of its own.
        self.relaxation.price(&node.scope, &node.prices, &self.rows.list);
        let (relaxation, scope) = (&self.relaxation, &node.scope);
        let (gap, most) = (node.dual - mark, self.goal.patience.longest_list);
        let within = |(zone, &top): (usize, &i64)| shortlist::within(relaxation, scope, zone, top, gap, most);
        let lists: Option<Vec<Vec<Subset>>> = tops.iter().enumerate().map(within).collect();
        let best = |sets: &Vec<Subset>| sets.iter().map(|s| s.value).max();
        debug_assert!(
            lists.iter().flatten().zip(tops).all(|(sets, &top)| gap < 0 || best(sets) == Some(top)),
            "sets are listed at other prices than their zone's best"
        );
        lists
    }

    /// Sees every list of the sets that is above the mark: at once, or with prices tuned to them.
    fn join(&mut self, node: &Node, lists: Vec<Vec<Subset>>, mark: i64) -> ControlFlow<(), End> {
        let (model, patience) = (self.model, self.goal.patience);
        let taxon = self.relaxation.taxon_price(&node.scope, &node.prices, node.scope.slices[0]);
        let mut tuning = Tuning {
            relaxation: &mut self.relaxation,
            scope: &node.scope,
            rows: &mut self.rows,
            prices: (*node.prices).clone(),
            taxon,
            lists,
            own: Vec::new(),
            fixed: 0,
        };
        tuning.price();
        let mut pairs = Pairs::new(model, &tuning.lists, &tuning.own);
        if !pairs.tighten(model, mark - tuning.fixed) {
            return ControlFlow::Continue(End::Finished);
        }
        tuning.sift(&pairs, mark);
        let bound = self.open.peek().map_or(node.bound, |n| n.bound.max(node.bound)).div_euclid(UNIT);
        let mut finder = Finder {
            model,
            goal: self.goal,
            best: &mut self.best,
            watch: &mut *self.watch,
            bound,
            nodes: &mut self.nodes,
            listed: &node.prices,
        };
        let end = finder.run(&tuning, &pairs, mark, patience.first_steps);
        if end != End::Spent {
            return ControlFlow::Continue(end);
        }
        finder.anneal(&tuning, &mut self.annealed);
        let mark = finder.floor().map_or(mark, |floor| floor.max(mark));
        if !tuning.tune(&mut pairs, mark) {
            return ControlFlow::Continue(End::Finished);
        }
        tuning.sift(&pairs, mark);
        ControlFlow::Continue(finder.run(&tuning, &pairs, mark, patience.join_steps))
    }
}

/// Runs joins and keeps the best list met.
struct Finder<'a, 'f> {
    model: &'a Model,
    goal: &'a Goal,
    best: &'a mut Option<(i64, Picks)>,
    watch: &'a mut Watch<'f>,
    /// Largest bound of all open nodes, in points.
    bound: i64,
    nodes: &'a mut u64,
    /// The prices at which the sets were listed.
    listed: &'a Prices,
}

impl Finder<'_, '_> {
    fn floor(&self) -> Option<i64> {
        self.best.as_ref().map(|(value, _)| (value + self.model.grain) * UNIT)
    }

    /// Anneals as long as that betters the best list.
    fn anneal(&mut self, tuning: &Tuning, tried: &mut u32) {
        while let Some((value, picks)) = annealed(tuning.relaxation, tuning.rows, self.listed, tried) {
            if self.best.as_ref().is_some_and(|(best, _)| value <= *best) {
                break;
            }
            *self.best = Some((value, picks));
        }
    }

    fn run(&mut self, tuning: &Tuning, pairs: &Pairs, mark: i64, steps: u64) -> End {
        let Some(joint) = Joint::new(tuning, self.listed, pairs, mark) else { return End::Spent };
        let (model, rows, bound, nodes) = (self.model, &tuning.rows.list, self.bound, *self.nodes);
        let shown = self.best.as_ref().map(|b| b.0);
        let (best, goal, watch) = (&mut *self.best, self.goal, &mut *self.watch);
        let mut search = Search {
            floor: mark,
            steps: 0,
            allowance: steps,
            accept: &mut |picks| {
                if let Some(value) = judged(model, picks, rows)
                    && best.as_ref().is_none_or(|(b, _)| value > *b)
                {
                    *best = Some((value, picks.to_vec()));
                    if goal.enough.is_some_and(|enough| value >= enough) {
                        return None;
                    }
                }
                let better = best.as_ref().map(|(value, _)| (value + model.grain) * UNIT);
                Some(better.unwrap_or(mark).max(mark))
            },
            tick: &mut |steps| {
                let progress = Progress { value: shown, bound, nodes: nodes + steps / 64 };
                watch(&progress).is_continue()
            },
        };
        let end = joint.run(&mut search);
        *self.nodes += search.steps / 64;
        end
    }
}
