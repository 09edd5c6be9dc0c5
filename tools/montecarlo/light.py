"""Photon tracing through planted tanks, as an outside check of the light room.

Written from the physics (Snell, Fresnel, Beer-Lambert, mirror reflection at walls), not from the
program: every photon is followed from the lamp to the bed, wall by wall.

    python tools/montecarlo/light.py            trace all tanks and write the table
    python tools/montecarlo/light.py --check    trace one tank anew and compare with the table

Needs numpy. The tanks stand in tests/reference/light_montecarlo_tanks.csv, one row a lamp; the
result is tests/reference/light_montecarlo.csv, one row a cell of 5 cm and one for the plan.
"""

import argparse
import csv
import math
import sys
import time
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
REFERENCE = ROOT / "tests" / "reference"
TANKS = REFERENCE / "light_montecarlo_tanks.csv"
TABLE = REFERENCE / "light_montecarlo.csv"

N_WATER = 1.333
CELL_CM = 5.0
CDOM_SLOPE = 0.017
BATCH = 500_000
SEED = 20260117
CHECKED = "one lamp"


def read(path):
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def band_edges_and_shares(illuminant):
    """Start of each 20 nm band and its share of the photons, for a CIE illuminant."""
    sources = read(ROOT / "data" / "light-sources.csv")
    key = next(r["key"] for r in sources if r["description"].endswith(f"(CIE illuminant {illuminant})"))
    bands = [r for r in read(ROOT / "data" / "light-bands.csv") if r["key"] == key]
    starts = np.array([float(r["bandStartNm"]) for r in bands])
    shares = np.array([float(r["photonFraction"]) for r in bands])
    return starts, shares / shares.sum()


def water_table():
    rows = read(REFERENCE / "pure_water_absorption.csv")
    wavelengths = np.array([float(r["wavelength_nm"]) for r in rows])
    return wavelengths, np.array([float(r["absorption_per_m"]) for r in rows])


def reflectance(n_from, n_to, cos_from):
    """Unpolarised Fresnel reflectance of a boundary; 1 under total reflection."""
    sin_to = n_from / n_to * np.sqrt(np.maximum(0.0, 1.0 - cos_from**2))
    total = sin_to >= 1.0
    cos_to = np.sqrt(np.maximum(0.0, 1.0 - np.minimum(sin_to, 1.0) ** 2))
    r_s = (n_from * cos_from - n_to * cos_to) / (n_from * cos_from + n_to * cos_to)
    r_p = (n_to * cos_from - n_from * cos_to) / (n_to * cos_from + n_from * cos_to)
    return np.where(total, 1.0, 0.5 * (r_s**2 + r_p**2))


class Tank:
    """One tank with its lamps; lengths in metres."""

    def __init__(self, rows):
        first = rows[0]
        metre = lambda name: float(first[name]) / 100.0
        self.name = first["tank"]
        self.size = np.array([metre("length_cm"), metre("depth_cm")])
        self.water = metre("water_cm")
        self.front = metre("bed_front_cm")
        self.slope = (metre("bed_back_cm") - self.front) / self.size[1]
        self.a440 = float(first["a440_per_m"])
        self.passed = float(first["lid"]) * (1.0 - float(first["floating"]))
        self.cells = np.rint(self.size * 100.0 / CELL_CM).astype(int)
        self.lamps = rows

    def bed(self, y):
        return self.front + self.slope * y


def launch(rng, lamp, count):
    """Where photons leave the lamp and where they go: position on the plan, unit direction."""
    centre = np.array([float(lamp["lamp_x_cm"]), float(lamp["lamp_y_cm"])]) / 100.0
    size = np.array([float(lamp["lamp_along_x_cm"]), float(lamp["lamp_along_y_cm"])]) / 100.0
    place = centre + (rng.random((count, 2)) - 0.5) * size
    half = math.radians(float(lamp["beam_deg"])) / 2.0
    exponent = math.log(0.5) / math.log(math.cos(half))
    # Intensity as cos^m over solid angle: the cosine is distributed as c^m dc.
    cos = rng.random(count) ** (1.0 / (exponent + 1.0))
    sin = np.sqrt(1.0 - cos**2)
    azimuth = rng.random(count) * 2.0 * math.pi
    return place, np.stack([sin * np.cos(azimuth), sin * np.sin(azimuth), -cos], axis=1)


def absorption(rng, tank, illuminant, count, tables):
    """Absorption per metre met by each photon, by a wavelength drawn from the lamp's spectrum."""
    starts, shares = tables["bands"][illuminant]
    band = rng.choice(len(starts), size=count, p=shares)
    wavelength = starts[band] + 20.0 * rng.random(count)
    pure = np.interp(wavelength, *tables["water"])
    return pure + tank.a440 * np.exp(-CDOM_SLOPE * (wavelength - 440.0))


def trace(rng, tank, lamp, count, tables):
    """Weights that reach the bed with their places, and the budget of the photons."""
    place, way = launch(rng, lamp, count)
    height = float(lamp["above_water_cm"]) / 100.0
    place = place + way[:, :2] * (height / -way[:, 2])[:, None]
    inside = np.all((place >= 0.0) & (place <= tank.size), axis=1)
    place, way = place[inside], way[inside]
    cos_air = -way[:, 2]
    weight = (1.0 - reflectance(1.0, N_WATER, cos_air)) * tank.passed
    entering = weight.sum()
    # Snell: the horizontal part of the unit direction shrinks by the index.
    way[:, :2] /= N_WATER
    way[:, 2] = -np.sqrt(1.0 - (way[:, :2] ** 2).sum(axis=1))
    colour = absorption(rng, tank, lamp["illuminant"], len(weight), tables)
    spot = np.column_stack([place, np.full(len(weight), tank.water)])
    return entering, *descend(tank, spot, way, weight, colour)


def descend(tank, spot, way, weight, colour):
    landed, level, absorbed, left = [], [], 0.0, 0.0
    while len(weight):
        with np.errstate(divide="ignore", invalid="ignore"):
            to_wall = np.where(way[:, :2] > 0.0, (tank.size - spot[:, :2]) / way[:, :2], -spot[:, :2] / way[:, :2])
        to_wall = np.where(np.isfinite(to_wall), np.maximum(to_wall, 0.0), np.inf)
        # Height over the bed falls by this much per metre of path.
        fall = tank.slope * way[:, 1] - way[:, 2]
        to_bed = np.maximum(spot[:, 2] - tank.bed(spot[:, 1]), 0.0) / fall
        axis = np.argmin(to_wall, axis=1)
        nearest = to_wall[np.arange(len(weight)), axis]
        path = np.minimum(nearest, to_bed)
        after = weight * np.exp(-colour * path)
        absorbed += (weight - after).sum()
        weight = after
        spot = spot + way * path[:, None]
        down = to_bed <= nearest
        landed.append((spot[down, :2], weight[down]))
        # PPFD is on the level: a photon counts by the cosine to the vertical, not to the slope.
        level.append(-way[down, 2] / fall[down])
        spot, way, weight, colour, axis = (a[~down] for a in (spot, way, weight, colour, axis))
        rows = np.arange(len(weight))
        back = reflectance(N_WATER, 1.0, np.abs(way[rows, axis]))
        left += (weight * (1.0 - back)).sum()
        weight = weight * back
        way[rows, axis] *= -1.0
    places = np.concatenate([p for p, _ in landed])
    weights = np.concatenate([w for _, w in landed])
    return places, weights, np.concatenate(level), absorbed, left


def measure(tank, photons, seed, tables):
    """PPFD and its standard error in every cell and over the plan, and the share of each fate."""
    columns, rows = tank.cells
    per_area = 1.0 / (tank.size[0] / columns * tank.size[1] / rows)
    mean, variance = np.zeros(columns * rows), np.zeros(columns * rows)
    plan, plan_variance, fates = 0.0, 0.0, np.zeros(4)
    for index, lamp in enumerate(tank.lamps):
        rng = np.random.default_rng([seed, index])
        share = float(lamp["flux_umol_s"])
        sums, squares = np.zeros_like(mean), np.zeros_like(mean)
        total = total_squares = 0.0
        done = 0
        while done < photons:
            count = min(BATCH, photons - done)
            entering, places, weights, level, absorbed, left = trace(rng, tank, lamp, count, tables)
            cell = np.minimum((places / tank.size * tank.cells).astype(int), tank.cells - 1)
            cell = cell[:, 1] * columns + cell[:, 0]
            seen = weights * level
            sums += np.bincount(cell, seen, minlength=len(sums))
            squares += np.bincount(cell, seen**2, minlength=len(sums))
            total += seen.sum()
            total_squares += (seen**2).sum()
            fates += share / photons * np.array([entering, weights.sum(), absorbed, left])
            done += count
        mean += share * per_area * sums / photons
        variance += (share * per_area / photons) ** 2 * (squares - sums**2 / photons)
        plan += share * total / photons
        plan_variance += (share / photons) ** 2 * (total_squares - total**2 / photons)
    area = tank.size[0] * tank.size[1]
    return mean, np.sqrt(variance), plan / area, math.sqrt(plan_variance) / area, fates


def tanks():
    grouped = {}
    for row in read(TANKS):
        grouped.setdefault(row["tank"], []).append(row)
    return [Tank(rows) for rows in grouped.values()]


def load_tables():
    illuminants = {row["illuminant"] for row in read(TANKS)}
    return {"water": water_table(), "bands": {i: band_edges_and_shares(i) for i in illuminants}}


def photons_for(tank):
    """Enough that a cell of mean brightness has a standard error of about 0.3 %."""
    return int(260_000 * tank.cells.prod())


HEADER = ["tank", "cell_x_cm", "cell_y_cm", "ppfd_umol_m2_s", "standard_error", "photons_per_lamp", "seed"]
FATES = ["entering_umol_s", "arriving_umol_s", "absorbed_umol_s", "leaving_umol_s", "source"]
SOURCE = "photon tracing by tools/montecarlo/light.py"


def write():
    tables = load_tables()
    with open(TABLE, "w", newline="", encoding="utf-8") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(HEADER + FATES)
        for tank in tanks():
            start, photons = time.time(), photons_for(tank)
            mean, error, plan, plan_error, fates = measure(tank, photons, SEED, tables)
            out.writerow([tank.name, "", "", f"{plan:.5f}", f"{plan_error:.5f}", photons, SEED]
                         + [f"{f:.5f}" for f in fates] + [SOURCE])
            for index, (value, spread) in enumerate(zip(mean, error)):
                x = (index % tank.cells[0] + 0.5) * CELL_CM
                y = (index // tank.cells[0] + 0.5) * CELL_CM
                out.writerow([tank.name, x, y, f"{value:.4f}", f"{spread:.4f}", photons, SEED, "", "", "", "", SOURCE])
            file.flush()
            print(f"{tank.name}: {plan:.2f} ± {plan_error:.3f} µmol/m²/s, {photons} photons a lamp, "
                  f"{time.time() - start:.0f} s", file=sys.stderr)


def check():
    """One tank anew with another seed: every cell and the plan within the errors of both."""
    tank = next(t for t in tanks() if t.name == CHECKED)
    mean, error, plan, plan_error, fates = measure(tank, 3_000_000, SEED + 1, load_tables())
    rows = [r for r in read(TABLE) if r["tank"] == CHECKED]
    whole = next(r for r in rows if not r["cell_x_cm"])
    cells = [r for r in rows if r["cell_x_cm"]]
    assert len(cells) == len(mean), "the table has another number of cells"
    sigma = lambda ours, spread, row: (ours - float(row["ppfd_umol_m2_s"])) / math.hypot(spread, float(row["standard_error"]))
    off = np.array([sigma(m, e, r) for m, e, r in zip(mean, error, cells)])
    plan_off = sigma(plan, plan_error, whole)
    balance = (fates[1] + fates[2] + fates[3]) / fates[0] - 1.0
    # Of some seventy normal deviates the largest stays under 4.5 but once in two thousand runs.
    chi = (off**2).sum() / len(off)
    spread = math.sqrt(2.0 / len(off))
    print(f"{tank.name}: plan off by {plan_off:+.2f} standard errors, worst cell {np.abs(off).max():.2f}, "
          f"mean square {chi:.2f}; budget closes to {balance:.1e}")
    good = abs(plan_off) < 4.0 and np.abs(off).max() < 4.5 and abs(chi - 1.0) < 5.0 * spread and abs(balance) < 1e-9
    return 0 if good else 1


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="trace one tank anew and compare with the table")
    if parser.parse_args().check:
        sys.exit(check())
    write()
