"""Percentages as people type them: 20, 20% and 0.2 are one and the same; 1 says nothing.

What is expected is worked by hand: twenty per cent is 20, whichever way it was typed, and a
quarter of one per cent is no percentage that anybody means here.
"""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from estimator.errors import JobError
from estimator.files.resources import DEMO_JOB
from estimator.functions import FUNCTIONS
from estimator.functions.cells import call_from_cell
from estimator.functions.refusal import Refusal
from estimator.language import NOT_AVAILABLE
from estimator.language.percent import percent_of, percent_usable
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_checks import check_job
from estimator.model.job_file import read_job
from estimator.model.locations import InJobFile
from estimator.workbook.reading.inputs import read_back

from .hosts import drive
from .made import SMALL_ROOM, laid_out
from .raw_package import at, demo, parts_of, returned, with_cell
from .small_jobs import STOCK, SUPPLIER, bare_job, edge, zone

READ = {20: 20, 0.2: 20, 7.5: 7.5, 0.075: 7.5, 1.5: 1.5, 0.005: 0.5, 100: 100, 0.999: 99.9}
REFUSED = (1, 0.0049, 0.001, 100.1, 101, -0.2, -20)


@pytest.mark.parametrize("typed", READ)
def test_what_is_typed_is_read_as_it_was_meant(typed: float) -> None:
    assert percent_of(typed) == READ[typed]
    assert percent_usable(typed, 100) == 1


@pytest.mark.parametrize("typed", REFUSED)
def test_what_may_mean_two_things_is_not_used(typed: float) -> None:
    assert percent_usable(typed, 100) == 0


def test_none_is_none() -> None:
    assert (percent_of(0), percent_usable(0, 100)) == (0, 1)


def _cell_of(name: str) -> tuple[str, str]:
    sheet, address = demo()[0].layout.cell(name)
    return sheet, address.replace("$", "")


@pytest.mark.parametrize("typed", [20, 0.2])
@pytest.mark.parametrize("field", ["profit_percent", "vat_percent", "supplier_vat_percent"])
def test_a_cell_is_read_back_the_same(field: str, typed: float) -> None:
    parts = with_cell(parts_of(demo()[1]), *_cell_of(field), f"<v>{typed}</v>", None)
    assert returned(parts).job.particulars[field] == 20


def test_wastage_and_a_percentage_of_work_are_read_back_the_same() -> None:
    parts = with_cell(parts_of(demo()[1]), *at("materials", 1, "wastage_1"), "<v>0.1</v>", None)
    parts = with_cell(parts, *at("work_lines", 4, "figure"), "<v>0.08</v>", None)
    parts = with_cell(parts, *at("work_lines", 3, "figure"), "<v>0.68</v>", None)
    job = returned(parts).job
    assert job.wastage["Fernbank Supplies (invented)"]["hardcore"] == 10
    assert job.rows["work_lines"][3]["figure"] == 8, "8 % of the price"
    assert job.rows["work_lines"][2]["figure"] == 0.68, "68 pence: no percentage"


@pytest.mark.parametrize("typed", ["1", "0.004", "101"])
def test_a_cell_that_says_nothing_is_refused_with_its_place(typed: str) -> None:
    sheet, address = _cell_of("profit_percent")
    parts = with_cell(parts_of(demo()[1]), sheet, address, f"<v>{typed}</v>", None)
    with pytest.raises(JobError, match=rf"job\.xlsx: {sheet}!{address} .*: found"):
        returned(parts)


@pytest.mark.parametrize("percent", [0.5, 0.75, 1, 1.25, 20])
def test_a_small_percentage_of_a_job_file_comes_back_from_its_workbook(
    percent: float, tmp_path: Path
) -> None:
    """A job file says 0.75 for three quarters of one per cent; its cell holds 0.0075."""
    job = bare_job()
    job = replace(job, particulars={**job.particulars, "profit_percent": percent})
    path = tmp_path / "job.xlsx"
    path.write_bytes(laid_out(estimate(job, SMALL_ROOM), SMALL_ROOM)[1])
    assert read_back(path).job.particulars["profit_percent"] == percent


@pytest.mark.parametrize("found", ["0.2", "0.49", "101"])
def test_a_job_file_takes_per_cent_and_refuses_a_fraction(found: str, tmp_path: Path) -> None:
    text = DEMO_JOB.read_text("utf-8")
    assert "profit_percent = 20" in text
    file = tmp_path / "job.toml"
    file.write_text(text.replace("profit_percent = 20", f"profit_percent = {found}"), "utf-8")
    (tmp_path / "garden_room_prices.csv").write_bytes(
        DEMO_JOB.with_name("garden_room_prices.csv").read_bytes()
    )
    with pytest.raises(JobError, match=rf"profit_percent: found {found}; accepted: 0, or a perc"):
        read_job(file)


def _packs(wastage: Any) -> Any:
    """9.7 m needed of what a pack holds 10 m of: 9.7 × 1.05 = 10.185, so two packs."""
    return call_from_cell(FUNCTIONS["DAMP_PACK_COUNT"], 9.7, 10, wastage, 1)


def test_a_function_reads_a_cell_that_shows_five_per_cent_as_five() -> None:
    assert _packs(0) == 1
    assert _packs(5) == _packs(0.05) == 2
    assert isinstance(_packs(1), Refusal)
    assert isinstance(_packs(0.004), Refusal)


@pytest.mark.host
def test_the_sheet_reads_a_percentage_however_it_was_typed(tmp_path: Path) -> None:
    """Typed on the keyboard: the total is that of twenty per cent, or refuses; never quietly another."""
    built, data = demo()
    path = tmp_path / "job.xlsx"
    path.write_bytes(data)
    front, span = built.layout.fronts["materials"], built.layout.spans["materials"]
    stone = f"{front.sheet}!{front.letters['wastage_1']}{front.first}"
    rate = "!".join(built.layout.cell("profit_percent")).replace("$", "")
    read = f"{span.sheet}!{span.letters['used_wastage_1']}{span.first}"
    total = ["show", "quote_total"]
    steps: list[Any] = [total]
    for text in ("20%", "0.2", "=0.1+0.1", "20", "1", "0.4%", "120", "some", "20"):
        steps += [["type", rate, text], ["show", "used_profit_percent"], total]
    for text in ("10%", "0.1", "10", "1", "0.001", "10"):
        steps += [["type", stone, text], ["show", read], total]
    first, *found = (a for a in drive(path, steps) if a is not None)
    rows = [tuple(found[n : n + 2]) for n in range(0, len(found), 2)]
    right, refused = (20, first), "#N/A"
    assert first == estimate(read_job(DEMO_JOB)).cell("quote_total")
    assert rows[:4] == [right] * 4
    assert [t for _, t in rows[4:8]] == [refused] * 4
    assert rows[8] == right
    assert rows[9:12] == [(10, first)] * 3
    assert [t for _, t in rows[12:14]] == [refused] * 2
    assert rows[14] == (10, first)


def _with_wastage(given: dict[str, float]) -> Job:
    sides = [edge(f"Z1{s}", "Z1", s, n) for s, n in (("A1", 4), ("A2", 4), ("B1", 3), ("B2", 3))]
    return replace(bare_job(zones=[zone("Z1", 4, 3)], edges=sides), wastage={SUPPLIER: given})


def test_a_wastage_that_nobody_gave_is_said_and_counted() -> None:
    """Sand and stone of a floor carry wastage; its sheet, in whole strips, carries none."""
    job = _with_wastage({})
    ledger = estimate(job)
    said = dict(
        zip(ledger.column("book", "code"), ledger.column("book", "wastage_said"), strict=True)
    )
    bought = dict(zip(ledger.column("book", "code"), ledger.column("book", "packs"), strict=True))
    assert bought["SAND"] > 0
    assert bought["STONE"] > 0
    assert said["SAND"] == said["STONE"] == "none given: 0 %"
    blank = {c for c, text in said.items() if text}
    assert ledger.cell("wastages_blank") == len(blank)
    shown = [t for t in ledger.column("order_lines", "wastage_said") if t]
    assert len(shown) == len(blank), "it stands on the order"
    by_material = {str(p["code"]): str(p["material"]) for p in STOCK}
    settled = estimate(_with_wastage({by_material[c]: 0 for c in blank}))
    assert settled.cell("wastages_blank") == 0
    assert settled.cell("quote_total") == ledger.cell("quote_total")
    assert settled.cell("quote_total") is not NOT_AVAILABLE
    check_job(job, InJobFile("test"))
