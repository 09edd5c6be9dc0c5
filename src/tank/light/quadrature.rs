//! Gauss–Legendre rules and four-point interpolation: the two numerical tools of this room.

/// Nodes (positive half) and weights on −1..1, from the roots of the Legendre polynomials
/// (Abramowitz & Stegun 1964, table 25.4).
const FOUR: [(f64, f64); 2] =
    [(0.861_136_311_594_052_6, 0.347_854_845_137_453_74), (0.339_981_043_584_856_3, 0.652_145_154_862_546_1)];
const SIX: [(f64, f64); 3] = [
    (0.932_469_514_203_152, 0.171_324_492_379_170_36),
    (0.661_209_386_466_264_5, 0.360_761_573_048_138_6),
    (0.238_619_186_083_196_9, 0.467_913_934_572_691_04),
];
const EIGHT: [(f64, f64); 4] = [
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_18),
    (0.796_666_477_413_626_8, 0.222_381_034_453_374_43),
    (0.525_532_409_916_329, 0.313_706_645_877_887_4),
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
];
#[inline]
fn rule(half: &[(f64, f64)], a: f64, b: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
    let (mid, reach) = (f64::midpoint(a, b), 0.5 * (b - a));
    let sum: f64 = half.iter().map(|&(x, w)| w * (f(mid - reach * x) + f(mid + reach * x))).sum();
    reach * sum
}

/// ∫ f over a..b, exact for polynomials of degree 7.
#[inline]
pub(super) fn gauss4(a: f64, b: f64, f: impl FnMut(f64) -> f64) -> f64 {
    rule(&FOUR, a, b, f)
}

/// ∫ f over a..b, exact for polynomials of degree 11.
#[inline]
pub(super) fn gauss6(a: f64, b: f64, f: impl FnMut(f64) -> f64) -> f64 {
    rule(&SIX, a, b, f)
}

/// ∫ f over a..b, exact for polynomials of degree 15.
#[inline]
pub(super) fn gauss8(a: f64, b: f64, f: impl FnMut(f64) -> f64) -> f64 {
    rule(&EIGHT, a, b, f)
}

/// Cell and Lagrange weights for four-point interpolation at `x` in a table with nodes 0..=last
/// (`last` ≥ 3): multiply the weights with the nodes `cell..cell + 4`.
#[inline]
pub(super) fn four_point(x: f64, last: usize) -> (usize, [f64; 4]) {
    let cell = (x as usize).clamp(1, last - 2) - 1;
    let t = x - (cell as f64) - 1.0;
    let (before, after, second) = (t + 1.0, t - 1.0, t - 2.0);
    let weights = [
        -t * after * second / 6.0,
        before * after * second * 0.5,
        -before * t * second * 0.5,
        before * t * after / 6.0,
    ];
    (cell, weights)
}

/// Four-point interpolation in `table`, whose nodes are 0, 1, 2, ….
#[inline]
pub(super) fn interpolate(table: &[f64], x: f64) -> f64 {
    let (cell, w) = four_point(x, table.len() - 1);
    let t = &table[cell..cell + 4];
    w[0] * t[0] + w[1] * t[1] + w[2] * t[2] + w[3] * t[3]
}
