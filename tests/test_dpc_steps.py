"""Steps in the DPC of a wall: their places by hand, how they are drawn, what does not fit, no quantity.

The wall of test_elevation.py, 8.8 m in 88 of the frame, so 10 to a metre; it begins at 7.
"""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl.utils import column_index_from_string

from estimator.drawn.elevation import HIGH
from estimator.errors import JobError
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.pens.subjects import each
from estimator.pens.svg import as_svg
from estimator.pens.views import ELEVATION
from estimator.takeoff.dpc_steps import steps_before, steps_up_to

from .hosts import FILTERS, drive
from .made import SMALL_ROOM, laid_out
from .raw_package import parts_of, returned
from .small_jobs import bare_job, row, walked_zone
from .test_drawn import check_kept
from .test_elevation import drawn, lines, opening, wall
from .test_opening_places import DOOR, L_SHAPE, window
from .walked_jobs import following, walk

STEPS: dict[str, Any] = {
    "steps": 3,
    "step_rise": 150,
    "first_step": 2.0,
    "step_spacing": 1.5,
    "step_way": "down",
}


def corners(name: str, found: Ledger) -> list[tuple[float, float]]:
    (line,) = lines(name, found)
    return [(round(x, 6), round(y, 6)) for x, y in line]


def says(found: Ledger, name: str) -> str:
    names = list(found.column("elevation_words", "name"))
    return str(found.column("elevation_words", "says")[names.index(name)])


def test_the_dpc_goes_down_in_steps_by_hand() -> None:
    """Steps at 2.0, 3.5 and 5.0 m are at 27, 42 and 57; 150 mm are 1.5. The DPC begins at 58.5 and ends
    at 54; the ground is 200 mm, 2, below each part of it and goes 3 past both ends of the wall."""
    found = drawn(opening("O1", 1.2, 1.2, first_jamb=0.3), dpc_height=200, **STEPS)
    treads = [(7, 58.5), (27, 58.5), (27, 57), (42, 57), (42, 55.5), (57, 55.5), (57, 54), (95, 54)]
    assert corners("DPC", found) == treads
    ground = [(x, y - 2) for x, y in treads]
    assert corners("ground", found) == [(4, 56.5), *ground[1:-1], (98, 52)]
    assert (
        says(found, "steps")
        == "Steps in the DPC: 3, down 150 mm, at 2.000 m from the start, then every 1.500 m, the last at "
        "5.000 m"
    )
    assert says(found, "DPC") == "DPC"
    assert says(found, "ground's depth") == (
        "Ground at its highest: 200 mm below each part of the DPC. Sills typed: above the DPC at the start."
    )
    # The wall is seen 150 mm below the ground at the low end: 0.45 + 0.2 + 0.15 m.
    assert min(y for line in lines("ends", found) for _, y in line) == pytest.approx(58.5 - 8)


def test_the_dpc_goes_up_in_steps_by_hand() -> None:
    """One step of 300 mm up, 6 m along: at 67, from 58.5 to 61.5."""
    up = {"steps": 1, "step_rise": 300, "first_step": 6.0, "step_way": "up"}
    found = drawn(opening("O1", 1.2, 1.2, first_jamb=0.3), **up)
    assert corners("DPC", found) == [(7, 58.5), (67, 58.5), (67, 61.5), (95, 61.5)]
    assert says(found, "steps") == "Steps in the DPC: 1, up 300 mm, at 6.000 m from the start"
    assert says(found, "ground's depth") == "Sills typed: above the DPC at the start."
    # Twelve steps of 300 mm end above the heads: 3.6 m and 0.45 of wall over it are seen, and all fits.
    high = drawn(opening("O1", 1.2, 1.2, first_jamb=0.3), **up | {"steps": 12, "step_spacing": 0.2})
    scale = high.cell("elevation_scale")
    assert high.cell("elevation_up") == pytest.approx(4.05)
    assert (4.05 + high.cell("elevation_down")) * scale == pytest.approx(HIGH)


def test_a_run_that_begins_on_the_right_has_its_steps_from_there() -> None:
    """Walked to the right, the L's run of 20 m begins on the right: 4.4 of the frame to a metre."""
    job = bare_job(
        zones=[walked_zone("Z1")],
        edges=walk("Z1", *L_SHAPE),
        walls=[following(dpc_height=150, **STEPS)],
        tie_ins=[row("tie_ins", mark="T1", wall="W1", number=2, height=2.4)],
        openings=[window("O1", 0.5)],
    )
    found = estimate(job)
    line = lines("DPC", found)[0]
    wanted = [95, *(95 - 4.4 * at for at in (2, 2, 3.5, 3.5, 5, 5)), 7]
    assert [x for x, _ in line] == pytest.approx(wanted)
    assert line[0][1] - line[-1][1] == pytest.approx(4.4 * 0.45)
    ground = lines("ground", found)[0]
    assert (ground[0][0], ground[-1][0]) == pytest.approx((98, 4))
    at = list(found.column("elevation_words", "name")).index("DPC")
    # The word is at the left end, where the DPC is lowest.
    assert found.column("elevation_words", "y")[at] == pytest.approx(line[-1][1] + 1.8)


def test_openings_stand_on_the_dpc_where_they_are() -> None:
    """Steps at 2.0, 3.5 and 5.0 m. A door from 2.2 to 3.1 stands 150 mm down; from 3.0 to 3.9, across a
    step, on the higher part; from 3.5, where the step is, on the lower one; an air brick at the end 450
    down. Windows hang from 2.1 m above the start; a sill of 0.6 is above the start too."""
    found = drawn(
        opening("D1", 0.9, 2.1, kind="raised door", first_jamb=2.2),
        opening("D2", 0.9, 2.1, kind="raised door", first_jamb=3.0),
        opening("D3", 0.9, 2.1, kind="raised door", first_jamb=3.5),
        opening("A1", 0.225, 0.15, kind="air brick", first_jamb=6.0),
        opening("W1", 1.0, 1.0, first_jamb=7.0),
        opening("W2", 1.0, 1.0, first_jamb=7.0, sill_height=0.6),
        **STEPS,
    )
    sills = found.column("elevation_openings", "sill")[:6]
    assert sills == pytest.approx([-0.15, -0.15, -0.3, -0.45, 1.1, 0.6])
    up = drawn(
        opening("D1", 0.9, 2.1, kind="raised door", first_jamb=1.1),  # to the step, and no farther
        opening("D2", 0.9, 2.1, kind="raised door", first_jamb=3.0),
        opening("W1", 1.0, 2.4, first_jamb=7.0),
        **STEPS | {"step_way": "up"},
    )
    # The second door lifts the line of heads to 2.4; a window as high is on the DPC, not below it.
    sills = up.column("elevation_openings", "sill")[:3]
    assert sills == pytest.approx([0, 0.3, 0.45])


@pytest.mark.parametrize("tenths", range(0, 90, 5))
def test_steps_before_a_point_are_counted_one_by_one(tenths: int) -> None:
    """0.3 m apart: figures of which none is whole in binary."""
    along, places = tenths / 10, [(7 + 3 * k) / 10 for k in range(20)]
    before = sum(at < along - 1e-9 for at in places)
    up_to = sum(at < along + 1e-9 for at in places)
    assert steps_before(along, 20, 0.7, 0.3) == before
    assert steps_up_to(along, 20, 0.7, 0.3) == up_to


def test_steps_that_have_no_place_are_counted_and_said() -> None:
    found = drawn(opening("O1", 1.2, 1.2, first_jamb=0.3), steps=3, step_rise=150, dpc_height=150)
    assert corners("DPC", found) == [(7, 58.5), (95, 58.5)]
    assert says(found, "DPC") == "DPC, drawn level; steps: 3"
    assert says(found, "steps") == " "
    assert says(found, "ground's depth") == "Ground at its highest: 150 mm below the DPC."


def test_more_steps_than_are_drawn_are_said() -> None:
    found = drawn(
        opening("A1", 0.225, 0.15, kind="air brick", first_jamb=8.0),
        **STEPS | {"steps": 14, "first_step": 0.5, "step_spacing": 0.5},
    )
    assert says(found, "steps").startswith(
        "Steps in the DPC: 14 (only 12 steps are drawn), down 150 mm, at 0.500 m"
    )
    assert len(corners("DPC", found)) == 2 + 2 * 12
    # What is drawn past the twelfth is on the DPC that is drawn.
    assert found.column("elevation_openings", "sill")[0] == pytest.approx(-12 * 0.15)


def test_a_wall_with_steps_and_no_opening_is_drawn() -> None:
    found = drawn(**STEPS)
    ((mark, ledger, (view,)),) = each(found, (ELEVATION,))
    assert mark == "W1"
    assert b"Steps in the DPC: 3, down 150 mm" in as_svg(view, ledger)
    assert list(each(drawn(), (ELEVATION,))) == []


def test_no_figure_follows_from_a_place() -> None:
    counted = {"steps": 3, "step_rise": 150}
    placed, level = (drawn(opening("O1", 1, 1), **given) for given in (STEPS, counted))
    for table, columns in (
        ("lines", ("net", "laps", "line_note")),
        ("order_lines", ("packs", "cost")),
        ("walls", ("outer_length", "inner_length", "step_laps", "step_units")),
        ("checks", ("state", "found")),
    ):
        for name in columns:
            assert placed.column(table, name) == level.column(table, name)
    assert placed.cell("quote_total") == level.cell("quote_total") > 0


# ---- what does not fit ----

FAULTS: dict[str, tuple[dict[str, Any], str, str]] = {
    "no first step": (
        {"step_spacing": 1.5, "step_way": "down"},
        "first_step_m: found nothing; accepted: where the first step is, or neither how far apart steps "
        "are nor their way.",
        "places of steps, and no first step",
    ),
    "no number": (
        {"steps": None, "step_rise": None, "first_step": 2.0, "step_way": "down"},
        "steps: found nothing; accepted: how many steps there are, where the first has a place.",
        "a first step, and no number of steps",
    ),
    "no way": (
        {"first_step": 2.0, "step_spacing": 1.5},
        "step_way: found nothing; accepted: up or down, away from the start of the run.",
        "up or down is not said of its steps",
    ),
    "not how far apart": (
        {"first_step": 2.0, "step_way": "up"},
        "step_spacing_m: found nothing; accepted: how far each step is from the one before it.",
        "how far apart its steps are is not typed",
    ),
    "at the very end": (
        {"first_step": 2.0, "step_way": "up", "step_spacing": 3.4},
        "first_step_m: found 'the last step at 8.800 m'; accepted: steps within its run, 8.800 m.",
        "its steps go past the end of the run",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_places_that_do_not_fit_are_said_and_there_is_no_total(name: str) -> None:
    given, sentence, note = FAULTS[name]
    run = wall(**{"steps": 3, "step_rise": 150, **given})
    with pytest.raises(JobError) as said:
        bare_job(walls=[run])
    assert str(said.value) == f"test: walls[1].{sentence}"
    sound = bare_job(walls=[wall()])
    found = estimate(replace(sound, rows={**sound.rows, "walls": [run]}))
    assert found.figure("walls", 1, "run_note") == note
    assert found.cell("quote_total") is NOT_AVAILABLE


def test_steps_just_within_the_run_are_taken() -> None:
    found = drawn(opening("O1", 1, 1), **STEPS | {"step_spacing": 3.399})
    assert found.figure("walls", 1, "run_note") == ""
    assert found.cell("quote_total") is not NOT_AVAILABLE


@pytest.mark.parametrize(
    ("first_jamb", "fits"), [(1.0, True), (1.01, False), (2.0, True), (3.2, False)]
)
def test_no_step_is_between_the_jambs_of_a_level_door(first_jamb: float, fits: bool) -> None:
    """A door of 1 m; steps at 2.0, 3.5 and 5.0 m. One at a jamb is beside it."""
    door = window("O1", first_jamb, **DOOR)
    sound = bare_job(walls=[wall(**STEPS)])
    found = estimate(replace(sound, rows={**sound.rows, "openings": [door]}))
    assert found.figure("openings", 1, "place_fault") == (0 if fits else 8)
    assert (found.cell("quote_total") is not NOT_AVAILABLE) == fits
    if fits:
        bare_job(walls=[wall(**STEPS)], openings=[door])
        return
    assert found.figure("openings", 1, "to_know") == "a step in the DPC is between its jambs"
    with pytest.raises(JobError) as said:
        bare_job(walls=[wall(**STEPS)], openings=[door])
    assert str(said.value) == (
        f"test: openings[1].first_jamb_m: found '{first_jamb:.3f} to {first_jamb + 1:.3f} m along its "
        "run'; accepted: a level door on one side of the step in the DPC, "
        f"{2.0 if first_jamb < 2 else 3.5:.3f} m along its run."
    )
    # A raised door, a window or an air brick may be above a step.
    raised = window("O1", first_jamb, lintel=None, kind="raised door")
    bare_job(walls=[wall(**STEPS)], openings=[raised])


# ---- in the sheet ----


def test_the_steps_move_as_they_are_typed_in_libreoffice(tmp_path: Path) -> None:
    """The first at 1 m in place of 2, and up: each point of DPC and ground, and what the chart keeps."""
    job = bare_job(
        walls=[wall(dpc_height=150, **STEPS)],
        openings=[opening("D1", 0.9, 2.1, kind="raised door", first_jamb=3.0)],
    )
    built, data = laid_out(estimate(job, SMALL_ROOM), SMALL_ROOM)
    path, saved = tmp_path / "steps.xlsx", tmp_path / "moved.xlsx"
    path.write_bytes(data)
    typed = built.layout.typed("walls")
    cells = {"first_step": 1.0, "step_way": "up"}
    steps = [
        ["retype", f"{typed.sheet}!{typed.letters[name]}{typed.first}", value]
        for name, value in cells.items()
    ]
    drive(path, [*steps, ["save", str(saved), FILTERS["xlsx"]]])
    moved = saved.read_bytes()
    assert check_kept(moved) > 1000
    found = drawn(*job.rows["openings"], dpc_height=150, **STEPS | cells)
    span = built.layout.spans["elevation_stepped"]
    stored = returned(parts_of(moved)).sheets.cells(span.sheet)
    for column in ("x", "y"):
        letter = column_index_from_string(span.letters[column])
        shown = [
            stored[span.first + n, letter].value if name else None
            for n, name in enumerate(found.column("elevation_stepped", "name"))
        ]
        wanted = [
            value if name else None
            for name, value in zip(
                *(found.column("elevation_stepped", c) for c in ("name", column)), strict=True
            )
        ]
        assert [v for v in shown if v is not None] == pytest.approx(
            [v for v in wanted if v is not None], abs=1e-9
        )
    # The door, on the second tread, lifts the heads to 2.4 m: the DPC begins at 84 - 28.5 = 55.5, and
    # goes up three times 1.5.
    assert corners("DPC", found)[-1] == (95, 60)
