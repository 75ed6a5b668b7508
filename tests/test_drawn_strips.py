"""The strips of sheet as they are drawn: they cover the sheet, lap as asked, and are as long as they are cut."""

import random
from itertools import pairwise

import pytest
from shapely import Polygon, box, unary_union

from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.pens.subjects import each
from estimator.pens.views import STRIPS

from .made import worked_out
from .random_walks import right_angled
from .small_jobs import bare_job, edge, zone
from .test_drawn import shape_drawn
from .test_walks import floors

LAP = 0.3  # m, NHBC Standards 2024, 5.1: laps of at least 300 mm


def strips(ledger: Ledger) -> list[Polygon]:
    lines = next(lines for lines in STRIPS.lines if lines.name == "strips")
    return [Polygon(stroke) for stroke in lines.strokes(ledger)]


def test_a_rectangle_by_hand() -> None:
    """7.2 × 4.6 m, 71 / 7.2 = 9.8611 of the frame to a metre. Turned up 200 on A1, 150 on all others.

    A roll 4 m wide, laps of 300. Along A, 7.5 m long: 4.95 m across take two strips, 15.0 m of roll;
    along B, 4.95 m long: 7.5 m across take (7.5 - 0.3) / 3.7, 2 strips, 9.9 m of roll: along B. From
    the left, 0.15 m past it, to 4.0 m on; the next from 3.7 m on, trimmed to 7.5 m.
    """
    edges = [
        edge(side, "Z1", side, 4.6 if side[0] == "B" else 7.2, kind="threshold",
             typed_turn_up=200 if side == "A1" else 150)
        for side in ("A1", "B1", "A2", "B2")
    ]  # fmt: skip
    found = estimate(bare_job(zones=[zone("Z1", 7.2, 4.6)], edges=edges))
    assert found.cell("drawn_past") == pytest.approx(0.2), "farthest past A1"
    metre, floor = 71 / 7.2, shape_drawn(found).bounds
    one, two = strips(found)
    assert (one.bounds[0] - floor[0]) / metre == pytest.approx(-0.15)
    assert (one.bounds[2] - one.bounds[0]) / metre == pytest.approx(4.0)
    assert (two.bounds[0] - one.bounds[0]) / metre == pytest.approx(3.7)
    assert (two.bounds[2] - floor[2]) / metre == pytest.approx(0.15)
    for strip in (one, two):
        assert (strip.bounds[3] - floor[3]) / metre == pytest.approx(0.2), "past the back"
        assert (floor[1] - strip.bounds[1]) / metre == pytest.approx(0.15), "past the front"
    assert found.column("drawn_strips", "says")[:3] == ["Strip 1: 4.950 m", "Strip 2: 4.950 m", " "]
    assert found.column("sheet_words", "says")[1:3] == [
        "Strips: 2, along B (down the drawing)",
        "From a roll 4.000 m wide",
    ]


@pytest.mark.parametrize("seed", range(16))
def test_strips_cover_the_floor_and_lap(seed: int) -> None:
    """Whatever the shape: no point of the floor is bare, and each lap is as wide as asked."""
    rng = random.Random(f"strips drawn {seed}")
    found = floors([right_angled(rng)], rng)
    drawn = strips(found)
    if found.cell("strips_count") > len(drawn):
        return
    assert drawn
    scale = found.cell("drawn_scale")
    assert shape_drawn(found).difference(unary_union(drawn).buffer(1e-6)).area < 1e-6
    down = found.cell("strips_along_b") == 0
    for before, after in pairwise(drawn):
        first, second = before.bounds, after.bounds
        lap = second[3] - first[1] if down else first[2] - second[0]
        assert lap / scale == pytest.approx(LAP, abs=1e-6)
    long = [s.bounds[2] - s.bounds[0] if down else s.bounds[3] - s.bounds[1] for s in drawn]
    assert [size / scale for size in long] == pytest.approx(
        found.column("drawn_strips", "strip_long")[: len(drawn)], abs=1e-6
    )


@pytest.mark.parametrize("seed", range(16))
def test_the_sheet_stays_in_the_frame_below_its_words(seed: int) -> None:
    """However small the floor: words above it end at 87 of the frame, its list begins at 16."""
    rng = random.Random(f"small floors {seed}")
    wide, deep = rng.uniform(0.8, 9), rng.uniform(0.8, 9)
    edges = [
        edge(side, "Z1", side, deep if side[0] == "B" else wide, kind="threshold",
             typed_turn_up=rng.choice((100, 150, 300)))
        for side in ("A1", "B1", "A2", "B2")
    ]  # fmt: skip
    found = estimate(bare_job(zones=[zone("Z1", wide, deep)], edges=edges))
    left, bottom, right, top = unary_union(strips(found)).bounds
    assert (left > 0, right < 100, top < 87.6, bottom > 18) == (True,) * 4


@pytest.mark.parametrize("job", ["walked", "demo"])
def test_each_floor_is_drawn_and_its_strips_are_those_that_are_bought(job: str) -> None:
    """As many as its layout counts, and together as long: the metres of roll laid."""
    seen = 0
    for _, ledger, _ in each(worked_out(job), (STRIPS,)):
        drawn = strips(ledger)
        row = int(ledger.cell("strips_layout")) - 1
        count, metres = (
            ledger.column("layouts", name)[row] for name in ("strip_count", "roll_metres")
        )
        assert len(drawn) == count
        assert sum(ledger.column("drawn_strips", "strip_long")) == pytest.approx(metres)
        assert unary_union(drawn).contains(box(*shape_drawn(ledger).representative_point().bounds))
        seen += 1
    assert seen == 2


def test_a_floor_without_a_sheet_has_no_drawing_of_it() -> None:
    found = worked_out("blank")
    assert strips(found) == []
    assert list(each(found, (STRIPS,))) == []
