"""Whether each hole of a job's floors is typed in full, and lies inside its floor, clear of all else."""

from collections.abc import Mapping, Sequence
from itertools import combinations, pairwise
from typing import Any

from ..errors import JobError
from ..takeoff.edge_kinds import EDGE_KIND_ROWS
from ..takeoff.holes import TYPED
from ..takeoff.walks import CLOSES_WITHIN
from .job import Job
from .locations import Where

Row = Mapping[str, Any]
Point = tuple[float, float]
Box = tuple[float, float, float, float]  # from and to along A, from and to along B, in metres
CLEAR = "a hole inside its floor, clear of its sides. Walk the edges round anything at a side"


def is_hole(edge: Row) -> bool:
    """Whether an edge goes round a hole: any of a hole's sizes and places is typed."""
    return any(edge.get(item.name) is not None for item in TYPED)


def holes_of(job: Job, mark: str) -> list[tuple[int, Row]]:
    """The edges round holes of a floor, each with its row counted from 1."""
    listed = enumerate(job.rows["edges"], 1)
    return [(m, e) for m, e in listed if e["zone"] == mark and is_hole(e)]


def check_typed(edge: Row, n: int, where: Where) -> None:
    """Raises JobError for a hole that is typed in part, as a side too, or of a kind that none has."""
    for item in TYPED:
        if edge[item.name] is None:
            raise JobError(where.field("edges", n, edge, item.key), None, item.accepted)
    for key, name in (
        ("side", "side"),
        ("number", "number"),
        ("length_m", "length"),
        ("turn_degrees", "turn"),
    ):
        if edge[name] is not None:
            accepted = "none for a hole: its sizes say how long its sides are"
            raise JobError(where.field("edges", n, edge, key), edge[name], accepted)
    kinds = [str(r["name"]) for r in EDGE_KIND_ROWS if r["may_hole"]]
    if edge["kind"] not in kinds:
        accepted = "of a hole " + ", ".join(kinds)
        raise JobError(where.field("edges", n, edge, "kind"), edge["kind"], accepted)


def check_places(corners: Sequence[Point], listed: Sequence[tuple[int, Row]], where: Where) -> None:
    """Raises JobError for a hole that is not inside its floor, or not clear of sides and holes.

    `corners` of the floor in metres along A and B, from its first corner.
    """
    boxes = [(m, e, _box(e)) for m, e in listed]
    for m, edge, box in boxes:
        at = where.field("edges", m, edge, "hole_from_a_m")
        for side, (one, two) in enumerate(pairwise((*corners, corners[0])), 1):
            if _reaches(one, two, _wider(box)):
                raise JobError(at, f"a hole across side {side} of its floor, or at it", CLEAR)
        if not _inside(((box[0] + box[1]) / 2, (box[2] + box[3]) / 2), corners):
            raise JobError(at, "a hole outside its floor", CLEAR)
    for (_, before, first), (m, other, second) in combinations(boxes, 2):
        if _meet(first, _wider(second)):
            at = where.field("edges", m, other, "hole_from_a_m")
            found = f"a hole that overlaps or touches hole {before['mark']}"
            raise JobError(at, found, "holes clear of each other: type two that meet as one")


def _box(edge: Row) -> Box:
    a, b = edge["hole_from_a"], edge["hole_from_b"]
    return a, a + edge["hole_along_a"], b, b + edge["hole_along_b"]


def _wider(box: Box) -> Box:
    low_a, high_a, low_b, high_b = box
    return (
        low_a - CLOSES_WITHIN,
        high_a + CLOSES_WITHIN,
        low_b - CLOSES_WITHIN,
        high_b + CLOSES_WITHIN,
    )


def _meet(one: Box, other: Box) -> bool:
    return (
        one[0] < other[1] and other[0] < one[1] and one[2] < other[3] and other[2] < one[3]
    )  # fmt: skip


def _reaches(one: Point, two: Point, box: Box) -> bool:
    """Whether a line from one point to another comes inside a rectangle: it is cut by its four sides."""
    low, high = 0.0, 1.0
    for start, end, least, most in zip(one, two, box[::2], box[1::2], strict=True):
        step = end - start
        if step == 0:
            if not least < start < most:
                return False
            continue
        near, far = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, near), min(high, far)
    return low < high


def _inside(point: Point, corners: Sequence[Point]) -> bool:
    crossed = False
    for (a1, b1), (a2, b2) in pairwise((*corners, corners[0])):
        if (b1 > point[1]) != (b2 > point[1]):
            a = a1 + (point[1] - b1) / (b2 - b1) * (a2 - a1)
            crossed = crossed != (point[0] < a)
    return crossed
