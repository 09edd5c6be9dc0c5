"""Writes data/datapackage.json, a Frictionless Data Package (v1) of the tables in data/.

    python3 tools/data/describe.py

The words and limits of the columns stand here; tables that are still empty are left out.
"""

import json

from common import DATA, REFERENCE, read

SLUG = "^[a-z0-9]+(-[a-z0-9]+)*$"
SOURCE_KEY = "^[a-z0-9]+(-[a-z0-9]+)*$"
LICENCE = {"name": "CC-BY-4.0", "path": "https://creativecommons.org/licenses/by/4.0/",
           "title": "Creative Commons Attribution 4.0"}
FORMS = ["stem", "creeper", "rosette", "runner", "rhizome", "bulb", "fern", "moss", "liverwort", "floater", "alga"]
PLACEMENTS = ["foreground", "midground", "background", "epiphyte", "floating"]
FOOTINGS = ["bed", "hardscape", "surface", "drifting"]
HAZARDS = ["none-known", "calcium-oxalate", "irritant-sap", "toxic-if-eaten", "spiny"]
TRAITS = ["acceptedName", "family", "native", "height", "growthForm", "placement", "light", "carbonUse", "co2",
          "growth", "temperature", "ph", "gh", "kh", "feeding", "emersed", "hazard"]


def text(name, description, required=True, **constraints):
    if required:
        constraints = {"required": True, **constraints}
    field = {"name": name, "type": "string", "description": description}
    return {**field, "constraints": constraints} if constraints else field


def choice(name, description, words):
    return text(name, description, enum=words)


def several(name, description, words):
    either = "|".join(words)
    return text(name, f"{description} A list parted by semicolons.", pattern=f"^({either})(;({either}))*$")


def number(name, description, low, high, kind="number"):
    return {"name": name, "type": kind, "description": description,
            "constraints": {"required": True, "minimum": low, "maximum": high}}


def envelope(names, what, unit, low, high):
    """The four values of a factor."""
    meanings = ["at and below this nothing grows", "from here it does best", "up to here it does best",
                "at and above this nothing grows"]
    return [number(n, f"{what}, {unit}: {m}.", low, high) for n, m in zip(names, meanings)]


def plants(areas):
    area = "|".join(areas)
    return [
        text("taxonID", "Key of the taxon: its name in lower case with hyphens.", pattern=SLUG, unique=True),
        text("scientificName", "Accepted scientific name without author and cultivar."),
        text("cultivarEpithet", "Cultivar or trade form, without quotes; empty for the wild kind.", required=False),
        text("scientificNameAuthorship", "Author of the accepted name."),
        text("family", "Botanical family.", pattern="^[A-Z][a-z]+ceae$"),
        text("vernacularName", "Usual English name, or the scientific one where there is none."),
        choice("growthForm", "Habit of the plant.", FORMS),
        several("placement", "Parts of a layout it serves.", PLACEMENTS),
        several("footing", "What it can hold on to.", FOOTINGS),
        number("heightMinCm", "Low end of the submerged height of a grown, kept plant, cm.", 0.1, 300),
        number("heightMaxCm", "High end of the submerged height of a grown, kept plant, cm.", 0.1, 300),
        number("spreadCm", "Width of one grown plant or clump, cm.", 0.1, 300),
        number("spacingCm", "Distance between portions at planting, cm.", 0.5, 150),
        *envelope(["ppfdMin", "ppfdOptMin", "ppfdOptMax", "ppfdMax"],
                  "Photosynthetic photon flux density at the leaf over a day of 8 h", "µmol m⁻² s⁻¹", 0, 2500),
        choice("carbonUse", "Inorganic carbon it takes up.", ["co2", "co2+bicarbonate", "air"]),
        number("co2MinMgL", "Dissolved CO2 (with 4 % of the bicarbonate for its users) at which growth stops, mg/L.", 0, 50),
        number("co2OptMgL", "Dissolved CO2 from which more does not help, mg/L.", 0, 50),
        number("growthPerDay", "Relative growth rate at its best, 1/day.", 0.001, 0.6),
        number("trimEveryWeeks", "Weeks between trims at good growth.", 1, 104, "integer"),
        *envelope(["tempAbsMinC", "tempOptMinC", "tempOptMaxC", "tempAbsMaxC"], "Water temperature all the year", "°C", -5, 42),
        *envelope(["phAbsMin", "phOptMin", "phOptMax", "phAbsMax"], "Acidity of the water", "pH", 3, 11),
        *envelope(["ghAbsMinDgh", "ghOptMinDgh", "ghOptMaxDgh", "ghAbsMaxDgh"], "General hardness", "German degrees", 0, 80),
        *envelope(["khAbsMinDkh", "khOptMinDkh", "khOptMaxDkh", "khAbsMaxDkh"], "Carbonate hardness", "German degrees", 0, 60),
        choice("feeding", "Where nutrients are mainly taken up.", ["root", "column", "both"]),
        number("bedDepthMinCm", "Depth of bed it needs to root, cm.", 0, 40),
        choice("leafTexture", "Look of the foliage.", ["fine", "linear", "small", "broad"]),
        choice("colour", "Colour under water in good light.", ["light green", "green", "dark green", "red", "brown"]),
        choice("emersed", "Whether it grows with leaves in air.", ["no", "yes", "open-top"]),
        choice("lasting", "How it lasts submerged when all else suits it.", ["lasting", "short"]),
        choice("offered", "How often it is offered where tank plants are sold (common practice).", ["often", "sometimes", "seldom", "wild"]),
        text("native", "Native areas, WGSRPD level 2 codes parted by semicolons; `cultivated` for garden hybrids and "
             "plants whose wild home is unknown.", pattern=f"^(cultivated|({area})(;({area}))*)$"),
        several("hazard", "What can hurt people or animals; `none-known` is not a promise.", HAZARDS),
        text("notes", "One sentence for the keeper."),
    ]


NAMES = [
    text("name", "The name as people write it."),
    choice("kind", "What sort of name it is.", ["accepted", "synonym", "vernacular", "trade"]),
    choice("language", "ISO 639-1 code; `la` for scientific names; Japanese is romanised.",
           ["la", "en", "de", "fr", "es", "nl", "pt", "pl", "ja"]),
    text("taxonID", "The taxon it names; a name may belong to several.", pattern=SLUG),
    text("sourceKey", "Where the name comes from.", pattern=SOURCE_KEY),
]
EVIDENCE = [
    text("taxonID", "The taxon.", pattern=SLUG),
    choice("trait", "What the claim is about.", TRAITS),
    text("statement", "What the source says: a word, a number, a range `a..b` or a list parted by semicolons."),
    text("unit", "Unit of a number, or the system of a word; empty when the words are ours.", required=False),
    choice("kind", "How it is known.", ["measured", "published", "practice", "memory"]),
    text("sourceKey", "The source.", pattern=SOURCE_KEY),
    text("locator", "Where in the source: key of the row, page or part.", required=False),
    text("note", "Why the value of the catalogue differs, or what limits the claim.", required=False),
]
SOURCES = [
    text("key", "Key used by the other tables.", pattern=SOURCE_KEY, unique=True),
    text("citation", "The work."),
    {"name": "year", "type": "year", "description": "Year of the version used."},
    text("licence", "Licence of the source; we take facts with their citation."),
    text("identifier", "DOI, ISBN or official number.", required=False),
]
LEGAL = [
    text("nameAsListed", "The name as the list writes it."),
    text("taxonID", "The taxon of the catalogue that it covers.", pattern=SLUG),
    text("jurisdiction", "ISO 3166 code of a country or part of one, or EU.", pattern="^[A-Z]{2}(-[A-Z0-9]{2,3})?$"),
    choice("standing", "`law` restricts keeping or trade; `release-law` only release into nature; `register` only lists the taxon as alien, or is no longer law.", ["law", "register", "release-law"]),
    text("effect", "What is restricted, in our words."),
    text("instrument", "The law or the register."),
    text("provision", "Where in it, and how much of it was seen."),
    text("inForceFrom", "From when, as far as the source says."),
    {"name": "checkedOn", "type": "date", "description": "Day of the state of the gathered lists.",
     "constraints": {"required": True}},
    text("sourceKey", "Where the entry comes from.", pattern=SOURCE_KEY),
]
DECISIONS = [
    text("concept", "The plant in question.", unique=True),
    text("chosen", "Name used here."),
    text("rejected", "Names not used.", required=False),
    text("sourcesFor", "Source keys that have the chosen name as accepted.", required=False),
    text("sourcesAgainst", "Source keys that have it otherwise.", required=False),
    text("why", "Reason of the choice."),
]
LIGHTS = [
    text("key", "Key that a tank file names.", pattern=SOURCE_KEY, unique=True),
    text("description", "The light it stands for."),
    number("luxPerUmol", "Illuminance for 1 µmol m⁻² s⁻¹ of PAR, lux.", 0, 1000),
    text("sourceKey", "Where the figure comes from.", pattern=SOURCE_KEY),
]
BANDS = [
    text("key", "The spectrum.", pattern=SOURCE_KEY),
    number("bandStartNm", "Start of the band, nm.", 300, 900),
    number("bandEndNm", "End of the band, nm.", 300, 900),
    number("photonFraction", "Share of the PAR photons in the band.", 0, 1),
]
AREAS = [
    number("level", "1 continent, 2 region, 3 botanical country.", 1, 3, "integer"),
    text("code", "WGSRPD code.", pattern="^([0-9]{1,2}|[A-Z]{3})$", unique=True),
    text("name", "Name of the area, as in the edition of 2001."),
    text("parent", "Code of the area one level up.", required=False),
]


def reference(field, resource, target):
    return {"fields": field, "reference": {"resource": resource, "fields": target}}


def resource(name, title, fields, key, references=()):
    schema = {"fields": fields, "primaryKey": key}
    if references:
        schema["foreignKeys"] = list(references)
    return {"name": name, "path": f"{name}.csv", "title": title, "profile": "tabular-data-resource",
            "format": "csv", "mediatype": "text/csv", "encoding": "utf-8",
            "dialect": {"delimiter": ",", "quoteChar": '"', "doubleQuote": True, "header": True},
            "schema": schema}


def main():
    areas = [row["code"] for row in read(REFERENCE / "wgsrpd_level2.csv")]
    taxon = reference("taxonID", "plants", "taxonID")
    source = reference("sourceKey", "sources", "key")
    resources = [
        resource("plants", "Taxa and their needs", plants(areas), "taxonID"),
        resource("names", "Names of the taxa", NAMES, ["name", "language", "taxonID"], [taxon, source]),
        resource("evidence", "Claims behind the values", EVIDENCE,
                 ["taxonID", "trait", "sourceKey", "locator", "statement"], [taxon, source]),
        resource("sources", "What the claims rest on", SOURCES, "key"),
        resource("legal", "Laws and registers", LEGAL, ["taxonID", "jurisdiction", "instrument", "nameAsListed"], [taxon, source]),
        resource("name-decisions", "Choices between names", DECISIONS, "concept"),
        resource("light-sources", "Lamp spectra", LIGHTS, "key", [source]),
        resource("light-bands", "Photons of the spectra by waveband", BANDS, ["key", "bandStartNm"],
                 [reference("key", "light-sources", "key")]),
        resource("wgsrpd", "Areas of the World Geographical Scheme", AREAS, "code", [reference("parent", "", "code")]),
    ]
    package = {
        "profile": "tabular-data-package",
        "name": "quillwort-catalogue",
        "title": "Quillwort catalogue of plants for planted freshwater tanks",
        "description": "Taxa with the envelopes of light, carbon, temperature and water in which they grow, their names, "
                       "the law about them, and where each value comes from. See README.md and ATTRIBUTION.md.",
        "version": "1.0.0",
        "licenses": [LICENCE],
        "contributors": [{"title": "The Quillwort project", "role": "author"}],
        "sources": [{"title": row["citation"]} for row in read(DATA / "sources.csv") if row["key"] not in ("memory", "practice")],
        "resources": [r for r in resources if (DATA / r["path"]).stat().st_size],
    }
    with open(DATA / "datapackage.json", "w", encoding="utf-8", newline="") as handle:
        json.dump(package, handle, ensure_ascii=False, indent=2)
        handle.write("\n")
    print(f"{len(package['resources'])} resources")


if __name__ == "__main__":
    main()
