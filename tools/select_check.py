#!/usr/bin/env python3
"""Solves exported selection models with HiGHS and holds our answers against it.

    tools/select_check.py FOLDER...

Every NAME.mps in the folders has a NAME.sol beside it (`fill --write-model`, `--write-solution`,
and the test `select_export`). For each pair:

  * HiGHS solves the model to optimality, and finds the value that our proof claims, or that there
    is no list where we say so;
  * with the columns of our list fixed, the model is feasible, and worth what we say.

Nothing is read but the two files.
"""

import sys
import time
from pathlib import Path

import highspy

FEWEST_MODELS = 30
SECONDS_A_MODEL = 600.0


def read_answer(path):
    """The lines of a solution file: facts by word, and the columns that are 1."""
    facts, chosen = {}, set()
    for line in path.read_text(encoding="utf-8").splitlines():
        words = line.split()
        if line.startswith("# ") and len(words) == 3:
            facts[words[1]] = words[2]
        elif words and not line.startswith("#"):
            chosen.add(words[0])
    return facts, chosen


def open_model(path):
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.5)
    solver.setOptionValue("time_limit", SECONDS_A_MODEL)
    status = solver.readModel(str(path))
    if status == highspy.HighsStatus.kError:
        raise ValueError("HiGHS cannot read the model")
    return solver


def value_of(solver):
    """The value of a list: the model minimises it taken negative."""
    return round(-solver.getInfo().objective_function_value)


def infeasible(status):
    kinds = highspy.HighsModelStatus
    return status in (kinds.kInfeasible, kinds.kUnboundedOrInfeasible)


def check(path):
    """What is wrong with a pair of files, as a list of sentences."""
    facts, chosen = read_answer(path.with_suffix(".sol"))
    solver = open_model(path)
    solver.run()
    status = solver.getModelStatus()
    ours = facts.get("status")
    if infeasible(status):
        return [] if ours == "impossible" else [f"HiGHS says impossible, we say {ours}"]
    if status != highspy.HighsModelStatus.kOptimal:
        return [f"HiGHS ends with {solver.modelStatusToString(status)}"]
    if ours != "optimal":
        return [f"HiGHS finds {value_of(solver)}, we say {ours}"]
    wrong = []
    if value_of(solver) != int(facts["value"]):
        wrong.append(f"HiGHS proves {value_of(solver)}, we prove {facts['value']}")
    again = open_model(path)
    names = list(again.getLp().col_names_)
    unknown = chosen - set(names)
    if unknown:
        wrong.append(f"our list names columns that the model has not: {sorted(unknown)}")
    for index, name in enumerate(names):
        if name.startswith("x."):
            value = 1.0 if name in chosen else 0.0
            again.changeColBounds(index, value, value)
    again.run()
    if again.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        wrong.append("our list is not feasible in the model")
    elif value_of(again) != int(facts["value"]):
        wrong.append(f"our list is worth {value_of(again)} in the model, we say {facts['value']}")
    return wrong


def main(folders):
    paths = sorted(path for folder in folders for path in Path(folder).glob("*.mps"))
    failures = 0
    possible = 0
    started = time.monotonic()
    for path in paths:
        begun = time.monotonic()
        wrong = check(path)
        facts, _ = read_answer(path.with_suffix(".sol"))
        possible += facts.get("status") == "optimal"
        said = facts.get("value", facts.get("status"))
        print(f"  {path.stem}: {said}, {'; '.join(wrong) or 'confirmed'} ({time.monotonic() - begun:.1f} s)")
        failures += bool(wrong)
    print(f"{len(paths)} models, {possible} with a list, {len(paths) - possible} without, "
          f"{failures} wrong, {time.monotonic() - started:.0f} s")
    if len(paths) < FEWEST_MODELS:
        print(f"at least {FEWEST_MODELS} models are expected", file=sys.stderr)
        return 1
    return 1 if failures else 0


if __name__ == "__main__":
    if len(sys.argv) < 2:
        print(__doc__, file=sys.stderr)
        sys.exit(2)
    sys.exit(main(sys.argv[1:]))
