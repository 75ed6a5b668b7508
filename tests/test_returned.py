"""What a person does to a saved workbook is read as it was meant, or refused with its cell.

The edits are made in the XML by lxml alone. Those marked host were made by LibreOffice.
"""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from estimator.errors import EstimateError
from estimator.files.resources import DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.workbook.reading.comparison import (
    CHANGED,
    TYPED_OVER,
    differences,
    laid_ledger,
    spelled,
)
from estimator.workbook.reading.inputs import read_back
from estimator.workbook.refresh import refreshed

from .hosts import drive
from .raw_package import at, demo, parts_of, returned, shared_text, with_cell, with_text


def with_row(job: Job, table: str, row: int, **changes: Any) -> Job:
    rows = [dict(r) for r in job.rows[table]]
    rows[row - 1] |= changes
    return replace(job, rows={**job.rows, table: rows})


WIDTH = at("openings", 1, "width")
READ: dict[str, tuple[tuple[str, str], str, str | None, dict[str, Any]]] = {
    "a number": (WIDTH, "<v>1.9</v>", None, {"width": 1.9}),
    "a number in another spelling": (WIDTH, "<v>19E-1</v>", "n", {"width": 1.9}),
    "a formula with its result": (WIDTH, "<f>0.9+1</f><v>1.9</v>", None, {"width": 1.9}),
    "a blank that may be": (at("openings", 1, "closer"), "", None, {"closer": None}),
    "a text": (at("openings", 1, "description"), shared_text("New"), "inlineStr",
               {"description": "New"}),
    "a text in runs": (
        at("openings", 1, "description"),
        "<is><r><t>Ne</t></r><r><t>w</t></r><rPh sb='0' eb='1'><t>hint</t></rPh></is>",
        "inlineStr", {"description": "New"},
    ),
    "a number as a description": (at("openings", 1, "description"), "<v>12</v>", None,
                                  {"description": "12"}),
}  # fmt: skip


@pytest.mark.parametrize("name", READ)
def test_an_edit_is_read_as_it_was_meant(name: str) -> None:
    (sheet, address), inside, kind, changes = READ[name]
    found = returned(with_cell(parts_of(demo()[1]), sheet, address, inside, kind))
    job = read_job(DEMO_JOB)
    assert found.job == with_row(job, "openings", 1, **changes) != job


SPAN = demo()[0].layout.typed("openings")
MARK = SPAN.letters["mark"]
LAST = demo()[0].layout.typed("parapets")
REFUSED: dict[str, tuple[tuple[str, str], str, str | None]] = {
    "a text for a number": (WIDTH, shared_text("wide"), "inlineStr"),
    "a number written as text": (WIDTH, shared_text("1.9"), "inlineStr"),
    "a number for a name": (at("openings", 1, "wall"), "<v>1</v>", None),
    "an error": (WIDTH, "<v>#N/A</v>", "e"),
    "a true": (WIDTH, "<v>1</v>", "b"),
    "a date": (WIDTH, "<v>2026-03-01</v>", "d"),
    "a date as a mark": (at("openings", 1, "mark"), "<v>2026-02-01</v>", "d"),
    "a formula without its result": (WIDTH, "<f>0.9+1</f>", None),
    "a mark used twice": (at("openings", 2, "mark"), shared_text("O1"), "inlineStr"),
    "a wall of the room left out": (at("openings", 1, "wall"), "", None),
    "a row below the end line": ((SPAN.sheet, f"{MARK}{SPAN.bottom + 1}"),
                                 shared_text("O9"), "inlineStr"),
    "a row on the end line": ((SPAN.sheet, f"{MARK}{SPAN.bottom}"),
                              shared_text("O9"), "inlineStr"),
    "a figure between two lists": ((SPAN.sheet, f"{SPAN.letters['width']}{SPAN.bottom + 2}"),
                                   "<v>1.2</v>", None),
    "a figure below the last list of its sheet": (
        (LAST.sheet, f"{LAST.letters['length']}{LAST.bottom + 1}"), "<v>5</v>", None),
    "a figure on the end line, beside what is typed": (
        (SPAN.sheet, f"{SPAN.letters['fault']}{SPAN.bottom}"), "<v>5</v>", None),
    "a sixth supplier": (at("suppliers", 6, "name"), shared_text("Sixth"), "inlineStr"),
    "a key typed over": (at("materials", 1, "key"), shared_text("gravel"), "inlineStr"),
    "a figure out of its row's limits": (at("allowances", 2, "override"), "<v>99999</v>", None),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_used_is_refused_at_its_cell(name: str) -> None:
    (sheet, address), inside, kind = REFUSED[name]
    with pytest.raises(EstimateError) as refusal:
        returned(with_cell(parts_of(demo()[1]), sheet, address, inside, kind))
    assert f"{sheet}!{address}" in str(refusal.value)


def test_a_deleted_name_is_no_blank() -> None:
    parts = with_text(parts_of(demo()[1]), "xl/workbook.xml", 'name="client_name"', 'name="was"')
    with pytest.raises(EstimateError, match="the name client_name"):
        returned(parts)


def test_a_name_set_to_another_cell_is_refused() -> None:
    sheet, address = demo()[0].layout.cells["client_name"]
    _, other = demo()[0].layout.cells["site_address"]
    old, new = f">{sheet}!{address}<", f">{sheet}!{other}<"
    with pytest.raises(EstimateError, match="the cell of"):
        returned(with_text(parts_of(demo()[1]), "xl/workbook.xml", old, new))


def test_a_line_of_the_places_taken_out_drops_no_list() -> None:
    built, data = demo()
    span, parts = built.layout.spans["places"], parts_of(data)
    for letter in ("B", "C", "D"):
        parts = with_cell(parts, span.sheet, f"{letter}{span.first + 200}", "", None)
    with pytest.raises(EstimateError):
        returned(parts)


def test_a_formula_typed_over_is_kept_until_it_is_to_be_restored() -> None:
    sheet, address = at("openings", 1, "trays")
    parts = with_cell(parts_of(demo()[1]), sheet, address, "<v>77</v>", None)
    found = returned(parts)
    assert found.job == read_job(DEMO_JOB)
    [different] = differences(found, laid_ledger(found))
    assert (different.kind, different.shown) == (TYPED_OVER, 77)
    assert f"{sheet}!{address}" in different.where
    with pytest.raises(EstimateError, match="--restore"):
        refreshed(found)
    data, _ = refreshed(found, restore=True)
    after = returned(parts_of(data))
    assert differences(after, laid_ledger(after)) == []


def test_rows_that_do_not_agree_are_not_refreshed() -> None:
    """The sheet refuses its total for a wall that is not there; no stored total may say another."""
    sheet, address = at("openings", 1, "wall")
    found = returned(with_cell(parts_of(demo()[1]), sheet, address, shared_text("W9"), "inlineStr"))
    with pytest.raises(EstimateError, match=f"{sheet}!{address}"):
        refreshed(found)


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("'Doors2'!$A$1:$A$1 + 2.0", "Doors2!$A$1+2", True),
        ("'My list'!A1", "'Mylist'!A1", False),
        ('IF(A1="a b",1,0)', 'IF(A1="ab",1,0)', False),
        ("A1+1", "A1+2", False),
    ],
)
def test_spellings(one: str, other: str, same: bool) -> None:
    assert (spelled(one) == spelled(other)) is same


@pytest.mark.host
def test_what_libreoffice_moves_is_followed(tmp_path: Path) -> None:
    """In one file: a column put in before all, one moved away, a sheet renamed, a row taken out."""
    file, saved, top = (tmp_path / f"{n}.xlsx" for n in ("job", "saved", "top"))
    file.write_bytes(demo()[1])
    lintel, put_in = SPAN.letters["lintel"], dict(read_job(DEMO_JOB).rows["openings"][0], mark="O9")
    answers = drive(
        file,
        [
            ["move", f"Walls!{lintel}1:{lintel}60", "Walls!CA1"],
            ["insert_column", "Walls", 1],
            ["delete_row", "Walls", SPAN.first + 2],
            ["rename", "Walls", "Bob's doors 2"],
            ["rename", "Floors", "Floors2"],
            ["rename", "e_walls", "Bob's walls"],
            ["new_sheet", "Mine", 0],
            ["save", str(saved)],
            ["open", str(file)],
            ["insert_row", "Walls", SPAN.first],
            *(["set", f"Walls!{SPAN.letters[k]}{SPAN.first}", v] for k, v in put_in.items()),
            ["get", "quote_total"],
            ["save", str(top)],
        ],
    )
    job, found = read_job(DEMO_JOB), read_back(saved)
    more = replace(job, rows={**job.rows, "openings": [put_in, *job.rows["openings"]]})
    assert read_back(top).job == more, "a row put in above a list's first is one of its rows"
    assert answers[-2] == estimate(more).cell("quote_total") != estimate(job).cell("quote_total")
    rows = [r for r in job.rows["openings"] if r["mark"] != job.rows["openings"][2]["mark"]]
    assert found.job == replace(job, rows={**job.rows, "openings": rows})
    assert [d for d in differences(found, laid_ledger(found)) if d.kind == CHANGED] == []
