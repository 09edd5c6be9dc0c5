//! Snell and Fresnel at a flat boundary of two clear media.

use crate::units::{Angle, Fraction};

/// What a flat boundary does to an unpolarised ray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fresnel {
    /// Angle of the refracted ray; `None` under total internal reflection.
    pub refraction: Option<Angle>,
    /// Reflectance for light polarised across the plane of incidence.
    pub r_s: Fraction,
    /// Reflectance for light polarised in the plane of incidence.
    pub r_p: Fraction,
}

impl Fresnel {
    /// Share reflected of unpolarised light.
    pub fn reflectance(self) -> Fraction {
        Fraction::new(f64::midpoint(self.r_s.value(), self.r_p.value()))
    }

    /// Share transmitted of unpolarised light.
    pub fn transmittance(self) -> Fraction {
        Fraction::new(1.0 - self.reflectance().value())
    }
}

/// A ray that meets the boundary from the medium of index `from` at `incidence` (0–90° from the
/// normal) towards the medium of index `to`.
///
/// Fresnel's equations; 0.020373 at normal incidence and no `r_p` at 53.123° for n = 1.333,
/// total beyond 48.607° from the water side.
pub fn fresnel(from: f64, to: f64, incidence: Angle) -> Fresnel {
    let cos_i = libm::cos(incidence.radians());
    let sin_t = from / to * libm::sin(incidence.radians());
    if sin_t >= 1.0 {
        return Fresnel { refraction: None, r_s: Fraction::new(1.0), r_p: Fraction::new(1.0) };
    }
    let cos_t = (1.0 - sin_t * sin_t).sqrt();
    let (r_s, r_p) = reflectances(from, cos_i, to, cos_t);
    Fresnel {
        refraction: Some(Angle::from_radians(libm::asin(sin_t))),
        r_s: Fraction::new(r_s),
        r_p: Fraction::new(r_p),
    }
}

fn reflectances(from: f64, cos_i: f64, to: f64, cos_t: f64) -> (f64, f64) {
    let s = (from * cos_i - to * cos_t) / (from * cos_i + to * cos_t);
    let p = (to * cos_i - from * cos_t) / (to * cos_i + from * cos_t);
    (s * s, p * p)
}

/// Unpolarised transmittance from air into water of index `n`, given both cosines.
pub(super) fn surface_transmittance(n: f64, cos_air: f64, cos_water: f64) -> f64 {
    if cos_air <= 0.0 {
        return 0.0;
    }
    let (s, p) = reflectances(1.0, cos_air, n, cos_water);
    1.0 - f64::midpoint(s, p)
}

/// Unpolarised reflectance of a wall seen from water of index `n`, given the cosine of the angle
/// between ray and wall normal. A plane pane of glass between water and air leaves Snell's law
/// across it, and so the critical angle, as it is; its own weak reflections are left out.
pub(super) fn wall_reflectance(n: f64, cos_water: f64) -> f64 {
    let sin_air_squared = n * n * (1.0 - cos_water * cos_water);
    if sin_air_squared >= 1.0 {
        return 1.0;
    }
    let (s, p) = reflectances(n, cos_water, 1.0, (1.0 - sin_air_squared).sqrt());
    f64::midpoint(s, p)
}
