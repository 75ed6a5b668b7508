"""The few things a Python user needs: named, typed, loaded when asked for, and as the page says."""

import doctest
import subprocess
import sys
from pathlib import Path

import pytest

import estimator
from estimator.api import Figures
from estimator.files.resources import DEMO_JOB, shipped
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job

ROOT = Path(__file__).parent.parent


def test_the_page_is_what_python_says(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    page = ROOT / "docs" / "python.md"
    found = doctest.testfile(str(page), module_relative=False, encoding="utf-8")
    assert found.attempted > 12
    assert found.failed == 0


def test_importing_loads_nothing() -> None:
    code = (
        "import sys; before = set(sys.modules); import estimator;"
        "print(*sorted(set(sys.modules) - before)); assert 'load' in dir(estimator);"
        "assert estimator.EstimateError.__name__ == 'EstimateError';"
        "assert 'estimator.model.plan' not in sys.modules"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["estimator"]


def test_every_name_is_there_and_says_what_it_is() -> None:
    for name in estimator.__all__:
        assert getattr(estimator, name).__doc__
    with pytest.raises(AttributeError, match="no attribute 'no_such'"):
        _ = estimator.no_such  # type: ignore[attr-defined]
    assert shipped().parent.joinpath("estimator", "py.typed").is_file()


def test_figures_are_those_of_the_ledger() -> None:
    job = read_job(DEMO_JOB)
    ledger, found = estimate(job), estimator.figures(job)
    assert isinstance(found, Figures)
    assert len(found) == len(list(found)) == len({*ledger.plan.cells, *ledger.plan.keyed})
    assert found["quote_net"] == ledger.cell("quote_net")
    assert found["weep_spacing"] == ledger.cell("weep_spacing")
    assert found.unit("weep_spacing") == "mm"
    with pytest.raises(KeyError):
        _ = found["quote"]
    with pytest.raises(estimator.EstimateError, match="column of zones: found 'area'"):
        found.column("zones", "area")
    with pytest.raises(estimator.EstimateError, match="list: found 'zone'"):
        found.column("zone", "net_area")


def test_a_figure_that_cannot_be_given_is_none() -> None:
    """Without a supplier nothing is covered, so there is no total."""
    job = read_job(DEMO_JOB)
    blank = estimator.figures(job.__class__(job.particulars, {**job.rows, "book": []}))
    assert blank["quote_total"] is None
