//! The description of the interface, OpenAPI 3.1, made from the same types that are answered.

use std::sync::LazyLock;

use axum::http::header;
use axum::response::{IntoResponse, Response};
use schemars::generate::{SchemaGenerator, SchemaSettings};
use serde_json::{Map, Value, json};

use super::desk::{DeskView, EditBody, StepBody, TextView};
use crate::page::fault::FaultView;
use crate::report::view::{
    CalendarView, CheckView, FillView, FindView, GrowView, PlanView, ShowView, TankReportView,
};

/// What an operation answers with when all is well.
#[derive(Clone, Copy)]
enum Answers {
    /// A view, also drawn for the page.
    View(&'static str),
    /// A view that is not drawn.
    Json(&'static str),
    /// A file of this type.
    File(&'static str),
}

/// One way to ask.
struct Operation {
    method: &'static str,
    path: &'static str,
    id: &'static str,
    summary: &'static str,
    /// Name, schema and description of what may stand in the query.
    query: &'static [(&'static str, Ask, &'static str)],
    /// The schema of the body.
    body: Option<&'static str>,
    answers: Answers,
    /// Further statuses than 200 and 400.
    faults: &'static [u16],
}

/// The kinds of values in a query.
#[derive(Clone, Copy)]
enum Ask {
    Text,
    Texts,
    Whole(u64, u64),
    Number(f64, f64),
    OneOf(&'static [&'static str]),
}

const UNITS: (&str, Ask, &str) = ("units", Ask::OneOf(&["metric", "us"]), "units of what is drawn");
const CELL: (&str, Ask, &str) = ("cell", Ask::Number(0.5, 20.0), "size of a cell of the map in cm");
const SECONDS: (&str, Ask, &str) = ("seconds", Ask::Number(0.0, 60.0), "seconds to search at most");
const KEEP: (&str, Ask, &str) = ("keep", Ask::Texts, "plants that must be on the list as well");
const WITHOUT: (&str, Ask, &str) = ("without", Ask::Texts, "plants that must not be on the list as well");
const FURTHER: (&str, Ask, &str) = ("alternatives", Ask::Whole(0, 10), "how many further lists");
const TANK: &[u16] = &[422];
const STEP: &[u16] = &[409, 413, 415, 422];

const OPERATIONS: &[Operation] = &[
    get("/api/desk", "desk", "How the tank on the desk stands", &[UNITS], Answers::View("DeskView"), &[]),
    get("/api/desk/fields", "fields", "The text of the tank file", &[UNITS], Answers::View("TextView"), &[]),
    get(
        "/api/desk/tank.toml",
        "tankFile",
        "The tank file to keep",
        &[UNITS],
        Answers::File("application/toml"),
        &[],
    ),
    post("/api/desk/edit", "edit", "Changes the tank", "EditBody", Answers::View("DeskView")),
    post(
        "/api/desk/try",
        "try",
        "What a change would make of the tank",
        "EditBody",
        Answers::View("TankReportView"),
    ),
    post("/api/desk/undo", "undo", "Takes the last step back", "StepBody", Answers::View("DeskView")),
    post(
        "/api/desk/redo",
        "redo",
        "Makes the step that was taken back",
        "StepBody",
        Answers::View("DeskView"),
    ),
    post("/api/desk/save", "save", "Writes the tank to its file", "StepBody", Answers::View("DeskView")),
    post("/api/desk/reload", "reload", "Reads the file anew", "StepBody", Answers::View("DeskView")),
    get("/api/tank", "tank", "The tank as computed", &[CELL, UNITS], Answers::View("TankReportView"), TANK),
    get(
        "/api/tank/light.svg",
        "lightMap",
        "The light on the bed, drawn to scale",
        &[CELL, UNITS],
        Answers::File("image/svg+xml"),
        TANK,
    ),
    get(
        "/api/tank/tank.csv",
        "tankTable",
        "The zones of the tank as a table",
        &[CELL, UNITS],
        Answers::File("text/csv"),
        TANK,
    ),
    get("/api/find", "find", "Plants by words, facets and ranges", FIND, Answers::View("FindView"), &[]),
    get(
        "/api/plants/{taxon}",
        "plant",
        "All that is known of a plant",
        &[UNITS],
        Answers::View("ShowView"),
        &[404],
    ),
    get(
        "/api/check",
        "check",
        "Plants against the tank",
        &[("plants", Ask::Texts, "names; commas between several"), UNITS],
        Answers::View("CheckView"),
        TANK,
    ),
    get(
        "/api/fill",
        "fill",
        "The best list for the tank",
        &[SECONDS, KEEP, WITHOUT, FURTHER, UNITS],
        Answers::View("FillView"),
        TANK,
    ),
    get(
        "/api/fill/list.csv",
        "fillTable",
        "The best list as a table",
        &[SECONDS, KEEP, WITHOUT, FURTHER, UNITS],
        Answers::File("text/csv"),
        TANK,
    ),
    get("/api/grow", "grow", "How the best list grows in", LATER, Answers::View("GrowView"), TANK),
    get("/api/plan", "planView", "Who stands where and what to buy", PLAN, Answers::Json("PlanView"), TANK),
    get(
        "/api/plan/shopping.csv",
        "shoppingTable",
        "What to buy as a table",
        PLAN,
        Answers::File("text/csv"),
        TANK,
    ),
    get(
        "/api/plan/sheet.html",
        "projectSheet",
        "The page of the project sheet; with a day of planting, its calendar too",
        DATED,
        Answers::File("text/html"),
        TANK,
    ),
    get(
        "/api/plan.svg",
        "plan",
        "The planted tank from above",
        PICTURE,
        Answers::File("image/svg+xml"),
        TANK,
    ),
    get(
        "/api/front.svg",
        "front",
        "The planted tank from the front",
        PICTURE,
        Answers::File("image/svg+xml"),
        TANK,
    ),
    get(
        "/api/grow/growth.svg",
        "growChart",
        "Growth as a chart",
        LATER,
        Answers::File("image/svg+xml"),
        TANK,
    ),
    get("/api/grow/growth.csv", "growTable", "Growth as a table", LATER, Answers::File("text/csv"), TANK),
    get("/api/calendar", "calendar", "What to do when", DATED, Answers::View("CalendarView"), TANK),
    get(
        "/api/calendar/calendar.ics",
        "calendarFile",
        "The same for calendar programs",
        DATED,
        Answers::File("text/calendar"),
        TANK,
    ),
];

const WEEKS: (&str, Ask, &str) = ("weeks", Ask::Whole(1, 26), "how many weeks");
const START: (&str, Ask, &str) = ("start", Ask::Text, "the day of planting, such as 2027-01-09");
const ZONE: (&str, Ask, &str) = ("zone", Ask::Text, "time zone, such as Europe/Berlin");
const LIGHTS_ON: (&str, Ask, &str) = ("lights_on", Ask::Text, "when the light comes on, such as 12:00");
const LATER: &[(&str, Ask, &str)] = &[WEEKS, SECONDS, KEEP, WITHOUT, UNITS];
const WEEK: (&str, Ask, &str) = ("week", Ask::Whole(0, 26), "weeks since planting");
const PICTURE: &[(&str, Ask, &str)] = &[WEEK, SECONDS, KEEP, WITHOUT, UNITS];
const PLAN: &[(&str, Ask, &str)] = &[SECONDS, KEEP, WITHOUT, UNITS];
const DATED: &[(&str, Ask, &str)] = &[START, ZONE, LIGHTS_ON, WEEKS, SECONDS, KEEP, WITHOUT, UNITS];

const FIND: &[(&str, Ask, &str)] = &[
    ("words", Ask::Text, "names, families, looks"),
    ("placement", Ask::Texts, "place in the layout"),
    ("growthForm", Ask::Texts, "habit"),
    ("light", Ask::Texts, "need of light"),
    ("gas", Ask::Texts, "need of gas"),
    ("growth", Ask::Texts, "how fast it grows"),
    ("footing", Ask::Texts, "what it holds on to"),
    ("feeding", Ask::Texts, "where it takes nutrients from"),
    ("colour", Ask::Texts, "colour of the foliage"),
    ("texture", Ask::Texts, "look of the foliage"),
    ("family", Ask::Texts, "family"),
    ("native", Ask::Texts, "native area, by WGSRPD code or name"),
    ("law", Ask::Texts, "place whose law names it"),
    ("jurisdiction", Ask::Texts, "leave out what a law of this place restricts"),
    ("height", Ask::Text, "a range in cm, such as 3..10"),
    ("ppfd", Ask::Text, "a range in µmol/m²/s"),
    ("temperature", Ask::Text, "a range in °C"),
    ("ph", Ask::Text, "a range of pH"),
    ("gh", Ask::Text, "a range in dGH"),
    ("kh", Ask::Text, "a range in dKH"),
    ("sort", Ask::OneOf(&["name", "height", "light"]), "another order than the best match"),
    ("limit", Ask::Whole(0, 1000), "how many to show"),
    ("offset", Ask::Whole(0, 1_000_000), "how many to pass over"),
    UNITS,
];

const fn get(
    path: &'static str,
    id: &'static str,
    summary: &'static str,
    query: &'static [(&'static str, Ask, &'static str)],
    answers: Answers,
    faults: &'static [u16],
) -> Operation {
    Operation { method: "get", path, id, summary, query, body: None, answers, faults }
}

const fn post(
    path: &'static str,
    id: &'static str,
    summary: &'static str,
    body: &'static str,
    answers: Answers,
) -> Operation {
    Operation { method: "post", path, id, summary, query: &[UNITS], body: Some(body), answers, faults: STEP }
}

static DESCRIPTION: LazyLock<String> = LazyLock::new(|| {
    let mut text = serde_json::to_string_pretty(&description()).unwrap_or_default();
    text.push('\n');
    text
});

/// Answers with the description.
pub(super) async fn serve() -> Response {
    ([(header::CONTENT_TYPE, "application/json")], DESCRIPTION.as_str()).into_response()
}

fn description() -> Value {
    let mut paths: Map<String, Value> = Map::new();
    for operation in OPERATIONS {
        let item = paths.entry(operation.path).or_insert_with(|| json!({}));
        item[operation.method] = described(operation);
    }
    json!({
        "openapi": "3.1.0",
        "jsonSchemaDialect": "https://json-schema.org/draft/2020-12/schema",
        "info": {
            "title": "Quillwort",
            "version": env!("CARGO_PKG_VERSION"),
            "summary": "A planted freshwater tank on this machine: its light, carbon and water, and the plants that grow in it.",
            "license": { "name": "MIT OR Apache-2.0", "identifier": "MIT OR Apache-2.0" }
        },
        "servers": [{ "url": "/", "description": "this program, on loopback" }],
        "paths": paths,
        "components": { "schemas": schemas() }
    })
}

fn schemas() -> Value {
    let at = |s: &mut SchemaSettings| s.definitions_path = "/components/schemas".into();
    let mut answers: SchemaGenerator =
        SchemaSettings::draft2020_12().with(at).for_serialize().into_generator();
    answers.subschema_for::<DeskView>();
    answers.subschema_for::<TextView>();
    answers.subschema_for::<TankReportView>();
    answers.subschema_for::<FindView>();
    answers.subschema_for::<ShowView>();
    answers.subschema_for::<CheckView>();
    answers.subschema_for::<FillView>();
    answers.subschema_for::<GrowView>();
    answers.subschema_for::<PlanView>();
    answers.subschema_for::<CalendarView>();
    answers.subschema_for::<FaultView>();
    let mut bodies: SchemaGenerator =
        SchemaSettings::draft2020_12().with(at).for_deserialize().into_generator();
    bodies.subschema_for::<EditBody>();
    bodies.subschema_for::<StepBody>();
    let mut all = answers.take_definitions(true);
    all.extend(bodies.take_definitions(true));
    Value::Object(all)
}

fn reference(schema: &str) -> Value {
    json!({ "$ref": format!("#/components/schemas/{schema}") })
}

fn described(operation: &Operation) -> Value {
    let mut parameters: Vec<Value> =
        operation.query.iter().map(|(name, ask, what)| asked(name, *ask, what)).collect();
    if operation.path.contains("{taxon}") {
        parameters.insert(
            0,
            json!({ "name": "taxon", "in": "path", "required": true, "description": "key of the taxon, or a name of it",
                    "schema": { "type": "string", "minLength": 1 } }),
        );
    }
    let content = match operation.answers {
        Answers::View(schema) => {
            json!({ "application/json": { "schema": reference(schema) }, "text/html": { "schema": { "type": "string" } } })
        }
        Answers::Json(schema) => json!({ "application/json": { "schema": reference(schema) } }),
        Answers::File(kind) => json!({ kind: { "schema": { "type": "string" } } }),
    };
    let mut responses = Map::new();
    responses.insert("200".to_owned(), json!({ "description": "the answer", "content": content }));
    for status in [400].iter().chain(operation.faults) {
        let content = json!({ "application/json": { "schema": reference("FaultView") } });
        responses.insert(status.to_string(), json!({ "description": said(*status), "content": content }));
    }
    let mut whole = json!({
        "operationId": operation.id,
        "summary": operation.summary,
        "parameters": parameters,
        "responses": responses
    });
    if let Some(body) = operation.body {
        whole["requestBody"] =
            json!({ "required": true, "content": { "application/json": { "schema": reference(body) } } });
    }
    whole
}

fn asked(name: &str, ask: Ask, what: &str) -> Value {
    let text = json!({ "type": "string" });
    let schema = match ask {
        Ask::Text => text,
        Ask::Texts => json!({ "type": "array", "items": text }),
        Ask::Whole(least, most) => json!({ "type": "integer", "minimum": least, "maximum": most }),
        Ask::Number(least, most) => json!({ "type": "number", "minimum": least, "maximum": most }),
        Ask::OneOf(words) => json!({ "type": "string", "enum": words }),
    };
    json!({ "name": name, "in": "query", "required": false, "description": what, "schema": schema })
}

fn said(status: u16) -> &'static str {
    match status {
        400 => "the question cannot be read",
        404 => "there is no such plant",
        409 => "the tank was changed since",
        413 => "the body is too large",
        415 => "the body is not JSON",
        _ => "the tank or the change cannot be used as it is",
    }
}
