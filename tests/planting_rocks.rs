//! Ground of any outline, with rocks on it: whole patches, rings that never touch themselves, no ground
//! lost. Cases that once failed are kept.

use proptest::prelude::*;
use quillwort::planting::Density;
use quillwort::tank::file::Spot;
use quillwort::tank::outline::Outline;
use quillwort::units::Length;

use crate::planting::{assert_sound, block, filled, parts, pieces, planted, tank};

/// Corners around the middle of the tank, so far from it.
fn around(reach: &[f64]) -> Vec<(f64, f64)> {
    let corner = |(n, r): (usize, &f64)| {
        let angle = std::f64::consts::TAU * n as f64 / reach.len() as f64;
        (45.0 + r * libm::cos(angle), 22.5 + r * libm::sin(angle))
    };
    reach.iter().enumerate().map(corner).collect()
}

/// cm² of an outline that no rock stands on, counted on points about two millimetres apart.
fn free(zone: &[(f64, f64)], rocks: &[Vec<(f64, f64)>]) -> f64 {
    const STEP: f64 = 0.2;
    let outline = |points: &[(f64, f64)]| {
        Outline::new(
            &points.iter().map(|(x, y)| (Length::from_cm(*x), Length::from_cm(*y))).collect::<Vec<_>>(),
        )
        .expect("an outline")
    };
    let (zone, rocks) = (outline(zone), rocks.iter().map(|r| outline(r)).collect::<Vec<_>>());
    // Each row is shifted against the next, so that no side runs along the points.
    let shifted = |n: i32, by: i32| (f64::from(n) + (f64::from(by) * 0.618).fract()) * STEP;
    let at = |i: i32, j: i32| (Length::from_cm(shifted(i, j)), Length::from_cm(shifted(j, i)));
    let open = |p: Spot| zone.contains(p) && !rocks.iter().any(|r| r.contains(p));
    let count = (0..450).flat_map(|i| (0..225).map(move |j| at(i, j))).filter(|p| open(*p)).count();
    count as f64 * STEP * STEP
}

/// A ground with rocks on it: every drift is sound and no more in parts than the ground, together they
/// fill it.
fn assert_filled(zone: &[(f64, f64)], rocks: &[Vec<(f64, f64)>], count: usize) {
    let model = tank(zone, rocks, "");
    let plan = planted(&model, &filled(&model, count), Density::Dense);
    assert_eq!(plan.drifts.len(), count);
    plan.drifts.iter().for_each(assert_sound);
    let (cells, pieces): (usize, _) = (plan.drifts.iter().map(|d| d.cells.len()).sum(), pieces(&plan, 0));
    for drift in &plan.drifts {
        let parts = parts(drift, cells / 100);
        assert!(parts <= pieces, "{} is in {parts} parts, the ground in {pieces}", drift.taxon);
    }
    let (whole, drawn): (f64, f64) = (plan.drifts.iter().map(|d| d.area.cm2()).sum(), free(zone, rocks));
    // Wedges narrower than half a cell are left out, and an edge along the cells is a little off.
    assert!((whole / drawn - 1.0).abs() < 0.01, "{whole} cm² of {drawn}");
}

/// How many cases a property is tried on: more for whoever looks for failures.
fn cases() -> u32 {
    std::env::var("PROPTEST_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(24)
}

/// A slanting rock: its middle, half its sides, its turn.
fn slab(middle: [f64; 2], half: [f64; 2], turn: f64) -> Vec<(f64, f64)> {
    let (sin, cos) = (libm::sin(turn), libm::cos(turn));
    [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]
        .map(|[a, b]| [a * half[0], b * half[1]])
        .map(|[x, y]| (middle[0] + x * cos - y * sin, middle[1] + x * sin + y * cos))
        .to_vec()
}

/// Two rocks with a hair's breadth between them, from one side of the tank to the other.
fn neck([x, y]: [f64; 2], thick: f64, gap: f64) -> [Vec<(f64, f64)>; 2] {
    [block([x, 0.0, x + thick, y - gap / 2.0]), block([x, y + gap / 2.0, x + thick, 45.0])]
}

/// A drift all around a rock, whose ring passed a corner twice.
#[test]
fn a_patch_around_a_rock_has_a_hole() {
    let reach = [15.036, 18.031, 18.139, 14.234, 15.110, 19.731, 19.444, 16.312, 19.209];
    let rock = slab([43.028, 26.474], [2.663, 2.366], 2.733);
    for count in 1..=4 {
        assert_filled(&around(&reach), std::slice::from_ref(&rock), count);
    }
}

/// Strips between a rock and the edge of the ground, not much wider than a cell: corners of one side were
/// drawn to the other.
#[test]
fn thin_strips_keep_their_sides() {
    let reach = [15.241, 14.0, 17.632, 16.029, 16.621, 14.145, 18.653, 14.820, 16.068];
    assert_filled(&around(&reach), &neck([53.440, 14.0], 5.919, 0.02), 1);
}

/// A hair's breadth that opens into a strip hardly wider than a cell: its outline follows the cells.
#[test]
fn a_tangled_edge_is_drawn_along_the_cells() {
    let reach = [18.401, 19.731, 14.872, 17.498, 14.489, 14.250, 17.653, 18.869, 17.808];
    assert_filled(&around(&reach), &neck([54.253, 16.518], 5.845, 0.02), 1);
}

/// A ring that began and ended at a corner of the ground lost that corner.
#[test]
fn a_ring_keeps_the_corner_it_begins_at() {
    let reach = [19.158, 14.0, 15.201, 15.374, 17.444, 16.853, 19.279, 19.719, 19.082];
    assert_filled(&around(&reach), &neck([37.630, 29.727], 2.370, 0.02), 1);
}

/// A rock thinner than the cells of the ground was planted over.
#[test]
fn a_thin_rock_is_not_planted_over() {
    let reach = [14.0, 14.0, 15.587, 19.169, 18.208, 16.415, 14.503, 17.605, 14.0];
    assert_filled(&around(&reach), &neck([40.827, 14.0], 0.4, 0.02), 1);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the outline, concave or not: a drift is no more in parts than its ground, and together
    /// they fill it.
    #[test]
    fn any_outline_is_split_into_whole_patches(
        reach in prop::collection::vec(8.0..20.0_f64, 9),
        count in 1..=4_usize,
    ) {
        assert_filled(&around(&reach), &[], count);
    }

    /// The same with a slanting rock in it, and two that leave a neck between them, wide or closed but
    /// for a hair.
    #[test]
    fn ground_between_rocks_is_split_into_whole_patches(
        reach in prop::collection::vec(14.0..20.0_f64, 9),
        at in [35.0..55.0_f64, 15.0..30.0_f64],
        half in [1.0..7.0_f64, 1.0..5.0_f64],
        turn in 0.0..3.0_f64,
        middle in [35.0..55.0_f64, 14.0..31.0_f64],
        gap in prop_oneof![0.02..0.3_f64, 0.3..4.0_f64],
        thick in 0.4..6.0_f64,
        which in 1..4_u8,
        count in 1..=4_usize,
    ) {
        let mut rocks = Vec::new();
        if which & 1 > 0 {
            rocks.push(slab(at, half, turn));
        }
        if which & 2 > 0 {
            rocks.extend(neck(middle, thick, gap));
        }
        assert_filled(&around(&reach), &rocks, count);
    }
}
