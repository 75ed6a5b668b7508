"""A tray cut into an existing wall as it is drawn: bays in two passes, stop ends, weeps, by hand."""

from dataclasses import replace

import pytest
from shapely import LineString, Polygon, unary_union

from estimator.drawn.cut_in_bays import BAY_FOOT, HIGH, LEFT, LENGTH_Y, TRAY_FOOT, WIDE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.pens.subjects import each
from estimator.pens.views import CUT_IN

from .made import worked_out
from .random_jobs import random_job
from .small_jobs import bare_job, row

HOUSE = row("old_walls", mark="H1", kind="cavity, clear", outer_leaf=102.5, cavity=50)
USUAL = {"kind": "above a new roof", "number": 1, "courses": 2, "unit_length": 0.9,
         "unit_lap": 100, "bay_most": 0.9}  # fmt: skip


def drawn(**given: object) -> Ledger:
    tray = row("cut_ins", mark="C1", wall="H1", **{**USUAL, **given})
    return estimate(bare_job(old_walls=[HOUSE], cut_ins=[tray]))


def points(name: str, ledger: Ledger) -> list[list[tuple[float, float]]]:
    (lines,) = (lines for lines in CUT_IN.lines if lines.name == name)
    return list(lines.strokes(ledger))


def bays(name: str, ledger: Ledger) -> list[Polygon]:
    return [Polygon(stroke[:5]) for stroke in points(name, ledger)]


def says(ledger: Ledger) -> list[str]:
    return [str(said) for said in ledger.column("bay_words", "says")]


def test_the_bays_by_hand() -> None:
    """3.705 m above a roof: 3705 / 225 = 16.47, so 17 bricks, 3.825 m; 3.825 / 0.9 = 4.25, so 5 bays,
    each 0.765 m, three of them odd. Two courses of 75 mm. 88 / 3.825 = 23.007 of the frame to a metre."""
    found = drawn(length=3.705)
    metre = WIDE / 3.825
    first, second = bays("bays of the first pass", found), bays("bays of the second pass", found)
    for numbers, passed in (((1, 3, 5), first), ((2, 4), second)):
        assert len(passed) == len(numbers)
        for number, bay in zip(numbers, passed, strict=True):
            left = LEFT + (number - 1) * 0.765 * metre
            assert bay.bounds == pytest.approx(
                (left, BAY_FOOT, left + 0.765 * metre, BAY_FOOT + 0.15 * metre)
            )
    assert all(stroke[-1] == stroke[2] for stroke in points("bays of the first pass", found))
    together = unary_union([*first, *second])
    assert together.area == pytest.approx(3.825 * 0.15 * metre**2)
    assert sum(bay.area for bay in (*first, *second)) == pytest.approx(together.area)
    assert found.column("bay_numbers", "says") == ["1", "2", "3", "4", "5", *[" "] * 7]


def test_the_tray_by_hand() -> None:
    """Along all of it, turned up at both ends. 225 from each end 3375 are left, 15 bricks: of 450 at
    most 8 gaps, 9 weeps, the last gap a brick."""
    found = drawn(length=3.705)
    (tray,) = points("tray and stop ends", found)
    assert [x for x, _ in tray] == pytest.approx([LEFT, LEFT, LEFT + WIDE, LEFT + WIDE])
    assert tray[1][1] == tray[2][1] == TRAY_FOOT
    assert tray[0][1] == tray[3][1] > TRAY_FOOT
    metre = WIDE / 3.825
    along = [(stroke[0][0] - LEFT) / metre for stroke in points("weeps", found)]
    assert along == pytest.approx([0.225 + 0.45 * n for n in range(8)] + [3.6])
    (length,) = points("length", found)
    assert LineString(length).bounds[::2] == pytest.approx((LEFT, LEFT + WIDE))
    assert {y for _, y in length[2:4]} == {LENGTH_Y}


def test_what_it_says() -> None:
    """The demo's C1: the same tray."""
    assert says(worked_out("demo"))[:8] == [
        "Tray cut in: C1",
        "In wall H1. Bricks along it: 17; courses out: 2",
        "Bays: 5, none longer than 0.900 m",
        "Bays drawn alike, each 0.765 m. Tray units are longer, 0.900 m: settle both before opening up",
        "First pass: 3 odd bays, struck through. Second pass: 2 even bays, dashed, when the first "
        "carry again",
        "Tray below the bays: 2 stop ends; weeps: 9, first 225 mm from each end, at most 450 mm apart",
        "Bays and order: as set by the person who designs the support",
        "3.825 m",
    ]
    alike = says(drawn(length=3.705, number=2, corners=1))
    assert alike[3].startswith("Bays drawn alike, each 0.638 m; trays alike: 2. ")  # 3.825 / 6
    assert alike[6].endswith(". Drawn unrolled: no bay goes round a corner (1)")


def test_a_high_cut_over_a_short_opening_is_as_high_as_it_fits() -> None:
    """12 courses are 0.9 m, over two bricks, 0.45 m: 16 / 0.9 = 17.778 of the frame to a metre."""
    found = drawn(length=0.45, courses=12)
    (bay,) = bays("bays of the first pass", found)
    metre = HIGH / 0.9
    assert bay.bounds == pytest.approx((LEFT, BAY_FOOT, LEFT + 0.45 * metre, BAY_FOOT + HIGH))
    assert points("bays of the second pass", found) == []


def test_what_has_no_room_is_said() -> None:
    """18 m are 80 bricks; in bays of 0.9 m they are 20, of which 12 are drawn."""
    found = drawn(length=18)
    drawn_bays = bays("bays of the first pass", found) + bays("bays of the second pass", found)
    assert len(drawn_bays) == 12
    assert says(found)[2] == "Bays: 20 (only 12 bays are drawn), none longer than 0.900 m"
    assert "(only 16 weeps are drawn)" in says(found)[5]


@pytest.mark.parametrize("seed", range(12))
def test_no_bay_is_longer_than_the_designer_allows(seed: int) -> None:
    """And each is counted once: the bays drawn are the odd and the even ones of the list."""
    for mark, ledger, _ in each(estimate(random_job(seed)), (CUT_IN,)):
        at = ledger.column("cut_ins", "mark").index(mark) + 1
        scale = ledger.cell("bays_scale")
        number, most, total = (
            ledger.figure("cut_ins", at, c) for c in ("number", "bay_most", "taken")
        )
        drawn_bays = []
        for name, counted in (("first", "bays_odd"), ("second", "bays_even")):
            found = bays(f"bays of the {name} pass", ledger)
            assert len(found) == min(6, ledger.figure("cut_ins", at, counted) / number)
            drawn_bays += found
        wide = [(bay.bounds[2] - bay.bounds[0]) / scale for bay in drawn_bays]
        assert max(wide) <= most + 1e-9
        if len(wide) < 12:
            assert sum(wide) == pytest.approx(total)


def test_a_tray_that_is_not_counted_is_not_drawn() -> None:
    found = drawn(length=3, kind="stepped up a slope", pitch=30)
    assert list(each(found, (CUT_IN,))) == []
    assert says(found)[0] == "Tray cut in: none yet"
    job = bare_job(
        old_walls=[HOUSE],
        cut_ins=[row("cut_ins", mark="C1", wall="H1", **{**USUAL, "kind": "stepped up a slope"},
                     length=3)],
    )  # fmt: skip
    chosen = estimate(replace(job, particulars={**job.particulars, "drawn_cut_in": "C1"}))
    assert says(chosen)[:2] == [
        "Tray cut in: C1",
        "No level tray that is counted: designer's detail",
    ]


def test_a_job_without_one_has_no_drawing_of_one() -> None:
    found = worked_out("blank")
    assert list(each(found, (CUT_IN,))) == []
    assert not any(points(lines.name, found) for lines in CUT_IN.lines if lines.name != "scale")
