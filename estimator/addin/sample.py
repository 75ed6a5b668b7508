"""A workbook that shows the functions at work. Everything in it is invented.

No result is stored in it: what it shows was worked out by the program that opened it, so that
nothing on it can be out of date.
"""

import io
from collections.abc import Sequence
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.worksheet import Worksheet

from .. import __version__
from ..functions import FUNCTIONS, Function
from .interface import INSTALLED, WHY

STORED = "DAMP."  # how Calc keeps the names in a file; people see DAMP_
IN_USE, EVERY = "In use", "Every function"
_BOLD, _LARGE, _GREY = Font(bold=True), Font(bold=True, size=14), Font(color="00666666")
_TYPED = PatternFill("solid", fgColor="00FFF2CC")
_WRAPPED = Alignment(wrap_text=True, vertical="top")
BASIS = (
    "nhbc_2024; weep_from_end=225; tray_build_in=100; tray_past_lintel=150; tray_lap=100; "
    "dpc_projection=10; dpm_dpc_lap=100"
)
OPENINGS = (  # mark, how many alike, width, lintel, closer, outer leaf, cavity
    ("W1", 2, 1.2, 1.5, 100, 102.5, 100),
    ("W2", 1, 1.8, 2.1, 100, 102.5, 100),
    ("D1", 1, 2.4, 2.7, 100, 102.5, 100),
)
_SPARE = 3  # rows below them that are wired already


def sample() -> bytes:
    """The workbook's content."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = IN_USE
    _in_use(sheet)
    _every_function(book.create_sheet(EVERY))
    book.properties.creator = book.properties.lastModifiedBy = f"estimator {__version__}"
    book.properties.title = "Damp-proofing functions at work"
    book.calculation.fullCalcOnLoad = True
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


def canary() -> str:
    """A formula that says whether the functions are there; NOW() has it worked out each time."""
    there = f"{STORED}{INSTALLED}()"
    return (
        f'=IF(NOW()>0,IF(ISERROR({there}),"The damp-proofing functions are NOT installed: figures '
        f'on this sheet are missing or old. See docs/install-calc.md.",{there}),"")'
    )


def call(function: Function, cells: Sequence[str]) -> str:
    """A formula that calls a function, as a file keeps it."""
    return f"={STORED}{function.method}({','.join(cells)})"


def _why(function: Function, cells: Sequence[str]) -> str:
    return f'={STORED}{WHY}("{function.name}",{",".join(cells)})'


# ---- a list, a column in one call ------------------------------------------------------------


def _in_use(sheet: Worksheet) -> None:
    _widths(sheet, (26, 11, 11, 11, 11, 11, 11, 13, 13, 11, 40))
    _say(sheet, 1, "Trays over openings, from a column in one call", _LARGE)
    _say(sheet, 2, canary(), _BOLD)
    _say(sheet, 3, "Invented figures. Shaded cells are typed; the rest is worked out.", _GREY)
    _say(sheet, 5, "Whose guidance", _BOLD)
    _type(sheet, "B5", BASIS)
    _say(sheet, 6, "A basis, and the figures of one's own where it states none.", _GREY)
    head = ("Opening", "Number", "Width, m", "Lintel, m", "Closer, mm", "Outer leaf, mm",
            "Cavity, mm", "Tray length, m", "Tray width, mm", "Weeps", "If no figure: why")  # fmt: skip
    first, last = 9, 9 + len(OPENINGS) + _SPARE - 1
    for column, words in enumerate(head, 1):
        sheet.cell(first - 1, column, words).font = _BOLD
        sheet.cell(first - 1, column).alignment = _WRAPPED
    for row in range(first, last + 1):
        known = OPENINGS[row - first] if row - first < len(OPENINGS) else (None,) * 7
        for column, value in enumerate(known, 1):
            sheet.cell(row, column, value).fill = _TYPED
    col = {c: f"{c}{first}:{c}{last}" for c in "ABCDEFGHIJK"}
    sheet.row_dimensions[first - 1].height = 28
    length = (col["C"], col["D"], col["E"], "B5")
    _called(sheet, col["H"], "TRAY_LENGTH", *length)
    _called(sheet, col["I"], "TRAY_WIDTH", col["F"], col["G"], "B5")
    _called(sheet, col["J"], "WEEP_COUNT", col["H"], "225", "B5")
    _column(sheet, col["K"], _why(FUNCTIONS["DAMP_TRAY_LENGTH"], length))
    _totals(sheet, last + 2, col)


def _totals(sheet: Worksheet, row: int, col: dict[str, str]) -> None:
    """From trays to a price: each line reads the one above it."""
    number, net, weeps = (
        f"=SUM({col['B']})",
        f"=SUMPRODUCT({col['B']},{col['H']})",
        f"=SUMPRODUCT({col['B']},{col['J']})",
    )
    at = {name: f"B{row + n}" for n, name in enumerate(
        ("trays", "weeps", "ends", "net", "roll", "wastage", "rolls", "price", "cost", "profit",
         "markup", "asked", "vat", "status", "total"))}  # fmt: skip
    lines: tuple[tuple[str, str, Any, bool], ...] = (
        ("trays", "Trays", number, False),
        ("weeps", "Weeps", weeps, False),
        ("ends", "Stop ends", _calling("STOP_ENDS", at["trays"]), False),
        ("net", "Tray, net, m", net, False),
        ("roll", "Length of a roll, m", 20, True),
        ("wastage", "Wastage, %", 5, True),
        ("rolls", "Rolls",
         _calling("TRAY_ROLLS", at["net"], "0", at["roll"], at["wastage"], "B5"), False),
        ("price", "Price of a roll, £", 38.5, True),
        ("cost", "Cost, £", _calling("COST", at["rolls"], at["price"]), False),
        ("profit", "Profit by", "markup on cost", True),
        ("markup", "Markup or margin, %", 20, True),
        ("asked", "Price, £", _calling("PRICE", at["cost"], at["profit"], at["markup"]), False),
        ("vat", "VAT, %", 20, True),
        ("status", "VAT status", "standard", True),
        ("total", "Price with VAT, £",
         _calling("PRICE_WITH_VAT", at["asked"], at["vat"], at["status"]), False),
    )  # fmt: skip
    for name, label, value, typed in lines:
        cell = at[name]
        sheet[f"A{cell[1:]}"] = label
        sheet[cell] = value
        sheet[cell].alignment = Alignment(horizontal="right")
        if "£" in label:
            sheet[cell].number_format = "#,##0.00"
        if typed:
            sheet[cell].fill = _TYPED


def _called(sheet: Worksheet, area: str, method: str, *cells: str) -> None:
    shown_as = FUNCTIONS[f"DAMP_{method}"].unit.number_format
    _column(sheet, area, _calling(method, *cells), shown_as)


def _calling(method: str, *cells: str) -> str:
    return call(FUNCTIONS[f"DAMP_{method}"], cells)


# ---- every function once ---------------------------------------------------------------------


def _every_function(sheet: Worksheet) -> None:
    most = max(len(f.arguments) for f in FUNCTIONS.values())
    _widths(sheet, (34, 44, *(13,) * most, 16, 8, 16, 44, 40))
    _say(sheet, 1, "Every function once, with the figure worked by hand beside it", _LARGE)
    _say(sheet, 2, canary(), _BOLD)
    head = ("Function", "What it gives", *(f"Argument {n}" for n in range(1, most + 1)),
            "Gives", "Unit", "By hand", "Worked", "If no figure: why")  # fmt: skip
    for column, words in enumerate(head, 1):
        sheet.cell(4, column, words).font = _BOLD
    for row, function in enumerate(FUNCTIONS.values(), 5):
        example = function.example
        cells = []
        for column, value in enumerate(example.given, 3):
            cell = sheet.cell(row, column, value)
            cell.fill = _TYPED
            cells.append(cell.coordinate)
        after = (
            call(function, cells),
            function.unit.sign,
            example.gives,
            example.working,
            _why(function, cells),
        )
        sheet.cell(row, 1, function.name).font = _BOLD
        sheet.cell(row, 2, function.meaning).alignment = _WRAPPED
        for column, value in enumerate(after, 3 + most):
            sheet.cell(row, column, value).alignment = _WRAPPED
        if not function.unit.text and function.unit.sign:
            for column in (3 + most, 5 + most):
                sheet.cell(row, column).number_format = function.unit.number_format
        sheet.row_dimensions[row].height = 30
    sheet.freeze_panes = "B5"


# ---- cells -----------------------------------------------------------------------------------


def _widths(sheet: Worksheet, widths: Sequence[float]) -> None:
    for n, width in enumerate(widths):
        sheet.column_dimensions[sheet.cell(1, n + 1).column_letter].width = width
    sheet.page_setup.orientation, sheet.page_setup.paperSize = "landscape", 9
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True


def _say(sheet: Worksheet, row: int, words: str, font: Font) -> None:
    sheet.cell(row, 1, words).font = font


def _type(sheet: Worksheet, address: str, value: Any) -> None:
    sheet[address] = value
    sheet[address].fill = _TYPED


def _column(sheet: Worksheet, area: str, formula: str, shown_as: str = "General") -> None:
    sheet[area.split(":")[0]] = ArrayFormula(area, formula)
    for (cell,) in sheet[area]:
        cell.number_format = shown_as
