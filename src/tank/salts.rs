//! Salts: what a weighed amount adds to water, and how much reaches a hardness.
//!
//! IUPAC atomic weights; full dissolution. Calcium carbonate dissolves only with CO2 or acid.

use super::water::WaterError;
use crate::units::{CarbonateHardness, Concentration, Fraction, GeneralHardness, Mass, Volume};

/// mmol/L of calcium and magnesium in a German degree, and mmol/L of charge: 10 mg/L of CaO
/// (56.0774 g/mol).
const MMOL_PER_DEGREE: f64 = 0.178_325;
const CHARGE_PER_DEGREE: f64 = 2.0 * MMOL_PER_DEGREE;

/// Something dissolved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ion {
    /// Ca²⁺.
    Calcium,
    /// Mg²⁺.
    Magnesium,
    /// K⁺.
    Potassium,
    /// Na⁺.
    Sodium,
    /// HCO3⁻.
    Bicarbonate,
    /// NO3⁻.
    Nitrate,
    /// PO4³⁻, whatever its protons.
    Phosphate,
    /// SO4²⁻.
    Sulphate,
    /// Cl⁻.
    Chloride,
}

impl Ion {
    /// g/mol.
    const fn g_mol(self) -> f64 {
        match self {
            Self::Calcium => 40.078,
            Self::Magnesium => 24.305,
            Self::Potassium => 39.0983,
            Self::Sodium => 22.989_77,
            Self::Bicarbonate => 61.0168,
            Self::Nitrate => 62.0049,
            Self::Phosphate => 94.9714,
            Self::Sulphate => 96.0626,
            Self::Chloride => 35.453,
        }
    }
}

/// A salt to be weighed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Salt {
    /// NaHCO3.
    SodiumBicarbonate,
    /// KHCO3.
    PotassiumBicarbonate,
    /// CaCO3; as bicarbonate once CO2 has dissolved it.
    CalciumCarbonate,
    /// CaSO4·2H2O, gypsum.
    CalciumSulphate,
    /// CaCl2·2H2O.
    CalciumChloride,
    /// MgSO4·7H2O, Epsom salt.
    MagnesiumSulphate,
    /// MgSO4 without water.
    DryMagnesiumSulphate,
    /// KNO3.
    PotassiumNitrate,
    /// KH2PO4.
    PotassiumPhosphate,
    /// K2SO4.
    PotassiumSulphate,
    /// KCl.
    PotassiumChloride,
}

impl Salt {
    /// g/mol, and the ions of one formula unit.
    const fn formula(self) -> (f64, &'static [(Ion, f64)]) {
        use Ion::{
            Bicarbonate, Calcium, Chloride, Magnesium, Nitrate, Phosphate, Potassium, Sodium, Sulphate,
        };
        match self {
            Self::SodiumBicarbonate => (84.0066, &[(Sodium, 1.0), (Bicarbonate, 1.0)]),
            Self::PotassiumBicarbonate => (100.1151, &[(Potassium, 1.0), (Bicarbonate, 1.0)]),
            Self::CalciumCarbonate => (100.0869, &[(Calcium, 1.0), (Bicarbonate, 2.0)]),
            Self::CalciumSulphate => (172.171, &[(Calcium, 1.0), (Sulphate, 1.0)]),
            Self::CalciumChloride => (147.015, &[(Calcium, 1.0), (Chloride, 2.0)]),
            Self::MagnesiumSulphate => (246.475, &[(Magnesium, 1.0), (Sulphate, 1.0)]),
            Self::DryMagnesiumSulphate => (120.368, &[(Magnesium, 1.0), (Sulphate, 1.0)]),
            Self::PotassiumNitrate => (101.1032, &[(Potassium, 1.0), (Nitrate, 1.0)]),
            Self::PotassiumPhosphate => (136.0855, &[(Potassium, 1.0), (Phosphate, 1.0)]),
            Self::PotassiumSulphate => (174.2592, &[(Potassium, 2.0), (Sulphate, 1.0)]),
            Self::PotassiumChloride => (74.551, &[(Potassium, 1.0), (Chloride, 1.0)]),
        }
    }

    fn per_formula(self, wanted: impl Fn(Ion) -> bool) -> f64 {
        self.formula().1.iter().filter(|(ion, _)| wanted(*ion)).map(|(_, count)| count).sum()
    }

    /// mmol/L of the salt.
    fn dissolved(self, mass: Mass, water: Volume) -> f64 {
        mass.kg() * 1e6 / self.formula().0 / water.litres()
    }

    /// The rise of general hardness.
    pub fn raises_gh(self, mass: Mass, water: Volume) -> GeneralHardness {
        let hard = self.per_formula(|ion| matches!(ion, Ion::Calcium | Ion::Magnesium));
        GeneralHardness::from_dgh(self.dissolved(mass, water) * hard / MMOL_PER_DEGREE)
    }

    /// The rise of carbonate hardness.
    pub fn raises_kh(self, mass: Mass, water: Volume) -> CarbonateHardness {
        let alkaline = self.per_formula(|ion| ion == Ion::Bicarbonate);
        CarbonateHardness::from_dkh(self.dissolved(mass, water) * alkaline / CHARGE_PER_DEGREE)
    }

    /// The rise of one ion.
    pub fn adds(self, ion: Ion, mass: Mass, water: Volume) -> Concentration {
        let count = self.per_formula(|i| i == ion);
        Concentration::from_mg_l(self.dissolved(mass, water) * count * ion.g_mol())
    }

    /// What to weigh to raise general hardness by `change`.
    ///
    /// # Errors
    /// A salt without calcium and magnesium.
    pub fn for_gh(self, change: GeneralHardness, water: Volume) -> Result<Mass, WaterError> {
        weighed(change.dgh(), self.raises_gh(Mass::from_kg(1.0), water).dgh())
    }

    /// What to weigh to raise carbonate hardness by `change`.
    ///
    /// # Errors
    /// A salt without bicarbonate.
    pub fn for_kh(self, change: CarbonateHardness, water: Volume) -> Result<Mass, WaterError> {
        weighed(change.dkh(), self.raises_kh(Mass::from_kg(1.0), water).dkh())
    }
}

fn weighed(wanted: f64, per_kg: f64) -> Result<Mass, WaterError> {
    if per_kg > 0.0 { Ok(Mass::from_kg(wanted / per_kg)) } else { Err(WaterError::WrongSalt) }
}

/// The calcium or magnesium of a general hardness, `share` of it being calcium, the rest magnesium.
pub fn hardness_ions(gh: GeneralHardness, share: Fraction) -> (Concentration, Concentration) {
    let mmol = gh.dgh() * MMOL_PER_DEGREE;
    let of = |ion: Ion, share: f64| Concentration::from_mg_l(mmol * share * ion.g_mol());
    (of(Ion::Calcium, share.value()), of(Ion::Magnesium, 1.0 - share.value()))
}

/// The bicarbonate of a carbonate hardness when all of it is bicarbonate.
pub fn alkalinity_as_bicarbonate(kh: CarbonateHardness) -> Concentration {
    Concentration::from_mg_l(kh.dkh() * CHARGE_PER_DEGREE * Ion::Bicarbonate.g_mol())
}
