//! Varied tanks, drawn from a fixed seed: 30 to 180 cm, three to eight zones, with and without gas,
//! budgets and trimming tight and loose. Invented; used by the benchmark and the outside check.

/// Draws from a seed (Marsaglia 2003, xorshift64).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: u64) -> u64 {
        for shift in [13, -7, 17_i32] {
            self.0 ^= if shift > 0 { self.0 << shift } else { self.0 >> -shift };
        }
        (self.0 >> 16) % n
    }

    fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.below(from.len() as u64) as usize]
    }
}

/// The tank file with this number.
pub fn tank(number: u64) -> String {
    let mut dice = Dice(number.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    dice.below(1);
    let (length, depth, height) = dice.pick(&[
        (30, 20, 25),
        (45, 27, 30),
        (60, 30, 36),
        (60, 45, 45),
        (90, 45, 45),
        (120, 50, 50),
        (150, 60, 60),
        (180, 60, 60),
    ]);
    let zones = 3 + number % 6;
    let gas = dice.below(2) == 1;
    let area = f64::from(length * depth) / 1e4;
    let flux = area * dice.pick(&[60.0, 100.0, 160.0]) * if gas { 1.8 } else { 1.0 };
    let mut text = format!(
        "name = \"Tank {number}\"\njurisdiction = [\"DE\", \"EU\"]\n\
         [glass]\nlength = \"{length} cm\"\ndepth = \"{depth} cm\"\nheight = \"{height} cm\"\n\
         water = \"{} cm\"\nopen_top = {}\n\
         [bed]\nkind = \"{}\"\nfront = \"4 cm\"\nback = \"7 cm\"\n\
         [light]\nhours = 8\n\
         [[light.lamp]]\nphoton_flux = \"{flux:.1} umol/s\"\nsize = [\"{} cm\", \"10 cm\"]\n\
         above_water = \"8 cm\"\nbeam = \"120 deg\"\nat = [\"{} cm\", \"{} cm\"]\n",
        height - 3,
        dice.below(2) == 1,
        dice.pick(&["sand", "active soil"]),
        length * 4 / 5,
        length / 2,
        depth / 2,
    );
    text += &water(length, gas, &mut dice);
    text += &layout(zones, f64::from(length), f64::from(depth), &mut dice);
    text += &wishes(area, zones, &mut dice);
    text
}

/// Budget, trimming and shares.
fn wishes(area: f64, zones: u64, dice: &mut Dice) -> String {
    let budget = (40.0 + 420.0 * area) * dice.pick(&[0.7, 1.0, 1.6]);
    let mut text = format!(
        "[wishes]\nbudget = \"{budget:.0}\"\ncurrency = \"EUR\"\nprices = \"prices-invented.csv\"\n\
         trim_minutes_per_month = {:.0}\nper_genus = {}\n",
        (30.0 + 90.0 * area.sqrt() + 8.0 * zones as f64) * dice.pick(&[0.7, 1.0, 2.0]),
        1 + dice.below(3)
    );
    if let Some(share) = dice.pick(&[None, Some(30), Some(50)]) {
        text += &format!("fast_share = \"{share} %\"\n");
    }
    text
}

/// Gas, water and filter.
fn water(length: u32, gas: bool, dice: &mut Dice) -> String {
    let mut text = String::new();
    text += if gas {
        "[gas]\ninjection = \"pressurised\"\ntarget = \"15..24 mg/L\"\non_before = \"1 h\"\noff_before = \"1 h\"\n"
    } else {
        "[gas]\ninjection = \"none\"\n"
    };
    let (ph, gh, kh) = dice.pick(&[
        ("6.2..6.6", "4..6", "1..2"),
        ("6.9..7.3", "6..8", "3..5"),
        ("7.4..7.8", "12..15", "8..10"),
    ]);
    let temperature = dice.pick(&["22..24", "23..25", "25..27"]);
    text += &format!(
        "[water]\ntemperature = \"{temperature} degC\"\nph = \"{ph}\"\ngh = \"{gh} dGH\"\nkh = \"{kh} dKH\"\n\
         tint = \"clear\"\nweekly_change = \"40 %\"\n[filter]\nflow = \"{} L/h\"\n",
        length * 10
    );
    text
}

/// A strip of the layout: name, placement, from front to back, whether in halves, most taxa, tallest.
type Strip<'a> = (&'a str, &'a str, [f64; 2], bool, &'a [u64], u64);

/// Hardscape and zones, front to back.
fn layout(zones: u64, length: f64, depth: f64, dice: &mut Dice) -> String {
    let mut text = String::new();
    let outline = |x: [f64; 2], y: [f64; 2]| {
        let corner = |x: f64, y: f64| format!("[\"{:.1} cm\", \"{:.1} cm\"]", x * length, y * depth);
        let corners = [corner(x[0], y[0]), corner(x[1], y[0]), corner(x[1], y[1]), corner(x[0], y[1])];
        format!("outline = [{}]\n", corners.join(", "))
    };
    text += "[[hardscape]]\nname = \"stone\"\nmaterial = \"inert rock\"\n";
    text += &outline([0.4, 0.58], [0.36, 0.62]);
    text += "top = \"14 cm\"\n";
    let mut zone = |name: &str, placement: &str, place: &str, most: &[u64], tallest: u64| {
        let most = dice.pick(most);
        text += &format!(
            "[[zone]]\nname = \"{name}\"\nplacement = \"{placement}\"\n{place}taxa = \"1..{most}\"\n"
        );
        if tallest > 0 {
            text += &format!("tallest = \"{tallest} cm\"\n");
        }
    };
    let (front, middle, back) = ([0.0, 0.3], [0.3, 0.65], [0.65, 1.0]);
    let halves = |name: &str| [(format!("{name} left"), [0.0, 0.39]), (format!("{name} right"), [0.59, 1.0])];
    let strips: [Strip<'_>; 3] = [
        ("front", "foreground", front, zones >= 8, &[2, 3], 12),
        ("middle", "midground", middle, zones >= 4, &[2, 3], 25),
        ("back", "background", back, zones >= 6, &[2, 3, 4], 0),
    ];
    for (name, placement, y, halved, most, tallest) in strips {
        if halved {
            for (name, x) in halves(name) {
                zone(&name, placement, &outline(x, y), most, tallest);
            }
        } else {
            let x = if name == "middle" { [0.0, 0.39] } else { [0.0, 1.0] };
            zone(name, placement, &outline(x, y), most, tallest);
        }
    }
    if zones >= 5 {
        zone("on the stone", "epiphyte", "", &[1, 2, 3], 20);
    }
    if zones >= 7 {
        zone("surface", "floating", "from_left = \"0..20 cm\"\n", &[1, 2], 0);
    }
    text
}
