//! What no single key can tell: whether the whole can be a tank.

use std::ops::Range;

use super::section::Places;
use super::spec::{LampSpec, Region, Spot, TankSpec, ZoneSpec};
use crate::diagnostic::{Finding, Findings};
use crate::units::{Interval, Length, Quantity, UnitSystem};

/// Plausible spans; outside them the file is taken to be a slip of the pen.
const GLASS_CM: (f64, f64) = (5.0, 500.0);
const WATER_C: (f64, f64) = (1.0, 40.0);
const PH: (f64, f64) = (3.5, 10.5);
const HARDNESS_DEGREES: (f64, f64) = (0.0, 60.0);
const GAS_MG_L: (f64, f64) = (0.5, 100.0);

/// Adds a finding for everything in `spec` that cannot be.
pub(super) fn check(spec: &TankSpec, places: &Places, findings: &mut Findings) {
    let mut checker = Checker { spec, places, findings };
    checker.glass_and_bed();
    checker.light();
    checker.water_and_gas();
    checker.hardscape();
    checker.zones();
    checker.wishes();
}

struct Checker<'a> {
    spec: &'a TankSpec,
    places: &'a Places,
    findings: &'a mut Findings,
}

fn show<Q: Quantity>(q: Q) -> String {
    q.show(UnitSystem::Metric)
}

impl Checker<'_> {
    /// Where `section.key` stands, or the section, or the top of the file.
    fn place(&self, section: &str, key: &str) -> Range<usize> {
        let key = self.places.get(&format!("{section}.{key}"));
        key.or_else(|| self.places.get(section)).cloned().unwrap_or(0..0)
    }

    fn error(&mut self, place: Range<usize>, message: String, expected: impl Into<String>) {
        let finding = Finding::error(message).at(&self.spec.document, place);
        self.findings.push(finding.expected(expected));
    }

    fn warn(&mut self, place: Range<usize>, message: String, expected: impl Into<String>) {
        let finding = Finding::warning(message).at(&self.spec.document, place);
        self.findings.push(finding.expected(expected));
    }

    fn glass_and_bed(&mut self) {
        let (glass, bed) = (&self.spec.glass, &self.spec.bed);
        let (glass, bed) = (glass.clone(), bed.clone());
        for (key, value) in [("length", glass.length), ("depth", glass.depth), ("height", glass.height)] {
            if !(GLASS_CM.0..=GLASS_CM.1).contains(&value.cm()) {
                let place = self.place("glass", key);
                self.error(
                    place,
                    format!("the {key} of the glass is {}", show(value)),
                    "between 5 cm and 500 cm",
                );
            }
        }
        if glass.water.cm() <= 0.0 || glass.water.base() > glass.height.base() {
            let message =
                format!("the water stands at {}, the rim at {}", show(glass.water), show(glass.height));
            let place = self.place("glass", "water");
            self.error(place, message, "a water level above the floor and not above the rim");
        }
        if !(0.0..=1.0).contains(&glass.cover_transmittance.value()) {
            let place = self.place("glass", "cover_transmittance");
            self.error(place, "a cover passes between none and all of the light".to_owned(), "0 % to 100 %");
        }
        for (key, value) in [("front", bed.front), ("back", bed.back)] {
            let place = self.place("bed", key);
            if value.cm() < 0.0 {
                self.error(place, format!("the bed is {} thick", show(value)), "0 cm or more");
            } else if value.base() >= glass.water.base() {
                let message =
                    format!("the bed is {} thick and the water {} high", show(value), show(glass.water));
                self.error(place, message, "a bed below the water");
            }
        }
    }

    fn light(&mut self) {
        let hours = self.spec.light.hours;
        if !(hours.hours() > 0.0 && hours.hours() <= 24.0) {
            let place = self.place("light", "hours");
            self.error(
                place,
                format!("the light is on {} a day", show(hours)),
                "more than 0 and at most 24 hours",
            );
        }
        if !(0.0..=1.0).contains(&self.spec.light.floating_cover.value()) {
            let place = self.place("light", "floating_cover");
            self.error(place, "floating plants cover between none and all".to_owned(), "0 % to 100 %");
        }
        for (i, lamp) in self.spec.light.lamps.clone().iter().enumerate() {
            self.lamp(i, lamp);
        }
        for (i, reading) in self.spec.light.readings.clone().iter().enumerate() {
            if !self.inside(reading.at) {
                let place = self.place(&format!("light.reading[{i}]"), "at");
                self.error(place, "the reading lies outside the glass".to_owned(), self.extent());
            }
            let (lo, hi) = reading.ppfd.ends();
            if lo.base() <= 0.0 || hi.base() > 3000.0 {
                let place = self.place(&format!("light.reading[{i}]"), "ppfd");
                self.error(place, format!("a reading of {}", show(hi)), "above 0 and at most 3000 umol/m2/s");
            }
            if reading.above_bed.base() < 0.0 || reading.above_bed.base() > self.spec.glass.water.base() {
                let place = self.place(&format!("light.reading[{i}]"), "above_bed");
                self.error(
                    place,
                    "the reading was not taken under water".to_owned(),
                    "a height between bed and surface",
                );
            }
        }
    }

    fn lamp(&mut self, i: usize, lamp: &LampSpec) {
        use super::spec::LampOutput::{LumenPower, Lumens, PhotonPower, Photons};
        let beam = lamp.beam.degrees();
        let above = lamp.above_water.cm();
        let (a, b) = (lamp.size.0.cm(), lamp.size.1.cm());
        let output = match &lamp.output {
            Photons(q) => q.base(),
            Lumens(q) => q.base(),
            PhotonPower(w, e) => w.base().min(e.base()),
            LumenPower(w, e) => w.base().min(e.base()),
        };
        let complaints = [
            (
                !(beam > 0.0 && beam < 180.0),
                "beam",
                format!("a beam of {beam:.0}°"),
                "above 0° and below 180°",
            ),
            (
                !(0.5..=300.0).contains(&above),
                "above_water",
                format!("a lamp {above:.1} cm above the water"),
                "between 0.5 cm and 300 cm",
            ),
            (
                !(a > 0.0 && b > 0.0 && a.max(b) <= 500.0),
                "size",
                format!("a lamp of {a:.1} × {b:.1} cm"),
                "two lengths above 0, at most 500 cm",
            ),
            (
                !(output > 0.0 && output < 1e6 && lamp.output_known.is_none_or(|k| k.lo().value() > 0.0)),
                "photon_flux",
                "the output of a lamp".to_owned(),
                "a figure above 0",
            ),
            (
                !(0.0..=1.0).contains(&lamp.dimmed_to.value()),
                "dimmed_to",
                format!("dimmed to {}", show(lamp.dimmed_to)),
                "0 % to 100 %",
            ),
            (
                !self.near(lamp.at),
                "at",
                "the lamp hangs beside the tank".to_owned(),
                "a centre over the glass or within 50 cm of it",
            ),
        ];
        for (wrong, key, message, expected) in complaints {
            if wrong {
                let place = self.place(&format!("light.lamp[{i}]"), key);
                self.error(place, message, expected);
            }
        }
    }

    fn water_and_gas(&mut self) {
        let (water, gas) = (self.spec.water.clone(), self.spec.gas.clone());
        self.span("water", "temperature", water.temperature, WATER_C, "between 1 °C and 40 °C");
        self.span("water", "ph", water.ph, PH, "between 3.5 and 10.5");
        self.span("water", "gh", water.gh, HARDNESS_DEGREES, "between 0 and 60 dGH");
        self.span("water", "kh", water.kh, HARDNESS_DEGREES, "between 0 and 60 dKH");
        if water.kh.lo().dkh() <= 0.0 {
            let place = self.place("water", "kh");
            self.warn(
                place,
                "a KH of 0 says nothing about the CO2".to_owned(),
                "the drop test reads to about 0.5 dKH: write \"0.2..0.5 dKH\"",
            );
        }
        if let Some(target) = gas.target {
            self.span("gas", "target", target, GAS_MG_L, "between 0.5 and 100 mg/L");
        }
        for (key, value) in [("on_before", gas.on_before), ("off_before", gas.off_before)] {
            if !(0.0..=12.0).contains(&value.hours()) {
                let place = self.place("gas", key);
                self.error(place, format!("`{key}` is {}", show(value)), "between 0 h and 12 h");
            }
        }
        if let Some(share) = water.weekly_change
            && !(0.0..=1.0).contains(&share.value())
        {
            let place = self.place("water", "weekly_change");
            self.error(place, format!("{} of the water is changed", show(share)), "0 % to 100 %");
        }
        if let Some(flow) = self.spec.filter_flow
            && !(0.0..=50_000.0).contains(&flow.l_h())
        {
            let place = self.place("filter", "flow");
            self.error(place, format!("a flow of {}", show(flow)), "0 L/h or more");
        }
    }

    fn span<Q: Quantity>(
        &mut self,
        section: &str,
        key: &str,
        value: Interval<Q>,
        within: (f64, f64),
        expected: &str,
    ) {
        let (lo, hi) = value.ends();
        if lo.base() < within.0 || hi.base() > within.1 {
            let place = self.place(section, key);
            self.error(place, format!("`{section}.{key}` is {}", value.show(UnitSystem::Metric)), expected);
        }
    }

    fn inside(&self, spot: Spot) -> bool {
        let slack = 1e-9;
        let fits = |v: Length, max: Length| v.base() >= -slack && v.base() <= max.base() + slack;
        fits(spot.0, self.spec.glass.length) && fits(spot.1, self.spec.glass.depth)
    }

    fn near(&self, spot: Spot) -> bool {
        let fits = |v: Length, max: Length| v.cm() >= -50.0 && v.cm() <= max.cm() + 50.0;
        fits(spot.0, self.spec.glass.length) && fits(spot.1, self.spec.glass.depth)
    }

    fn extent(&self) -> String {
        let glass = &self.spec.glass;
        format!("inside {} × {} (length × depth)", show(glass.length), show(glass.depth))
    }

    fn hardscape(&mut self) {
        for (i, piece) in self.spec.hardscape.clone().iter().enumerate() {
            if !piece.outline.spots().all(|p| self.inside(p)) {
                let place = self.place(&format!("hardscape[{i}]"), "outline");
                self.error(place, format!("`{}` reaches outside the glass", piece.name), self.extent());
            }
            if piece.top.base() <= 0.0 || piece.top.cm() > 300.0 {
                let place = self.place(&format!("hardscape[{i}]"), "top");
                self.error(
                    place,
                    format!("the top of `{}` is at {}", piece.name, show(piece.top)),
                    "above the floor",
                );
            }
        }
    }

    fn zones(&mut self) {
        let zones = self.spec.zones.clone();
        for (i, zone) in zones.iter().enumerate() {
            if zones[..i].iter().any(|z| z.name == zone.name) {
                let place = self.place(&format!("zone[{i}]"), "name");
                self.error(
                    place,
                    format!("two zones are called `{}`", zone.name),
                    "a name of its own for each zone",
                );
            }
            self.zone(i, zone);
        }
    }

    fn zone(&mut self, i: usize, zone: &ZoneSpec) {
        if let Region::Outline(outline) = &zone.region
            && !outline.spots().all(|p| self.inside(p))
        {
            let named = ["outline", "from_front", "from_left"].map(|k| self.place(&format!("zone[{i}]"), k));
            let header = self.place(&format!("zone[{i}]"), "");
            let place = named.into_iter().find(|p| *p != header).unwrap_or(header);
            self.error(place, format!("the zone `{}` reaches outside the glass", zone.name), self.extent());
        }
        let tallest = zone.tallest.map_or(f64::INFINITY, Quantity::base);
        let shortest = zone.shortest.map_or(0.0, Quantity::base);
        if tallest <= 0.0 || shortest < 0.0 || shortest > tallest {
            let place = self.place(&format!("zone[{i}]"), "tallest");
            self.error(
                place,
                format!("the heights of `{}` leave no plant", zone.name),
                "0 < shortest ≤ tallest",
            );
        }
    }

    fn wishes(&mut self) {
        let wishes = &self.spec.wishes;
        let both: Vec<_> = wishes
            .must
            .iter()
            .filter(|m| wishes.never.iter().any(|n| n.text.eq_ignore_ascii_case(&m.text)))
            .cloned()
            .collect();
        for wish in both {
            self.error(
                wish.span,
                format!("`{}` must be on the list and never be on it", wish.text),
                "one or the other",
            );
        }
        if self.spec.zones.is_empty() {
            self.warn(
                0..0,
                "the file has no [[zone]]: nothing can be filled".to_owned(),
                "a [[zone]] for each part of the layout",
            );
        }
    }
}
