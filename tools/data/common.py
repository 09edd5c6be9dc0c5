"""What the data scripts share: reading and writing CSV, matching names across lists.

Standard library only. Files are written as RFC 4180 with LF, UTF-8, sorted by their key.
"""

import csv
import pathlib
import re

ROOT = pathlib.Path(__file__).resolve().parents[2]
DATA = ROOT / "data"
REFERENCE = ROOT / "tests" / "reference"


def read(path):
    """The rows of a CSV file as dictionaries."""
    with open(path, newline="", encoding="utf-8") as handle:
        return list(csv.DictReader(handle))


def write(path, columns, rows):
    """Writes rows in the house style."""
    with open(path, "w", newline="", encoding="utf-8") as handle:
        writer = csv.DictWriter(handle, columns, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def fold(name):
    """A scientific name without rank words and with a spaced hybrid sign, for matching."""
    name = re.sub(r"\s(var|subsp|ssp|f)\.\s", " ", name)
    name = re.sub(r"\sx\s", " × ", name)
    return re.sub(r"\s*×\s*", " × ", name).strip()


class Catalogue:
    """Our own tables."""

    def __init__(self, data=DATA):
        self.plants = {row["taxonID"]: row for row in read(data / "plants.csv")}
        self.names = read(data / "names.csv")

    def synonyms(self):
        """Old scientific names that belong to one scientific name only: taxonID -> names.

        A name that is another taxon's accepted name, or a synonym of several, proves nothing.
        A cultivar also has the synonyms of its species; the species has not those of a cultivar.
        """
        accepted = {fold(p["scientificName"]) for p in self.plants.values()}
        owners = {}
        for row in self.names:
            if row["kind"] == "synonym" and row["language"] == "la" and "'" not in row["name"]:
                owner = self.plants[row["taxonID"]]
                owners.setdefault(fold(row["name"]), {}).setdefault(owner["scientificName"], []).append(owner)
        result = {}
        for name, by_species in owners.items():
            if name in accepted or len(by_species) > 1:
                continue
            for owner in next(iter(by_species.values())):
                for plant in self.plants.values():
                    same = plant["scientificName"] == owner["scientificName"]
                    if plant is owner or (same and not owner["cultivarEpithet"]):
                        result.setdefault(plant["taxonID"], set()).add(name)
        return result


def areas(open_data):
    """WGSRPD level 3 code -> level 2 code."""
    rows = read(open_data / "geography-wgsrpd-levels1-3.csv")
    return {row["level3_code"]: row["level2_code"] for row in rows}
