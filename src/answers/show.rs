//! All that is known of one plant.

use super::house::House;
use crate::catalogue::{Plant, TaxonId};
use crate::diagnostic::Findings;
use crate::report::view::{ShowView, show_view};
use crate::search::Areas;

/// A plant with its names, law and evidence; `None` when it is not in the library.
///
/// # Errors
/// A damaged library.
pub fn show(house: &House, taxon: &TaxonId) -> Result<Option<ShowView>, Findings> {
    let Some(plant) = house.plant(taxon)? else { return Ok(None) };
    let about = house.about(taxon)?;
    Ok(Some(show_view(&plant, about.background(), &areas(&plant))))
}

/// The native range with the names of its areas.
fn areas(plant: &Plant) -> Vec<String> {
    let areas = Areas::read();
    plant
        .native
        .iter()
        .map(|code| areas.name(code).map_or(code.clone(), |name| format!("{name} ({code})")))
        .collect()
}
