"""A number of packs of one's own, typed beside a product, in place of the number worked out."""

from dataclasses import replace
from typing import Any

from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.beginning import begun_from
from estimator.model.estimate import estimate
from estimator.model.job import Job, blank_job
from estimator.model.reports import against
from estimator.revisions.changes import changes as changes_between
from estimator.revisions.changes.change import State
from estimator.sourcing.mix import cheapest_mix

from .made import SMALL_ROOM, laid_out
from .small_jobs import bare_job, product, row, wall

A, B = "Invented supplier A", "Invented supplier B"


def with_own(own: float | None, **given: Any) -> Job:
    """Two solid leaves of 15.7 m each, their DPC from one product: 31.4 m from rolls of 30 m.

    Two rolls: with laps of 0.1 m they reach 59.9 m. A asks 10.85, B 10.20, each 5 for delivery.
    """
    return bare_job(
        walls=[wall(f"W{n}", 15.7, cavity=0, inner_leaf=0) for n in (1, 2)],
        suppliers=[row("suppliers", name=n, delivery=5) for n in (A, B)],
        book=[
            product("A-DPC", "dpc_roll", 10.85, width=112.5, length=30, own_packs=own, **given),
            product("A-WIDE", "dpc_roll", 12.45, width=150, length=30),
            product("B-DPC", "dpc_roll", 10.20, width=112.5, length=30, supplier=B),
        ],
    )


def of(ledger: Ledger, code: str, column: str) -> Any:
    at = ledger.column("book", "code").index(code) + 1
    return ledger.figure("book", at, column)


def whole_list(ledger: Ledger) -> list[Any]:
    return list(ledger.column("suppliers", "all_total")[:2])


def test_more_than_needed_is_ordered_and_paid_for() -> None:
    """3 x 10.85 = 32.55, delivered 37.55; 90 m ordered, 31.5 m laid with one lap: 58.5 m left."""
    worked, own = estimate(with_own(None)), estimate(with_own(3))
    assert (of(worked, "A-DPC", "packs"), of(worked, "A-DPC", "cost")) == (2, 21.70)
    assert (of(own, "A-DPC", "packs"), of(own, "A-DPC", "cost")) == (3, 32.55)
    assert of(own, "A-DPC", "packs_worked") == 2
    assert of(own, "A-DPC", "ordered") == 90
    assert round(of(own, "A-DPC", "left"), 6) == 58.5
    assert own.cell("cost_total") == 37.55
    assert own.figure("order_lines", 1, "packs") == 3
    assert own.figure("order_lines", 1, "counted_how") == "own, 2 needed"
    assert own.figure("quote_lines", 1, "quantity") == 3
    assert whole_list(worked) == [26.70, 25.40]
    assert whole_list(own) == [37.55, 25.40]


def test_it_does_not_decide_which_product_is_chosen() -> None:
    """With 9 rolls of it the narrow one would cost more than the wide one; it is chosen still."""
    ledger = estimate(with_own(9))
    assert of(ledger, "A-DPC", "packs") == 9
    assert of(ledger, "A-DPC", "if_packs") == 2
    assert of(ledger, "A-WIDE", "packs") == 0


def test_fewer_than_needed_are_told_in_row_and_on_start_and_stop_the_total() -> None:
    job = with_own(1)
    ledger = estimate(job, SMALL_ROOM)
    assert ledger.cell("quote_total") is NOT_AVAILABLE
    what = "Products with fewer packs of your own than needed"
    assert against(ledger) == [{"what": what, "count": 1}]
    built, _ = laid_out(ledger, SMALL_ROOM)
    assert "your own packs are too few: 2 needed" in built.results["Prices"].values()
    assert f"{what}: 1 to fix" in built.results["Start"].values()


def test_fewer_than_the_supplier_sells_at_once_are_too_few() -> None:
    """Two are needed and no fewer than four are sold: three cannot be bought."""
    ledger = estimate(with_own(3, minimum_packs=4))
    assert of(ledger, "A-DPC", "packs_worked") == 4
    assert ledger.cell("own_packs_short") == 1
    assert estimate(with_own(4, minimum_packs=4)).cell("own_packs_short") == 0


def test_of_what_is_bought_elsewhere_none_are_ordered_and_the_row_says_so() -> None:
    job = with_own(3)
    job = replace(job, particulars={**job.particulars, "supplier_choice": B})
    ledger = estimate(job)
    assert of(ledger, "A-DPC", "packs") == 0
    assert (
        of(ledger, "A-DPC", "book_note")
        == "your own packs are not ordered: no line needs this product"
    )
    assert ledger.cell("cost_total") == 25.40
    assert whole_list(ledger) == [37.55, 25.40]


def test_the_cheapest_mix_keeps_it_while_a_line_takes_the_product() -> None:
    """A with 3 rolls is 37.55, B with 2 is 25.40: both lines move to B. Of B's own 4 rolls,
    4 x 10.20 + 5 = 45.80, and they stay at A."""
    found = cheapest_mix(with_own(3))
    assert found is not None
    assert found.proven
    assert (found.stands, found.total) == (37.55, 25.40)
    job = with_own(3)
    book = [{**r, "own_packs": 4} if r["code"] == "B-DPC" else r for r in job.rows["book"]]
    found = cheapest_mix(replace(job, rows={**job.rows, "book": book}))
    assert found is not None
    assert found.total == 37.55


def test_a_revision_says_so_to_the_estimator() -> None:
    one, other = (State(j, estimate(j)) for j in (with_own(None), with_own(3)))
    told = [c for c in changes_between(one, other) if "your own" in c.sentence]
    assert [c.sentence for c in told] == ["Price A-DPC (A-DPC): packs, your own 3, was not given."]
    assert not told[0].for_client


def test_the_next_job_begins_without_it() -> None:
    begun = begun_from(blank_job("nhbc_2024"), with_own(3))
    assert {r["own_packs"] for r in begun.rows["book"]} == {None}
