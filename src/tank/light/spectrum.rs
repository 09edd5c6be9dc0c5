//! The colour of a lamp: what turns lumens and lux into photons, and which photons the water takes.

use crate::units::{
    Dli, Duration, Fraction, Illuminance, LuminousEfficacy, LuminousFlux, PhotonEfficacy, PhotonFlux, Power,
    Ppfd,
};

/// Number of 20 nm bands from 400 to 700 nm.
pub const BANDS: usize = 15;

/// Share of the photons of 400–700 nm in each 20 nm band; sums to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhotonBands([f64; BANDS]);

/// Why a spectrum is refused.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SpectrumError {
    /// A band that is empty or whose share is not between 0 and 1.
    #[error("the band {start_nm} to {end_nm} nm with a share of {share} of the photons is out of order")]
    Band {
        /// Start as given.
        start_nm: f64,
        /// End as given.
        end_nm: f64,
        /// Share as given.
        share: f64,
    },
    /// The shares do not add up.
    #[error("the photon shares add up to {sum}, expected 1 within 0.005")]
    Sum {
        /// Their sum.
        sum: f64,
    },
}

impl PhotonBands {
    /// As many photons in every band: for a lamp of unknown spectrum.
    pub const EVEN: Self = Self([1.0 / 15.0; BANDS]);

    /// From bands of any width as (start nm, end nm, share of the photons), the photons of a band
    /// taken as even over it. What lies outside 400–700 nm is no PAR and is left out.
    ///
    /// # Errors
    /// A share or band that is out of order, or shares within 400–700 nm that do not add up to 1
    /// within 0.005; smaller rounding is evened out.
    pub fn from_shares(bands: &[(f64, f64, f64)]) -> Result<Self, SpectrumError> {
        let mut shares = [0.0; BANDS];
        for &(start_nm, end_nm, share) in bands {
            if !((0.0..=1.0).contains(&share) && start_nm < end_nm && (end_nm - start_nm).is_finite()) {
                return Err(SpectrumError::Band { start_nm, end_nm, share });
            }
            for (low, sum) in (400..).step_by(20).map(f64::from).zip(&mut shares) {
                let overlap = end_nm.min(low + 20.0) - start_nm.max(low);
                *sum += share * overlap.max(0.0) / (end_nm - start_nm);
            }
        }
        let sum: f64 = shares.iter().sum();
        if (sum - 1.0).abs() > 0.005 {
            return Err(SpectrumError::Sum { sum });
        }
        Ok(Self(shares.map(|f| f / sum)))
    }

    /// Start of each band in nm with its share.
    pub fn iter(&self) -> impl Iterator<Item = (f64, Fraction)> + '_ {
        self.0.iter().enumerate().map(|(i, &f)| (400.0 + 20.0 * i as f64, Fraction::new(f)))
    }
}

/// A lamp spectrum as the light room needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct Spectrum {
    /// Key in the table of light sources.
    pub key: String,
    /// Illuminance per PPFD, lux per µmol m⁻² s⁻¹: about 50 to 85 for white light.
    pub lux_per_umol: f64,
    /// Where its photons lie.
    pub bands: PhotonBands,
}

impl Spectrum {
    /// Photon flux of so many lumens of this light: 14.9105 µmol/s in 1000 lm of CIE LED-B1.
    pub fn photon_flux(&self, lumens: LuminousFlux) -> PhotonFlux {
        PhotonFlux::from_umol_s(lumens.lumens() / self.lux_per_umol)
    }

    /// Photon efficacy of a lamp of this light: 1.49105 µmol/J at 100 lm/W of CIE LED-B1.
    pub fn photon_efficacy(&self, efficacy: LuminousEfficacy) -> PhotonEfficacy {
        PhotonEfficacy::from_umol_j(efficacy.lm_w() / self.lux_per_umol)
    }

    /// PPFD where a lux meter in this light shows `reading`.
    pub fn ppfd(&self, reading: Illuminance) -> Ppfd {
        Ppfd::from_umol_m2_s(reading.lux() / self.lux_per_umol)
    }
}

/// Photon flux of a lamp from its electrical power and photon efficacy.
pub fn photon_flux_of_power(power: Power, efficacy: PhotonEfficacy) -> PhotonFlux {
    PhotonFlux::from_umol_s(power.watts() * efficacy.umol_j())
}

/// Light of a day at a steady PPFD: 0.324 mol m⁻² d⁻¹ from 15 µmol m⁻² s⁻¹ in 6 h.
pub fn daily_integral(ppfd: Ppfd, light: Duration) -> Dli {
    Dli::from_mol_m2_d(ppfd.umol_m2_s() * light.hours() * 3600.0 / 1e6)
}
