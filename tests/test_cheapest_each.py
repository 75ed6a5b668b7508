"""Each material from whoever sells all of it for least, on Prices: worked by hand, and held to bounds."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.buying.lines import LINES
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.language.rounding import pence
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .made import worked_out
from .small_jobs import bare_job, opening, product, row, wall

A, B = "Invented supplier A", "Invented supplier B"


def shared_out(a: dict[str, Any], b: dict[str, Any], **more: Any) -> Job:
    """31.4 m of DPC, two rolls of 30 m, and the two stop ends of one tray; nothing else is bought.

    DPC: A 10.85 a roll, 21.70; B 12.00, 24.00. Stop ends: A 4.00 each, 8.00; B 3.00, 6.00.
    """
    job = bare_job(
        walls=[wall("W1", 31.4)],
        openings=[opening("O1", "W1")],
        suppliers=[row("suppliers", name=A, **a), row("suppliers", name=B, **b)],
        book=[
            product("A-DPC", "dpc_roll", 10.85, width=112.5, length=30, supplier=A),
            product("A-STOP", "stop_end", 4, pieces=1, supplier=A),
            product("B-DPC", "dpc_roll", 12, width=112.5, length=30, supplier=B),
            product("B-STOP", "stop_end", 3, pieces=1, supplier=B),
        ],
    )
    bought = ("outer_dpc", "stop_ends")
    status = {line.key: "excluded" for line in LINES if line.key not in bought}
    return replace(job, line_status=status, **more)


def by_material(ledger: Ledger) -> dict[str, str]:
    columns = (ledger.column("materials", c) for c in ("key", "cheapest_from"))
    return {key: name for key, name in zip(*columns, strict=True) if name}


def test_two_materials_from_two_suppliers_by_hand() -> None:
    """21.70 from A and 6.00 from B, 5.00 delivery each: 37.70. All from A is 29.70 and 5.00, 34.70:
    less, because delivery decides nothing here."""
    ledger = estimate(shared_out({"delivery": 5}, {"delivery": 5}))
    assert ledger.column("suppliers", "all_total")[:2] == [34.70, 35.00]
    assert by_material(ledger) == {"dpc_roll": A, "stop_end": B}
    assert ledger.column("suppliers", "cheapest_goods")[:2] == [21.70, 6.00]
    assert ledger.column("suppliers", "cheapest_delivery")[:2] == [5, 5]
    assert ledger.cell("cheapest_each") == 37.70
    assert ledger.cell("cheapest_note") == ""


def test_free_delivery_counts_for_what_is_then_ordered() -> None:
    """A delivers 20.00 and more free, B 6.01 and more: 21.70 + 6.00 + 5.00 = 32.70."""
    job = shared_out({"delivery": 5, "free_over": 20}, {"delivery": 5, "free_over": 6.01})
    ledger = estimate(job)
    assert ledger.column("suppliers", "cheapest_delivery")[:2] == [0, 5]
    assert ledger.cell("cheapest_each") == 32.70


def test_a_discount_moves_a_material() -> None:
    """B gives 15 % on DPC: 12.00 x 0.85 = 10.20, two are 20.40: all from B, one delivery, 31.40."""
    job = shared_out({"delivery": 5}, {"delivery": 5}, discounts={B: {"dpc_roll": 15}})
    ledger = estimate(job)
    assert by_material(ledger) == {"dpc_roll": B, "stop_end": B}
    assert ledger.cell("cheapest_each") == 31.40


def test_orders_below_a_minimum_are_counted_and_never_filled_up() -> None:
    job = shared_out({"delivery": 5}, {"delivery": 5, "minimum_order": 10})
    ledger = estimate(job)
    assert ledger.cell("cheapest_each") == 37.70
    assert ledger.cell("cheapest_note") == "orders below their minimum: 1"


def test_a_missing_price_or_delivery_charge_leaves_a_supplier_or_the_sum_out() -> None:
    """Without B's price of stop ends A has them: 21.70 + 8.00 + 5.00 = 34.70. Without A's too, none."""
    job = shared_out({"delivery": 5}, {"delivery": 5})

    def unpriced(*codes: str) -> Ledger:
        book = [{**r, "price": None} if r["code"] in codes else r for r in job.rows["book"]]
        return estimate(replace(job, rows={**job.rows, "book": book}))

    assert unpriced("B-STOP").cell("cheapest_each") == 34.70
    none = unpriced("A-STOP", "B-STOP")
    assert none.cell("cheapest_each") is NOT_AVAILABLE
    assert none.cell("cheapest_note") == "materials that no supplier has all of: 1"
    assert by_material(none) == {"dpc_roll": A, "stop_end": "none has all"}
    uncharged = estimate(shared_out({"delivery": 5}, {"delivery": None}))
    assert uncharged.cell("cheapest_each") is NOT_AVAILABLE


@pytest.mark.parametrize(
    "name", ["demo", "form", "walked", *(f"job{n}" for n in range(0, 200, 19))]
)
def test_no_supplier_alone_has_goods_for_less(name: str) -> None:
    """Each material where it is cheapest cannot cost more than all of them at any one supplier."""
    ledger = worked_out(name)
    if ledger.cell("cheapest_each") is NOT_AVAILABLE:
        return
    goods = pence(sum(ledger.column("suppliers", "cheapest_goods")))
    columns = (ledger.column("suppliers", c) for c in ("name", "all_goods", "all_total"))
    for supplier, alone, whole in zip(*columns, strict=True):
        if supplier and whole is not NOT_AVAILABLE:
            assert goods <= alone
