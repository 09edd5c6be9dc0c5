"""Whether a claim agrees with the value in plants.csv.

The same rule as `Claim::agrees_with` in src/catalogue/evidence.rs, written a second time so
that the two can be held against each other: ranges agree when they overlap, lists when ours
has all that is claimed, words when they are equal; indices of the field do not compare.
"""

ENVELOPES = {
    ("temperature", "degC"): ("tempAbsMinC", "tempAbsMaxC"),
    ("ph", "pH"): ("phAbsMin", "phAbsMax"),
    ("gh", "dGH"): ("ghAbsMinDgh", "ghAbsMaxDgh"),
    ("kh", "dKH"): ("khAbsMinDkh", "khAbsMaxDkh"),
    ("height", "cm"): ("heightMinCm", "heightMaxCm"),
    ("light", "umol/m2/s"): ("ppfdMin", "ppfdMax"),
    ("co2", "mg/L"): ("co2MinMgL", "co2OptMgL"),
    ("growth", "1/d"): ("growthPerDay", "growthPerDay"),
}
WORDS = {
    "acceptedName": "scientificName",
    "family": "family",
    "carbonUse": "carbonUse",
    "growthForm": "growthForm",
    "emersed": "emersed",
    "feeding": "feeding",
}
LISTS = {"native": "native", "hazard": "hazard", "placement": "placement"}


def span(statement):
    """The two ends of `a..b` or of a single number; nothing when it is not a number."""
    low, _, high = statement.partition("..")
    try:
        return float(low), float(high or low)
    except ValueError:
        return None


def agrees(claim, plant):
    """True, False, or None when the two cannot be compared by rule."""
    trait, unit, statement = claim["trait"], claim["unit"], claim["statement"]
    if trait in WORDS and not unit:
        return statement == plant[WORDS[trait]]
    if trait in LISTS and not unit:
        return set(statement.split(";")) <= set(plant[LISTS[trait]].split(";"))
    if (trait, unit) == ("native", "wgsrpd-1"):
        return set(statement.split(";")) <= {code[0] for code in plant["native"].split(";")}
    columns = ENVELOPES.get((trait, unit))
    ends = span(statement)
    if columns is None or ends is None:
        return None
    low, high = (float(plant[column]) for column in columns)
    return ends[0] <= high and ends[1] >= low
