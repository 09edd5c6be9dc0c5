#!/usr/bin/env python3
"""Plans of the demo tanks, checked anew from what the program exports.

    python3 tools/plan_check.py PROGRAM LIBRARY

Areas by the shoelace formula, places by an even-odd test, distances by comparison of all pairs, the shopping list by
Python's own CSV reader. Nothing of the program's code is used.
"""

import csv
import io
import json
import math
import subprocess
import sys

DEMOS = ["attic-lowtech", "shelf-gassed", "hall-hardwater"]


def run(*arguments):
    return subprocess.run(arguments, check=True, capture_output=True, encoding="utf-8").stdout


def shoelace(ring):
    pairs = zip(ring, ring[1:] + ring[:1])
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2


def inside(point, rings):
    x, y = point
    odd = False
    for ring in rings:
        for a, b in zip(ring, ring[1:] + ring[:1]):
            if (a[1] > y) != (b[1] > y) and x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]):
                odd = not odd
    return odd


def check(demo, program, library):
    tank = f"data/demo/{demo}.toml"
    plan = json.loads(run(program, "--library", library, "--format", "json", "plan", tank))
    zones = {}
    for drift in plan["drifts"]:
        where = f"{demo}: {drift['name']} in {drift['zone_name']}"
        area = sum(map(shoelace, drift["outline_cm"]))
        # Corners are printed to a tenth of a millimetre.
        assert abs(area - drift["area_cm2"]) < 0.002 * area + 0.1, f"{where}: {area} is not {drift['area_cm2']} cm²"
        zones.setdefault(drift["zone"], []).append(drift["area_cm2"])
        places = [place[:2] for place in drift["places_cm"]]
        assert len(places) == drift["places"] > 0, where
        assert all(inside(place, drift["outline_cm"]) for place in places), f"{where}: a place is outside"
        for n, a in enumerate(places):
            for b in places[:n]:
                assert math.dist(a, b) > drift["spacing_cm"] - 0.07, f"{where}: {a} and {b} are too near"
        assert drift["portions"] == math.ceil(drift["places"] / drift["pieces_per_portion"]), where
    for zone, areas in zones.items():
        name = plan["tank"]["zones"][zone]["name"]
        # Equal parts, unless the ground is in separate pieces.
        apart = any(f"“{name}” is in" in remark for remark in plan["remarks"])
        share = sum(areas) / len(areas)
        assert apart or all(abs(a - share) <= 0.001 * sum(areas) + 0.1 for a in areas), f"{demo}, {name}: {areas}"
    rows = list(csv.DictReader(io.StringIO(run(program, "--library", library, "--format", "csv", "plan", tank)), strict=True))
    assert [row["lawfulName"] for row in rows] == [p["name"] for p in plan["purchases"]], demo
    total = 0
    for row in rows:
        if row["pricePerPortion"] != "missing":
            cents = round(float(row["pricePerPortion"]) * 100) * int(row["portions"])
            assert cents == round(float(row["subtotal"]) * 100), f"{demo}: {row}"
            total += cents
    assert total == round(float(plan["totals"]["cost"]) * 100), demo
    print(f"{demo}: {len(plan['drifts'])} drifts, {plan['totals']['pieces']} places, {len(rows)} lines to buy")


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    for name in DEMOS:
        check(name, sys.argv[1], sys.argv[2])
