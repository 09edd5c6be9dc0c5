//! Words that never lie on each other: boxes on the page, taken one after the other.

/// A box on the page in mm: left, top, right, bottom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Area {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Area {
    pub fn new([left, top]: [f64; 2], [width, height]: [f64; 2]) -> Self {
        Self { left, top, right: left + width, bottom: top + height }
    }

    pub fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    pub fn within(&self, other: &Self) -> bool {
        self.left >= other.left
            && self.right <= other.right
            && self.top >= other.top
            && self.bottom <= other.bottom
    }

    /// So much larger on every side.
    pub fn grown(&self, by: f64) -> Self {
        Self { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }

    /// Whether a straight line passes through it (Liang & Barsky 1984).
    pub fn crossed(&self, from: [f64; 2], to: [f64; 2]) -> bool {
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        let sides = [
            (-dx, from[0] - self.left),
            (dx, self.right - from[0]),
            (-dy, from[1] - self.top),
            (dy, self.bottom - from[1]),
        ];
        for (slope, room) in sides {
            if slope == 0.0 {
                if room < 0.0 {
                    return false;
                }
            } else if slope < 0.0 {
                enter = enter.max(room / slope);
            } else {
                leave = leave.min(room / slope);
            }
        }
        enter < leave
    }
}

/// Where a label may go: its box, and the line that leads from it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Place {
    pub area: Area,
    pub leader: Vec<[f64; 2]>,
}

/// What is taken on a page.
#[derive(Debug, Clone)]
pub(super) struct Page {
    inside: Area,
    areas: Vec<Area>,
    /// Words keep off these, lines may pass behind them.
    fronts: Vec<Area>,
    leaders: Vec<[[f64; 2]; 2]>,
}

impl Page {
    pub fn new(inside: Area) -> Self {
        Self { inside, areas: Vec::new(), fronts: Vec::new(), leaders: Vec::new() }
    }

    /// Keeps a box clear.
    pub fn take(&mut self, area: Area) {
        self.areas.push(area);
    }

    /// Keeps words off a box behind which lines may pass.
    pub fn take_front(&mut self, area: Area) {
        self.fronts.push(area);
    }

    /// Whether a label can go there without lying on another, under a leader, or leading through one.
    pub fn has_room(&self, place: &Place) -> bool {
        let pairs = || place.leader.windows(2).map(|p| [p[0], p[1]]);
        place.area.within(&self.inside)
            && !self.areas.iter().chain(&self.fronts).any(|a| a.meets(&place.area))
            && !self.leaders.iter().any(|[a, b]| place.area.crossed(*a, *b))
            && !pairs().any(|[a, b]| self.areas.iter().any(|area| area.crossed(a, b)))
            && !pairs().any(|[a, b]| self.leaders.iter().any(|[c, d]| crossing(a, b, *c, *d)))
    }

    /// Takes the first place that has room.
    pub fn first(&mut self, places: impl IntoIterator<Item = Place>) -> Option<Place> {
        let found = places.into_iter().find(|p| self.has_room(p))?;
        self.areas.push(found.area);
        self.leaders.extend(found.leader.windows(2).map(|p| [p[0], p[1]]));
        Some(found)
    }
}

/// Whether two straight lines cross within both.
fn crossing(a: [f64; 2], b: [f64; 2], c: [f64; 2], d: [f64; 2]) -> bool {
    let side =
        |p: [f64; 2], q: [f64; 2], r: [f64; 2]| (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::{Area, Page, Place};

    fn page() -> Page {
        Page::new(Area::new([0.0, 0.0], [100.0, 100.0]))
    }

    fn at(x: f64, y: f64, leader: &[[f64; 2]]) -> Place {
        Place { area: Area::new([x, y], [20.0, 5.0]), leader: leader.to_vec() }
    }

    #[test]
    fn a_label_goes_to_the_first_place_that_is_free() {
        let mut page = page();
        page.take(Area::new([10.0, 10.0], [20.0, 5.0]));
        let found = page.first([at(25.0, 12.0, &[]), at(-1.0, 40.0, &[]), at(30.0, 12.0, &[])]);
        assert_eq!(found, Some(at(30.0, 12.0, &[])));
        assert_eq!(page.first([at(45.0, 12.0, &[])]), None);
    }

    #[test]
    fn leaders_neither_cross_nor_run_through_words() {
        let mut page = page();
        assert!(page.first([at(40.0, 10.0, &[[50.0, 15.0], [50.0, 80.0]])]).is_some());
        assert_eq!(page.first([at(45.0, 40.0, &[])]), None, "a label under a leader");
        assert_eq!(
            page.first([at(0.0, 50.0, &[[20.0, 52.0], [80.0, 60.0]])]),
            None,
            "a leader across a leader"
        );
        assert_eq!(
            page.first([at(60.0, 50.0, &[[60.0, 50.0], [42.0, 5.0]])]),
            None,
            "a leader through a label"
        );
        assert!(page.first([at(60.0, 50.0, &[[70.0, 55.0], [70.0, 90.0]])]).is_some());
    }
}
