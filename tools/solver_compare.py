"""Times our exact selection beside HiGHS and CP-SAT on the same instances, in one run.

    python3 -m venv .venv && .venv/bin/pip install -r tools/requirements-bench.txt
    .venv/bin/python tools/solver_compare.py [--limit 60] [--threads 1] [--runs 3] INSTANCE.json...

Every solver gets a process of its own, so that memory is that process's peak. Seconds are of
processor time, summed over threads, which another load on the machine disturbs little; ours
includes reading the instance, theirs does not include loading Python and the model. HiGHS and CP-SAT are given one linear model written here from the instance alone:
counts of classes instead of pairs of plants, heights as thresholds. Ours reads the same file
(`cargo bench --bench select`). Where two solvers claim proof, their values must agree, and the
script fails when they do not. Prints a table for people to read.
"""

import argparse
import json
import os
import pathlib
import statistics
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent


class Linear:
    """A linear model over bounded integers: maximise `gain`, rows `low <= sum <= high`."""

    def __init__(self):
        self.upper, self.gain, self.rows, self.whole = [], [], [], []

    def new(self, upper=1, gain=0, whole=True):
        self.upper.append(upper)
        self.gain.append(gain)
        self.whole.append(whole)
        return len(self.upper) - 1

    def row(self, terms, low=None, high=None):
        self.rows.append((terms, low, high))


def steps(model, count, gain_at, whole):
    """Variables "at least 1, at least 2, ..." in falling order, with what each adds."""
    made = [model.new(gain=gain_at(k), whole=whole) for k in range(1, count + 1)]
    for a, b in zip(made, made[1:]):
        model.row([(a, 1), (b, -1)], low=0)
    return made


def linear_model(given):
    model = Linear()
    zones, species = given["zones"], given["species"]
    picked = [{} for _ in zones]
    for i, s in enumerate(species):
        if given["region_only"] is None or s["r"] in given["region_only"]:
            for z, worth, _ in s["opts"]:
                picked[z][i] = model.new(gain=given["w_s"] * worth)
    plain_rows(model, given, picked)
    contrast(model, given, picked)
    kinship(model, given, picked)
    for near, far in given["behind"]:
        heights = sorted({species[i]["h"] for i in [*picked[near], *picked[far]]})
        above = {h: model.new() for h in heights}
        for low, high in zip(heights, heights[1:]):
            model.row([(above[low], 1), (above[high], -1)], low=0)
        below = dict(zip(heights[1:], heights))
        for i, x in picked[near].items():
            if species[i]["h"] in below:
                model.row([(x, 1), (above[below[species[i]["h"]]], -1)], high=0)
        for i, x in picked[far].items():
            model.row([(x, 1), (above[species[i]["h"]], 1)], high=1)
    return model


def plain_rows(model, given, picked):
    species = given["species"]
    everywhere = [[p[i] for p in picked if i in p] for i in range(len(species))]
    for i, places in enumerate(everywhere):
        if i in given["required"]:
            model.row([(x, 1) for x in places], low=1, high=1)
        elif len(places) > 1:
            model.row([(x, 1) for x in places], high=1)
    for a, b in given["excluded"]:
        model.row([(x, 1) for x in everywhere[a] + everywhere[b]], high=1)
    portions = {(i, z): k for i, s in enumerate(species) for z, _, k in s["opts"]}
    chosen = [(i, z, x) for z, p in enumerate(picked) for i, x in p.items()]
    model.row([(x, species[i]["p"] * portions[i, z]) for i, z, x in chosen], high=given["budget"])
    model.row([(x, species[i]["t"]) for i, _, x in chosen], high=given["trim"])
    part, whole = given["F"]
    model.row([(x, whole * species[i]["fast"] - part) for i, _, x in chosen], low=0)
    genera = {}
    for i, _, x in chosen:
        genera.setdefault(species[i]["g"], []).append(x)
    for members in genera.values():
        if len(members) > given["m"]:
            model.row([(x, 1) for x in members], high=given["m"])


def contrast(model, given, picked):
    """Pairs that differ = all pairs - pairs of one class, both from counts."""
    zones, species = given["zones"], given["species"]
    weight = {"tex": given["a"], "col": given["b"]}
    both = sum(weight.values())
    size = []
    for z, zone in enumerate(zones):
        size.append(steps(model, zone["kmax"], lambda k: both * (k - 1), True))
        model.row([(x, 1) for x in picked[z].values()] + [(u, -1) for u in size[z]], low=0, high=0)
        model.row([(u, 1) for u in size[z]], low=zone["kmin"])
    for a, b in given["adj"]:
        for u in size[a]:
            for v in size[b]:
                product = model.new(gain=both, whole=False)
                model.row([(product, 1), (u, -1)], high=0)
                model.row([(product, 1), (v, -1)], high=0)
    for kind, price in weight.items():
        for wanted in sorted({s[kind] for s in species}):
            count = []
            for z, zone in enumerate(zones):
                of = [x for i, x in picked[z].items() if species[i][kind] == wanted]
                made = steps(model, min(zone["kmax"], len(of)), lambda k: -price * (k - 1), True)
                model.row([(x, 1) for x in of] + [(u, -1) for u in made], low=0, high=0)
                count.append(made)
            for a, b in given["adj"]:
                for u in count[a]:
                    for v in count[b]:
                        product = model.new(gain=-price, whole=False)
                        model.row([(product, 1), (u, -1), (v, -1)], low=-1)


def kinship(model, given, picked):
    """At most two of a genus: a pair in one zone, or one in each of two touching zones."""
    assert given["m"] == 2
    by_genus = []
    for p in picked:
        genera = {}
        for i, x in p.items():
            genera.setdefault(given["species"][i]["g"], []).append(x)
        by_genus.append(genera)
    within = [{} for _ in picked]
    for z, genera in enumerate(by_genus):
        for g, members in genera.items():
            if len(members) > 1:
                within[z][g] = model.new(gain=-given["pen"], whole=False)
                model.row([(x, 1) for x in members] + [(within[z][g], -1)], high=1)
    for a, b in given["adj"]:
        for g in by_genus[a].keys() & by_genus[b].keys():
            across = model.new(gain=-given["pen"], whole=False)
            terms = [(x, 1) for x in by_genus[a][g] + by_genus[b][g]] + [(across, -1)]
            terms += [(within[z][g], -1) for z in (a, b) if g in within[z]]
            model.row(terms, high=1)


def highs(given, limit, threads):
    import highspy
    import numpy

    model = linear_model(given)
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("time_limit", limit)
    solver.setOptionValue("threads", threads)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.5)
    infinite = highspy.kHighsInf
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(model.upper), len(model.rows)
    lp.col_cost_ = numpy.array(model.gain, dtype=float)
    lp.col_lower_ = numpy.zeros(len(model.upper))
    lp.col_upper_ = numpy.array(model.upper, dtype=float)
    lp.row_lower_ = numpy.array([-infinite if low is None else low for _, low, _ in model.rows], dtype=float)
    lp.row_upper_ = numpy.array([infinite if high is None else high for *_, high in model.rows], dtype=float)
    lp.sense_ = highspy.ObjSense.kMaximize
    kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
    lp.integrality_ = [kinds[whole] for whole in model.whole]
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lengths = [len(terms) for terms, *_ in model.rows]
    lp.a_matrix_.start_ = numpy.concatenate(([0], numpy.cumsum(lengths))).astype(numpy.int32)
    lp.a_matrix_.index_ = numpy.array([v for terms, *_ in model.rows for v, _ in terms], dtype=numpy.int32)
    lp.a_matrix_.value_ = numpy.array([c for terms, *_ in model.rows for _, c in terms], dtype=float)
    solver.passModel(lp)
    start = time.process_time()
    solver.run()
    seconds = time.process_time() - start
    status = solver.getModelStatus()
    info = solver.getInfo()
    if status == highspy.HighsModelStatus.kOptimal:
        return {"proof": "optimal", "value": round(info.objective_function_value), "seconds": seconds}
    if status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible):
        return {"proof": "impossible", "value": None, "seconds": seconds}
    found = info.primal_solution_status == 2
    value = round(info.objective_function_value) if found else None
    return {"proof": "none", "value": value, "bound": int(info.mip_dual_bound + 0.5), "seconds": seconds}


def cpsat(given, limit, threads):
    from ortools.sat.python import cp_model

    model = linear_model(given)
    program = cp_model.CpModel()
    made = [program.new_int_var(0, upper, "") for upper in model.upper]
    for terms, low, high in model.rows:
        total = sum(c * made[v] for v, c in terms)
        if low is not None and low == high:
            program.add(total == low)
            continue
        if low is not None:
            program.add(total >= low)
        if high is not None:
            program.add(total <= high)
    program.maximize(sum(g * made[v] for v, g in enumerate(model.gain) if g))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = limit
    solver.parameters.num_workers = threads
    start = time.process_time()
    status = solver.solve(program)
    seconds = time.process_time() - start
    if status == cp_model.OPTIMAL:
        return {"proof": "optimal", "value": round(solver.objective_value), "seconds": seconds}
    if status == cp_model.INFEASIBLE:
        return {"proof": "impossible", "value": None, "seconds": seconds}
    value = round(solver.objective_value) if status == cp_model.FEASIBLE else None
    return {"proof": "none", "value": value, "bound": int(solver.best_objective_bound), "seconds": seconds}


def measured(command):
    """Runs a process; its last line of JSON, with its peak memory in MB."""
    process = subprocess.Popen(command, stdout=subprocess.PIPE, cwd=ROOT)
    text = process.stdout.read().decode()
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        raise SystemExit(f"{command} failed")
    result = json.loads(text.strip().splitlines()[-1])
    result["memory"] = usage.ru_maxrss / 1024
    result["processor"] = usage.ru_utime + usage.ru_stime
    return result


def bench_binary():
    """The benchmark, built; the path of its executable."""
    command = ["cargo", "bench", "--bench", "select", "--no-run", "--message-format", "json"]
    text = subprocess.run(command, cwd=ROOT, stdout=subprocess.PIPE, check=True).stdout.decode()
    made = [json.loads(line) for line in text.splitlines() if line.startswith("{")]
    paths = [m["executable"] for m in made if m.get("target", {}).get("name") == "select" and m.get("executable")]
    return paths[-1]


def cell(result):
    seconds = f"{result['seconds']:.3f} s" if result["seconds"] < 1 else f"{result['seconds']:.1f} s"
    if result["proof"] == "none":
        value = result["value"]
        gap = "nothing" if value is None else f"{100 * (result['bound'] - value) / value:.1f} % gap"
        seconds = f"{gap} in {seconds}"
    return f"{seconds}, {result['memory']:.0f} MB"


def compare(path, binary, given):
    runs = {
        "Quillwort": [binary, "--json", "--limit", str(given.limit), str(path)],
        "HiGHS": [sys.executable, __file__, "--one", "highs", str(path)],
        "CP-SAT": [sys.executable, __file__, "--one", "cpsat", str(path)],
    }
    if given.only_ours:
        runs = {"Quillwort": runs["Quillwort"]}
    results = {}
    for name, command in runs.items():
        if name != "Quillwort":
            command += ["--limit", str(given.limit), "--threads", str(given.threads)]
        times = [measured(command) for _ in range(given.runs if name == "Quillwort" else 1)]
        # Ours reads no clock of the processor; its whole process is counted.
        kind = "processor" if name == "Quillwort" else "seconds"
        results[name] = {**times[-1], "seconds": statistics.median(t[kind] for t in times)}
    proven = {(r["proof"], r["value"]) for r in results.values() if r["proof"] != "none"}
    if len(proven) > 1:
        raise SystemExit(f"{path}: the solvers disagree: {results}")
    best = max((r["value"] for r in results.values() if r["value"] is not None), default=None)
    value = "impossible" if ("impossible", None) in proven else best
    print(f"| {path.stem} | {value} | {' | '.join(cell(r) for r in results.values())} |", flush=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("instances", nargs="+", type=pathlib.Path)
    parser.add_argument("--limit", type=float, default=60.0, help="seconds on the wall each solver may take (60)")
    parser.add_argument("--threads", type=int, default=1, help="threads of HiGHS and CP-SAT (1, as ours)")
    parser.add_argument("--runs", type=int, default=3, help="runs of ours, of which the median is shown (3)")
    parser.add_argument("--only-ours", action="store_true", help="leave HiGHS and CP-SAT out")
    parser.add_argument("--binary", help="the benchmark, already built")
    parser.add_argument("--one", choices=["highs", "cpsat"], help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.one:
        solve = {"highs": highs, "cpsat": cpsat}[given.one]
        instance = json.loads(given.instances[0].read_text(encoding="utf-8"))
        print(json.dumps(solve(instance, given.limit, given.threads)))
        return
    binary = given.binary or bench_binary()
    names = ["Quillwort"] if given.only_ours else ["Quillwort", "HiGHS", "CP-SAT"]
    print(f"| Instance | Optimum | {' | '.join(names)} |")
    print("|---|---|" + "---|" * len(names))
    for path in given.instances:
        compare(path.resolve(), binary, given)


if __name__ == "__main__":
    main()
