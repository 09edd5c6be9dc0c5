//! The query of an address: names with values, some more than once.

use axum::extract::Query;
use axum::http::Uri;

use super::fault::Fault;
use super::html::bits::Look;
use crate::diagnostic::{Finding, nearest};
use crate::units::UnitSystem;

/// Plants shown at once.
const SHOWN: usize = 30;
/// Plants shown at once, at most.
const MOST_SHOWN: usize = 1000;

/// What was asked for.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Asked(Vec<(String, String)>);

impl Asked {
    /// Reads the query. Every name has to be one of `known`; `units` always is.
    pub fn read(uri: &Uri, known: &[&str]) -> Result<Self, Fault> {
        let pairs = Query::<Vec<(String, String)>>::try_from_uri(uri).map_err(|error| {
            let finding = Finding::error(format!("the query cannot be read: {error}"));
            Fault::question(finding.expected("name=value pairs with & between them"))
        })?;
        let names = || known.iter().copied().chain(["units"]);
        if let Some((name, _)) = pairs.iter().find(|(n, _)| names().all(|k| k != n)) {
            let finding = Finding::error(format!("`{name}` is not asked for here"));
            let all: Vec<&str> = names().collect();
            let finding = finding.expected(format!("one of: {}", all.join(", ")));
            return Err(Fault::question(finding.near(nearest(name, names(), 1))));
        }
        let asked = Self(pairs.0);
        if let Some(units) = asked.one("units").filter(|u| !["metric", "us"].contains(u)) {
            let finding = Finding::error(format!("`{units}` is not a system of units"));
            return Err(Fault::question(finding.expected("one of: metric, us")));
        }
        Ok(asked)
    }

    /// The values of a name that are not empty.
    pub fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a str> {
        self.0.iter().filter(move |(n, v)| n == name && !v.is_empty()).map(|(_, v)| v.as_str())
    }

    /// The value of a name.
    pub fn one(&self, name: &str) -> Option<&str> {
        self.0.iter().find(|(n, v)| n == name && !v.is_empty()).map(|(_, v)| v.as_str())
    }

    /// A whole number.
    pub fn whole(&self, name: &str, most: usize) -> Result<Option<usize>, Fault> {
        let Some(text) = self.one(name) else { return Ok(None) };
        let parsed = text.parse::<usize>().ok().filter(|n| *n <= most);
        parsed.map(Some).ok_or_else(|| {
            let finding = Finding::error(format!("`{name}` is {text}"));
            Fault::question(finding.expected(format!("a whole number, 0 to {most}")))
        })
    }

    /// A number.
    pub fn number(&self, name: &str, within: (f64, f64)) -> Result<Option<f64>, Fault> {
        let Some(text) = self.one(name) else { return Ok(None) };
        let parsed = text.parse::<f64>().ok().filter(|v| *v >= within.0 && *v <= within.1);
        parsed.map(Some).ok_or_else(|| {
            let finding = Finding::error(format!("`{name}` is {text}"));
            Fault::question(finding.expected(format!("a number from {} to {}", within.0, within.1)))
        })
    }

    /// How many plants to show.
    pub fn limit(&self) -> Result<usize, Fault> {
        Ok(self.whole("limit", MOST_SHOWN)?.unwrap_or(SHOWN))
    }

    /// How the reader wants to see things.
    pub fn look(&self) -> Look {
        let us = self.one("units") == Some("us");
        Look { units: if us { UnitSystem::Us } else { UnitSystem::Metric } }
    }

    /// The query with one value put in the place of another.
    pub fn with(&self, name: &str, value: &str) -> String {
        let kept = self.0.iter().filter(|(n, v)| n != name && !v.is_empty());
        let pairs = kept.map(|(n, v)| (n.as_str(), v.as_str())).chain([(name, value)]);
        pairs.map(|(n, v)| format!("{}={}", escaped(n), escaped(v))).collect::<Vec<_>>().join("&")
    }
}

/// A text as it stands in a query.
pub(super) fn escaped(text: &str) -> String {
    let plain = |b: u8| b.is_ascii_alphanumeric() || b"-._~".contains(&b);
    text.bytes().map(|b| if plain(b) { char::from(b).to_string() } else { format!("%{b:02X}") }).collect()
}

#[cfg(test)]
mod tests {
    use super::Asked;

    fn read(query: &str) -> Result<Asked, super::Fault> {
        Asked::read(&format!("/x?{query}").parse().expect("an address"), &["words", "family", "limit"])
    }

    #[test]
    fn names_may_come_twice_and_have_to_be_known() {
        let asked = read("words=red%20stem&family=Araceae&family=A%26b&words=").expect("a question");
        assert_eq!(asked.one("words"), Some("red stem"));
        assert_eq!(asked.all("family").collect::<Vec<_>>(), ["Araceae", "A&b"]);
        assert_eq!(asked.with("words", "é"), "family=Araceae&family=A%26b&words=%C3%A9");
        let fault = read("famly=x").expect_err("a slip");
        let finding = fault.findings().iter().next().expect("a finding");
        assert_eq!(finding.near, ["family"]);
        assert!(read("units=feet").is_err());
        assert!(read("limit=-1").expect("read").whole("limit", 9).is_err());
    }
}
