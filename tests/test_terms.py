"""Whose quote it is, what it refers to, on which terms, and what the client signs; and the words that
a person reads."""

import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from estimator.documents.client import client_ledger
from estimator.documents.issue import Issue
from estimator.errors import JobError
from estimator.files.resources import DEMO_JOB
from estimator.language.ledger import Ledger
from estimator.language.tables import Input, Item
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.model.plan import plan
from estimator.pricing.terms import FIRM, REFERENCES
from estimator.revisions.changes import STAGES
from estimator.workbook.contents import Contents
from estimator.workbook.reading.inputs import read_back, read_checked

from .made import made

DOCS = Path(__file__).parent.parent / "docs"


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


# ---- words a person reads ----

OURS = re.compile(r"\b(basis|bases|zones?|marks?)\b", re.IGNORECASE)
# A line of work follows it by this name, in files that people have.
KEPT = "Layers of hardcore to compact, over all zones"


def spoken(text: str) -> str:
    """A text without the names of code in it, which stand between backticks."""
    return re.sub(r"`[^`]*`", "", text)


def said_of() -> list[tuple[str, Item]]:
    """Every column and named cell, with its list."""
    tables = ((t.name, item) for t in plan().tables.values() for item in t)
    return [*tables, *(("", item) for item in plan().cells.values())]


def test_what_things_are_called_is_one_word() -> None:
    """Floor, ref and guidance: in no label or help of a column or cell is the word of the code."""
    found = [
        (listed, item.name, words)
        for listed, item in said_of()
        for words in (item.label, item.help)
        if OURS.search(spoken(words)) and words != KEPT
    ]
    assert found == []


def test_a_sentence_ends_with_a_full_stop() -> None:
    """What columns and cells, and so rules, say of themselves, has no semicolon."""
    assert [(listed, i.name) for listed, i in said_of() if ";" in spoken(i.help)] == []


def test_what_is_accepted_names_no_key() -> None:
    """A list by the name on its sheet, a limit in plain digits."""
    typed = [item for _, item in said_of() if isinstance(item, Input)]
    assert len(typed) > 200
    found = [
        i.name for i in typed if re.search(r"_|e\+|cut ins|vat status|list of book", i.accepted)
    ]
    assert found == []


def test_no_title_of_a_help_is_cut_in_a_word() -> None:
    """The file format allows 32 letters: a longer label loses whole words."""
    seen = load_workbook(BytesIO(made("demo").data))
    asked = [v for sheet in seen for v in sheet.data_validations.dataValidation if v.error]
    cut = 0
    for validation in asked:
        title = validation.promptTitle
        assert title
        assert len(title) <= 32
        label = validation.error.partition(": ")[0]
        if title != label:
            kept = title.removesuffix(" ...")
            assert label.startswith(f"{kept} "), (label, title)
            cut += 1
    assert cut > 5


def test_pages_typed_by_hand_have_short_sentences() -> None:
    """Forty words at most outside tables, names of code and examples not counted."""
    long = []
    for name in ("workbook", "prices", "house-bases"):
        page = (DOCS / f"{name}.md").read_text("utf-8")
        page = re.sub(r"```.*?```", "", page, flags=re.DOTALL)
        for line in page.splitlines():
            if line.startswith("|"):
                continue
            for sentence in re.split(r"(?<=[.!?:])\s+", spoken(line)):
                if len(sentence.split()) > 40:
                    long.append((name, sentence))
    assert long == []
