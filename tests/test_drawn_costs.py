"""The bars on Prices: as long as what they say costs, one scale for all, nothing drawn of what is not known."""

import pytest

from estimator.cli.figures import money
from estimator.pens.views import COSTS

from .made import worked_out


def test_bars_of_the_demo() -> None:
    """By hand from the sums that `compare` prints: Fernbank £1,507.00, delivered free; Harrow Lane
    £1,735.17 with £30 delivery, the longest: 66 of the frame; Quayside lacks a part; as chosen
    £1,623.35. One supplier's bar is 1507.00 / 1735.17 of the longest."""
    found = worked_out("demo")
    goods, delivery = (list(lines.strokes(found)) for lines in COSTS.lines)
    ends = [max(x for x, _ in box) for box in goods]
    assert len(goods) == 4
    assert ends[0] == pytest.approx(4 + 66 * 1507.00 / 1735.17)
    assert ends[1] == pytest.approx(4 + 66 * (1735.17 - 30) / 1735.17)
    (longest,) = (max(x for x, _ in box) for box in delivery if max(x for x, _ in box) > 69.9)
    assert longest == pytest.approx(70)
    says = found.column("cost_bars", "says")
    assert says[:3] == [
        "£1507, of it delivery £0",
        "£1735, of it delivery £30",
        "not known: see above",
    ]
    assert says[-1].startswith("£1623, ")
    assert money(found.cell("cost_total")) == "£1,623.35"


def test_a_blank_job_draws_no_bar() -> None:
    found = worked_out("blank")
    assert not any(list(lines.strokes(found)) for lines in COSTS.lines)
    assert found.column("cost_bars", "says")[:5] == [" "] * 5
