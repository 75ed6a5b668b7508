"""Whose quote it is, what it refers to, on which terms, and what the client signs."""

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from estimator.documents.client import client_ledger
from estimator.documents.issue import Issue
from estimator.errors import JobError
from estimator.files.resources import DEMO_JOB
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.pricing.terms import FIRM, REFERENCES
from estimator.revisions.changes import STAGES
from estimator.workbook.contents import Contents
from estimator.workbook.reading.inputs import read_back, read_checked

from .made import made


def shown(job: Job, **particulars: Any) -> Ledger:
    job = replace(job, particulars={**job.particulars, **particulars})
    return client_ledger(estimate(job), Issue("C", "1 May 2026", STAGES))


def test_the_client_reads_whose_quote_it_is_and_its_terms() -> None:
    found = shown(made("demo").job, quote_number="Q-7", work_start=None)
    assert found.cell("firm_name") == "Example Extensions (invented)"
    assert found.cell("firm_contact") == (
        "1 Sample Yard, Exampleton (invented), telephone 000 0000 0000 (invented)"
    )
    assert found.cell("firm_registration") == (
        "Company number 00000000 (invented), VAT number GB 000 0000 00 (invented)"
    )
    details = zip(found.column("details", "label"), found.column("details", "words"), strict=True)
    assert dict(details) == {
        "Quote number": "Q-7",
        "Drawings": "A-101 to A-104, revision B (invented)",
        "Duration": "Two weeks",
        "Payment": "30 % at the start, the rest 14 days after completion",
    }
    assert found.cell("acceptance_words") == (
        "I accept this quotation Q-7, revision C of 1 May 2026. Please go ahead with the work."
    )


def test_what_nobody_gave_takes_no_line() -> None:
    blank = dict.fromkeys(i.name for i in (*FIRM, *REFERENCES))
    found = shown(made("demo").job, **blank)
    assert not found.rows["firm"]
    assert not found.rows["details"]
    assert found.cell("acceptance_words").startswith("I accept this quotation, revision C")


def test_an_estimate_is_not_accepted_as_a_price() -> None:
    job = made("demo").job
    found = shown(replace(job, line_status={**job.line_status, "dpm": "provisional"}))
    assert found.cell("document_word") == "Estimate"
    assert "provisional lines may change" in found.cell("acceptance_words")


def test_what_is_included_is_a_list() -> None:
    """An odd number leaves the last place of the right column free."""
    found = shown(made("demo").job)
    left, right = found.column("included", "words"), found.column("included", "beside")
    assert left[:2] == ["Hardcore under floors", "Blinding on hardcore"]
    listed = [*left, *(words for words in right if words)]
    job = estimate(made("demo").job)
    scope = zip(
        job.column("scope_lines", "counted"), job.column("scope_lines", "scope"), strict=True
    )
    assert listed == [counted for counted, standing in scope if standing == "in"]


def test_no_key_is_shown_where_guidance_and_materials_are_chosen() -> None:
    """The typed cells hold names; read back they are the keys of the job."""
    demo = made("demo")
    contents = Contents(estimate(demo.job, demo.room), demo.built.layout)
    assert contents.typed_cell("basis_choice").value == "NHBC Standards (2024)"
    book = contents.plan.tables["book"]
    shown = {c.value for c in contents.front(book, "material")} - {None, ""}
    assert {"Hardcore", "DPM sheet", "DPC roll"} <= shown
    assert not any("_" in words for words in shown)


def test_a_workbook_is_told_names_a_job_file_keys(tmp_path: Path) -> None:
    """Who types in a list of names is told those names; who writes a job file, its keys."""
    demo = made("demo")
    book = load_workbook(demo.written(tmp_path))
    span = demo.built.layout.fronts["book"]
    sheet, basis = demo.built.layout.typed_cells["basis_choice"]
    for on, at, accepted in (
        (
            span.sheet,
            f"{span.letters['material']}{span.first}",
            "one of 'Hardcore', 'Blinding sand'",
        ),
        (sheet, basis.replace("$", ""), "one of 'Approved Document C (2004)', 'Common practice"),
    ):
        was, book[on][at] = book[on][at].value, "nonsense"
        book.save(tmp_path / "typed.xlsx")
        with pytest.raises(JobError, match=f"found 'nonsense'; accepted: {re.escape(accepted)}"):
            read_checked(tmp_path / "typed.xlsx")
        book[on][at] = was
    written = DEMO_JOB.read_text("utf-8").replace('"nhbc_2024"', '"nonsense"')
    (tmp_path / "job.toml").write_text(written, "utf-8")
    prices = DEMO_JOB.with_name("garden_room_prices.csv")
    (tmp_path / prices.name).write_bytes(prices.read_bytes())
    with pytest.raises(JobError, match="accepted: one of england_adc_2013, common_practice"):
        read_job(tmp_path / "job.toml")


def test_names_and_keys_are_both_read(tmp_path: Path) -> None:
    path = made("demo").written(tmp_path)
    job = read_back(path).job
    assert job.particulars["basis_choice"] == "nhbc_2024"
    book = load_workbook(path)
    span = made("demo").built.layout.fronts["book"]
    at = f"{span.letters['material']}{span.first}"
    for typed in ("hardcore", "HARDCORE", "Hardcore"):
        book[span.sheet][at] = typed
        book.save(tmp_path / "typed.xlsx")
        assert read_back(tmp_path / "typed.xlsx").job.rows["book"][0]["material"] == "hardcore"
    sheet, basis = made("demo").built.layout.cell("basis_choice")
    for typed, key in (
        ("common_practice", "common_practice"),
        ("approved document c (2004)", "england_adc_2013"),
    ):
        book[sheet][basis.replace("$", "")] = typed
        book.save(tmp_path / "typed.xlsx")
        assert read_back(tmp_path / "typed.xlsx").job.particulars["basis_choice"] == key
