//! All that is known of one plant, every value with its origin.

use schemars::JsonSchema;
use serde::Serialize;

use super::{flags, rounded};
use crate::catalogue::{Claim, Envelope, EvidenceKind, LegalEntry, Name, Plant, Source};
use crate::units::Quantity;

/// A name in use.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct NameView {
    /// The name.
    pub name: String,
    /// Accepted, synonym, vernacular or trade.
    pub kind: String,
    /// ISO 639-1; `la` for scientific names.
    pub language: String,
    /// Where it comes from.
    pub source: String,
}

/// How a trait is known.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct OriginView {
    /// The strongest kind of evidence: measured, published, practice or memory.
    pub kind: String,
    /// Keys of the sources of that kind.
    pub sources: Vec<String>,
}

/// The four values of a factor.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct EnvelopeView {
    /// The factor.
    pub factor: String,
    /// Unit of the values.
    pub unit: String,
    /// At and below this nothing grows.
    pub abs_min: f64,
    /// From here it does best.
    pub opt_min: f64,
    /// To here it does best; `null` where more does no harm.
    pub opt_max: Option<f64>,
    /// At and above this nothing grows; `null` where more does no harm.
    pub abs_max: Option<f64>,
    /// How it is known.
    pub origin: OriginView,
}

/// A trait in words.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FactView {
    /// The trait.
    pub trait_name: String,
    /// Its value.
    pub value: String,
    /// How it is known.
    pub origin: OriginView,
}

/// A claim of a source.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ClaimView {
    /// The trait.
    pub trait_name: String,
    /// What the source says.
    pub statement: String,
    /// The unit of a number.
    pub unit: String,
    /// Measured, published, practice or memory.
    pub kind: String,
    /// The source.
    pub source: String,
    /// Where in the source.
    pub locator: String,
    /// Why the value differs, when it does.
    pub note: String,
}

/// A source cited.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SourceView {
    /// The key.
    pub key: String,
    /// The citation.
    pub citation: String,
    /// Licence of the source.
    pub licence: String,
    /// DOI or official number.
    pub identifier: String,
}

/// What `show` answers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ShowView {
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name with the cultivar.
    pub name: String,
    /// Author of the accepted name.
    pub authorship: String,
    /// Usual English name.
    pub vernacular: String,
    /// One sentence for the keeper.
    pub notes: String,
    /// Family, habit, places, sizes and the like.
    pub facts: Vec<FactView>,
    /// The envelopes.
    pub envelopes: Vec<EnvelopeView>,
    /// All names.
    pub names: Vec<NameView>,
    /// Law, registers and hazards, in words, with dates.
    pub flags: Vec<String>,
    /// What the absence of a law means.
    pub law_caution: String,
    /// The claims.
    pub claims: Vec<ClaimView>,
    /// The sources of names, claims and laws.
    pub sources: Vec<SourceView>,
}

/// What the library knows besides the plant's own row.
#[derive(Debug, Clone, Copy)]
pub struct Background<'a> {
    /// Its names.
    pub names: &'a [Name],
    /// Its claims.
    pub claims: &'a [Claim],
    /// Its laws and registers.
    pub legal: &'a [LegalEntry],
    /// Sources of all these.
    pub sources: &'a [Source],
}

/// The view of a plant. `areas` names the WGSRPD codes of its native range.
pub fn show_view(plant: &Plant, about: Background<'_>, areas: &[String]) -> ShowView {
    let everywhere: Vec<String> = about.legal.iter().map(|l| l.jurisdiction.clone()).collect();
    let legal: Vec<&LegalEntry> = about.legal.iter().collect();
    ShowView {
        taxon: plant.id.0.clone(),
        name: plant.display_name(),
        authorship: plant.authorship.clone(),
        vernacular: plant.vernacular.clone(),
        notes: plant.notes.clone(),
        facts: facts(plant, about.claims, areas),
        envelopes: envelopes(plant, about.claims),
        names: about.names.iter().map(name_view).collect(),
        flags: flags(plant, &legal, &everywhere),
        law_caution: if about.legal.is_empty() {
            "Not found in the lists carried, which are partial and dated; that does not make it lawful. \
             Not legal advice: check with the authority."
                .to_owned()
        } else {
            "The lists carried are partial and dated. Not legal advice: check with the authority.".to_owned()
        },
        claims: about.claims.iter().map(claim_view).collect(),
        sources: about.sources.iter().map(source_view).collect(),
    }
}

fn name_view(name: &Name) -> NameView {
    NameView {
        name: name.name.clone(),
        kind: name.kind.word().to_owned(),
        language: name.language.word().to_owned(),
        source: name.source.clone(),
    }
}

pub(super) fn claim_view(claim: &Claim) -> ClaimView {
    ClaimView {
        trait_name: claim.trait_name.clone(),
        statement: claim.statement.clone(),
        unit: claim.unit.clone(),
        kind: claim.kind.word().to_owned(),
        source: claim.source.clone(),
        locator: claim.locator.clone(),
        note: claim.note.clone(),
    }
}

pub(super) fn source_view(source: &Source) -> SourceView {
    SourceView {
        key: source.key.clone(),
        citation: source.citation.clone(),
        licence: source.licence.clone(),
        identifier: source.identifier.clone(),
    }
}

/// The strongest kind of the claims on a trait; common practice without any.
pub(super) fn origin(claims: &[Claim], trait_name: &str) -> OriginView {
    let about: Vec<&Claim> = claims.iter().filter(|c| c.trait_name == trait_name).collect();
    let kind = about.iter().map(|c| c.kind).min().unwrap_or(EvidenceKind::Practice);
    let mut sources: Vec<String> =
        about.iter().filter(|c| c.kind == kind).map(|c| c.source.clone()).collect();
    sources.sort();
    sources.dedup();
    OriginView { kind: kind.word().to_owned(), sources }
}

/// Habit, size, growth and looks, as facts common to every plant.
pub(super) fn traits(plant: &Plant) -> Vec<FactView> {
    let wanted = ["growth form", "height", "spread", "growth", "foliage", "under water", "offered", "hazard"];
    facts(plant, &[], &[]).into_iter().filter(|f| wanted.contains(&f.trait_name.as_str())).collect()
}

fn facts(plant: &Plant, claims: &[Claim], areas: &[String]) -> Vec<FactView> {
    let fact = |label: &str, trait_name: &str, value: String| FactView {
        trait_name: label.to_owned(),
        value,
        origin: origin(claims, trait_name),
    };
    let join = |words: Vec<&str>| words.join(", ");
    let native = if areas.is_empty() { "none: of garden origin".to_owned() } else { areas.join(", ") };
    vec![
        fact("family", "family", plant.family.clone()),
        fact("growth form", "growthForm", plant.growth_form.word().to_owned()),
        fact("placement", "placement", join(plant.placements.iter().map(|p| p.word()).collect())),
        fact("footing", "placement", join(plant.footings.iter().map(|f| f.word()).collect())),
        fact(
            "height",
            "height",
            format!("{}..{} cm", rounded(plant.height.lo().cm(), 1), rounded(plant.height.hi().cm(), 1)),
        ),
        fact("spread", "height", format!("{}; planted {} apart", plant.spread, plant.spacing)),
        fact(
            "growth",
            "growth",
            format!("{} a day at best; a trim every {} weeks", plant.growth_per_day, plant.trim_every_weeks),
        ),
        fact("carbon use", "carbonUse", plant.carbon_use.word().to_owned()),
        fact("feeding", "feeding", format!("{}; bed of {} or more", plant.feeding, plant.bed_depth_min)),
        fact("foliage", "placement", format!("{}, {}", plant.texture, plant.colour)),
        fact("in air", "emersed", plant.emersed.word().to_owned()),
        fact("under water", "placement", plant.lasting.word().to_owned()),
        fact("offered", "placement", plant.offered.word().to_owned()),
        fact("native", "native", native),
        fact("hazard", "hazard", join(plant.hazards.iter().map(|h| h.word()).collect())),
    ]
}

fn envelopes(plant: &Plant, claims: &[Claim]) -> Vec<EnvelopeView> {
    vec![
        envelope("light", "light", "µmol/m²/s", plant.light, claims),
        EnvelopeView {
            factor: "carbon".to_owned(),
            unit: "mg/L CO2".to_owned(),
            abs_min: plant.co2_min.mg_l(),
            opt_min: plant.co2_opt.mg_l(),
            opt_max: None,
            abs_max: None,
            origin: origin(claims, "co2"),
        },
        envelope("temperature", "temperature", "°C", plant.temperature, claims),
        envelope("pH", "ph", "", plant.ph, claims),
        envelope("GH", "gh", "dGH", plant.gh, claims),
        envelope("KH", "kh", "dKH", plant.kh, claims),
    ]
}

fn envelope<Q: Quantity>(
    factor: &str,
    trait_name: &str,
    unit: &str,
    values: Envelope<Q>,
    claims: &[Claim],
) -> EnvelopeView {
    let [abs_min, opt_min, opt_max, abs_max] = values.values().map(|q| rounded(q.base(), 2));
    EnvelopeView {
        factor: factor.to_owned(),
        unit: unit.to_owned(),
        abs_min,
        opt_min,
        opt_max: Some(opt_max),
        abs_max: Some(abs_max),
        origin: origin(claims, trait_name),
    }
}
