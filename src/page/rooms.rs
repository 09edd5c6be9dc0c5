//! The open library, and what the page asks of it: the questions of `answers`, put for one tank.

use std::collections::BTreeSet;
use std::ops::ControlFlow;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, PoisonError, RwLock};
use std::time::{Duration, Instant};

use super::desk::{Desk, Names};
use super::fault::Fault;
use crate::answers::files::read_document;
use crate::answers::{
    self, CalendarAsked, CheckAsked, Choice, FillAsked, Filling, FindAsked, House, Listed, PlanAsked, Prices,
    SheetAsked, Wished, Written, resolve_list, resolve_wishes,
};
use crate::catalogue::{LegalStanding, TaxonId};
use crate::diagnostic::{Document, Finding, Findings};
use crate::planting::{Chosen, Density, Planting};
use crate::report::view::{
    CalendarView, CheckView, FillView, FindView, GrowView, PictureView, PlanView, ShowView, TankReportView,
    tank_report_view,
};
use crate::select::{Ask, Progress};
use crate::tank::TankModel;
use crate::units::{Length, UnitSystem};

/// Taxa of every better list that a further one does without, as on the command line.
const DIFFER: usize = 2;

/// The open library, and the price list that the tank file named when it was read.
#[derive(Debug)]
pub struct Rooms {
    house: House,
    prices: RwLock<Arc<Prices>>,
}

/// A tank as computed, with what is doubtful about it.
#[derive(Debug)]
pub(super) struct TankAnswer {
    pub view: TankReportView,
    pub warnings: Findings,
}

/// A list, and what is said of each plant on it.
#[derive(Debug)]
pub(super) struct FillAnswer {
    pub view: FillView,
    /// The chosen plants judged as a wish list; `None` when there is no list.
    pub check: Option<CheckView>,
    /// Key and name of what must, and what must not, be on the list.
    pub must: Vec<(String, String)>,
    pub never: Vec<(String, String)>,
}

/// A list with what comes of it; nothing comes of none.
#[derive(Debug)]
pub(super) struct SheetAnswer {
    pub list: FillAnswer,
    pub later: Option<(GrowView, CalendarView)>,
}

/// A tank with its solution.
struct Solved<'a> {
    model: &'a TankModel,
    wished: &'a Wished,
    prices: &'a Prices,
    view: FillView,
    chosen: Vec<Choice<'a>>,
}

impl Solved<'_> {
    /// The list to plant; why there is none.
    fn planted(&self) -> Result<&[Choice<'_>], Fault> {
        if !self.chosen.is_empty() {
            return Ok(&self.chosen);
        }
        let mut reasons = Findings::default();
        reasons.push(Finding::error("there is no list to plant: none meets the demands of the tank file"));
        for reason in &self.view.impossible {
            reasons.push(Finding::error(reason.clone()));
        }
        Err(Fault::tank(reasons))
    }
}

/// What is asked of a list.
#[derive(Debug, Clone)]
pub(super) struct FillQuestion {
    /// How many further lists.
    pub alternatives: usize,
    pub keep: Vec<String>,
    pub without: Vec<String>,
    pub limit: Duration,
    /// Set when nobody waits for the answer any more.
    pub stop: Arc<AtomicBool>,
}

fn inside(findings: Findings) -> Fault {
    Fault::inside(findings)
}

impl Rooms {
    /// The rooms around an open library, without prices.
    pub fn new(house: House) -> Self {
        Self { house, prices: RwLock::new(Arc::new(Prices::default())) }
    }

    /// Reads the price list that the tank file names, as it stands on disk; what cannot be read
    /// leaves the tank without prices.
    ///
    /// # Errors
    /// A list that cannot be read.
    pub fn read_prices(&self, desk: &Desk) -> Result<(), Findings> {
        let read = desk.price_list().map(|path| self.read_price_list(&path)).transpose();
        let fresh = read.as_ref().ok().cloned().flatten().unwrap_or_default();
        *self.prices.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(fresh);
        read.map(drop)
    }

    fn read_price_list(&self, path: &Path) -> Result<Prices, Findings> {
        Prices::read(&read_document(path)?, self.house.names()?, &mut Findings::default())
    }

    fn model(&self, document: &Arc<Document>) -> Result<(TankModel, Findings), Fault> {
        let mut notes = Findings::default();
        let spec = answers::read_tank(document, &mut notes).map_err(Fault::tank)?;
        let model = answers::compute(&spec, &self.house, &mut notes).map_err(Fault::tank)?;
        Ok((model, notes))
    }

    fn planted(&self, document: &Arc<Document>, to: &str) -> Result<TankModel, Fault> {
        let (model, _) = self.model(document)?;
        if model.spec.zones.is_empty() {
            let finding = Finding::error(format!("the tank has no zone to {to}"));
            return Err(Fault::tank(finding.expected("a zone for each part of the layout").into()));
        }
        Ok(model)
    }

    /// The tank with the light in cells of this size.
    pub(super) fn tank(&self, document: &Arc<Document>, cell_cm: f64) -> Result<TankAnswer, Fault> {
        let (model, warnings) = self.model(document)?;
        let map = model.bed_light_in(Length::from_cm(cell_cm));
        Ok(TankAnswer { view: tank_report_view(&model, &map), warnings })
    }

    /// Solves the tank and goes on with what came out.
    fn solved<T>(
        &self,
        document: &Arc<Document>,
        question: &FillQuestion,
        then: impl FnOnce(&Solved<'_>) -> Result<T, Fault>,
    ) -> Result<T, Fault> {
        let model = self.planted(document, "fill")?;
        let names = self.house.names().map_err(inside)?;
        let wished =
            resolve_wishes(&model.spec, &question.keep, &question.without, names).map_err(Fault::tank)?;
        let prices = Arc::clone(&self.prices.read().unwrap_or_else(PoisonError::into_inner));
        let asked = FillAsked { wished: &wished, prices: &prices };
        let filling = Filling::new(&model, &self.house, asked).map_err(inside)?;
        let outcome = filling.solve(&mut question.watch()).map_err(Fault::tank)?;
        let mut view = filling.view(&outcome);
        if let (Some(best), true) = (outcome.answer(), question.alternatives > 0) {
            let ask = Ask { count: question.alternatives, differ: DIFFER };
            let further = filling.alternatives(best, ask, &mut question.watch());
            view.alternatives = further.map_err(Fault::tank)?;
        }
        then(&Solved {
            model: &model,
            wished: &wished,
            prices: &prices,
            view,
            chosen: filling.chosen(&outcome),
        })
    }

    /// The best list for the tank.
    pub(super) fn fill(
        &self,
        document: &Arc<Document>,
        question: &FillQuestion,
    ) -> Result<FillAnswer, Fault> {
        self.solved(document, question, |solved| self.fill_answer(solved))
    }

    fn fill_answer(&self, solved: &Solved<'_>) -> Result<FillAnswer, Fault> {
        let listed: Vec<Listed> = solved
            .chosen
            .iter()
            .map(|c| Listed { taxon: c.plant.id.clone(), written: c.plant.display_name() })
            .collect();
        let check = match listed.as_slice() {
            [] => None,
            listed => Some(self.judged(solved.model, listed)?),
        };
        let [must, never] = self.wishes(solved.wished)?;
        Ok(FillAnswer { view: solved.view.clone(), check, must, never })
    }

    /// How the best list grows in.
    pub(super) fn grow(
        &self,
        document: &Arc<Document>,
        question: &FillQuestion,
        weeks: u32,
    ) -> Result<GrowView, Fault> {
        self.solved(document, question, |solved| {
            answers::grow(solved.model, solved.planted()?, weeks).map_err(Fault::tank)
        })
    }

    /// What to do when, for the best list.
    pub(super) fn calendar(
        &self,
        document: &Arc<Document>,
        question: &FillQuestion,
        asked: &CalendarAsked,
    ) -> Result<CalendarView, Fault> {
        self.solved(document, question, |solved| {
            answers::calendar(solved.model, solved.planted()?, asked).map_err(Fault::tank)
        })
    }

    /// What the best list looks like after so many weeks, with lines of equal light or without.
    pub(super) fn picture(
        &self,
        document: &Arc<Document>,
        question: &FillQuestion,
        (week, light): (u32, bool),
    ) -> Result<PictureView, Fault> {
        self.solved(document, question, |solved| {
            let (planting, _) = self.planned(solved)?;
            let mut drawn = answers::pictures(solved.model, &planting, &solved.chosen, &[week], light);
            drawn.pop().ok_or_else(|| Fault::tank(Finding::error("there is nothing to draw").into()))
        })
    }

    /// Who stands where, and what to buy for it.
    fn planned(&self, solved: &Solved<'_>) -> Result<(Planting, PlanView), Fault> {
        let list = solved.planted()?.iter();
        let list: Vec<Chosen<'_>> =
            list.map(|c| Chosen { plant: c.plant, zone: c.zone, share: c.share }).collect();
        let asked = PlanAsked { chosen: &list, density: Density::default(), prices: solved.prices };
        answers::plan(solved.model, &self.house, asked).map_err(Fault::tank)
    }

    /// The plan of the best list as a view.
    pub(super) fn plan(&self, document: &Arc<Document>, question: &FillQuestion) -> Result<PlanView, Fault> {
        self.solved(document, question, |solved| Ok(self.planned(solved)?.1))
    }

    /// A file of the project sheet, as the command line writes it; `None` when it has none of that name.
    pub(super) fn sheet_file(
        &self,
        document: &Arc<Document>,
        question: &FillQuestion,
        (calendar, weeks, units): (Option<&CalendarAsked>, u32, UnitSystem),
        name: &str,
    ) -> Result<Option<Vec<u8>>, Fault> {
        self.solved(document, question, |solved| {
            let (planting, plan) = self.planned(solved)?;
            let (planting, list, pictured) = (&planting, solved.planted()?, &[0, weeks]);
            let asked = SheetAsked { planting, pictured, list, calendar, weeks, units };
            let parts =
                answers::sheet(solved.model, &plan, &asked, &mut Findings::default()).map_err(Fault::tank)?;
            Ok(parts.into_iter().find(|part| part.name == name).map(|part| part.bytes))
        })
    }

    /// Everything that is printed: the list, its growth and its calendar.
    pub(super) fn sheet(
        &self,
        document: &Arc<Document>,
        question: &FillQuestion,
        asked: &CalendarAsked,
        weeks: u32,
    ) -> Result<SheetAnswer, Fault> {
        self.solved(document, question, |solved| {
            let list = self.fill_answer(solved)?;
            let Ok(chosen) = solved.planted() else { return Ok(SheetAnswer { list, later: None }) };
            let grow = answers::grow(solved.model, chosen, weeks).map_err(Fault::tank)?;
            let calendar = answers::calendar(solved.model, chosen, asked).map_err(Fault::tank)?;
            Ok(SheetAnswer { list, later: Some((grow, calendar)) })
        })
    }

    fn wishes(&self, wished: &Wished) -> Result<[Vec<(String, String)>; 2], Fault> {
        let named = |taxa: &BTreeSet<TaxonId>| -> Result<Vec<(String, String)>, Fault> {
            let plants = self.house.plants().map_err(inside)?;
            let named = plants.iter().filter(|p| taxa.contains(&p.id));
            Ok(named.map(|p| (p.id.0.clone(), p.display_name())).collect())
        };
        Ok([named(&wished.must)?, named(&wished.never)?])
    }

    fn judged(&self, model: &TankModel, listed: &[Listed]) -> Result<CheckView, Fault> {
        let asked = CheckAsked { listed, explain: None, inputs: false };
        answers::check(model, &self.house, asked).map_err(inside)
    }

    /// Plants, by any of their names, against the tank.
    pub(super) fn check(&self, document: &Arc<Document>, plants: &[&str]) -> Result<CheckView, Fault> {
        let names = self.house.names().map_err(inside)?;
        let written = plants.iter().map(|name| Written::bare(name)).collect();
        let listed = resolve_list(written, names).map_err(Fault::tank)?;
        let model = self.planted(document, "plant")?;
        self.judged(&model, &listed)
    }

    /// One plant against the tank, by its key; `None` when the tank cannot be computed.
    pub(super) fn check_alone(&self, document: &Arc<Document>, taxon: &str) -> Option<CheckView> {
        let plant = self.house.plant(&TaxonId(taxon.to_owned())).ok().flatten()?;
        let model = self.planted(document, "plant").ok()?;
        let listed = [Listed { written: plant.display_name(), taxon: plant.id }];
        self.judged(&model, &listed).ok()
    }

    /// Plants by words, facets and ranges.
    pub(super) fn find(&self, asked: &FindAsked) -> Result<FindView, Fault> {
        answers::find(&self.house, asked).map_err(|findings| {
            let first = findings.iter().next().cloned();
            first.map_or_else(|| Fault::inside(findings), Fault::question)
        })
    }

    /// All that is known of a plant, by its key or a name.
    pub(super) fn show(&self, name: &str) -> Result<ShowView, Fault> {
        let key = TaxonId(name.to_owned());
        if let Some(view) = answers::show(&self.house, &key).map_err(inside)? {
            return Ok(view);
        }
        let taxon = self.house.names().map_err(inside)?.resolve(name).map_err(Fault::missing)?;
        let view = answers::show(&self.house, &taxon).map_err(inside)?;
        view.ok_or_else(|| {
            Fault::missing(Finding::error(format!("`{name}` is not a plant of the catalogue")))
        })
    }

    /// Keys of the lamp spectra.
    pub(super) fn spectra(&self) -> Result<Vec<String>, Fault> {
        let spectra = self.house.spectra().map_err(inside)?;
        Ok(spectra.iter().map(|s| s.key.clone()).collect())
    }

    /// Places whose laws are carried.
    pub(super) fn places(&self) -> Result<Vec<String>, Fault> {
        let legal = self.house.legal().map_err(inside)?;
        let binding = legal.iter().filter(|l| l.standing != LegalStanding::Register);
        let places: BTreeSet<String> = binding.map(|l| l.jurisdiction.clone()).collect();
        Ok(places.into_iter().collect())
    }

    /// The names of plants, for edits of the tank file.
    pub(super) fn names(&self) -> Result<Known<'_>, Fault> {
        self.house.names().map_err(inside)?;
        Ok(Known(&self.house))
    }
}

impl FillQuestion {
    /// Ends a search when its time is over or nobody waits for it.
    fn watch(&self) -> impl FnMut(&Progress) -> ControlFlow<()> {
        let (started, limit, stop) = (Instant::now(), self.limit, Arc::clone(&self.stop));
        move |_: &Progress| {
            let ended = started.elapsed() > limit || stop.load(Ordering::Relaxed);
            if ended { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        }
    }
}

/// The names of the library.
pub(super) struct Known<'a>(&'a House);

impl Names for Known<'_> {
    fn taxon(&self, written: &str) -> Option<String> {
        self.0.names().ok()?.resolve(written).ok().map(|t| t.0)
    }

    fn written(&self, taxon: &str) -> Option<String> {
        let plant = self.0.plant(&TaxonId(taxon.to_owned())).ok().flatten()?;
        Some(plant.display_name())
    }
}
