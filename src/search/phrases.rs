//! What people say for a trait, and the terms of the index that they mean.
//!
//! A phrase means any of its terms; the weight says how well a term answers it. Words are
//! compared by stem, longest phrase first.

use std::collections::BTreeMap;

use super::areas::Areas;
use super::fold;

/// A term of the index with its weight in a phrase.
pub(super) type Meaning = Vec<(String, f32)>;

type Row = (&'static [&'static str], &'static [(&'static str, f32)]);

#[rustfmt::skip]
const TABLE: &[Row] = &[
    (&["foreground", "front"], &[("placement:foreground", 1.0)]),
    (&["midground", "middle", "mid ground", "middle ground"], &[("placement:midground", 1.0)]),
    (&["background", "back", "rear", "back wall"], &[("placement:background", 1.0)]),
    (&["epiphyte", "epiphytic", "on wood", "on driftwood", "on rock", "on stone", "driftwood", "wood",
       "rock", "stone", "attach", "attached", "hardscape", "tie on", "no substrate", "without substrate",
       "bare bottom"],
        &[("tag:clings", 1.0), ("placement:epiphyte", 0.9), ("footing:hardscape", 0.7)]),
    (&["floating", "floater", "floating plant", "surface", "surface plant", "afloat"],
        &[("growthForm:floater", 1.0), ("placement:floating", 0.9)]),
    (&["drifting"], &[("footing:drifting", 1.0)]),
    (&["carpet", "carpeting", "carpeting plant", "carpet plant", "lawn", "ground cover", "groundcover",
       "turf"], &[("tag:carpet", 1.0), ("tag:mat", 0.5)]),
    (&["creeper", "creeping"], &[("growthForm:creeper", 1.0)]),
    (&["stem", "stem plant", "bunch plant"], &[("growthForm:stem", 1.0)]),
    (&["rosette", "rosette plant"], &[("growthForm:rosette", 1.0)]),
    (&["runner", "stolon"], &[("growthForm:runner", 1.0)]),
    (&["rhizome", "rhizome plant"], &[("growthForm:rhizome", 1.0)]),
    (&["bulb", "tuber", "bulb plant"], &[("growthForm:bulb", 1.0)]),
    (&["fern"], &[("growthForm:fern", 1.0)]),
    (&["moss"], &[("growthForm:moss", 1.0)]),
    (&["liverwort"], &[("growthForm:liverwort", 1.0), ]),
    (&["alga", "algae"], &[("growthForm:alga", 1.0)]),

    (&["low light", "shade", "shady", "shaded", "dim", "dim light", "dark tank", "little light", "weak light",
       "shadow", "low lighting", "shade tolerant", "low light tolerant"],
        &[("light:shade", 1.0), ("light:half shade", 0.6)]),
    (&["half shade", "partial shade", "semi shade"], &[("light:half shade", 1.0)]),
    (&["medium light", "moderate light", "normal light", "middling light"],
        &[("light:half shade", 1.0), ("light:bright", 0.9)]),
    (&["high light", "strong light", "bright light", "bright", "lots of light", "intense light", "full light",
       "full sun"], &[("light:full", 1.0), ("light:bright", 0.8)]),
    (&["no gas", "without gas", "no co2", "without co2", "non co2", "co2 free", "no injection",
       "no added co2", "no carbon", "low tech", "lowtech", "gas none"],
        &[("gas:without gas", 1.0), ("gas:helped by gas", 0.7)]),
    (&["with gas", "with co2", "needs gas", "needs co2", "co2", "gas", "injected", "high tech", "hightech",
       "pressurised co2", "pressurized co2"], &[("gas:needs gas", 1.0), ("gas:helped by gas", 0.6)]),
    (&["fast", "fast growing", "fast grower", "quick", "quick growing", "rapid", "fast growth",
       "nutrient sponge"], &[("growth:fast", 1.0)]),
    (&["slow", "slow growing", "slow grower", "slow growth"], &[("growth:slow", 1.0)]),
    (&["low maintenance", "little trimming", "no trimming", "rarely trimmed", "low upkeep"],
        &[("tag:long between trims", 1.0)]),

    (&["red", "pink", "purple", "reddish", "rose coloured", "violet", "crimson"], &[("colour:red", 1.0)]),
    (&["brown", "bronze", "brownish", "olive"], &[("colour:brown", 1.0)]),
    (&["green"], &[("colour:green", 1.0), ("colour:light green", 0.8), ("colour:dark green", 0.8)]),
    (&["light green", "bright green", "lime green", "pale green", "yellow green"],
        &[("colour:light green", 1.0)]),
    (&["dark green", "deep green"], &[("colour:dark green", 1.0)]),
    (&["fine leaf", "fine", "feathery", "needle leaf", "divided leaf", "fine texture", "finely divided",
       "feather"], &[("texture:fine", 1.0)]),
    (&["grass like", "grasslike", "grassy", "ribbon", "ribbon leaf", "linear", "strap leaf", "long leaf",
       "narrow leaf", "grass"], &[("texture:linear", 1.0)]),
    (&["small leaf", "tiny leaf"], &[("texture:small", 1.0)]),
    (&["broad leaf", "large leaf", "big leaf", "wide leaf", "broad"], &[("texture:broad", 1.0)]),
    (&["root feeder", "root feeding", "heavy root feeder"], &[("feeding:root", 1.0)]),
    (&["column feeder", "water column feeder"], &[("feeding:column", 1.0)]),

    (&["hard water", "hard tap water", "alkaline", "alkaline water", "limestone", "rift lake", "liquid rock",
       "high gh", "high kh", "calcareous"], &[("tag:limy", 1.0), ("tag:hard water", 0.8)]),
    (&["soft water", "low kh", "low gh", "soft"], &[("tag:soft water", 1.0)]),
    (&["blackwater", "black water", "acid", "acidic", "acid water", "acidic water", "low ph"],
        &[("tag:acid", 1.0)]),
    (&["cold water", "coldwater", "unheated", "goldfish", "cold", "pond"],
        &[("tag:cold", 1.0), ("tag:cool", 0.6)]),
    (&["cool", "cool water", "temperate", "room temperature"], &[("tag:cool", 1.0)]),
    (&["warm", "warm water", "hot", "hot water", "discus", "tropical"], &[("tag:warm", 1.0)]),
    (&["tall", "high", "big", "large", "giant"], &[("tag:tall", 1.0)]),
    (&["short", "low", "low growing", "tiny", "nano", "small", "dwarf", "mini"], &[("tag:low", 1.0)]),
    (&["open top", "rimless", "emergent", "emersed", "emerged"], &[("tag:open top", 1.0), ("tag:in air", 0.7)]),
    (&["paludarium", "terrarium", "above water"], &[("tag:in air", 1.0), ("tag:open top", 1.0)]),
    (&["harmless", "safe", "not toxic", "non toxic", "nontoxic", "pet safe"], &[("tag:harmless", 1.0)]),
];

/// The phrases, ready to be looked for.
pub(super) struct Phrases {
    by_stems: BTreeMap<Vec<String>, &'static [(&'static str, f32)]>,
    areas: Areas,
}

/// The longest phrase, in words.
const LONGEST: usize = 4;

impl Phrases {
    pub(super) fn read() -> Self {
        let mut by_stems = BTreeMap::new();
        for (phrases, meaning) in TABLE {
            for phrase in *phrases {
                by_stems.insert(phrase.split(' ').map(fold::stem).collect(), *meaning);
            }
        }
        Self { by_stems, areas: Areas::read() }
    }

    /// The longest phrase that `words` begins with: how many words it takes, and its meaning.
    pub(super) fn leading(&self, words: &[String]) -> Option<(usize, Meaning)> {
        (1..=words.len().min(LONGEST)).rev().find_map(|n| Some((n, self.whole(&words[..n])?)))
    }

    /// The one-word phrase nearest to a word that is none, within one typo, two in words of
    /// eight letters or more: how many typos, the phrase, its meaning.
    pub(super) fn near(&self, stem: &str) -> Option<(usize, String, Meaning)> {
        let allowed = match stem.len() {
            0..=4 => return None,
            5..=7 => 1,
            _ => 2,
        };
        let single = self.by_stems.iter().filter_map(|(stems, meaning)| match stems.as_slice() {
            [only] => Some((strsim::osa_distance(stem, only), only, *meaning)),
            _ => None,
        });
        // The first of equals in the order of the alphabet.
        let (typos, phrase, meaning) = single.filter(|(d, _, _)| *d <= allowed).min_by_key(|(d, _, _)| *d)?;
        Some((typos, phrase.clone(), weighted(meaning)))
    }

    fn whole(&self, words: &[String]) -> Option<Meaning> {
        let stems: Vec<String> = words.iter().map(|w| fold::stem(w)).collect();
        if let Some(meaning) = self.by_stems.get(&stems) {
            return Some(weighted(meaning));
        }
        // One-letter and numeric words are codes of areas only where a code is asked for.
        let area = words.iter().all(|w| w.len() > 2).then(|| self.areas.find(&words.join(" ")))??;
        Some(area.codes.into_iter().map(|code| (format!("native:{code}"), 1.0)).collect())
    }
}

fn weighted(meaning: &[(&str, f32)]) -> Meaning {
    meaning.iter().map(|(term, weight)| ((*term).to_owned(), *weight)).collect()
}
