//! `check`: a wish list against a tank, a verdict each.

use super::Answer;
use super::args::{CheckArgs, Format, Global};
use super::fill::barred;
use super::house::House;
use super::list::{Listed, read_lists};
use super::output::{Failure, Output};
use super::tank::{compute, read_tank, unprintable};
use crate::catalogue::{LegalEntry, Plant};
use crate::diagnostic::Finding;
use crate::fit::{Spot, Verdict, ZoneConditions, best_spot};
use crate::report::text::{self, Page};
use crate::report::view::{CheckView, WishView, cautions, flags, judged, left_out, tank_view};
use crate::report::{csv, json};

pub(super) fn run(args: &CheckArgs, global: &Global, output: &mut Output) -> Result<Answer, Failure> {
    let spec = read_tank(&args.tank, output)?;
    let house = House::open(global, output)?;
    let listed = read_lists(&args.wishes, &house.resolver()?)?;
    if spec.zones.is_empty() {
        return Err(Finding::error(format!("`{}` has no [[zone]] to plant", args.tank.display())).into());
    }
    let model = compute(&spec, &house)?;
    let (plants, legal) = (house.plants()?, house.legal()?);
    let wishes = wishes(&listed, &plants);
    let conditions = ZoneConditions::all(&model);
    let barred = barred(&legal, &spec.jurisdictions);
    let mut views: Vec<WishView> = wishes
        .iter()
        .map(|wish| {
            let spot = best_spot(wish.plant, &conditions);
            let laws: Vec<&LegalEntry> = legal.iter().filter(|l| l.taxon == wish.plant.id).collect();
            let flags = flags(wish.plant, &laws, &spec.jurisdictions);
            wish_view(wish, &spot, &conditions, flags, barred.contains(&wish.plant.id))
        })
        .collect();
    views.sort_by(|a, b| {
        let key = |v: &WishView| (!v.barred, v.judged.suitability);
        let (a_key, b_key) = (key(a), key(b));
        a_key.0.cmp(&b_key.0).then(a_key.1.total_cmp(&b_key.1)).then(a.judged.taxon.cmp(&b.judged.taxon))
    });
    let chosen: Vec<&Plant> = wishes.iter().map(|w| w.plant).collect();
    let misfits = views.iter().filter(|v| !v.fits).count();
    let view = CheckView {
        tank: tank_view(&model),
        misfits,
        wishes: views,
        cautions: cautions(&model, &chosen),
        left_out: left_out(),
    };
    output.data(&render(&view, global, output)?)?;
    Ok(if misfits == 0 { Answer::Yes } else { Answer::No })
}

fn render(view: &CheckView, global: &Global, output: &Output) -> Result<String, Failure> {
    match global.format {
        Format::Text => {
            let mut page = Page::new(output.width(), global.units.system());
            text::check(&mut page, view);
            Ok(page.finish())
        }
        Format::Json => json::json(view).map_err(unprintable),
        Format::Csv => csv::check(view).map_err(unprintable),
    }
}

/// A taxon of the list, with every name it was wished by.
struct Wish<'a> {
    plant: &'a Plant,
    written: Vec<String>,
}

/// One wish a taxon, in the order of the list.
fn wishes<'a>(listed: &[Listed], plants: &'a [Plant]) -> Vec<Wish<'a>> {
    let mut wishes: Vec<Wish<'a>> = Vec::new();
    for item in listed {
        if let Some(wish) = wishes.iter_mut().find(|w| w.plant.id == item.taxon) {
            wish.written.push(item.written.clone());
        } else if let Some(plant) = plants.iter().find(|p| p.id == item.taxon) {
            wishes.push(Wish { plant, written: vec![item.written.clone()] });
        }
    }
    wishes
}

fn wish_view(
    wish: &Wish<'_>,
    spot: &Spot,
    conditions: &[ZoneConditions],
    flags: Vec<String>,
    barred: bool,
) -> WishView {
    let grows = spot.assessment.verdict() >= Verdict::Grows;
    WishView {
        written: wish.written.clone(),
        zone: spot.zone,
        judged: judged(wish.plant, &spot.assessment, &conditions[spot.zone], flags),
        barred,
        fits: grows && !barred,
    }
}
