"""Whether each opening, and each step in the DPC, that has a place along its wall run fits there."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Any

from ..errors import JobError
from ..language import at_most, less
from ..takeoff.dpc_steps import DOWN, UP, step_place
from ..takeoff.edge_kinds import EDGE_KIND_ROWS
from ..takeoff.openings import OPENING_KIND_ROWS
from .floor_checks import lengths_of, sides_in_order, turn_of
from .job import Job
from .locations import Where

Row = Mapping[str, Any]
Span = tuple[float, float]


@dataclass(frozen=True)
class Run:
    """A wall run as places are measured on it: metres from its start; without end where the form
    is to give its length yet."""

    length: float
    sides: Mapping[str, Span]  # those of the floor that it follows, by their marks
    corners: tuple[float, ...]
    steps: tuple[float, ...]  # those in its DPC that have a place


def check_places(job: Job, where: Where) -> None:
    """Raises JobError at the first step or opening whose place contradicts itself, its run or another."""
    runs = {r["mark"]: _run(job, n, r, where) for n, r in enumerate(job.rows["walls"], 1)}
    level = {k["name"] for k in OPENING_KIND_ROWS if k["has_threshold"]}
    doors: list[tuple[str, Row, Span]] = []  # level-access doors, each with its run
    for n, opening in enumerate(job.rows["openings"], 1):
        if opening["first_jamb"] is None and opening["side"] is None:
            continue
        run = opening["wall"]
        place = _placed(n, opening, runs[run], where)
        if place is None or opening["kind"] not in level:
            continue
        for step in runs[run].steps:
            if less(place[0], step) and less(step, place[1]):
                raise JobError(
                    where.field("openings", n, opening, "first_jamb_m"),
                    _from_to(place),
                    f"a level door on one side of the step in the DPC, {step:.3f} m along its run",
                )
        for other, door, (begins, ends) in doors:
            if other == run and less(place[0], ends) and less(begins, place[1]):
                raise JobError(
                    where.field("openings", n, opening, "first_jamb_m"),
                    f"{_from_to(place)}, across {door['mark']}",
                    "level thresholds beside each other: all lie on the floor",
                )
        doors.append((run, opening, place))


def _run(job: Job, n: int, row: Row, where: Where) -> Run:
    run = _measured(job, row)
    return replace(run, steps=_steps(n, row, run.length, where))


def _steps(n: int, run: Row, length: float, where: Where) -> tuple[float, ...]:
    """Where the steps in its DPC are, along the run; none where they have no place."""
    first, gap, way = (run[name] for name in ("first_step", "step_spacing", "step_way"))
    if first is None:
        if gap is not None or way is not None:
            accepted = "where the first step is, or neither how far apart steps are nor their way"
            raise JobError(where.field("walls", n, run, "first_step_m"), None, accepted)
        return ()
    count = int(run["steps"] or 0)
    if not count:
        accepted = "how many steps there are, where the first has a place"
        raise JobError(where.field("walls", n, run, "steps"), run["steps"], accepted)
    if way is None:
        accepted = f"{UP} or {DOWN}, away from the start of the run"
        raise JobError(where.field("walls", n, run, "step_way"), None, accepted)
    if count > 1 and gap is None:
        accepted = "how far each step is from the one before it"
        raise JobError(where.field("walls", n, run, "step_spacing_m"), None, accepted)
    steps = tuple(step_place(k, first, gap or 0) for k in range(1, count + 1))
    if not less(steps[-1], length):
        found, accepted = (
            f"the last step at {steps[-1]:.3f} m",
            f"steps within its run, {length:.3f} m",
        )
        raise JobError(where.field("walls", n, run, "first_step_m"), found, accepted)
    return steps


def _measured(job: Job, run: Row) -> Run:
    if run["floor"] is None:
        return Run(math.inf if run["length"] is None else run["length"], {}, (), ())
    kinds = {k["name"]: k["external_run"] for k in EDGE_KIND_ROWS}
    walk = [edge for _, edge in sides_in_order(job, run["floor"])]
    sides = list(zip(walk, lengths_of(walk), strict=True))
    new = [bool(kinds[edge["kind"]]) for edge in walk]
    # It starts where new wall begins; one that closes, with the walk.
    start = next((n for n, is_new in enumerate(new) if is_new and not new[n - 1]), 0)
    sides, new = sides[start:] + sides[:start], new[start:] + new[:start]
    sides = [side for side, is_new in zip(sides, new, strict=True) if is_new]
    ends = list(accumulate(length for _, length in sides))
    spans = {
        edge["mark"]: (end - length, end) for (edge, length), end in zip(sides, ends, strict=True)
    }
    turned = zip(sides[:-1], ends[:-1], strict=True)
    return Run(ends[-1], spans, tuple(end for (edge, _), end in turned if turn_of(edge)), ())


def _placed(n: int, opening: Row, run: Run, where: Where) -> Span | None:
    """Its jambs, along its run; None where the form is to give its width yet."""
    at = where.field("openings", n, opening, "first_jamb_m")
    jamb, side = opening["first_jamb"], opening["side"]
    if jamb is None:
        raise JobError(at, None, "how far from the start of its side, or no side")
    if opening["number"] is not None and opening["number"] > 1:
        accepted = "1 where a first jamb is given: each opening with a place has a row of its own"
        raise JobError(where.field("openings", n, opening, "number"), opening["number"], accepted)
    if side is not None and side not in run.sides:
        sides = ", ".join(run.sides)
        accepted = f"one of {sides}, along which its run goes" if sides else (
            "none: its run follows no floor"
        )  # fmt: skip
        raise JobError(where.field("openings", n, opening, "side"), side, accepted)
    begins, end = run.sides.get(side, (0.0, run.length))
    if side is not None and at_most(end - begins, jamb):
        raise JobError(at, jamb, f"less than the length of side {side}, {end - begins:.3f} m")
    if opening["width"] is None:
        return None
    place = begins + jamb, begins + jamb + opening["width"]
    if less(run.length, place[1]):
        accepted = f"an opening that ends within its run, {run.length:.3f} m"
        raise JobError(at, _from_to(place), accepted)
    for corner in run.corners:
        if less(place[0], corner) and less(corner, place[1]):
            accepted = f"an opening on one side of the corner, {corner:.3f} m along its run"
            raise JobError(at, _from_to(place), accepted)
    return place


def _from_to(place: Span) -> str:
    return f"{place[0]:.3f} to {place[1]:.3f} m along its run"
