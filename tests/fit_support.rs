//! What the tests of fit share: the shipped catalogue, computed tanks, plants made to measure.

use std::path::Path;
use std::sync::LazyLock;

use quillwort::catalogue::{Catalogue, Envelope, Plant, SHIPPED, read_catalogue};
use quillwort::diagnostic::Document;
use quillwort::fit::{Measured, ZoneConditions};
use quillwort::tank::file::{self, TankSpec};
use quillwort::tank::light::{PhotonBands, Spectrum};
use quillwort::tank::{TankModel, model};
use quillwort::units::{Interval, Quantity};

/// The demo tanks.
pub const DEMOS: [&str; 3] = ["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"];

/// The shipped catalogue and its lamp spectra.
pub static SHELF: LazyLock<(Catalogue, Vec<Spectrum>)> = LazyLock::new(|| {
    let documents: Vec<_> = SHIPPED.iter().map(|f| Document::new(f.name, f.text)).collect();
    let (catalogue, _) = read_catalogue(&documents);
    let spectrum = |light: &quillwort::catalogue::LightSource| Spectrum {
        key: light.key.clone(),
        lux_per_umol: light.lux_per_umol,
        bands: PhotonBands::from_shares(&light.bands).expect("shipped bands add up"),
    };
    let spectra = catalogue.lights.iter().map(spectrum).collect();
    (catalogue, spectra)
});

/// All plants.
pub fn plants() -> &'static [Plant] {
    &SHELF.0.plants
}

/// A plant by its key.
pub fn plant(key: &str) -> &'static Plant {
    plants().iter().find(|p| p.id.0 == key).unwrap_or_else(|| panic!("no plant `{key}`"))
}

/// A tank file read.
pub fn spec(text: &str) -> TankSpec {
    let (spec, _) = file::read(&Document::new("a tank", text)).unwrap_or_else(|e| panic!("{e}"));
    spec
}

/// A demo tank's text.
pub fn demo_text(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/demo").join(name);
    std::fs::read_to_string(path).expect("the demo is there")
}

/// A tank computed.
pub fn computed(spec: &TankSpec) -> TankModel {
    let spectra = &SHELF.1;
    let default = spectra.iter().find(|s| s.key == "led-6600k").expect("the usual spectrum is shipped");
    model(spec, spectra, default).expect("the tank can be computed")
}

/// A demo tank computed.
pub fn demo_model(name: &str) -> TankModel {
    computed(&spec(&demo_text(name)))
}

/// An envelope in base units.
pub fn envelope<Q: Quantity>([a, b, c, d]: [f64; 4]) -> Envelope<Q> {
    let q = Q::from_base;
    Envelope::new(q(a), q(b), q(c), q(d)).expect("the envelope ascends")
}

/// A value known exactly.
pub fn exactly<Q: Quantity>(value: f64) -> Measured<Q> {
    Measured::exact(Q::from_base(value))
}

/// A value known within a range, its middle taken.
pub fn within<Q: Quantity>(lo: f64, hi: f64) -> Measured<Q> {
    Measured::of(Interval::spanning(Q::from_base(lo), Q::from_base(hi)))
}

/// The conditions with every value known exactly: at `share` of each range, in the order
/// temperature, pH, GH, KH, CO2, bicarbonate, light.
pub fn pinned(zone: &ZoneConditions, share: [f64; 7]) -> ZoneConditions {
    fn at<Q: Quantity>(measured: Measured<Q>, share: f64) -> Measured<Q> {
        let (lo, hi) = measured.range().ends();
        exactly(lo.base() + share * (hi.base() - lo.base()))
    }
    let mut after = zone.clone();
    let (water, [t, ph, gh, kh, co2, hco3, gain]) = (&mut after.water, share);
    water.temperature = at(water.temperature, t);
    water.ph = at(water.ph, ph);
    water.gh = at(water.gh, gh);
    water.kh = at(water.kh, kh);
    water.co2 = at(water.co2, co2);
    water.bicarbonate_as_co2 = at(water.bicarbonate_as_co2, hco3);
    after.gain = at(after.gain, gain);
    after
}

/// A small random stream, the same on every machine (SplitMix64, Steele, Lea & Flood 2014).
pub struct Stream(pub u64);

impl Stream {
    /// The next number from 0 to 1.
    pub fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// One of a list.
    pub fn pick<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[((self.next() * list.len() as f64) as usize).min(list.len() - 1)]
    }
}
