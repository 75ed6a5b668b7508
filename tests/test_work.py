"""Labour, plant, preliminaries, fees and provisional sums on whole jobs, worked by hand."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.errors import JobError
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import USUAL_ROOM, estimate
from estimator.model.job import Job
from estimator.model.job_checks import check_job
from estimator.model.locations import InJobFile
from estimator.pricing.measures import MEASURE_ROWS

from .small_jobs import bare_job, opening, row, turned_up, wall, zone

TRAYS = "Trays over openings"


def line(mark: str, kind: str, way: str, figure: float, **given: Any) -> dict[str, Any]:
    return row(
        "work_lines", mark=mark, description=mark, kind=kind, way=way, figure=figure, **given
    )


def by_tray(mark: str = "trays", figure: float = 0.5) -> dict[str, Any]:
    return line(mark, "labour", "hours per unit", figure, rate=40, wired_to=TRAYS)


def job(*lines: dict[str, Any], windows: int = 1, **particulars: Any) -> Job:
    """A wall of 5 m with windows under 2.1 m trays; every product costs 10 a pack."""
    found = bare_job(
        walls=[wall("W1", 5)],
        openings=[opening("O1", "W1", number=windows, jamb_dpc=150)],
        work_lines=lines,
    )
    found = replace(
        found,
        override={"tray_past_lintel": 0, "tray_past_closer": 0},
        particulars={**found.particulars, **particulars},
    )
    check_job(found, InJobFile("test"))
    return found


def amounts(ledger: Ledger) -> list[float]:
    return ledger.column("work_lines", "amount")


def on_quote(ledger: Ledger, *columns: str) -> list[tuple[Any, ...]]:
    return [
        tuple(ledger.figure("quote_lines", n, c) for c in columns)
        for n in range(1, len(ledger.rows["quote_lines"]) + 1)
        if ledger.figure("quote_lines", n, "item")
    ]


def test_labour_follows_what_is_measured() -> None:
    """Worked by hand: trays of 2.1 m, half an hour a metre at 40: 42 for one window, 84 for two."""
    assert amounts(estimate(job(by_tray()))) == [42]
    assert amounts(estimate(job(by_tray(), windows=2))) == [84]


def test_labour_follows_what_others_supply_too() -> None:
    """The trays are by others and buy nothing; fixing the 2.1 m of them is still 42."""
    ledger = estimate(replace(job(by_tray()), line_status={"trays": "by others"}))
    assert amounts(ledger) == [42]
    assert ledger.figure("work_lines", 1, "provisional") == 0


def test_a_percentage_is_of_goods_labour_and_plant_only() -> None:
    """Worked by hand.

    Goods: three DPC widths and the sill's, one roll of tray, 2 stop ends, 3 weeps or more, each
    pack at 10: their sum is read from the price book. Labour 42, plant 58: 100 more. Preliminaries
    of 300, a fee of 420, a sum of 500, another percentage and delivery count for nothing.
    """
    lines = [
        by_tray(),
        line("hoist", "plant", "fixed", 58),
        line("hut", "preliminaries", "fixed", 300),
        line("fee", "fee", "fixed", 420),
        line("rot", "provisional sum", "fixed", 500),
        line("first", "preliminaries", "percentage", 10),
        line("second", "labour", "percentage", 5),
    ]
    suppliers = [row("suppliers", name="Invented supplier A", delivery=45)]
    found = job(*lines)
    found = replace(found, rows={**found.rows, "suppliers": suppliers})
    ledger = estimate(found)
    packs = sum(ledger.column("book", "packs"))
    assert packs > 8
    base = packs * 10 + 100
    assert ledger.cell("percentage_base") == base
    assert amounts(ledger)[5:] == [pytest.approx(base * 0.10), pytest.approx(base * 0.05)]
    assert ledger.cell("quote_sum") == pytest.approx(
        base + 45 + 300 + 420 + 500 + base * 0.10 + base * 0.05
    )


def test_profit_on_work_only_where_it_is_said() -> None:
    """Worked by hand at 25 % on cost.

    Labour 42 is 52.50, plant 58 is 72.50, preliminaries 300 are 375; fee and sum stay as they are.
    """
    lines = [
        by_tray(),
        line("hoist", "plant", "fixed", 58),
        line("hut", "preliminaries", "fixed", 300),
        line("fee", "fee", "fixed", 420),
        line("rot", "provisional sum", "fixed", 500),
    ]
    silent = estimate(job(*lines, profit_percent=25))
    assert amounts(silent) == [42, 58, 300, 420, 500]
    said = estimate(job(*lines, profit_percent=25, profit_on_work="yes"))
    assert amounts(said) == [52.5, 72.5, 375, 420, 500]


def test_margin_on_work() -> None:
    """A margin of 20 % makes 72.50 of 58."""
    lines = [line("hoist", "plant", "fixed", 58)]
    margin = {"profit_rule": "margin on price", "profit_percent": 20, "profit_on_work": "yes"}
    assert amounts(estimate(job(*lines, **margin))) == [72.5]


def test_a_percentage_gets_no_profit_of_its_own() -> None:
    """Worked by hand: plant 80 with 25 % is 100; 10 % of what is quoted holds its 25 % already."""
    lines = [
        line("hoist", "plant", "fixed", 80),
        line("part", "preliminaries", "percentage", 10),
    ]
    ledger = estimate(job(*lines, profit_percent=25, profit_on_work="yes"))
    goods = ledger.cell("percentage_base") - 100
    assert goods == pytest.approx(sum(ledger.column("book", "packs")) * 12.5)
    assert amounts(ledger) == [100, pytest.approx((goods + 100) / 10, abs=0.005)]


def test_labour_carries_no_input_vat() -> None:
    """Not registered: goods cost a fifth more, labour of 42 stays 42."""
    registered = estimate(job(by_tray()))
    unregistered = estimate(job(by_tray(), vat_status="not registered", vat_percent=0))
    assert amounts(registered) == amounts(unregistered) == [42]
    goods = [sum(x.column("book", "quoted")) for x in (registered, unregistered)]
    assert goods[1] == pytest.approx(goods[0] * 1.2)


def test_work_stands_after_goods_and_deliveries() -> None:
    """Stage by stage, then as listed; a line that comes to nothing is left out."""
    lines = [
        line("fee", "fee", "fixed", 420),
        line("hoist", "plant", "fixed", 58),
        line("ridges", "labour", "per unit", 9, wired_to="Ridge units at roofs"),
        line("rot", "provisional sum", "fixed", 500),
        by_tray(),
    ]
    suppliers = [row("suppliers", name="Invented supplier A", delivery=45)]
    found = job(*lines)
    ledger = estimate(replace(found, rows={**found.rows, "suppliers": suppliers}))
    assert on_quote(ledger, "heading", "item", "counted_in", "status", "amount")[-5:] == [
        ("Delivery", "Delivery of materials, one drop", "drop", "firm", 45),
        ("Work on site", "hoist", "item", "firm", 58),
        ("", "rot", "sum", "provisional", 500),
        ("", "trays", "item", "firm", 42),
        ("Preliminaries and fees", "fee", "item", "firm", 420),
    ]
    assert ledger.figure("work_lines", 3, "work_note") == "comes to nothing: not on the quote"
    assert ledger.cell("problem_count") == 0
    assert ledger.cell("work_sum") == 1020


def test_a_provisional_sum_is_said_apart() -> None:
    """It makes an estimate, and says what kind; a firm line of the same sum does not."""
    firm = estimate(job(line("rot", "fee", "fixed", 500)))
    aside = estimate(job(line("rot", "provisional sum", "fixed", 500)))
    assert firm.cell("document_word") == "Quotation"
    assert aside.cell("document_word") == "Estimate"
    assert aside.cell("document_promise").startswith("An estimate. A provisional sum is set aside")
    assert aside.cell("provisional_sum") == 500
    assert aside.cell("firm_sum") == firm.cell("firm_sum") - 500
    assert estimate(job(line("rot", "provisional sum", "fixed", 0))).cell("document_word") == (
        "Quotation"
    )


def test_work_on_what_is_provisional_is_provisional() -> None:
    lines = [by_tray(), line("part", "preliminaries", "percentage", 10)]
    ledger = estimate(replace(job(*lines), line_status={"trays": "provisional"}))
    assert ledger.column("work_lines", "provisional") == [1, 1]
    assert ledger.cell("document_promise").startswith("An estimate is a considered guess")
    other = estimate(replace(job(*lines), line_status={"sill_dpc": "provisional"}))
    assert other.column("work_lines", "provisional") == [0, 1], "only the percentage rests on it"


def test_minimum_charge_counts_work() -> None:
    """Goods at 10 a pack and 42 of labour, brought up to 5,000."""
    ledger = estimate(job(by_tray(), minimum_charge=5000))
    goods = sum(ledger.column("book", "packs")) * 10
    assert ledger.cell("minimum_added") == pytest.approx(5000 - goods - 42)


def test_labour_alone_is_something_to_quote_for() -> None:
    """No goods at all: one day of survey at 300."""
    ledger = estimate(bare_job(work_lines=[line("survey", "labour", "fixed", 300)]))
    assert ledger.cell("quote_total") == 360
    assert ledger.cell("price_covers").endswith("no other labour or plant.")
    assert estimate(job()).cell("price_covers").endswith("no labour or plant.")


MISFITS: dict[str, dict[str, Any]] = {
    "hours without a rate": {"way": "hours per unit", "figure": 1, "wired_to": TRAYS},
    "hours of nothing": {"way": "hours per unit", "figure": 1, "rate": 40},
    "per unit of nothing": {"way": "per unit", "figure": 1},
    "a rate by the unit": {"way": "per unit", "figure": 1, "rate": 40, "wired_to": TRAYS},
    "a wired percentage": {"way": "percentage", "figure": 10, "wired_to": TRAYS},
    "a wired sum": {"way": "fixed", "figure": 10, "wired_to": TRAYS},
    "a rate of a sum": {"way": "fixed", "figure": 10, "rate": 40},
    "more than all": {"way": "percentage", "figure": 101},
}


@pytest.mark.parametrize("name", MISFITS)
def test_what_does_not_fit_together_refuses(name: str) -> None:
    """A job file is refused in a sentence; in the sheet, where it may be typed, the total is."""
    found = line("odd", "labour", **MISFITS[name])
    with pytest.raises(JobError, match=r"test: work_lines\[1\]\.(rate|wired_to|figure): found"):
        job(found)
    typed = job()
    typed = replace(typed, rows={**typed.rows, "work_lines": [found]})
    ledger = estimate(typed)
    assert ledger.cell("work_misfits") == 1
    assert ledger.cell("quote_total") is NOT_AVAILABLE
    assert ledger.figure("work_lines", 1, "work_note").startswith(
        "priced by, figure, rate and quantity"
    )


def test_a_quantity_that_is_not_listed_is_refused() -> None:
    with pytest.raises(JobError, match=r"work_lines\[1\]\.wired_to: found 'Trays at Mars'"):
        job(line("odd", "labour", "per unit", 1, wired_to="Trays at Mars"))


def test_work_on_a_quantity_that_rests_on_an_assumed_figure_is_provisional() -> None:
    """The build-in of the tray is nobody's: its line is provisional, and so is the labour on it."""
    found = job(by_tray())
    own = {k: v for k, v in found.own.items() if k != "tray_build_in"}
    ledger = estimate(replace(found, own=own))
    assert ledger.cell("figures_missing") == 0
    assert ledger.figure("work_lines", 1, "provisional") == 1
    assert estimate(found).figure("work_lines", 1, "provisional") == 0


def test_a_quote_without_room_for_its_work_refuses() -> None:
    """A workbook of five spare lines, and lines of work beyond them."""
    few = job(by_tray())
    ledger = estimate(few, USUAL_ROOM)
    room = len(ledger.rows["quote_lines"])
    used = len(on_quote(ledger, "item"))
    assert room == used + USUAL_ROOM.lines
    more = [line(f"L{n}", "plant", "fixed", 1) for n in range(USUAL_ROOM.lines + 1)]
    rows = {**ledger.rows, "work_lines": [*ledger.rows["work_lines"], *more]}
    full = Ledger(ledger.plan, rows, ledger.typed)
    assert full.cell("lines_beyond") == 1
    assert full.cell("lines_disagree") == 1, "a line of 1 is not on the quote"
    assert full.cell("quote_total") is NOT_AVAILABLE


def test_everything_counted_has_its_own_name() -> None:
    """Labour finds its quantity by name: two of one name would be added up."""
    labels = [m["label"].lower() for m in MEASURE_ROWS]
    assert len(set(labels)) == len(labels)


def test_labour_on_a_count_is_as_sure_as_what_it_goes_with() -> None:
    """Hardcore too deep stops the floor: compacting its layers is no surer than the hardcore."""
    floor = zone("Z1", 3, 4, formation_level=-2)
    lines = [
        row("work_lines", mark="L", description="Compact", kind="labour", way="per unit", figure=5,
            wired_to="Layers of hardcore to compact, over all zones"),
    ]  # fmt: skip
    ledger = estimate(bare_job(zones=[floor], edges=turned_up("Z1", 3, 4, 100), work_lines=lines))
    assert ledger.figure("work_lines", 1, "provisional") == 1
