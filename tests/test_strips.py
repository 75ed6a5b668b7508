"""Strips of sheet on floors that are no rectangle, against shapely: what each must reach.

The sheet's outline is the floor, and past each side a rectangle as wide as the sheet turns up there,
which goes on round an external corner. Strips are laid over it from its back, each lapping the one
before: one reaches as far as the outline does in its band.
"""

import math
import random
from collections.abc import Iterator, Sequence
from itertools import pairwise

import pytest
from shapely import Polygon, box, unary_union
from shapely.affinity import rotate, translate

from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate

from .conftest import in_turn
from .random_walks import Corners, right_angled, sides_of, splayed
from .small_jobs import bare_job, edge, product, walked_zone

LAP = 0.3  # m: BS 8102 and the basis of these jobs
WIDTHS = (2000, 3000, 4000)
BOOK = [product(f"S{w}", "dpm_sheet", 50, width=w, length=25) for w in WIDTHS]
HAIR = 1e-5
Reaches = Sequence[float]


def floors(outlines: Sequence[Corners], reaches: Sequence[Reaches]) -> Ledger:
    zones, edges = [], []
    for n, (corners, reach) in enumerate(zip(outlines, reaches, strict=True)):
        zones.append(walked_zone(f"Z{n}"))
        for m, (length, turn) in enumerate(sides_of(corners)):
            edges.append(edge(f"{n}-{m}", f"Z{n}", None, length, turn=turn, kind="threshold",
                              typed_turn_up=reach[m] * 1000))  # fmt: skip
    return estimate(bare_job(zones=zones, edges=edges, book=BOOK))


def outline(corners: Corners, reach: Reaches) -> Polygon:
    """The sheet of a right-angled floor, with what turns up, as it lies flat; first side along A."""
    parts = [Polygon(corners)]
    count = len(corners)
    inside = Polygon(corners)
    for n, (here, then) in enumerate(zip(corners, [*corners[1:], corners[0]], strict=True)):
        before, after = reach[n - 1], reach[(n + 1) % count]
        (x0, y0), (x1, y1) = here, then
        length = abs(x1 - x0) + abs(y1 - y0)
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        ox, oy = uy, -ux  # to the left as B lies to the right
        if inside.contains(translate(box(-1e-4, -1e-4, 1e-4, 1e-4), (x0 + x1) / 2 + ox * 2e-4,
                                     (y0 + y1) / 2 + oy * 2e-4)):  # fmt: skip
            ox, oy = -ox, -oy
        back = before * _is_outer(inside, here, (ox, oy), (-ux, -uy))
        ahead = after * _is_outer(inside, then, (ox, oy), (ux, uy))
        ends = (x0 - ux * back, y0 - uy * back), (x1 + ux * ahead, y1 + uy * ahead)
        parts.append(
            Polygon([*ends, *((x + ox * reach[n], y + oy * reach[n]) for x, y in reversed(ends))])
        )
    (x0, y0), (x1, y1) = corners[:2]
    turned = {(1, 0): 0, (0, 1): -90, (-1, 0): 180, (0, -1): 90}
    way = ((x1 > x0) - (x1 < x0), (y1 > y0) - (y1 < y0))
    return rotate(unary_union([p for p in parts if p.area > 0]), turned[way], origin=(0, 0))


def _is_outer(
    inside: Polygon, corner: tuple[float, float], out: tuple[float, float], on: tuple[float, float]
) -> bool:
    """Whether the corner is external: nothing of the floor past the side's end."""
    x, y = corner
    spots = ((on[0] - out[0], on[1] - out[1]), (on[0] + out[0], on[1] + out[1]))
    return not any(
        inside.contains(box(x + a * 2e-4 - 1e-5, y + b * 2e-4 - 1e-5, x + a * 2e-4 + 1e-5,
                            y + b * 2e-4 + 1e-5)) for a, b in spots
    )  # fmt: skip


def bands(sheet: Polygon, width: float, along: str) -> Iterator[tuple[float, float, float, float]]:
    """Of each strip: where it lies across, and from where to where it must reach."""
    low_x, low_y, high_x, high_y = sheet.bounds
    low, high = (low_y, high_y) if along == "a" else (low_x, high_x)
    start = low
    while True:
        first, last = start + HAIR, start + width - HAIR  # what only touches a band needs no sheet
        band = (
            box(low_x - 1, first, high_x + 1, last)
            if along == "a"
            else box(first, low_y - 1, last, high_y + 1)
        )
        part = sheet.intersection(band).bounds
        yield (start, start + width, part[0 + (along == "b")], part[2 + (along == "b")])
        if start + width >= high - 1e-9:
            return
        start += width - LAP


def laid(found: Ledger, zone: int, width: int, along: str, what: str = "long") -> list[float]:
    columns = (found.column("bands", c) for c in ("zone_row", "roll_width", f"{what}_{along}"))
    rows = zip(*columns, strict=True)
    return [x for row, w, x in rows if row == zone + 1 and w == width / 1000 and x > 0]


@pytest.mark.parametrize("seed", in_turn(range(40), 20))
def test_strips_reach_as_far_as_the_sheet(seed: int) -> None:
    rng = random.Random(seed)
    outlines = [c for c in (right_angled(rng) for _ in range(25)) if len(c) > 4]
    reaches = [[rng.choice((0.05, 0.15, 0.285, 0.435)) for _ in c] for c in outlines]
    found = floors(outlines, reaches)
    compared = 0
    for n, (corners, reach) in enumerate(zip(outlines, reaches, strict=True)):
        sheet = outline(corners, reach)
        for width in WIDTHS:
            for along in "ab":
                needed = list(bands(sheet, width / 1000, along))
                if len(needed) > 10:
                    continue
                compared += 1
                lengths = [b - a for _, _, a, b in needed]
                assert laid(found, n, width, along) == pytest.approx(lengths, abs=2e-6)
    assert compared > 40


@pytest.mark.parametrize("seed", in_turn(range(20), 20))
def test_laps_are_as_long_as_the_sheet_is_there(seed: int) -> None:
    rng = random.Random(100 + seed)
    outlines = [c for c in (right_angled(rng) for _ in range(25)) if len(c) > 4]
    reaches = [[rng.choice((0.05, 0.15, 0.285)) for _ in c] for c in outlines]
    found = floors(outlines, reaches)
    for n, (corners, reach) in enumerate(zip(outlines, reaches, strict=True)):
        sheet = outline(corners, reach)
        for along in "ab":
            needed = list(bands(sheet, 4, along))
            lengths = []
            for (_, end, *_), (start, *_) in pairwise(needed):
                lap = list(bands(sheet.intersection(_across(sheet, start, end, along)), 99, along))
                lengths.append(lap[0][3] - lap[0][2])
            assert laid(found, n, 4000, along, "lap") == pytest.approx(lengths, abs=2e-6)


def _across(sheet: Polygon, start: float, end: float, along: str) -> Polygon:
    x, y, over_x, over_y = sheet.bounds
    if along == "a":
        return box(x - 1, start + HAIR, over_x + 1, end - HAIR)
    return box(start + HAIR, y - 1, end - HAIR, over_y + 1)


@pytest.mark.parametrize("seed", in_turn(range(12), 12))
def test_strips_on_splayed_floors_cover_them(seed: int) -> None:
    """Enough, if not least: each reaches past all of the sheet that lies in its band."""
    rng = random.Random(200 + seed)
    outlines = [splayed(rng) for _ in range(15)]
    reaches = [[0.285] * len(c) for c in outlines]
    found = floors(outlines, reaches)
    for n, corners in enumerate(outlines):
        sheet = _first_along_a(corners).buffer(0.285)
        bare = _first_along_a(corners).bounds
        for along in "ab":
            low = bare[0] if along == "a" else bare[1]
            across = bare[1] if along == "a" else bare[0]
            rows = [
                row
                for row in range(len(found.column("bands", "zone_row")))
                if found.column("bands", "zone_row")[row] == n + 1
                and found.column("bands", f"long_{along}")[row] > 0
            ]
            ends = {}
            for row in rows:
                what = {
                    k: found.column("bands", k)[row]
                    for k in (f"{c}_{along}" for c in ("from", "to", "far", "near"))
                }
                first, last = (across + what[f"{k}_{along}"] for k in ("from", "to"))
                part = sheet.intersection(_across(sheet, first, last, along)).bounds
                begins, stops = (part[0], part[2]) if along == "a" else (part[1], part[3])
                start = low + what[f"near_{along}"]
                assert start <= begins + 1e-6
                assert low + what[f"far_{along}"] >= stops - 1e-6
                width = found.column("bands", "roll_width")[row]
                ends[width] = max(ends.get(width, first), last)
            top = sheet.bounds[3] if along == "a" else sheet.bounds[2]
            assert set(ends) <= {w / 1000 for w in WIDTHS}
            assert all(end >= top - 1e-6 for w, end in ends.items() if _held(sheet, w, along))


def _held(sheet: Polygon, width: float, along: str) -> bool:
    """Whether no more strips are needed than have room: ten."""
    x, y, over_x, over_y = sheet.bounds
    return (over_y - y if along == "a" else over_x - x) <= 9 * (width - LAP)


def _first_along_a(corners: Corners) -> Polygon:
    (x0, y0), (x1, y1) = corners[:2]
    angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
    return rotate(translate(Polygon(corners), -x0, -y0), -angle, origin=(0, 0))


# ---- by hand ------------------------------------------------------------------------------------

# 8 along the house, 3 out, and at its right end a leg 3 wide, 4 more out; 150 turned up all round.
L_SHAPE = ((0, 0), (8, 0), (8, 7), (5, 7), (5, 3), (0, 3))


def test_an_l_in_two_strips_from_one_roll_by_hand() -> None:
    """Sheet 8.3 × 7.3. Along A two strips of 4 m: (7.3 - 0.3) ÷ 3.7 = 1.9. The first lies from
    -0.15 to 3.85 across and touches the long part: 8.3. The second, from 3.55 on, lies on the leg
    alone: 3.3. Both come from a roll of 12.5 (11.6), and they lap over the leg, 3.3. Along B three:
    8.0 ÷ 3.7 = 2.2; the first ends at 3.85, short of the leg (4.85): 3.3; the others 7.3: 17.9.
    """
    edges = [edge(f"E{n}", "Z1", None, length, turn=turn, kind="threshold", typed_turn_up=150)
             for n, (length, turn) in enumerate(sides_of(L_SHAPE))]  # fmt: skip
    book = [product("S4", "dpm_sheet", 60, width=4000, length=12.5)]
    found = estimate(bare_job(zones=[walked_zone("Z1")], edges=edges, book=book))
    ways = {w: laid(found, 0, 4000, w) for w in "ab"}
    assert ways == {"a": pytest.approx([8.3, 3.3]), "b": pytest.approx([3.3, 7.3, 7.3])}
    row = found.column("layouts", "book_row").index(1)
    assert found.column("layouts", "direction")[row] == "along A"
    assert found.column("layouts", "roll_metres")[row] == pytest.approx(11.6)
    assert found.column("layouts", "laid_area")[row] == pytest.approx(46.4)
    assert found.column("zones", "sheet_joint")[0] == pytest.approx(3.3)
    cuts = list(zip(*(found.column("cuts", c) for c in ("mark", "length", "pieces", "rolls")),
                    strict=True))  # fmt: skip
    assert cuts == [("S4", pytest.approx(8.3), 1, 1), ("S4", pytest.approx(3.3), 1, 1)]
    assert found.column("cuts", "left_1")[1] == pytest.approx(0.9)
    assert found.column("book", "packs")[0] == 1


def test_beyond_ten_strips_each_counts_as_the_longest() -> None:
    """25 out in strips of 2 m along A: (25.3 - 0.3) ÷ 1.7 = 14.7, 15 strips of 8.3; along B there
    are (8.3 - 0.3) ÷ 1.7 = 4.7, five: two or three reach the leg."""
    shape = ((0, 0), (8, 0), (8, 25), (5, 25), (5, 3), (0, 3))
    edges = [edge(f"E{n}", "Z1", None, length, turn=turn, kind="threshold", typed_turn_up=150)
             for n, (length, turn) in enumerate(sides_of(shape))]  # fmt: skip
    book = [product("S2", "dpm_sheet", 60, width=2000, length=50)]
    found = estimate(bare_job(zones=[walked_zone("Z1")], edges=edges, book=book))
    row = found.column("layouts", "book_row").index(1)
    assert found.column("layouts", "metres_a")[row] == pytest.approx(15 * 8.3)
    # Bands from -0.15: to 1.85, 3.55, 5.25 (past 4.85, so it reaches the leg), 6.95, 8.65.
    assert found.column("layouts", "metres_b")[row] == pytest.approx(2 * 3.3 + 3 * 25.3)
