"""Derives data/evidence.csv from the open data and from the claims entered by hand.

    python3 tools/data/claims.py --open-data DIR

DIR holds the extracts described in data/README.md. The same input gives the same bytes.
Hand-made input: claims-by-hand.csv (papers, practice, memory), notes.csv (why a source and
the catalogue differ). Nothing is written when a claim disagrees without a note.
"""

import argparse
import pathlib
import re
import sys

from agreement import agrees, span
from common import DATA, Catalogue, areas, fold, read, write

HERE = pathlib.Path(__file__).resolve().parent
COLUMNS = ["taxonID", "trait", "statement", "unit", "kind", "sourceKey", "locator", "note"]
FEET_CM = 30.48
# Why a height measured in the open differs from ours, by the way the plant lives.
TALL = "height on land, with the flowering shoot or in deep water; ours is the height of a kept plant under water"
LONG = "length of free-growing stems or leaves in open water; ours is the height of a kept and trimmed plant"
FLAT = "lies flat on wet mud there; under water it rises towards the light"
# Synonyms of ours that another list uses for a different plant (homonyms).
HOMONYMS = {("groenlandia-densa", "ffb-2026"), ("groenlandia-densa", "ffb-2024")}
# A name that the Brazilian list marks so was used there for something else.
NOT_THIS_PLANT = {"misapplied", "illegitimate", "rejected", "not validly published"}


class Source:
    """One list of the open data, found by folded name, then by our synonyms."""

    def __init__(self, key, rows, name, locator):
        self.key, self.locator = key, locator
        self.rows = {}
        for row in rows:
            self.rows.setdefault(fold(row[name]), row)
        self.name = name

    def find(self, plant, synonyms):
        """The row for a plant and the place to look it up, or nothing."""
        folded = fold(plant["scientificName"])
        row, suffix = self.rows.get(folded), ""
        if row is None and (plant["taxonID"], self.key) not in HOMONYMS:
            for old in sorted(synonyms.get(plant["taxonID"], ())):
                if old in self.rows:
                    row, suffix = self.rows[old], f"; as {self.rows[old][self.name]}"
                    break
        if row is None:
            return None, ""
        level = " (species)" if plant["cultivarEpithet"] else ""
        return row, f"{self.locator}={row[self.locator]}{level}{suffix}"


def listed(folder, key, file, name="scientific_name", locator="scientific_name"):
    return Source(key, read(folder / file), name, locator)


def name_lists(folder):
    """The backbones: lists that say which name they accept."""
    return [
        listed(folder, "inaturalist-2026", "names-inaturalist.csv", locator="inat_taxon_id"),
        listed(folder, "ncbi-2024", "names-ncbi.csv", locator="ncbi_taxid"),
        listed(folder, "usda-2026", "traits-usda-plants.csv", locator="usda_symbol"),
        listed(folder, "twn-2026", "names-twn-dutch-macrophytes.csv"),
        listed(folder, "gbif-2023", "names-gbif-backbone-subset.csv", "name", "gbif_key"),
        listed(folder, "british-irish-flora-2022", "traits-british-irish-flora.csv", locator="kew_id"),
        listed(folder, "ffb-2026", "names-flora-funga-brasil-synonyms.csv", "name", "ffb_id"),
    ]


class Claims:
    """The claims so far."""

    def __init__(self):
        self.rows = []

    def add(self, plant, trait, statement, unit, kind, source, locator, note=""):
        cells = [plant["taxonID"], trait, statement, unit, kind, source, locator, note]
        self.rows.append(dict(zip(COLUMNS, cells)))


def restored(plant, name):
    """A listed name with the rank word that the list leaves out."""
    return plant["scientificName"] if fold(name) == fold(plant["scientificName"]) else name


def name_claims(catalogue, lists, claims):
    """acceptedName and family. The Brazilian list, whose licence was seen second-hand, is
    called only where fewer than two others carry the name."""
    synonyms = catalogue.synonyms()
    for plant in catalogue.plants.values():
        found = 0
        unnamed = " sp." in plant["scientificName"] or plant["scientificName"].endswith(" sp.")
        for source in lists:
            if source.key == "ffb-2026" and found >= 2:
                continue
            row, locator = source.find(plant, {} if unnamed else synonyms)
            if row is None and not unnamed:
                continue
            if unnamed:
                row, locator = source.find({**plant, "scientificName": plant["scientificName"].split()[0]}, {})
                if row is None:
                    continue
                locator = re.sub(r" \(species\)$", "", locator) + " (genus)"
            elif accepted_in(source, row):
                name = restored(plant, accepted_in(source, row))
                found += name == plant["scientificName"]
                claims.add(plant, "acceptedName", name, "", "published", source.key, locator)
            if row.get("family"):
                claims.add(plant, "family", row["family"], "", "published", source.key, locator)
            form = phylum_form(plant, row.get("phylum", ""))
            if form:
                claims.add(plant, "growthForm", form, "", "published", source.key, locator, f"phylum {row['phylum']}")


def accepted_in(source, row):
    """The name that a list accepts for the concept of a row; empty when it is undecided."""
    if source.key == "ffb-2026":
        if row["name_status"] in NOT_THIS_PLANT:
            return ""
        return {"accepted": row["name"], "synonym": row["accepted_name"]}.get(row["status"], "")
    if source.key == "gbif-2023":
        return row["accepted_name"] or row["name"]
    if source.key == "twn-2026":
        return {"preferred": row["scientific_name"], "synonym": row["preferred_name"]}.get(row["status"], "")
    if source.key == "british-irish-flora-2022":
        return row["wcvp_accepted_name"] or row["scientific_name"]
    return row["scientific_name"]


def phylum_form(plant, phylum):
    """The growth form that a phylum settles by itself; floating liverworts count as floaters."""
    form = {"Bryophyta": "moss", "Marchantiophyta": "liverwort", "Charophyta": "alga"}.get(phylum, "")
    return "" if plant["growthForm"] == "floater" else form


def range_claims(catalogue, open_data, lists, claims):
    """native, at WGSRPD level 2 where states or countries are given, else at level 1."""
    synonyms = catalogue.synonyms()
    level2 = areas(open_data)
    usda = {}
    for row in read(open_data / "distribution-usda-plants.csv"):
        if row["status"] == "native" and row["wgsrpd_level3"]:
            usda.setdefault(row["usda_symbol"], set()).add(level2[row["wgsrpd_level3"]])
    brazil = {}
    for row in read(open_data / "distribution-flora-brasil.csv"):
        if row["origin"] == "native" and row["wgsrpd_level3"]:
            brazil.setdefault(fold(row["scientific_name"]), set()).add(level2[row["wgsrpd_level3"]])
    belgium = {}
    for row in read(open_data / "distribution-alien-plants-belgium.csv"):
        if row["native_range_wgsrpd"]:
            belgium.setdefault(fold(row["scientific_name"]), set()).add(row["native_range_wgsrpd"])

    for plant in catalogue.plants.values():
        if plant["native"] == "cultivated" or " sp." in plant["scientificName"] + " ":
            if plant["scientificName"].endswith(" sp."):
                continue
        row, locator = lists["usda-2026"].find(plant, synonyms)
        if row and row["usda_symbol"] in usda:
            add_areas(claims, plant, usda[row["usda_symbol"]], "", "usda-2026", locator)
        for name in [fold(plant["scientificName"]), *sorted(synonyms.get(plant["taxonID"], ()))]:
            if name in brazil:
                add_areas(claims, plant, brazil[name], "", "ffb-2024", where(plant, name))
                break
        row, locator = lists["british-irish-flora-2022"].find(plant, synonyms)
        if row and row["nativity_stace"] == "N":
            add_areas(claims, plant, {level2["GRB"]}, "", "british-irish-flora-2022", locator)
        elif row and row["origin_wgsrpd_level1"]:
            continents = re.findall(r"\d", row["origin_wgsrpd_level1"])
            add_areas(claims, plant, set(continents), "wgsrpd-1", "british-irish-flora-2022", locator)
        row, locator = lists["padapt-2023"].find(plant, synonyms)
        if row and row["nativeness_hungary"] == "native species":
            add_areas(claims, plant, {level2["HUN"]}, "", "padapt-2023", locator)
        for name in [fold(plant["scientificName"]), *sorted(synonyms.get(plant["taxonID"], ()))]:
            if name in belgium:
                add_areas(claims, plant, belgium[name], "wgsrpd-1", "belgium-aliens-2025", where(plant, name))
                break


def where(plant, name):
    """A locator for lists whose rows have no number: the name in the list."""
    level = " (species)" if plant["cultivarEpithet"] else ""
    return f"scientific_name={name}{level}"


def add_areas(claims, plant, codes, unit, source, locator):
    claims.add(plant, "native", ";".join(sorted(codes)), unit, "published", source, locator)


def trait_claims(catalogue, lists, brazil, claims):
    """Heights, habits, light and water indices, soil pH, toxicity."""
    synonyms = catalogue.synonyms()
    for plant in catalogue.plants.values():
        if plant["scientificName"].endswith(" sp."):
            continue
        row, locator = lists["british-irish-flora-2022"].find(plant, synonyms)
        if row:
            british_claims(plant, row, locator, claims)
        row, locator = lists["padapt-2023"].find(plant, synonyms)
        if row:
            pannonian_claims(plant, row, locator, claims)
        row, locator = lists["usda-2026"].find(plant, synonyms)
        if row:
            usda_claims(plant, row, locator, claims)
        row, locator = brazil.find(plant, synonyms)
        if row and row["habitat"] not in ("", "Unknown", "Not_found_in_brazil"):
            claims.add(plant, "emersed", row["habitat"], "ffb-habitat", "published", "ffb-2024", locator)


def height(plant, low, high, kind, source, locator, claims):
    """A height claim. A cultivar is picked for its own size, so it inherits none."""
    if plant["cultivarEpithet"]:
        return
    statement = f"{low:g}" if low == high else f"{low:g}..{high:g}"
    claims.add(plant, "height", statement, "cm", kind, source, locator)


def british_claims(plant, row, locator, claims):
    key = "british-irish-flora-2022"
    mean, top = row["mean_vegetative_height_m"], row["max_vegetative_height_m"]
    if mean:
        low = round(float(mean) * 100, 1)
        height(plant, low, max(low, round(float(top or mean) * 100, 1)), "measured", key, locator, claims)
    for trait, column, unit in [
        ("light", "ellenberg_light", "ellenberg-L"),
        ("emersed", "ellenberg_moisture", "ellenberg-F"),
        ("ph", "ellenberg_reaction", "ellenberg-R"),
    ]:
        for region in ("british", "ceurope"):
            value = row[f"{column}_{region}"]
            if value:
                claims.add(plant, trait, value, unit, "published", key, f"{locator}; {column}_{region}")
                break
    if row["raunkiaer_life_form"]:
        form = row["raunkiaer_life_form"]
        claims.add(plant, "growthForm", form, "raunkiaer", "published", key, locator)


def pannonian_claims(plant, row, locator, claims):
    key = "padapt-2023"
    if row["min_height_cm"] and row["max_height_cm"]:
        low, high = float(row["min_height_cm"]), float(row["max_height_cm"])
        height(plant, low, high, "published", key, locator, claims)
    for trait, column, unit in [
        ("light", "ellenberg_light", "ellenberg-L"),
        ("emersed", "ellenberg_moisture", "ellenberg-F"),
        ("ph", "ellenberg_reaction", "ellenberg-R"),
    ]:
        if re.fullmatch(r"\d+", row[column]):
            claims.add(plant, trait, row[column], unit, "published", key, f"{locator}; {column}")


def usda_claims(plant, row, locator, claims):
    key = "usda-2026"
    if row["height_mature_feet"]:
        tall = round(float(row["height_mature_feet"]) * FEET_CM)
        height(plant, tall, tall, "published", key, locator, claims)
    if row["shade_tolerance"]:
        claims.add(plant, "light", row["shade_tolerance"], "usda-shade", "published", key, locator)
    if row["ph_minimum"]:
        span = f"{float(row['ph_minimum']):g}..{float(row['ph_maximum']):g}"
        claims.add(plant, "ph", span, "soil-pH", "published", key, locator)
    if row["growth_form"]:
        claims.add(plant, "growthForm", row["growth_form"], "usda-growth-form", "published", key, locator)
    if row["toxicity"]:
        words = {"None": "none-known", "Moderate": "toxic-if-eaten"}
        toxicity = row["toxicity"]
        claims.add(plant, "hazard", words[toxicity], "", "published", key, f"{locator}; toxicity {toxicity}")


def hand_claims(catalogue, claims):
    """Claims entered by hand; one row may name several taxa."""
    for row in read(HERE / "claims-by-hand.csv"):
        for taxon in row["taxonID"].split(";"):
            if taxon not in catalogue.plants:
                sys.exit(f"claims-by-hand.csv: no taxon {taxon}")
            claims.rows.append({**row, "taxonID": taxon})


def annotate(catalogue, claims):
    """Puts the notes on the claims they are about; returns claims that differ unexplained."""
    notes = {}
    for row in read(HERE / "notes.csv"):
        for taxon in row["taxonID"].split(";"):
            for key in row["sourceKey"].split(";"):
                notes[taxon, row["trait"], key, row["statement"]] = row["note"]
    unused, open_claims = set(notes), []
    for claim in claims.rows:
        plant = catalogue.plants[claim["taxonID"]]
        verdict = agrees(claim, plant)
        about = (claim["trait"], claim["sourceKey"])
        keys = [
            (claim["taxonID"], *about, claim["statement"]),
            (claim["taxonID"], *about, "*"),
            ("*", *about, claim["statement"]),
        ]
        key = next((k for k in keys if k in notes), None)
        if key and verdict is False:
            unused.discard(key)
            claim["note"] = notes[key]
        elif verdict is False and claim["trait"] == "height" and not claim["note"]:
            claim["note"] = height_note(claim, plant)
        if verdict is False and not claim["note"]:
            open_claims.append(claim)
    for key in sorted(unused):
        print(f"note without a claim: {' · '.join(key)}", file=sys.stderr)
    return open_claims


def height_note(claim, plant):
    """Why a field height and ours differ, by the way the plant lives."""
    _, top = span(claim["statement"])
    if top < float(plant["heightMinCm"]):
        return FLAT
    return LONG if plant["emersed"] == "no" else TALL


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--open-data", type=pathlib.Path, required=True)
    folder = parser.parse_args().open_data
    catalogue, claims = Catalogue(), Claims()

    names = name_lists(folder)
    lists = {s.key: s for s in names}
    lists["padapt-2023"] = listed(folder, "padapt-2023", "traits-padapt-pannonian.csv")
    brazil = listed(folder, "ffb-2024", "names-flora-funga-brasil.csv", "name", "ffb_id")
    name_claims(catalogue, names, claims)
    range_claims(catalogue, folder, lists, claims)
    trait_claims(catalogue, lists, brazil, claims)
    hand_claims(catalogue, claims)
    left_open = annotate(catalogue, claims)
    for claim in left_open:
        plant = catalogue.plants[claim["taxonID"]]
        print("unexplained:", *claim.values(), "| ours:", ours(claim, plant), sep=" · ", file=sys.stderr)
    rows = sorted(claims.rows, key=lambda r: (r["taxonID"], r["trait"], r["sourceKey"], r["locator"], r["statement"]))
    if left_open:
        sys.exit(f"{len(left_open)} claims differ without a note; nothing written")
    write(DATA / "evidence.csv", COLUMNS, rows)
    print(f"{len(rows)} claims")


def ours(claim, plant):
    """The value of the catalogue that a claim is about."""
    columns = {"acceptedName": ["scientificName"], "height": ["heightMinCm", "heightMaxCm", "emersed"],
               "growth": ["growthPerDay"], "co2": ["co2MinMgL", "co2OptMgL"], "light": ["ppfdMin", "ppfdMax"],
               "temperature": ["tempAbsMinC", "tempAbsMaxC"]}
    return [plant[c] for c in columns.get(claim["trait"], [claim["trait"]])]


if __name__ == "__main__":
    main()
