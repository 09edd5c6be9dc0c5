//! Gives every patch its exact area by moving the borders between patches a little.
//!
//! Patches that share a border form a tree; from its leaves up, each border bulges just so much
//! that the patch behind it has its area. The ends of a border stay, and so does its look.

use super::border::{CLEAR, Corner, Net, doubled_area};
use super::shore::{Point, Shore, apart};

/// A border may bulge by this many cells at most.
const MOST_CELLS: f64 = 3.0;
/// Rounds of balancing: a border that cannot bulge is left out of the next tree.
const ROUNDS: usize = 8;
/// An area is right to this many square metres.
const RIGHT: f64 = 1e-9;
/// Newton steps for the height of a bulge.
const STEPS: usize = 6;

/// A border between two patches, from end to end, with `left` on its left.
#[derive(Debug, Clone)]
struct Border {
    left: u32,
    right: u32,
    corners: Vec<Corner>,
}

/// Moves the borders so that patch `n` encloses `wanted[n]` square metres, as far as they reach.
pub(super) fn balance(net: &mut Net<'_>, shore: &Shore<'_>, wanted: &[f64], cell: f64) {
    let mut borders = borders(net);
    let rings = net.rings(wanted.len());
    for _ in 0..ROUNDS {
        let area =
            |rings: &Vec<Vec<Corner>>| rings.iter().map(|r| doubled_area(&net.line(r)) / 2.0).sum::<f64>();
        let mut lacks: Vec<f64> =
            wanted.iter().zip(&rings).map(|(wanted, rings)| wanted - area(rings)).collect();
        let mut stiff = Vec::new();
        for (child, parent, n) in tree(&borders, wanted.len()).into_iter().rev() {
            let lack = std::mem::take(&mut lacks[child as usize]);
            let gain = if borders[n].left == child { lack } else { -lack };
            if lack.abs() > RIGHT && !bulge(net, shore, &borders[n], gain, cell) {
                stiff.push(n);
            }
            lacks[parent as usize] += lack;
        }
        if stiff.is_empty() {
            return;
        }
        stiff.sort_unstable();
        stiff.into_iter().rev().for_each(|n| drop(borders.remove(n)));
    }
}

/// All borders with ends: at the edge of the ground or where three patches meet.
fn borders(net: &Net<'_>) -> Vec<Border> {
    let mut found = Vec::new();
    for start in net.all() {
        if net.borders(start).len() == 2 {
            continue;
        }
        for way in 0..4 {
            let Some((left, right)) = net.between_patches(start, way) else { continue };
            let corners = follow(net, start, way);
            // Each border is met from both ends; the first end in order speaks for it.
            if corners.first() <= corners.last() {
                found.push(Border { left, right, corners });
            }
        }
    }
    found
}

fn follow(net: &Net<'_>, start: Corner, mut way: usize) -> Vec<Corner> {
    let mut corners = vec![start];
    let mut corner = Net::step(start, way);
    loop {
        corners.push(corner);
        let back = (way + 2) % 4;
        match net.borders(corner).as_slice() {
            &[a, b] => way = if a == back { b } else { a },
            _ => return corners,
        }
        corner = Net::step(corner, way);
    }
}

/// Patches reached from the first of each group over its longest borders: child, parent, number of
/// the border, parents before their children.
fn tree(borders: &[Border], patches: usize) -> Vec<(u32, u32, usize)> {
    let mut reached = vec![false; patches];
    let mut links: Vec<(u32, u32, usize)> = Vec::new();
    for root in 0..patches {
        if std::mem::replace(&mut reached[root], true) {
            continue;
        }
        let mut group = vec![root as u32];
        loop {
            let joins = |n: &usize| group.contains(&borders[*n].left) != group.contains(&borders[*n].right);
            let longest = (0..borders.len()).filter(joins).max_by_key(|n| borders[*n].corners.len());
            let Some(n) = longest else { break };
            let Border { left, right, .. } = borders[n];
            let (child, parent) = if group.contains(&left) { (right, left) } else { (left, right) };
            reached[child as usize] = true;
            group.push(child);
            links.push((child, parent, n));
        }
    }
    links
}

/// Bulges a border to its right so that what is on its left gains an area; whether it did.
fn bulge(net: &mut Net<'_>, shore: &Shore<'_>, border: &Border, gain: f64, cell: f64) -> bool {
    let line = net.line(&border.corners);
    let n = line.len();
    if n < 3 {
        return false;
    }
    let mut run = vec![0.0; n];
    for k in 1..n {
        run[k] = run[k - 1] + apart(line[k - 1], line[k]);
    }
    let outward = |k: usize| {
        let (a, b) = (line[k.saturating_sub(1)], line[(k + 1).min(n - 1)]);
        let length = apart(a, b).max(f64::MIN_POSITIVE);
        let rise = libm::sin(std::f64::consts::PI * run[k] / run[n - 1].max(f64::MIN_POSITIVE));
        [(b[1] - a[1]) / length * rise * rise, -(b[0] - a[0]) / length * rise * rise]
    };
    let ways: Vec<Point> = (0..n).map(outward).collect();
    let moved = |by: f64| -> Vec<Point> {
        line.iter().zip(&ways).map(|(p, w)| [p[0] + by * w[0], p[1] + by * w[1]]).collect()
    };
    // Closed by its chord, a line encloses what it gains and a constant.
    let gained = |by: f64| (doubled_area(&moved(by)) - doubled_area(&line)) / 2.0;
    let mut by = 0.0;
    for _ in 0..STEPS {
        let slope = (gained(by + 1e-5) - gained(by - 1e-5)) / 2e-5;
        if slope.abs() < 1e-9 {
            return false;
        }
        by += (gain - gained(by)) / slope;
    }
    let points = moved(by);
    let clear = |(new, old): (&Point, &Point)| shore.room(*new) >= shore.room(*old).min(CLEAR * cell);
    let fits = by.abs() <= MOST_CELLS * cell && points[1..n - 1].iter().zip(&line[1..n - 1]).all(clear);
    if fits {
        border.corners.iter().zip(points).for_each(|(corner, place)| net.put(*corner, place));
    }
    fits
}
