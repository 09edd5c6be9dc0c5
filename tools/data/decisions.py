"""Derives data/name-decisions.csv: every accepted name on which the lists differ, or which
fewer than two of them carry, with the choice made and why.

    python3 tools/data/decisions.py --open-data DIR

Choices that needed thought stand in decisions-by-hand.csv; the rest follow the rule: the name
that two lists agree on; on a tie iNaturalist; else current usage.
"""

import argparse
import pathlib

from claims import HERE, accepted_in, name_lists, restored
from common import DATA, Catalogue, fold, read, write

COLUMNS = ["concept", "chosen", "rejected", "sourcesFor", "sourcesAgainst", "why"]


def votes(plant, lists, synonyms):
    """For a name: the lists that accept it, those that accept another, and old names that a
    list keeps beside it as plants of their own."""
    species = plant["scientificName"]
    agree, other, beside = [], {}, {}
    for source in lists:
        row, _ = source.find({**plant, "cultivarEpithet": ""}, synonyms)
        name = row and accepted_in(source, row)
        if not name:
            continue
        if restored(plant, name) != species:
            other.setdefault(name, []).append(source.key)
            continue
        agree.append(source.key)
        for old in sorted(synonyms.get(plant["taxonID"], ())):
            kept = source.rows.get(old)
            if kept and fold(accepted_in(source, kept)) == old != fold(species):
                beside.setdefault(kept[source.name], []).append(source.key)
    return agree, other, beside


def reason(species, agree, other, beside, genera):
    """The rule that settled it, in words."""
    if other:
        against = len({key for keys in other.values() for key in keys})
        if len(agree) > against:
            return f"{len(agree)} lists against {against}"
        if "inaturalist-2026" in agree:
            return f"{len(agree)} against {against}, which differ among themselves or tie; iNaturalist settles it"
        return "current usage from memory against the list"
    if beside:
        return "all lists accept the name; one also keeps the rejected names as plants of their own, held to be the same"
    if agree:
        return "the only list that carries it, and current usage"
    if species.split()[0] not in genera:
        return "none of the lists held covers the genus; current usage from memory"
    return "the lists held cover the genus but not this plant; current usage from memory"


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--open-data", type=pathlib.Path, required=True)
    lists = name_lists(parser.parse_args().open_data)
    catalogue = Catalogue()
    synonyms = catalogue.synonyms()
    genera = {accepted_in(s, row).split()[0] for s in lists for row in s.rows.values() if accepted_in(s, row)}
    by_hand = read(HERE / "decisions-by-hand.csv")
    rows, done = list(by_hand), set()
    for plant in catalogue.plants.values():
        species = plant["scientificName"]
        if species in done or species.endswith(" sp."):
            continue
        done.add(species)
        if any(species in row["chosen"] or species in row["concept"] for row in by_hand):
            continue
        agree, other, beside = votes(plant, lists, synonyms)
        if len(agree) >= 2 and not other and not beside:
            continue
        against = {name: keys for part in (other, beside) for name, keys in part.items()}
        rows.append({
            "concept": species,
            "chosen": species,
            "rejected": "; ".join(sorted(against)),
            "sourcesFor": "; ".join(agree),
            "sourcesAgainst": "; ".join(sorted({f"{key} ({name})" for name, keys in against.items() for key in keys})),
            "why": reason(species, agree, other, beside, genera),
        })
    write(DATA / "name-decisions.csv", COLUMNS, sorted(rows, key=lambda row: row["concept"]))
    print(f"{len(rows)} decisions, {len(by_hand)} of them by hand")


if __name__ == "__main__":
    main()
