"""Prices older than the office takes them for good: said on Start and before an issue."""

import csv
import json
import shutil
from dataclasses import replace
from datetime import date, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from estimator.cli import before_issue
from estimator.cli.main import main
from estimator.documents.price_requests.merging import Change, Merge, merged
from estimator.errors import JobError, PriceError
from estimator.files.resources import DEMO_JOB, JOB_TEMPLATE
from estimator.language.days import day_number
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.model.price_file import prices_in, with_book
from estimator.workbook.build import Built, build
from estimator.workbook.reading.inputs import read_back

from .hosts import by_ironcalc
from .made import SMALL_ROOM

OLD, NEW = date(2025, 8, 13), date(2026, 3, 1)  # 200 days from one to the other
# Of the demo's products the job takes DPC F-05 and stop ends F-11, and no tape F-14 from Fernbank.
PRICED = {"F-05": OLD, "F-11": NEW, "H-05": OLD}


def dated(limit: float | None, day: date | None = None) -> Job:
    job = read_job(DEMO_JOB)
    book = [
        {**r, "priced_on": day_number(PRICED[r["code"]]) if r["code"] in PRICED else None}
        for r in job.rows["book"]
    ]
    said = {"price_limit": limit, "price_day": day and day_number(day)}
    return replace(job, particulars={**job.particulars, **said}, rows={**job.rows, "book": book})


def test_the_days_between_are_two_hundred() -> None:
    """18 left of August, 30, 31, 30, 31, 31, 28 and the first of March."""
    assert 18 + 30 + 31 + 30 + 31 + 31 + 28 + 1 == (NEW - OLD).days == 200
    assert day_number(date(1900, 3, 1)) == 61  # as spreadsheet programs count
    assert day_number(date(2026, 3, 1)) == 46082


@pytest.mark.parametrize(
    ("limit", "day", "count"),
    [
        (None, None, 0),
        (90, None, 1),  # counted to the newest price, of 1 March
        (199, None, 1),
        (200, None, 0),  # good for 200 days: the last of them is 1 March
        (200, date(2026, 3, 2), 1),
        (90, date(2025, 9, 1), 0),
        (30, date(2026, 4, 2), 2),
    ],
)
def test_old_prices_of_what_the_job_takes_are_counted(
    limit: float | None, day: date | None, count: int
) -> None:
    ledger = estimate(dated(limit, day))
    keys, found = (ledger.column("open_questions", c) for c in ("key", "open"))
    assert found[keys.index("prices")] == count
    assert ledger.cell("quote_total") == estimate(read_job(DEMO_JOB)).cell("quote_total")


@pytest.fixture(scope="module")
def laid() -> Built:
    return build(estimate(dated(90), SMALL_ROOM), JOB_TEMPLATE, SMALL_ROOM)


def test_the_formulas_count_the_same(laid: Built) -> None:
    """IronCalc works out what Start shows, its stored result spoilt before."""
    start = load_workbook(BytesIO(laid.as_file()))["Start"]
    [row] = [n for n in range(1, 300) if start.cell(n, 1).value == "Prices older than they are good for"]  # fmt: skip
    figures = by_ironcalc(laid.as_file(), {"Start": [(row, 2)]})
    assert figures["Start"] == {f"B{row}": 1}


def test_a_date_in_a_cell_is_read(laid: Built, tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(laid.as_file())
    job = read_back(path).job
    days = {r["code"]: r["priced_on"] for r in job.rows["book"] if r["priced_on"]}
    assert days == {c: day_number(d) for c, d in PRICED.items()}
    book = load_workbook(path)
    sheet = book["Prices"]
    [at] = [c for r in sheet.iter_rows() for c in r if c.value == day_number(NEW) or c.value == datetime(2026, 3, 1)]  # fmt: skip
    assert at.number_format == "yyyy-mm-dd"
    at.value = datetime(2026, 2, 1)
    book.save(path)
    rows = {r["code"]: r["priced_on"] for r in read_back(path).job.rows["book"]}
    assert rows["F-11"] == day_number(date(2026, 2, 1))


@pytest.mark.parametrize(
    ("said", "kept"),
    [("2026-03-01", 46082), ("2000-01-01", 36526), ("2099-12-31", 73050), ("", None)],
)
def test_a_price_file_writes_days_as_people_do(said: str, kept: float | None) -> None:
    text = f"code,material,description,weight_kg,priced_on\nA,hardcore,x,1000,{said}\n"
    [row] = prices_in(text, "p.csv")
    assert row["priced_on"] == kept
    assert with_book(text, "p.csv", {}, []) == text
    again = with_book(text, "p.csv", {"A": {"description": "y"}}, [])
    assert again == text.replace(",x,", ",y,")


@pytest.mark.parametrize("said", ["46082", "1 March", "2026-02-30", "1999-12-31", "01/03/2026"])
def test_what_is_no_day_is_refused(said: str) -> None:
    text = f"code,material,description,weight_kg,priced_on\nA,hardcore,x,1000,{said}\n"
    with pytest.raises(PriceError, match=r"p\.csv, line 2\.priced_on: found .*; accepted: a day from 2000-01-01 to 2099-12-31"):  # fmt: skip
        prices_in(text, "p.csv")


def test_a_job_file_says_the_limit_and_the_day(tmp_path: Path) -> None:
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    path = tmp_path / DEMO_JOB.name
    was = path.read_text("utf-8")
    path.write_text(was.replace("[job]\n", "[job]\nprice_limit_days = 90\nprice_day = 2026-03-01\n", 1), "utf-8")  # fmt: skip
    particulars = read_job(path).particulars
    assert (particulars["price_limit"], particulars["price_day"]) == (90, 46082)
    path.write_text(was.replace("[job]\n", "[job]\nprice_day = 2026-03-01T10:00:00\n", 1), "utf-8")
    with pytest.raises(JobError, match="price_day"):
        read_job(path)


def test_a_price_that_changes_is_no_longer_of_its_day() -> None:
    job = dated(90)
    price = Change("book", "F-05", "price", 9.85, 10.0)
    day = Change("book", "F-11", "priced_on", day_number(NEW), day_number(NEW) + 1)
    other = Change("book", "F-11", "price", 14.65, 15.0)
    found = {r["code"]: r for r in merged(job, Merge("", "", [price, other, day])).rows["book"]}
    assert found["F-05"]["priced_on"] is None
    assert found["F-11"]["priced_on"] == day_number(NEW) + 1
    assert found["H-05"]["priced_on"] == day_number(OLD)


def test_a_list_says_of_which_day_its_prices_are(tmp_path: Path) -> None:
    shutil.copytree(DEMO_JOB.parent, tmp_path, dirs_exist_ok=True)
    (tmp_path / "a.csv").write_text("Code,Price\nT1,10.05\nT2,14.65\n", "utf-8")
    (tmp_path / "a.toml").write_text(
        'supplier = "Fernbank Supplies (invented)"\nvat = "excluded"\ndated = 2026-03-01\n'
        '[columns]\ncode = "Code"\nprice = "Price"\n[products]\nT1 = "F-05"\nT2 = "F-11"\n',
        "utf-8",
    )
    words: list[Any] = ["pricelist", tmp_path / DEMO_JOB.name, tmp_path / "a.csv", "--map", tmp_path / "a.toml"]  # fmt: skip
    done = CliRunner().invoke(main, [*map(str, words), "--take"])
    assert done.exit_code == 0, done.output
    assert "2 prices are now of 2026-03-01." in done.output
    text = (tmp_path / "garden_room_prices.csv").read_text("utf-8")
    rows = {r["code"]: r for r in csv.DictReader(text.splitlines())}
    assert {c: r["priced_on"] for c, r in rows.items() if r["priced_on"]} == {
        "F-05": "2026-03-01", "F-11": "2026-03-01"}  # fmt: skip
    shown = CliRunner().invoke(main, [*map(str, words), "--json"])
    assert json.loads(shown.stdout)["dated"] == "2026-03-01"
    (tmp_path / "a.toml").write_text(
        (tmp_path / "a.toml").read_text("utf-8").replace("2026-03-01", "2026-02-01"), "utf-8"
    )
    again = CliRunner().invoke(main, [str(w) for w in words])
    assert "F-05 has a price of 2026-03-01, newer than this list of 2026-02-01." in again.output


def test_old_prices_are_said_before_an_issue(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from estimator.cli.given import Given

    monkeypatch.setattr(before_issue, "today", lambda: date(2026, 3, 2))
    for limit, said in ((200, True), (201, False), (None, False)):
        job = dated(limit)
        before_issue._warn_of_old_prices(Given(job, estimate(job)))
        told = capsys.readouterr().err
        assert ("1 price is older than the 200 days that prices are good for." in told) == said
        assert ("F-05 (DPC 112.5 mm × 30 m): of 2025-08-13" in told) == said
