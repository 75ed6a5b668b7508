"""What is written is what openpyxl would write, with the result of each formula beside it."""

from datetime import date
from io import BytesIO
from zipfile import ZipFile

import pytest
from lxml import etree
from openpyxl import Workbook, load_workbook
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment
from openpyxl.styles import Font

from estimator.language import NOT_AVAILABLE
from estimator.workbook.cached import as_file

SHEET = "xl/worksheets/sheet1.xml"


def odd() -> Workbook:
    """A sheet with every kind of cell that a template may hold."""
    book = Workbook()
    sheet = book.worksheets[0]
    for row, value in enumerate((1, 2.5, -1e-7, 10**15, True, "a <&> \"b\"", " m\u00b2 \n", "\r",
                                 date(2026, 11, 27), "#N/A", "1e3", "=A1*2", "=A2"), 1):  # fmt: skip
        sheet.cell(row, 2, value)
    sheet["C3"].value = CellRichText("plain ", TextBlock(InlineFont(b=True), "bold"))
    sheet["C4"].font = Font(bold=True)
    sheet["C5"].comment = Comment("said", "of it")
    sheet["C6"].value, sheet["C6"].hyperlink = "further", "#A1"
    sheet["C7"].font = Font(bold=True)
    sheet["C7"].value = 'say "x"'
    sheet.row_dimensions[4].height = 33.5
    sheet.row_dimensions[40].hidden = True  # and no cell in it
    return book


def canonical(part: bytes) -> bytes:
    tree = etree.fromstring(part)
    for result in tree.iterfind(".//{*}c[{*}f]"):  # bare openpyxl writes no results
        result.attrib.pop("t", None)
        result.remove(result.find("{*}v"))
    for blank in tree.iterfind(".//{*}c[@t='n']"):
        if not len(blank):
            del blank.attrib["t"]
    return etree.tostring(tree, method="c14n")


def test_as_openpyxl_writes_it() -> None:
    bare = BytesIO()
    odd().save(bare)
    ours = ZipFile(BytesIO(as_file(odd(), {"Sheet": {(12, 2): 2.0, (13, 2): 2.5}})))
    theirs = ZipFile(bare)
    assert sorted(ours.namelist()) == sorted(theirs.namelist())
    assert canonical(ours.read(SHEET)) == canonical(theirs.read(SHEET))


def test_each_result_stands_beside_its_formula() -> None:
    book = Workbook()
    results = {1: 2.0, 2: 'a <&> "b"', 3: NOT_AVAILABLE, 4: True, 5: "", 6: 0.1 + 0.2, 7: "_x0041_"}
    for row in results:
        book.worksheets[0].cell(row, 1, f'=B{row}&"<"')
    data = as_file(book, {"Sheet": {(n, 1): value for n, value in results.items()}})
    values = load_workbook(BytesIO(data), data_only=True).worksheets[0]
    formulas = load_workbook(BytesIO(data)).worksheets[0]
    shown = [values.cell(row, 1).value for row in results]
    assert shown == [2, 'a <&> "b"', "#N/A", True, None, 0.30000000000000004, "_x005F_x0041_"]
    assert [formulas.cell(row, 1).value for row in results] == [f'=B{n}&"<"' for n in results]


def test_a_formula_without_its_result_is_a_defect() -> None:
    book = Workbook()
    book.worksheets[0]["A1"] = "=1"
    with pytest.raises(KeyError):
        as_file(book, {"Sheet": {}})
