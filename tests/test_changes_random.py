"""Over random jobs: no change is missed, none is invented, and the differences add up."""

import random
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.plan import FILLED
from estimator.revisions.changes import Change, State, changes
from estimator.revisions.changes.particulars import particular_changes
from estimator.revisions.changes.renamed import Renames
from estimator.revisions.changes.rows import row_changes
from estimator.revisions.changes.words import words

from .mutations import mutations
from .random_jobs import random_job

KEYS = {t.name: t.key for t in FILLED}
WITH_TOTALS = (6, 15, 18, 24, 26, 27)  # seeds whose quote nothing stands against


@pytest.mark.parametrize("seed", range(6))
def test_a_job_does_not_differ_from_itself(seed: int) -> None:
    job = random_job(seed)
    again = random_job(seed)
    assert changes(State(job, estimate(job)), State(again, estimate(again))) == []


@pytest.mark.parametrize("seed", [1, 2, 4, 5])
def test_every_single_change_is_told(seed: int) -> None:
    """The figures are those of the job before: an entry must come of the inputs alone."""
    job = random_job(seed)
    ledger = estimate(job)
    told = 0
    r = random.Random(seed)
    many = {"book": 0.05}  # rows of the price book are alike
    for what, mutated in mutations(job, random.Random(seed)):
        if r.random() > many.get(what.partition(".")[0], 1):
            continue
        renames = Renames(job, mutated)
        found = list(particular_changes(State(job, ledger), State(mutated, ledger), renames))
        found += row_changes(job, mutated, renames)
        place = tuple(what.partition("|")[0].split("."))
        assert any(_names(c, place) for c in found), what
        for change in found:
            assert change.for_client is False or "_" not in change.sentence, change
        told += len(found)
    assert told > 300


def _names(change: Change, place: tuple[str, ...]) -> bool:
    section, field = place
    if section == "particulars":
        return change.about in (("job", field), ("form", field))
    if change.about[0] != section:
        return False
    # A row without its mark, or the last of what it held, is another row or none.
    return change.about[-1] == field or field == KEYS.get(section) or len(change.about) == 2


@pytest.mark.parametrize("seed", WITH_TOTALS)
def test_the_differences_add_up(seed: int) -> None:
    job = random_job(seed)
    before = State(job, estimate(job))
    compared = 0
    for new in _priced_otherwise(job):
        after = State(new, estimate(new))
        if NOT_AVAILABLE in (before.ledger.cell("quote_total"), after.ledger.cell("quote_total")):
            continue
        found = changes(before, after)
        moved = defaultdict(int)
        for change in found:
            if change.part == "price" and change.about[0] in ("line", "stage", "sum"):
                name = change.about[0] if change.about[0] != "sum" else change.about[1]
                moved[name] += round(change.now * 100) - round(change.was * 100)
        net = _moved(before.ledger, after.ledger, "quote_net")
        assert moved["quote_net"] == net
        assert moved["line"] + moved["minimum_added"] == net
        assert moved["stage"] + moved["minimum_added"] == net
        assert net + moved["quote_vat"] == moved["quote_total"]
        assert moved["quote_total"] == _moved(before.ledger, after.ledger, "quote_total")
        _as_quoted(found, before.ledger, after.ledger)
        compared += bool(moved)
    assert compared >= 3


def _moved(old: Ledger, new: Ledger, cell: str) -> int:
    return round(new.cell(cell) * 100) - round(old.cell(cell) * 100)


def _as_quoted(found: list[Change], old: Ledger, new: Ledger) -> None:
    """Each side of each line is what its own quote says, straight from the quote's rows."""
    sides = [_amounts(x) for x in (old, new)]
    told = {c.about[1:]: (c.was, c.now) for c in found if c.about[0] == "line"}
    moved = {(c.now, c.about[2]): c.was for c in found if c.about[0] == "stage of"}
    for (stage, item), (was, now) in told.items():
        at = moved.get((stage, item), stage)
        assert round(was * 100) == sides[0].get((at, item), 0)
        assert round(now * 100) == sides[1].get((stage, item), 0)
    for key, pence in sides[1].items():
        if key not in told and (key[0], key[1]) not in moved:
            assert sides[0].get(key) == pence, "a line that differs and was not told"


def _amounts(ledger: Ledger) -> dict[tuple[str, str], int]:
    found: dict[tuple[str, str], int] = defaultdict(int)
    stages = ledger.column("stages", "name")
    columns = (ledger.column("quote_lines", c) for c in ("stage_no", "item", "amount"))
    for stage, item, amount in zip(*columns, strict=True):
        if item:
            found[stages[int(stage) - 1], item] += round(amount * 100)
    return found


def _priced_otherwise(job: Job) -> Iterator[Job]:
    """The job with other prices, profit, supplier, VAT, openings, work, or minimum charge."""

    def rows(**more: list[Any]) -> Job:
        return replace(job, rows={**job.rows, **more})

    def said(**more: Any) -> Job:
        return replace(job, particulars={**job.particulars, **more})

    yield rows(book=[r | {"price": round(r["price"] * 1.13, 2)} for r in job.rows["book"]])
    yield rows(book=[r | {"description": "one word"} for r in job.rows["book"]])
    yield rows(
        openings=[
            r | {"number": r["number"] + 1} if r.get("number") else r for r in job.rows["openings"]
        ]
    )
    yield rows(work_lines=job.rows["work_lines"][1:])
    yield said(profit_percent=17.5)
    yield said(minimum_charge=40000)
    yield said(vat_status="not registered", vat_percent=0, supplier_vat_percent=20)
    yield said(supplier_choice=job.rows["suppliers"][-1]["name"])
    yield replace(job, line_status={"hardcore": "by others", "outer_dpc": "provisional"})


def test_every_list_has_its_words() -> None:
    named = {t.name for t in FILLED} - {"revisions"}
    assert set(words()["rows"]) == named
