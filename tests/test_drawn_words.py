"""What is written on drawings: marks of sides and runs, openings not drawn, heights; that no words meet."""

import random
from dataclasses import replace
from itertools import combinations

import pytest
from PIL import ImageFont
from shapely import Point, Polygon, box

from estimator.files.resources import DEMO_FORM
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job
from estimator.pens.subjects import each
from estimator.pens.views import (
    CUT_IN,
    CUTTING,
    ELEVATION,
    PLAN,
    ROOF,
    SECTION,
    STRIPS,
    UNITS_TO_POINT,
    View,
)

from .made import job_named, worked_out
from .random_walks import right_angled, splayed
from .small_jobs import bare_job, edge, opening, walked_zone, wall, zone
from .test_drawn import shape_drawn
from .test_walks import floors
from .walked_jobs import FREE, NEW, following, walk, walked_job

VIEWS: tuple[View, ...] = (PLAN, SECTION, STRIPS, ELEVATION, ROOF, CUT_IN, CUTTING)
FACE = ImageFont.load_default(size=100)  # a font without serifs, as wide as that of the drawings
HIGH = 0.72  # of a letter's size: its capitals, and what hangs below the line


def words(view: View, ledger: Ledger) -> list[tuple[str, Polygon]]:
    """Each text of a drawing, with the room it takes in the frame."""
    found = []
    for each_of in view.words:
        size = each_of.size * UNITS_TO_POINT
        for _, (x, y), text in each_of.each(ledger):
            if text.strip():
                wide = FACE.getlength(text) / 100 * size
                left = x if each_of.ahead else x - wide / 2
                found.append(
                    (text, box(left, y - HIGH * size / 2, left + wide, y + HIGH * size / 2))
                )
    return found


def check_words(job: Ledger, views: tuple[View, ...] = VIEWS) -> int:
    """No two words of a drawing meet, and none leaves the frame; how many there are."""
    count = 0
    for mark, ledger, seen in each(job, views):
        for view in seen:
            written = words(view, ledger)
            for (one, here), (other, there) in combinations(written, 2):
                assert here.intersection(there).area < 0.01, (mark, view.name, one, other)
            for text, room in written:
                left, _, right, _ = room.bounds
                assert 0 <= left < right <= 100, (mark, view.name, text)
            count += len(written)
    return count


@pytest.mark.parametrize(
    "name", ["demo", "form", "walked", "wrap_round", *(f"job{n}" for n in range(4))]
)
def test_no_words_meet(name: str) -> None:
    assert check_words(worked_out(name)) > 10


@pytest.mark.parametrize("seed", range(12))
def test_no_words_meet_round_a_walked_floor(seed: int) -> None:
    rng = random.Random(f"drawn {seed}")
    found = floors([(right_angled if seed % 2 else splayed)(rng)], rng)
    assert check_words(found) > 10
    shape = shape_drawn(found)
    columns = (found.column("drawn_sides", c) for c in ("label_x", "mark_y", "marked"))
    marks = [(Point(x, y), said) for x, y, said in zip(*columns, strict=True) if said != " "]
    assert marks
    # A splayed floor may be a spike, narrower than words.
    assert seed % 2 == 0 or all(shape.contains(at) for at, _ in marks)


# ---- marks of sides and of the runs they lie in ----------------------------------------------------


def marks(ledger: Ledger) -> list[str]:
    return [said for said in ledger.column("drawn_sides", "marked") if said != " "]


def test_sides_bear_their_marks_and_those_of_the_runs_they_name() -> None:
    """In the demo E1 is a joint, and names no run."""
    found = worked_out("demo")
    assert marks(found) == ["E1", "E2 W4", "E3 W2", "E4 W3", "E5 W1", "E6 W1"]


def test_a_run_that_follows_the_floor_is_written_at_its_sides_only() -> None:
    """Of the walked L: the old walls, the joint and the free edge are in no run."""
    said = set(marks(worked_out("walked")))
    assert {"Z1-1", "Z1-2 W1", "Z1-4 W1", "Z1-10", "Z1-13"} < said
    assert not {"Z1-1 W1", "Z1-10 W1", "Z1-13 W1"} & said


RING = [("A1", 7.2), ("B1", 4.6), ("A2", 7.2), ("B2", 4.6)]


def room(*named: tuple[str, str | None]) -> Ledger:
    """A room of 7.2 × 4.6 m; of each side its mark, and the run it names."""
    sides = [
        edge(mark, "Z1", side, length, wall=run)
        for (mark, run), (side, length) in zip(named, RING, strict=True)
    ]
    runs = {run: wall(run, 5) for _, run in named if run}
    return estimate(bare_job(zones=[zone("Z1", 7.2, 4.6)], edges=sides, walls=list(runs.values())))


def test_marks_that_are_too_long_give_way() -> None:
    """Eight letters at most: the run's mark goes first, then the side's own, and that is counted."""
    found = room(("north", "W1"), ("east", "run 1"), ("southern wall", None), ("W", "W1"))
    assert found.column("drawn_sides", "marked")[:4] == ["north W1", "east", " ", "W W1"]
    assert found.column("drawn_words", "says")[1] == "Inside faces, m. Sides: 4; without ref: 1"


# ---- openings that are not drawn ---------------------------------------------------------------------


def not_drawn(ledger: Ledger) -> str:
    return str(ledger.column("elevation_words", "says")[2])


def test_an_elevation_names_what_it_does_not_draw() -> None:
    """Of the demo W5: the air bricks O6 have no place, the meter box has."""
    job, _ = job_named("demo")
    found = estimate(replace(job, particulars={**job.particulars, "drawn_run": "W5"}))
    assert not_drawn(found) == "Openings with a place: 1. Not drawn, place not given: O6"
    placed = estimate(replace(job, particulars={**job.particulars, "drawn_run": "W3"}))
    assert not_drawn(placed) == "Openings with a place: 1"


def test_more_than_five_are_counted() -> None:
    openings = [opening(f"O{n}", "W1") for n in range(1, 9)]
    found = estimate(bare_job(walls=[wall("W1", 9)], openings=openings))
    assert not_drawn(found) == (
        "Openings with a place: 0. Not drawn, place not given: O1, O2, O3, O4, O5 and 3 more"
    )
    assert [mark for mark, *_ in each(found, (ELEVATION,))] == ["W1"], "it is drawn all the same"


def test_the_plan_names_what_it_does_not_draw() -> None:
    """Of the walked job O1, two windows, has no place in the L's run; O2 is in another."""
    assert worked_out("walked").column("drawn_words", "says")[2] == (
        "Openings placed in its run: 5. Not drawn, place not given: O1"
    )
    assert worked_out("walked").column("drawn_words", "says")[3] == " "
    assert worked_out("demo").column("drawn_words", "says")[2] == (
        "Openings are not drawn: no wall run follows this floor"
    )


# ---- heights in the section ----------------------------------------------------------------------------


def test_the_heights_of_the_section_are_in_figures() -> None:
    """The demo's floor Z1 at E2, in W4: its DPC 150 above the ground, 150 asked, and 150 below the
    floor; the DPM under 65 screed, 120 insulation, 150 slab. The sheet goes up 335 - 150, and on to
    the DPC by 100."""
    said = worked_out("demo").column("drawn_labels", "says")
    assert said[1] == "Depths in mm, levels in m. Leaves of run W4"
    assert said[3] == "Sheet turned up 285 mm: 185 on the wall, 100 on the DPC"
    assert said[10:] == [
        "DPC 150 mm below the finished floor. DPM 335 mm below the finished floor",
        "DPC above the ground: 150 mm; asked: 150 mm",
        " ",
    ]


def test_a_height_that_is_short_says_so() -> None:
    """The first side of new wall named W1 instead, whose DPC lies 140 above the ground."""
    job, _ = job_named("demo")
    edges = [{**e, "wall": "W1" if e["mark"] == "E2" else e["wall"]} for e in job.rows["edges"]]
    found = estimate(replace(job, rows={**job.rows, "edges": edges}))
    assert found.column("drawn_labels", "says")[11] == (
        "DPC above the ground: 140 mm; asked: 150 mm, short"
    )


def test_the_step_to_another_floor_is_said() -> None:
    """The second floor lies 150 lower: its sheet goes up to that of the first."""
    job = walked_job()
    low = {"finished_level": -0.15, "formation_level": -0.7}
    zones = [{**z, **(low if z["mark"] == "Z2" else {})} for z in job.rows["zones"]]
    edges = [{**e, "kind": "step to another floor"} if e["joins"] else e for e in job.rows["edges"]]
    rows = {**job.rows, "zones": zones, "edges": edges}
    steps = []
    for mark in ("Z1", "Z2"):
        particulars = {**job.particulars, "drawn_floor": mark}
        found = estimate(replace(job, rows=rows, particulars=particulars))
        steps.append(found.column("drawn_labels", "says")[12])
    assert "Step to another floor: the sheet goes up 150 mm" in steps, steps


def test_a_walked_floor_has_the_leaves_of_the_run_that_its_side_names() -> None:
    sides = walk("Z1", (6, None, {}), (3, None, {"kind": "new wall", "dpc_level": -0.05}),
                 (6, None, {}), (3, None, {}))  # fmt: skip
    sides[1]["wall"] = "W2"
    found = estimate(
        bare_job(zones=[walked_zone("Z1")], edges=sides, walls=[following(), wall("W2", 3)])
    )
    assert found.column("drawn_labels", "says")[1].endswith("Leaves of run W2")


def test_a_ref_of_an_opening_too_long_for_the_plan_is_counted() -> None:
    """Openings on the side to the right, where the frame ends: eight letters have room."""
    placed = [
        opening(mark, "W1", side="E2", first_jamb=at, width=0.91)
        for mark, at in (("WINDOW-1", 0.3), ("WINDOW-10", 2))
    ]
    floor = walk("Z1", (6, None, FREE), (4, None, NEW), (6, None, NEW), (4, None, NEW))
    sides = [{**e, "mark": f"E{n}"} for n, e in enumerate(floor, 1)]
    found = estimate(
        bare_job(
            zones=[walked_zone("Z1")], edges=sides, walls=[following("W1", "Z1")],
            openings=placed,
        )
    )  # fmt: skip
    assert found.column("drawn_openings", "label")[:2] == ["WINDOW-1", " "]
    assert found.column("drawn_words", "says")[2] == "Openings placed in its run: 2; without ref: 1"
    assert check_words(found) > 10


def test_a_plan_says_where_no_threshold_is_to_be_set_out() -> None:
    """The form's front has the door's threshold first, and nobody says where the door is."""
    form = estimate(read_job(DEMO_FORM)).column("drawn_words", "says")
    assert form[3] == "Set no threshold out by this plan: not every place is given"
