"""What a form of an earlier layout filled in of its rectangle, where somebody typed over a part of it.

Up to layout 5 the form filled in a rectangle: sides A and B of its floor, a side for each edge, and a
wall run measured by hand. Today it walks round its floor, and its run follows. Where nothing of the
plan was typed over, that is the same. Where something was, the rest is typed beside it as it was
filled in then: nothing moves, and no rectangle is mixed with a walk.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from ..questionnaire.offers import RUN, ZONE, marks
from .job import Job

LAST = 5  # the last layout whose form filled in a rectangle
_SIDES = ("side_a", "side_b")
_OF_EDGE = ("zone", "side", "length", "kind", "joins")  # what says what the plan is

Row = Mapping[str, Any]


def with_rectangle(job: Job, layout: int) -> tuple[Job, list[str]]:
    """The job of a file of that layout, and the marks of the form's rows of which more is typed now
    than the file says: none where the form walks round what it filled in as a rectangle."""
    width, depth = (job.particulars.get(f"extension_{n}") for n in ("width", "projection"))
    if layout > LAST or width is None or depth is None:
        return job, []
    run = {
        "run": "open",
        "length": width + 2 * depth,
        "measured_on": "inside face",
        "external_corners": 2,
        "internal_corners": 0,
        "ends_at_existing": 2,
    }
    floor, over = _first(job, "zones"), _first(job, "walls")
    is_over = _typed(floor, _SIDES) or _edges_typed(job.rows["edges"])
    rows, more = dict(job.rows), []
    if is_over:
        sides = dict(zip(_SIDES, (width, depth), strict=True))
        rows["zones"] = [_beside(floor, sides), *job.rows["zones"][1:]]
        more.append(ZONE)
    if is_over or _typed(over, tuple(run)):
        rows["walls"] = [_beside(over, run), *job.rows["walls"][1:]]
        more.append(RUN)
    return replace(job, rows=rows), more


def _first(job: Job, table: str) -> Row:
    return next(iter(job.rows[table]), {})


def _edges_typed(rows: Sequence[Row]) -> bool:
    """Whether an edge of the form's floor was typed over, or an edge of one's own was put to it."""
    filled = len(marks("edges"))
    return any(_typed(r, _OF_EDGE) for r in rows[:filled]) or any(
        r.get("zone") == ZONE for r in rows[filled:]
    )


def _typed(row: Row, names: Sequence[str]) -> bool:
    return any(row.get(name) is not None for name in names)


def _beside(row: Row, filled: Mapping[str, Any]) -> Row:
    """The row, and what was filled in where nothing was typed."""
    return {**row, **{k: v for k, v in filled.items() if row.get(k) is None}}
