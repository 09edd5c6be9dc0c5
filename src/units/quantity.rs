//! The newtypes themselves: one base unit each, the units people write, and how to show them.

/// A unit people write: `base = written × factor + offset`.
#[derive(Debug, Clone, Copy)]
pub struct Unit {
    /// The spellings accepted, the preferred one first.
    pub names: &'static [&'static str],
    /// Base units in one of this unit.
    pub factor: f64,
    /// Base value of zero of this unit.
    pub offset: f64,
}

const fn unit(names: &'static [&'static str], factor: f64) -> Unit {
    Unit { names, factor, offset: 0.0 }
}

/// Which units a person reads. Files may mix both freely.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitSystem {
    /// Centimetres, litres, kilograms, degrees Celsius.
    #[default]
    Metric,
    /// Inches, US gallons, pounds, degrees Fahrenheit.
    Us,
}

/// What every quantity can do: cross to and from its base unit, be parsed, be shown.
pub trait Quantity: Copy + PartialEq + std::fmt::Debug {
    /// The quantity in words, for messages ("a length").
    const KIND: &'static str;
    /// Accepted units. A quantity without units (pH) has a unit with an empty name.
    const UNITS: &'static [Unit];
    /// From the base unit.
    fn from_base(value: f64) -> Self;
    /// In the base unit.
    fn base(self) -> f64;
    /// The unit, by its index in `UNITS`, and the decimals to show it with.
    fn shown_in(system: UnitSystem) -> (usize, usize);

    /// The number alone, in the unit of `system`.
    fn show_number(self, system: UnitSystem) -> String {
        let (index, decimals) = Self::shown_in(system);
        let unit = &Self::UNITS[index];
        trimmed((self.base() - unit.offset) / unit.factor, decimals)
    }

    /// The number with its unit, in the unit of `system`.
    fn show(self, system: UnitSystem) -> String {
        let name = Self::UNITS[Self::shown_in(system).0].names[0];
        let number = self.show_number(system);
        if name.is_empty() { number } else { format!("{number} {}", pretty(name)) }
    }
}

/// Rounds to `decimals` and drops trailing zeros; never prints `-0`.
fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text =
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text };
    if text == "-0" { "0".to_owned() } else { text }
}

/// The printed form of a unit that is written in plain letters in files.
fn pretty(name: &str) -> &str {
    match name {
        "degC" => "°C",
        "degF" => "°F",
        "deg" => "°",
        "umol/s" => "µmol/s",
        "umol/m2/s" => "µmol/m²/s",
        "mol/m2/d" => "mol/m²/d",
        "umol/J" => "µmol/J",
        "m2" => "m²",
        "cm2" => "cm²",
        other => other,
    }
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $kind:literal, metric $metric:expr, us $us:expr, [$($unit:expr),+ $(,)?],
     $( $from:ident / $to:ident = $factor:expr ),+ $(,)?) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            $(
                #[doc = concat!("From the unit in the name; one of it is `", stringify!($factor), "` base units.")]
                pub const fn $from(value: f64) -> Self { Self(value * $factor) }
                #[doc = concat!("In the unit in the name; see [`", stringify!($name), "::", stringify!($from), "`].")]
                pub const fn $to(self) -> f64 { self.0 / $factor }
            )+
        }

        impl Quantity for $name {
            const KIND: &'static str = $kind;
            const UNITS: &'static [Unit] = &[$($unit),+];
            fn from_base(value: f64) -> Self { Self(value) }
            fn base(self) -> f64 { self.0 }
            fn shown_in(system: UnitSystem) -> (usize, usize) {
                match system { UnitSystem::Metric => $metric, UnitSystem::Us => $us }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(&self.show(UnitSystem::Metric))
            }
        }
    };
}

// Exact definitions: inch 0.0254 m, US gallon 3.785411784 L, imperial gallon 4.54609 L,
// pound 0.45359237 kg (NIST SP 811, appendix B).
quantity!(
    /// A length; base unit metre.
    Length, "a length", metric (1, 1), us (3, 1),
    [unit(&["m", "metre", "metres"], 1.0), unit(&["cm"], 0.01), unit(&["mm"], 0.001),
     unit(&["in", "inch", "inches", "\""], 0.0254), unit(&["ft", "foot", "feet"], 0.3048)],
    from_m / m = 1.0, from_cm / cm = 0.01, from_in / inches = 0.0254,
);
quantity!(
    /// An area; base unit square metre.
    Area, "an area", metric (1, 0), us (2, 0),
    [unit(&["m2"], 1.0), unit(&["cm2", "cm²"], 1e-4), unit(&["sq in", "in2"], 0.0254 * 0.0254),
     unit(&["sq ft", "ft2", "square feet"], 0.3048 * 0.3048)],
    from_m2 / m2 = 1.0, from_cm2 / cm2 = 1e-4,
);
quantity!(
    /// A volume; base unit litre.
    Volume, "a volume", metric (0, 1), us (1, 1),
    [unit(&["L", "l", "litre", "litres", "liter", "liters"], 1.0),
     unit(&["US gal", "gal", "US gallon", "US gallons"], 3.785_411_784),
     unit(&["imp gal", "imperial gallon", "imperial gallons"], 4.546_09), unit(&["m3"], 1000.0),
     unit(&["cu in", "in3", "cubic inches"], 0.016_387_064)],
    from_litres / litres = 1.0, from_us_gallons / us_gallons = 3.785_411_784,
    from_imperial_gallons / imperial_gallons = 4.546_09,
);
quantity!(
    /// A mass; base unit kilogram.
    Mass, "a mass", metric (0, 1), us (2, 1),
    [unit(&["kg"], 1.0), unit(&["g"], 0.001), unit(&["lb"], 0.453_592_37),
     unit(&["oz", "ounce", "ounces"], 0.453_592_37 / 16.0)],
    from_kg / kg = 1.0,
);
quantity!(
    /// A pressure; base unit kilopascal. One pound-force per square foot is 0.0478803 kPa.
    Pressure, "a pressure", metric (0, 1), us (1, 0),
    [unit(&["kPa"], 1.0), unit(&["psf", "lbf/ft2"], 0.047_880_258_98), unit(&["psi", "lbf/in2"], 6.894_757_293_2),
     unit(&["hPa", "mbar"], 0.1), unit(&["bar"], 100.0), unit(&["atm"], 101.325)],
    from_kpa / kpa = 1.0,
);
quantity!(
    /// A temperature; base unit degree Celsius.
    Temperature, "a temperature", metric (0, 1), us (1, 0),
    [unit(&["degC", "°C", "C"], 1.0),
     Unit { names: &["degF", "°F", "F"], factor: 5.0 / 9.0, offset: -160.0 / 9.0 }],
    from_celsius / celsius = 1.0,
);
quantity!(
    /// A plane angle; base unit radian.
    Angle, "an angle", metric (0, 0), us (0, 0),
    [unit(&["deg", "°", "degrees"], std::f64::consts::PI / 180.0), unit(&["rad"], 1.0)],
    from_radians / radians = 1.0, from_degrees / degrees = (std::f64::consts::PI / 180.0),
);
quantity!(
    /// Photons of 400–700 nm leaving a lamp; base unit µmol/s.
    PhotonFlux, "a photon flux", metric (0, 1), us (0, 1), [unit(&["umol/s", "µmol/s"], 1.0)],
    from_umol_s / umol_s = 1.0,
);
quantity!(
    /// Luminous flux; base unit lumen.
    LuminousFlux, "a luminous flux", metric (0, 0), us (0, 0), [unit(&["lm", "lumen", "lumens"], 1.0)],
    from_lumens / lumens = 1.0,
);
quantity!(
    /// Illuminance; base unit lux.
    Illuminance, "an illuminance", metric (0, 0), us (0, 0), [unit(&["lx", "lux"], 1.0), unit(&["fc", "foot-candle", "foot-candles"], 1.0 / (0.3048 * 0.3048))],
    from_lux / lux = 1.0,
);
quantity!(
    /// Electrical power; base unit watt.
    Power, "a power", metric (0, 1), us (0, 1), [unit(&["W", "watt", "watts"], 1.0)],
    from_watts / watts = 1.0,
);
quantity!(
    /// Photons of 400–700 nm per electrical energy; base unit µmol/J.
    PhotonEfficacy, "a photon efficacy", metric (0, 2), us (0, 2), [unit(&["umol/J", "µmol/J"], 1.0)],
    from_umol_j / umol_j = 1.0,
);
quantity!(
    /// Lumens per electrical watt; base unit lm/W.
    LuminousEfficacy, "a luminous efficacy", metric (0, 1), us (0, 1), [unit(&["lm/W"], 1.0)],
    from_lm_w / lm_w = 1.0,
);
quantity!(
    /// Photosynthetic photon flux density, 400–700 nm, on a level surface; base unit µmol m⁻² s⁻¹.
    Ppfd, "a PPFD", metric (0, 0), us (0, 0),
    [unit(&["umol/m2/s", "µmol/m²/s", "umol/m²/s", "µmol/m2/s"], 1.0)],
    from_umol_m2_s / umol_m2_s = 1.0,
);
quantity!(
    /// Daily light integral; base unit mol m⁻² d⁻¹.
    Dli, "a daily light integral", metric (0, 2), us (0, 2), [unit(&["mol/m2/d", "mol/m²/d"], 1.0)],
    from_mol_m2_d / mol_m2_d = 1.0,
);
quantity!(
    /// A span of time; base unit hour.
    Duration, "a duration", metric (0, 1), us (0, 1),
    [unit(&["h", "hour", "hours"], 1.0), unit(&["min", "minutes"], 1.0 / 60.0), unit(&["d", "days"], 24.0)],
    from_hours / hours = 1.0, from_minutes / minutes = (1.0 / 60.0),
);
quantity!(
    /// pH on the activity scale.
    Ph, "a pH", metric (0, 2), us (0, 2), [unit(&[""], 1.0)],
    new / value = 1.0,
);
quantity!(
    /// General hardness (calcium and magnesium); base unit German degree, 17.848 mg/L as CaCO3.
    GeneralHardness, "a general hardness", metric (0, 1), us (0, 1),
    [unit(&["dGH", "dH", "°dH", "degrees GH"], 1.0), unit(&["mg/L CaCO3", "ppm CaCO3"], 1.0 / 17.848),
     unit(&["mmol/L"], 1.0 / 0.178_325), unit(&["meq/L"], 1.0 / 0.356_65),
     unit(&["°fH", "dfH", "French degrees"], 1.0 / 1.784_8),
     unit(&["°e", "English degrees"], 1.0 / 1.252_160), unit(&["gpg", "grains/US gal"], 1.0 / 1.042_641)],
    from_dgh / dgh = 1.0, from_caco3_mg_l / caco3_mg_l = (1.0 / 17.848),
);
quantity!(
    /// Carbonate hardness (total alkalinity); base unit German degree, 0.35665 meq/L.
    CarbonateHardness, "a carbonate hardness", metric (0, 1), us (0, 1),
    [unit(&["dKH", "dH", "°dH", "degrees KH"], 1.0), unit(&["mg/L CaCO3", "ppm CaCO3"], 1.0 / 17.848),
     unit(&["meq/L", "mmol/L"], 1.0 / 0.356_65), unit(&["°fH", "dfH", "French degrees"], 1.0 / 1.784_8),
     unit(&["°e", "English degrees"], 1.0 / 1.252_160)],
    from_dkh / dkh = 1.0, from_meq_l / meq_l = (1.0 / 0.356_65),
);
quantity!(
    /// Mass concentration; base unit mg/L.
    Concentration, "a concentration", metric (0, 1), us (0, 1), [unit(&["mg/L", "mg/l", "ppm"], 1.0)],
    from_mg_l / mg_l = 1.0,
);
quantity!(
    /// Volume flow; base unit litre per hour.
    FlowRate, "a flow rate", metric (0, 0), us (1, 0),
    [unit(&["L/h", "l/h"], 1.0), unit(&["US gal/h", "gph"], 3.785_411_784), unit(&["L/min"], 60.0)],
    from_l_h / l_h = 1.0,
);
quantity!(
    /// Attenuation or absorption coefficient, natural logarithm; base unit 1/m.
    Attenuation, "an attenuation coefficient", metric (0, 2), us (0, 2), [unit(&["/m", "1/m", "m-1"], 1.0)],
    from_per_m / per_m = 1.0,
);
quantity!(
    /// A share or ratio; base unit 1. Written as a percentage in files.
    Fraction, "a share", metric (0, 0), us (0, 0), [unit(&["%"], 0.01), unit(&[""], 1.0)],
    new / value = 1.0,
);

/// Money in hundredths of its unit; the currency is named where it is spent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, serde::Serialize)]
#[serde(transparent)]
pub struct Money(pub i64);

impl Money {
    /// Parses `12`, `12.5` or `12.50`; `None` for anything else, negatives included.
    pub fn parse(text: &str) -> Option<Self> {
        let (whole, part) = text.split_once('.').unwrap_or((text, ""));
        let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || part.len() > 2 || !digits(whole) || !digits(part) {
            return None;
        }
        let cents: i64 = format!("{part:0<2}").parse().ok()?;
        whole.parse::<i64>().ok()?.checked_mul(100)?.checked_add(cents).map(Self)
    }
}

impl std::fmt::Display for Money {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let cents = self.0.unsigned_abs();
        write!(f, "{sign}{}.{:02}", cents / 100, cents % 100)
    }
}
