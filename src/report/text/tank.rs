//! The tank as text.

use unicode_width::UnicodeWidthStr;

use super::bullets;
use super::lines::{Page, quiet, strong};
use super::tank_map::map;
use crate::report::view::{
    AuditValueView, AuditView, CarbonView, LightView, RangeView, SpotView, TankReportView, TankView, ZoneView,
};
use crate::units::{
    Area, CarbonateHardness, Concentration, Duration, Fraction, GeneralHardness, Interval, Length, Mass, Ph,
    Pressure, Quantity, Temperature, Volume,
};

/// Column where the text of a row begins.
const LABEL: usize = 13;

fn range<Q: Quantity>(view: RangeView, page: &Page) -> String {
    Interval::spanning(Q::from_base(view.lo), Q::from_base(view.hi)).show(page.units)
}

fn plain(view: RangeView) -> String {
    if view.lo < view.hi { format!("{}..{}", view.lo, view.hi) } else { view.lo.to_string() }
}

fn cm(value: f64, page: &Page) -> String {
    Length::from_cm(value).show(page.units)
}

/// The name of a tank and what it is, on one line.
fn title(page: &mut Page, tank: &TankView) {
    let dims = [tank.length_cm, tank.depth_cm].map(|v| Length::from_cm(v).show_number(page.units));
    let height = cm(tank.height_cm, page);
    let gas = if tank.gas == "none" { "no gas".to_owned() } else { format!("{} gas", tank.gas) };
    let aside = format!("{} × {} × {height}, {} h of light, {gas}", dims[0], dims[1], tank.light_hours);
    page.heading_with(&tank.name, &aside);
    page.gap();
}

/// The first lines of every report that is made for a tank: what it is, its light, carbon and water.
pub fn tank_head(page: &mut Page, tank: &TankView) {
    title(page, tank);
    let light = format!(
        "{} µmol/m²/s on the bed ({} to {}), {} mol/m² a day",
        tank.ppfd_mean_umol_m2_s, tank.ppfd_p10_umol_m2_s, tank.ppfd_p90_umol_m2_s, tank.dli_mean_mol_m2_d
    );
    page.labelled("light", &light, 9);
    let carbon = format!(
        "CO2 {} mg/L; bicarbonate is worth {} mg/L more to plants that use it",
        plain(tank.co2_mg_l),
        plain(tank.bicarbonate_as_co2_mg_l)
    );
    page.labelled("carbon", &carbon, 9);
    for note in &tank.carbon_notes {
        page.labelled("", note, 9);
    }
    let water = format!(
        "{}, pH {}, GH {} dGH, KH {} dKH",
        range::<Temperature>(tank.temperature_c, page),
        plain(tank.ph),
        plain(tank.gh_dgh),
        plain(tank.kh_dkh)
    );
    page.labelled("water", &water, 9);
}

/// The report of `tank`.
pub fn tank(page: &mut Page, view: &TankReportView) {
    title(page, &view.tank);
    contents(page, view);
    light(page, view);
    zones(page, &view.tank.zones);
    carbon(page, &view.carbon);
    water(page, view);
    set_up(page, &view.audit);
    bullets(page, "Cautions", &view.cautions);
    bullets(page, "Left out of the model", &view.left_out);
}

fn contents(page: &mut Page, view: &TankReportView) {
    let (volumes, loads) = (&view.volumes, &view.loads);
    let litres = |l: f64| Volume::from_litres(l);
    let area = |cm2: f64, page: &Page| Area::from_cm2(cm2).show(page.units);
    page.heading("Contents and loads");
    let [front, back] = view.bed_front_back_cm.map(|v| cm(v, page));
    let filled = litres(volumes.filled_l).show(page.units);
    page.labelled(
        "filled",
        &format!("{filled} to the water line at {}", cm(view.tank.water_cm, page)),
        LABEL,
    );
    if volumes.bed_l > 0.0 {
        let bed = litres(volumes.bed_l).show(page.units);
        let text = format!("{bed} of {}, {front} thick in front and {back} at the back", view.bed);
        page.labelled("bed", &text, LABEL);
    }
    if !view.hardscape.is_empty() {
        let text = format!("displaces {} at most", litres(volumes.displaced_l).show(page.units));
        page.labelled("hardscape", &text, LABEL);
    }
    let water = litres(volumes.water_l).show(page.units);
    let surface = area(volumes.surface_cm2, page);
    page.labelled("water", &format!("{water} above the bed, open over {surface}"), LABEL);
    let kg = |v: f64| about(Mass::from_kg(v), page);
    let mut parts = vec![format!("water {}", kg(loads.water_kg)), format!("glass {}", kg(loads.glass_kg))];
    if loads.bed_kg > 0.0 {
        parts.push(format!("soaked bed {}", kg(loads.bed_kg)));
    }
    if loads.hardscape_kg > 0.0 {
        parts.push(format!("hardscape {} at most", kg(loads.hardscape_kg)));
    }
    page.labelled("mass", &format!("{}: {}", kg(loads.total_kg), parts.join(", ")), LABEL);
    let pressure = Pressure::from_kpa(loads.floor_pressure_kpa).show(page.units);
    let text = format!("{pressure} on {} of base; see the cautions", area(loads.footprint_cm2, page));
    page.labelled("floor", &text, LABEL);
}

/// In whole units from 10 on: wall, bed and wood are known no better.
fn about(mass: Mass, page: &Page) -> String {
    let unit = &Mass::UNITS[Mass::shown_in(page.units).0];
    let value = mass.base() / unit.factor;
    let decimals = usize::from(value < 10.0);
    format!("{value:.decimals$} {}", unit.names[0])
}

fn light(page: &mut Page, view: &TankReportView) {
    let (tank, light) = (&view.tank, &view.light);
    page.gap();
    page.heading_with(
        "Light on the bed",
        "PPFD in µmol/m²/s on a level leaf, all lamps on; denser is brighter",
    );
    page.gap();
    map(page, view);
    page.gap();
    let text = format!(
        "{} µmol/m²/s, {} mol/m² a day; a tenth of the bed gets less than {}, a tenth more than {}",
        tank.ppfd_mean_umol_m2_s, tank.dli_mean_mol_m2_d, tank.ppfd_p10_umol_m2_s, tank.ppfd_p90_umol_m2_s
    );
    page.labelled("mean", &text, LABEL);
    let spot = |s: &SpotView, page: &Page| {
        let x = Length::from_cm(s.x_cm).show(page.units);
        let of_mean = 100.0 * s.ppfd_umol_m2_s / tank.ppfd_mean_umol_m2_s;
        let share = if of_mean.is_finite() { format!(", {of_mean:.0} % of the mean") } else { String::new() };
        format!("{}{share}, {x} from the left and {} from the front", s.ppfd_umol_m2_s, cm(s.y_cm, page))
    };
    page.labelled("darkest", &spot(&light.least, page), LABEL);
    page.labelled("brightest", &spot(&light.most, page), LABEL);
    for (i, lamp) in light.lamps.iter().enumerate() {
        let size = lamp.size_cm.map(|v| Length::from_cm(v).show_number(page.units));
        let text = format!(
            "{} µmol/s ({}), {} × {}, {} above the water, {}° beam",
            lamp.photon_flux_umol_s,
            lamp.spectrum,
            size[0],
            cm(lamp.size_cm[1], page),
            cm(lamp.above_water_cm, page),
            lamp.beam_deg
        );
        page.labelled(&format!("lamp {}", i + 1), &text, LABEL);
    }
    readings(page, &view.light);
    if let Some(text) = losses(view) {
        page.labelled("on its way", &text, LABEL);
    }
}

/// The readings beside the light that the report goes by.
fn readings(page: &mut Page, light: &LightView) {
    if let Some(scale) = light.scale {
        let within = if scale.range.lo < scale.range.hi {
            format!(" ({})", plain(scale.range))
        } else {
            String::new()
        };
        let text = format!("set by the readings to {} times the lamps as stated{within}", scale.factor);
        page.labelled("output", &text, LABEL);
    }
    if light.basis == "readings" {
        let text = "the readings alone, no lamp is stated: good near them and at their heights";
        page.labelled("by", text, LABEL);
    }
    for (i, reading) in light.readings.iter().enumerate() {
        let x = Length::from_cm(reading.x_cm).show(page.units);
        let place = format!(
            "{x} from the left, {} from the front, {} above the bed",
            cm(reading.y_cm, page),
            cm(reading.above_bed_cm, page)
        );
        let off = match reading.residual {
            _ if light.basis == "readings" => String::new(),
            r if (0.5..2.0).contains(&r) => {
                format!(", against {} here: {:+.0} %", reading.answered_umol_m2_s, (r - 1.0) * 100.0)
            }
            r => format!(", against {} here: {r} times", reading.answered_umol_m2_s),
        };
        let text = format!("{} at {place}{off}", plain(reading.ppfd_umol_m2_s));
        page.labelled(&format!("reading {}", i + 1), &text, LABEL);
    }
    for note in &light.notes {
        page.hanging("! ", note, 0);
    }
}

/// What takes light besides clear water.
fn losses(view: &TankReportView) -> Option<String> {
    let light = &view.light;
    let mut parts = Vec::new();
    if light.cover_transmittance < 1.0 {
        parts.push(format!("the cover passes {:.0} %", light.cover_transmittance * 100.0));
    }
    if light.floating_cover > 0.0 {
        parts.push(format!("floating plants close {:.0} % of the surface", light.floating_cover * 100.0));
    }
    if light.tint != "clear" {
        parts.push(format!("the water is tinted: {}", light.tint));
    }
    (!parts.is_empty()).then(|| parts.join("; "))
}

fn zones(page: &mut Page, zones: &[ZoneView]) {
    if zones.is_empty() {
        return;
    }
    page.gap();
    page.heading_with("Daily light by zone", "mol/m² a day at the bed, the hardscape or the surface");
    let wide = page.width() >= 64;
    let longest = zones.iter().map(|z| z.name.width()).max().unwrap_or(0);
    let column = longest.min(if wide { 28 } else { page.width().saturating_sub(29) }).max(4);
    let aside = |placement: &str, area: &str| {
        if wide { format!("  {placement:<10} {area:>9}") } else { String::new() }
    };
    let heads = ["mean", "10 %", "90 %"].map(|h| format!("{h:>7}")).concat();
    page.line(&format!("     {}{}{heads}", padded("zone", column), aside("part", "area")));
    for (i, zone) in zones.iter().enumerate() {
        let figures = [zone.dli_mean_mol_m2_d, zone.dli_p10_mol_m2_d, zone.dli_p90_mol_m2_d];
        let figures = figures.map(|v| format!("{v:>7.2}")).concat();
        let area = Area::from_cm2(zone.area_cm2).show(page.units);
        let aside = aside(&zone.placement, &area);
        page.line(&format!("  {:>2} {}{aside}{figures}", i + 1, padded(&zone.name, column)));
    }
    page.paragraph("A tenth of a zone gets less than under 10 %, a tenth more than under 90 %.", 5);
}

/// The text in `column` columns, cut with an ellipsis when it is longer.
fn padded(text: &str, column: usize) -> String {
    let mut kept = text.to_owned();
    if kept.width() > column {
        while kept.width() + 1 > column {
            kept.pop();
        }
        kept.push('…');
    }
    format!("{kept}{}", " ".repeat(column - kept.width()))
}

fn carbon(page: &mut Page, carbon: &CarbonView) {
    page.gap();
    page.heading_with("Carbon in the water", "mg/L; ranges follow from the ranges of the readings");
    page.labelled("CO2", &format!("{}, {}", plain(carbon.co2_mg_l), carbon.route), LABEL);
    if carbon.has_course {
        let text = format!(
            "{} when the light comes on, {} on average, {} when it goes out",
            plain(carbon.co2_lights_on_mg_l),
            plain(carbon.co2_photoperiod_mean_mg_l),
            plain(carbon.co2_lights_off_mg_l)
        );
        page.labelled("over the day", &text, LABEL);
    }
    let air = format!("{} in equilibrium with the air of the room", plain(carbon.co2_by_air_mg_l));
    page.labelled("air alone", &air, LABEL);
    if let Some(claimed) = carbon.co2_by_ph_and_kh_mg_l {
        page.labelled("pH and KH", &format!("{} if nothing but CO2 set the pH", plain(claimed)), LABEL);
    }
    if let Some(rule) = carbon.product_rule {
        let error = (rule.error * 100.0).round();
        let error = match error {
            e if e < 0.0 => format!("{} % below", -e),
            e if e > 0.0 => format!("{e} % above"),
            _ => "the same as".to_owned(),
        };
        let text = format!("{}, {error} the full computation from pH and KH", plain(rule.co2_mg_l));
        page.labelled("product rule", &format!("3 × KH × 10^(7 − pH) gives {text}"), LABEL);
    }
    let text = format!(
        "{}, worth {} of CO2 to plants that use it",
        plain(carbon.bicarbonate_mg_l),
        plain(carbon.bicarbonate_as_co2_mg_l)
    );
    page.labelled("bicarbonate", &text, LABEL);
    for note in &carbon.notes {
        page.hanging("! ", note, 0);
    }
}

fn water(page: &mut Page, view: &TankReportView) {
    let tank = &view.tank;
    page.gap();
    page.heading("Water");
    page.labelled("temperature", &range::<Temperature>(tank.temperature_c, page), LABEL);
    page.labelled("pH", &range::<Ph>(tank.ph, page), LABEL);
    let as_calcite = |dgh: f64| GeneralHardness::from_dgh(dgh).caco3_mg_l().round();
    let other = RangeView { lo: as_calcite(tank.gh_dgh.lo), hi: as_calcite(tank.gh_dgh.hi) };
    page.labelled("GH", &format!("{} dGH, {} mg/L as CaCO3", plain(tank.gh_dgh), plain(other)), LABEL);
    let meq = |dkh: f64| (CarbonateHardness::from_dkh(dkh).meq_l() * 100.0).round() / 100.0;
    let other = RangeView { lo: meq(tank.kh_dkh.lo), hi: meq(tank.kh_dkh.hi) };
    page.labelled("KH", &format!("{} dKH, {} meq/L", plain(tank.kh_dkh), plain(other)), LABEL);
    page.labelled("colour", &view.light.tint, LABEL);
}

fn set_up(page: &mut Page, lines: &[AuditView]) {
    page.gap();
    page.heading_with("Set-up", "each line held against a rule; ! where it departs; [practice]: no source");
    for line in lines {
        let mark = if line.standing == "unusual" { "!" } else { " " };
        let verdict = match line.value {
            Some(value) => format!("{}: {}", audit_value(value, page), line.verdict),
            None => line.verdict.clone(),
        };
        let label = format!("{mark} {:<17}", line.topic);
        page.hanging(&label, &if mark == "!" { strong(&verdict) } else { verdict }, 0);
        page.paragraph(&quiet(&format!("{} [{}]", line.rule, line.origin)), label.len());
    }
}

fn audit_value(value: AuditValueView, page: &Page) -> String {
    use crate::tank::audit::AuditValue;
    let shares = |view: RangeView| Interval::spanning(Fraction::new(view.lo), Fraction::new(view.hi));
    let value = match value {
        AuditValueView::Time { hours } => AuditValue::Time(Duration::from_hours(hours)),
        AuditValueView::GasLead { before_light_hours, before_dark_hours } => AuditValue::GasLead(
            Duration::from_hours(before_light_hours),
            Duration::from_hours(before_dark_hours),
        ),
        AuditValueView::Turnover { volumes_per_hour } => AuditValue::VolumesPerHour(volumes_per_hour),
        AuditValueView::Share { share } => AuditValue::Share(Fraction::new(share)),
        AuditValueView::Bed { front_cm, back_cm } => {
            AuditValue::FrontAndBack(Length::from_cm(front_cm), Length::from_cm(back_cm))
        }
        AuditValueView::Support { light_share, carbon_share } => {
            AuditValue::Support(Fraction::new(light_share), shares(carbon_share))
        }
        AuditValueView::Co2 { co2_mg_l } => AuditValue::Co2(Interval::spanning(
            Concentration::from_mg_l(co2_mg_l.lo),
            Concentration::from_mg_l(co2_mg_l.hi),
        )),
    };
    value.show(page.units)
}
