"""Whether the edges of a job's floors agree with them, and each walk comes back to its start."""

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from ..errors import JobError
from ..takeoff.build_ups import FLOOR_KIND_ROWS, to_dpc
from ..takeoff.edge_kinds import EDGE_KIND_ROWS, turn_up_unread
from ..takeoff.edges import SIDES
from ..takeoff.floors import edges_agree, gap
from ..takeoff.joints import joins_itself
from ..takeoff.walked_floors import LEAST_SIDES, turned_wrong, walked
from ..takeoff.walks import (
    AROUND,
    CLOSES_WITHIN,
    QUARTER,
    order,
    quarter,
    quarters,
    share_a,
    share_b,
    slant,
)
from .hole_checks import check_places, check_typed, holes_of, is_hole
from .job import Job
from .locations import Where

Row = Mapping[str, Any]
Point = tuple[float, float]
A_MILLIMETRE = 0.001  # m
HAIR = 1e-9  # m²


def check_floors(job: Job, where: Where) -> None:
    """Raises JobError at the first edge or floor that does not hold together."""
    _check_edges(job, where)
    for n, zone in enumerate(job.rows["zones"], 1):
        edges = sides_in_order(job, zone["mark"])
        at = f"{where.field('zones', n, zone, '')} ({zone['mark']})"
        if is_walked(zone):
            corners = _check_walk(edges, at, where)
        else:
            corners = _check_rectangle(zone, n, edges, at, where)
        check_places(corners, holes_of(job, zone["mark"]), where)


def is_walked(zone: Row) -> bool:
    """Whether a floor is walked: neither of its sides is typed."""
    return bool(walked(zone["side_a"], zone["side_b"]))


def sides_in_order(job: Job, mark: str) -> list[tuple[int, Row]]:
    """The sides of a floor as they are walked, each with its row counted from 1; no holes."""
    listed = enumerate(job.rows["edges"], 1)
    edges = [(m, e) for m, e in listed if e["zone"] == mark and not is_hole(e)]
    return sorted(edges, key=_number)


def _check_edges(job: Job, where: Where) -> None:
    kinds: dict[Any, Mapping[str, Any]] = {r["name"]: r for r in EDGE_KIND_ROWS}
    floors: dict[Any, Mapping[str, Any]] = {r["name"]: r for r in FLOOR_KIND_ROWS}
    built = {z["mark"]: floors[z["build_up"]] for z in job.rows["zones"]}
    dressed = {mark: to_dpc(f["sheet"], f["suspended"]) for mark, f in built.items()}
    for n, edge in enumerate(job.rows["edges"], 1):
        kind = kinds[edge["kind"]]

        def at(key: str, n: int = n, edge: Mapping[str, Any] = edge) -> str:
            return where.field("edges", n, edge, key)

        typed = edge["typed_turn_up"] is not None
        # A sheet that meets no DPC, and a zone without a sheet, need none of the three.
        needed = dressed[edge["zone"]] and not typed
        if kind["by_levels"] and needed and edge["dpc_level"] is None:
            raise JobError(at("dpc_level_m"), None, "the level of the DPC, or a typed turn-up")
        if kind["by_chase"] and needed and edge["dress"] is None:
            raise JobError(at("dress_mm"), None, "the depth of the chase, or a typed turn-up")
        if kind["by_hand"] and needed:
            raise JobError(at("typed_turn_up_mm"), None, f"a turn-up typed for: {edge['kind']}")
        if turn_up_unread(kind["by_levels"] + kind["by_hand"], edge["typed_turn_up"]):
            raise JobError(
                at("typed_turn_up_mm"), edge["typed_turn_up"], f"none at: {edge['kind']}"
            )
        if bool(kind["joins"]) != (edge["joins"] is not None):
            raise JobError(
                at("joins"), edge["joins"], "the floor lapped at a joint, and only there"
            )
        if joins_itself(edge["joins"] or "", edge["zone"]):
            raise JobError(at("joins"), edge["joins"], "another floor than the edge's own")
        if is_hole(edge):
            check_typed(edge, n, where)


def _check_rectangle(
    zone: Row, n: int, edges: Sequence[tuple[int, Row]], at: str, where: Where
) -> list[Point]:
    """Its corners, from the one where side A1 begins."""
    for key, name in (("side_a_m", "side_a"), ("side_b_m", "side_b")):
        if zone[name] is None:
            accepted = "both sides of a rectangle, or neither where the floor is walked"
            raise JobError(where.field("zones", n, zone, key), None, accepted)
    for m, edge in edges:
        for key in ("side", "length_m"):
            if edge[key.removesuffix("_m")] is None:
                accepted = "one for each edge of a floor whose sides A and B are typed"
                raise JobError(where.field("edges", m, edge, key), None, accepted)
        for key, name in (("number", "number"), ("turn_degrees", "turn")):
            if edge[name] is not None:
                accepted = "none for a floor whose sides A and B are typed"
                raise JobError(where.field("edges", m, edge, key), edge[name], accepted)
    for side in SIDES:
        wanted = zone["side_a"] if side[0] == "A" else zone["side_b"]
        found = math.fsum(e["length"] for _, e in edges if e["side"] == side)
        if not edges_agree(gap(wanted, found, found), 0, 0):
            raise JobError(
                f"{at}, edges on side {side}",
                f"{found:g} m",
                f"edges that add up to the side, {wanted:g} m",
            )
    a, b = float(zone["side_a"]), float(zone["side_b"])
    return [(0.0, 0.0), (a, 0.0), (a, b), (0.0, b)]


def _check_walk(edges: Sequence[tuple[int, Row]], at: str, where: Where) -> list[Point]:
    """Its corners, from its start. Each sentence says by how much, and which way."""
    for m, edge in edges:
        if edge["side"] is not None:
            accepted = "none for a floor that is walked: its sides A and B are blank"
            raise JobError(where.field("edges", m, edge, "side"), edge["side"], accepted)
    if len(edges) < LEAST_SIDES:
        raise JobError(f"{at}, sides", len(edges), f"{LEAST_SIDES} or more, once round the floor")
    numbers = [_number(e) for e in edges]
    for (m, edge), number in zip(edges, numbers, strict=True):
        if numbers.count(number) > 1:
            accepted = "a number of its own for each side of the floor, or none for any of them"
            raise JobError(where.field("edges", m, edge, "number"), number, accepted)
    blank = [(m, e) for m, e in edges if e["length"] is None]
    if len(blank) > 1:
        m, edge = blank[1]
        accepted = "a length: one side of a walk may be left blank"
        raise JobError(where.field("edges", m, edge, "length_m"), None, accepted)
    turns = [turn_of(e) for _, e in edges]
    if turned_wrong(math.fsum(turns)) > 1e-6:
        accepted = f"{4 * QUARTER} degrees in all: once round, to the right or to the left (-)"
        raise JobError(f"{at}, turns of its sides", f"{math.fsum(turns):g} degrees", accepted)
    return _check_outline([e["length"] for _, e in edges], turns, at)


def _number(listed: tuple[int, Row]) -> int:
    position, edge = listed
    return int(order(edge["number"], position))


def turn_of(edge: Row) -> float:
    """The turn at the end of a side, in degrees to the right: a right angle where none is typed."""
    return QUARTER if edge["turn"] is None else float(edge["turn"])


def lengths_of(sides: Sequence[Row]) -> list[float]:
    """The lengths of the sides of a walk in metres, as typed or as they bring it back to its start."""
    return _found([s["length"] for s in sides], _shares([turn_of(s) for s in sides]))


def _shares(turns: Sequence[float]) -> list[Point]:
    """For each metre of each side, the progress along A and along B."""
    shares = []
    leads: float = AROUND
    for turn in turns:
        whole = quarters(leads)
        left = slant(leads, whole)
        shares.append((share_a(1, quarter(whole), left), share_b(1, quarter(whole), left)))
        leads += turn
    return shares


def _found(lengths: Sequence[float | None], shares: Sequence[Point]) -> list[float]:
    given = list(zip(lengths, shares, strict=True))
    missing = [-math.fsum((length or 0) * s[n] for length, s in given) for n in (0, 1)]
    return [math.hypot(*missing) if length is None else length for length in lengths]


def _check_outline(lengths: Sequence[float | None], turns: Sequence[float], at: str) -> list[Point]:
    shares = _shares(turns)
    found = _found(lengths, shares)
    ends = [math.fsum(f * s[n] for f, s in zip(found, shares, strict=True)) for n in (0, 1)]
    if math.hypot(*ends) > CLOSES_WITHIN:
        ways = (_way(ends[0], "ahead of", "behind"), _way(ends[1], "right of", "left of"))
        said = f"an end {' and '.join(way for way in ways if way)} the start"
        accepted = "sides that come back to where they begin (ahead is along the first)"
        raise JobError(f"{at}, its sides", said, accepted)
    corners: list[Point] = [(0.0, 0.0)]
    for length, (a, b) in zip(found, shares, strict=True):
        corners.append((corners[-1][0] + length * a, corners[-1][1] + length * b))
    crossed = _crossing(corners)
    if crossed:
        one, other = crossed
        accepted = "sides that meet at corners only"
        raise JobError(f"{at}, its sides", f"side {one} across side {other}", accepted)
    return corners[:-1]


def _way(by: float, one: str, other: str) -> str:
    return f"{abs(by):.3f} m {one if by > 0 else other}" if abs(by) >= A_MILLIMETRE / 2 else ""


def _crossing(corners: Sequence[Point]) -> tuple[int, int] | None:
    """The first two sides that cross each other."""
    sides = list(pairwise(corners))
    for one in range(len(sides)):
        for other in range(one + 2, len(sides)):
            if (one, other) == (0, len(sides) - 1):
                continue
            if _cross(*sides[one], *sides[other]):
                return one + 1, other + 1
    return None


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two sides cross: each has the ends of the other on either side of its line."""
    return _beside(a, b, c) * _beside(a, b, d) < 0 and _beside(c, d, a) * _beside(c, d, b) < 0


def _beside(a: Point, b: Point, c: Point) -> float:
    """On which side of the line through a and b the point lies; 0 within a hair of it."""
    across = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return 0.0 if abs(across) < HAIR else across
