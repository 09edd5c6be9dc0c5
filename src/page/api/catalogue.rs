//! Plants: looked for, shown, judged in the tank.

use axum::extract::{Path, State};
use axum::http::{HeaderMap, Uri};
use axum::response::Response;

use super::respond;
use crate::answers::FindAsked;
use crate::page::asked::Asked;
use crate::page::fault::Fault;
use crate::page::html::{catalogue as drawn, list, plant as of_plant};
use crate::page::shared::{App, Shared, work};
use crate::report::view::{FindView, FoundView};
use crate::search::Facet;

/// The names that a question to the catalogue may have.
pub(in crate::page) const FIND_ASKS: &[&str] = &[
    "words",
    "placement",
    "growthForm",
    "light",
    "gas",
    "growth",
    "footing",
    "feeding",
    "colour",
    "texture",
    "family",
    "native",
    "law",
    "jurisdiction",
    "height",
    "ppfd",
    "temperature",
    "ph",
    "gh",
    "kh",
    "sort",
    "limit",
    "offset",
];
const RANGES: [&str; 6] = ["height", "ppfd", "temperature", "ph", "gh", "kh"];
/// Plants looked through when they are sorted, and passed over, at most.
const MOST: usize = 1_000_000;
/// Plants of one check, at most.
const MOST_CHECKED: usize = 100;

/// Plants by words, facets and ranges.
pub(in crate::page) fn find_view(shared: &Shared, asked: &Asked) -> Result<FindView, Fault> {
    let (limit, offset) = (asked.limit()?, asked.whole("offset", MOST)?.unwrap_or(0));
    let texts = |name: &str| asked.all(name).map(str::to_owned).collect::<Vec<String>>();
    let facets = Facet::ALL.iter().flat_map(|f| asked.all(f.word()).map(move |v| format!("{f}={v}")));
    let ranges = RANGES.iter().flat_map(|r| asked.all(r).map(move |v| format!("{r}={v}")));
    let mut question = FindAsked {
        words: texts("words"),
        jurisdiction: texts("jurisdiction"),
        facet: facets.collect(),
        range: ranges.collect(),
        limit,
        offset,
        ..FindAsked::default()
    };
    let Some(order) = asked.one("sort") else { return shared.rooms.find(&question) };
    let sorted = order_of(order)?;
    (question.limit, question.offset) = (MOST, 0);
    let mut view = shared.rooms.find(&question)?;
    view.hits.sort_by(sorted);
    view.hits = view.hits.into_iter().skip(offset).take(limit).collect();
    view.offset = offset;
    Ok(view)
}

type Order = fn(&FoundView, &FoundView) -> std::cmp::Ordering;

fn order_of(word: &str) -> Result<Order, Fault> {
    match word {
        "name" => Ok(|a, b| a.name.cmp(&b.name)),
        "height" => Ok(|a, b| a.height_max_cm.total_cmp(&b.height_max_cm).then_with(|| a.name.cmp(&b.name))),
        "light" => Ok(|a, b| light_rank(a).cmp(&light_rank(b)).then_with(|| a.name.cmp(&b.name))),
        other => {
            let finding = crate::diagnostic::Finding::error(format!("`{other}` is not an order"));
            Err(Fault::question(finding.expected("one of: name, height, light")))
        }
    }
}

fn light_rank(hit: &FoundView) -> Option<usize> {
    Facet::Light.words().iter().position(|w| *w == hit.light)
}

pub(super) async fn find(State(app): State<App>, uri: Uri, headers: HeaderMap) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, FIND_ASKS)?;
    let question = asked.clone();
    let view = work(&app, move |shared| find_view(shared, &question)).await?;
    respond(&headers, &view, |view| drawn::found(view, &asked, asked.look()))
}

pub(super) async fn plant(
    State(app): State<App>,
    uri: Uri,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, &[])?;
    let (view, tank) = work(&app, move |shared| {
        let view = shared.rooms.show(&name)?;
        let document = shared.desk().document();
        let tank = shared.rooms.check_alone(&document, &view.taxon);
        Ok((view, tank))
    })
    .await?;
    respond(&headers, &view, |view| of_plant::here(view, tank.as_ref(), asked.look()))
}

pub(super) async fn check(State(app): State<App>, uri: Uri, headers: HeaderMap) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, &["plants"])?;
    let question = asked.clone();
    let view = work(&app, move |shared| {
        let plants: Vec<&str> = question
            .all("plants")
            .flat_map(|p| p.split(','))
            .map(str::trim)
            .filter(|p| !p.is_empty())
            .collect();
        if plants.len() > MOST_CHECKED {
            let finding = crate::diagnostic::Finding::error(format!("{} plants at once", plants.len()));
            return Err(Fault::question(finding.expected(format!("at most {MOST_CHECKED}"))));
        }
        let document = shared.desk().document();
        shared.rooms.check(&document, &plants)
    })
    .await?;
    respond(&headers, &view, |view| list::checked(view, asked.look()))
}
