"""Runs the program as anyone would, and hands its answers to independent readers."""

import json
import os
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = Path(os.environ.get("BAYWRIGHT", ROOT / "target" / "debug" / "baywright"))
JOBS = sorted((ROOT / "assets" / "jobs").glob("*.ron"))
FOUR_METRES = ROOT / "assets" / "jobs" / "one-wall-with-door.ron"


def baywright(*arguments, **options):
    """Runs the program; gives what it said and how it ended."""
    return subprocess.run(
        [str(PROGRAM), *map(str, arguments)],
        capture_output=True,
        timeout=120,
        check=False,
        **options,
    )


def tool(*arguments):
    """Runs a reader that must be there; gives its output."""
    done = subprocess.run(arguments, capture_output=True, timeout=120, check=False)
    assert done.returncode == 0, f"{arguments[0]}: {done.stdout.decode()} {done.stderr.decode()}"
    return done.stdout


@pytest.fixture(scope="session", params=JOBS, ids=lambda p: p.stem)
def job(request):
    return request.param


@pytest.fixture(scope="session")
def schedule(job):
    done = baywright("schedule", job, "--json")
    assert done.returncode == 0, done.stderr.decode()
    return json.loads(done.stdout)


@pytest.fixture(scope="session")
def prints(job, tmp_path_factory):
    """The folder with the print set of a job, on A4 as PDF and SVG."""
    folder = tmp_path_factory.mktemp("prints") / "set"
    done = baywright("sheets", job, "-o", folder, "--paper", "a4", "--as", "pdf,svg")
    assert done.returncode == 0, done.stderr.decode()
    return folder
