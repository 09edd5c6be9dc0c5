//! One taxon or cultivar of the catalogue.

use super::vocabulary::{
    CarbonUse, Colour, Emersed, Feeding, Footing, GrowthForm, Hazard, Lasting, LeafTexture, Offered,
    Placement,
};
use super::{Cell, Envelope, Row};
use crate::diagnostic::{Finding, Findings, nearest};
use crate::units::{
    CarbonateHardness, Concentration, GeneralHardness, Interval, Length, Ph, Ppfd, Quantity, Temperature,
};

/// The key of a taxon: a slug of letters, digits and hyphens.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(transparent)]
pub struct TaxonId(pub String);

impl std::fmt::Display for TaxonId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(&self.0)
    }
}

/// One row of `plants.csv`. Heights are submerged heights in cultivation.
#[derive(Debug, Clone, PartialEq)]
pub struct Plant {
    /// The key.
    pub id: TaxonId,
    /// The accepted name without author and cultivar.
    pub scientific_name: String,
    /// The cultivar, without quotes.
    pub cultivar: Option<String>,
    /// The author of the accepted name.
    pub authorship: String,
    /// The family.
    pub family: String,
    /// The usual English name.
    pub vernacular: String,
    /// The habit.
    pub growth_form: GrowthForm,
    /// The places in the layout it serves.
    pub placements: Vec<Placement>,
    /// What it can hold on to.
    pub footings: Vec<Footing>,
    /// Height of a grown, maintained plant.
    pub height: Interval<Length>,
    /// Width of one grown plant.
    pub spread: Length,
    /// Distance between portions at planting.
    pub spacing: Length,
    /// PPFD at the leaf for an 8 h day; judged as daily light integral.
    pub light: Envelope<Ppfd>,
    /// Which carbon it uses.
    pub carbon_use: CarbonUse,
    /// Usable carbon, as CO2, at which growth stops.
    pub co2_min: Concentration,
    /// Usable carbon, as CO2, from which more does not help.
    pub co2_opt: Concentration,
    /// Relative growth rate at its optimum, 1/day.
    pub growth_per_day: f64,
    /// Weeks between trims at good growth.
    pub trim_every_weeks: u32,
    /// Temperature.
    pub temperature: Envelope<Temperature>,
    /// pH.
    pub ph: Envelope<Ph>,
    /// General hardness.
    pub gh: Envelope<GeneralHardness>,
    /// Carbonate hardness.
    pub kh: Envelope<CarbonateHardness>,
    /// Where nutrients come from.
    pub feeding: Feeding,
    /// The bed it needs to root in.
    pub bed_depth_min: Length,
    /// The look of the leaf.
    pub texture: LeafTexture,
    /// The colour.
    pub colour: Colour,
    /// Growth in air.
    pub emersed: Emersed,
    /// How it lasts submerged.
    pub lasting: Lasting,
    /// How often it is offered.
    pub offered: Offered,
    /// Native areas as WGSRPD level-2 codes; empty for garden hybrids.
    pub native: Vec<String>,
    /// Hazards to people and animals.
    pub hazards: Vec<Hazard>,
    /// One sentence for the keeper.
    pub notes: String,
}

impl Plant {
    /// The columns of `plants.csv`, in file order.
    pub const COLUMNS: &'static [&'static str] = &[
        "taxonID",
        "scientificName",
        "cultivarEpithet",
        "scientificNameAuthorship",
        "family",
        "vernacularName",
        "growthForm",
        "placement",
        "footing",
        "heightMinCm",
        "heightMaxCm",
        "spreadCm",
        "spacingCm",
        "ppfdMin",
        "ppfdOptMin",
        "ppfdOptMax",
        "ppfdMax",
        "carbonUse",
        "co2MinMgL",
        "co2OptMgL",
        "growthPerDay",
        "trimEveryWeeks",
        "tempAbsMinC",
        "tempOptMinC",
        "tempOptMaxC",
        "tempAbsMaxC",
        "phAbsMin",
        "phOptMin",
        "phOptMax",
        "phAbsMax",
        "ghAbsMinDgh",
        "ghOptMinDgh",
        "ghOptMaxDgh",
        "ghAbsMaxDgh",
        "khAbsMinDkh",
        "khOptMinDkh",
        "khOptMaxDkh",
        "khAbsMaxDkh",
        "feeding",
        "bedDepthMinCm",
        "leafTexture",
        "colour",
        "emersed",
        "lasting",
        "offered",
        "native",
        "hazard",
        "notes",
    ];

    /// The accepted name with the cultivar in single quotes.
    pub fn display_name(&self) -> String {
        match &self.cultivar {
            Some(cultivar) => format!("{} '{cultivar}'", self.scientific_name),
            None => self.scientific_name.clone(),
        }
    }

    /// The first word of the name.
    pub fn genus(&self) -> &str {
        self.scientific_name.split(' ').next().unwrap_or_default()
    }

    /// Reads a row; `None` when anything in it is wrong, all of it reported.
    pub fn from_row(row: &Row, findings: &mut Findings) -> Option<Self> {
        let before = findings.len();
        let mut read = Reader { row, findings };
        let plant = read.plant();
        if findings.len() == before { plant } else { None }
    }
}

/// Native range of a garden hybrid in the data file.
const CULTIVATED: &str = "cultivated";

struct Reader<'a> {
    row: &'a Row,
    findings: &'a mut Findings,
}

impl Reader<'_> {
    fn plant(&mut self) -> Option<Plant> {
        let id = self.slug("taxonID");
        let native: Vec<String> = self.words("native").into_iter().filter(|w| w != CULTIVATED).collect();
        let height = self.pair("heightMinCm", "heightMaxCm", Length::from_cm, 0.1..=300.0);
        let light = self.envelope(
            ["ppfdMin", "ppfdOptMin", "ppfdOptMax", "ppfdMax"],
            Ppfd::from_umol_m2_s,
            0.0..=2500.0,
        );
        let co2 = self.pair("co2MinMgL", "co2OptMgL", Concentration::from_mg_l, 0.0..=50.0);
        let temperature = self.envelope(
            ["tempAbsMinC", "tempOptMinC", "tempOptMaxC", "tempAbsMaxC"],
            Temperature::from_celsius,
            -5.0..=42.0,
        );
        let ph = self.envelope(["phAbsMin", "phOptMin", "phOptMax", "phAbsMax"], Ph::new, 3.0..=11.0);
        let gh = self.envelope(
            ["ghAbsMinDgh", "ghOptMinDgh", "ghOptMaxDgh", "ghAbsMaxDgh"],
            GeneralHardness::from_dgh,
            0.0..=80.0,
        );
        let kh = self.envelope(
            ["khAbsMinDkh", "khOptMinDkh", "khOptMaxDkh", "khAbsMaxDkh"],
            CarbonateHardness::from_dkh,
            0.0..=60.0,
        );
        let cultivar = Some(self.row.text("cultivarEpithet")).filter(|c| !c.is_empty()).map(str::to_owned);
        Some(Plant {
            id: TaxonId(id),
            cultivar,
            scientific_name: self.text("scientificName"),
            authorship: self.text("scientificNameAuthorship"),
            family: self.text("family"),
            vernacular: self.text("vernacularName"),
            growth_form: self.word("growthForm", GrowthForm::from_word, GrowthForm::WORDS)?,
            placements: self.list("placement", Placement::from_word, Placement::WORDS),
            footings: self.list("footing", Footing::from_word, Footing::WORDS),
            height: height?,
            spread: Length::from_cm(self.number("spreadCm", 0.1..=300.0)?),
            spacing: Length::from_cm(self.number("spacingCm", 0.5..=150.0)?),
            light: light?,
            carbon_use: self.word("carbonUse", CarbonUse::from_word, CarbonUse::WORDS)?,
            co2_min: co2?.lo(),
            co2_opt: co2?.hi(),
            growth_per_day: self.number("growthPerDay", 0.001..=0.6)?,
            trim_every_weeks: self.number("trimEveryWeeks", 1.0..=104.0)? as u32,
            temperature: temperature?,
            ph: ph?,
            gh: gh?,
            kh: kh?,
            feeding: self.word("feeding", Feeding::from_word, Feeding::WORDS)?,
            bed_depth_min: Length::from_cm(self.number("bedDepthMinCm", 0.0..=40.0)?),
            texture: self.word("leafTexture", LeafTexture::from_word, LeafTexture::WORDS)?,
            colour: self.word("colour", Colour::from_word, Colour::WORDS)?,
            emersed: self.word("emersed", Emersed::from_word, Emersed::WORDS)?,
            lasting: self.word("lasting", Lasting::from_word, Lasting::WORDS)?,
            offered: self.word("offered", Offered::from_word, Offered::WORDS)?,
            native,
            hazards: self.list("hazard", Hazard::from_word, Hazard::WORDS),
            notes: self.text("notes"),
        })
    }

    fn slug(&mut self, column: &str) -> String {
        let cell = self.row.cell(column);
        let good = !cell.text.is_empty()
            && cell
                .text
                .split('-')
                .all(|p| !p.is_empty() && p.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit()));
        if !good {
            let finding = cell.finding(format!("`{}` is not a key", cell.text));
            self.findings.push(finding.expected("lower-case letters, digits and single hyphens"));
        }
        cell.text.to_owned()
    }

    fn text(&mut self, column: &str) -> String {
        let cell = self.row.cell(column);
        if cell.text.is_empty() {
            self.findings.push(cell.finding(format!("`{column}` is empty")));
        } else if cell.text.starts_with(['=', '+', '@', '\t']) {
            let finding = cell.finding(format!("`{column}` looks like a spreadsheet formula"));
            self.findings.push(finding.expected("plain text"));
        } else if cell.text.trim() != cell.text {
            self.findings.push(cell.finding(format!("`{column}` has blanks at its ends")));
        }
        cell.text.to_owned()
    }

    fn words(&mut self, column: &str) -> Vec<String> {
        self.text(column).split(';').map(|w| w.trim().to_owned()).filter(|w| !w.is_empty()).collect()
    }

    fn word<T>(&mut self, column: &str, from: fn(&str) -> Option<T>, words: &[&str]) -> Option<T> {
        let cell = self.row.cell(column);
        let value = from(cell.text);
        if value.is_none() {
            self.findings.push(unknown_word(&cell, column, cell.text, words));
        }
        value
    }

    fn list<T: Ord>(&mut self, column: &str, from: fn(&str) -> Option<T>, words: &[&str]) -> Vec<T> {
        let cell = self.row.cell(column);
        let mut values = Vec::new();
        for word in cell.text.split(';') {
            match from(word) {
                Some(value) => values.push(value),
                None => self.findings.push(unknown_word(&cell, column, word, words)),
            }
        }
        values.sort();
        values.dedup();
        values
    }

    fn number(&mut self, column: &str, range: std::ops::RangeInclusive<f64>) -> Option<f64> {
        let cell = self.row.cell(column);
        match cell.text.parse::<f64>() {
            Ok(value) if range.contains(&value) => Some(value),
            Ok(value) => {
                let finding = cell.finding(format!("`{column}` is {value}"));
                self.findings.push(finding.expected(format!(
                    "a number from {} to {}",
                    range.start(),
                    range.end()
                )));
                None
            }
            Err(_) => {
                let finding = cell.finding(format!("`{}` is not a number", cell.text));
                self.findings.push(
                    finding.expected(format!("`{column}` as a plain number; its unit is in the column name")),
                );
                None
            }
        }
    }

    fn pair<Q: Quantity>(
        &mut self,
        lo: &str,
        hi: &str,
        make: fn(f64) -> Q,
        range: std::ops::RangeInclusive<f64>,
    ) -> Option<Interval<Q>> {
        let (a, b) = (self.number(lo, range.clone()), self.number(hi, range));
        let interval = Interval::new(make(a?), make(b?));
        if interval.is_none() {
            let finding = self.row.cell(lo).finding(format!("`{lo}` is above `{hi}`"));
            self.findings.push(finding);
        }
        interval
    }

    fn envelope<Q: Quantity>(
        &mut self,
        columns: [&str; 4],
        make: fn(f64) -> Q,
        range: std::ops::RangeInclusive<f64>,
    ) -> Option<Envelope<Q>> {
        let values = columns.map(|c| self.number(c, range.clone()));
        let [a, b, c, d] = values;
        let envelope = Envelope::new(make(a?), make(b?), make(c?), make(d?));
        if envelope.is_none() {
            let finding = self
                .row
                .cell(columns[0])
                .finding(format!("`{}` to `{}` do not ascend", columns[0], columns[3]));
            self.findings.push(finding.expected("abs min ≤ opt min ≤ opt max ≤ abs max"));
        }
        envelope
    }
}

pub(super) fn unknown_word(cell: &Cell<'_>, column: &str, word: &str, words: &[&str]) -> Finding {
    cell.finding(format!("`{word}` is not a value of `{column}`"))
        .expected(format!("one of: {}", words.join(", ")))
        .near(nearest(word, words.iter().copied(), 1))
}
