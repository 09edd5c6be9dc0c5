//! The list that a command plants: a file of the person's, or the best list of `fill`.

use std::path::Path;
use std::time::Duration;

use super::output::{Failure, Output};
use super::patience::within;
use super::prices;
use crate::answers::files::read_document;
use crate::answers::{Choice, FillAsked, Filling, House, Wished, chosen_in, resolve_wishes};
use crate::diagnostic::{Finding, Findings};
use crate::tank::TankModel;

/// How long the best list is looked for.
const SEARCH: Duration = Duration::from_secs(10);

/// What a tank is planted with; with no list in `list`, what `fill` would choose.
///
/// # Errors
/// A list that is wrong, or a tank for which no list can be made: its reasons are the findings.
pub(super) fn chosen<'a>(
    list: Option<&Path>,
    tank: &Path,
    model: &TankModel,
    house: &'a House,
    output: &Output,
) -> Result<Vec<Choice<'a>>, Failure> {
    let mut notes = Findings::default();
    if let Some(path) = list {
        let choices = chosen_in(&read_document(path)?, model, house, &mut notes)?;
        output.findings(&notes);
        return Ok(choices);
    }
    let names = house.names()?;
    let wished: Wished = resolve_wishes(&model.spec, &[], &[], names)?;
    let prices = prices::load(None, tank, &model.spec, names, &mut notes)?;
    output.findings(&notes);
    let filling = Filling::new(model, house, FillAsked { wished: &wished, prices: &prices })?;
    let outcome = filling.solve(&mut within(SEARCH))?;
    if outcome.answer().is_some() {
        return Ok(in_house(&filling.chosen(&outcome), house)?);
    }
    let mut reasons = Findings::default();
    reasons.push(Finding::error("there is no list to plant: none meets the demands of the tank file"));
    for reason in filling.view(&outcome).impossible {
        reasons.push(Finding::error(reason));
    }
    Err(Failure::Answer(reasons))
}

/// The same plants as the library keeps them, so that they outlive the search.
fn in_house<'a>(choices: &[Choice<'_>], house: &'a House) -> Result<Vec<Choice<'a>>, Findings> {
    let plants = house.plants()?;
    let own = |c: &Choice<'_>| {
        let plant = plants.iter().find(|p| p.id == c.plant.id)?;
        Some(Choice { plant, ..*c })
    };
    Ok(choices.iter().filter_map(own).collect())
}
