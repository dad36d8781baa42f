"""Plans for bars against two general solvers on a model of another kind: HiGHS (through SciPy) and CP-SAT.

The model is the arc-flow of J. M. Valério de Carvalho, “Exact solution of bin-packing problems using column generation and
branch-and-bound”, Annals of Operations Research 86 (1999): a bar is a path from 0 along pieces, every step along a bar a whole number.
It knows nothing of patterns, cuts on counts or dives.

`python test_cutting.py FILE …` times program and solvers on problems of one's own.
"""

import json
import math
import random
import sys
import time
from pathlib import Path

import numpy as np
import pytest
from ortools.sat.python import cp_model
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_array

from conftest import ROOT, baywright

CUTTING = ROOT / "tests" / "cutting"


def plan_of(problem, *more):
    done = baywright("saw", "--pieces", "-", "--json", *more, input=json.dumps(problem).encode())
    assert done.returncode == 0, done.stderr.decode()
    return json.loads(done.stdout)


def check(problem, plan):
    """Every piece exactly as often as asked, on bars there are, within their length; the cost adds up."""
    given, used, cost = {}, {}, 0
    for bar in plan["bars"]:
        line = problem["stock"][bar["stock_index"]]
        cuts = bar["cuts_mm"]
        assert bar["count"] > 0 and cuts and bar["stock_length_mm"] == line["length_mm"]
        taken = sum(cuts) + (len(cuts) - 1) * problem["kerf_mm"] + problem.get("trim_mm", 0)
        assert taken <= line["length_mm"], bar
        used[bar["stock_index"]] = used.get(bar["stock_index"], 0) + bar["count"]
        cost += bar["count"] * line["price"]
        for length in cuts:
            given[length] = given.get(length, 0) + bar["count"]
    wanted = {}
    for p in problem["pieces"]:
        if p["count"]:
            wanted[p["length_mm"]] = wanted.get(p["length_mm"], 0) + p["count"]
    assert given == wanted
    for index, n in used.items():
        most = problem["stock"][index].get("available")
        assert most is None or n <= most
    assert cost == plan["cost"] >= plan["lower_bound"]
    assert plan["proven"] == (plan["cost"] == plan["lower_bound"])


def arcs(problem):
    """Rows (what flows in is what flows out; pieces wanted), costs and most of each variable of the model."""
    kerf = problem["kerf_mm"]
    pieces = [(p["length_mm"] + kerf, p["count"]) for p in problem["pieces"] if p["count"]]
    step = math.gcd(*(w for w, _ in pieces))
    pieces = sorted(((w // step, n) for w, n in pieces), reverse=True)
    rooms = [(s["length_mm"] + kerf - problem.get("trim_mm", 0)) // step for s in problem["stock"]]
    longest = max(rooms)
    # Longest pieces first along a bar, so a piece begins only where longer ones and itself can reach.
    reached, steps = {0}, []
    for i, (w, n) in enumerate(pieces):
        for _ in range(min(n, longest // w)):
            begins = [a for a in sorted(reached) if a + w <= longest]
            steps += [(a, a + w, i) for a in begins]
            new = {a + w for a in begins} - reached
            reached |= new
            if not new:
                break
    steps = sorted(set(steps))
    nodes = sorted(reached)
    place = {a: k for k, a in enumerate(nodes)}
    total = sum(n for _, n in pieces)
    flows = [(place[a], place[b], i) for a, b, i in steps] + [(k, k + 1, None) for k in range(len(nodes) - 1)]
    ends = [max(k for k, a in enumerate(nodes) if a <= max(room, 0)) for room in rooms]
    rows = lil_array((len(nodes) + len(pieces), len(flows) + len(rooms)))
    for v, (a, b, i) in enumerate(flows):
        rows[a, v] -= 1
        rows[b, v] += 1
        if i is not None:
            rows[len(nodes) + i, v] += 1
    for j, end in enumerate(ends):
        rows[0, len(flows) + j] += 1
        rows[end, len(flows) + j] -= 1
    wanted = np.array([0] * len(nodes) + [n for _, n in pieces])
    most = [total] * len(flows)
    for s, room in zip(problem["stock"], rooms):
        there = total if s.get("available") is None else min(total, s["available"])
        most.append(there if room > 0 else 0)
    cost = np.array([0] * len(flows) + [s["price"] for s in problem["stock"]])
    # A piece more than wanted may come off a bar; what flows must go on.
    upper = np.array([0.0] * len(nodes) + [np.inf] * len(pieces))
    return rows.tocsr(), wanted, upper, cost, np.array(most)


def by_highs(problem, seconds=20):
    """(what it found, whether that is proven); None found when it is proven that there is no plan."""
    rows, least, upper, cost, most = arcs(problem)
    done = milp(
        cost,
        integrality=np.ones(len(cost)),
        bounds=Bounds(0, most),
        constraints=LinearConstraint(rows, least, upper),
        options={"time_limit": seconds, "mip_rel_gap": 0},
    )
    if done.status == 2:
        return None, True
    return (None if done.x is None else round(done.fun)), done.status == 0


def by_cp_sat(problem, seconds=20):
    rows, least, upper, cost, most = arcs(problem)
    model = cp_model.CpModel()
    flow = [model.new_int_var(0, int(n), "") for n in most]
    for r in range(rows.shape[0]):
        at = slice(rows.indptr[r], rows.indptr[r + 1])
        sum_ = sum(int(c) * flow[v] for c, v in zip(rows.data[at], rows.indices[at]))
        model.add(sum_ == int(least[r])) if upper[r] == 0 else model.add(sum_ >= int(least[r]))
    model.minimize(sum(int(c) * f for c, f in zip(cost, flow) if c))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None, True
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return (round(solver.objective_value) if found else None), status == cp_model.OPTIMAL


def small_problem(seed):
    rng = random.Random(seed)
    stock = []
    for length in rng.sample(range(80, 200, 5), rng.randint(1, 4)):
        price = rng.choice([length, 100, round(length * rng.uniform(0.9, 1.1)), rng.randint(50, 200)])
        stock.append({"length_mm": length, "price": price, "available": None})
    if seed % 3 == 0:
        stock.append({"length_mm": rng.randint(30, 80), "price": 0, "available": rng.randint(1, 2)})
    if seed % 4 == 0:
        stock[0]["available"] = rng.randint(1, 8)
    longest = max(s["length_mm"] for s in stock)
    lengths = [rng.randint(longest // 12 + 1, longest - 2) for _ in range(rng.randint(1, 7))]
    pieces = [{"length_mm": length, "count": rng.randint(1, 9)} for length in lengths]
    problem = {"name": f"seed {seed}", "kerf_mm": rng.choice([0, 0, 1, 3]), "stock": stock, "pieces": pieces}
    if seed % 5 == 0:
        problem["trim_mm"] = 2
    return problem


@pytest.mark.parametrize("solver", [by_highs, by_cp_sat])
@pytest.mark.parametrize("seed", range(30))
def test_what_is_proven_is_the_optimum_of_the_general_solver(seed, solver):
    problem = small_problem(seed)
    best, proven = solver(problem)
    done = baywright("saw", "--pieces", "-", "--json", input=json.dumps(problem).encode())
    if done.returncode:
        assert done.returncode == 2 and b"the bars run out" in done.stderr
        assert best is None
        return
    plan = json.loads(done.stdout)
    check(problem, plan)
    assert plan["proven"]
    assert best is None or plan["cost"] <= best
    if proven:
        assert plan["cost"] == best


@pytest.mark.parametrize("path", sorted(CUTTING.glob("*.json")), ids=lambda p: p.stem)
def test_problems_with_a_known_answer(path):
    problem = json.loads(path.read_text())
    plan = plan_of(problem)
    check(problem, plan)
    assert plan["cost"] == problem["optimum_cost"]
    assert plan["proven"], plan["gap_percent"]


@pytest.mark.parametrize("name, solver", [("mill73", by_highs), ("mill73", by_cp_sat), ("c01-small", by_cp_sat)])
def test_the_general_solver_says_the_same_of_a_known_answer(name, solver):
    problem = json.loads((CUTTING / f"{name}.json").read_text())
    assert solver(problem) == (problem["optimum_cost"], True)


def main():
    """Seconds of the program and of each solver, for every file named."""
    for file in sys.argv[1:]:
        problem = json.loads(Path(file).read_text())
        plan = plan_of(problem)
        line = f"{plan['name']:12} {plan['cost']} {'proven' if plan['proven'] else 'open'} {plan['seconds']:.4f} s"
        for solver in (by_highs, by_cp_sat):
            begin = time.process_time()
            found, proven = solver(problem, 30)
            seconds = time.process_time() - begin
            line += f"  {solver.__name__} {found} {'proven' if proven else 'open'} {seconds:.1f} s"
            line += f" ({seconds / plan['seconds']:.0f} times)"
        print(line, flush=True)


if __name__ == "__main__":
    main()
