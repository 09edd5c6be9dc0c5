"""Derives data/legal.csv from the lists of law and the registers of the open data.

    python3 tools/data/legal.py --open-data DIR

Also writes the small copies in tests/reference with which tools/data_check.py holds both
ways without the open data. instruments.csv says in our words what each list does and how
much of it was seen. Absence from the result never means that a plant is lawful.
"""

import argparse
import pathlib

from common import DATA, REFERENCE, Catalogue, fold, read, write

HERE = pathlib.Path(__file__).resolve().parent
COLUMNS = ["nameAsListed", "taxonID", "jurisdiction", "standing", "effect", "instrument", "provision",
           "inForceFrom", "checkedOn", "sourceKey"]
CHECKED = "2026-11-25"
# Genera sunk whole in another: a listing of the genus still means these plants.
SUNK = {"Eichhornia"}
# Exceptions that a list of a whole genus makes itself.
EXCEPT = {("US-FL", "Salvinia"): {"Salvinia minima"}}
UNION = "Regulation (EU) No 1143/2014"
REGISTER_PLACES = {
    "AT": "Austria", "BE": "Belgium", "BG": "Bulgaria", "CY": "Cyprus", "CZ": "Czechia", "DE": "Germany",
    "DK": "Denmark", "EE": "Estonia", "ES": "Spain", "FI": "Finland", "FR": "France", "GR": "Greece",
    "HR": "Croatia", "HU": "Hungary", "IE": "Ireland", "IT": "Italy", "LT": "Lithuania", "LU": "Luxembourg",
    "LV": "Latvia", "MT": "Malta", "NL": "Netherlands", "PL": "Poland", "PT": "Portugal", "RO": "Romania",
    "SE": "Sweden", "SI": "Slovenia", "SK": "Slovakia", "GB": "Great Britain",
    "US": "United States of America (Contiguous)", "AU": "Australia", "NZ": "New Zealand", "CA": "Canada",
    "JP": "Japan", "ZA": "South Africa", "BR": "Brazil", "IN": "India",
}


class Matcher:
    """Which of our taxa a listed name covers."""

    def __init__(self, catalogue):
        self.by_name, self.by_genus = {}, {}
        synonyms = catalogue.synonyms()
        for taxon, plant in catalogue.plants.items():
            name = fold(plant["scientificName"])
            words = name.split()
            # A listed species covers its varieties: the name and all that lie above it.
            above = [" ".join(words[:n]) for n in range(2, len(words) + 1)]
            for known in {*above, *synonyms.get(taxon, ())}:
                self.by_name.setdefault(known, set()).add(taxon)
            genera = {words[0]} | {s.split()[0] for s in synonyms.get(taxon, ())} & SUNK
            for genus in genera:
                self.by_genus.setdefault(genus, set()).add(taxon)

    def species(self, name):
        """Taxa under a species or variety; a bare genus in a list of species proves nothing."""
        return self.by_name.get(fold(name), set()) if " " in name else set()

    def genus(self, name):
        return self.by_genus.get(name, set())


def union_rows(folder, matcher):
    """The Union list; a species stands there with its synonyms, of which one row remains."""
    for row in read(folder / "regulation-eu-union-list.csv"):
        for taxon in matcher.species(row["name"]) | matcher.species(row["listed_name"]):
            yield {
                "nameAsListed": row["listed_name"],
                "taxonID": taxon,
                "jurisdiction": "EU",
                "standing": "law",
                "effect": "keeping, growing, sale, transport, import and release banned",
                "instrument": UNION,
                "provision": "Article 7(1), list of Implementing Regulation (EU) 2016/1141 as amended to 2025/1422; whole list",
                "inForceFrom": row["in_force_from"],
                "sourceKey": "eu-union-list-2025",
            }


def law_rows(folder, catalogue, matcher):
    instruments = {row["listed"]: row for row in read(HERE / "instruments.csv")}
    for row in read(folder / "regulation-law-lists.csv"):
        whole_genus = row["listed_at"] == "genus"
        taxa = matcher.genus(row["taxon"]) if whole_genus else matcher.species(row["taxon"])
        spared = EXCEPT.get((row["jurisdiction_code"], row["taxon"]), set())
        ours = instruments[row["instrument"]]
        for taxon in taxa:
            if catalogue.plants[taxon]["scientificName"] in spared:
                continue
            caveats = [ours["provision"]]
            if whole_genus:
                caveats.insert(0, "listed as genus")
            if "proposed" in row["note"]:
                caveats.insert(0, "only proposed in December 2020")
            if "watch list" in row["note"]:
                caveats.insert(0, "marked as watch list")
            if row["note"].startswith("printed as"):
                caveats.insert(0, row["note"])
            for place in ours["jurisdiction"].split(";"):
                yield {
                    "nameAsListed": row["taxon_as_listed"],
                    "taxonID": taxon,
                    "jurisdiction": place,
                    "standing": ours["standing"],
                    "effect": ours["effect"],
                    "instrument": ours["instrument"],
                    "provision": "; ".join(caveats),
                    "inForceFrom": ours["inForceFrom"],
                    "sourceKey": ours["sourceKey"],
                }


def register_rows(folder, matcher):
    """Alien and invasive in a national register; introductions that are not called invasive
    are left out."""
    for row in read(folder / "regulation-griis-introduced.csv"):
        code = row["country_code"]
        if REGISTER_PLACES.get(code) != row["place"] or row["is_invasive"] not in ("invasive", "yes"):
            continue
        for taxon in matcher.species(row["accepted_name"]) | matcher.species(row["listed_name"]):
            yield {
                "nameAsListed": row["listed_name"],
                "taxonID": taxon,
                "jurisdiction": code,
                "standing": "register",
                "effect": "listed as alien (invasive)",
                "instrument": f"GRIIS checklist of {row['place']}",
                "provision": f"version {row['checklist_version']}; a register, not law",
                "inForceFrom": "not applicable: a register",
                "sourceKey": "griis-2025",
            }


def write_references(folder, catalogue):
    """What the check needs of the lists: listed names of our genera and where they stand."""
    genera = {fold(p["scientificName"]).split()[0] for p in catalogue.plants.values()}
    genera |= {s.split()[0] for names in catalogue.synonyms().values() for s in names}
    instruments = {row["listed"]: row for row in read(HERE / "instruments.csv")}
    listed = set()
    for row in read(folder / "regulation-eu-union-list.csv"):
        listed.add((row["name"], "species", "EU", "eu-union-list-2025"))
    for row in read(folder / "regulation-law-lists.csv"):
        ours = instruments[row["instrument"]]
        for place in ours["jurisdiction"].split(";"):
            listed.add((row["taxon"], row["listed_at"], place, ours["sourceKey"]))
    for row in read(folder / "regulation-griis-introduced.csv"):
        code = row["country_code"]
        if REGISTER_PLACES.get(code) == row["place"] and row["is_invasive"] in ("invasive", "yes"):
            listed |= {(row[name], "species", code, "griis-2025") for name in ("accepted_name", "listed_name")}
    columns = ["name", "listedAt", "jurisdiction", "source"]
    rows = [dict(zip(columns, row)) for row in sorted(listed) if fold(row[0]).split()[:1] and fold(row[0]).split()[0] in genera]
    write(REFERENCE / "law_lists.csv", columns, rows)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--open-data", type=pathlib.Path, required=True)
    folder = parser.parse_args().open_data
    catalogue = Catalogue()
    matcher = Matcher(catalogue)
    found = {}
    for rows in (union_rows(folder, matcher), law_rows(folder, catalogue, matcher), register_rows(folder, matcher)):
        for row in rows:
            row["checkedOn"] = CHECKED
            key = (row["taxonID"], row["jurisdiction"], row["instrument"], row["nameAsListed"])
            found.setdefault(key, row)
    write(DATA / "legal.csv", COLUMNS, [found[key] for key in sorted(found)])
    write_references(folder, catalogue)
    print(f"{len(found)} entries for {len({key[0] for key in found})} taxa")


if __name__ == "__main__":
    main()
