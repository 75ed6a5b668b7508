"""Floors walked round their sides, against shapely and against figures worked by hand."""

import math
import random
from collections.abc import Sequence

import pytest
from shapely import Polygon, box, unary_union

from estimator.errors import JobError
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate

from .random_walks import Corners, right_angled, sides_of, splayed
from .small_jobs import bare_job, edge, walked_zone

TURN_UP = 285  # mm


def floors(outlines: Sequence[Corners], rng: random.Random | None = None) -> Ledger:
    """A job of walked floors; with `rng` the rows of sides stand in any order, numbered."""
    zones, edges = [], []
    for n, corners in enumerate(outlines):
        zones.append(walked_zone(f"Z{n}"))
        for m, (length, turn) in enumerate(sides_of(corners), 1):
            number = m if rng else None
            edges.append(
                edge(f"{n}-{m}", f"Z{n}", None, length, turn=turn, number=number, kind="threshold",
                     typed_turn_up=TURN_UP)
            )  # fmt: skip
    if rng:
        rng.shuffle(edges)
    return estimate(bare_job(zones=zones, edges=edges))


def agree_with_shapely(outlines: Sequence[Corners], found: Ledger) -> None:
    for n, corners in enumerate(outlines):
        shape = Polygon(corners)
        figure = {
            name: found.column("zones", name)[n]
            for name in (
                *("net_area", "turned_up", "corners_in", "corners_out", "walk_fault"),
                *("extent_a", "extent_b", "sheet_a", "sheet_b"),
            )
        }
        assert figure["walk_fault"] == 0, corners
        assert figure["net_area"] == pytest.approx(shape.area, rel=1e-9)
        assert figure["turned_up"] == pytest.approx(shape.exterior.length, rel=1e-9)
        hollow = len(_hollow(corners))
        assert (figure["corners_in"], figure["corners_out"]) == (hollow, len(corners) - hollow)
        (left, top, right, bottom) = _from_first_side(corners).bounds
        assert figure["extent_a"] == pytest.approx(right - left, abs=1e-9)
        assert figure["extent_b"] == pytest.approx(bottom - top, abs=1e-9)
        # The sheet covers the floor and what turns up on every side of it.
        turned = _from_first_side(corners).buffer(TURN_UP / 1000, join_style="mitre").bounds
        assert figure["sheet_a"] >= turned[2] - turned[0] - 1e-9 or not _is_right(corners)
        assert figure["sheet_b"] >= turned[3] - turned[1] - 1e-9 or not _is_right(corners)


def _is_right(corners: Corners) -> bool:
    return all(a[0] == b[0] or a[1] == b[1] for a, b in zip(corners, corners[1:], strict=False))


def _hollow(corners: Corners) -> list[int]:
    """The corners at which the floor lies on both sides: inside the shape's outer hull's turn."""
    shape = Polygon(corners)
    count = len(corners)
    found = []
    for n, here in enumerate(corners):
        before, after = corners[n - 1], corners[(n + 1) % count]
        # A point just inside the angle of the two sides: inside the floor at an external corner.
        ways = [(p[0] - here[0], p[1] - here[1]) for p in (before, after)]
        units = [(x / math.hypot(x, y), y / math.hypot(x, y)) for x, y in ways]
        probe = (
            here[0] + 1e-6 * (units[0][0] + units[1][0]),
            here[1] + 1e-6 * (units[0][1] + units[1][1]),
        )
        from shapely import Point

        if not shape.contains(Point(probe)):
            found.append(n)
    return found


def _from_first_side(corners: Corners) -> Polygon:
    """The shape with its first corner at nought and its first side along A."""
    (x0, y0), (x1, y1) = corners[:2]
    way = math.atan2(y1 - y0, x1 - x0)
    cos, sin = math.cos(-way), math.sin(-way)
    moved = [(x - x0, y - y0) for x, y in corners]
    return Polygon([(x * cos - y * sin, x * sin + y * cos) for x, y in moved])


@pytest.mark.parametrize("seed", range(20))
def test_right_angled_floors_agree_with_shapely(seed: int) -> None:
    rng = random.Random(seed)
    outlines = [right_angled(rng) for _ in range(50)]
    agree_with_shapely(outlines, floors(outlines, rng if seed % 2 else None))


@pytest.mark.parametrize("seed", range(4))
def test_splayed_floors_agree_with_shapely(seed: int) -> None:
    rng = random.Random(seed)
    outlines = [splayed(rng) for _ in range(50)]
    agree_with_shapely(outlines, floors(outlines, rng))
