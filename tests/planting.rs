//! Drifts and places: areas, borders, lattices, whatever the outline.

use std::collections::BTreeSet;

use quillwort::catalogue::{Placement, Plant};
use quillwort::fit::placement_of;
use quillwort::planting::{
    Chosen, Density, Drift, Planting, PlantingError, Remark, hardscape_top, lattice, plant_out,
};
use quillwort::select;
use quillwort::tank::TankModel;
use quillwort::tank::file::{Spot, ZoneRole};
use quillwort::tank::outline::Outline;
use quillwort::units::{Area, Fraction, Length};

use crate::fit_support::{DEMOS, computed, demo_model, plants, spec};
use crate::rows::rows;

fn cm(value: f64) -> Length {
    Length::from_cm(value)
}

/// The first plants of the catalogue for a place in the layout, each of another genus.
fn some(placement: Placement, count: usize) -> Vec<&'static Plant> {
    let mut found: Vec<&Plant> = Vec::new();
    for plant in plants().iter().filter(|p| p.placements.contains(&placement)) {
        if found.len() < count && found.iter().all(|f| f.genus() != plant.genus()) {
            found.push(plant);
        }
    }
    assert_eq!(found.len(), count, "the catalogue has enough plants for {placement}");
    found
}

/// Every zone with `count` plants of its placement, in equal shares.
pub fn filled(model: &TankModel, count: usize) -> Vec<Chosen<'static>> {
    let zone = |(n, z): (usize, &quillwort::tank::file::ZoneSpec)| {
        some(placement_of(z.role), count).into_iter().map(move |plant| Chosen { plant, zone: n, share: None })
    };
    model.spec.zones.iter().enumerate().flat_map(zone).collect()
}

pub fn planted(model: &TankModel, chosen: &[Chosen<'_>], density: Density) -> Planting {
    plant_out(model, chosen, density).unwrap_or_else(|e| panic!("{e:?}"))
}

/// The outer rings and the holes of a drift as outlines, which refuses rings that cross themselves.
fn outlines(drift: &Drift) -> (Vec<Outline>, Vec<Outline>) {
    let outline = |ring: &quillwort::planting::Ring| {
        Outline::new(&ring.points).unwrap_or_else(|e| panic!("{}: {e}\n{:?}", drift.taxon, ring.points))
    };
    let (holes, outer): (Vec<_>, Vec<_>) = drift.outline.iter().partition(|r| r.hole);
    (outer.into_iter().map(outline).collect(), holes.into_iter().map(outline).collect())
}

fn encloses(drift: &Drift, spot: Spot) -> bool {
    let (outer, holes) = outlines(drift);
    outer.iter().any(|o| o.contains(spot)) && !holes.iter().any(|o| o.contains(spot))
}

fn apart(a: Spot, b: Spot) -> f64 {
    libm::hypot(a.0.m() - b.0.m(), a.1.m() - b.1.m())
}

/// What holds for every drift: rings that enclose its area, places inside and at their distance.
pub fn assert_sound(drift: &Drift) {
    let (outer, holes) = outlines(drift);
    let sum = |rings: &[Outline]| rings.iter().map(|o| o.area().m2()).sum::<f64>();
    let enclosed = sum(&outer) - sum(&holes);
    assert!((enclosed - drift.area.m2()).abs() < 1e-9, "{}: {enclosed} m², {}", drift.taxon, drift.area);
    assert!(!drift.places.is_empty(), "{} has no place", drift.taxon);
    for (n, place) in drift.places.iter().enumerate() {
        assert!(encloses(drift, place.at), "{}: {:?} is outside", drift.taxon, place.at);
        for other in &drift.places[..n] {
            assert!(apart(place.at, other.at) > drift.spacing.m() - 1e-9, "{}: too close", drift.taxon);
        }
    }
    assert_eq!(drift.portions, (drift.places.len() as u32).div_ceil(drift.pieces_per_portion));
}

/// In how many parts the cells of a drift lie, joined by their sides; those of fewer cells than this are
/// scraps and do not count.
pub fn parts(drift: &Drift, least: usize) -> usize {
    let side = drift.cell.m();
    let Some(origin) = drift.cells.first().copied() else { return 0 };
    let steps = |a: Length, b: Length| ((a.m() - b.m()) / side).round() as i64;
    let square = |spot: &Spot| (steps(spot.0, origin.0), steps(spot.1, origin.1));
    let mut left: BTreeSet<(i64, i64)> = drift.cells.iter().map(square).collect();
    assert_eq!(left.len(), drift.cells.len(), "{}: a cell is there twice", drift.taxon);
    let mut parts = 0;
    while let Some(first) = left.pop_first() {
        let (mut reached, mut cells) = (vec![first], 0);
        while let Some((i, j)) = reached.pop() {
            cells += 1;
            reached
                .extend([(i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)].iter().filter(|n| left.remove(n)));
        }
        parts += usize::from(cells >= least);
    }
    parts
}

/// Separate pieces of a zone's ground, as the plan says.
pub fn pieces(plan: &Planting, zone: usize) -> usize {
    let apart = |r: &Remark| match r {
        Remark::Apart { zone: z, pieces } if *z == zone => Some(*pieces),
        _ => None,
    };
    plan.remarks.iter().find_map(apart).unwrap_or(1)
}

/// The lattice against outside counts; points on the edge count.
#[test]
fn a_lattice_has_the_points_of_the_reference() {
    for row in rows("hex_packing") {
        let point = |p: &str| {
            let (x, y) = p.split_once(',').expect("x,y");
            (cm(x.parse().expect("x")), cm(y.parse().expect("y")))
        };
        let corners: Vec<Spot> = row.text("polygon_cm").split(' ').map(point).collect();
        let outline = Outline::new(&corners).expect("a simple polygon");
        let (spacing, anchor) =
            (cm(row.number("spacing_cm")), (cm(row.number("anchor_x_cm")), cm(row.number("anchor_y_cm"))));
        let (lo, hi) = ((cm(-10.0), cm(-10.0)), (cm(130.0), cm(130.0)));
        let points = lattice(spacing, anchor, lo, hi);
        // The edge of the table is exact; ours is met within a micrometre.
        let wide = |p: &Spot| {
            let near = [
                (0.0, 0.0),
                (1e-6, 0.0),
                (-1e-6, 0.0),
                (0.0, 1e-6),
                (0.0, -1e-6),
                (1e-6, 1e-6),
                (-1e-6, -1e-6),
                (1e-6, -1e-6),
                (-1e-6, 1e-6),
            ];
            near.iter()
                .any(|d| outline.contains((Length::from_m(p.0.m() + d.0), Length::from_m(p.1.m() + d.1))))
        };
        let closed = points.iter().filter(|p| wide(p)).count();
        row.absolute("count_closed", closed as f64, 0.0);
        let expected = 2.0 / 3.0_f64.sqrt() * outline.area().m2() / (spacing.m() * spacing.m());
        row.relative("expected_by_density", expected, 1e-4);
        let places = select::lattice_places(spacing, outline.area());
        assert!((f64::from(places) - expected.max(1.0)).abs() <= 0.5, "{row}");
    }
}

#[test]
fn the_demo_tanks_are_planted() {
    for demo in DEMOS {
        let model = demo_model(demo);
        for count in 1..=4 {
            let chosen = filled(&model, count);
            let plan = planted(&model, &chosen, Density::Dense);
            assert_eq!(plan.drifts.len(), chosen.len());
            plan.drifts.iter().for_each(assert_sound);
            for (zone, ground) in model.zones.iter().map(|z| &z.ground).enumerate() {
                let here: Vec<&Drift> = plan.drifts.iter().filter(|d| d.zone == zone).collect();
                let whole: f64 = here.iter().map(|d| d.area.m2()).sum();
                // The model counts cells of 1 cm; ours follow the outline.
                assert!((whole / ground.area.m2() - 1.0).abs() < 0.02, "{demo}, zone {zone}: {whole}");
                let pieces = pieces(&plan, zone);
                for drift in &here {
                    let off = drift.area.m2() / whole - 1.0 / count as f64;
                    assert!(
                        off.abs() < 1e-3 || pieces > 1,
                        "{demo}, zone {zone}: {} is {off:+} off",
                        drift.taxon
                    );
                    assert!(drift.outline.len() <= pieces, "{demo}: {} is in parts", drift.taxon);
                    assert!(parts(drift, 1) <= pieces, "{demo}: the cells of {} are in parts", drift.taxon);
                }
            }
        }
    }
}

#[test]
fn a_plan_needs_no_more_portions_than_the_list_counted() {
    for demo in DEMOS {
        let model = demo_model(demo);
        for count in 1..=4 {
            for drift in planted(&model, &filled(&model, count), Density::Dense).drifts {
                let plant = plants().iter().find(|p| p.id == drift.taxon).expect("chosen");
                let area = Area::from_m2(model.zones[drift.zone].ground.area.m2() / count as f64);
                let placement = placement_of(model.spec.zones[drift.zone].role);
                let counted = select::portions(plant, placement, area);
                assert!(drift.portions <= counted, "{demo}: {} {} > {counted}", drift.taxon, drift.portions);
            }
        }
    }
}

#[test]
fn density_thins_out_the_places() {
    let model = demo_model("hall-hardwater.toml");
    let count = |density| -> usize {
        planted(&model, &filled(&model, 2), density).drifts.iter().map(|d| d.places.len()).sum()
    };
    let (dense, usual, sparse) = (count(Density::Dense), count(Density::Usual), count(Density::Sparse));
    for (thinner, density) in [(usual, Density::Usual), (sparse, Density::Sparse)] {
        let share = thinner as f64 / dense as f64;
        assert!((share - density.share_of_dense().value()).abs() < 0.08, "{density:?}: {share}");
    }
}

#[test]
fn feet_stand_on_bed_wood_and_surface() {
    let model = demo_model("hall-hardwater.toml");
    let spec = &model.spec;
    for drift in planted(&model, &filled(&model, 2), Density::Dense).drifts {
        for place in &drift.places {
            let bed = spec.bed_height(place.at.1);
            match spec.zones[drift.zone].role {
                ZoneRole::Floating => assert_eq!(place.foot, spec.glass.water),
                ZoneRole::Epiphyte => {
                    let top = hardscape_top(spec, place.at).expect("an epiphyte stands on hardscape");
                    assert!(place.foot <= top && place.foot >= bed);
                }
                _ => assert_eq!(place.foot, bed),
            }
        }
    }
}

#[test]
fn the_same_list_gives_the_same_plan() {
    let model = demo_model("attic-lowtech.toml");
    let chosen = filled(&model, 3);
    assert_eq!(planted(&model, &chosen, Density::Usual), planted(&model, &chosen, Density::Usual));
}

/// The corners of a rock with its sides along the glass.
pub fn block([x0, y0, x1, y1]: [f64; 4]) -> Vec<(f64, f64)> {
    vec![(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
}

/// A tank of 90 × 45 cm with this zone and these rocks.
pub fn tank(zone: &[(f64, f64)], rocks: &[Vec<(f64, f64)>], more: &str) -> TankModel {
    let points = |points: &[(f64, f64)]| -> String {
        points.iter().map(|(x, y)| format!("[\"{x:.3} cm\", \"{y:.3} cm\"]")).collect::<Vec<_>>().join(", ")
    };
    let rock = |(n, rock): (usize, &Vec<(f64, f64)>)| {
        let outline = points(rock);
        format!(
            "[[hardscape]]\nname = \"rock {n}\"\nmaterial = \"inert rock\"\noutline = [{outline}]\ntop = \"20 cm\"\n"
        )
    };
    let rock: String = rocks.iter().enumerate().map(rock).collect();
    let zone = points(zone);
    computed(&spec(&format!(
        "name = \"a tank\"\n[glass]\nlength = \"90 cm\"\ndepth = \"45 cm\"\nheight = \"45 cm\"\nwater = \"40 cm\"\n\
         [bed]\nkind = \"sand\"\nfront = \"4 cm\"\nback = \"8 cm\"\n[light]\nhours = 8\n[[light.lamp]]\n\
         photon_flux = \"60 umol/s\"\nsize = [\"60 cm\", \"10 cm\"]\nabove_water = \"10 cm\"\nbeam = \"120 deg\"\n\
         at = [\"45 cm\", \"22 cm\"]\n[gas]\ninjection = \"none\"\n[water]\ntemperature = \"24 degC\"\nph = \"7\"\n\
         gh = \"6 dGH\"\nkh = \"4 dKH\"\n{rock}[[zone]]\nname = \"a zone\"\nplacement = \"midground\"\n\
         outline = [{zone}]\ntaxa = \"1..8\"\n{more}"
    )))
}

#[test]
fn what_cannot_be_planted_is_said() {
    let square = [(10.0, 10.0), (30.0, 10.0), (30.0, 30.0), (10.0, 30.0)];
    let plant = some(Placement::Midground, 2);
    let one = |zone, share| Chosen { plant: plant[0], zone, share };
    let two = |share| Chosen { plant: plant[1], zone: 0, share };
    let model = tank(&square, &[], "");
    let refused = |model: &TankModel, chosen: &[Chosen<'_>]| {
        plant_out(model, chosen, Density::Dense).expect_err("cannot be planted")
    };
    assert_eq!(refused(&model, &[one(3, None)]), [PlantingError::NoZone(3)]);
    let twice = PlantingError::Twice { zone: "a zone".into(), taxon: plant[0].id.clone() };
    assert_eq!(refused(&model, &[one(0, None), one(0, None)]), [twice]);
    for shares in [[Some(0.7), Some(0.7)], [Some(1.0), None], [Some(-0.1), None], [Some(f64::NAN), None]] {
        let [a, b] = shares.map(|s| s.map(Fraction::new));
        assert_eq!(refused(&model, &[one(0, a), two(b)]), [PlantingError::Shares("a zone".into())]);
    }
    let covered = tank(&square, &[block([5.0, 5.0, 40.0, 40.0])], "");
    assert_eq!(refused(&covered, &[one(0, None)]), [PlantingError::NoGround("a zone".into())]);
}

#[test]
fn overlapping_zones_share_no_ground() {
    let square = [(10.0, 10.0), (30.0, 10.0), (30.0, 30.0), (10.0, 30.0)];
    let more = "[[zone]]\nname = \"behind\"\nplacement = \"background\"\nfrom_front = \"20..40 cm\"\ntaxa = \"1..8\"\n";
    let model = tank(&square, &[], more);
    let plan = planted(&model, &filled(&model, 2), Density::Dense);
    plan.drifts.iter().for_each(assert_sound);
    let overlap = plan.remarks.iter().find_map(|r| match r {
        Remark::Overlap { first: 0, second: 1, area } => Some(area.cm2()),
        _ => None,
    });
    assert!((overlap.expect("the overlap is told") - 200.0).abs() < 2.0, "{overlap:?}");
    let behind: f64 = plan.drifts.iter().filter(|d| d.zone == 1).map(|d| d.area.cm2()).sum();
    assert!((behind - (90.0 * 20.0 - 200.0)).abs() < 1.0, "{behind}");
}
