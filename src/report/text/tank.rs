//! The tank as text.

use super::lines::Page;
use crate::report::view::{RangeView, TankView};
use crate::units::{Interval, Length, Quantity, Temperature};

fn range<Q: Quantity>(view: RangeView, page: &Page) -> String {
    Interval::spanning(Q::from_base(view.lo), Q::from_base(view.hi)).show(page.units)
}

fn plain(view: RangeView) -> String {
    if view.lo < view.hi { format!("{}..{}", view.lo, view.hi) } else { view.lo.to_string() }
}

/// The first lines of every report on a tank: what it is, its light, carbon and water.
pub fn tank_head(page: &mut Page, tank: &TankView) {
    let cm = |v: f64| Length::from_cm(v);
    let dims = [tank.length_cm, tank.depth_cm].map(|v| cm(v).show_number(page.units));
    let height = cm(tank.height_cm).show(page.units);
    let gas = if tank.gas == "none" { "no gas".to_owned() } else { format!("{} gas", tank.gas) };
    let aside = format!("{} × {} × {height}, {} h of light, {gas}", dims[0], dims[1], tank.light_hours);
    page.heading_with(&tank.name, &aside);
    page.gap();
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
pub fn tank(page: &mut Page, view: &TankView) {
    tank_head(page, view);
}
