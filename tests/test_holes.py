"""Holes in floors: worked by hand, against shapely, and what is refused."""

import random
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from shapely import MultiPoint, Polygon, box

from estimator.errors import JobError
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_checks import check_job
from estimator.model.locations import InJobFile
from estimator.pens.views import PLAN, STRIPS

from .hosts import by_libreoffice, figures
from .made import SMALL_ROOM, laid_out
from .random_walks import Corners, right_angled, sides_of, splayed
from .small_jobs import bare_job, edge, turned_up, walked_zone, zone
from .test_drawn import in_frame, shape_drawn
from .test_parity import differences
from .test_walks import from_first_side

BREAST = {"kind": "existing wall, DPC unknown", "typed_turn_up": 285}
TOUCHES = 0.005  # m: as walks close, and as docs/workbook.md says of holes


def hole(
    mark: str, zone_mark: str, size: Sequence[float], place: Sequence[float], **given: Any
) -> dict[str, Any]:
    """An edge round a hole; a free one unless a kind is given."""
    names = ("hole_along_a", "hole_along_b", "hole_from_a", "hole_from_b")
    given = dict(zip(names, (*size, *place), strict=True)) | given
    return edge(mark, zone_mark, None, None, **given)


def with_edges(job: Job, *edges: dict[str, Any]) -> Job:
    return replace(job, rows={**job.rows, "edges": [*job.rows["edges"], *edges]})


def room(*holes: dict[str, Any]) -> Job:
    """6 × 4 m, the sheet turned up 285 mm all round."""
    return with_edges(bare_job(zones=[zone("Z1", 6, 4)], edges=turned_up("Z1", 6, 4, 285)), *holes)


def of_floor(found: Ledger, *names: str) -> list[Any]:
    return [found.figure("zones", 1, n) for n in names]


def test_a_breast_and_a_stair_in_a_room_worked_by_hand() -> None:
    """A chimney breast of 1.2 × 0.4 m clear of the walls, and a stair of 2.2 × 0.9 m with a free edge."""
    breast = hole("H1", "Z1", (1.2, 0.4), (2, 1.5), **BREAST)
    stair = hole("H2", "Z1", (2.2, 0.9), (3.6, 0.5))
    job = room(breast, stair)
    check_job(job, InJobFile("test"))
    found = estimate(job)
    # 6 × 4 - 1.2 × 0.4 - 2.2 × 0.9 = 24 - 0.48 - 1.98; hardcore 165 mm deep.
    assert of_floor(found, "net_area") == pytest.approx([21.54])
    assert of_floor(found, "hardcore_volume") == pytest.approx([21.54 * 0.165])
    assert of_floor(found, "sheet_area", "insulated_area") == pytest.approx([21.54, 21.54])
    # Turned up round the room, 20 m, and the breast, 2 × (1.2 + 0.4) = 3.2 m; not at the stair.
    assert of_floor(found, "turned_up") == pytest.approx([23.2])
    assert [found.figure("edges", n, "side_length") for n in (5, 6)] == pytest.approx([3.2, 6.2])
    assert [found.figure("edges", n, "seal") for n in (5, 6)] == pytest.approx([3.2, 0])
    assert [found.figure("edges", n, "strip") for n in (5, 6)] == pytest.approx([3.2, 0])
    # The four corners of the breast. A rectangle has no internal corner of its own.
    assert of_floor(found, "corner_patches", "holes", "walk_fault", "edges_agree") == [4, 2, 0, 1]
    # Cut out of the sheet are 400 mm: 200 to turn up, and 285 are wanted. So a band of 285 + 300 mm
    # (the lap), 3.2 m long: once across the 4 m, or the 6 m, of the room.
    assert of_floor(found, "upstands_a", "upstands_b") == pytest.approx([0.585, 0.585])
    # Sheet 6.57 × 4.57 m. From a roll 4 m wide two strips either way: the short way, 4.57 + 0.585 m
    # each; their lap is as long as it was.
    assert of_floor(found, "sheet_a", "sheet_b") == pytest.approx([6.57, 4.57])
    laid = [found.figure("layouts", 1, n) for n in ("strip_length", "roll_metres", "joint")]
    assert laid == pytest.approx([5.155, 10.31, 4.57])


def test_what_is_cut_out_turns_up_where_it_is_long_enough() -> None:
    """Of a shaft 0.6 m wide 300 mm to each side: a turn-up of 300 mm needs no more sheet, 301 mm does."""
    for turn_up, more in ((300, 0), (301, 0.601)):
        shaft = hole("H1", "Z1", (0.6, 0.6), (2, 1), **{**BREAST, "typed_turn_up": turn_up})
        assert of_floor(estimate(room(shaft)), "upstands_a") == pytest.approx([more])


def test_a_long_hole_takes_several_bands() -> None:
    """2 × (3 + 0.2) = 6.4 m round. Across 4 m, less a lap of 0.3 m, two bands; across 6 m two."""
    found = estimate(room(hole("H1", "Z1", (3, 0.2), (1, 1), **BREAST)))
    assert of_floor(found, "upstands_a", "upstands_b") == pytest.approx([1.17, 1.17])


def test_a_hole_in_a_new_wall_makes_no_side_external_and_no_run() -> None:
    """A shaft built of new wall: the sheet is bonded to its DPC, 6 × 0.5 m round; nothing else moves."""
    new = {"kind": "new wall", "dpc_level": -0.05}  # the DPM lies at -0.335
    found = estimate(room(hole("H1", "Z1", (1, 0.5), (2, 1), **new)))
    row = {n: found.figure("edges", 5, n) for n in ("external", "external_run", "in_run", "bond")}
    assert row == {"external": 0, "external_run": 0, "in_run": 0, "bond": 3}
    # 285 up to the DPC, and dressed on to it by 100 mm or as the guidance says.
    assert found.figure("edges", 5, "rise") == pytest.approx(285)


def jobs_of(corners: Corners) -> Job:
    edges = [
        edge(f"E{n}", "Z1", None, length, turn=turn, number=n)
        for n, (length, turn) in enumerate(sides_of(corners), 1)
    ]
    return bare_job(zones=[walked_zone("Z1")], edges=edges)


def holes_in(
    shape: Polygon, rng: random.Random, count: int
) -> list[tuple[float, float, float, float]]:
    """Rectangles in and about a shape, half a millimetre off whole ones: never just at a side."""
    left, top, right, bottom = (round(x * 1000) for x in shape.bounds)
    found = []
    for _ in range(count):
        a, b = rng.randint(left - 300, right), rng.randint(top - 300, bottom)
        size = rng.randint(50, 900), rng.randint(50, 900)
        found.append((a / 1000 + 0.0005, b / 1000 + 0.0005, size[0] / 1000, size[1] / 1000))
    return found


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("draw", [right_angled, splayed])
def test_holes_agree_with_shapely(draw: Any, seed: int) -> None:
    """Which are inside, clear of sides and of each other; the area that is left. The sheet finds all
    of a right-angled floor, and the job file of any."""
    rng = random.Random(f"{draw.__name__} {seed}")
    sound = 0
    for _ in range(15):
        corners = draw(rng)
        shape, job = from_first_side(corners), jobs_of(corners)
        places = holes_in(shape, rng, rng.randint(1, 2))
        edges = [hole(f"H{n}", "Z1", (c, d), (a, b)) for n, (a, b, c, d) in enumerate(places)]
        job = with_edges(job, *edges)
        rng.shuffle(job.rows["edges"])
        boxes = [box(a, b, a + c, b + d) for a, b, c, d in places]
        near = [b.buffer(TOUCHES, join_style="mitre") for b in boxes]
        inside = all(shape.contains(b) for b in near)
        apart = not any(b.intersects(other) for n, b in enumerate(near) for other in boxes[n + 1 :])
        refused = ""
        try:
            check_job(job, InJobFile("test"))
        except JobError as error:
            refused = str(error)
        assert (refused == "") == (inside and apart), (corners, places, refused)
        found = estimate(job)
        fault = 0 if inside and apart else 8 if not inside else 9
        if draw is right_angled:
            assert of_floor(found, "walk_fault") == [fault], (corners, places)
        if not refused:
            sound += 1
            left = shape.area - sum(b.area for b in boxes)
            assert of_floor(found, "net_area", "walk_fault") == pytest.approx([left, 0], rel=1e-9)
            assert of_floor(found, "turned_up", "sides_walked") == [0, len(corners)]
            columns = (found.column("edges", c) for c in ("round_hole", "side_length"))
            listed = sum(length for of_hole, length in zip(*columns, strict=True) if of_hole)
            assert listed == pytest.approx(sum(b.length for b in boxes))
    assert sound


REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    "not all of it is typed": (
        {"hole_from_b": None},
        "edges[5].hole_from_b_m: found nothing; accepted: a number from -60 to 60 m.",
    ),
    "a length too": (
        {"length": 3.2},
        "edges[5].length_m: found 3.2; accepted: none for a hole: its sizes say how long its sides are.",
    ),
    "a side too": (
        {"side": "A1"},
        "edges[5].side: found 'A1'; accepted: none for a hole: its sizes say how long its sides are.",
    ),
    "a threshold": (
        {"kind": "threshold", "typed_turn_up": 285},
        "edges[5].kind: found 'threshold'; accepted: of a hole new wall, existing wall with DPC, "
        "existing wall, DPC unknown, partition, free.",
    ),
    "across a side": (
        {"hole_from_a": 5.2},
        "edges[5].hole_from_a_m: found 'a hole across side 2 of its floor, or at it'; accepted: a hole inside its floor, clear of its sides. Walk the edges round anything at a side.",
    ),
    "at a side": (
        {"hole_from_a": 0},
        "edges[5].hole_from_a_m: found 'a hole across side 4 of its floor, or at it'; accepted: a hole inside its floor, clear of its sides. Walk the edges round anything at a side.",
    ),
    "outside": (
        {"hole_from_a": 7},
        "edges[5].hole_from_a_m: found 'a hole outside its floor'; accepted: a hole inside its floor, clear of its sides. Walk the edges round anything at a side.",
    ),
}


@pytest.mark.parametrize("what", REFUSED)
def test_a_hole_that_cannot_be_is_refused_in_one_sentence_and_stops_the_total(what: str) -> None:
    given, sentence = REFUSED[what]
    job = room({**hole("H1", "Z1", (1.2, 0.4), (2, 1.5)), **given})
    with pytest.raises(JobError) as refused:
        check_job(job, InJobFile("test"))
    assert str(refused.value) == f"test: {sentence}"
    found = estimate(job)
    assert 0 in (found.figure("zones", 1, "edges_agree"), found.figure("edges", 5, "edge_agrees"))


def test_two_holes_that_touch_are_refused() -> None:
    job = room(hole("H1", "Z1", (1, 1), (1, 1)), hole("H2", "Z1", (1, 1), (2, 1.5)))
    with pytest.raises(
        JobError, match="a hole that overlaps or touches hole H1'; accepted: holes clear"
    ):
        check_job(job, InJobFile("test"))
    found = estimate(job)
    assert of_floor(found, "walk_note") == ["holes that meet"]


@pytest.mark.parametrize("seed", range(6))
def test_holes_are_drawn_where_they_lie(seed: int) -> None:
    """Round each as large as it is to scale, at its place from the floor's first corner; on the plan
    and on the drawing of the sheet."""
    rng = random.Random(f"holes drawn {seed}")
    corners = right_angled(rng)
    shape = from_first_side(corners)
    places = holes_in(shape, rng, 6)
    found = estimate(
        with_edges(
            jobs_of(corners),
            *(hole(f"H{n}", "Z1", (c, d), (a, b)) for n, (a, b, c, d) in enumerate(places)),
        )
    )
    inside = [n for n, (a, b, c, d) in enumerate(places) if shape.contains(box(a, b, a + c, b + d))]
    frame = in_frame(shape, found.cell("drawn_past"))
    scale = found.cell("drawn_scale")
    left, back = shape.bounds[0], shape.bounds[1]
    for view in (PLAN, STRIPS):
        lines = next(lines for lines in view.lines if lines.name == "holes")
        drawn = [MultiPoint(stroke).convex_hull for stroke in lines.strokes(found)]
        for n in inside:
            a, b, c, d = places[n]
            x, y = frame.bounds[0] + (a - left) * scale, frame.bounds[3] - (b - back) * scale
            expected = box(x, y - d * scale, x + c * scale, y)
            assert min(p.symmetric_difference(expected).area for p in drawn) < 1e-6
    assert f"Sides: {len(corners)}" in found.column("drawn_words", "says")[1]
    assert found.column("drawn_words", "says")[1].endswith("; holes: 6")
    assert shape_drawn(found).symmetric_difference(frame).area < 1e-4 * frame.area


@pytest.mark.host
def test_holes_that_cannot_be_are_found_by_the_sheet_itself(tmp_path: Path) -> None:
    """A sound hole and each fault, a room for each: every formula as LibreOffice works it out."""
    given = ({}, *(given for given, _ in REFUSED.values()))
    marks = [f"Z{n}" for n in range(1, len(given) + 2)]
    job = with_edges(
        bare_job(
            zones=[zone(m, 6, 4) for m in marks],
            edges=[e for m in marks for e in turned_up(m, 6, 4, 285)],
        ),
        *({**hole(f"H{m}", m, (1.2, 0.4), (2, 1.5), **BREAST), **g}
          for m, g in zip(marks, given, strict=False)),
        hole("H", marks[-1], (1, 1), (1, 1)),
        hole("I", marks[-1], (1, 1), (1.5, 1.5)),
    )  # fmt: skip
    ledger = estimate(job, SMALL_ROOM)
    assert ledger.column("zones", "walk_fault")[: len(marks)] == [0, 8, 0, 0, 0, 8, 8, 8, 9]
    assert ledger.column("edges", "hole_misfit")[36:46] == [0, 1, 1, 1, 1, 0, 0, 0, 0, 0]
    built, data = laid_out(ledger, SMALL_ROOM)
    path = tmp_path / "holes.xlsx"
    path.write_bytes(data)
    (shown,) = by_libreoffice([path], tmp_path / "shown").values()
    assert list(differences(built, figures(shown))) == []
