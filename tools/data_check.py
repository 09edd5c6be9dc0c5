"""Checks the tables of data/ from outside the program, with nothing but the standard library.

    python3 tools/data_check.py [--open-data DIR] [--write-shares]

Prints every finding and a summary; exit 1 on any finding. Without --open-data the lists of
law and the areas are the small copies in tests/reference; with it, also the lists themselves.
--write-shares brings the table of evidence shares in data/README.md up to date.
"""

import argparse
import collections
import csv
import io
import pathlib
import sys

ROOT = pathlib.Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tools" / "data"))

from agreement import agrees, span  # noqa: E402

KINDS = ["measured", "published", "practice", "memory"]
NAME_KINDS = ["accepted", "synonym", "vernacular", "trade"]
# Sort key of every table; a number sorts as a number.
ORDER = {
    "plants": lambda r: r["taxonID"],
    "names": lambda r: (r["taxonID"], NAME_KINDS.index(r["kind"]), r["language"], r["name"]),
    "evidence": lambda r: (r["taxonID"], r["trait"], r["sourceKey"], r["locator"], r["statement"]),
    "sources": lambda r: r["key"],
    "legal": lambda r: (r["taxonID"], r["jurisdiction"], r["instrument"], r["nameAsListed"]),
    "name-decisions": lambda r: r["concept"],
    "light-sources": lambda r: r["key"],
    "light-bands": lambda r: (r["key"], float(r["bandStartNm"])),
    "wgsrpd": lambda r: (r["level"], r["code"]),
}
UNIQUE = {
    "plants": ["taxonID"],
    "names": ["name", "language", "taxonID"],
    "evidence": ["taxonID", "trait", "sourceKey", "locator", "statement"],
    "sources": ["key"],
    "legal": ["taxonID", "jurisdiction", "instrument", "nameAsListed"],
    "name-decisions": ["concept"],
    "light-sources": ["key"],
    "light-bands": ["key", "bandStartNm"],
    "wgsrpd": ["code"],
}
ENVELOPES = {
    "light": ["ppfdMin", "ppfdOptMin", "ppfdOptMax", "ppfdMax"],
    "carbon": ["co2MinMgL", "co2OptMgL"],
    "temperature": ["tempAbsMinC", "tempOptMinC", "tempOptMaxC", "tempAbsMaxC"],
    "pH": ["phAbsMin", "phOptMin", "phOptMax", "phAbsMax"],
    "GH": ["ghAbsMinDgh", "ghOptMinDgh", "ghOptMaxDgh", "ghAbsMaxDgh"],
    "KH": ["khAbsMinDkh", "khOptMinDkh", "khOptMaxDkh", "khAbsMaxDkh"],
}
# Largest share of taxa that may have all six envelopes in common with another.
IDENTICAL_LIMIT = 0.05
UNITS = {"", "cm", "1/d", "degC", "pH", "dGH", "dKH", "mg/L", "umol/m2/s", "wgsrpd-1", "ellenberg-L", "ellenberg-F",
         "ellenberg-R", "soil-pH", "raunkiaer", "usda-shade", "usda-growth-form", "ffb-habitat"}
# Common practice, no source: what a tank without gas (1.8 mg/L CO2, 40 µmol m⁻² s⁻¹ for 8 h,
# 24 °C, pH 7, GH 6, KH 4) carries, and what it does not.
LOW_TECH = {"light": 40, "temperature": 24, "pH": 7, "GH": 6, "KH": 4}
LOW_TECH_CO2 = 1.8
GROW_THERE = ["Anubias", "Bucephalandra", "Leptochilus pteropus", "Bolbitis heudelotii", "Taxiphyllum", "Vesicularia",
              "Cryptocoryne wendtii", "Cryptocoryne beckettii", "Cryptocoryne walkeri", "Cryptocoryne undulata",
              "Cryptocoryne × willisii", "Cryptocoryne crispatula"]
FAIL_THERE = ["Micranthemum callitrichoides", "Glossostigma", "Utricularia graminifolia", "Tonina", "Eriocaulon",
              "Syngonanthus", "Rotala macrandra", "Rotala wallichii", "Pogostemon helferi", "Eleocharis acicularis"]


class Report:
    """Findings and figures."""

    def __init__(self):
        self.findings = []

    def finding(self, where, what):
        self.findings.append(f"{where}: {what}")


def read_table(path, report):
    """Rows of a table; everything that is not clean RFC 4180 with LF is a finding."""
    raw = path.read_bytes()
    where = path.name
    if raw.startswith(b"\xef\xbb\xbf"):
        report.finding(where, "starts with a byte order mark")
    if b"\r" in raw:
        report.finding(where, "has carriage returns; expected LF")
    if raw and not raw.endswith(b"\n"):
        report.finding(where, "does not end with a line end")
    try:
        text = raw.decode("utf-8")
        rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except (UnicodeDecodeError, csv.Error) as error:
        report.finding(where, f"is not UTF-8 CSV: {error}")
        return []
    if not rows:
        return []
    written = io.StringIO(newline="")
    csv.writer(written, lineterminator="\n").writerows(rows)
    if written.getvalue() != text:
        report.finding(where, "is not written as Python's csv module writes it")
    header, body = rows[0], rows[1:]
    for line, row in enumerate(body, 2):
        if len(row) != len(header):
            report.finding(f"{where} row {line}", f"{len(row)} cells, expected {len(header)}")
        for column, cell in zip(header, row):
            if cell != cell.strip() or "\n" in cell:
                report.finding(f"{where} row {line}", f"`{column}` has stray blanks: {cell!r}")
    return [dict(zip(header, row)) for row in body if len(row) == len(header)]


def check_keys(tables, report):
    for name, rows in tables.items():
        keys = [ORDER[name](row) for row in rows]
        if keys != sorted(keys):
            first = next(i for i in range(1, len(keys)) if keys[i] < keys[i - 1])
            report.finding(f"{name}.csv row {first + 2}", "is out of order")
        counts = collections.Counter(tuple(row[c] for c in UNIQUE[name]) for row in rows)
        for key, count in counts.items():
            if count > 1:
                report.finding(f"{name}.csv", f"{' · '.join(key)} stands {count} times")
    taxa = {row["taxonID"] for row in tables["plants"]}
    sources = {row["key"] for row in tables["sources"]}
    lights = {row["key"] for row in tables["light-sources"]}
    for name, column, known in [("names", "taxonID", taxa), ("evidence", "taxonID", taxa), ("legal", "taxonID", taxa),
                                ("names", "sourceKey", sources), ("evidence", "sourceKey", sources),
                                ("legal", "sourceKey", sources), ("light-sources", "sourceKey", sources),
                                ("light-bands", "key", lights)]:
        for row in tables[name]:
            if row[column] not in known:
                report.finding(f"{name}.csv", f"{column} `{row[column]}` is unknown")


def check_plants(plants, areas, report):
    for row in plants:
        codes = row["native"].split(";")
        if codes != ["cultivated"]:
            for code in codes:
                if code not in areas:
                    report.finding(f"plants.csv {row['taxonID']}", f"`{code}` is not a WGSRPD level 2 code")
            if codes != sorted(set(codes)):
                report.finding(f"plants.csv {row['taxonID']}", "native codes are not sorted or not unique")
        for factor, columns in ENVELOPES.items():
            values = [float(row[c]) for c in columns]
            if values != sorted(values):
                report.finding(f"plants.csv {row['taxonID']}", f"{factor} does not ascend: {values}")
        if float(row["heightMinCm"]) > float(row["heightMaxCm"]):
            report.finding(f"plants.csv {row['taxonID']}", "heights do not ascend")


def check_names(plants, names, report):
    accepted = collections.defaultdict(list)
    for row in names:
        if row["kind"] not in NAME_KINDS:
            report.finding("names.csv", f"kind `{row['kind']}`")
        if row["kind"] == "accepted":
            accepted[row["taxonID"]].append(row["name"])
    for row in plants:
        cultivar = f" '{row['cultivarEpithet']}'" if row["cultivarEpithet"] else ""
        if accepted[row["taxonID"]] != [row["scientificName"] + cultivar]:
            report.finding(f"names.csv {row['taxonID']}", f"accepted names {accepted[row['taxonID']]}")


def identical_envelopes(plants, report):
    groups = collections.defaultdict(list)
    for row in plants:
        groups[tuple(float(row[c]) for columns in ENVELOPES.values() for c in columns)].append(row["taxonID"])
    twins = sorted(group for group in groups.values() if len(group) > 1)
    share = sum(map(len, twins)) / max(1, len(plants))
    print(f"identical envelopes: {sum(map(len, twins))} of {len(plants)} taxa ({share:.1%}), limit {IDENTICAL_LIMIT:.0%}")
    for group in twins:
        print("  " + ", ".join(group))
    if share > IDENTICAL_LIMIT:
        report.finding("plants.csv", f"{share:.1%} of the taxa share all envelopes with another")


def check_evidence(plants, claims, report):
    """Each claim against its value; prints the shares of taxa by their strongest kind."""
    by_id = {row["taxonID"]: row for row in plants}
    strongest, verdicts, heights = {}, collections.Counter(), []
    for claim in claims:
        where = f"evidence.csv {claim['taxonID']} {claim['trait']} {claim['sourceKey']}"
        if claim["kind"] not in KINDS:
            report.finding(where, f"kind `{claim['kind']}`")
            continue
        if claim["unit"] not in UNITS:
            report.finding(where, f"unit `{claim['unit']}`")
        if not claim["locator"] and claim["kind"] in ("measured", "published"):
            report.finding(where, "does not say where in the source")
        if ".." in claim["statement"] and (span(claim["statement"]) is None or span(claim["statement"])[0] > span(claim["statement"])[1]):
            report.finding(where, f"`{claim['statement']}` is not a range")
        plant = by_id.get(claim["taxonID"])
        if plant is None:
            continue
        verdict = agrees(claim, plant)
        verdicts[verdict] += 1
        if claim["trait"] == "height":
            heights.append((verdict, claim, plant))
        if verdict is False and not claim["note"]:
            report.finding(where, f"claims `{claim['statement']}` and does not say why ours differs")
        key = (claim["trait"], claim["taxonID"])
        strongest[key] = min(strongest.get(key, 9), KINDS.index(claim["kind"]))
    print(f"claims: {len(claims)}; agree {verdicts[True]}, differ with a reason {verdicts[False]}, not comparable {verdicts[None]}")
    show_heights(heights)
    return shares_table(strongest, len(plants))


def show_heights(heights):
    """How many field heights overlap ours, and those that do not with the reason."""
    overlap = sum(verdict for verdict, _, _ in heights)
    print(f"field heights: {overlap} of {len(heights)} overlap ours; the others:")
    for verdict, claim, plant in heights:
        if not verdict:
            ours = f"{plant['heightMinCm']}..{plant['heightMaxCm']}"
            print(f"  {claim['taxonID']}: {claim['statement']} cm in {claim['sourceKey']}, ours {ours}: {claim['note']}")


def shares_table(strongest, taxa):
    """Share of the taxa by their strongest claim, a row a trait, as Markdown."""
    counts = collections.defaultdict(collections.Counter)
    for (trait, _), kind in strongest.items():
        counts[trait][KINDS[kind]] += 1
    lines = ["| trait | " + " | ".join(KINDS) + " | no claim |", "|---" * (len(KINDS) + 2) + "|"]
    for trait in sorted(counts):
        row = [counts[trait][kind] for kind in KINDS]
        cells = [f"{100 * n / taxa:.1f} %" for n in [*row, taxa - sum(row)]]
        lines.append(f"| {trait} | " + " | ".join(cells) + " |")
    return "\n".join(lines) + "\n"


def check_readme(table, write, report):
    """The shares printed in data/README.md are those of the tables."""
    path = ROOT / "data" / "README.md"
    text = path.read_text(encoding="utf-8")
    before, _, rest = text.partition("<!-- shares -->\n")
    shown, _, after = rest.partition("<!-- /shares -->")
    print(table, end="")
    if write and shown != table:
        path.write_text(f"{before}<!-- shares -->\n{table}<!-- /shares -->{after}", encoding="utf-8")
    elif shown != table:
        report.finding("data/README.md", "its evidence shares are out of date; run with --write-shares")


def check_decisions(plants, claims, decisions, report):
    """A name with fewer than two sources for it, or one against it, is a decision to record."""
    support, against = collections.defaultdict(set), set()
    names = {row["taxonID"]: row["scientificName"] for row in plants}
    for claim in claims:
        if claim["trait"] == "acceptedName" and claim["kind"] == "published" and claim["taxonID"] in names:
            if claim["statement"] == names[claim["taxonID"]]:
                support[claim["statement"]].add(claim["sourceKey"])
            else:
                against.add(names[claim["taxonID"]])
    recorded = "\n".join(f"{row['concept']}\n{row['chosen']}" for row in decisions)
    for name in sorted(set(names.values())):
        if name.endswith(" sp."):
            continue
        if (len(support[name]) < 2 or name in against) and name not in recorded:
            report.finding("name-decisions.csv", f"{name} rests on {len(support[name])} sources and is not recorded")


def check_law(plants, names, legal, listed, report):
    """Both ways: what is listed and carried is flagged, and nothing else is."""
    plain = lambda name: " ".join(w for w in name.replace("×", " × ").split() if w not in ("var.", "subsp.", "f.", "x"))
    accepted = {row["taxonID"]: plain(row["scientificName"]) for row in plants}
    wild = {plain(row["scientificName"]): row["taxonID"] for row in plants if not row["cultivarEpithet"]}
    owners = collections.defaultdict(set)
    for row in names:
        if row["kind"] == "synonym" and row["language"] == "la" and "'" not in row["name"]:
            owners[plain(row["name"])].add(row["taxonID"])
    covers = collections.defaultdict(set)
    for old, taxa in owners.items():
        species = {accepted[t] for t in taxa if t in accepted}
        if old in accepted.values() or len(species) != 1:
            continue
        name = species.pop()
        covers[old] |= {t for t in accepted if accepted[t] == name} if wild.get(name) in taxa else taxa
    for taxon, name in accepted.items():
        covers[name].add(taxon)

    expected = set()
    for row in listed:
        name = plain(row["name"])
        if row["listedAt"] == "genus":
            taxa = {t for t, n in accepted.items() if n.split()[0] == name}
            if name == "Eichhornia":
                taxa |= {t for old, found in covers.items() if old.split()[0] == name for t in found}
            if (name, row["jurisdiction"]) == ("Salvinia", "US-FL"):
                taxa -= {"salvinia-minima"}
        elif " " not in name:
            continue
        else:
            taxa = covers[name] | {t for t, n in accepted.items() if n.startswith(name + " ")}
        expected |= {(taxon, row["jurisdiction"], row["source"]) for taxon in taxa}
    flagged = {(row["taxonID"], row["jurisdiction"], row["sourceKey"]) for row in legal}
    for missing in sorted(expected - flagged):
        report.finding("legal.csv", f"listed but not flagged: {' · '.join(missing)}")
    for extra in sorted(flagged - expected):
        report.finding("legal.csv", f"flagged but not listed: {' · '.join(extra)}")
    places = collections.Counter((row["standing"], row["jurisdiction"]) for row in legal)
    print(f"legal entries: {len(legal)} for {len({row['taxonID'] for row in legal})} taxa")
    for standing in ("law", "release-law", "register"):
        shown = [f"{place} {n}" for (kind, place), n in sorted(places.items()) if kind == standing]
        print(f"  {standing}: {', '.join(shown)}")


def check_law_copy(folder, listed, report):
    """The copy in tests/reference against the lists themselves."""
    copied = {(row["name"], row["jurisdiction"]) for row in listed}
    genera = {name.split()[0] for name, _ in copied}
    def rows(file):
        with open(folder / file, newline="", encoding="utf-8") as handle:
            yield from csv.DictReader(handle)
    wanted = {(row["name"], "EU") for row in rows("regulation-eu-union-list.csv")}
    for row in rows("regulation-law-lists.csv"):
        places = ["GB-ENG", "GB-WLS"] if row["jurisdiction_code"] == "GB-EAW" else [row["jurisdiction_code"]]
        wanted |= {(row["taxon"], place) for place in places}
    for name, place in sorted(wanted - copied):
        if name.split()[0] in genera:
            report.finding("tests/reference/law_lists.csv", f"lacks {name} of {place}; run tools/data/legal.py")


def suitability(row, factor, value):
    """The trapezoid of an envelope: 0 at the outer values, 1 between the inner ones."""
    low, rise, fall, high = (float(row[c]) for c in ENVELOPES[factor])
    if not low < value < high:
        return 0.0
    return min(1.0, (value - low) / (rise - low) if value < rise else 1.0, (high - value) / (high - fall) if value > fall else 1.0)


def low_tech(row):
    """The smallest suitability in the low-tech tank, and its factor."""
    usable = LOW_TECH_CO2
    if row["carbonUse"] == "co2+bicarbonate":
        # 4 % of the bicarbonate counts as CO2; 1 dKH is 0.35665 meq/L, 44.0095 g/mol.
        usable += 0.04 * LOW_TECH["KH"] * 0.35665 * 44.0095
    low, high = (float(row[c]) for c in ENVELOPES["carbon"])
    carbon = 1.0 if row["carbonUse"] == "air" else min(1.0, max(0.0, (usable - low) / (high - low)))
    return min([(carbon, "carbon"), *((suitability(row, f, v), f) for f, v in LOW_TECH.items())])


def check_practice(plants, report):
    for row in plants:
        value, factor = low_tech(row)
        def named(prefixes):
            return any(row["scientificName"] == p or row["scientificName"].startswith(p + " ") for p in prefixes)
        if named(GROW_THERE) and value < 0.5 and not row["cultivarEpithet"]:
            report.finding(f"plants.csv {row['taxonID']}", f"should grow in the low-tech tank, {factor} {value:.2f}")
        if named(FAIL_THERE) and value >= 0.5:
            report.finding(f"plants.csv {row['taxonID']}", "should not grow in the low-tech tank")
    grow = sum(low_tech(row)[0] >= 0.5 for row in plants)
    print(f"low-tech tank: {grow} of {len(plants)} taxa grow")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--open-data", type=pathlib.Path)
    parser.add_argument("--write-shares", action="store_true")
    options = parser.parse_args()
    folder = options.open_data
    report = Report()
    tables = {name: read_table(ROOT / "data" / f"{name}.csv", report) for name in ORDER}
    areas = {row["code"]: row["name"] for row in read_table(ROOT / "tests/reference/wgsrpd_level2.csv", report)}
    listed = read_table(ROOT / "tests/reference/law_lists.csv", report)
    plants = tables["plants"]
    print(f"taxa: {len(plants)}; names: {len(tables['names'])}; sources: {len(tables['sources'])}")
    check_keys(tables, report)
    shipped = {row["code"]: row["name"] for row in tables["wgsrpd"] if row["level"] == "2"}
    if shipped != areas:
        report.finding("wgsrpd.csv", "its areas of level 2 are not those of the standard")
    check_plants(plants, areas, report)
    check_names(plants, tables["names"], report)
    identical_envelopes(plants, report)
    shares = check_evidence(plants, tables["evidence"], report)
    check_readme(shares, options.write_shares, report)
    check_decisions(plants, tables["evidence"], tables["name-decisions"], report)
    check_law(plants, tables["names"], tables["legal"], listed, report)
    check_practice(plants, report)
    if folder:
        check_law_copy(folder, listed, report)
    for finding in report.findings:
        print(finding, file=sys.stderr)
    print(f"findings: {len(report.findings)}")
    return 1 if report.findings else 0


if __name__ == "__main__":
    sys.exit(main())
