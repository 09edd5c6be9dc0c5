//! The work of one search: which scope is looked at next, and what is done with it.

use std::collections::BinaryHeap;
use std::ops::ControlFlow;
use std::rc::Rc;

use super::anneal::annealed;
use super::ascent::{Effort, Stride, ascend};
use super::board::Board;
use super::close::Close;
use super::prices::{Prices, UNIT};
use super::relax::Relaxation;
use super::rows::Rows;
use super::scope::Scope;
use super::split::{self, Sample, Split, Torn};
use super::usage::Usage;
use super::verdict::judged;
use super::zone::Subset;
use super::{Found, Goal, Picks, beam, polish, shortlist};
use crate::select::model::{FREE, Model};
use crate::select::outcome::{Progress, Watch};

/// Steps of an ascent at the root, for a slice, and after a split.
const ROOT_STEPS: u32 = 60;
const SLICE_STEPS: u32 = 300;
const SPLIT_STEPS: u32 = 60;
/// Steps from prices of a wider scope, and from those of a parent, which are nearly right.
const BOLD: Stride = Stride { first: 1.0, patience: 12 };
const CAREFUL: Stride = Stride { first: 0.6, patience: 3 };
/// Sets of each zone that a beam and a split look at.
const SAMPLE: usize = 300;
/// Prefixes a beam keeps.
const BEAM: usize = 40;
/// Splits of each sort that are probed, and the steps of a probe.
const SPLITS_OF_A_SORT: usize = 2;
const PROBE_STEPS: u32 = 40;
/// What a part that is closed lowers the bound by.
const CLOSED: i64 = i64::MAX / 8;

/// The best list of a model, as far as `watch` lets the search go.
pub(in crate::select) fn search(model: &Model, goal: &Goal, watch: &mut Watch) -> Found {
    let mut run = Run {
        model,
        relaxation: Relaxation::new(model),
        rows: Rows::new(model),
        goal,
        watch,
        best: None,
        nodes: 0,
        open: BinaryHeap::new(),
        doubted: false,
        annealed: 0,
        // With nothing to gain all bounds sit at the floor until they drop for good.
        beyond: if goal.enough.is_some() { 100.0 } else { 0.5 },
    };
    if let Some(picks) = &goal.known
        && let Some(value) = judged(model, picks, &run.rows.list)
    {
        run.best = Some((value, picks.clone()));
    }
    let flow = run.whole();
    let finished = flow.is_continue() || run.has_enough();
    let bound = match (&run.best, finished) {
        (Some((value, _)), true) => *value,
        _ => run.open.peek().map_or(i64::MAX, |n| n.bound.div_euclid(UNIT)),
    };
    Found { best: run.best, bound, nodes: run.nodes, finished }
}

/// A scope waiting for work.
pub(super) struct Node {
    pub bound: i64,
    /// The bound at its prices, which may be above what else is known.
    pub dual: i64,
    /// Later nodes first among equal bounds: it keeps the search deep and the heap small.
    number: u64,
    pub scope: Scope,
    pub prices: Rc<Prices>,
    /// What the sets of the last ascent hold.
    pub usage: Rc<Usage>,
    /// Whether its prices are its own or still its parent's.
    priced: bool,
    pub depth: u32,
}

impl PartialEq for Node {
    fn eq(&self, other: &Self) -> bool {
        (self.bound, self.number) == (other.bound, other.number)
    }
}
impl Eq for Node {}
impl PartialOrd for Node {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Node {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        (self.bound, self.number).cmp(&(other.bound, other.number))
    }
}

pub(super) struct Run<'m, 'w, 'f> {
    pub model: &'m Model,
    pub relaxation: Relaxation<'m>,
    pub rows: Rows,
    pub goal: &'m Goal,
    pub watch: &'w mut Watch<'f>,
    pub best: Option<(i64, Picks)>,
    pub nodes: u64,
    pub open: BinaryHeap<Node>,
    /// Whether it was already asked if there is any list at all.
    doubted: bool,
    pub annealed: u32,
    /// How far below the floor ascents aim, in points.
    beyond: f64,
}

impl Run<'_, '_, '_> {
    /// What a list must be worth to matter, in units.
    pub fn floor(&self) -> Option<i64> {
        let better = self.best.as_ref().map(|(value, _)| value + self.model.grain);
        better.max(self.goal.floor).map(|floor| floor * UNIT)
    }

    fn has_enough(&self) -> bool {
        let Some((value, _)) = &self.best else { return false };
        self.goal.enough.is_some_and(|enough| *value >= enough)
    }

    pub fn closed(&self, bound: i64) -> bool {
        self.floor().is_some_and(|floor| bound < floor)
    }

    fn report(&mut self, bound: i64) -> ControlFlow<()> {
        if self.has_enough() {
            return ControlFlow::Break(());
        }
        let bound = self.open.peek().map_or(bound, |n| n.bound.max(bound)).div_euclid(UNIT);
        (self.watch)(&Progress { value: self.best.as_ref().map(|b| b.0), bound, nodes: self.nodes })
    }

    fn whole(&mut self) -> ControlFlow<()> {
        self.root()?;
        self.work()
    }

    /// Prices the whole problem and opens one node for each slice.
    fn root(&mut self) -> ControlFlow<()> {
        let Some(scope) = Scope::whole(self.model) else { return ControlFlow::Continue(()) };
        let start = self.relaxation.layout.start(self.model);
        let effort = Effort { steps: ROOT_STEPS, floor: self.floor(), beyond: self.beyond, stride: BOLD };
        let Some(root) = ascend(&mut self.relaxation, &scope, &mut self.rows, &start, effort) else {
            return ControlFlow::Continue(());
        };
        let (prices, usage) = (Rc::new(root.prices), Rc::new(root.usage));
        if self.goal.enough.is_some() {
            // Where any list will do one is often at hand.
            let slices = vec![scope.slices[root.evaluation.slice]];
            self.try_beam(&Scope { zones: scope.zones.clone(), slices }, &prices);
            if self.has_enough() {
                return ControlFlow::Break(());
            }
        }
        for (&slice, &bound) in scope.slices.iter().zip(&root.by_slice) {
            let scope = Scope { zones: scope.zones.clone(), slices: vec![slice] };
            self.push(Node {
                bound,
                dual: bound,
                number: 0,
                scope,
                prices: prices.clone(),
                usage: usage.clone(),
                priced: false,
                depth: 0,
            });
        }
        ControlFlow::Continue(())
    }

    fn push(&mut self, mut node: Node) {
        if !self.closed(node.bound) {
            self.nodes += 1;
            node.number = self.nodes;
            self.open.push(node);
        }
    }

    fn work(&mut self) -> ControlFlow<()> {
        while let Some(node) = self.open.pop() {
            if self.closed(node.bound) {
                self.open.clear();
                break;
            }
            let (bound, usage) = (node.bound, node.usage.clone());
            let flow = match self.report(bound) {
                ControlFlow::Continue(()) if node.priced => self.settle(node),
                ControlFlow::Continue(()) => self.price(node),
                ControlFlow::Break(()) => ControlFlow::Break(()),
            };
            if flow.is_break() {
                // The node is unfinished business: its bound must stay in the books.
                if self.open.peek().is_none_or(|n| n.bound < bound) {
                    self.open.push(Node {
                        bound,
                        dual: bound,
                        number: 0,
                        scope: Scope { zones: Vec::new(), slices: Vec::new() },
                        prices: Rc::new(Prices::default()),
                        usage,
                        priced: true,
                        depth: 0,
                    });
                }
                return flow;
            }
        }
        ControlFlow::Continue(())
    }

    /// Gives a node prices of its own, and looks for a list where none is known or few were tried.
    fn price(&mut self, mut node: Node) -> ControlFlow<()> {
        let steps = if node.depth == 0 { SLICE_STEPS } else { SPLIT_STEPS };
        let stride = if node.depth == 0 { BOLD } else { CAREFUL };
        let effort = Effort { steps, floor: self.floor(), beyond: self.beyond, stride };
        let ascended = ascend(&mut self.relaxation, &node.scope, &mut self.rows, &node.prices, effort);
        let Some(ascended) = ascended else { return ControlFlow::Continue(()) };
        node.bound = node.bound.min(ascended.evaluation.bound);
        node.prices = Rc::new(ascended.prices);
        node.usage = Rc::new(ascended.usage);
        node.priced = true;
        if self.closed(node.bound) {
            return ControlFlow::Continue(());
        }
        if node.depth < 3 {
            self.try_beam(&node.scope, &node.prices);
        }
        if self.floor().is_none() {
            self.try_anneal(&node);
        }
        self.push(node);
        if self.best.is_none() && self.goal.floor.is_none() {
            return self.doubt();
        }
        ControlFlow::Continue(())
    }

    fn try_beam(&mut self, scope: &Scope, prices: &Prices) {
        self.relaxation.price(scope, prices, &self.rows.list);
        let lists: Vec<Vec<Subset>> = (0..self.model.zones.len())
            .map(|zone| shortlist::best_few(&self.relaxation, scope, zone, SAMPLE))
            .collect();
        let board = Board::new(&self.relaxation, scope, prices, &self.rows, &lists);
        let Some((value, picks)) = beam::beam(&board, &self.rows.list, BEAM) else { return };
        let better =
            polish::polish(&self.relaxation, &whole_zones(self.model), &self.rows.list, value, picks);
        self.take(better.0, better.1);
    }

    /// Anneals, up to a number of times; whether that gave a better list.
    fn try_anneal(&mut self, node: &Node) -> bool {
        self.relaxation.price(&node.scope, &node.prices, &self.rows.list);
        let found = annealed(&self.relaxation, &self.rows, &node.prices, &mut self.annealed);
        found.is_some_and(|(value, picks)| self.take(value, picks))
    }

    fn take(&mut self, value: i64, picks: Picks) -> bool {
        let better = self.best.as_ref().is_none_or(|(best, _)| value > *best);
        if better {
            self.best = Some((value, picks));
        }
        better
    }

    /// Asks once whether there is any list: the bound alone may sink for ever if there is none.
    fn doubt(&mut self) -> ControlFlow<()> {
        if std::mem::replace(&mut self.doubted, true) {
            return ControlFlow::Continue(());
        }
        let both = self.model.budget < FREE && self.model.trim < FREE;
        let alone: &[[bool; 2]] = if both { &[[false, true], [true, false]] } else { &[] };
        for &aims in alone.iter().chain(&[[true, true]]) {
            let (thrifty, enough) = self.model.thrifty(aims);
            let goal =
                Goal { floor: Some(enough), enough: Some(enough), known: None, patience: self.goal.patience };
            let before = self.nodes;
            let found = search(&thrifty, &goal, &mut |progress| {
                (self.watch)(&Progress { value: None, bound: i64::MAX, nodes: before + progress.nodes })
            });
            self.nodes += found.nodes;
            match found.best {
                Some((_, picks)) => {
                    if let Some(value) = judged(self.model, &picks, &self.rows.list) {
                        let scope = whole_zones(self.model);
                        let (value, picks) =
                            polish::polish(&self.relaxation, &scope, &self.rows.list, value, picks);
                        self.take(value, picks);
                        break;
                    }
                }
                None if found.finished => {
                    self.open.clear();
                    break;
                }
                None => return ControlFlow::Break(()),
            }
        }
        ControlFlow::Continue(())
    }

    /// Closes a node by joining short lists, or splits it.
    fn settle(&mut self, mut node: Node) -> ControlFlow<()> {
        let rows = self.rows.list.clone();
        let Some(evaluation) = self.relaxation.evaluate(&node.scope, &node.prices, &rows, None) else {
            return ControlFlow::Continue(());
        };
        let tops: Vec<i64> = evaluation.sets.iter().map(|s| s.value).collect();
        let dual = evaluation.bound;
        node.dual = dual;
        match self.close(&node, &tops, dual.min(node.bound))? {
            Close::Done => return ControlFlow::Continue(()),
            Close::Open(bound) => node.bound = node.bound.min(bound),
        }
        self.try_anneal(&node);
        if self.closed(node.bound) {
            return ControlFlow::Continue(());
        }
        self.relaxation.price(&node.scope, &node.prices, &self.rows.list);
        let samples: Vec<Sample> = (0..tops.len())
            .map(|zone| {
                let sets = shortlist::best_few(&self.relaxation, &node.scope, zone, SAMPLE);
                let worst = sets.iter().map(|s| s.value).min().unwrap_or(tops[zone]);
                let reach = if sets.len() < SAMPLE { i64::MAX / 8 } else { tops[zone] - worst };
                Sample { best: tops[zone], reach, sets }
            })
            .collect();
        let gap = self.floor().map_or(dual / 20, |floor| dual - floor);
        let torn = Torn { samples: &samples, usage: &node.usage, gap };
        let splits = split::promising(&self.relaxation, &node.scope, &node.prices, &torn, SPLITS_OF_A_SORT);
        for child in self.probe(&node, &splits) {
            self.push(child);
        }
        ControlFlow::Continue(())
    }

    /// The parts of the split that lowers the bound most, each priced for a few steps.
    fn probe(&mut self, node: &Node, splits: &[Split]) -> Vec<Node> {
        let mut best: Option<((i64, i64), Vec<Node>)> = None;
        for &split in splits {
            let effort =
                Effort { steps: PROBE_STEPS, floor: self.floor(), beyond: self.beyond, stride: CAREFUL };
            // The least and the most that a part lowers the bound; a part that is closed counts most.
            let mut score = (CLOSED, 0);
            let mut children = Vec::new();
            for scope in split::parts(self.model, &node.scope, split) {
                let up = ascend(&mut self.relaxation, &scope, &mut self.rows, &node.prices, effort);
                let up = up.map(|up| (up.evaluation.bound.min(node.bound), up));
                let Some((bound, up)) = up.filter(|(bound, _)| !self.closed(*bound)) else {
                    score.1 = CLOSED;
                    continue;
                };
                let drop = node.dual - up.evaluation.bound;
                score = (score.0.min(drop), score.1.max(drop));
                children.push(Node {
                    bound,
                    dual: bound,
                    number: 0,
                    scope,
                    prices: Rc::new(up.prices),
                    usage: Rc::new(up.usage),
                    priced: false,
                    depth: node.depth + 1,
                });
            }
            if best.as_ref().is_none_or(|(s, _)| score > *s) {
                best = Some((score, children));
            }
            if score.0 == CLOSED {
                break;
            }
        }
        best.map_or_else(Vec::new, |(_, children)| children)
    }
}

/// Every zone as the model has it: a better list may lie anywhere.
pub(super) fn whole_zones(model: &Model) -> Scope {
    Scope::whole(model).unwrap_or_else(|| Scope { zones: Vec::new(), slices: Vec::new() })
}
