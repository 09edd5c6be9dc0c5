//! The light room against rays traced backwards from the receiver, wall by wall: no images, no
//! tables, no edges. Also the laws that any light field keeps.

use quillwort::tank::light::{
    Lamp, LightField, PathTransmission, PhotonBands, Scene, WATER_INDEX, WaterColour, fresnel,
};
use quillwort::units::{Angle, Attenuation, Length, PhotonFlux};

pub fn cm(value: f64) -> Length {
    Length::from_cm(value)
}

/// A lamp of 40 µmol/s; centre, size and height in cm, beam in degrees.
pub fn lamp(centre: (f64, f64), size: (f64, f64), above: f64, beam: f64) -> Lamp {
    Lamp {
        centre: (cm(centre.0), cm(centre.1)),
        size: (cm(size.0), cm(size.1)),
        above_water: cm(above),
        beam: Angle::from_degrees(beam),
        flux: PhotonFlux::from_umol_s(40.0),
        bands: PhotonBands::EVEN,
    }
}

/// A tank of length, depth and water level in cm.
pub fn tank(length: f64, depth: f64, water: f64, a440: f64) -> Scene {
    Scene {
        water: WaterColour::stained(Attenuation::from_per_m(a440)),
        ..Scene::open(cm(length), cm(depth), cm(water))
    }
}

/// PPFD at a point by `rays` rays spread evenly (golden-ratio lattice) over cosine and azimuth.
fn traced(lamp: &Lamp, scene: &Scene, at: [f64; 3], rays: u32) -> f64 {
    let water = PathTransmission::new(&scene.water, &lamp.bands);
    let (m, depth) = (lamp.exponent(), scene.water_level.m() - at[2]);
    let area = lamp.size.0.m() * lamp.size.1.m();
    let strength = lamp.flux.umol_s() / area * (m + 1.0) / std::f64::consts::TAU;
    let golden = 0.618_033_988_749_894_9;
    let mut sum = 0.0;
    for i in 0..rays {
        let cos_air = (f64::from(i) + 0.5) / f64::from(rays);
        let azimuth = std::f64::consts::TAU * (f64::from(i) * golden).fract();
        let air = Angle::from_radians(cos_air.acos());
        let surface = fresnel(1.0, WATER_INDEX, air);
        let sin_water = (1.0 - cos_air * cos_air).sqrt() / WATER_INDEX;
        let cos_water = (1.0 - sin_water * sin_water).sqrt();
        let mut weight = cos_air.powf(m) * surface.transmittance().value();
        weight *= water.over(Length::from_m(depth / cos_water)).value();
        let away = [azimuth.cos(), azimuth.sin()];
        let mut hit = true;
        for axis in 0..2 {
            let (extent, lamp_centre, lamp_size) = if axis == 0 {
                (scene.length.m(), lamp.centre.0.m(), lamp.size.0.m())
            } else {
                (scene.depth.m(), lamp.centre.1.m(), lamp.size.1.m())
            };
            // Walk up to the surface, turning at each wall.
            let (mut place, mut speed) = (at[axis], away[axis] * sin_water / cos_water);
            let mut left = depth;
            loop {
                let wall = if speed > 0.0 { extent } else { 0.0 };
                let climb = if speed == 0.0 { f64::INFINITY } else { (wall - place) / speed };
                if climb >= left {
                    place += speed * left;
                    break;
                }
                left -= climb;
                place = wall;
                let to_normal = Angle::from_radians((away[axis].abs() * sin_water).acos());
                weight *= fresnel(WATER_INDEX, 1.0, to_normal).reflectance().value();
                speed = -speed;
            }
            let tan_air = sin_water * WATER_INDEX / cos_air;
            place += speed.signum() * away[axis].abs() * tan_air * lamp.above_water.m();
            hit &= (place - lamp_centre).abs() <= 0.5 * lamp_size;
        }
        if hit {
            sum += weight;
        }
    }
    strength * sum / f64::from(rays) * std::f64::consts::TAU
}

#[test]
fn every_ray_back_from_a_point_finds_the_same_light() {
    let cases = [
        (lamp((30.0, 15.0), (50.0, 8.0), 8.0, 120.0), tank(60.0, 30.0, 32.0, 1.0)),
        (lamp((12.0, 24.0), (20.0, 10.0), 5.0, 150.0), tank(60.0, 30.0, 32.0, 0.0)),
        (lamp((30.0, 15.0), (90.0, 40.0), 12.0, 120.0), tank(60.0, 30.0, 55.0, 5.0)),
        (lamp((15.0, 15.0), (28.0, 12.0), 20.0, 60.0), tank(30.0, 30.0, 60.0, 0.0)),
        (lamp((55.0, 10.0), (8.0, 8.0), 2.0, 170.0), tank(60.0, 30.0, 40.0, 0.0)),
    ];
    for (lamp, scene) in &cases {
        let field = LightField::new(std::slice::from_ref(lamp), scene).expect("a lawful lamp");
        for at in
            [[0.31, 0.16, 0.05], [0.005, 0.004, 0.02], [0.59, 0.02, 0.1], [0.2, 0.29, 0.25], [0.0, 0.1, 0.0]]
        {
            if at[0] > scene.length.m() {
                continue;
            }
            let found =
                field.at(Length::from_m(at[0]), Length::from_m(at[1]), Length::from_m(at[2])).umol_m2_s();
            let expected = traced(lamp, scene, at, 3_000_000);
            let allowed = 0.003 * expected + 1.3;
            assert!((found - expected).abs() < allowed, "{found} against {expected} at {at:?}: {lamp:?}");
        }
    }
}
