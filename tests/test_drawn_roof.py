"""A roof against its wall as it is drawn: stepped units by courses, a level tray with its weeps, by hand."""

import math

import pytest

from estimator.drawn.roof import FOOT, HIGH, LEFT, WIDE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.pens.subjects import each
from estimator.pens.views import ROOF

from .made import worked_out
from .random_jobs import random_job
from .small_jobs import bare_job, row

WALL = row("walls", mark="W1", run="open", length=8, measured_on="outside face", external_corners=0,
           internal_corners=0, ends_at_existing=0, outer_leaf=100, cavity=100, inner_leaf=100)  # fmt: skip


def drawn(**given: object) -> Ledger:
    roof = row("abutments", mark="R1", wall="W1", number=1, **given)
    return estimate(bare_job(walls=[WALL], abutments=[roof]))


def points(name: str, ledger: Ledger) -> list[list[tuple[float, float]]]:
    (lines,) = (lines for lines in ROOF.lines if lines.name == name)
    return [[(round(x, 4), round(y, 4)) for x, y in s] for s in lines.strokes(ledger)]


def test_one_slope_by_hand() -> None:
    """2.2 m at 45°: a course of 75 mm is climbed every 75 mm, 2200 / 75 = 29.3: 30 units, the last cut
    short. Up they reach 2250 mm, more than 2200 along: 56 / 2.25 = 24.889 of the frame to a metre."""
    found = drawn(kind="one slope", length=2.2, pitch=45)
    metre = HIGH / 2.25
    assert metre * 2.2 < WIDE
    (stairs,) = points("units", found)
    assert stairs[0] == pytest.approx((LEFT, FOOT + 0.075 * metre), abs=1e-4)
    assert stairs[1] == pytest.approx((LEFT + 0.075 * metre, FOOT + 0.075 * metre), abs=1e-4)
    assert stairs[2] == pytest.approx((LEFT + 0.075 * metre, FOOT + 0.150 * metre), abs=1e-4)
    assert max(x for x, _ in stairs) == pytest.approx(LEFT + 2.2 * metre, abs=1e-4)
    assert max(y for _, y in stairs) == pytest.approx(FOOT + 2.25 * metre, abs=1e-4)
    assert len({y for _, y in stairs}) == 30
    (roof,) = points("roof", found)
    assert roof[-1] == pytest.approx((LEFT + 2.2 * metre, FOOT + 2.2 * metre), abs=1e-4)
    assert points("units of the second slope", found) == points("level tray", found) == []
    assert found.column("roof_words", "says")[2] == (
        "Up each slope 30 units, one a course of 75 mm, each 75 mm on"
    )


@pytest.mark.parametrize("seed", range(12))
def test_no_unit_is_under_the_roof(seed: int) -> None:
    """Each tread lies on the roof's line or less than a course above it, on both slopes alike."""
    for _, ledger, _ in each(estimate(random_job(seed)), (ROOF,)):
        slopes = ledger.cell("roof_slopes")
        if not slopes or ledger.cell("roof_units") > 48:
            continue
        scale, pitch = ledger.cell("roof_scale"), math.radians(ledger.cell("roof_pitch"))
        course = ledger.cell("roof_course") / 1000
        (stairs,) = points("units", ledger)
        for (x, y), (end, _) in zip(stairs[::2], stairs[1::2], strict=True):
            over = [((y - FOOT) - math.tan(pitch) * (at - LEFT)) / scale for at in (x, end)]
            assert -1e-3 < over[1] <= over[0] < course + 1e-3
        (roof,) = points("roof", ledger)
        middle = LEFT + ledger.cell("roof_length") * scale
        if slopes == 2:
            (other,) = points("units of the second slope", ledger)
            assert [(round(2 * middle - x, 3), round(y, 3)) for x, y in other] == [
                (pytest.approx(x, abs=2e-3), pytest.approx(y, abs=2e-3)) for x, y in stairs
            ]
            assert roof[-1][1] == pytest.approx(FOOT, abs=1e-3)


def test_a_level_tray_by_hand() -> None:
    """3.6 m: from 225 mm at each end 3150 are left, 7 gaps of 450: 8 weeps, 225 from the ends.
    88 / 3.6 = 24.444 of the frame to a metre."""
    found = drawn(kind="level", length=3.6)
    metre = WIDE / 3.6
    (tray,) = points("level tray", found)
    assert tray[1:3] == [
        pytest.approx((LEFT, FOOT), abs=1e-4),
        pytest.approx((LEFT + WIDE, FOOT), abs=1e-4),
    ]
    weeps = [stroke[0][0] for stroke in points("weeps", found)]
    assert weeps == pytest.approx([LEFT + (0.225 + 0.45 * n) * metre for n in range(8)], abs=1e-3)
    assert points("units", found) == points("roof", found) == []


def test_what_has_no_room_is_said() -> None:
    """6 m at 45° are 80 courses of 75 mm; 48 are drawn."""
    found = drawn(kind="one slope", length=6.0, pitch=45)
    assert "80 (only 48 units are drawn) units" in found.column("roof_words", "says")[2]


def test_a_job_without_a_roof_has_no_drawing_of_one() -> None:
    found = worked_out("blank")
    assert list(each(found, (ROOF,))) == []
    assert found.column("roof_words", "says")[0] == "Roof: none yet"
    assert not any(points(lines.name, found) for lines in ROOF.lines if lines.name != "scale")
