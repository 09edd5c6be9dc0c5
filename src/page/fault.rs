//! What the page answers when it cannot do what was asked: findings as JSON, with a status.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use schemars::JsonSchema;
use serde::Serialize;

use super::desk::{Refused, place};
use crate::diagnostic::{Finding, Findings, Severity};
use crate::report::json;

/// One finding, beside the field it is about.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FindingView {
    /// `error`, `warning` or `note`.
    pub severity: String,
    /// What is wrong.
    pub message: String,
    /// The full name of the value it is about, such as `glass.water`; `null` for the whole.
    pub key: Option<String>,
    /// One-based line in the tank file.
    pub line: Option<usize>,
    /// One-based column in the tank file.
    pub column: Option<usize>,
    /// What a right value looks like.
    pub expected: Option<String>,
    /// The nearest right words.
    pub near: Vec<String>,
}

impl FindingView {
    fn of(finding: &Finding) -> Self {
        let at = finding.place.as_ref().map(|p| p.document.position(p.span.start));
        let severity = match finding.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        };
        Self {
            severity: severity.to_owned(),
            message: finding.message.clone(),
            key: place::key_of(finding),
            line: at.map(|(line, _)| line),
            column: at.map(|(_, column)| column),
            expected: finding.expected.clone(),
            near: finding.near.clone(),
        }
    }
}

/// All findings for the page.
pub(super) fn views(findings: &Findings) -> Vec<FindingView> {
    findings.iter().map(FindingView::of).collect()
}

/// Why there is no answer.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FaultView {
    /// What is wrong; one at the least.
    pub findings: Vec<FindingView>,
}

/// A status with its findings.
#[derive(Debug)]
pub struct Fault {
    status: StatusCode,
    findings: Findings,
}

impl Fault {
    /// A sentence.
    pub fn plain(status: StatusCode, message: &str) -> Self {
        Self { status, findings: Finding::error(message).into() }
    }

    /// Something in the question is wrong.
    pub fn question(finding: Finding) -> Self {
        Self { status: StatusCode::BAD_REQUEST, findings: finding.into() }
    }

    /// Several things in the question are wrong.
    pub fn questions(findings: Findings) -> Self {
        Self { status: StatusCode::BAD_REQUEST, findings }
    }

    /// The tank, as it stands, cannot be answered for.
    pub fn tank(findings: Findings) -> Self {
        Self { status: StatusCode::UNPROCESSABLE_ENTITY, findings }
    }

    /// There is no such thing.
    pub fn missing(finding: Finding) -> Self {
        Self { status: StatusCode::NOT_FOUND, findings: finding.into() }
    }

    /// The library cannot be read, or an answer not be written.
    pub fn inside(findings: Findings) -> Self {
        Self { status: StatusCode::INTERNAL_SERVER_ERROR, findings }
    }

    /// What is wrong.
    pub fn findings(&self) -> &Findings {
        &self.findings
    }
}

impl From<Refused> for Fault {
    fn from(refused: Refused) -> Self {
        match refused {
            Refused::Wrong(findings) => Self::tank(findings),
            Refused::Stale => {
                let finding = Finding::error("the tank was changed in another window");
                let finding = finding.expected("the current revision; the page shows it now");
                Self { status: StatusCode::CONFLICT, findings: finding.into() }
            }
        }
    }
}

impl IntoResponse for Fault {
    fn into_response(self) -> Response {
        let view = FaultView { findings: views(&self.findings) };
        let body = json::json(&view).unwrap_or_default();
        (self.status, [(header::CONTENT_TYPE, "application/json")], body).into_response()
    }
}
