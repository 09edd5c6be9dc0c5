"""Writes data/ATTRIBUTION.md: the citations that the licences of the sources ask for.

    python3 tools/data/attribution.py --open-data DIR
"""

import argparse
import pathlib

from common import DATA, read

HEAD = """# Attribution

Quillwort's own tables are licensed CC BY 4.0. They take facts, each with its citation, from the
works below; these keep their own licences. No file of theirs is shipped.

## Sources

"""
REGISTERS = """
## Country checklists of the Global Register of Introduced and Invasive Species

All CC BY 4.0. `legal.csv` uses them for the entries of standing `register`; we kept only plants
carried here that a checklist calls invasive, and put the statement into our own words.

"""


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--open-data", type=pathlib.Path, required=True)
    folder = parser.parse_args().open_data
    used = {row["instrument"].removeprefix("GRIIS checklist of ") for row in read(DATA / "legal.csv")
            if row["sourceKey"] == "griis-2025"}
    text = HEAD
    for row in read(DATA / "sources.csv"):
        if row["key"] not in ("memory", "practice"):
            end = f" {row['identifier']}." if row["identifier"] else ""
            text += f"- **{row['key']}**: {row['citation']}{end} Licence: {row['licence']}.\n"
    text += REGISTERS
    for row in read(folder / "regulation-griis-checklists.csv"):
        if row["place"] in used:
            text += f"- {row['citation']}\n"
    (DATA / "ATTRIBUTION.md").write_text(text, encoding="utf-8")
    print(f"{len(used)} checklists")


if __name__ == "__main__":
    main()
