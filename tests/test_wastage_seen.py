"""What wastage adds, beside where it is typed: packs and cost with it and without it, or why none."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .made import job_named, worked_out
from .small_jobs import STOCK, SUPPLIER, bare_job, edge, opening, wall, zone

SEEN = ("packs_with", "packs_without", "cost_with", "cost_without", "wastage_seen")
WHOLE, COUNTED = "not used: in whole pieces", "not used: by the piece"


def seen(ledger: Ledger, material: str) -> tuple[Any, ...]:
    at = ledger.column("materials", "key").index(material) + 1
    return tuple(ledger.figure("materials", at, c) for c in SEEN)


def floor(joints: str) -> Job:
    """A floor of 4.1 x 22.5 on a roll of 4 x 25 m: 6 strips of 4.1 m, 24.6 m; a roll is 10 pounds."""
    sides = [edge(f"E{s}", "Z1", s, 4.1 if s[0] == "A" else 22.5) for s in ("A1", "A2", "B1", "B2")]
    job = bare_job(zones=[zone("Z1", 4.1, 22.5)], edges=sides)
    job = replace(job, particulars={**job.particulars, "sheet_joints": joints})
    return replace(job, wastage={SUPPLIER: {"dpm_sheet": 5}})


def test_a_roll_that_only_wastage_asks_for() -> None:
    """A solid leaf of 29.5 m: 29.5 m is one roll of 30; with 5 % 30.975 m, two, at 10 a roll."""
    job = bare_job(walls=[wall("W1", 29.5, cavity=0, inner_leaf=0)])
    job = replace(job, wastage={SUPPLIER: {"dpc_roll": 5}})
    assert seen(estimate(job), "dpc_roll") == (2, 1, 20, 10, "")


def test_its_cost_is_at_the_price_in_use() -> None:
    """The same at 10 less 12.5 %: 8.75 a roll, 17.50 and 8.75."""
    job = bare_job(walls=[wall("W1", 29.5, cavity=0, inner_leaf=0)])
    job = replace(
        job, wastage={SUPPLIER: {"dpc_roll": 5}}, discounts={SUPPLIER: {"dpc_roll": 12.5}}
    )
    assert seen(estimate(job), "dpc_roll") == (2, 1, 17.5, 8.75, "")


def test_sheet_in_whole_strips_does_not_use_it() -> None:
    """24.6 m of a roll of 25 m is one roll, whatever percentage is typed."""
    assert seen(estimate(floor("whole strips")), "dpm_sheet") == (1, 1, 10, 10, WHOLE)


def test_sheet_in_whole_strips_uses_it_where_its_switch_says_so() -> None:
    """One roll and 5 % of it is 1.05, so two."""
    job = replace(floor("whole strips"), wastage_applies={"dpm_sheet": 1})
    assert seen(estimate(job), "dpm_sheet") == (2, 1, 20, 10, "")


def test_sheet_joined_across_uses_it() -> None:
    """24.6 x 1.05 = 25.83 m with a lap of 0.3 m at the change of roll: two rolls, without it one."""
    job = replace(floor("cross joints"), override={"tray_past_lintel": 150, "dpm_lap": 300})
    assert seen(estimate(job), "dpm_sheet") == (2, 1, 20, 10, "")


def test_trays_in_one_piece_and_stop_ends_do_not_use_it() -> None:
    """Two trays over lintels of 1.2 m and 150 past each end are 1.5 m each, from one roll of 20 m."""
    job = bare_job(
        walls=[wall("W1", 10)],
        openings=[opening("O1", "W1", width=0.9, number=2, lintel=1.2)],
    )
    job = replace(job, particulars={**job.particulars, "tray_joints": "one piece"})
    job = replace(job, wastage={SUPPLIER: {"tray_roll": 50, "stop_end": 50}})
    ledger = estimate(job)
    assert seen(ledger, "tray_roll") == (1, 1, 10, 10, WHOLE)
    assert seen(ledger, "stop_end")[4] == COUNTED
    switched = replace(job, wastage_applies={"stop_end": 1})
    with_it, without_it, *_, words = seen(estimate(switched), "stop_end")
    assert (with_it, without_it, words) == (6, 4, "")


def test_what_the_switch_turns_off_is_said() -> None:
    job = bare_job(walls=[wall("W1", 29.5, cavity=0, inner_leaf=0)])
    job = replace(job, wastage={SUPPLIER: {"dpc_roll": 5}}, wastage_applies={"dpc_roll": 0})
    assert seen(estimate(job), "dpc_roll") == (1, 1, 10, 10, "not used: does not apply")


def test_of_what_is_not_taken_nothing_is_said() -> None:
    assert seen(estimate(bare_job()), "dpc_roll") == (0, 0, 0, 0, "")


def test_no_cost_while_a_price_is_missing() -> None:
    book = [{**r, "price": None} if r["material"] == "dpc_roll" else r for r in STOCK]
    ledger = estimate(bare_job(walls=[wall("W1", 29.5, cavity=0, inner_leaf=0)], book=book))
    assert seen(ledger, "dpc_roll") == (1, 1, NOT_AVAILABLE, NOT_AVAILABLE, "")


@pytest.mark.parametrize(
    "name", ["demo", "form", "walked", *(f"job{n}" for n in range(0, 200, 23))]
)
def test_what_is_seen_without_it_is_what_a_job_without_it_orders(name: str) -> None:
    """Each product that both jobs take for the same: another may be chosen where wastage is 0."""
    job, with_it = job_named(name)[0], worked_out(name)
    none = {s: dict.fromkeys(found, 0) for s, found in job.wastage.items()}
    without_it = estimate(replace(job, wastage=none))
    compared = 0
    for n in range(1, len(with_it.rows["book"]) + 1):
        nets = [x.figure("book", n, "net") for x in (with_it, without_it)]
        if NOT_AVAILABLE in nets or nets[0] != pytest.approx(nets[1], abs=1e-9):
            continue
        worked = without_it.figure("book", n, "packs_worked")
        assert with_it.figure("book", n, "packs_bare") == worked, n
        assert with_it.figure("book", n, "packs_worked") >= worked
        compared += worked is not NOT_AVAILABLE and worked > 0
    assert compared > 3
