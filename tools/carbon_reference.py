"""CO2 and bicarbonate of hard waters by PHREEQC: tests/reference/carbon_hard_water.csv.

Needs phreeqpython 1.6.2 (PyPI). Writes the table to standard output.

The carbonate system of Quillwort takes ionic strength from KH and GH alone: alkalinity beyond GH
is balanced by sodium, hardness beyond KH by chloride. PHREEQC gets the whole water with its ion
pairs: calcium to magnesium 3:1 by moles, the excess once as chloride and once as sulphate.
"""

import csv
import sys

from phreeqpython import PhreeqPython

MEQ_PER_DEGREE = 1 / 2.80387
SOURCE = "PHREEQC 3 via phreeqpython 1.6.2 database phreeqc.dat"
HARDNESSES = ((1, 4), (2, 2), (3, 8), (4, 6), (4, 15), (8, 12), (12, 12), (15, 20), (15, 5))


def water(engine, ph, kh, gh, temp, anion):
    """A solution with pH, alkalinity and both hardnesses fixed."""
    alkalinity, hardness = kh * MEQ_PER_DEGREE, gh * MEQ_PER_DEGREE
    excess = max(hardness - alkalinity, 0.0)
    entry = {
        "units": "mmol/kgw",
        "temp": temp,
        "pH": ph,
        "Alkalinity": f"{alkalinity} meq/kgw",
        "Ca": hardness / 2 * 0.75,
        "Mg": hardness / 2 * 0.25,
        "Na": max(alkalinity - hardness, 0.0),
        "Cl": excess if anion == "chloride" else 0.0,
        "S(6)": excess / 2 if anion == "sulphate" else 0.0,
    }
    return engine.add_solution_raw({k: v for k, v in entry.items() if v != 0.0})


def main():
    engine = PhreeqPython(database="phreeqc.dat")
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["ph", "kh_dkh", "gh_dgh", "temp_c", "excess_anion", "co2_mg_l", "hco3_mg_l", "source"])
    for temp in (20, 25, 28):
        for kh, gh in HARDNESSES:
            for ph in (6.0, 6.6, 7.2, 7.8, 8.4):
                for anion in ("chloride", "sulphate"):
                    solution = water(engine, ph, kh, gh, temp, anion)
                    co2 = solution.species["CO2"] * 1e3 * 44.0095
                    hco3 = solution.species["HCO3-"] * 1e3 * 61.0168
                    out.writerow([ph, kh, gh, temp, anion, f"{co2:.6g}", f"{hco3:.6g}", SOURCE])
                    solution.forget()


if __name__ == "__main__":
    main()
