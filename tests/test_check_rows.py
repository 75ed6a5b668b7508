"""A check names the rows it speaks of: which wall, opening, zone or product, the worst first."""

from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.checks import DESIGNERS, NOT_GIVEN, SHORT
from estimator.cli.main import main
from estimator.cli.reading import rows_in_words
from estimator.files.resources import DEMO_JOB
from estimator.model import reports
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import STOCK, bare_job, edge, opening, product, wall, zone
from .test_checks import SPEC, STATES, job_of

HERE = Path(__file__).parent
# One figure for the whole job, or a question about the site: no row can be named.
OF_THE_JOB = frozenset(
    {
        "dpm_lap",
        "dpc_lap",
        "tray_rise",
        "past_closer",
        "past_opening",
        "past_lintel",
        "hardcore_layers",
        "old_dpc_height",
    }
    | {"gas", "radon"}
)
EVERY_STATE = [
    *STATES,
    *(
        s
        for p in sorted(HERE.glob("test_checks_*.py"))
        for s in import_module(f".{p.stem}", __package__).STATES
    ),
]


def spoken_of(job: Job, check: str) -> tuple[str, list[str]]:
    found = {r["check"]: r for r in reports.checks(estimate(job))}[check]
    return found["list"], found["rows"]


@pytest.mark.parametrize(("check", "state", "job"), EVERY_STATE)
def test_what_asks_something_says_of_which_row(check: str, state: str, job: Job) -> None:
    listed, names = spoken_of(job, check)
    asks = state in (SHORT, NOT_GIVEN, DESIGNERS)
    assert bool(names) == bool(listed) == (asks and check not in OF_THE_JOB)


def walls(*heights: float | None, **given: Any) -> Job:
    rows = [wall(f"W{n}", 5, dpc_height=h, **given) for n, h in enumerate(heights, 1)]
    return bare_job(walls=rows)


def by_specification(job: Job) -> Job:
    """The same job by the basis that states no height."""
    return replace(job, particulars={**job.particulars, **SPEC})


def doors(*kinds: str, **given: Any) -> Job:
    rows = [opening(f"O{n}", "W1", kind=k, **given) for n, k in enumerate(kinds, 1)]
    return bare_job(walls=[wall("W1", 30)], openings=rows)


def sheets(*thick: float) -> list[dict[str, Any]]:
    """Rolls of sheet, the first the cheapest, so that it is bought."""
    rolls = [
        product(f"S{n}", "dpm_sheet", price=10 * n, width=4000, length=25, thickness=t)
        for n, t in enumerate(thick, 1)
    ]
    return [*(p for p in STOCK if p["material"] != "dpm_sheet"), *rolls]


def lintels(*lengths: float) -> Job:
    rows = [opening(f"O{n}", "W1", lintel=x) for n, x in enumerate(lengths, 1)]  # over 1.81 m
    return bare_job(walls=[wall("W1", 30)], openings=rows)


NAMED: dict[str, tuple[str, Job, str, list[str]]] = {
    "all that are too low, the lowest first": (
        "dpc_height", walls(140, 150, 120), "Wall runs", ["W3", "W1"],
    ),
    "where nothing is asked, the lowest alone": (
        "dpc_height",
        by_specification(walls(160, 155)),
        "Wall runs", ["W2"],
    ),
    "those without a figure, not those that have one": (
        "dpc_height", walls(150, None, 160, None), "Wall runs", ["W2", "W4"],
    ),
    "the short lintels among others": (
        "lintels", lintels(2.1, 1.8, 2.1, 1.5), "Openings", ["O2", "O4"],
    ),
    "level thresholds among windows": (
        "thresholds",
        doors("window", "level-access door", "window"),
        "Openings", ["O2"],
    ),
    "the product that is bought, not one that is not": (
        "dpm_thickness", job_of(stock=sheets(250, 200)), "Price book", ["S1 (S1)"],
    ),
    "a boundary wall": (
        "party_wall",
        bare_job(walls=[wall("W1", 5), wall("W2", 5, party_wall="yes")]),
        "Wall runs", ["W2"],
    ),
    "the deeper of two floors": (
        "hardcore_depth",
        bare_job(
            zones=[zone("Z1", 3, 3), zone("Z2", 3, 3, formation_level=-1.2)],
            edges=[
                edge(f"{z}{s}", z, s, 3, kind="new wall", dpc_level=-0.15)
                for z in ("Z1", "Z2") for s in ("A1", "A2", "B1", "B2")
            ],
        ),
        "Floors", ["Z2"],
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", NAMED)
def test_the_row_is_the_one_at_fault(case: str) -> None:
    check, job, listed, names = NAMED[case]
    assert spoken_of(job, check) == (listed, names)


def test_a_row_is_named_by_mark_and_description_where_it_is_printed() -> None:
    said = CliRunner().invoke(main, ["check", str(DEMO_JOB)]).output.splitlines()
    at = next(n for n, line in enumerate(said) if line.endswith("DPC above finished ground"))
    assert said[at + 1].strip() == "given 140 mm, asked 150 mm by NHBC Standards 2020, 5.1.19"
    assert said[at + 2].strip() == "Wall runs: W1 (Link and room, west)"


def test_a_long_list_is_cut_short() -> None:
    shown = {"list": "Wall runs", "rows": [f"W{n}" for n in range(9)]}
    assert rows_in_words(shown) == "Wall runs: W0; W1; W2; W3; W4; W5; and 3 more"
