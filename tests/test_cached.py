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
from estimator.language.units import EACH, TEXT
from estimator.workbook.cached import as_file
from estimator.workbook.content import Content, Filled
from estimator.workbook.hidden import HiddenSheet

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


def held() -> HiddenSheet:
    """A hidden sheet: a column of texts, one of this and that, one of a formula for each row."""
    said = (' a <&> "b"\n', None, "_x0041_", "", "m\u00b2\r")
    sheet = HiddenSheet()
    block = sheet.block("What it is for", first=3)
    block.add("A", [Content(None, text, TEXT) for text in said], "Said")
    block.add("B", [Content('IF(A3="<",1,"")', "", TEXT), Content(None, 0.25, EACH)], "Found")
    block.add("C", Filled("A{r}&A{a}", range(3, 6), [2, NOT_AVAILABLE], EACH))
    return sheet


def test_what_a_hidden_sheet_holds_stands_in_its_file() -> None:
    data = as_file(Workbook(), {}, {"Sheet": held()})
    found = load_workbook(BytesIO(data)).worksheets[0]
    assert {c.coordinate: c.value for c in found._cells.values()} == {
        "A1": "What it is for", "A2": "Said", "B2": "Found",
        "A3": " a <&> \"b\"\n", "A5": "_x005F_x0041_", "A7": "m\u00b2\r",
        "B3": '=IF(A3="<",1,"")', "B4": 0.25, "C3": "=A3&A2", "C4": "=A4&A3",
    }  # fmt: skip
    shown = load_workbook(BytesIO(data), data_only=True).worksheets[0]
    assert [shown[at].value for at in ("B3", "C3", "C4")] == [None, 2, "#N/A"]
    part = etree.fromstring(ZipFile(BytesIO(data)).read(SHEET))
    [area] = part.iterfind("{*}dimension")
    assert area.get("ref") == "A1:C7"
    kept = part.xpath("//*[@xml:space='preserve']/../../@r")
    assert kept == ["A3", "A7"], "blanks around a text"


def test_what_a_hidden_sheet_works_out_is_told() -> None:
    sheet = held()
    assert sheet.results == {(3, 2): "", (3, 3): 2, (4, 3): NOT_AVAILABLE}
    assert sheet.units == {(3, 2): TEXT, (3, 3): EACH, (4, 3): EACH}
    typed = {' a <&> "b"\n', "_x0041_", "m\u00b2\r", 0.25}
    assert sheet.values() == {"What it is for", "Said", "Found"} | typed


def test_a_text_that_no_cell_can_hold_is_not_written() -> None:
    sheet = HiddenSheet()
    sheet.block("What it is for", first=3).add("A", [Content(None, "bell \x07", TEXT)])
    with pytest.raises(ValueError, match="control characters"):
        as_file(Workbook(), {}, {"Sheet": sheet})


def test_a_column_of_one_formula_reads_as_one_of_many() -> None:
    column = Filled("B{r}+B{a}", range(5, 8), [1, 2, 3, 4], EACH)
    expected = [Content(f"B{row}+B{row - 1}", row - 4, EACH) for row in (5, 6, 7)]
    assert [*column] == expected == [column[n] for n in range(3)]
    assert len(column) == 3
    assert [*column[1:]] == expected[1:]
    assert column[-1] == expected[-1]
