//! Lamp spectra: lux per PPFD and the share of photons by waveband.

use super::Row;
use crate::diagnostic::Findings;

/// One row of `light-sources.csv` with its rows of `light-bands.csv`.
#[derive(Debug, Clone, PartialEq)]
pub struct LightSource {
    /// The key a tank file names.
    pub key: String,
    /// What it stands for.
    pub description: String,
    /// Illuminance in lux for one µmol m⁻² s⁻¹ of PAR.
    pub lux_per_umol: f64,
    /// Band start and end in nm, and the share of the PAR photons in it.
    pub bands: Vec<(f64, f64, f64)>,
    /// Where the figures come from.
    pub source: String,
}

impl LightSource {
    /// The columns of `light-sources.csv`, in file order.
    pub const COLUMNS: &'static [&'static str] = &["key", "description", "luxPerUmol", "sourceKey"];
    /// The columns of `light-bands.csv`, in file order.
    pub const BAND_COLUMNS: &'static [&'static str] = &["key", "bandStartNm", "bandEndNm", "photonFraction"];

    /// Reads a row, its bands still empty; `None` when anything in it is wrong.
    pub fn from_row(row: &Row, findings: &mut Findings) -> Option<Self> {
        Some(Self {
            key: row.text("key").to_owned(),
            description: row.text("description").to_owned(),
            lux_per_umol: number(row, "luxPerUmol", findings)?,
            bands: Vec::new(),
            source: row.text("sourceKey").to_owned(),
        })
    }

    /// Reads a row of bands: its key and the band.
    pub fn band_from_row(row: &Row, findings: &mut Findings) -> Option<(String, (f64, f64, f64))> {
        let (start, end) = (number(row, "bandStartNm", findings), number(row, "bandEndNm", findings));
        let share = number(row, "photonFraction", findings);
        Some((row.text("key").to_owned(), (start?, end?, share?)))
    }
}

fn number(row: &Row, column: &str, findings: &mut Findings) -> Option<f64> {
    let cell = row.cell(column);
    let value = cell.text.parse::<f64>().ok().filter(|v| v.is_finite() && *v >= 0.0);
    if value.is_none() {
        findings
            .push(cell.finding(format!("`{}` is not a number", cell.text)).expected("a number, 0 or more"));
    }
    value
}
