"""Drawings: where their points are, against shapely; what charts keep, against the cells they read."""

import random
import subprocess
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from lxml import etree
from openpyxl.utils import column_index_from_string, range_boundaries
from shapely import LineString, MultiLineString, Point, Polygon, affinity, polygonize, unary_union

from estimator.drawn.sides import FREE_HIGH, FREE_WIDE, HIGH, LEFT, TOP, WIDE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.pens.views import (
    COSTS,
    CUT_IN,
    CUTTING,
    ELEVATION,
    PLAN,
    ROOF,
    SECTION,
    STRIPS,
    Lines,
    View,
)
from estimator.workbook.reading.unplaced import left_behind
from estimator.workbook.refresh import refreshed, with_typed

from .hosts import FILTERS, by_libreoffice, drive, need
from .made import made, worked_out
from .random_walks import right_angled, splayed
from .raw_package import parts_of, returned
from .small_jobs import bare_job, edge, zone
from .test_walks import floors, from_first_side

VIEWS: tuple[View, ...] = (PLAN, SECTION, STRIPS, ELEVATION, ROOF, CUT_IN, CUTTING, COSTS)
SIDES = PLAN.lines[:5]  # each style of side


SIDES_OF_ONE = ("A1", "A2", "B1", "B2")


def strokes(ledger: Ledger, lines: tuple[Lines, ...]) -> list[LineString]:
    return [LineString(s) for each in lines for s in each.strokes(ledger)]


def shape_drawn(ledger: Ledger) -> Polygon:
    """The one shape that the lines of the sides go round."""
    lines = MultiLineString(strokes(ledger, SIDES))
    # Ends that meet are of one place in the drawing to a thousandth of a millimetre on paper.
    found = polygonize(unary_union(lines, grid_size=1e-6).geoms).geoms
    assert len(found) == 1
    return found[0]


def in_frame(shape: Polygon, past: float) -> Polygon:
    """A floor in metres, along A to the right and along B down, as large as it fits and in the middle:
    the floor in its room, and the sheet, so far past it, in what is free round that."""
    left, back, right, front = shape.bounds
    wide, high = right - left, front - back
    scale = min(
        *(WIDE / wide, HIGH / high),
        *((WIDE + FREE_WIDE) / (wide + 2 * past), (HIGH + FREE_HIGH) / (high + 2 * past)),
    )
    middle = LEFT + WIDE / 2, TOP - HIGH / 2
    moved = affinity.translate(shape, -(left + right) / 2, -(back + front) / 2)
    return affinity.translate(affinity.scale(moved, scale, -scale, origin=(0, 0)), *middle)


@pytest.mark.parametrize("seed", range(24))
def test_the_plan_is_the_floor_to_scale(seed: int) -> None:
    rng = random.Random(f"drawn {seed}")
    corners = (right_angled if seed % 2 else splayed)(rng)
    found = floors([corners], rng)
    # How far the sheet goes past the floor is held by test_drawn_strips.py.
    expected = in_frame(from_first_side(corners), found.cell("drawn_past"))
    drawn = shape_drawn(found)
    assert drawn.symmetric_difference(expected).area < 1e-4 * expected.area
    assert drawn.exterior.hausdorff_distance(expected.exterior) < 1e-3


def test_a_rectangle_is_drawn_whatever_the_order_of_its_edges() -> None:
    """7.2 × 4.6 m: 71 / 7.2 = 9.8611 to a metre, so 71 wide and 45.361 high; 4.2 m of A1 new."""
    edges = [
        edge("e1", "Z1", "B2", 4.6, kind="threshold", typed_turn_up=150),
        edge("e2", "Z1", "A1", 3.0, kind="free"),
        edge("e3", "Z1", "A2", 7.2, kind="threshold", typed_turn_up=150),
        edge("e4", "Z1", "A1", 4.2, kind="new wall", dpc_level=-0.05),
        edge("e5", "Z1", "B1", 4.6, kind="existing wall with DPC", dpc_level=-0.05, dress=25),
    ]
    found = estimate(bare_job(zones=[zone("Z1", 7.2, 4.6)], edges=edges))
    middle, top = TOP - HIGH / 2, TOP - HIGH / 2 + 4.6 / 2 * 71 / 7.2
    left, right = LEFT, LEFT + 71
    assert shape_drawn(found).bounds == pytest.approx((left, 2 * middle - top, right, top))
    (new,) = SIDES[0].strokes(found)
    assert sorted(new) == [
        pytest.approx((left + 3.0 * 71 / 7.2, top)),
        pytest.approx((right, top)),
    ]
    (old,) = SIDES[1].strokes(found)
    assert {round(x, 6) for x, _ in old} == {right}
    assert found.column("drawn_sides", "label")[:5] == ["4.600", "3.000", "7.200", "4.200", "4.600"]
    assert found.column("drawn_words", "says")[4:6] == ["7.200 m", "4.600 m"]


@pytest.mark.parametrize("job", ["walked", "demo"])
def test_turned_up_sheet_and_figures_are_inside_and_marks_outside(job: str) -> None:
    found = worked_out(job)
    shape = shape_drawn(found)
    for line in strokes(found, (PLAN.lines[5],)):
        assert shape.buffer(1e-6).contains(line)
        assert line.distance(shape.exterior) == pytest.approx(1.2, abs=1e-6)
    sides = zip(
        *(found.column("drawn_sides", c) for c in ("label_x", "label_y", "label")), strict=True
    )
    assert all(shape.contains(Point(x, y)) for x, y, label in sides if label != " ")
    marks = zip(
        *(found.column("drawn_openings", c) for c in ("label_x", "label_y", "label")), strict=True
    )
    assert not any(shape.contains(Point(x, y)) for x, y, label in marks if label != " ")


def test_an_opening_is_drawn_where_it_is_placed() -> None:
    """As wide as it is, its middle on its side; each between its run's corners."""
    found = worked_out("walked")
    scale = found.cell("drawn_scale")
    widths = [
        end - begin
        for end, begin, placed, floor in zip(
            *(found.column("openings", c) for c in ("ends", "begins", "placed", "floor_row")),
            strict=True,
        )
        if placed == 1 and floor == 1
    ]
    boxes = [Polygon(s) for s in PLAN.lines[6].strokes(found)]
    assert len(boxes) == len(widths) == 5
    rim = shape_drawn(found).exterior
    for box, width in zip(boxes, widths, strict=True):
        assert box.area == pytest.approx(width * scale * 1.6)
        assert box.centroid.distance(rim) == pytest.approx(0, abs=1e-6)
        assert box.intersection(rim).length == pytest.approx(width * scale)


def test_no_line_begins_where_the_one_before_it_ended() -> None:
    """LibreOffice 7.4 loses such a line, though an empty cell is between them; unless it is there twice."""
    for name in ("walked", "demo", "form"):
        found = worked_out(name)
        for lines in (lines for view in VIEWS for lines in view.lines):
            every: list[list[tuple[float, float]]] = [[]]
            for point in lines.points(found):
                every = [*every, []] if point is None else [*every[:-1], [*every[-1], point]]
            for before, after in pairwise(stroke for stroke in every if stroke):
                if len(set(after)) > 1 and set(after) != set(before):
                    assert before[-1] != after[0], (name, lines.name)


def test_the_floor_drawn_is_the_one_chosen() -> None:
    job = made("walked").job
    found = estimate(replace(job, particulars={**job.particulars, "drawn_floor": "Z2"}))
    assert found.column("drawn_words", "says")[0] == "Plan of floor Z2"
    kinds = zip(found.column("edges", "zone"), found.column("edges", "hole_along_a"), strict=True)
    sides = [zone for zone, hole in kinds if zone == "Z2" and not hole]
    assert len(strokes(found, SIDES)) == len(sides) == 4


@pytest.mark.parametrize(
    ("wide", "arm"),
    # 71 hundredths to the floor's width, 12 at most to an arm: 17.8 and 25.4 to a metre; 57.5 to its
    # depth, of one metre here.
    [(4.0, "0.500"), (2.8, "0.200"), (1.0, "0.200")],
)
def test_the_arms_of_the_scale_are_as_long_as_they_fit(wide: float, arm: str) -> None:
    ring = [edge(side, "Z1", side, wide if side[0] == "A" else 1) for side in SIDES_OF_ONE]
    found = estimate(bare_job(zones=[zone("Z1", wide, 1)], edges=ring))
    assert found.column("drawn_words", "says")[6] == f"{arm} m each way"


def test_what_has_no_room_is_said() -> None:
    """33 sides where 24 are drawn."""
    ring = [edge(f"a{n}", "Z1", "A1", 0.24) for n in range(30)]
    ring += [edge(f"b{n}", "Z1", side, 4.6) for n, side in enumerate(("B1", "B2"))]
    ring.append(edge("c", "Z1", "A2", 7.2))
    found = estimate(bare_job(zones=[zone("Z1", 7.2, 4.6)], edges=ring))
    assert found.column("drawn_words", "says")[1].startswith(
        "Inside faces, m. Sides: 33 (only 24 sides are drawn)"
    )


def test_a_blank_job_has_drawings_without_a_line() -> None:
    found = worked_out("blank")
    assert strokes(found, SIDES) == []
    assert found.column("drawn_words", "says")[0] == "Plan: no floor yet"
    assert found.column("drawn_labels", "says")[0] == "Section: no floor to draw"


def test_the_section_is_that_of_the_levels() -> None:
    """The demo's floor: 65 screed, 120 insulation, 150 slab, DPM at -335, 50 blinding, 165 hardcore.

    The wall is 102.5 + 150 + 100 and the DPC 150 below the floor: the sheet goes up 185 and lies
    100 on the DPC.
    """
    found = worked_out("demo")
    scale, left, floor = (found.cell(f"section_{n}") for n in ("scale", "left", "floor"))
    (sheet,) = SECTION.lines[6].strokes(found)
    at = [((x - left) / scale, (y - floor) / scale) for x, y in sheet]
    off = 14  # drawn beside what it lies on
    assert at == [
        pytest.approx((352.5 + 450, -335 + off)),
        pytest.approx((352.5 + off, -335 + off)),
        pytest.approx((352.5 + off, -150 + off)),
        pytest.approx((352.5 - 100, -150 + off)),
    ]
    feet = {round((y - floor) / scale, 6) for s in SECTION.lines[3].strokes(found) for _, y in s}
    assert feet == {0, -65, -185, -335, -385, -550}
    labels = [label for label in found.column("drawn_layers", "label") if label != " "]
    assert labels == [
        *("finished floor 0.000", "screed 65", "insulation 120", "slab or structure 150"),
        *("DPM -0.335", "blinding 50", "hardcore 165", "formation -0.550"),
    ]


# ---- the charts ----------------------------------------------------------------------------------


def check_kept(data: bytes) -> int:
    """Every figure and text that a chart of the file keeps is that of its cell; how many there are."""
    parts = parts_of(data)
    sheets = returned(parts).sheets
    count = 0
    for name in (n for n in parts if n.startswith("xl/charts/chart")):
        for reference in etree.fromstring(parts[name]).iter("{*}numRef", "{*}strRef"):
            sheet, _, area = reference.findtext("{*}f").rpartition("!")
            if not sheet:  # a text, as LibreOffice writes it
                continue
            left, top, right, bottom = range_boundaries(area)
            cells = [(r, c) for r in range(top, bottom + 1) for c in range(left, right + 1)]
            points = {int(p.get("idx")): p.findtext("{*}v") for p in reference.iter("{*}pt")}
            stored = sheets.cells(sheet.strip("'"))
            for number, at in enumerate(cells):
                value = stored[at].value if at in stored else None
                if isinstance(value, float):
                    assert float(points[number]) == pytest.approx(value, abs=1e-9), at
                else:
                    assert points.get(number) == value, (sheet, at)
            count += len(cells)
    return count


@pytest.mark.parametrize("name", ["demo", "walked", "blank"])
def test_charts_keep_what_their_cells_hold(name: str) -> None:
    assert check_kept(made(name).data) > 1000


@pytest.mark.parametrize("name", ["demo", "walked", "blank"])
def test_every_line_of_a_chart_is_broken_where_the_pen_lifts(name: str) -> None:
    """By a cell that is truly empty, in both columns: over all else a line goes on."""
    found = made(name)
    ledger, sheets = estimate(found.job, found.room), returned(parts_of(found.data)).sheets
    for lines in (lines for view in VIEWS for lines in view.lines):
        span = found.built.layout.spans[lines.table]
        keys = ledger.column(lines.table, ledger.plan.tables[lines.table].key)
        first, last = lines.rows or (1, len(keys))
        for n in range(first, last + 1):
            for column in (lines.x, lines.y):
                letter = column_index_from_string(span.letters[column])
                stored = sheets.cells(span.sheet).get((span.first + n - 1, letter))
                nothing = stored is None or (stored.value is None and stored.formula is None)
                assert nothing == (keys[n - 1] == ""), (lines.name, n, column)


def test_a_refresh_brings_the_charts_up_to_date() -> None:
    found = returned(parts_of(made("walked").data))
    first, rows = found.layout.typed("edges").first, found.job.rows["edges"]
    typed = {  # the long side of the L and the free one opposite: half a metre more
        ("edges", first + n, "length"): row["length"] + 0.5
        for n, row in enumerate(rows)
        if row["zone"] == "Z1" and row["length"] in (6, 1)
    }
    assert len(typed) == 2
    data, _ = refreshed(with_typed(found, typed))
    assert check_kept(data) > 1000
    assert b"<c:v>7.100 m</c:v>" in parts_of(data)["xl/charts/chart1.xml"]  # 6.6 before


def test_libreoffice_keeps_the_drawings(tmp_path: Path) -> None:
    """Saved there, both are there with their names and points. What they show in words is lost."""
    saved = by_libreoffice([made("walked").written(tmp_path)], tmp_path)["walked"].read_bytes()
    parts = parts_of(saved)
    named = [
        n.get("name")
        for part in parts
        if part.startswith("xl/drawings/drawing")
        for n in etree.fromstring(parts[part]).iter("{*}cNvPr")
    ]
    assert sorted(named) == sorted(view.title for view in VIEWS)
    assert check_kept(saved) > 1000
    assert "charts" not in " ".join(left_behind(returned(parts), {}))


def test_the_drawing_moves_as_figures_are_typed_in_libreoffice(tmp_path: Path) -> None:
    """Both sides along B three metres longer: 6.6 over all becomes 9.6, on the sheet and in its PDF."""
    found = made("walked")
    span = found.built.layout.typed("edges")
    typed = [
        ["retype", f"{span.sheet}!{span.letters['length']}{span.first + n}", row["length"] + 3]
        for n, row in enumerate(found.job.rows["edges"])
        if row["zone"] == "Z1" and row["length"] in (6, 1)
    ]
    saved = {kind: tmp_path / f"moved.{kind}" for kind in ("xlsx", "pdf")}
    saves = [["save", str(path), FILTERS[kind]] for kind, path in saved.items()]
    drive(found.written(tmp_path), [*typed, *saves])
    data = saved["xlsx"].read_bytes()
    assert check_kept(data) > 1000
    job = returned(parts_of(data)).job
    assert estimate(job).cell("drawn_extent_b") == pytest.approx(9.6, abs=1e-6)
    charts = [part for name, part in parts_of(data).items() if name.startswith("xl/charts/chart")]
    assert any(b"<c:v>9.600 m</c:v>" in chart for chart in charts)
    printed = subprocess.run(
        [need("pdftotext"), str(saved["pdf"]), "-"], check=True, capture_output=True, text=True
    ).stdout
    assert "9.600 m" in printed
    assert "Section of floor Z1" in printed


def test_a_scale_without_a_drawing_is_not_drawn() -> None:
    """Of the wrap-round house no roof is drawn: its scale is one point, as every line there."""
    found = worked_out("wrap_round")
    assert found.cell("roof_scale") == 0
    points = [(found.column("roof_pieces", a)) for a in ("x", "y")]
    assert [len(set(p)) for p in points] == [1, 1]
