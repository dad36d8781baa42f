"""The measured room against a general least-squares library (SciPy's least_squares), which knows nothing
of rooms: the same measurements, the same weights, the same corner held, to 0.01 mm."""

import json
import math
import random

import numpy as np
import pytest
from scipy.optimize import least_squares

from conftest import baywright

NEAR = 0.01

# The rooms as they are before the tape errs: corners anticlockwise, millimetres.
ROOMS = {
    "square": [(0, 0), (3000, 0), (3000, 3000), (0, 3000)],
    "three-four-five": [(0, 0), (4000, 0), (4000, 3000), (0, 3000)],
    "long": [(0, 0), (9200, 0), (9200, 1450), (0, 1450)],
    "triangle": [(0, 0), (5200, 300), (1800, 3900)],
    "out-of-square": [(0, 0), (4530, 0), (4655, 3340), (-90, 3415)],
    "L": [(0, 0), (5000, 0), (5000, 2000), (3000, 2000), (3000, 4000), (0, 4000)],
    "T": [(0, 0), (1500, 0), (1500, 2500), (3800, 2500), (3800, 4200), (-2000, 4200), (-2000, 2500), (0, 2500)],
    "bay": [(0, 0), (4000, 0), (4000, 3000), (2800, 3000), (2600, 3600), (1400, 3600), (1200, 3000), (0, 3000)],
    "six-sides": [(0, 0), (3500, -700), (6100, 900), (5900, 4100), (2900, 5200), (-600, 3600)],
    "nine-sides": [(round(3900 * math.cos(k * math.tau / 9 + 0.1 * (k % 3))), round(3300 * math.sin(k * math.tau / 9 + 0.1 * (k % 3)))) for k in range(9)],
    "chimney-breast": [(0, 0), (5000, 0), (5000, 4000), (3200, 4000), (3200, 3550), (1700, 3550), (1700, 4000), (0, 4000)],
    "splayed": [(0, 0), (4200, 0), (4200, 2600), (3300, 3500), (0, 3500)],
}


def left_of(a, b):
    u = (b - a) / np.linalg.norm(b - a)
    return np.array([-u[1], u[0]])


def computed(row, p):
    kind, corners = row["kind"], [p[i] for i in row["at"]]
    if kind == "between":
        return np.linalg.norm(corners[1] - corners[0])
    if kind == "offset":
        c, a, b = corners
        return float(left_of(a, b) @ (c - a)) * (1 if row["side"] == "Left" else -1)
    before, at, after = corners
    u, v = before - at, after - at
    return -1000.0 * float(u @ v) / (np.linalg.norm(u) * np.linalg.norm(v))


def measure(room, chance):
    """Rows as a tape would give them: every distance but a few, two offsets, a corner taken as square."""
    n = len(room)
    p = np.array(room, dtype=float)
    rows = []
    for a in range(n):
        for b in range(a + 1, n):
            side = b - a == 1 or (a == 0 and b == n - 1)
            if side or chance.random() < 0.8:
                rows.append({"kind": "between", "at": [a, b], "error": chance.choice([2.0, 3.0, 3.0, 5.0])})
    for _ in range(2):
        c, a, b = chance.sample(range(n), 3)
        off = float(left_of(p[a], p[b]) @ (p[c] - p[a]))
        if abs(off) > 100:
            rows.append({"kind": "offset", "at": [c, a, b], "side": "Left" if off > 0 else "Right", "error": 4.0})
    for i in range(n):
        row = {"kind": "square", "at": [(i - 1) % n, i, (i + 1) % n], "error": 6.0}
        if abs(computed(row, p)) < 1:
            rows.append(row)
            break
    for row in rows:
        row["value"] = 0.0 if row["kind"] == "square" else round(computed(row, p) + chance.gauss(0, row["error"]), 1)
    return rows


def job(room, rows):
    """A job file with the corners drawn up to 80 mm off, the first and the direction of its side excepted."""
    chance = random.Random(5)
    drawn = [room[0], room[1]] + [(x + chance.uniform(-80, 80), y + chance.uniform(-80, 80)) for x, y in room[2:]]
    outline = ", ".join(f"(at: ({x}, {y}), thickness: 140)" for x, y in drawn)
    lines = []
    for row in rows:
        names = [f'"{i + 1}"' for i in row["at"]]
        if row["kind"] == "between":
            what = f"Between(from: {names[0]}, to: {names[1]})"
        elif row["kind"] == "offset":
            what = f"Offset(corner: {names[0]}, from: {names[1]}, to: {names[2]}, side: {row['side']})"
        else:
            what = f"Square(corner: {names[1]})"
        value = "" if row["kind"] == "square" else f", value: {row['value']}"
        lines.append(f"(what: {what}{value}, error: {row['error']})")
    corners = ", ".join(f'"{i + 1}"' for i in range(len(room)))
    survey = f"(corners: [{corners}], rows: [{', '.join(lines)}])"
    datum = f'datum: (at: ({room[0][0]}, {room[0][1]}), label: "corner 1")'
    return f'(version: 1, title: "Measured", {datum}, shell: (outline: [{outline}], survey: {survey}))'


def by_library(room, rows):
    """Corners by the library: the first held, the second kept in the direction of the first side."""
    start = np.array(room, dtype=float)
    u = (start[1] - start[0]) / np.linalg.norm(start[1] - start[0])

    def corners(x):
        p = np.empty_like(start)
        p[0] = start[0]
        p[1] = start[0] + u * x[0]
        p[2:] = x[1:].reshape(-1, 2)
        return p

    def left(x):
        p = corners(x)
        return [(row["value"] - computed(row, p)) / row["error"] for row in rows]

    x0 = np.concatenate([[np.linalg.norm(start[1] - start[0])], start[2:].ravel()])
    done = least_squares(left, x0, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    # Covariance as the library's Jacobian has it, and from that each measurement's redundancy.
    hat = done.jac @ np.linalg.pinv(done.jac)
    return corners(done.x), np.array(done.fun), 1.0 - np.diag(hat)


def solved(text):
    done = baywright("survey", "-", "--json", input=text.encode())
    assert done.returncode == 0, done.stderr.decode()
    return json.loads(done.stdout)


@pytest.mark.parametrize("name", ROOMS)
def test_corners_and_residuals_are_those_of_the_library(name):
    rows = measure(ROOMS[name], random.Random(name))
    answer = solved(job(ROOMS[name], rows))
    assert (answer["format"], answer["version"]) == ("baywright-survey", 1)
    assert answer["held"] == "1" and answer["freedom"] == 0
    corners, left, redundancy = by_library(ROOMS[name], rows)
    found = np.array([c["at_mm"] for c in answer["corners"]])
    assert np.abs(found - corners).max() < NEAR
    for row, entry, out, checked in zip(rows, answer["measurements"], left, redundancy, strict=True):
        unit = "mm_per_m" if row["kind"] == "square" else "mm"
        assert entry[f"residual_{unit}"] == pytest.approx(out * row["error"], abs=NEAR)
        assert entry["checked"] == pytest.approx(checked, abs=0.005)
        if checked > 0.01:
            assert entry["standardised"] == pytest.approx(out / math.sqrt(checked), abs=0.01, rel=0.01)


def test_a_gross_error_is_named():
    rows = measure(ROOMS["six-sides"], random.Random(3))
    wrong = 4
    rows[wrong]["value"] += 50
    answer = solved(job(ROOMS["six-sides"], rows))
    assert answer["closes"] is False and answer["suspect"] == wrong
    assert answer["measurements"][wrong]["others_mm"] == pytest.approx(rows[wrong]["value"] - 50, abs=15)


def test_four_sides_want_a_diagonal():
    room = ROOMS["three-four-five"]
    rows = [
        {"kind": "between", "at": [a, (a + 1) % 4], "error": 3.0, "value": v}
        for a, v in enumerate([4000, 3000, 4000, 3000])
    ]
    answer = solved(job(room, rows))
    assert answer["freedom"] == 1
    first = answer["measure_next"][0]
    assert first["what"] == "diagonal" and first["corners"] in (["1", "3"], ["2", "4"])
    assert answer["suspect"] is None


def crossing(point, a, b):
    u, v = np.array(a) - point, np.array(b) - point
    cos = abs(float(u @ v)) / (np.linalg.norm(u) * np.linalg.norm(v))
    return math.degrees(math.acos(min(cos, 1.0)))


def test_two_tapes_cross_as_squarely_as_any_and_three_four_five_is_pythagoras():
    room = ROOMS["splayed"]
    nodes = {"1": (1200.0, 1600.0), "2": (3000.0, 0.0), "3": (4200.0, 1000.0)}
    outline = ", ".join(f"(at: ({x}, {y}), thickness: 140)" for x, y in room)
    points = ", ".join(f'(name: "{n}", at: ({x}, {y}))' for n, (x, y) in nodes.items())
    text = f'(version: 1, title: "Drawn only", shell: (outline: [{outline}]), nodes: [{points}])'
    answer = solved(text)
    drawn = {c["name"]: c["at_mm"] for c in answer["corners"]}
    pairs = [(a, b) for a in drawn for b in drawn if a < b]
    for node in answer["nodes"]:
        point = np.array(nodes[node["name"]])
        a, b = node["from"]
        for corner, tape in zip(node["from"], node["tapes_mm"], strict=True):
            assert tape == pytest.approx(np.linalg.norm(np.array(drawn[corner]) - point), abs=NEAR)
        assert node["crossing_deg"] == pytest.approx(crossing(point, drawn[a], drawn[b]), abs=0.01)
        best = max(crossing(point, drawn[c], drawn[d]) for c, d in pairs)
        assert node["crossing_deg"] == pytest.approx(best, abs=0.01)
    for corner in answer["corners"]:
        a, b, c = corner["three_four_five_mm"]
        assert a * a + b * b == pytest.approx(c * c) and c % 500 == 0
    for diagonal in answer["diagonals"]:
        a, b = (drawn[name] for name in diagonal["between"])
        assert diagonal["length_mm"] == pytest.approx(math.dist(a, b), abs=NEAR)
