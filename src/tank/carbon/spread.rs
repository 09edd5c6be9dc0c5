//! Bounds of bicarbonate over hardness and warmth, along which it need neither rise nor fall.
//!
//! At a given alkalinity it is `(alk + u·(a − kw/a)) / (free + bound/a)` (names as in [`super::system`]).
//! Hardness and warmth raise u, which makes free acid count for more and hydroxide take more, and
//! they raise free, bound and kw. At almost no alkalinity neither outweighs the other everywhere,
//! so no corner of the box is sure to be an extreme. A box is bounded by taking each term at the
//! end of its own, which holds always; it is halved until the bound is as near to a value that is
//! reached as [`NEAR`], or has been halved `MOST_HALVINGS` times.

use super::{CarbonError, CarbonateSystem};
use crate::units::{CarbonateHardness, Concentration, GeneralHardness, Interval, Quantity, Temperature};

/// How far a bound may lie beyond what is reached, as a share of it.
pub const NEAR: f64 = 1e-4;
/// Halvings after which a bound is taken as it is: it holds, and may be wider.
const MOST_HALVINGS: usize = 200;

/// Which end is looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    Least,
    Most,
}

/// What there is of hydrogen ions in a water; over a box it lies between those of the soft and cool
/// corner and of the hard and warm one.
pub(super) trait Acid: Fn(&CarbonateSystem) -> Result<f64, CarbonError> {}
impl<F: Fn(&CarbonateSystem) -> Result<f64, CarbonError>> Acid for F {}

/// Hardness and warmth within ranges, with the waters at both corners.
struct Piece {
    gh: Interval<GeneralHardness>,
    t: Interval<Temperature>,
    soft: CarbonateSystem,
    hard: CarbonateSystem,
    /// A bound of the bicarbonate over the piece.
    bound: f64,
    /// The farthest that is reached at the two corners.
    reached: f64,
}

/// The least or the most of bicarbonate over a box of hardness and warmth, in mg/L.
pub(super) fn bicarbonate(
    end: End,
    kh: CarbonateHardness,
    (gh, t): (Interval<GeneralHardness>, Interval<Temperature>),
    acid: &impl Acid,
) -> Result<Concentration, CarbonError> {
    let farther = |a: f64, b: f64| if end == End::Most { a > b } else { a < b };
    let mut pieces = vec![Piece::new(end, kh, gh, t, acid)?];
    for _ in 0..MOST_HALVINGS {
        let worst =
            (1..pieces.len()).fold(0, |w, i| if farther(pieces[i].bound, pieces[w].bound) { i } else { w });
        let reached = pieces.iter().map(|p| p.reached).reduce(|a, b| if farther(b, a) { b } else { a });
        let (bound, reached) = (pieces[worst].bound, reached.unwrap_or_default());
        if (bound - reached).abs() <= NEAR * reached {
            return Ok(Concentration::from_mg_l(bound));
        }
        let halves = pieces.swap_remove(worst).halves(end, kh, acid)?;
        pieces.extend(halves);
    }
    let bounds = pieces.iter().map(|p| p.bound).reduce(|a, b| if farther(b, a) { b } else { a });
    Ok(Concentration::from_mg_l(bounds.unwrap_or_default()))
}

impl Piece {
    fn new(
        end: End,
        kh: CarbonateHardness,
        gh: Interval<GeneralHardness>,
        t: Interval<Temperature>,
        acid: &impl Acid,
    ) -> Result<Self, CarbonError> {
        let soft = CarbonateSystem::with_any_kh(kh, gh.lo(), t.lo())?;
        let hard = CarbonateSystem::with_any_kh(kh, gh.hi(), t.hi())?;
        let (a_soft, a_hard) = (acid(&soft)?, acid(&hard)?);
        let at_corners = [soft.bicarbonate_at(a_soft), hard.bicarbonate_at(a_hard)].map(Concentration::mg_l);
        let (bound, reached) = match end {
            End::Most => (soft.bicarbonate_activated_as(&hard, a_hard), at_corners[0].max(at_corners[1])),
            End::Least => (hard.bicarbonate_activated_as(&soft, a_soft), at_corners[0].min(at_corners[1])),
        };
        Ok(Self { gh, t, soft, hard, bound: bound.mg_l(), reached })
    }

    /// Two halves, along what widens the bound more.
    fn halves(self, end: End, kh: CarbonateHardness, acid: &impl Acid) -> Result<[Self; 2], CarbonError> {
        let hard_and_cool = CarbonateSystem::with_any_kh(kh, self.gh.hi(), self.t.lo())?;
        let by_hardness = hard_and_cool.apart(&self.soft);
        let by_warmth = self.hard.apart(&hard_and_cool);
        let (gh, t) = (halved(self.gh), halved(self.t));
        let boxes = if by_hardness >= by_warmth {
            [(gh[0], self.t), (gh[1], self.t)]
        } else {
            [(self.gh, t[0]), (self.gh, t[1])]
        };
        let [a, b] = boxes.map(|(gh, t)| Self::new(end, kh, gh, t, acid));
        Ok([a?, b?])
    }
}

fn halved<Q: Quantity>(range: Interval<Q>) -> [Interval<Q>; 2] {
    [Interval::spanning(range.lo(), range.mid()), Interval::spanning(range.mid(), range.hi())]
}
