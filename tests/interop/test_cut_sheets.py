"""Plans for sheets against an exact model of another kind, solved by a general solver (HiGHS, through SciPy).

The model is the one of F. Furini, E. Malaguti and D. Thomopulos, “Modeling two-dimensional guillotine cutting problems
via integer programming”, INFORMS Journal on Computing 28 (2016): a variable for every cut of every plate that can
come about. Cuts are made only where sums of pieces reach (normal patterns: N. Christofides and C. Whitlock,
Operations Research 25, 1977), which loses nothing. It knows nothing of handfuls, corners or dual feasible functions.
"""

import json
import random
from functools import lru_cache

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_array

from conftest import baywright


def ways(blank):
    w, l = blank["width_mm"], blank["length_mm"]
    return {(w, l), (l, w)} if blank.get("turns") else {(w, l)}


def least_cost(problem):
    """The cost of the cheapest plan, proven by the solver; None when there is none."""
    kerf = problem["kerf_mm"]
    blanks, sheets = problem["blanks"], problem["sheets"]
    pieces = [b for b in blanks for _ in range(b["count"])]

    # A piece lies one way or the other, so either of its sides counts once.
    def reach(axis, most):
        reached = {0}
        for b in pieces:
            reached |= {r + w[axis] + (kerf if r else 0) for r in reached for w in ways(b)}
        return sorted(r for r in reached if 0 < r <= most)

    across = reach(0, max(s["width_mm"] for s in sheets))
    along = reach(1, max(s["length_mm"] for s in sheets))

    def smaller(marks, size):
        return max((m for m in marks if m <= size), default=0)

    @lru_cache(None)
    def plate(w, l):
        """A plate gives no more than the largest sums that fit into it."""
        return smaller(across, w), smaller(along, l)

    plates, cuts, todo = {}, [], []

    def number(p):
        if p not in plates:
            plates[p] = len(plates)
            todo.append(p)
        return plates[p]

    roots = [number(plate(s["width_mm"], s["length_mm"])) for s in sheets]
    gives = []
    while todo:
        p = todo.pop()
        w, l = p
        for i, b in enumerate(blanks):
            if any(a <= w and c <= l for a, c in ways(b)):
                gives.append((plates[p], i))
        for x in across:
            if x < w:
                parts = [plate(x, l), plate(w - x - kerf, l)]
                parts = [q for q in parts if q[0] and q[1]]
                cuts.append((plates[p], [number(q) for q in parts]))
        for y in along:
            if y < l:
                parts = [plate(w, y), plate(w, l - y - kerf)]
                parts = [q for q in parts if q[0] and q[1]]
                cuts.append((plates[p], [number(q) for q in parts]))
    n_sheets, n_cuts = len(sheets), len(cuts)
    size = n_sheets + n_cuts + len(gives)
    rows = lil_array((len(plates) + len(blanks), size))
    for k, root in enumerate(roots):
        rows[root, k] += 1
    for j, (of, parts) in enumerate(cuts):
        rows[of, n_sheets + j] -= 1
        for part in parts:
            rows[part, n_sheets + j] += 1
    for j, (of, blank) in enumerate(gives):
        rows[of, n_sheets + n_cuts + j] -= 1
        rows[len(plates) + blank, n_sheets + n_cuts + j] += 1
    least = np.concatenate([np.zeros(len(plates)), [b["count"] for b in blanks]])
    most = np.full(size, np.inf)
    for k, s in enumerate(sheets):
        if s.get("available") is not None:
            most[k] = s["available"]
    cost = np.zeros(size)
    cost[:n_sheets] = [s["price"] for s in sheets]
    done = milp(
        cost,
        integrality=np.ones(size),
        bounds=Bounds(0, most),
        constraints=LinearConstraint(rows.tocsr(), least, np.inf),
    )
    if done.status == 2:
        return None
    assert done.status == 0, done.message
    return done.fun


def plan_of(problem):
    done = baywright("saw", "--sheets", "-", "--json", input=json.dumps(problem).encode())
    assert done.returncode == 0, done.stderr.decode()
    return json.loads(done.stdout)


def parts(region, rects, kerf):
    """True when cuts that each go right across what is left can part the rectangles (x, y, w, l)."""
    x0, y0, w0, l0 = region
    if any(x < x0 or y < y0 or x + w > x0 + w0 or y + l > y0 + l0 for x, y, w, l in rects):
        return False
    if len(rects) < 2:
        return True
    for axis in (0, 1):
        for cut in {r[axis] + r[axis + 2] for r in rects}:
            low = [r for r in rects if r[axis] + r[axis + 2] <= cut]
            high = [r for r in rects if r[axis] + r[axis + 2] > cut]
            if high and all(r[axis] >= cut + kerf for r in high):
                first, second = list(region), list(region)
                first[axis + 2] = cut - region[axis]
                second[axis], second[axis + 2] = cut + kerf, region[axis] + region[axis + 2] - cut - kerf
                return parts(first, low, kerf) and parts(second, high, kerf)
    return False


def check(problem, plan):
    """Every piece as often as wanted, inside its sheet, parted by straight cuts."""
    given = [0] * len(problem["blanks"])
    cost = 0.0
    for sheet in plan["sheets"]:
        kind = problem["sheets"][sheet["sheet_index"]]
        cost += kind["price"] * sheet["count"]
        rects = []
        for p in sheet["pieces"]:
            given[p["blank_index"]] += sheet["count"]
            assert (p["width_mm"], p["length_mm"]) in ways(problem["blanks"][p["blank_index"]])
            rects.append((p["x_mm"], p["y_mm"], p["width_mm"], p["length_mm"]))
        whole = (0, 0, kind["width_mm"], kind["length_mm"])
        assert parts(whole, rects, problem["kerf_mm"]), (whole, rects)
    for left in plan["left_over"]:
        given[left["blank_index"]] += left["count"]
    assert given == [b["count"] for b in problem["blanks"]]
    assert cost == pytest.approx(plan["cost"])


def small_problem(seed):
    rng = random.Random(seed)
    count = rng.randint(2, 7)
    blanks = []
    while sum(b["count"] for b in blanks) < count:
        blanks.append(
            {
                "width_mm": rng.randint(3, 12),
                "length_mm": rng.randint(4, 22),
                "turns": rng.random() < 0.5,
                "count": rng.choice([1, 1, 1, 2]),
            }
        )
    sheets = [{"width_mm": 12, "length_mm": 24, "price": 12, "available": None}]
    if seed % 3 == 1:
        sheets.append({"width_mm": 12, "length_mm": 30, "price": 14, "available": None})
    if seed % 3 == 2:
        sheets.append({"width_mm": 9, "length_mm": 15, "price": 0, "available": 1})
    return {"name": f"seed {seed}", "kerf_mm": rng.choice([0, 0, 1]), "sheets": sheets, "blanks": blanks}


@pytest.mark.parametrize("seed", range(36))
def test_what_is_proven_is_the_optimum_of_the_general_solver(seed):
    problem = small_problem(seed)
    plan = plan_of(problem)
    check(problem, plan)
    best = least_cost(problem)
    assert best is not None
    assert plan["lower_bound"] <= best + 1e-6
    assert plan["cost"] >= best - 1e-6
    # So few pieces are always proven.
    assert plan["proven"] and plan["cost"] == pytest.approx(best)


@pytest.mark.parametrize("seed", range(100, 106))
def test_more_pieces_keep_within_the_bound(seed):
    rng = random.Random(seed)
    blanks = [
        {
            "width_mm": rng.randint(2, 12) * 100,
            "length_mm": rng.choice([800, 1200, 2390, 2390, 1990]),
            "turns": rng.random() < 0.3,
            "count": rng.randint(1, 5),
        }
        for _ in range(25)
    ]
    sheets = [{"width_mm": 1200, "length_mm": 2400, "price": 1, "available": None}]
    problem = {"name": "more", "kerf_mm": 3, "sheets": sheets, "blanks": blanks}
    plan = plan_of(problem)
    check(problem, plan)
    area = sum(b["width_mm"] * b["length_mm"] * b["count"] for b in blanks) / 1200 / 2400
    assert area <= plan["lower_bound"] <= plan["cost"] <= plan["lower_bound"] * 1.1 + 1


def test_a_mistake_in_the_problem_is_told_with_its_place():
    done = baywright("saw", "--sheets", "-", input=b'{"sheets": [],\n "blank": []}')
    assert done.returncode == 2
    assert done.stderr.decode().startswith("-:2:8: unknown field `blank`")
    done = baywright("saw", "--sheets", "-", input=b'{"sheets": [{"width_mm": 0, "length_mm": 9}], "blanks": []}')
    assert done.stderr.decode() == "-: sheets[0].width_mm: 0 is not between 0.1 and 100000\n"
    done = baywright("saw", "--sheets", "-", input=b'{"sheets": [{"width_mm": "9", "length_mm": 9}], "blanks": []}')
    assert "expected a number" in done.stderr.decode()
