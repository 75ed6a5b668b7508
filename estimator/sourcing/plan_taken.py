"""The cheapest rolls taken over into a job: the rows of its cutting plan."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

from ..buying.cutting_plan import PLANNED_CUTS
from ..language.ledger import Ledger
from ..model.estimate import estimate
from ..model.job import Job
from .cutting_stock import Cutting
from .stock import MICROMETRES, Stock, cut_from_stock

Row = Mapping[str, Any]
Roll = list[dict[str, Any]]  # its rows in a plan


@dataclass(frozen=True)
class PlanTaken:
    """What the plan of a job is to be: its rows, and of which stock they save money.

    `idle` are those whose plan would save nothing in this job, because of a minimum number of packs
    or of packs of one's own, or would stop its total.
    """

    rows: list[dict[str, Any]]
    taken: list[Stock]
    idle: list[Stock]


def plan_taken(job: Job, ledger: Ledger, day: float) -> PlanTaken:
    """The plan with which whole pieces cost least, every floor laid as it is laid now.

    A plan that is there and holds is kept where none is cheaper; one that does not hold goes. The
    estimate itself says whether a plan holds and what it saves.
    """
    stocks = cut_from_stock(ledger, turning=False)
    codes = ledger.column("book", "code")
    there = {
        s.rows: _there(job, {codes[n - 1] for n in s.rows}) if s.planned else [] for s in stocks
    }
    found = {
        s.rows: _rolls(s.cutting, day)
        for s in stocks
        if s.cutting is not None and s.cutting.pence < s.pence
    }
    kept, taken, idle, stands = there, [], [], ledger
    for stock in (s for s in stocks if s.rows in found):
        tried = {**kept, stock.rows: found[stock.rows]}
        after = estimate(with_plan(job, _numbered(tried.values())))
        if _saves(stands, after, stock.rows):
            kept, stands = tried, after
            taken.append(stock)
        else:
            idle.append(stock)
    return PlanTaken(_numbered(kept.values()), taken, idle)


def with_plan(job: Job, rows: list[dict[str, Any]]) -> Job:
    """The job with that cutting plan in place of its own."""
    return replace(job, rows={**job.rows, PLANNED_CUTS.name: rows})


def _saves(before: Ledger, after: Ledger, rows: Iterable[int]) -> bool:
    """Whether these products cost less with a plan, which holds, and nothing more is to be fixed."""
    was, now, holds = (
        [ledger.column("book", column)[n - 1] for n in rows]
        for ledger, column in ((before, "cost"), (after, "cost"), (after, "plan_holds"))
    )
    return (
        all(h == 1 for h in holds)
        and round(sum(now) * 100) < round(sum(was) * 100)
        and after.cell("problem_count") <= before.cell("problem_count")
    )


def _rolls(cutting: Cutting, day: float) -> list[Roll]:
    """Rolls that are cut alike together, a row for each length."""
    return [
        [
            {"code": cut.roll.name, "rolls": len(list(same)), "length": length / MICROMETRES,
             "pieces": len(list(pieces)), "dated": day}
            for length, pieces in groupby(cut.pieces)
        ]
        for cut, same in ((cut, list(same)) for cut, same in groupby(cutting.cuts))
    ]  # fmt: skip


def _there(job: Job, codes: set[Any]) -> list[Roll]:
    """The rolls of those products in the plan that is there."""
    rows = sorted((r for r in job.rows[PLANNED_CUTS.name] if r.get("code") in codes), key=_roll_no)
    return [[dict(r) for r in roll] for _, roll in groupby(rows, key=_roll_no)]


def _roll_no(row: Row) -> float:
    return float(row.get("roll_no") or 0)


def _numbered(kinds: Iterable[list[Roll]]) -> list[dict[str, Any]]:
    """All rows, the rolls and the rows counted from 1."""
    rolls = [roll for found in kinds for roll in found]
    rows = [{**row, "roll_no": n} for n, roll in enumerate(rolls, 1) for row in roll]
    return [{**row, "mark": f"P{n}"} for n, row in enumerate(rows, 1)]
