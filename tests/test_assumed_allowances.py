"""Where neither the basis nor the job states a figure, common practice is assumed, and said."""

from dataclasses import replace

import pytest

from estimator.language.ledger import Ledger, is_available
from estimator.model import reports
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.plan import bases, plan

from .random_jobs import EVERY_OWN
from .small_jobs import bare_job, opening, turned_up, wall, zone


def without(job: Job, *keys: str, basis: str = "nhbc_2024") -> Job:
    """The job on that basis, with no figure of its own for these keys."""
    own = {k: v for k, v in job.own.items() if k not in keys}
    return replace(
        job, own=own, override={}, particulars={**job.particulars, "basis_choice": basis}
    )


def standing(ledger: Ledger, line: str) -> str:
    return str(ledger.figure("lines", ledger.column("lines", "key").index(line) + 1, "standing"))


def source(ledger: Ledger, key: str) -> str:
    _, row = plan().keyed[key]
    return str(ledger.figure("allowances", row, "from_where"))


SLAB = bare_job(
    zones=[zone("Z1", 3, 4)],
    edges=turned_up("Z1", 3, 4, 150),
    walls=[wall("W1", 10)],
    openings=[opening("O1", "W1"), opening("O2", "W1")],
)
AIR_BRICK = opening("O3", "W1", kind="air brick", width=0.225, height=0.075, lintel=None)


def test_nothing_is_taken_from_a_document_that_the_job_does_not_follow() -> None:
    """A standard that covers the lintel's ends asks nothing past them: the tray is the lintel, 2.1 m.

    Past the closer: 1.81 + 2 × 0.025 = 1.86, the shorter. The specification's 150 mm past each end
    would have made it 2.4 m.
    """
    ledger = estimate(without(SLAB, *EVERY_OWN))
    assert ledger.figure("openings", 1, "tray_length") == pytest.approx(2.1)
    assert is_available(ledger.cell("quote_total")), "a first price is not blocked"


@pytest.mark.parametrize("basis", [b.name for b in bases()])
def test_a_job_without_a_figure_of_its_own_has_a_price(basis: str) -> None:
    ledger = estimate(without(SLAB, *EVERY_OWN, basis=basis))
    assert ledger.cell("figures_missing") == 0
    assert is_available(ledger.cell("quote_total"))
    word = "Quotation" if basis == "common_practice" else "Estimate"
    assert ledger.cell("document_word") == word


def test_only_what_rests_on_the_assumed_figure_is_provisional() -> None:
    """550 − 65 − 120 − 150 − 50 = 165 mm of hardcore: 3 × 4 × 0.165 × common practice's 2.2 = 4.356."""
    ledger = estimate(without(SLAB, "hardcore_density"))
    [stone] = [r for r in reports.rows_of(ledger, "lines", {"key": "key", "net": "net"})
               if r["key"] == "hardcore"]  # fmt: skip
    assert stone["net"] == pytest.approx(4.356)
    assert source(ledger, "hardcore_density") == "assumed, common practice"
    assert standing(ledger, "hardcore") == "provisional"
    assert [standing(ledger, k) for k in ("blinding", "dpm", "trays", "inserts")] == ["firm"] * 4
    assert ledger.cell("document_word") == "Estimate"
    assert estimate(without(SLAB)).cell("document_word") == "Quotation"
    assert "1 line rests on figures assumed" in " ".join(reports.notes(ledger))


def test_what_the_job_does_not_use_is_not_asked() -> None:
    """A slab, a wall and two windows: no roof, no timber frame, no void, no opening without lintel."""
    asked = {r["key"] for r in reports.assumed(estimate(without(SLAB, *EVERY_OWN)))}
    assert asked == {
        *("dpm_dpc_lap", "blinding_thickness", "blinding_density", "hardcore_density"),
        *("dpc_projection", "sill_turn_up", "tray_build_in", "tray_lap", "weep_from_end"),
    } - {"dpm_dpc_lap"}, "every turn-up is typed: nothing is dressed on to a DPC by the allowance"


def test_an_air_brick_brings_its_own_figure() -> None:
    """Past a lintel is not past an air brick: the second is asked when there is one."""
    with_brick = replace(SLAB, rows={**SLAB.rows, "openings": [*SLAB.rows["openings"], AIR_BRICK]})
    for job, expected in ((SLAB, "firm"), (with_brick, "provisional")):
        ledger = estimate(without(job, "tray_past_opening"))
        assert standing(ledger, "trays") == expected
    assert source(ledger, "tray_past_opening") == "assumed, common practice"


def test_the_order_of_whose_figure_counts() -> None:
    """Override, basis, own, common practice: the tray's rise is 140 by the standard, 150 usual."""
    key = "tray_rise"
    job = without(SLAB, key)
    assert estimate(job).cell(key) == 140
    assert estimate(replace(job, override={key: 160})).cell(key) == 160
    silent = without(SLAB, key, basis="england_adc_2013")
    assert estimate(silent).cell(key) == 150
    assert estimate(replace(silent, own={**silent.own, key: 145})).cell(key) == 145
