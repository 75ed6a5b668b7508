"""Whether each wall run holds together: typed in full, or as the floor it follows says."""

from collections.abc import Mapping
from typing import Any

from ..errors import JobError
from ..language import Input
from ..takeoff.edge_kinds import EDGE_KIND_ROWS
from ..takeoff.wall_details import cavity_agrees, steps_agree
from ..takeoff.walls import CLOSED, OPEN, WALLS, ends_agree, run_agrees
from .floor_checks import is_walked, sides_in_order
from .job import Job
from .locations import Where

Row = Mapping[str, Any]
OF_RUN = (
    "run",
    "length",
    "measured_on",
    "external_corners",
    "internal_corners",
    "ends_at_existing",
)


def check_runs(job: Job, where: Where) -> None:
    """Raises JobError at the first run that does not hold together."""
    for n, run in enumerate(job.rows["walls"], 1):
        if run["floor"] is None:
            closes, old_ends = _check_typed(n, run, where)
        else:
            closes, old_ends = _check_followed(job, n, run, where)
        ends = run["ends_at_new"]
        if not ends_agree(closes, old_ends, ends, run["met_thickness"]):
            raise JobError(
                where.field("walls", n, run, "ends_at_new"),
                f"{ends or 0:g} ends at new walls, {old_ends:g} at existing ones, "
                f"wall met {run['met_thickness'] or 0:g} mm",
                "two ends of an open run at most, and the thickness of the wall met at new ones",
            )
        _check_section(n, run, where)


def _check_typed(n: int, run: Row, where: Where) -> tuple[str, float]:
    for name in OF_RUN:
        item = WALLS.column(name)
        assert isinstance(item, Input)
        if run[name] is None:
            raise JobError(where.field("walls", n, run, item.key), None, item.accepted)
    corners = run["external_corners"], run["internal_corners"]
    if not run_agrees(0, run["run"], *corners, run["ends_at_existing"]):
        raise JobError(
            where.field("walls", n, run, "external_corners"),
            "{:g} external, {:g} internal".format(*corners),
            "for a closed run 4 more external corners than internal ones, and no ends",
        )
    return run["run"], run["ends_at_existing"]


def _check_followed(job: Job, n: int, run: Row, where: Where) -> tuple[str, float]:
    """None of it is typed, and the floor is walked, its new walls one run."""
    for name in OF_RUN:
        item = WALLS.column(name)
        assert isinstance(item, Input)
        if run[name] is not None:
            accepted = "none: the run follows a floor"
            raise JobError(where.field("walls", n, run, item.key), run[name], accepted)
    at = where.field("walls", n, run, "floor")
    if not any(z["mark"] == run["floor"] and is_walked(z) for z in job.rows["zones"]):
        raise JobError(at, run["floor"], "a floor that is walked: its sides A and B are blank")
    kinds: dict[Any, Mapping[str, Any]] = {r["name"]: r for r in EDGE_KIND_ROWS}
    sides = [kinds[e["kind"]] for _, e in sides_in_order(job, run["floor"])]
    new = [bool(k["external_run"]) for k in sides]
    after = [*range(1, len(sides)), 0]
    ends = sum(new[i] and not new[j] for i, j in enumerate(after))
    if not any(new) or ends > 1:
        found = f"{run['floor']}, whose new walls are {ends} runs"
        raise JobError(at, found, "a floor whose new walls are one run")
    old = sum(new[i] * sides[j]["seals"] + new[j] * sides[i]["seals"] for i, j in enumerate(after))
    return OPEN if ends else CLOSED, old


def _check_section(n: int, run: Row, where: Where) -> None:
    if bool(run["inner_leaf"]) != bool(run["cavity"]):
        raise JobError(
            where.field("walls", n, run, "inner_leaf_mm"),
            f"cavity {run['cavity']:g} mm, inner leaf {run['inner_leaf']:g} mm",
            "both for a cavity wall, or 0 for both for a solid wall",
        )
    if not steps_agree(run["steps"], run["step_rise"]):
        raise JobError(
            where.field("walls", n, run, "step_rise_mm"), run["step_rise"],
            "a rise where there are steps, and only there",
        )  # fmt: skip
    base_tray, inner_of = run["base_tray"] or "", run["inner_of"] or ""
    if not cavity_agrees(run["cavity"], base_tray, inner_of):
        raise JobError(
            where.field("walls", n, run, "cavity_mm"), run["cavity"],
            "a cavity, where there is a tray at DPC level or a timber frame",
        )  # fmt: skip
