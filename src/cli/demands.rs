//! Demands on the list given on the command line: each takes the place of that of the tank file,
//! and `none` takes it away.

use clap::Args;

use super::output::Failure;
use crate::diagnostic::{Finding, Findings};
use crate::tank::file::{Counts, HeightOrder, TankSpec, Wish, is_jurisdiction};
use crate::units::{Fraction, Money, parse_quantity};

/// Demands that replace those of the tank file; `none` takes one away.
#[derive(Debug, Default, Args)]
#[command(next_help_heading = "Demands, instead of those of the tank file (`none` for no limit)")]
pub(super) struct DemandArgs {
    /// Most that may be spent
    #[arg(long, value_name = "SUM", allow_negative_numbers = true)]
    pub budget: Option<String>,
    /// Most minutes of trimming a month
    #[arg(long, value_name = "MINUTES", allow_negative_numbers = true)]
    pub trim: Option<String>,
    /// Least share of fast growers, such as "30 %"
    #[arg(long, value_name = "SHARE")]
    pub fast: Option<String>,
    /// Most taxa of one genus
    #[arg(long, value_name = "COUNT")]
    pub per_genus: Option<String>,
    /// Most taxa in all
    #[arg(long, value_name = "COUNT")]
    pub most_taxa: Option<String>,
    /// Taxa of a zone, such as "front lawn=1..2"
    #[arg(long, value_name = "ZONE=COUNT")]
    pub taxa: Vec<String>,
    /// Plants of which at least one is on the list: "one | another"
    #[arg(long, value_name = "NAMES")]
    pub one_of: Vec<String>,
    /// Only plants native to this WGSRPD area
    #[arg(long, value_name = "AREA")]
    pub native: Vec<String>,
    /// Whose law applies: EU, or an ISO 3166 code
    #[arg(long, value_name = "PLACE")]
    pub jurisdiction: Vec<String>,
    /// Whether what stands nearer has to be no taller than what stands behind it
    #[arg(long, value_name = "WHETHER", value_parser = ["kept", "none"])]
    pub height_order: Option<String>,
}

impl DemandArgs {
    /// Puts the demands into the specification.
    pub fn apply(&self, spec: &mut TankSpec) -> Result<(), Failure> {
        let mut findings = Findings::default();
        let mut wrong = |flag: &str, text: &str, expected: &str| {
            findings.push(Finding::error(format!("--{flag} is `{text}`")).expected(expected));
        };
        let wishes = &mut spec.wishes;
        set(
            &mut wishes.budget,
            "budget",
            self.budget.as_ref(),
            Money::parse,
            "a sum such as 80 or 79.50",
            &mut wrong,
        );
        let minutes = |text: &str| text.parse::<u32>().ok().filter(|n| *n <= 1_000_000);
        set(
            &mut wishes.trim_minutes_per_month,
            "trim",
            self.trim.as_ref(),
            minutes,
            "whole minutes",
            &mut wrong,
        );
        let share =
            |text: &str| parse_quantity::<Fraction>(text).ok().filter(|f| (0.0..=1.0).contains(&f.value()));
        set(
            &mut wishes.fast_share,
            "fast",
            self.fast.as_ref(),
            share,
            "a share such as \"30 %\"",
            &mut wrong,
        );
        let count = |text: &str| text.parse::<usize>().ok().filter(|n| *n > 0);
        set(&mut wishes.per_genus, "per-genus", self.per_genus.as_ref(), count, "1 or more", &mut wrong);
        set(&mut wishes.most_taxa, "most-taxa", self.most_taxa.as_ref(), count, "1 or more", &mut wrong);
        for place in self.jurisdiction.iter().filter(|p| *p != "none" && !is_jurisdiction(p)) {
            wrong("jurisdiction", place, "EU, or an ISO 3166 code in capitals such as DE, GB-SCT, US-CA");
        }
        self.apply_taxa(spec, &mut findings);
        self.apply_lists(spec);
        findings.into_result(())?;
        Ok(())
    }

    fn apply_lists(&self, spec: &mut TankSpec) {
        let wish = |text: &str| Wish { text: text.trim().to_owned(), span: 0..0 };
        let real = |list: &[String]| list.iter().filter(|t| *t != "none").cloned().collect::<Vec<_>>();
        if !self.jurisdiction.is_empty() {
            spec.jurisdictions = real(&self.jurisdiction);
        }
        if !self.native.is_empty() {
            spec.wishes.native = real(&self.native).iter().map(|t| wish(t)).collect();
        }
        if !self.one_of.is_empty() {
            let sets = real(&self.one_of);
            spec.wishes.one_of = sets.iter().map(|set| (set.split('|').map(wish).collect(), 0..0)).collect();
        }
        match self.height_order.as_deref() {
            Some("none") => spec.wishes.height_order = HeightOrder::Free,
            Some(_) => spec.wishes.height_order = HeightOrder::Kept,
            None => {}
        }
    }

    fn apply_taxa(&self, spec: &mut TankSpec, findings: &mut Findings) {
        for written in &self.taxa {
            let parts = written.rsplit_once('=').map(|(zone, counts)| (zone.trim(), Counts::parse(counts)));
            let Some((name, Some(counts))) = parts else {
                let finding = Finding::error(format!("--taxa is `{written}`"));
                findings.push(finding.expected("a zone and a count, such as \"front lawn=1..2\", at most 8"));
                continue;
            };
            if let Some(zone) = spec.zones.iter_mut().find(|z| z.name == name) {
                zone.taxa = counts;
                zone.taxa_span = 0..0;
            } else {
                let names: Vec<&str> = spec.zones.iter().map(|z| z.name.as_str()).collect();
                let near = crate::diagnostic::nearest(name, names.iter().copied(), 1);
                let finding = Finding::error(format!("there is no zone `{name}`"));
                findings.push(finding.expected(format!("one of: {}", names.join(", "))).near(near));
            }
        }
    }
}

/// Puts one value with no place in the file, or takes it away.
fn set<T>(
    wish: &mut Option<(T, std::ops::Range<usize>)>,
    flag: &str,
    written: Option<&String>,
    read: impl Fn(&str) -> Option<T>,
    expected: &str,
    wrong: &mut impl FnMut(&str, &str, &str),
) {
    match written.map(String::as_str) {
        None => {}
        Some("none") => *wish = None,
        Some(text) => match read(text.trim()) {
            Some(value) => *wish = Some((value, 0..0)),
            None => wrong(flag, text, &format!("{expected}, or none")),
        },
    }
}
