//! Demands in the person's words, with the line of the tank file where they stand.

use std::ops::Range;

use super::Filling;
use crate::fit::{Assessment, Factor, Verdict};
use crate::report::view::{ConflictMemberView, ConflictView, SettingView, StatedView};
use crate::select::{Bar, Conflict, Demand, Entry, Member, Zone};
use crate::units::Money;

impl Filling<'_> {
    /// A conflict in words.
    pub(super) fn conflict_view(&self, conflict: &Conflict) -> ConflictView {
        ConflictView {
            members: conflict.members.iter().map(|m| self.member_view(*m)).collect(),
            proven: conflict.proven,
            alone: conflict.is_alone(),
        }
    }

    fn member_view(&self, member: Member) -> ConflictMemberView {
        ConflictMemberView {
            stated: self.stated(member.demand),
            way_out: self.way_words(member),
            nearest: member.way.value,
            enough: member.way.whole,
            setting: self.span(member.demand).and_then(|_| self.setting(member)),
        }
    }

    /// The value of the tank file that states a demand, and what its nearest way out writes there.
    fn setting(&self, member: Member) -> Option<SettingView> {
        let setting =
            |key: &str, write: Option<String>| Some(SettingView { key: key.to_owned(), write, free: None });
        let free = |key: &str, candidate: usize| {
            let taxon = self.entry(candidate).plant.id.0.clone();
            Some(SettingView { key: key.to_owned(), write: None, free: Some(taxon) })
        };
        let value = member.way.value;
        match member.demand {
            Demand::Must(candidate) => free("wishes.must", candidate),
            Demand::Never(candidate) => free("wishes.never", candidate),
            Demand::Budget => setting("wishes.budget", value.map(|v| Money(v).to_string())),
            Demand::Trim => setting("wishes.trim_minutes_per_month", value.map(|v| v.to_string())),
            Demand::Fast => setting("wishes.fast_share", value.map(percent)),
            Demand::PerGenus => setting("wishes.per_genus", value.map(|v| v.to_string())),
            Demand::Taxa => setting("wishes.most_taxa", value.map(|v| v.to_string())),
            Demand::Foreign => setting("wishes.native", None),
            Demand::Least(zone) => {
                let most = self.composition.problem.zones[zone].most;
                setting(&format!("zone[{zone}].taxa"), value.map(|least| format!("{least}..{most}")))
            }
            Demand::GroupLeast(_)
            | Demand::GroupMost(_)
            | Demand::SightLines
            | Demand::Water
            | Demand::Excluded(_) => None,
        }
    }

    /// What a demand says and where.
    pub(super) fn stated(&self, demand: Demand) -> StatedView {
        let document = &self.model.spec.document;
        let line = self.span(demand).map(|span| document.position(span.start).0);
        StatedView { demand: self.demand_words(demand), file: line.map(|_| document.name.clone()), line }
    }

    /// Where a demand stands in the tank file; `None` for those given elsewhere.
    fn span(&self, demand: Demand) -> Option<Range<usize>> {
        let wishes = &self.model.spec.wishes;
        let span = match demand {
            Demand::Must(c) => self.wished.must_at.get(&self.entry(c).plant.id).cloned(),
            Demand::Never(c) => self.wished.never_at.get(&self.entry(c).plant.id).cloned(),
            Demand::Least(zone) => Some(self.model.spec.zones[zone].taxa_span.clone()),
            Demand::Budget => wishes.budget.as_ref().map(|(_, span)| span.clone()),
            Demand::Trim => wishes.trim_minutes_per_month.as_ref().map(|(_, span)| span.clone()),
            Demand::Fast => wishes.fast_share.as_ref().map(|(_, span)| span.clone()),
            Demand::PerGenus => wishes.per_genus.as_ref().map(|(_, span)| span.clone()),
            Demand::Taxa => wishes.most_taxa.as_ref().map(|(_, span)| span.clone()),
            Demand::Foreign => wishes.native.first().map(|wish| wish.span.clone()),
            Demand::GroupLeast(group) => wishes.one_of.get(group).map(|(_, span)| span.clone()),
            Demand::GroupMost(_) | Demand::SightLines | Demand::Water | Demand::Excluded(_) => None,
        };
        span.filter(|span| !span.is_empty())
    }

    /// What a demand asks for.
    fn demand_words(&self, demand: Demand) -> String {
        let problem = &self.composition.problem;
        let rules = &problem.rules;
        match demand {
            Demand::Must(candidate) => self.must_words(candidate),
            Demand::Never(candidate) => format!("{} must not be on the list", self.name(candidate)),
            Demand::Least(zone) => self.least_words(zone),
            Demand::Budget => format!("the budget is {} at most", self.money(rules.budget.unwrap_or(0))),
            Demand::Trim => {
                format!("at most {} minutes of trimming a month", rules.trim.unwrap_or(0))
            }
            Demand::Fast => {
                format!("{} of the taxa are fast growers, or more", percent(rules.fast.map_or(0, |s| s.part)))
            }
            Demand::PerGenus => format!("at most {} of one genus", taxa(rules.per_genus.unwrap_or(0))),
            Demand::Taxa => format!("at most {} in all", taxa(rules.taxa.unwrap_or(0))),
            Demand::Foreign => {
                let areas = self.model.spec.wishes.native.iter().map(|w| w.text.as_str());
                format!("only taxa native to {}", areas.collect::<Vec<_>>().join(", "))
            }
            Demand::GroupLeast(group) | Demand::GroupMost(group) => rules.groups[group].name.clone(),
            Demand::SightLines => "nothing stands in front of anything lower".to_owned(),
            Demand::Water => "one water in which all grow".to_owned(),
            Demand::Excluded(pair) => {
                let [a, b] = rules.excluded[pair];
                format!("not both {} and {}", self.name(a), self.name(b))
            }
        }
    }

    fn least_words(&self, zone: usize) -> String {
        let Zone { name, least, .. } = &self.composition.problem.zones[zone];
        let mut words = format!("“{name}” holds {} or more", taxa(*least));
        let candidates = &self.composition.problem.candidates;
        let grow = candidates.iter().filter(|c| c.choice_in(zone).is_some()).count();
        if grow < *least {
            words.push_str(&format!("; {} would grow there", taxa(grow)));
        }
        let barred =
            |e: &&Entry<'_>| e.barred == Some(Bar::Law) && e.assessments[zone].suitability >= Verdict::GROWS;
        let unlawful = self.entries.iter().filter(barred).count();
        if unlawful > 0 && grow < *least {
            words.push_str(&format!("; the law restricts {} more", taxa(unlawful)));
        }
        words
    }

    /// Why a plant that must be on the list may be in the way.
    fn must_words(&self, candidate: usize) -> String {
        let entry = self.entry(candidate);
        let words = format!("{} must be on the list", self.name(candidate));
        if entry.barred == Some(Bar::Law) {
            return format!("{words}, but a law of the tank's place restricts it");
        }
        let zones = entry.assessments.iter().zip(&self.offers);
        // Among zones where it fails alike, the one that is at least of its sort.
        let merit = |a: &Assessment| (a.suitability, a.factor(Factor::Placement));
        let best = zones.max_by(|(a, _), (b, _)| {
            let ((a, sort_a), (b, sort_b)) = (merit(a), merit(b));
            a.total_cmp(&b).then(sort_a.total_cmp(&sort_b))
        });
        match best {
            Some((assessment, offer))
                if self.composition.problem.candidates[candidate].options.is_empty() =>
            {
                format!(
                    "{words}, but grows in no zone: at best it {} in “{}”, limited by {}",
                    assessment.verdict(),
                    offer.name,
                    assessment.limiting
                )
            }
            _ => words,
        }
    }

    fn way_words(&self, member: Member) -> String {
        let Some(value) = member.way.value else {
            return match member.demand {
                Demand::Must(_) => "leave it off".to_owned(),
                Demand::Never(_) => "allow it".to_owned(),
                _ => "give this up".to_owned(),
            };
        };
        match member.demand {
            Demand::Budget => format!("spend {}", self.money(value)),
            Demand::Trim => format!("allow {value} minutes"),
            Demand::Fast => format!("be content with {}", percent(value)),
            Demand::PerGenus => format!("allow {value} of one genus"),
            Demand::Taxa => format!("allow {} in all", taxa(value as usize)),
            Demand::Least(_) => format!("be content with {} there", taxa(value as usize)),
            Demand::SightLines => {
                format!("let what stands a row nearer be {value} mm taller")
            }
            Demand::GroupLeast(_) if value == 0 => "give this up".to_owned(),
            Demand::GroupLeast(_) => format!("be content with {value}"),
            _ => format!("allow {value}"),
        }
    }

    pub(super) fn name(&self, candidate: usize) -> String {
        self.entry(candidate).plant.display_name()
    }

    pub(super) fn money(&self, hundredths: i64) -> String {
        let currency = self.model.spec.wishes.currency.as_deref().unwrap_or_default();
        format!("{} {currency}", Money(hundredths)).trim().to_owned()
    }
}

fn taxa(count: usize) -> String {
    if count == 1 { "1 taxon".to_owned() } else { format!("{count} taxa") }
}

/// A share in thousandths as a percentage.
fn percent(thousandths: i64) -> String {
    format!("{} %", thousandths as f64 / 10.0)
}
