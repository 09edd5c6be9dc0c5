//! The growth chart: sound SVG, words apart, and the values of the view where they belong.

use quillwort::report::svg::growth_chart;
use quillwort::report::view::RunsView;

use crate::drawing_support::{ATTIC, HALL, grown, numbers, overlaps, read, words};

#[test]
fn the_chart_is_svg_with_title_and_description_of_every_drift() {
    let view = grown(HALL, 12);
    let svg = growth_chart(&view);
    let document = roxmltree::Document::parse(&svg).expect("XML");
    let root = document.root_element();
    assert_eq!(root.attribute("version"), Some("1.1"));
    let children: Vec<_> = root.children().filter(roxmltree::Node::is_element).collect();
    assert_eq!(children[0].tag_name().name(), "title");
    assert_eq!(children[0].text(), Some("Growth in Hall, week by week"));
    assert_eq!(children[1].tag_name().name(), "desc");
    let described = children[1].text().expect("a description");
    for (n, drift) in view.drifts.iter().enumerate() {
        let [first, last] = [0, 12].map(|week| drift.weeks[week].cover.mid * 100.0);
        let cover = format!("{} {}: cover from {first:.0} to {last:.0} %", n + 1, drift.name);
        assert!(described.contains(&cover), "no `{cover}` in: {described}");
    }
}

#[test]
fn no_words_lie_on_others_however_many_weeks() {
    for weeks in [1, 5, 12, 26, 104] {
        for planted in [ATTIC, HALL] {
            let wrong = overlaps(&read(&growth_chart(&grown(planted, weeks))));
            assert!(wrong.is_empty(), "{weeks} weeks: {}", wrong.join("\n"));
        }
    }
}

/// The two plots of a panel, read back from the drawing: where a week and a value lie.
struct Plot {
    /// Left end, right end, top, floor.
    frame: [f64; 4],
    line: Vec<[f64; 2]>,
    band: Vec<[f64; 2]>,
}

impl Plot {
    /// All plots in the order of the drawing: the line, the band before it, the axes after it.
    fn all(document: &roxmltree::Document<'_>) -> Vec<Self> {
        let points = |node: &roxmltree::Node<'_, '_>| -> Vec<[f64; 2]> {
            let all: Vec<f64> = numbers(node.attribute("points").expect("points")).collect();
            all.chunks_exact(2).map(|p| [p[0], p[1]]).collect()
        };
        let lines = document.descendants().filter(|n| n.tag_name().name() == "polyline");
        let plot = |line: roxmltree::Node<'_, '_>| {
            let band = line.prev_sibling_element().expect("a band");
            let upright = line.next_sibling_element().expect("the upright axis");
            let level = upright.next_sibling_element().expect("the level axis");
            let end = |node: roxmltree::Node<'_, '_>, key| -> f64 {
                node.attribute(key).and_then(|v| v.parse().ok()).expect("a number")
            };
            let frame = [end(level, "x1"), end(level, "x2"), end(upright, "y1"), end(upright, "y2")];
            Self { frame, line: points(&line), band: points(&band) }
        };
        lines.map(plot).collect()
    }

    fn x(&self, week: u32, weeks: u32) -> f64 {
        let [left, right, ..] = self.frame;
        left + (right - left) * f64::from(week) / f64::from(weeks)
    }

    /// The share of its height at which a point lies.
    fn share(&self, y: f64) -> f64 {
        let [.., top, floor] = self.frame;
        (floor - y) / (floor - top)
    }

    /// Shares of the points of a shape at a week, in the order of the shape.
    fn at(&self, shape: &[[f64; 2]], week: u32, weeks: u32) -> Vec<f64> {
        let x = self.x(week, weeks);
        shape.iter().filter(|p| (p[0] - x).abs() < 0.02).map(|p| self.share(p[1])).collect()
    }
}

#[test]
fn lines_and_bands_pass_through_the_values_of_the_view() {
    const WEEKS: u32 = 12;
    // Places are rounded to a hundredth of a millimetre, the lower of the plots is 13 mm high.
    const EXACT: f64 = 0.006 / 13.0;
    let view = grown(HALL, WEEKS);
    let svg = growth_chart(&view);
    let document = roxmltree::Document::parse(&svg).expect("XML");
    let plots = Plot::all(&document);
    assert_eq!(plots.len(), 2 * view.drifts.len());
    let mut trims = 0;
    for (drift, pair) in view.drifts.iter().zip(plots.chunks_exact(2)) {
        let [cover, height] = pair else { unreachable!() };
        // The top of the height is a round number; the last week gives it away.
        let last = drift.weeks[WEEKS as usize].height_cm.mid;
        let most = (last / height.at(&height.line, WEEKS, WEEKS)[0]).round();
        let highest = drift.weeks.iter().map(|w| w.height_cm.high).fold(0.0, f64::max);
        assert!(most >= highest, "{}: {highest} cm on a scale up to {most}", drift.name);
        for week in 0..=WEEKS {
            let state = &drift.weeks[week as usize];
            let near = |plot: &Plot, runs: RunsView, most: f64| {
                let line = plot.at(&plot.line, week, WEEKS);
                let band = plot.at(&plot.band, week, WEEKS);
                for (drawn, value) in [(line[0], runs.mid), (band[0], runs.low), (band[1], runs.high)] {
                    let off = (drawn - value / most).abs();
                    assert!(off < EXACT, "{} in week {week}: {drawn} for {value} of {most}", drift.name);
                }
                line.len()
            };
            let points = near(cover, state.cover, 1.0);
            assert_eq!(near(height, state.height_cm, most), points, "{}", drift.name);
            assert_eq!(points == 2, state.cut.is_some(), "{} in week {week}: a trim is a fall", drift.name);
            trims += usize::from(state.cut.is_some());
        }
    }
    assert!(trims > 0, "the hall is trimmed within twelve weeks");
}

#[test]
fn every_panel_ends_with_its_last_values() {
    let view = grown(ATTIC, 12);
    let tree = read(&growth_chart(&view));
    let mut all = Vec::new();
    words(tree.root(), &mut all);
    let count = |said: &str| all.iter().filter(|(words, _)| words == said).count();
    for drift in &view.drifts {
        let last = drift.weeks.last().expect("weeks");
        let (cover, height) = (last.cover.mid * 100.0, last.height_cm.mid);
        assert!(count(&format!("{cover:.0} %")) > 0, "{}: no {cover:.0} %", drift.name);
        assert!(count(&format!("{height} cm")) > 0, "{}: no {height} cm", drift.name);
        assert_eq!(count(&drift.name), 1);
    }
    assert_eq!(count("cover %"), view.drifts.len());
    assert_eq!(count("height cm"), view.drifts.len());
}
