"""Floors walked round their sides, against shapely: areas, corners, outlines, sheets, leaves."""

import math
import random
from collections.abc import Sequence
from itertools import pairwise

import pytest
from shapely import Point, Polygon

from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate

from .random_walks import Corners, right_angled, sides_of, splayed
from .small_jobs import bare_job, edge, walked_zone, wall

TURN_UP = 285  # mm
NEW = {"kind": "new wall", "dpc_level": -0.05}  # the DPM lies at -0.335
THICKNESS, OUTER_LEAF, INNER_LEAF = 0.3025, 0.1025, 0.1
BLANK = dict.fromkeys(
    ("run", "measured_on", "external_corners", "internal_corners", "ends_at_existing")
)


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
        shape = from_first_side(corners)
        figure = {
            name: found.column("zones", name)[n]
            for name in (
                *("net_area", "turned_up", "corners_in", "corners_out", "walk_fault"),
                *("extent_a", "extent_b", "sheet_a", "sheet_b", "corner_patches"),
            )
        }
        assert figure["walk_fault"] == 0, corners
        assert figure["net_area"] == pytest.approx(shape.area, rel=1e-9)
        assert figure["turned_up"] == pytest.approx(shape.exterior.length, rel=1e-9)
        hollow = _hollow(corners)
        assert (figure["corners_in"], figure["corners_out"]) == (hollow, len(corners) - hollow)
        assert figure["corner_patches"] == hollow
        extents = figure["extent_a"], figure["extent_b"]
        assert extents == pytest.approx(_size(shape), abs=1e-9)
        sheet = figure["sheet_a"], figure["sheet_b"]
        if _is_right(corners):
            turned = shape.buffer(TURN_UP / 1000, join_style="mitre")
            assert sheet == pytest.approx(_size(turned), abs=1e-9)
        else:
            least = _size(shape.buffer(TURN_UP / 1000))
            assert all(has >= needs - 1e-9 for has, needs in zip(sheet, least, strict=True))


def _size(shape: Polygon) -> tuple[float, float]:
    left, top, right, bottom = shape.bounds
    return right - left, bottom - top


def _is_right(corners: Corners) -> bool:
    return all(a[0] == b[0] or a[1] == b[1] for a, b in pairwise((*corners, corners[0])))


def _hollow(corners: Corners) -> int:
    """How many corners the floor lies on both sides of."""
    shape = Polygon(corners)
    return sum(
        not shape.contains(_within_angle(corners[n - 1], here, corners[(n + 1) % len(corners)]))
        for n, here in enumerate(corners)
    )


def _within_angle(
    before: tuple[float, float], here: tuple[float, float], after: tuple[float, float]
) -> Point:
    """A point a hair inside the angle of two sides: on the floor at an external corner."""
    ways = [(p[0] - here[0], p[1] - here[1]) for p in (before, after)]
    units = [(x / math.hypot(x, y), y / math.hypot(x, y)) for x, y in ways]
    return Point(*(h + 1e-6 * (u + v) for h, u, v in zip(here, *units, strict=True)))


def from_first_side(corners: Corners) -> Polygon:
    """The shape with its first corner at nought and its first side along A."""
    (x0, y0), (x1, y1) = corners[:2]
    length = math.dist((x0, y0), (x1, y1))
    cos, sin = (x1 - x0) / length, (y1 - y0) / length
    moved = [(x - x0, y - y0) for x, y in corners]
    return Polygon([(x * cos + y * sin, y * cos - x * sin) for x, y in moved])


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


def test_a_splay_typed_in_millimetres_ends_short_and_crosses_nothing() -> None:
    """2 along, back over (1, 1) by √2 twice: typed 1.413 and 1.414 it ends 1.2 mm off."""
    sides = ((2, 135), (1.413, 90), (1.414, 135))
    edges = [edge(f"E{n}", "Z1", None, x, turn=t) for n, (x, t) in enumerate(sides)]
    found = estimate(bare_job(zones=[walked_zone("Z1")], edges=edges))
    # 2 - 2.827 ÷ √2 = 1.0092 mm ahead of the start, 0.001 ÷ √2 = 0.7071 mm to the left of it.
    assert found.figure("zones", 1, "walk_gap") == pytest.approx(0.0012323, abs=1e-7)
    assert found.figure("zones", 1, "walk_fault") == 0


@pytest.mark.parametrize("draw", [right_angled, splayed])
def test_leaves_round_a_floor_agree_with_shapely(draw: object) -> None:
    """Each leaf's centre line is the outline moved out; where no side is lost by that."""
    assert callable(draw)
    rng = random.Random(7)
    outlines = [draw(rng) for _ in range(60)]
    zones, edges, walls = [], [], []
    for n, corners in enumerate(outlines):
        zones.append(walked_zone(f"Z{n}"))
        walls.append(wall(f"W{n}", None, floor=f"Z{n}", **BLANK))
        edges += [
            edge(f"{n}-{m}", f"Z{n}", None, length, turn=turn, **NEW)
            for m, (length, turn) in enumerate(sides_of(corners))
        ]
    found = estimate(bare_job(zones=zones, edges=edges, walls=walls))
    assert set(found.column("walls", "run_agrees")) == {1}
    assert set(found.column("walls", "run_in_use")) == {"closed"}
    compared = 0
    for n, corners in enumerate(outlines):
        for leaf, out in (("outer", THICKNESS - OUTER_LEAF / 2), ("inner", INNER_LEAF / 2)):
            moved = Polygon(corners).buffer(out, join_style="mitre", mitre_limit=1000)
            if len(moved.exterior.coords) != len(corners) + 1:
                continue
            compared += 1
            length = found.column("walls", f"{leaf}_length")[n]
            assert length == pytest.approx(moved.exterior.length, rel=1e-9)
    assert compared > 60
