"""Whole jobs worked by hand: jambs, thresholds, base trays, parapets, tray units, flashings."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from estimator.errors import JobError
from estimator.estimate import estimate
from estimator.job import Job
from estimator.rules import NOT_AVAILABLE
from estimator.rules.evaluate import Ledger

from .small_jobs import STOCK, SUPPLIER, bare_job, opening, product, wall


def given(job: Job, **particulars: Any) -> Job:
    return replace(job, particulars={**job.particulars, **particulars})


def net(ledger: Ledger) -> Mapping[str, float]:
    """What each line of the quantities needs, net."""
    return dict(zip(ledger.column("lines", "key"), ledger.column("lines", "net"), strict=True))


def bought(ledger: Ledger, code: str) -> dict[str, Any]:
    """What is taken of one product."""
    at = [b["code"] for b in ledger.rows["book"]].index(code) + 1
    return {c: ledger.figure("book", at, c) for c in ("net", "laid", "packs", "left")}


def of_opening(**given: Any) -> Job:
    return bare_job(walls=[wall("W1", 20)], openings=[opening("O1", "W1", **given)])


# ---- jambs ---------------------------------------------------------------------------------


def test_closers_are_cut_whole_from_stock_lengths() -> None:
    """Two windows 1.2 m high, 100 closers of 2.4 m: 4 pieces of 1.2, two to a length, 2 lengths."""
    ledger = estimate(of_opening(number=2, closer=100))
    assert net(ledger)["closers"] == pytest.approx(4.8)
    assert net(ledger)["jamb_dpc"] == 0
    assert bought(ledger, "CLOSER")["packs"] == 2


def test_what_is_left_of_the_closers_shows() -> None:
    """1.3 m high: one piece to a length of 2.4: 4 lengths hold 9.6 m, 5.2 laid, 4.4 left over."""
    ledger = estimate(of_opening(number=2, height=1.3, closer=100))
    found = bought(ledger, "CLOSER")
    assert found["packs"] == 4
    assert (found["laid"], found["left"]) == pytest.approx((5.2, 4.4))


def test_closers_carry_no_wastage_even_when_it_is_switched_on() -> None:
    """4 pieces of 1.2 m from 2 lengths; 50 % of nothing that is joined."""
    job = replace(of_opening(number=2, closer=100), wastage={SUPPLIER: {"closer": 50}},
                  wastage_applies={"closer": 1})  # fmt: skip
    assert bought(estimate(job), "CLOSER")["packs"] == 2


def test_a_jamb_dpc_is_bought_and_the_closer_only_places_the_tray() -> None:
    """2 x 2 x 1.2 = 4.8 m of DPC; the tray: 1.81 + 2 x (0.100 + 0.025) = 2.06, the lintel 2.10."""
    ledger = estimate(of_opening(number=2, closer=100, jamb_dpc=150))
    assert net(ledger)["closers"] == 0
    assert net(ledger)["jamb_dpc"] == pytest.approx(4.8)


def test_a_closer_is_at_least_as_wide_as_asked() -> None:
    """A 101 closer is not served by one of 100; one longer than its stock length is refused too."""
    assert estimate(of_opening(closer=101)).cell("needs_uncovered") == 1
    assert estimate(of_opening(closer=100, height=2.5)).cell("needs_uncovered") == 1
    assert estimate(of_opening(closer=100, height=2.4)).cell("needs_uncovered") == 0


def test_the_narrowest_closer_that_covers_is_taken() -> None:
    """A 50 closer from 65 or 100, the 65 dearer: the 65."""
    stock = [*STOCK, product("C65", "closer", price=30, width=65, length=2.4)]
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1", closer=50)], book=stock)
    ledger = estimate(job)
    assert bought(ledger, "C65")["packs"] == 1
    assert bought(ledger, "CLOSER")["packs"] == 0


# ---- openings ------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["meter box", "flue or duct"])
def test_small_openings_have_a_small_tray_and_the_fewest_weeps(kind: str) -> None:
    """0.45 m, no lintel: tray 0.45 + 2 x 0.025 = 0.5; (500 - 450) / 450, up to 1; 1 + 1 = 2."""
    job = replace(of_opening(kind=kind, width=0.45, lintel=None), override={"tray_past_lintel": 0})
    ledger = estimate(job)
    found = net(ledger)
    assert found["trays"] == pytest.approx(0.5)
    assert (found["stop_ends"], found["inserts"]) == (2, 2)
    assert (found["sill_dpc"], found["jamb_dpc"], found["closers"]) == (0, 0, 0)


def test_a_lintel_that_forms_the_tray() -> None:
    """2.1 m lintel, 150 past it: 2.4 m of tray nil; stop ends 2; weeps 6 as over any 2.4 m."""
    found = net(estimate(of_opening(lintel_tray="yes")))
    assert (found["trays"], found["stop_ends"], found["inserts"]) == (0, 2, 6)


def test_a_lintel_that_forms_the_tray_has_a_length() -> None:
    with pytest.raises(JobError, match="lintel_m"):
        of_opening(lintel_tray="yes", lintel=None)
    job = of_opening()
    rows = [{**job.rows["openings"][0], "lintel_tray": "yes", "lintel": None}]
    ledger = estimate(replace(job, rows={**job.rows, "openings": rows}))
    assert ledger.cell("openings_disagree") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE


def test_a_level_threshold() -> None:
    """Two doors of 2.4 m: 2 x 2.7 = 5.4 m net; ends 4 x 0.075 = 0.3; channel 2 x 2.4 = 4.8 m.

    Width 102.5 + 100 + 75 = 277.5: the 450 roll. The channel is by others and is not bought.
    """
    job = of_opening(kind="level-access door", number=2, width=2.4, lintel=2.7, height=2.1)
    ledger = estimate(job)
    found = net(ledger)
    assert found["threshold_trays"] == pytest.approx(5.4)
    laps = dict(zip(ledger.column("lines", "key"), ledger.column("lines", "laps"), strict=True))
    assert laps["threshold_trays"] == pytest.approx(0.3)
    assert found["channels"] == pytest.approx(4.8)
    assert found["sill_dpc"] == 0
    assert bought(ledger, "CHANNEL")["packs"] == 0
    scope = ledger.column("scope_lines", "counted")
    assert "Drainage channels at thresholds" in scope


def test_threshold_trays_cut_in_one_piece() -> None:
    """Seven thresholds of 2.85 m with their turn-ups, two from a 6 m roll of 300: 4 rolls.

    Net they are 7 x 2.7 = 18.9 m, which would be 7 pieces of 2.7 but only 6.6 of 2.85: seven are
    cut. The 3.0 m head trays need a 450 roll: (2.7 + 0.3), six to a roll of 20 m: 2 rolls.
    """
    stock = [*STOCK, product("T300", "tray_roll", width=300, length=6)]
    door = {"kind": "level-access door", "number": 7, "width": 2.4, "lintel": 2.7, "height": 2.1}
    job = bare_job(walls=[wall("W1", 40)], openings=[opening("O1", "W1", **door)], book=stock)
    ledger = estimate(given(job, tray_joints="one piece"))
    assert bought(ledger, "T300")["packs"] == 4
    assert bought(ledger, "TRAY450")["packs"] == 2
