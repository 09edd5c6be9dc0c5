"""Writes selection instances of the families that the solver is measured on.

    python3 tools/selection_instances.py FOLDER [--seeds 5] [--first 100]

The numbers are invented, drawn from a seed, and describe no real plant. Same seed, same bytes.
The families differ in size: `tiny` 14 candidates in 3 zones, `s60`, `m200` in 5 zones, `l500` in
6, `x2000` in 12; `inf` cannot be satisfied, each seed for another reason. Budget, trimming, fast
share and height order all bind, so the optimum is far from greedy.
"""

import argparse
import json
import pathlib
import random

# Candidates, and the row and column of each zone (row 0 is the front).
GRID = {
    3: [(0, 0), (1, 0), (2, 0)],
    5: [(0, 0), (1, 0), (2, 0), (0, 1), (2, 1)],
    6: [(r, c) for c in range(2) for r in range(3)],
    12: [(r, c) for c in range(4) for r in range(3)],
}
FAMILIES = {
    "tiny": (14, 3), "s60": (60, 3), "m200": (200, 5), "l500": (500, 6), "x2000": (2000, 12),
}
REASONS = ["required", "budget", "trim", "heights"]


class Dice:
    """Draws from `random()` alone, whose sequence Python keeps the same over its versions."""

    def __init__(self, seed):
        self.random = random.Random(seed).random

    def between(self, low, high):
        return low + (high - low) * self.random()

    def whole(self, low, high):
        return low + int(self.random() * (high - low + 1))

    def choice(self, options):
        return options[int(self.random() * len(options))]

    def bell(self, mean, width):
        """A sum of four draws: bell-shaped, standard deviation `width`."""
        return mean + width * 1.732 * (sum(self.random() for _ in range(4)) - 2)


def zones_of(family, places, dice):
    zones = []
    for row, column in places:
        least = 1 if family == "tiny" or row < 2 else 2
        most = least + 1 if family == "tiny" else least + dice.whole(1, 2)
        zones.append({"row": row, "col": column, "kmin": least, "kmax": most})
    return zones


def beside(places):
    """Neighbours in a row or column, with gaps closed, and sight lines from front to back."""
    touching, behind = [], []
    for a, (row, column) in enumerate(places):
        ahead = [b for b, (r, c) in enumerate(places) if c == column and r > row]
        aside = [b for b, (r, c) in enumerate(places) if r == row and c == column + 1]
        if ahead:
            touching.append([a, ahead[0]])
            behind.append([a, ahead[0]])
        touching.extend([a, b] for b in aside)
    return sorted(touching), behind


def species_of(count, places, touching, dice):
    sizes = [dice.between(1.5, 6.0) for _ in places]
    genera = max(count // 5, 3)
    species = []
    for _ in range(count):
        home = dice.whole(0, len(places) - 1)
        row = places[home][0]
        height = [dice.between(2, 14), dice.bell(21, 8), dice.bell(37, 11)][row]
        fast = int(dice.random() < 0.41)
        spread = dice.choice([0.3, 0.5, 0.75, 1.1, 1.6])
        near = [b for a, b in touching if a == home] + [a for a, b in touching if b == home]
        near += [z for z, (r, _) in enumerate(places) if r == row and z != home and z not in near]
        zones = {home}
        while near and len(zones) < 3 and dice.random() < (0.55 if len(zones) == 1 else 0.12):
            zones.add(dice.choice(near))
        taste = dice.bell(720, 90)
        species.append({
            "p": int(dice.between(10, 31 if fast else 34) ** 2),
            "t": dice.whole(12, 26) if fast else dice.whole(3, 15),
            "tex": dice.whole(0, 3),
            "col": min(int(5 * dice.random() ** 1.9), 4),
            "h": max(2, round(height)),
            "fast": fast,
            "g": int(genera * dice.random() ** 1.25),
            "r": dice.whole(0, 5),
            "opts": [
                [z, max(500, min(1000, round(taste + dice.bell(0, 60)))), max(1, round(sizes[z] * spread))]
                for z in sorted(zones)
            ],
        })
    return species


def excluded_of(count, dice):
    pairs = set()
    while len(pairs) < max(count // 12, 2):
        a, b = sorted((dice.whole(0, count - 1), dice.whole(0, count - 1)))
        if a != b:
            pairs.add((a, b))
    return sorted(map(list, pairs))


def required_of(species, zones, excluded, dice):
    """Up to two candidates of different zones and genera, not excluded beside each other."""
    wanted = []
    for _ in range(dice.whole(0, 2)):
        new = dice.whole(0, len(species) - 1)
        clash = any(
            sorted((new, old)) in excluded
            or species[new]["g"] == species[old]["g"]
            or {o[0] for o in species[new]["opts"]} & {o[0] for o in species[old]["opts"]}
            for old in wanted
        )
        if not clash and new not in wanted and 5 <= species[new]["h"] <= 40:
            wanted.append(new)
    return sorted(wanted)


def instance(family, seed):
    count, zone_count = FAMILIES[family]
    dice = Dice(f"{family}-{seed}")
    places = GRID[zone_count]
    zones = zones_of(family, places, dice)
    touching, behind = beside(places)
    species = species_of(count, places, touching, dice)
    excluded = excluded_of(count, dice)
    required = required_of(species, zones, excluded, dice)
    costs = [s["p"] * o[2] for s in species for o in s["opts"]]
    middle = sum(z["kmin"] + z["kmax"] for z in zones) / 2
    mean_trim = sum(s["t"] for s in species) / count
    return {
        "name": f"{family}_{seed}", "n": count, "Z": zone_count, "seed": seed, "w_s": 1,
        "a": dice.choice([20, 30, 40]), "b": dice.choice([10, 20, 30]), "pen": dice.choice([40, 60, 80]),
        "budget": round(middle * sum(costs) / len(costs) * dice.between(0.75, 1.0)),
        "trim": round(middle * mean_trim * dice.between(1.1, 1.4)),
        "F": dice.choice([[2, 5], [1, 2], [3, 5]]), "m": 2,
        "zones": zones, "adj": touching, "behind": behind,
        "required": required, "excluded": excluded, "region_only": None, "species": species,
    }


def spoilt(seed):
    """An instance that cannot be satisfied."""
    reason = REASONS[seed % len(REASONS)]
    given = instance("s60" if seed % 8 < 4 else "m200", seed + 5000)
    given["name"] = f"inf_{seed}"
    species, zones = given["species"], given["zones"]
    if reason == "required":
        pair = given["excluded"][0]
        given["required"] = sorted(set(given["required"]) | set(pair))
    elif reason in ("budget", "trim"):
        def use(s, o):
            return s["p"] * o[2] if reason == "budget" else s["t"]
        least = 0
        for z, zone in enumerate(zones):
            uses = sorted(use(s, o) for s in species for o in s["opts"] if o[0] == z)
            least += sum(uses[: zone["kmin"]])
        # The sum of the cheapest, and a little: heights and fast share stand in the way of the rest.
        given[reason] = least + least // 20
    else:
        # The tallest of the front and the lowest of the back must both stand.
        near, far = given["behind"][0]
        def only(zone):
            return [i for i, s in enumerate(species) if [o[0] for o in s["opts"]] == [zone]]
        tall = max(only(near), key=lambda i: species[i]["h"])
        low = min(only(far), key=lambda i: species[i]["h"])
        species[tall]["h"] = max(species[tall]["h"], species[low]["h"] + 1)
        given["required"] = sorted({tall, low})
    return given


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--seeds", type=int, default=5, help="instances of each family (5)")
    parser.add_argument("--first", type=int, default=100, help="first seed (100)")
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    for seed in range(given.first, given.first + given.seeds):
        made = [instance(family, seed) for family in FAMILIES] + [spoilt(seed)]
        for one in made:
            path = given.folder / f"{one['name']}.json"
            path.write_text(json.dumps(one, separators=(",", ":")) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
