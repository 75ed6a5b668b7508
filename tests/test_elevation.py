"""The elevation of a wall: where its points are, by hand and against the openings' own places; weeps on perpends."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.drawn.elevation import HIGH, LEFT, TOP, WIDE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.pens.views import ELEVATION
from estimator.takeoff.openings import weep_room, weeps_over
from estimator.takeoff.weep_places import weep_end, weep_place, weep_units

from .made import made, worked_out
from .small_jobs import bare_job, row

NAMES = [lines.name for lines in ELEVATION.lines]


def lines(name: str, ledger: Ledger) -> list[list[tuple[float, float]]]:
    return list(ELEVATION.lines[NAMES.index(name)].strokes(ledger))


def wall(mark: str = "W1", length: float = 8.8, **given: object) -> dict[str, object]:
    given = {"run": "open", "measured_on": "outside face", "external_corners": 0} | given
    return row("walls", mark=mark, length=length, internal_corners=0, ends_at_existing=0,
               outer_leaf=100, cavity=100, inner_leaf=100, **given)  # fmt: skip


def opening(mark: str, width: float, height: float, **given: object) -> dict[str, object]:
    given = {"wall": "W1", "kind": "window", "number": 1} | given
    return row("openings", mark=mark, width=width, height=height, **given)


def drawn(*openings: dict[str, object], **of_wall: object) -> Ledger:
    return estimate(bare_job(walls=[wall(**of_wall)], openings=list(openings)))


def test_a_wall_by_hand() -> None:
    """8.8 m in 88 of the frame: 10 to a metre. Heads at 2.1 m and 0.45 of wall over them are 25.5
    down from 84: the DPC is at 58.5, the ground 150 mm below it at 57. The window of 1.2 m hangs
    from 2.1: its sill is at 0.9, so 67.5 in the frame. Its lintel of 1.8 m has 150 mm of tray past
    each end: 2.1 m, about the middle at 2.6 m, from 1.55 to 3.65.
    """
    found = drawn(opening("O1", 1.2, 1.2, lintel=1.8, first_jamb=2.0), dpc_height=150)
    assert (LEFT, WIDE, TOP) == (7, 88, 84)
    assert lines("DPC", found) == [[pytest.approx((7, 58.5)), pytest.approx((95, 58.5))]]
    (ground,) = lines("ground", found)
    assert [y for _, y in ground] == pytest.approx([57, 57])
    (box,) = lines("openings", found)
    assert {(round(x, 6), round(y, 6)) for x, y in box} == {
        (27, 67.5),
        (39, 67.5),
        (39, 79.5),
        (27, 79.5),
    }
    (tray,) = lines("trays and stop ends", found)
    assert tray[1:3] == [pytest.approx((22.5, 79.5)), pytest.approx((43.5, 79.5))]
    assert tray[0] == pytest.approx((22.5, 81.5))
    assert tray[3] == pytest.approx((43.5, 81.5))
    # 2100 less 2 × 225 is 1650: 450 apart makes 4 gaps, 5 weeps; 8 bricks of 225 are 1800, so the
    # outer ones stand 150 from the ends: at 150, 600, 1050, 1500, 1950 of the tray.
    weeps = [stroke[0][0] for stroke in lines("weeps", found)]
    assert weeps == pytest.approx([24, 28.5, 33, 37.5, 42])
    assert found.column("elevation_openings", "says")[0] == (
        "O1: 2.000 to 3.200, tray 1.550 to 3.650, 2 stop ends, 5 weeps: first 150 from each end,"
        " at most 450 apart"
    )


def test_a_tray_may_begin_before_the_run() -> None:
    """A window of 1.2 m from 0.2 m on, its tray of 2.1 m about the middle at 0.8 m: from 0.25 before."""
    found = drawn(opening("O1", 1.2, 1.2, lintel=1.8, first_jamb=0.2))
    said = found.column("elevation_openings", "says")[0]
    assert said.startswith("O1: 0.200 to 1.400, tray 0.250 before start to 1.850, 2 stop ends")


def test_heights_are_typed_or_follow_the_line_of_heads() -> None:
    """A door of 2.4 m lifts the line of heads; what has no jambs lies on the DPC; typed is typed."""
    found = drawn(
        opening("D", 0.9, 2.4, kind="raised door", first_jamb=0.5),
        opening("O", 1.0, 1.0, first_jamb=2.0),
        opening("H", 1.0, 0.6, first_jamb=4.0, sill_height=1.2),
        opening("A", 0.225, 0.15, kind="air brick", first_jamb=6.0),
    )
    sills, heads = (found.column("elevation_openings", c)[:4] for c in ("sill", "head"))
    assert sills == pytest.approx([0, 1.4, 1.2, 0])
    assert heads == pytest.approx([2.4, 2.4, 1.8, 0.15])
    said = found.column("elevation_words", "says")
    assert said[3].startswith("Sill height not given: 3 of them.")


def test_a_floors_run_is_seen_from_outside() -> None:
    """Walked with the floor on its right it begins on the right; each jamb lies where its place says."""
    found = worked_out("walked")
    marks = [mark for mark in found.column("walls", "mark") if mark]
    seen = 0
    for run in marks:
        ledger = chosen("walked", run)
        if not ledger.cell("elevation_all"):
            continue
        at = found.column("walls", "mark").index(run)
        length = found.column("walls", "length_in_use")[at]
        floor = found.column("walls", "follows_row")[at]
        rows = [
            (begin, end)
            for begin, end, placed, of in zip(
                *(found.column("openings", c) for c in ("begins", "ends", "placed", "wall_row")),
                strict=True,
            )
            if placed == 1 and of == at + 1
        ]
        scale = ledger.cell("elevation_scale")
        assert length * scale <= WIDE + 1e-9
        assert (ledger.cell("elevation_up") + ledger.cell("elevation_down")) * scale <= HIGH + 1e-9
        right = floor and found.column("zones", "turned_round")[int(floor) - 1] > 0
        for (begin, end), box in zip(rows, lines("openings", ledger), strict=True):
            wanted = sorted(LEFT + (length - m if right else m) * scale for m in (begin, end))
            assert [min(x for x, _ in box), max(x for x, _ in box)] == pytest.approx(wanted)
            seen += 1
    assert seen >= 5


def chosen(name: str, run: str) -> Ledger:
    job = made(name).job
    return estimate(replace(job, particulars={**job.particulars, "drawn_run": run}))


@given(
    length=st.integers(min_value=230, max_value=9000),
    unit=st.sampled_from([225, 300, 450]),
    first=st.integers(min_value=1, max_value=4),
    step=st.integers(min_value=1, max_value=6),
    fewest=st.integers(min_value=1, max_value=4),
)
def test_weeps_stand_on_perpends(
    length: int, unit: int, first: int, step: int, fewest: int
) -> None:
    """Whole bricks apart, no nearer than one, no farther than allowed; both ends alike and, where all
    that are asked for have room, no farther from the tray's ends than allowed."""
    asked = weeps_over(length / 1000, first * unit, step * unit, fewest)
    count = int(min(asked, weep_room(length / 1000, unit)))
    if not count:
        return
    units = weep_units(count, length / 1000, first * unit, unit)
    end = weep_end(length / 1000, units, unit)
    places = [weep_place(n, count, end, units, step * unit, unit) for n in range(1, count + 1)]
    assert places[0] == pytest.approx(end)
    assert places[-1] == pytest.approx(length - end)
    at = [(place - end) / unit for place in places]
    assert at == pytest.approx([round(n) for n in at], abs=1e-6), "on perpends"
    at = [round(n) for n in at]
    assert end >= unit / 2 - 1e-6, "half a brick to the stop end"
    gaps = [b - a for a, b in pairwise(at)]
    assert all(gap >= 1 for gap in gaps)
    if count == asked:
        assert all(gap <= step for gap in gaps)
        assert end <= first * unit + 1e-6


def test_what_has_no_room_is_said() -> None:
    """A tray of 6.3 m over a door of 6 m: 14 weeps, of which 8 are drawn; 13 openings, of which 12."""
    wide = drawn(opening("O1", 6.0, 2.1, lintel=6.0, first_jamb=1.0))
    assert wide.column("elevation_openings", "weeps_seen")[0] == 14
    assert len(lines("weeps", wide)) == 8
    assert "of each opening the first 8 drawn" in wide.column("elevation_words", "says")[8]
    many = drawn(*(opening(f"O{n}", 0.5, 1.0, first_jamb=n * 0.6) for n in range(13)))
    assert "13 (only 12 openings are drawn)" in many.column("elevation_words", "says")[2]
    assert len(lines("openings", many)) == 12


def test_an_opening_without_a_place_is_not_drawn() -> None:
    found = drawn(opening("O1", 1.2, 1.2))
    assert lines("openings", found) == lines("trays and stop ends", found) == []
    assert found.column("elevation_words", "says")[2].startswith("Openings with a place: 0")
    blank = worked_out("blank")
    assert not any(lines(name, blank) for name in NAMES if name != "scale")
    assert blank.column("elevation_words", "says")[0] == "Elevation: no wall yet"


def test_corners_of_the_run_are_dotted() -> None:
    """The first floor's run, where its sides turn: each corner at the sum of the lengths before it."""
    found = worked_out("walked")
    runs = [n for n, floor in enumerate(found.column("walls", "follows_row")) if floor]
    ledger = chosen("walked", found.column("walls", "mark")[runs[0]])
    corners = [
        to
        for to, corner, zone in zip(
            *(found.column("edges", c) for c in ("run_to", "run_corner", "zone_row")), strict=True
        )
        if corner == 1 and zone == found.column("walls", "follows_row")[runs[0]]
    ]
    begins, way = ledger.cell("elevation_begins"), ledger.cell("elevation_way")
    wanted = sorted(begins + to * way for to in corners)
    assert sorted(stroke[0][0] for stroke in lines("corners", ledger)) == pytest.approx(wanted)
    assert corners
