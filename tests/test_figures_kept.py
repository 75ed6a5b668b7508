"""No figure and no text of the demo jobs and the random jobs moves without a record of it."""

import pytest

from .conftest import in_turn
from .figures_kept import DEMOS, JOBS, KEPT, digest, names

LINES = dict(line.split(": ", 1) for line in KEPT.read_text("utf-8").splitlines())


def test_every_job_is_kept() -> None:
    assert list(LINES) == names()
    assert sum("no total" not in line for line in LINES.values()) >= 170


@pytest.mark.parametrize("name", [*DEMOS, *(f"job {seed}" for seed in in_turn(range(JOBS), 20))])
def test_nothing_moved(name: str) -> None:
    assert digest(name) == f"{name}: {LINES[name]}", "a figure moved: see tests/figures_kept.py"
