"""Strips on floors with splays, exactly: against shapely, against the sheet's figures, by hand, in `cut`.

What is to be covered is drawn here by shapely: the floor, a band past each side, and what goes round
external corners: a rectangle between two sides at right angles, else a part of a disk.
"""

import json
import math
import random
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from shapely import MultiPolygon, Point, Polygon, box, unary_union
from shapely.affinity import rotate, translate

from estimator.cli.main import main
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.sourcing.exact_strips import Part, Sector, parts, sides_of
from estimator.sourcing.stock import cut_from_stock

from .conftest import in_turn
from .made import SMALL_ROOM, laid_out, worked_out
from .random_walks import Corners, right_angled, splayed
from .random_walks import sides_of as walk_of
from .small_jobs import bare_job, edge, product, walked_zone
from .test_strips import floors, outline

ALONG = (("a", "b"), ("b", "a"))


def covered(corners: Corners, reaches: Sequence[float]) -> Polygon:
    """The sheet of a splayed floor as it lies flat, its first side along A and B to its right."""
    floor = Polygon(corners)
    found = [floor]
    count = len(corners)
    for n, (here, then) in enumerate(zip(corners, [*corners[1:], corners[0]], strict=True)):
        x, y = then[0] - here[0], then[1] - here[1]
        long = math.hypot(x, y)
        for sign in (1, -1):
            out = (sign * y / long, -sign * x / long)
            near = Point(
                (here[0] + then[0]) / 2 + out[0] * 1e-6, (here[1] + then[1]) / 2 + out[1] * 1e-6
            )
            if not floor.contains(near):
                far = [
                    (px + out[0] * reaches[n], py + out[1] * reaches[n]) for px, py in (then, here)
                ]
                found.append(Polygon([here, then, *far]))
        after = (n + 1) % count
        two = corners[(n + 2) % count]
        # At an external corner the part of a disk that lies past the ends of both sides.
        inner = _angle(here, then, two, floor)
        if inner < 180 - 1e-9:
            disk = Point(then).buffer(max(reaches[n], reaches[after]), quad_segs=720)
            back = (then[0] - x / long, then[1] - y / long)
            to = math.hypot(two[0] - then[0], two[1] - then[1])
            ahead = (then[0] + (two[0] - then[0]) / to, then[1] + (two[1] - then[1]) / to)
            found.append(disk.intersection(_beyond(then, back)).intersection(_beyond(then, ahead)))
    whole = unary_union([part for part in found if part.area > 0])
    (x0, y0), (x1, y1) = corners[:2]
    angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
    return rotate(translate(whole, -x0, -y0), -angle, origin=(0, 0))


def _angle(
    one: tuple[float, float], at: tuple[float, float], two: tuple[float, float], floor: Polygon
) -> float:
    """The angle inside the floor at a corner, in degrees."""
    before = math.atan2(one[1] - at[1], one[0] - at[0])
    after = math.atan2(two[1] - at[1], two[0] - at[0])
    turn = math.degrees(after - before) % 360
    return turn if not floor.exterior.is_ccw else 360 - turn


def _beyond(at: tuple[float, float], back: tuple[float, float]) -> Polygon:
    """The half of a wide square about a point that lies away from another point."""
    x, y = at[0] - back[0], at[1] - back[1]
    square = box(0, -9, 9, 9)
    turned = rotate(square, math.degrees(math.atan2(y, x)), origin=(0, 0))
    return translate(turned, *at)


def strips_of(
    found: Ledger, zone: int, along: str, across: str
) -> list[tuple[float, float, float, list[Part]]]:
    """Of each strip of the list: what it covers across, its length in the sheet, and its parts."""
    columns = ("zone_row", f"long_{along}", f"from_{along}", f"to_{along}")
    rows = zip(*(found.column("bands", c) for c in columns), strict=True)
    sides = sides_of(found, zone, along, across)
    return [
        (first, last, long, parts(sides, first, last))
        for row, long, first, last in rows
        if row == zone and long
    ]


@pytest.mark.parametrize("seed", in_turn(range(20), 5))
def test_parts_cover_a_splayed_floor_and_are_no_longer_than_the_sheets(seed: int) -> None:
    """Ten floors each: two hundred in all. Turn-ups differ from side to side."""
    rng = random.Random(f"exact {seed}")
    outlines = [splayed(rng) for _ in range(10)]
    reaches = [[rng.choice((0.05, 0.15, 0.285, 0.435)) for _ in c] for c in outlines]
    found = floors(outlines, reaches)
    compared = less = 0
    for zone, (corners, reach) in enumerate(zip(outlines, reaches, strict=True), 1):
        sheet = covered(corners, reach)
        low_a, low_b = (min(p[n] for p in _first_along_a(corners)) for n in (0, 1))
        sheet = translate(sheet, -low_a, -low_b)  # from the back of the floor, as the sheet counts
        for along, across in ALONG:
            for first, last, long, there in strips_of(found, zone, along, across):
                compared += 1
                strip = (-99, first, 99, last) if along == "a" else (first, -99, last, 99)
                part = sheet.intersection(box(*strip))
                boxes = [
                    box(a, first, b, last) if along == "a" else box(first, a, last, b)
                    for a, b in there
                ]
                assert part.difference(unary_union(boxes).buffer(1e-6)).area < 1e-9
                # No part is longer than what lies in it, but for the straight lines of shapely's disks.
                for one in boxes:
                    held = part.intersection(one).bounds
                    wanted = one.bounds
                    n = 0 if along == "a" else 1
                    assert held[n] == pytest.approx(wanted[n], abs=1e-5)
                    assert held[n + 2] == pytest.approx(wanted[n + 2], abs=1e-5)
                total = sum(b - a for a, b in there)
                assert total <= long + 1e-6, (seed, zone)  # the sheet's is rounded to six places
                less += total < long - 0.01
    assert compared > 50
    assert less > compared / 2


def _first_along_a(corners: Corners) -> list[tuple[float, float]]:
    (x0, y0), (x1, y1) = corners[:2]
    shape = rotate(
        translate(Polygon(corners), -x0, -y0), -math.degrees(math.atan2(y1 - y0, x1 - x0)),
        origin=(0, 0),
    )  # fmt: skip
    return list(shape.exterior.coords)


@pytest.mark.parametrize("seed", in_turn(range(8), 4))
def test_on_right_angled_floors_both_are_alike(seed: int) -> None:
    """From the first part's beginning to the last one's end; and against shapely."""
    rng = random.Random(f"alike {seed}")
    outlines = [c for c in (right_angled(rng) for _ in range(16)) if len(c) > 4]
    reaches = [[rng.choice((0.05, 0.15, 0.285)) for _ in c] for c in outlines]
    found = floors(outlines, reaches)
    for zone, (corners, reach) in enumerate(zip(outlines, reaches, strict=True), 1):
        sheet = outline(corners, reach)
        # Both count from the back of the floor; shapely's is moved there.
        (x0, y0), (x1, y1) = corners[:2]
        angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
        back = rotate(Polygon(corners), -angle, origin=(0, 0)).bounds
        sheet = translate(sheet, -back[0], -back[1])
        for along, across in ALONG:
            for first, last, long, there in strips_of(found, zone, along, across):
                assert there[-1][1] - there[0][0] == pytest.approx(long, abs=1e-9)
                strip = (-99, first + 1e-5, 99, last - 1e-5)
                part = sheet.intersection(
                    box(*strip) if along == "a" else box(first + 1e-5, -99, last - 1e-5, 99)
                )
                pieces = part.geoms if isinstance(part, MultiPolygon) else [part]
                n = 0 if along == "a" else 1
                lying = _joined([(p.bounds[n], p.bounds[n + 2]) for p in pieces])
                assert there == [pytest.approx(span, abs=1e-6) for span in lying]


def _joined(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for begins, ends in sorted(spans):
        if found and begins <= found[-1][1] + 1e-6:
            found[-1] = found[-1][0], max(found[-1][1], ends)
        else:
            found.append((begins, ends))
    return found


def test_a_sector_by_hand() -> None:
    """A quarter of a disk of 1 m about 0, to the right and up: from 0.6 up to 0.8 it lies from 0 to 0.8."""
    quarter = Sector((0, 0), 1, (1, 0), (0, 1))
    assert quarter.within(0, 5) == pytest.approx((0, 1))
    assert quarter.within(0.6, 0.8) == pytest.approx((0, 0.8))
    assert quarter.within(-1, 0) is None
    assert quarter.within(1, 2) is None
    # Half of a right angle, up to 45 degrees: at most 1 to the right, and 0.5 up from 0.5 to 0.866.
    narrow = Sector((0, 0), 1, (1, 0), (math.sqrt(0.5), math.sqrt(0.5)))
    assert narrow.within(0.5, 2) == pytest.approx((0.5, math.sqrt(0.75)))


# A room of 6 m along the house and 3 m out, whose right-hand corner is cut off: 3 m along and 3 out.
CUT_OFF = ((0, 0), (6, 0), (3, 3), (0, 3))


Rows = list[dict[str, Any]]


def cut_off(long: float) -> tuple[Rows, Rows]:
    """Its edges, and rolls 2 m wide: one so long, one of 6 m."""
    edges = [edge(f"E{n}", "Z1", None, length, turn=turn, kind="free")
             for n, (length, turn) in enumerate(walk_of(CUT_OFF))]  # fmt: skip
    book = [product("S", "dpm_sheet", 60, width=2000, length=long),
            product("T", "dpm_sheet", 40, width=2000, length=6)]  # fmt: skip
    return edges, book


def test_a_corner_cut_off_by_hand() -> None:
    """Nothing turns up. Strips of 2 m along A, 0.3 m lapped: from 0 to 2, and from 1.7 to 3.7. The splay
    runs from 6 m at the back to 3 m at the front, so the second is 6 - 1.7 = 4.3 m; the sheet counts 6.
    Along B: from 0 to 2 and 1.7 to 3.7 the floor is 3 m out, from 3.4 to 5.4 on 3 - 0.4 = 2.6, from 5.1
    on 0.9; there too the sheet counts 3."""
    edges, book = cut_off(25)
    found = estimate(bare_job(zones=[walked_zone("Z1")], edges=edges, book=book))
    for (along, across), exact, counted in zip(
        ALONG, ([6, 4.3], [3, 3, 2.6, 0.9]), ([6, 6], [3, 3, 3, 3]), strict=True
    ):
        strips = strips_of(found, 1, along, across)
        assert [long for _, _, long, _ in strips] == pytest.approx(counted)
        assert [b - a for _, _, _, ((a, b),) in strips] == pytest.approx(exact)


SPLAYED = (
    "  floor Z1 has splays: strips counted 6.000, 6.000, exactly 6.000, 4.300 m\n"
    "  all floors as they are laid, the least for strips counted: 2 × T, £80.00, for exact ones: "
    "1 × S, £60.00. For comparison: the job orders what is counted.\n"
)


def test_what_cut_says_of_it(tmp_path: Path) -> None:
    """Strips of 6 and 6 m take two rolls of 6 m, £80; 6 and 4.3 m come from one of 10.3 m, £60."""
    edges, book = cut_off(10.3)
    job = bare_job(zones=[walked_zone("Z1")], edges=edges, book=book)
    path = tmp_path / "splayed.xlsx"
    path.write_bytes(laid_out(estimate(job, SMALL_ROOM), SMALL_ROOM)[1])
    said = CliRunner().invoke(main, ["cut", str(path)])
    assert said.exit_code == 0, said.output
    assert SPLAYED in said.output
    answer = CliRunner().invoke(main, ["cut", str(path), "--json"])
    (stock,) = json.loads(answer.output)["stock"]
    assert stock["splayed"] == [{"floor": "Z1", "strips_m": [6, 6], "exact_m": [6, 4.3]}]
    assert (stock["least_by_strips"], stock["least_exact"]) == (80, 60)


def test_a_floor_without_splays_has_no_such_line() -> None:
    stocks = cut_from_stock(worked_out("demo"))
    assert stocks
    assert all((s.splayed, s.counted, s.exact) == ((), None, None) for s in stocks)
