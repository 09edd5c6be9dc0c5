//! The light of the lamps: every lamp, every wall image, at any point.

use super::lamp::Lamp;
use super::leak::{FlatRays, Leak};
use super::potential::{Beam, Potential, View};
use super::region::{self, Rect};
use super::scene::{LightError, Scene, Walls};
use super::water::{PathTable, PathTransmission};
use crate::units::Length;

/// One lamp, ready to be asked.
#[derive(Debug, Clone)]
struct Source {
    x: [f64; 2],
    y: [f64; 2],
    /// µmol m⁻² s⁻¹ per unit of the direction integral, lid included.
    strength: f64,
    potential: Potential,
    /// Present where walls send light back.
    flat_rays: Option<FlatRays>,
}

/// All lamps over one scene, in plain metres and µmol m⁻² s⁻¹.
#[derive(Debug, Clone)]
pub(super) struct Lamplight {
    scene: Scene,
    sources: Vec<Source>,
    /// Present where walls send light back.
    leak: Option<Leak>,
}

/// What each lamp looks like from one depth.
pub(super) struct Layer<'a> {
    pub depth: f64,
    views: Vec<(View<'a>, Option<FlatRays>)>,
}

impl Lamplight {
    /// The light of these lamps.
    pub fn new(lamps: &[Lamp], scene: &Scene) -> Result<Self, LightError> {
        let leak = mirrors(scene).then(|| Leak::new(scene.refractive_index, most_reflections(scene)));
        let mut sources: Vec<Source> = Vec::with_capacity(lamps.len());
        for (index, lamp) in lamps.iter().enumerate() {
            lamp.check(index)?;
            let alike = lamps[..index].iter().position(|earlier| earlier.shines_like(lamp));
            let known = alike.map(|earlier| sources[earlier].potential.clone());
            let potential = known.unwrap_or_else(|| potential(lamp, scene));
            sources.push(Source::new(lamp, scene, potential, leak.as_ref()));
        }
        Ok(Self { scene: *scene, sources, leak })
    }

    /// Readies the lamps for receivers at one depth, above 0.
    pub fn layer(&self, depth: f64) -> Layer<'_> {
        let ready = self.sources.iter().map(|source| {
            let view = source.potential.view(depth);
            let rays = self.leak.as_ref().zip(source.flat_rays.as_ref());
            let rays = rays.map(|(leak, rays)| leak.at_depth(rays, &view));
            (view, rays)
        });
        Layer { depth, views: ready.collect() }
    }

    /// The light at a point in air.
    pub fn in_air(&self, x: f64, y: f64, above_water: f64) -> f64 {
        let one = |source: &Source| source.strength * source.in_air(x, y, above_water);
        self.sources.iter().map(one).fold(0.0, |total, light| total + light)
    }

    /// The light at a point under water; 0 outside the glass.
    pub fn in_water(&self, x: f64, y: f64, layer: &Layer<'_>) -> f64 {
        let (length, width) = (self.scene.length.m(), self.scene.depth.m());
        if !((0.0..=length).contains(&x) && (0.0..=width).contains(&y)) {
            return 0.0;
        }
        let farthest =
            layer.depth / (self.scene.refractive_index * self.scene.refractive_index - 1.0).max(0.0).sqrt();
        let most = if mirrors(&self.scene) { MOST_IMAGES } else { 0 };
        let mut sums = vec![0.0; self.sources.len()];
        for column in images(x, length, farthest, most) {
            for row in images(y, width, farthest, most) {
                if column.gap * column.gap + row.gap * row.gap < farthest * farthest {
                    for ((sum, source), seen) in sums.iter_mut().zip(&self.sources).zip(&layer.views) {
                        *sum += self.through_image(source, seen, &column, &row);
                    }
                }
            }
        }
        let open = 1.0 - self.scene.floating.value();
        // Where a lamp sends nothing its parts cancel but for rounding.
        let each = sums.iter().zip(&self.sources).map(|(sum, source)| source.strength * sum.max(0.0));
        open * each.fold(0.0, |total, light| total + light)
    }

    /// One lamp through the water surface as one image of the receiver sees both.
    fn through_image(
        &self,
        source: &Source,
        (view, rays): &(View<'_>, Option<FlatRays>),
        column: &Image,
        row: &Image,
    ) -> f64 {
        let lamp = Rect { x: column.relative(source.x), y: row.relative(source.y) };
        if out_of_reach(view, column.gap, lamp.x) || out_of_reach(view, row.gap, lamp.y) {
            return 0.0;
        }
        let surface = Rect { x: column.surface(), y: row.surface() };
        let mut seen = region::through(view, &lamp, &surface);
        if let (Some(leak), Some(rays)) = (&self.leak, rays) {
            if column.walls > 0 {
                seen -= leak.lost(view, rays, &lamp, &surface, column.walls);
            }
            if row.walls > 0 {
                seen -= leak.lost(view, rays, &lamp.turned(), &surface.turned(), row.walls);
            }
        }
        seen
    }
}

impl Source {
    fn new(lamp: &Lamp, scene: &Scene, potential: Potential, leak: Option<&Leak>) -> Self {
        let span = |centre: Length, size: Length| [centre.m() - 0.5 * size.m(), centre.m() + 0.5 * size.m()];
        Self {
            x: span(lamp.centre.0, lamp.size.0),
            y: span(lamp.centre.1, lamp.size.1),
            strength: lamp.strength() * scene.lid.value(),
            flat_rays: leak.map(|leak| leak.flat_rays(potential.beam())),
            potential,
        }
    }

    fn in_air(&self, x: f64, y: f64, above_water: f64) -> f64 {
        let beam = self.potential.beam();
        let below_lamp = beam.height - above_water;
        if below_lamp <= 0.0 {
            return 0.0;
        }
        let lamp = Rect { x: self.x.map(|a| a - x), y: self.y.map(|b| b - y) };
        region::whole(below_lamp * beam.narrowing(), &lamp, |w| beam.in_air(w, below_lamp))
    }
}

/// How a lamp's light spreads, down to the floor of the tank.
fn potential(lamp: &Lamp, scene: &Scene) -> Potential {
    let (index, deepest) = (scene.refractive_index, scene.water_level.m());
    // The flattest refracted path is longer than the depth by 1/cos of the critical angle; in a
    // tank of air, where absorption is a check and no more, rays flatter than 1 in 50 are cut short.
    let flattest = if index > 1.0 { (1.0 - 1.0 / (index * index)).sqrt() } else { 0.02 };
    let water = PathTable::new(&PathTransmission::new(&scene.water, &lamp.bands), deepest / flattest);
    let beam = Beam { height: lamp.above_water.m(), exponent: lamp.exponent(), index, water };
    Potential::new(beam, deepest)
}

/// One mirror image of the receiver along one axis.
#[derive(Debug, Clone, Copy)]
struct Image {
    /// Place of the image; the tank spans 0..extent.
    at: f64,
    extent: f64,
    /// Walls between: the number of reflections.
    walls: usize,
    /// Distance from the image to the tank.
    gap: f64,
}

impl Image {
    fn relative(&self, span: [f64; 2]) -> [f64; 2] {
        span.map(|a| a - self.at)
    }

    fn surface(&self) -> [f64; 2] {
        [-self.at, self.extent - self.at]
    }
}

/// More images than any tank shows: 64 walls crossed need a depth of 56 times the width.
const MOST_IMAGES: i32 = 64;

/// The images at most `farthest` from the tank, the receiver itself first.
fn images(at: f64, extent: f64, farthest: f64, most: i32) -> impl Iterator<Item = Image> {
    let image = move |cell: i32| {
        let within = if cell % 2 == 0 { at } else { extent - at };
        let place = f64::from(cell) * extent + within;
        let gap = if cell > 0 { place - extent } else { -place };
        Image {
            at: place,
            extent,
            walls: cell.unsigned_abs() as usize,
            gap: if cell == 0 { 0.0 } else { gap },
        }
    };
    let side =
        move |step: i32| (1..=most).map(move |i| image(step * i)).take_while(move |i| i.gap < farthest);
    std::iter::once(image(0)).chain(side(1)).chain(side(-1))
}

/// Whether the walls send anything back.
fn mirrors(scene: &Scene) -> bool {
    scene.walls == Walls::Glass && scene.refractive_index > 1.0
}

/// The most walls of one pair that light can meet on its way to the floor.
fn most_reflections(scene: &Scene) -> usize {
    let k = scene.refractive_index * scene.refractive_index - 1.0;
    let farthest = scene.water_level.m() / k.max(1e-12).sqrt();
    let narrow = scene.length.m().min(scene.depth.m());
    ((farthest / narrow).ceil() + 1.0).min(f64::from(MOST_IMAGES)) as usize
}

/// Whether light that enters beyond `gap` along an axis would have to come from beyond the lamp.
fn out_of_reach(view: &View<'_>, gap: f64, lamp: [f64; 2]) -> bool {
    if gap <= 0.0 {
        return false;
    }
    let tan = gap / view.depth;
    let share = view.share_at(1.0 - view.k * tan * tan);
    lamp[0].abs().max(lamp[1].abs()) * share <= gap
}
