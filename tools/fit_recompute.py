"""Computes the verdicts of fit anew from exported JSON, written from the words of the documentation and
sharing no code with the program.

    python3 tools/fit_recompute.py [PROGRAM]

Tanks are the demos and others drawn from a fixed seed; of each, `check --inputs --format json` gives the
numbers that verdicts are computed from. From them alone this script judges every plant in every zone:
trapezoids, the least factor, light cell by cell, the limiting factor, the share where it grows, the
bounds over all measurement ranges, the best zone and its word. The bounds sweep every gain at which a
cell of the zone passes a corner of its trapezoid. Numbers are exported unrounded, so all is compared to
1e-9. Then it harms one number at a time and must notice each. Standard library only.
"""

import copy
import csv
import json
import math
import pathlib
import random
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent
DEMOS = sorted((ROOT / "data/demo").glob("*.toml"))
DRAWN_TANKS = 24
PLANTS_A_TANK = 90
LEAST_PAIRS = 2000
SEED = 20261125
TOLERANCE = 1e-9
FACTORS = ["placement", "footing", "height", "bed depth", "feeding", "light", "carbon", "temperature", "pH", "GH", "KH"]
WATER = {"temperature": "temperature_c", "pH": "ph", "GH": "gh_dgh", "KH": "kh_dkh"}
INF = math.inf


# --- suitability of one value ---------------------------------------------------------------------

def trapezoid(corners, x):
    """0 at and beyond the outer corners, 1 between the inner ones; a step gives its own value 1."""
    a, b, c, d = corners
    if b <= x <= c:
        return 1.0
    if x <= a or x >= d:
        return 0.0
    return (x - a) / (b - a) if x < b else (d - x) / (d - c)


def trapezoid_over(corners, lo, hi):
    """Least and greatest over lo..hi: it rises to a plateau and falls."""
    ends = trapezoid(corners, lo), trapezoid(corners, hi)
    plateau = lo <= corners[2] and hi >= corners[1]
    return min(ends), 1.0 if plateau else max(ends)


# --- factors ----------------------------------------------------------------------------------------

def room_wanted(plant, zone):
    lo, hi = plant["height_cm"]
    ribbon = plant["growth_form"] in ("rosette", "runner", "bulb") and plant["leaf_texture"] == "linear"
    if plant["growth_form"] == "stem" or (ribbon and zone["ceiling"] == "surface"):
        return lo / 2, lo
    return 0.75 * lo, (lo + hi) / 2


def height(plant, zone):
    if zone["placement"] == "floating":
        return 1.0
    lo, hi = plant["height_cm"]
    emerges = zone["open_top"] and plant["emersed"] == "open-top" and zone["tallest_cm"] >= lo
    under = 1.0 if emerges else trapezoid([*room_wanted(plant, zone), INF, INF], zone["tallest_cm"])
    over = 1.0
    if zone["shortest_cm"] > 0:
        over = min(1.0, max(0.0, 2 * hi / zone["shortest_cm"] - 1))
    return min(under, over)


def bed_depth(plant, zone):
    wanted = plant["bed_depth_min_cm"]
    if "bed" not in zone["footings"] or wanted <= 0:
        return 1.0
    return trapezoid([wanted / 3, wanted, INF, INF], zone["bed_depth_cm"])


def feeding(plant, zone):
    if "bed" not in zone["footings"] or zone["bed"] not in ("sand", "gravel"):
        return 1.0
    return {"root": 0.7, "both": 0.9}.get(plant["feeding"], 1.0)


def fixed(plant, zone):
    """The factors that no measurement touches."""
    return {
        "placement": float(zone["placement"] in plant["placements"]),
        "footing": float(bool(set(plant["footings"]) & set(zone["footings"]))),
        "height": height(plant, zone),
        "bed depth": bed_depth(plant, zone),
        "feeding": feeding(plant, zone),
    }


def water_curves(plant, zone):
    """Factor → corners and the measured value (nominal, lo, hi); carbon only where it can limit."""
    curves = {}
    if plant["carbon_use"] != "air":
        co2, extra = zone["co2_mg_l"], zone["bicarbonate_as_co2_mg_l"]
        use = [co2[k] + (extra[k] if plant["carbon_use"] == "co2+bicarbonate" else 0.0) for k in ("nominal", "lo", "hi")]
        curves["carbon"] = ([*plant["co2_mg_l"], INF, INF], use)
    for factor, key in WATER.items():
        curves[factor] = (plant[key], [zone[key][k] for k in ("nominal", "lo", "hi")])
    return curves


def light_corners(plant, hours):
    return [ppfd * hours * 3600 / 1e6 for ppfd in plant["ppfd_umol_m2_s"]]


def level_of(plant, zone):
    """The highest level not above half the height at which the plant stands, else the lowest."""
    leaf = min(plant["height_cm"][1], zone["tallest_cm"]) / 2
    below = [level for level in zone["light"] if level["height_cm"] <= leaf + 1e-7]
    return (below or zone["light"])[-1 if below else 0]["dli_mol_m2_d"]


def mean_of(cells, corners, cap, gain):
    if cap <= 0 or gain <= 0:
        return 0.0
    return math.fsum(min(trapezoid(corners, cell * gain), cap) for cell in cells) / len(cells)


def extremes(cells, corners, cap, lo, hi):
    """Least and greatest mean over all gains lo..hi. Between the gains at which some cell passes a corner the
    sum is linear in the gain, so it is followed from one such gain to the next by its slope, and its jumps."""
    if cap <= 0:
        return 0.0, 0.0
    a, b, c, d = corners
    rise, fall = a + cap * (b - a), d - cap * (d - c)
    events = []  # gain, change of value when reached, change of value just beyond, change of slope
    for cell in cells:
        if cell <= 0:
            continue
        if b > a:
            up = cell / (b - a)
            events += [(a / cell, 0.0, 0.0, up), (rise / cell, 0.0, 0.0, -up)]
        else:
            events.append((a / cell, cap, 0.0, 0.0))
        if d > c:
            down = cell / (d - c)
            events += [(fall / cell, 0.0, 0.0, -down), (d / cell, 0.0, 0.0, down)]
        else:
            events.append((d / cell, 0.0, -cap, 0.0))
    inside = sorted(event for event in events if lo < event[0] < hi)
    n = len(cells)
    least = most = value = mean_of(cells, corners, cap, lo)
    slope = math.fsum(change for at, _, _, change in events if at <= lo) / n
    # A downward step that lies on the lower end itself is taken just beyond it.
    value += math.fsum(beyond for at, _, beyond, _ in events if at == lo) / n
    at = lo
    for gain, reached, beyond, change in inside:
        value += slope * (gain - at)
        least, most = min(least, value), max(most, value)
        value += reached / n
        least, most = min(least, value), max(most, value)
        value += beyond / n
        least, most = min(least, value), max(most, value)
        slope += change / n
        at = gain
    end = mean_of(cells, corners, cap, hi)
    return min(least, end), max(most, end)


# --- a plant in a zone ------------------------------------------------------------------------------

def grows_between(corners):
    a, b, c, d = corners
    return (a + b) / 2, (c + d) / 2 if d < INF else d


def tightest(zone, curves, light, cells):
    """Among factors at their best, the one whose value is relatively nearest to where growth ends."""
    gain = zone["light_gain"]["nominal"]
    values = {"light": (light, math.fsum(cells) / len(cells) * gain)}
    values |= {factor: (corners, value[0]) for factor, (corners, value) in curves.items()}
    best = (INF, "light")
    for factor in FACTORS[5:]:
        if factor not in values:
            continue
        corners, value = values[factor]
        low, high = grows_between(corners)
        at_least = value - low <= high - value
        limit = low if at_least else high
        room = (value - limit if at_least else limit - value) / (1.0 if factor == "pH" else max(abs(limit), abs(value), 1e-9))
        if room < best[0]:
            best = (room, factor)
    return best[1]


def judge(plant, zone, hours):
    cells, light = level_of(plant, zone), light_corners(plant, hours)
    curves, factors = water_curves(plant, zone), fixed(plant, zone)
    rest = min(factors.values())
    for factor, (corners, value) in curves.items():
        factors[factor] = trapezoid(corners, value[0])
    cap = min(factors.values())
    gain = zone["light_gain"]
    factors["light"] = mean_of(cells, light, 1.0, gain["nominal"])
    low, high = grows_between(light)
    shine = cells if cap >= 0.5 and gain["nominal"] > 0 else []
    grows = sum(low <= cell * gain["nominal"] <= high for cell in shine) / len(cells)
    scores = {factor: factors.get(factor, 1.0) for factor in FACTORS}
    least = min(scores.values())
    limiting = tightest(zone, curves, light, cells) if least >= 1.0 else next(f for f in FACTORS if scores[f] <= least)
    over = [trapezoid_over(corners, value[1], value[2]) for corners, value in curves.values()]
    caps = min([rest, *(o[0] for o in over)]), min([rest, *(o[1] for o in over)])
    ends = gain["lo"], gain["hi"]
    bounds = (extremes(cells, light, caps[0], *ends)[0], extremes(cells, light, caps[1], *ends)[1]) if rest > 0 else (0.0, 0.0)
    return {
        "suitability": mean_of(cells, light, cap, gain["nominal"]),
        "least": bounds[0],
        "greatest": bounds[1],
        "limiting": limiting,
        "grows_share": grows,
        "scores": scores,
    }


def word(suitability):
    return "thrives" if suitability >= 0.8 else "grows" if suitability >= 0.5 else "lingers" if suitability > 0 else "fails"


# --- comparison -------------------------------------------------------------------------------------

class Report:
    def __init__(self):
        self.found, self.pairs, self.verdicts, self.worst = [], 0, 0, 0.0
        self.words = {}

    def number(self, what, ours, theirs):
        self.worst = max(self.worst, abs(ours - theirs))
        if not abs(ours - theirs) <= TOLERANCE:
            self.found.append(f"{what}: {theirs!r}, recomputed {ours!r}")

    def text(self, what, ours, theirs):
        if ours != theirs:
            self.found.append(f"{what}: {theirs}, recomputed {ours}")


def compare(answer, report):
    inputs = answer["inputs"]
    hours, tank = inputs["reference_hours"], answer["tank"]["name"]
    plants = {plant["taxon"]: plant for plant in inputs["plants"]}
    wishes = {wish["taxon"]: wish for wish in answer["wishes"]}
    report.text(f"{tank}: verdicts", len(plants) * len(inputs["zones"]), len(inputs["verdicts"]))
    report.pairs += len(plants)
    for told in inputs["verdicts"]:
        plant, zone = plants[told["taxon"]], inputs["zones"][told["zone"]]
        ours = judge(plant, zone, hours)
        report.verdicts += 1
        what = f"{tank}, zone {told['zone']}, {told['taxon']}"
        for key in ("suitability", "least", "greatest", "grows_share"):
            report.number(f"{what}: {key}", ours[key], told[key])
        # Where two factors are equal but for rounding, either may be named.
        scores = ours["scores"]
        if ours["limiting"] != told["limiting"] and abs(scores[ours["limiting"]] - scores[told["limiting"]]) > 1e-12:
            report.text(f"{what}: limiting", ours["limiting"], told["limiting"])
        report.text(f"{what}: bounds in order", True, ours["least"] <= ours["suitability"] <= ours["greatest"] + 1e-12)
        wish = wishes[told["taxon"]]
        if wish["zone"] != told["zone"]:
            continue
        # What the report says of the zone that it judges the plant in, as people read it.
        report.words[wish["verdict"]] = report.words.get(wish["verdict"], 0) + 1
        report.text(f"{what}: verdict", word(ours["suitability"]), wish["verdict"])
        report.text(f"{what}: sure", word(ours["least"]) == word(ours["greatest"]), wish["certainty"]["sure"])
        for factor in wish["factors"]:
            rounded = round(ours["scores"][factor["factor"]], 3)
            report.text(f"{what}: {factor['factor']} told", True, abs(rounded - factor["suitability"]) <= 1.001e-3)


# --- tanks ------------------------------------------------------------------------------------------

def spread(rng, middle, width, unit, floor=0.0):
    """A bare number or a range around it."""
    if rng.random() < 0.4:
        return f'"{middle:.2f}{unit}"'
    lo, hi = max(floor, middle - rng.random() * width), middle + rng.random() * width
    return f'"{lo:.2f}..{hi:.2f}{unit}"'


def draw(rng, number):
    """A tank file with every kind of zone, bed, gas and light, drawn from the stream."""
    length, depth, tall = rng.randint(30, 90), rng.randint(22, 45), rng.randint(25, 50)
    water = tall - rng.randint(2, 4)
    back = rng.choice([0, rng.randint(2, 9)])
    kind = "bare" if back == 0 else rng.choice(["active soil", "sand", "gravel", "capped soil"])
    front = min(back, rng.randint(1, 5))
    flux = 10 ** rng.uniform(0.6, 1.9)
    lamp = [f"photon_flux = {spread(rng, flux, flux / 4, ' umol/s', 0.1)}", f'luminous_flux = "{70 * flux:.0f} lm"'][rng.random() < 0.3]
    gas = rng.choice(["none", "none", "pressurised", "fermentation"])
    target = f'target = {spread(rng, rng.uniform(8, 28), 6, " mg/L", 1.0)}' if gas == "pressurised" else ""
    reading = f'[[light.reading]]\nppfd = {spread(rng, 60, 20, " umol/m2/s", 1.0)}\nat = ["10 cm", "10 cm"]\nabove_bed = "2 cm"\n'
    return f"""name = "Drawn {number}"
[glass]
length = "{length} cm"
depth = "{depth} cm"
height = "{tall} cm"
water = "{water} cm"
open_top = {rng.choice(["true", "false"])}
[bed]
kind = "{kind}"
front = "{front if back else 0} cm"
back = "{back} cm"
[light]
hours = {rng.choice([6, 8, 8, 10])}
floating_cover = "{rng.choice([0, 0, 0, 30])} %"
[[light.lamp]]
{lamp}
size = ["{0.8 * length:.0f} cm", "8 cm"]
above_water = "{rng.randint(3, 20)} cm"
beam = "{rng.choice([60, 90, 120])} deg"
at = ["{length / 2:.1f} cm", "{depth / 2:.1f} cm"]
{reading if rng.random() < 0.3 else ""}
[gas]
injection = "{gas}"
{target}
[water]
temperature = {spread(rng, rng.uniform(17, 29), 2, " degC")}
ph = {spread(rng, rng.uniform(5.8, 8.0), 0.6, "")}
gh = {spread(rng, rng.uniform(0.5, 20), 4, " dGH")}
kh = {spread(rng, rng.uniform(0.2, 12), 2, " dKH", 0.1)}
[livestock]
fish = {rng.choice(["true", "false"])}
[[hardscape]]
name = "stump"
material = "{rng.choice(["wood", "inert rock", "carbonate rock"])}"
outline = [["12 cm", "10 cm"], ["20 cm", "9 cm"], ["22 cm", "17 cm"], ["11 cm", "16 cm"]]
top = "{0.6 * water:.0f} cm"
[[zone]]
name = "front"
placement = "foreground"
from_front = "0..8 cm"
taxa = "1..2"
tallest = "{rng.randint(4, 15)} cm"
[[zone]]
name = "middle"
placement = "midground"
from_front = "9..17 cm"
taxa = "1..3"
{f'shortest = "{rng.randint(5, 20)} cm"' if rng.random() < 0.5 else ""}
[[zone]]
name = "back"
placement = "background"
from_front = "18..{depth} cm"
taxa = "1..3"
[[zone]]
name = "stump"
placement = "epiphyte"
on = ["stump"]
taxa = "1..2"
[[zone]]
name = "surface"
placement = "floating"
from_left = "0..{rng.randint(8, 20)} cm"
taxa = "1"
"""


def check(program, library, tank, plants, folder):
    wishes = folder / "wishes.txt"
    wishes.write_text("\n".join(plants) + "\n", encoding="utf-8")
    command = [program, "--library", library, "check", "--inputs", "--format", "json", tank, wishes]
    run = subprocess.run([str(part) for part in command], capture_output=True, text=True, check=False)
    if run.returncode not in (0, 1):
        sys.exit(f"{tank}: {run.stderr}\n{pathlib.Path(tank).read_text(encoding='utf-8')}")
    return json.loads(run.stdout)


# --- harm -------------------------------------------------------------------------------------------

def harms(answer):
    """Copies of an answer with one number or word wrong."""
    def grown(verdict):
        return 0.2 < verdict["suitability"] < 0.95 and verdict["least"] > 0.05

    place = next(i for i, v in enumerate(answer["inputs"]["verdicts"]) if grown(v))
    verdict = answer["inputs"]["verdicts"][place]
    plant = next(i for i, p in enumerate(answer["inputs"]["plants"]) if p["taxon"] == verdict["taxon"])
    zone = verdict["zone"]
    corner = answer["inputs"]["plants"][plant]
    least = min(judge(corner, answer["inputs"]["zones"][zone], answer["inputs"]["reference_hours"])["scores"].items(), key=lambda s: s[1])

    def worse(path, value):
        broken = copy.deepcopy(answer)
        inner = broken["inputs"]
        for key in path[:-1]:
            inner = inner[key]
        inner[path[-1]] = value(inner[path[-1]])
        return broken

    yield "a suitability", worse(["verdicts", place, "suitability"], lambda v: v + 1e-8)
    yield "a lower bound", worse(["verdicts", place, "least"], lambda v: v - 1e-8)
    yield "an upper bound", worse(["verdicts", place, "greatest"], lambda v: v - 1e-8)
    yield "a share", worse(["verdicts", place, "grows_share"], lambda v: v - 1e-8)
    yield "a limiting factor", worse(["verdicts", place, "limiting"], lambda v: "feeding" if v != "feeding" else "height")
    yield "all light of a zone", worse(["zones", zone, "light"], lambda levels: [
        {**level, "dli_mol_m2_d": [0.5 * v for v in level["dli_mol_m2_d"]]} for level in levels])
    yield "what is open of the light", worse(["zones", zone, "light_gain", "lo"], lambda v: 0.9 * v)
    yield "a plant's need of light", worse(["plants", plant, "ppfd_umol_m2_s"], lambda v: [*v[:1], v[1] * 1.7, *v[2:]])
    if least[0] in WATER:
        key = WATER[least[0]]
        yield f"the plant's {key}", worse(["plants", plant, key], lambda v: [x + 0.3 for x in v])
    dropped = copy.deepcopy(answer)
    dropped["inputs"]["verdicts"].pop()
    yield "a verdict left out", dropped


def main():
    program = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else ROOT / "target/release/quillwort")
    with open(ROOT / "data/plants.csv", encoding="utf-8", newline="") as table:
        keys = [row["taxonID"] for row in csv.DictReader(table)]
    rng = random.Random(SEED)
    report = Report()
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        drawn = []
        for number in range(DRAWN_TANKS):
            path = folder / f"drawn-{number}.toml"
            path.write_text(draw(rng, number), encoding="utf-8")
            drawn.append(path)
        answers = [check(program, folder / "library", tank, rng.sample(keys, PLANTS_A_TANK), folder) for tank in [*DEMOS, *drawn]]
    for answer in answers:
        compare(answer, report)
    missed = []
    for what, broken in harms(answers[0]):
        noticed = Report()
        compare(broken, noticed)
        if not noticed.found:
            missed.append(what)
    words = ", ".join(f"{count} {verdict}" for verdict, count in sorted(report.words.items()))
    print(f"{report.pairs} plant × tank pairs in {len(answers)} tanks ({words}), {report.verdicts} plant × zone verdicts; farthest apart {report.worst:.1e}")
    for line in [*report.found[:20], *(f"harm not noticed: {what}" for what in missed)]:
        print(f"  {line}")
    if report.pairs < LEAST_PAIRS:
        print(f"  fewer than {LEAST_PAIRS} pairs")
    sys.exit(1 if report.found or missed or report.pairs < LEAST_PAIRS else 0)


if __name__ == "__main__":
    main()
