//! `schema`: the JSON Schema of what a command answers with `--format json`.

use super::Answer;
use super::args::{SchemaArgs, SchemaName};
use super::output::{Failure, Output};
use super::tank::unprintable;
use crate::report::json;
use crate::report::view::{
    CalendarView, CatalogueView, CheckView, CompareView, FillView, FindView, GrowView, PlanView, ShowView,
    TankReportView,
};

pub(super) fn run(args: &SchemaArgs, output: &mut Output) -> Result<Answer, Failure> {
    let schema = match args.name {
        SchemaName::Fill => json::schema::<FillView>("fill"),
        SchemaName::Find => json::schema::<FindView>("find"),
        SchemaName::Show => json::schema::<ShowView>("show"),
        SchemaName::Tank => json::schema::<TankReportView>("tank"),
        SchemaName::Check => json::schema::<CheckView>("check"),
        SchemaName::Compare => json::schema::<CompareView>("compare"),
        SchemaName::Plan => json::schema::<PlanView>("plan"),
        SchemaName::Grow => json::schema::<GrowView>("grow"),
        SchemaName::Calendar => json::schema::<CalendarView>("calendar"),
        SchemaName::Catalogue => json::schema::<CatalogueView>("catalogue check"),
    };
    output.data(&schema.map_err(unprintable)?)?;
    Ok(Answer::Yes)
}
