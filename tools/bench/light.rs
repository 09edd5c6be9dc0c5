//! The light room's two figures: a map of 120 × 60 cm at 1 cm with four lamps (to stay under
//! 0.1 s on one core) and the light at one point (under 20 µs).

use std::hint::black_box;
use std::time::Instant;

use quillwort::tank::light::{Lamp, LightField, PhotonBands, Scene, WaterColour};
use quillwort::units::{Angle, Attenuation, Length, PhotonFlux};

fn cm(value: f64) -> Length {
    Length::from_cm(value)
}

fn scene() -> Scene {
    Scene {
        water: WaterColour::stained(Attenuation::from_per_m(1.0)),
        ..Scene::open(cm(120.0), cm(60.0), cm(50.0))
    }
}

fn lamps() -> Vec<Lamp> {
    [(30.0, 15.0), (90.0, 15.0), (30.0, 45.0), (90.0, 45.0)]
        .map(|(x, y)| Lamp {
            centre: (cm(x), cm(y)),
            size: (cm(50.0), cm(10.0)),
            above_water: cm(10.0),
            beam: Angle::from_degrees(120.0),
            flux: PhotonFlux::from_umol_s(60.0),
            bands: PhotonBands::EVEN,
        })
        .into()
}

/// The median of `runs` timings of `work`, in seconds.
fn median(runs: usize, mut work: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed().as_secs_f64()
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[runs / 2]
}

fn main() {
    let (scene, lamps) = (scene(), lamps());
    let made = median(11, || drop(black_box(LightField::new(black_box(&lamps), &scene))));
    let field = LightField::new(&lamps, &scene).expect("the bench's lamps are lawful");
    let slope = |_: Length, y: Length| Length::from_m(0.03 + 0.05 * y.m() / 0.6);
    let dome = |x: Length, y: Length| Length::from_m(0.04 + 0.03 * (4.0 * x.m()).sin() * (5.0 * y.m()).sin());
    let map = median(11, || drop(black_box(field.map(slope, cm(1.0)))));
    let uneven = median(11, || drop(black_box(field.map(dome, cm(1.0)))));
    let points = 10_000;
    let at = median(11, || {
        for i in 0..points {
            let share = f64::from(i) / f64::from(points);
            let (x, y) = (120.0 * share, 60.0 * (share * 97.0).fract());
            black_box(field.at(cm(x), cm(y), cm(2.0 + 40.0 * (share * 31.0).fract())));
        }
    });
    println!("light field of 4 lamps        {:9.3} ms", 1e3 * made);
    println!("map 120×60 cm at 1 cm, slope  {:9.3} ms", 1e3 * map);
    println!("map 120×60 cm at 1 cm, mounds {:9.3} ms", 1e3 * uneven);
    println!("light at a point, 4 lamps     {:9.3} µs", 1e6 * at / f64::from(points));
}
