"""The states of the checks about the existing house, vents and gas."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.checks import DESIGNERS, MEETS, NOT_APPLICABLE, SHORT
from estimator.model import reports
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import bare_job, edge, opening, row, wall, zone
from .test_existing_house import CUT, OLD


def cut(wall_kind: str, **changed: Any) -> Job:
    known = wall_kind.startswith("cavity")
    old = OLD if known else row("old_walls", mark="H1", kind=wall_kind)
    return bare_job(old_walls=[old], cut_ins=[{**CUT, **changed}])


def vented(air_bricks: int) -> Job:
    """Beam and block, 4 × 3 m, new wall all round; openings for some of its air bricks."""
    floor = zone("Z", 4, 3, build_up="beam and block", free_area=6000, formation_level=-0.8)
    sides = (("A1", 4), ("A2", 4), ("B1", 3), ("B2", 3))
    bricks = [opening("V", "W", kind="air brick", number=air_bricks, lintel=None)]
    return bare_job(
        zones=[floor],
        edges=[edge(s, "Z", s, m, kind="new wall", dpc_level=0) for s, m in sides],
        walls=[wall("W", 14)],
        openings=bricks if air_bricks else [],
    )


def in_gas_area(build_up: str) -> Job:
    floor = zone("Z", 4, 3, build_up=build_up, free_area=6000, formation_level=-0.8)
    sides = (("A1", 4), ("A2", 4), ("B1", 3), ("B2", 3))
    job = bare_job(zones=[floor], edges=[edge(s, "Z", s, m) for s, m in sides])
    return replace(job, particulars={**job.particulars, "radon_area": "yes"})


STATES = (
    ("uncounted", NOT_APPLICABLE, cut("cavity, clear")),
    ("uncounted", DESIGNERS, cut("stone")),
    ("uncounted", DESIGNERS, cut("cavity, clear", kind="stepped up a slope")),
    ("vent_trays", SHORT, vented(0)),
    ("vent_trays", SHORT, vented(1)),
    ("vent_trays", MEETS, vented(8)),
    ("gas_floors", SHORT, in_gas_area("beam and block")),
    ("gas_floors", MEETS, in_gas_area("slab on DPM, insulation above")),
)


@pytest.mark.parametrize(("check", "state", "job"), STATES, ids=[f"{c} {s}" for c, s, _ in STATES])
def test_state(check: str, state: str, job: Job) -> None:
    rows = {r["check"]: r for r in reports.checks(estimate(job))}
    assert rows[check]["state"] == state
