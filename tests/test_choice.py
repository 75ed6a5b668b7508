"""Which of several products that cover is bought: by what the job would pay for whole packs.

Every figure is worked by hand beside its case. That the dearer total of two orders is never
bought is common sense of buying, not a published rule.
"""

from dataclasses import replace
from typing import Any

import pytest

from estimator.language import NOT_AVAILABLE
from estimator.model import reports
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import (
    STOCK,
    SUPPLIER,
    bare_job,
    edge,
    opening,
    product,
    row,
    wall,
    with_own,
    zone,
)

Stock = list[dict[str, Any]]


def taken(stock: Stock, status: dict[str, str] | None = None, **rows: Any) -> dict[str, float]:
    """Packs by code of what is bought of this stock; the rest of the stock is the usual."""
    others = [p for p in STOCK if p["material"] not in {s["material"] for s in stock}]
    job = with_own(bare_job(book=[*others, *stock], **rows), tray_rise=150)
    ledger = estimate(replace(job, line_status=status or {}))
    packs = dict(zip((p["code"] for p in ledger.rows["book"]), ledger.column("book", "packs"),
                     strict=True))  # fmt: skip
    return {p["code"]: packs[p["code"]] for p in stock if packs[p["code"]]}


def run(length: float, leaf: float = 102.5) -> dict[str, Any]:
    """A solid run without ends or corners: as many metres of DPC as it is long."""
    return wall("W1", length, outer_leaf=leaf, cavity=0, inner_leaf=0, ends_at_existing=0)


@pytest.mark.parametrize(
    ("openings", "bought"),
    [
        (2, {"FEW": 1}),  # 4 ends: 1 × 2.00 against 20.00, though a piece of it costs half
        (22, {"FEW": 9}),  # 44 ends: 9 × 2.00 = 18.00 against 20.00
        (25, {"FEW": 10}),  # 50 ends: 10 × 2.00 = 20.00, the same: the first in the list
        (26, {"MANY": 1}),  # 52 ends: 11 × 2.00 = 22.00 against 20.00
    ],
)
def test_a_large_pack_waits_until_it_pays(openings: int, bought: dict[str, float]) -> None:
    few = product("FEW", "stop_end", price=2, pieces=5)
    many = product("MANY", "stop_end", price=20, pieces=100)
    job = {"walls": [wall("W1", 50)], "openings": [opening("O1", "W1", number=openings)]}
    assert taken([few, many], **job) == bought


def test_the_fewest_that_are_sold_count() -> None:
    """4 ends: 10 packs of 5 at 2.00 are 20.00, since fewer are not sold; one of 20 is 15.00."""
    few = product("FEW", "stop_end", price=2, pieces=5, minimum_packs=10)
    more = product("MORE", "stop_end", price=15, pieces=20)
    job = {"walls": [wall("W1", 50)], "openings": [opening("O1", "W1", number=2)]}
    assert taken([few, more], **job) == {"MORE": 1}


@pytest.mark.parametrize(
    ("length", "bought"),
    [
        (9.9, {"SHORT": 1}),  # 9.00 against 20.00
        (10.1, {"SHORT": 2}),  # (10.1 - 0.1) / 9.9 = 1.01, so 2: 18.00 against 20.00
        (20, {"LONG": 1}),  # (20 - 0.1) / 9.9 = 2.01, so 3: 27.00 against 20.00
    ],
)
def test_rolls_count_with_their_laps(length: float, bought: dict[str, float]) -> None:
    short = product("SHORT", "dpc_roll", price=9, width=112.5, length=10)
    long = product("LONG", "dpc_roll", price=20, width=112.5, length=30)
    assert taken([long, short], walls=[run(length)]) == bought


def test_what_a_narrower_roll_covers_is_left_to_it() -> None:
    """29 m on a leaf of 102.5 go to the 112.5; 4 m on one of 215 are all that the 225s would serve.

    4 m: 9.00 for 5 m against 30.00 for 30 m. With the 29 m it would be (33 - 0.1) / 4.9 = 6.7, so
    7 × 9.00 = 63.00, against (33 - 0.1) / 29.9 = 1.1, so 2 × 30.00.
    """
    narrow = product("NARROW", "dpc_roll", price=15, width=112.5, length=30)
    short = product("SHORT", "dpc_roll", price=9, width=225, length=5)
    long = product("LONG", "dpc_roll", price=30, width=225, length=30)
    walls = [run(29), {**run(4, leaf=215), "mark": "W2"}]
    assert taken([narrow, long, short], walls=walls) == {"NARROW": 1, "SHORT": 1}


def test_pieces_cut_whole_count_as_they_are_cut() -> None:
    """6 closers of 1.35 m: one from each 2.4 m, 6 × 5.00 = 30.00; two from each 3.0 m, 21.00.

    By the metre the short one is cheaper: 2.08 against 2.33.
    """
    short = product("SHORT", "closer", price=5, width=100, length=2.4)
    long = product("LONG", "closer", price=7, width=100, length=3)
    holes = [opening("O1", "W1", kind="level-access door", number=3, height=1.35, closer=100)]
    job = {"walls": [wall("W1", 20, cavity=100)], "openings": holes}
    assert taken([short, long], **job) == {"LONG": 3}


@pytest.mark.parametrize(
    ("inner", "bought"),
    [
        ("firm", {"LONG": 1}),  # 20.2 m: (20.2 - 0.1) / 9.9 = 2.03, 3 × 9.00 against 20.00
        ("by others", {"SHORT": 2}),  # 10.1 m: (10.1 - 0.1) / 9.9 = 1.01, 2 × 9.00 against 20.00
    ],
)
def test_only_what_is_bought_counts(inner: str, bought: dict[str, float]) -> None:
    """10.1 m in each leaf, one roll of 105 that lies on both."""
    short = product("SHORT", "dpc_roll", price=9, width=105, length=10)
    long = product("LONG", "dpc_roll", price=20, width=105, length=30)
    assert taken([short, long], {"inner_dpc": inner}, walls=[wall("W1", 10.1)]) == bought


OTHER = "Invented supplier B"


def sheets(count: int) -> Job:
    """3 × 3 m without turn-ups; so many rolls of sheet, the last one B's, and B stocks all else.

    Rolls of 4 × 25 m: one of any of them is enough. A's cost 30.00 each, B's 20.00.
    """
    rolls = [product(f"ROLL{n}", "dpm_sheet", 30, width=4000, length=25) for n in range(1, count)]
    last = product("LAST", "dpm_sheet", 20, width=4000, length=25, supplier=OTHER)
    others = [p for p in STOCK if p["material"] != "dpm_sheet"]
    of_b = [{**p, "code": f"B{p['code']}", "supplier": OTHER} for p in others]
    edges = [edge(f"E{s}", "Z1", s, 3) for s in ("A1", "A2", "B1", "B2")]
    suppliers = [row("suppliers", name=name, delivery=0) for name in (SUPPLIER, OTHER)]
    return bare_job(
        zones=[zone("Z1", 3, 3)],
        edges=edges,
        suppliers=suppliers,
        book=[*others, *rolls, *of_b, last],
    )


@pytest.mark.parametrize("count", [9, 20])
def test_every_roll_that_is_laid_out_is_priced(count: int) -> None:
    """9 rolls of two suppliers, and 20: the last is laid out like the first.

    Stone 9 m² × 0.165 × 1.94 = 2.88 t, 3 t at 10.00 a tonne; sand 9 × 0.05 × 1.9 = 0.855 t, 35
    bags of 25 kg at 10.00: 350.00. So A 30 + 350 + 30 = 410.00, B 20 + 350 + 30 = 400.00.
    """
    ledger = estimate(sheets(count))
    assert ledger.cell("quote_total") is not NOT_AVAILABLE
    assert ledger.column("suppliers", "all_total")[:2] == [410, 400]


def test_a_roll_beyond_those_laid_out_has_no_cost_and_is_never_chosen() -> None:
    """The 21st roll would cost 0 for want of a layout, and be the cheapest of all."""
    ledger = estimate(sheets(21))
    totals = ledger.column("suppliers", "all_total")
    assert totals[0] == 410
    assert totals[1] is NOT_AVAILABLE
    assert ledger.figure("suppliers", 2, "all_note") == "more rolls of sheet than are laid out"
    assert ledger.cell("rolls_beyond") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE
    assert "beyond the 20 that can be laid out: 1" in reports.reasons(ledger)
    assert reports.cost_of_all(ledger) is None


def test_a_list_that_no_supplier_covers_has_no_total() -> None:
    """12 × 9 m from rolls of 8 m: no strip is whole, so the sum would hold no sheet."""
    short = product("SHORT", "dpm_sheet", width=4000, length=8)
    stock = [*(p for p in STOCK if p["material"] != "dpm_sheet"), short]
    edges = [edge(f"E{s}", "Z1", s, 12 if s[0] == "A" else 9) for s in ("A1", "A2", "B1", "B2")]
    ledger = estimate(bare_job(zones=[zone("Z1", 12, 9)], edges=edges, book=stock))
    assert ledger.figure("suppliers", 1, "all_total") is NOT_AVAILABLE
    assert ledger.figure("suppliers", 1, "all_note") == "does not stock all of it"
    assert reports.cost_of_all(ledger) is None
    assert "Needs that their supplier has no product for" in reports.not_ordered(ledger)
