"""Printed on A4, no heading of a block stands at the foot of a page."""

import subprocess
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.styles import Font

from estimator.documents.paging import breaks
from estimator.model.plan import plan
from estimator.workbook.fronts import SEEN
from estimator.workbook.page_breaks import break_pages

from .hosts import by_libreoffice, need
from .made import made


@pytest.mark.host
def test_a_heading_is_on_the_page_of_what_it_heads(tmp_path: Path) -> None:
    """In the demo: the title of each list that grows on the page of its first row, and none of
    the headings that stand in bold the last line of a page."""
    demo = made("demo")
    file = demo.written(tmp_path)
    printed = by_libreoffice([file], tmp_path, "pdf")["demo"]
    command = [need("pdftotext"), "-layout", str(printed), "-"]
    text = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    pages = [
        [line.strip() for line in page.splitlines() if line.strip()] for page in text.split("\f")
    ]
    looked_at = 0
    for front, table in ((demo.built.layout.fronts.get(t.name), t) for t in plan().tables.values()):
        first = demo.job.rows[table.name][:1] if table.apart else ()
        if front is None or not first or front.sheet in ("Labour", "Quote"):
            continue
        mark = first[0][table.key]
        found = [p for p in pages if table.title in p and p[-1].startswith(front.sheet)]
        assert len(found) == 1, (
            table.title,
            front.sheet,
            [p[:3] + p[-2:] for p in pages if table.title in p],
        )
        (page,) = found
        below = page[page.index(table.title) :]
        assert any(line.split()[0] == mark for line in below), f"{table.title}: {below}"
        looked_at += 1
    assert looked_at == 11
    headings = _in_bold(file)
    assert {"Existing air bricks carried through", "Price", "8. Completion"} <= headings
    foot = [page[-2] for page in pages if len(page) > 1]
    assert [line for line in foot if line in headings] == []


def _in_bold(file: Path) -> set[str]:
    book = load_workbook(file)
    cells = (row[0] for name in SEEN for row in book[name].iter_rows(max_col=1))
    return {
        " ".join(str(c.value).split()) for c in cells if c.value and c.data_type == "s" and c.font.b
    }


def _sheet(rows: int, *headings: int) -> Workbook:
    """Rows of 20 points on upright A4 with margins of an inch: 697.7 points, 34 rows a page."""
    book = Workbook()
    sheet = book.active
    sheet.page_setup.orientation, sheet.page_setup.fitToHeight = "portrait", 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    for side in ("left", "right", "top", "bottom"):
        setattr(sheet.page_margins, side, 1)
    for row in range(1, rows + 1):
        sheet.cell(row, 1, f"row {row}").font = Font(bold=row in headings)
        sheet.row_dimensions[row].height = 20
    sheet.print_area = f"A1:C{rows}"
    return book


@pytest.mark.parametrize(
    ("headings", "begin"),
    [
        ((10, 20), []),
        ((33,), [33]),  # the last but one of its page
        ((31,), [31]),  # three rows of its block would stand below it
        ((38,), []),
        ((31, 33), [31]),  # one that follows at once goes with it
        ((28, 31), [31]),
        ((33, 62), [33, 62]),  # 34 rows of the next page, and a little
        ((33, 50), [33]),
    ],
)
def test_a_page_begins_before_a_heading_that_would_end_one(
    headings: tuple[int, ...], begin: list[int]
) -> None:
    sheet = _sheet(90, *headings).active
    break_pages(sheet)
    assert [b.id + 1 for b in sheet.row_breaks.brk] == begin


def test_a_sheet_fitted_to_a_number_of_pages_is_left_as_it_is() -> None:
    sheet = _sheet(90, 33).active
    sheet.page_setup.fitToHeight = 2
    break_pages(sheet)
    assert sheet.row_breaks.brk == []


@pytest.mark.parametrize(
    ("rows", "headings", "begin"),
    [
        (40, (), [18, 35]),  # of 17 rows each; the last page holds 6
        (40, (20, 27), [18, 27]),  # 9 and 14 are most alike; from 20 they do not fit on one
        (40, (30,), [18, 30]),
        (44, (27,), [18, 35]),  # 10 rows are more than half a page
        (20, (12,), [12]),  # with the first page
        (17, (12,), []),
    ],
)
def test_the_last_page_of_a_document_is_not_nearly_empty(
    rows: int, headings: tuple[int, ...], begin: list[int]
) -> None:
    """Rows of 20 points on pages of 340: blocks go over from the page before."""
    sheet = _sheet(rows).active
    for row in headings:
        sheet.cell(row, 1).font = Font(bold=True, size=12)
    assert breaks(sheet, 1, rows, 340) == begin
