"""Openings placed at random round walked floors, against shapely and plain intervals.

The wall is a line through the corners of the floor; an opening is what lies on it between its jambs.
"""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise
from typing import Any

import pytest
from shapely import LineString
from shapely.ops import substring

from estimator.errors import JobError
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.locations import InJobFile
from estimator.model.place_checks import check_places

from .random_walks import Corners, right_angled, sides_of, splayed
from .small_jobs import bare_job, edge, opening, walked_zone
from .walked_jobs import FREE, NEW, following

KINDS = ("window", "raised door", "level-access door", "air brick")
WITH_JAMBS = KINDS[:3]


@dataclass
class Wall:
    """The new wall round one floor, as drawn: its line, and where along it each side begins."""

    mark: str
    line: LineString
    sides: list[tuple[str, float]] = field(default_factory=list)


def drawn(n: int, corners: Corners, rng: random.Random) -> tuple[Wall, list[dict[str, Any]]]:
    """A floor some of whose sides, one after another, are free and the rest new wall; and its edges.

    Now and then a side is broken in two, and the wall goes straight on there.
    """
    sides = []
    for m, (length, turn) in enumerate(sides_of(corners)):
        start, end = corners[m], corners[(m + 1) % len(corners)]
        if length > 1 and rng.random() < 0.3:
            # In whole millimetres, as a person types it.
            first = round(length * rng.uniform(0.3, 0.7), 3)
            share = first / length
            middle = tuple(a + share * (b - a) for a, b in zip(start, end, strict=True))
            sides += [(first, 0.0, start, middle), (length - first, turn, middle, end)]
        else:
            sides.append((length, turn, start, end))
    count = len(sides)
    free = rng.choice((0, 1, rng.randint(1, count - 1)))
    begin = rng.randrange(count) if free else 0
    new = [(begin + m) % count for m in range(count - free)]
    edges = [
        edge(f"{n}-{m}", f"Z{n}", None, length, turn=turn, number=m + 1,
             **(NEW if m in new else FREE))
        for m, (length, turn, _, _) in enumerate(sides)
    ]  # fmt: skip
    rng.shuffle(edges)
    points = [sides[new[0]][2], *(sides[m][3] for m in new)]
    begins = [0.0, *accumulate(math.dist(a, b) for a, b in pairwise(points))]
    marks = [(f"{n}-{m}", at) for m, at in zip(new, begins, strict=False)]
    return Wall(f"W{n}", LineString(points), marks), edges


def placed(name: str, wall: Wall, rng: random.Random) -> tuple[dict[str, Any], float]:
    """An opening somewhere along the wall, and where that is."""
    mark, at = rng.choice(wall.sides) if rng.random() < 0.5 else (None, 0.0)
    jamb = round(rng.uniform(0, 0.6 if mark else 1) * wall.line.length, 3)
    if rng.random() < 0.2:  # a jamb in a corner, or at an end
        jamb = max(0.0, rng.choice([s for _, s in wall.sides]) - at)
    given = {
        "kind": rng.choice(KINDS),
        "width": round(rng.uniform(0.1, 2.5), 3),
        "first_jamb": jamb,
        "side": mark,
    }
    return opening(name, wall.mark, **{"lintel": None, **given}), at + jamb


def faults(o: dict[str, Any], begins: float, wall: Wall) -> set[int]:
    """What shapely says of it: any of the faults 4 (past its side), 5 (its run) and 6 (a corner)."""
    found = set()
    length, ends = wall.line.length, begins + o["width"]
    if o["side"]:
        marks = [m for m, _ in wall.sides]
        after = marks.index(o["side"]) + 1
        side_ends = wall.sides[after][1] if after < len(marks) else length
        found |= {4} if begins >= side_ends - 5e-7 else set()
    if ends > length + 5e-7:
        return found | {5}
    part = substring(wall.line, begins, ends)
    # Over a corner it is longer than the straight line between its jambs.
    straight = math.dist(part.coords[0], part.coords[-1])
    return found | ({6} if part.length - straight > 1e-9 else set())


def overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return min(one[1], other[1]) - max(one[0], other[0]) > 5e-7


def near(begins: float, width: float, wall: Wall) -> bool:
    """Whether a jamb lies so near a corner, without being in it, that a hair decides."""
    jambs = (begins, begins + width)
    corners = [*(at for _, at in wall.sides), wall.line.length]
    return any(1e-9 < abs(j - c) < 1e-4 for j in jambs for c in corners)


@pytest.mark.parametrize("seed", range(8))
def test_openings_round_walked_floors_agree_with_shapely(seed: int) -> None:
    rng = random.Random(seed)
    walls, edges, openings, begins = [], [], [], []
    for n in range(15):
        wall, sides = drawn(n, (right_angled, splayed)[n % 2](rng), rng)
        walls.append(wall)
        edges += sides
        for m in range(6):
            o, at = placed(f"{n}-{m}", wall, rng)
            if near(at, o["width"], wall):
                continue
            openings.append(o)
            begins.append(at)
    runs = [following(w.mark, f"Z{n}") for n, w in enumerate(walls)]
    sound = bare_job(zones=[walked_zone(f"Z{n}") for n in range(15)], edges=edges, walls=runs)
    job = replace(sound, rows={**sound.rows, "openings": openings})
    found = estimate(job)
    assert found.column("openings", "begins") == pytest.approx(begins, abs=1e-7)
    spans = [(at, at + o["width"]) for o, at in zip(openings, begins, strict=True)]
    by_mark = {w.mark: w for w in walls}
    for n, (o, at) in enumerate(zip(openings, begins, strict=True)):
        others = [
            other
            for m, other in enumerate(openings)
            if m != n and other["wall"] == o["wall"] and overlap(spans[n], spans[m])
        ]
        alike = [
            p for p in others
            if {p["kind"], o["kind"]} <= set(WITH_JAMBS) or p["kind"] == o["kind"]
        ]  # fmt: skip
        assert found.figure("openings", n + 1, "in_its_way") == len(alike), o
        wanted = faults(o, at, by_mark[o["wall"]])
        level = [p for p in others if p["kind"] == o["kind"] == "level-access door"]
        wanted |= {7} if level else set()
        assert found.figure("openings", n + 1, "place_fault") == min(wanted, default=0), o
        assert refused(job, [o]) == bool(wanted - {7}), o
        assert refused(job, [o, *level]) == bool(
            wanted or any_fault(level, openings, begins, by_mark)
        )


def any_fault(
    some: Sequence[dict[str, Any]],
    openings: Sequence[dict[str, Any]],
    begins: Sequence[float],
    walls: dict[str, Wall],
) -> bool:
    where = {o["mark"]: at for o, at in zip(openings, begins, strict=True)}
    return any(faults(o, where[o["mark"]], walls[o["wall"]]) for o in some)


def refused(job: Job, openings: list[dict[str, Any]]) -> bool:
    """Whether a job file with those openings alone is refused."""
    try:
        check_places(replace(job, rows={**job.rows, "openings": openings}), InJobFile("test"))
    except JobError:
        return True
    return False


def test_random_places_show_each_fault_and_none() -> None:
    """So that the comparison above can fail."""
    shown: set[int] = set()
    rng = random.Random(1)
    for n in range(60):
        wall, _ = drawn(n, right_angled(rng), rng)
        for m in range(6):
            o, at = placed(f"{n}-{m}", wall, rng)
            shown |= faults(o, at, wall) or {0}
    assert shown == {0, 4, 5, 6}
