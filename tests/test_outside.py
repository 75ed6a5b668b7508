"""The main job against things outside the project: geometry by shapely, decimals, plain counting."""

import random
from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from estimator.buying.packing import rolls_for
from estimator.language import rounding
from estimator.takeoff.layouts import strips
from estimator.takeoff.openings import weeps_over
from estimator.takeoff.walls import moved

PLANS = {
    "rectangle": box(0, 0, 10, 6),
    "L": unary_union([box(0, 0, 10, 6), box(0, 6, 4, 11)]),
    "T": unary_union([box(0, 0, 12, 5), box(4, 5, 8, 10)]),
    "U": unary_union([box(0, 0, 12, 4), box(0, 4, 4, 9), box(8, 4, 12, 9)]),
    "steps": unary_union([box(0, 0, 12, 3), box(0, 3, 8, 6), box(0, 6, 4, 9)]),
}


def corners(plan: Polygon) -> tuple[int, int]:
    """External and internal corners of a right-angled plan, counted from its outline."""
    points = list(plan.simplify(0).exterior.coords)[:-1]
    outward = inward = 0
    for a, b, c in zip(points[-1:] + points, points, points[1:] + points[:1], strict=False):
        cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        outward, inward = (outward + 1, inward) if cross > 0 else (outward, inward + 1)
    return (outward, inward) if plan.exterior.is_ccw else (inward, outward)


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("inwards", [51.25, 176.25, 352.5, -100])
def test_moving_a_wall_is_offsetting_its_plan(name: str, inwards: float) -> None:
    """shapely 2: mitred offset of the outline = the rule of 2 × shift × (external - internal)."""
    plan = PLANS[name]
    external, internal = corners(plan)
    assert external - internal == 4
    offset = plan.buffer(-inwards / 1000, join_style="mitre")
    assert moved(plan.length, inwards, external - internal) == pytest.approx(offset.length)


def covered(n: int, roll: float, lap: float) -> Decimal:
    """How far n rolls reach when each laps the one before: counted, roll by roll, in decimals."""
    reach = Decimal(str(roll))
    for _ in range(n - 1):
        reach += Decimal(str(roll)) - Decimal(str(lap))
    return reach


@given(
    metres=st.integers(1, 40000).map(lambda n: n / 100),
    roll=st.sampled_from([8, 12.5, 20, 25, 30]),
    lap=st.sampled_from([0, 0.1, 0.15, 0.3]),
)
def test_rolls_bought_are_the_fewest_that_reach(metres: float, roll: float, lap: float) -> None:
    n = rolls_for(metres, lap, roll)
    wanted = Decimal(str(metres))
    assert covered(n, roll, lap) >= wanted
    assert n == 1 or covered(n - 1, roll, lap) < wanted


@given(
    across=st.integers(50, 2000).map(lambda n: n / 100),
    width=st.sampled_from([2, 3, 4]),
    lap=st.sampled_from([100, 150, 300]),
)
def test_strips_are_the_fewest_that_cover(across: float, width: float, lap: float) -> None:
    n = strips(across, width, lap)
    wanted = Decimal(str(across))
    assert covered(n, width, lap / 1000) >= wanted
    assert n == 1 or covered(n - 1, width, lap / 1000) < wanted


@given(
    across=st.integers(50, 2000).map(lambda n: n / 100),
    more=st.integers(0, 200),
    lap=st.sampled_from([100, 150, 300]),
)
def test_more_lap_never_needs_fewer_strips(across: float, more: int, lap: float) -> None:
    assert strips(across, 4, lap + more) >= strips(across, 4, lap)


@given(st.integers(20, 1200).map(lambda n: n / 100), st.sampled_from([225, 450, 675, 900]))
def test_weeps_are_the_fewest_within_the_limits(metres: float, step: float) -> None:
    """Set out one by one from 225 in: no gap above the step, and one fewer would leave one."""
    n = weeps_over(metres, 225, step, 2)
    span = Decimal(str(metres)) * 1000 - 450
    assert span <= (n - 1) * step
    assert n == 2 or span > (n - 2) * step


@given(st.integers(0, 10_000_000), st.integers(0, 4000))
def test_pence_are_rounded_half_up_as_in_decimals(pence: int, tenths: int) -> None:
    """Python's decimal module on the exact product = the rule on the binary one."""
    price, percent = pence / 100, tenths / 10
    exact = Decimal(pence) / 100 * Decimal(tenths) / 10 / 100
    wanted = exact.quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert rounding.pence(price * percent / 100) == float(wanted)


def test_whole_units_on_a_grid_of_exact_divisions() -> None:
    """(a + b) / s for centimetres that divide exactly: never one too many."""
    r = random.Random(7)
    for _ in range(5000):
        step, n = r.choice([0.225, 0.45, 0.9, 2.4]), r.randint(1, 40)
        part = round(r.uniform(0, step * n), 2)
        rest = float(Decimal(str(step)) * n - Decimal(str(part)))
        assert rounding.up((part + rest) / step) == n
