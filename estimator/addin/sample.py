"""A workbook that shows the functions at work. Everything in it is invented.

No result is stored in it: what it shows was worked out by the program that opened it, so that
nothing on it can be out of date.
"""

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from .. import __version__
from ..functions import FUNCTIONS, Function
from ..functions.cells import MESSAGE
from .interface import INSTALLED, WHY

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


@dataclass(frozen=True)
class Host:
    """What differs from one spreadsheet program to the other."""

    prefix: str  # of the functions' names as its files keep them; people see DAMP_
    page: str  # how the functions are put into it
    errors: bool  # has true error values: DAMP_WHY explains them, and no total need be guarded


CALC = Host("DAMP.", "docs/install-calc.md", errors=True)


def sample() -> bytes:
    """The workbook's content, for Calc."""
    book = Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    draw(book, sheet, CALC)
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


def draw(book: Workbook, first: Worksheet, host: Host) -> None:
    """Draw the functions at work on the first sheet, and every one of them on another."""
    first.title = IN_USE
    page = _Page(first, host)
    page.in_use()
    _Page(book.create_sheet(EVERY, 1), host).every_function()
    book.properties.creator = book.properties.lastModifiedBy = f"estimator {__version__}"
    book.properties.title = "Damp-proofing functions at work"
    book.calculation.fullCalcOnLoad = True


class _Page:
    """One sheet being drawn."""

    def __init__(self, sheet: Worksheet, host: Host) -> None:
        self.sheet, self.host = sheet, host

    # ---- a list, a column in one call ----

    def in_use(self) -> None:
        """Openings, their trays and weeps each a column from one call, and on to a price."""
        self._widths((26, 14, 11, 11, 11, 11, 11, 13, 13, 11, 40))
        self._say(1, "Trays over openings, from a column in one call", _LARGE)
        self._say(2, self._canary(), _BOLD)
        self._say(3, "Invented figures. Shaded cells are typed; the rest is worked out.", _GREY)
        self._say(5, "Whose guidance", _BOLD)
        self.sheet["B5"] = BASIS
        self.sheet["B5"].fill = _TYPED
        self._say(6, "A basis, and the figures of one's own where it states none.", _GREY)
        first, last = 9, 9 + len(OPENINGS) + _SPARE - 1
        self._head(first - 1, ("Opening", "Number", "Width, m", "Lintel, m", "Closer, mm",
                   "Outer leaf, mm", "Cavity, mm", "Tray length, m", "Tray width, mm", "Weeps",
                   *self._why_head()))  # fmt: skip
        for row in range(first, last + 1):
            known = OPENINGS[row - first] if row - first < len(OPENINGS) else (None,) * 7
            for column, value in enumerate(known, 1):
                self.sheet.cell(row, column, value).fill = _TYPED
        col = {c: f"{c}{first}:{c}{last}" for c in "ABCDEFGHIJK"}
        length = (col["C"], col["D"], col["E"], "B5")
        self._whole(col["H"], "TRAY_LENGTH", *length)
        self._whole(col["I"], "TRAY_WIDTH", col["F"], col["G"], "B5")
        self._whole(col["J"], "WEEP_COUNT", col["H"], "225", "B5")
        for why in self._why("TRAY_LENGTH", *length):
            self.sheet[f"K{first}"] = ArrayFormula(col["K"], why)
        self._to_a_price(last + 2, col)

    def _to_a_price(self, row: int, col: dict[str, str]) -> None:
        """Each line reads the ones above it."""
        at = {name: f"B{row + n}" for n, name in enumerate(
            ("trays", "weeps", "ends", "net", "roll", "wastage", "rolls", "price", "cost",
             "profit", "markup", "asked", "vat", "status", "total"))}  # fmt: skip
        number, of = col["B"], self._calling
        lines: tuple[tuple[str, str, Any, bool], ...] = (
            ("trays", "Trays", f"=SUM({number})", False),
            ("weeps", "Weeps", self._total(number, col["J"]), False),
            ("ends", "Stop ends", of("STOP_ENDS", at["trays"]), False),
            ("net", "Tray, net, m", self._total(number, col["H"]), False),
            ("roll", "Length of a roll, m", 20, True),
            ("wastage", "Wastage, %", 5, True),
            ("rolls", "Rolls",
             of("TRAY_ROLLS", at["net"], "0", at["roll"], at["wastage"], "B5"), False),
            ("price", "Price of a roll, £", 38.5, True),
            ("cost", "Cost, £", of("COST", at["rolls"], at["price"]), False),
            ("profit", "Profit by", "markup on cost", True),
            ("markup", "Markup or margin, %", 20, True),
            ("asked", "Price, £", of("PRICE", at["cost"], at["profit"], at["markup"]), False),
            ("vat", "VAT, %", 20, True),
            ("status", "VAT status", "standard", True),
            ("total", "Price with VAT, £",
             of("PRICE_WITH_VAT", at["asked"], at["vat"], at["status"]), False),
        )  # fmt: skip
        for name, label, value, typed in lines:
            cell = self.sheet[at[name]]
            self.sheet.cell(cell.row, 1, label)
            cell.value, cell.alignment = value, Alignment(horizontal="right")
            if "£" in label:
                cell.number_format = "#,##0.00"
            if typed:
                cell.fill = _TYPED

    # ---- every function once ----

    def every_function(self) -> None:
        """Each with its example, the figure worked by hand beside it."""
        most = max(len(f.arguments) for f in FUNCTIONS.values())
        self._widths((34, 44, *(13,) * most, 16, 8, 16, 44, 40))
        self._say(1, "Every function once, with the figure worked by hand beside it", _LARGE)
        self._say(2, self._canary(), _BOLD)
        self._head(4, ("Function", "What it gives", *(f"Argument {n + 1}" for n in range(most)),
                   "Gives", "Unit", "By hand", "Worked", *self._why_head()))  # fmt: skip
        for row, function in enumerate(FUNCTIONS.values(), 5):
            self._once(row, function, 3 + most)
        self.sheet.freeze_panes = "B5"

    def _once(self, row: int, function: Function, gives: int) -> None:
        example, cells = function.example, []
        for column, value in enumerate(example.given, 3):
            cell = self.sheet.cell(row, column, value)
            cell.fill, cell.alignment = _TYPED, Alignment(vertical="top")
            cells.append(cell.coordinate)
        after = (
            self._calling(function.method, *cells),
            function.unit.sign,
            example.gives,
            example.working,
            *self._why(function.method, *cells),
        )
        name = self.sheet.cell(row, 1, function.name)
        name.font, name.alignment = _BOLD, _WRAPPED
        self.sheet.cell(row, 2, function.meaning).alignment = _WRAPPED
        for column, value in enumerate(after, gives):
            self.sheet.cell(row, column, value).alignment = _WRAPPED
        self.sheet.row_dimensions[row].height = 30

    # ---- formulas ----

    def _canary(self) -> str:
        """Says whether the functions are there; NOW() has it worked out each time."""
        there = f"{self.host.prefix}{INSTALLED}()"
        return (
            f'=IF(NOW()>0,IF(ISERROR({there}),"The damp-proofing functions are NOT installed: '
            f'figures on this sheet are missing or old. See {self.host.page}.",{there}),"")'
        )

    def _calling(self, method: str, *cells: str) -> str:
        return f"={self.host.prefix}{method}({','.join(cells)})"

    def _why(self, method: str, *cells: str) -> tuple[str, ...]:
        """Where a refusal is an error value, the formula that explains it."""
        return (self._calling(WHY, f'"DAMP_{method}"', *cells),) if self.host.errors else ()

    def _why_head(self) -> tuple[str, ...]:
        return ("If no figure: why",) if self.host.errors else ()

    def _total(self, number: str, column: str) -> str:
        """A total that refuses where a row has a number and no figure, which sums pass over.

        Its sizes may have been forgotten; or, in a program without error values of its own, the
        refusal is a text. An error value makes the total an error by itself. By its length,
        because in Calc an empty text from a function is not equal to "".
        """
        missing = f'SUMPRODUCT(({number}<>"")*(LEN({column})=0))'
        if not self.host.errors:
            missing += f'+SUMPRODUCT(--(LEFT({column},{len(MESSAGE)})="{MESSAGE}"))'
        return f"=IF({missing}>0,NA(),SUMPRODUCT({number},{column}))"

    # ---- cells ----

    def _whole(self, area: str, method: str, *cells: str) -> None:
        shown_as = FUNCTIONS[f"DAMP_{method}"].unit.number_format
        self.sheet[area.split(":")[0]] = ArrayFormula(area, self._calling(method, *cells))
        for (cell,) in self.sheet[area]:
            cell.number_format = shown_as

    def _head(self, row: int, words: Sequence[str]) -> None:
        self.sheet.row_dimensions[row].height = 28
        for column, word in enumerate(words, 1):
            cell = self.sheet.cell(row, column, word)
            cell.font, cell.alignment = _BOLD, _WRAPPED

    def _say(self, row: int, words: str, font: Font) -> None:
        self.sheet.cell(row, 1, words).font = font

    def _widths(self, widths: Sequence[float]) -> None:
        for n, width in enumerate(widths, 1):
            self.sheet.column_dimensions[get_column_letter(n)].width = width
        self.sheet.page_setup.orientation, self.sheet.page_setup.paperSize = "landscape", 9
        self.sheet.page_setup.fitToWidth, self.sheet.page_setup.fitToHeight = 1, 0
        self.sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
