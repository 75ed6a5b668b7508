"""A workbook that shows the functions at work. Everything in it is invented.

No result is stored in it: what it shows was worked out by the program that opened it, so that
nothing on it can be out of date.
"""

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from ... import __version__
from ...functions import FUNCTIONS, Function
from ...functions.cells import MESSAGE
from ...language.units import AMOUNT, METRES, MILLIMETRES, POUNDS
from .interface import INSTALLED, WHY

IN_USE, EVERY = "In use", "Every function"
THERE = "Damp-proofing functions"  # how what they say of themselves begins, in every host
_FACE = "Calibri"  # as openpyxl gives every other cell
_BOLD, _LARGE = Font(name=_FACE, bold=True), Font(name=_FACE, bold=True, size=14)
_GREY = Font(name=_FACE, color="00666666")
_TYPED = PatternFill("solid", fgColor="00FFF2CC")
_REFUSED = PatternFill("solid", bgColor="00FFC7CE")  # a format that depends reads bgColor
_LEFT = Alignment(horizontal="left", vertical="top", wrap_text=True)
_RIGHT = Alignment(horizontal="right", vertical="top", wrap_text=True)
_IN = Alignment(horizontal="left", vertical="top", wrap_text=True, indent=1)  # beside a figure
_LINE = 13.5  # points, of one line of text
BASIS = (
    "NHBC Standards (2024); weep_from_end=225; tray_build_in=100; tray_past_lintel=150; "
    "tray_past_opening=150; tray_lap=100; dpc_projection=10; dpm_dpc_lap=100"
)
OPENINGS = (  # mark, how many alike, width, lintel, closer, outer leaf, cavity
    ("W1", 2, 1.2, 1.5, 100, 102.5, 100),
    ("W2", 1, 1.8, 2.1, 100, 102.5, 100),
    ("D1", 1, 2.4, 2.7, 100, 102.5, 100),
)
_ARGUMENT = 20  # width of a column of arguments
_SPARE = 3  # rows below them that are wired already
CAUTION = (
    "Quantities follow the drawings and the guidance chosen. They are not a design: building "
    "control and a competent designer decide."
)


@dataclass(frozen=True)
class Host:
    """What differs from one spreadsheet program to the other."""

    prefix: str  # of the functions' names as its files keep them; people see DAMP_
    page: str  # how the functions are put into it
    errors: bool  # has true error values, which DAMP_WHY explains; else a refusal is a text
    why_of_each: bool = False  # each function has a second name that explains them


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
    every = draw_every(book.create_sheet(EVERY, 1), host)
    if not host.errors:
        page.mark_refusals()
        every.mark_refusals()
    book.properties.creator = book.properties.lastModifiedBy = f"estimator {__version__}"
    book.properties.title = "Damp-proofing functions at work"
    book.calculation.fullCalcOnLoad = True


def draw_every(sheet: Worksheet, host: Host) -> "_Page":
    """Draw every function with its example."""
    page = _Page(sheet, host)
    page.every_function()
    return page


class _Page:
    """One sheet being drawn."""

    def __init__(self, sheet: Worksheet, host: Host) -> None:
        self.sheet, self.host = sheet, host

    # ---- a list, a column in one call ----

    def in_use(self) -> None:
        """Openings, their trays and weeps each a column from one call, and on to a price."""
        self._widths((26, 15, 11, 11, 11, 13, 11, 13, 13, 9, 44))
        self._say(1, "Trays over openings, from a column in one call", _LARGE)
        self._say(2, self._canary(), _BOLD)
        self._say(3, "Invented figures. Shaded cells are typed. The rest is worked out.", _GREY)
        self._say(4, CAUTION, _GREY)
        self._say(5, "Whose guidance", _BOLD)
        self.sheet["B5"] = BASIS
        self.sheet.merge_cells("B5:J5")
        self.sheet["B5"].fill = _TYPED
        self._say(6, "A guidance document, and your own figures where it states none.", _GREY)
        first, last = 9, 9 + len(OPENINGS) + _SPARE - 1
        self._head(first - 1, ("Opening",), _LEFT)
        self._head(first - 1, ("Number", "Width, m", "Lintel, m", "Closer, mm", "Outer leaf, mm",
                   "Cavity, mm", "Tray length, m", "Tray width, mm", "Weeps"), _RIGHT, 2)  # fmt: skip
        self._head(first - 1, self._why_head(), _IN, 11)
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
            for (cell,) in self.sheet[col["K"]]:
                cell.alignment = _IN
        self._to_a_price(last + 2, col)

    def _to_a_price(self, row: int, col: dict[str, str]) -> None:
        """Each line reads the ones above it."""
        at = {name: f"B{row + n}" for n, name in enumerate(
            ("trays", "weeps", "ends", "net", "roll", "wastage", "rolls", "price", "cost",
             "profit", "markup", "asked", "vat", "status", "total"))}  # fmt: skip
        number, of = col["B"], self._calling
        lines: tuple[tuple[str, str, Any, bool], ...] = (
            ("trays", "Trays", _total(f"SUM({number})", number, col["H"]), False),
            ("weeps", "Weeps", _total(f"SUMPRODUCT({number},{col['J']})", number, col["J"]), False),
            ("ends", "Stop ends", of("TRAY_STOP_END_COUNT", at["trays"]), False),
            ("net", "Tray, net, m", _total(f"SUMPRODUCT({number},{col['H']})", number, col["H"]),
             False),
            ("roll", "Length of a roll, m", 20, True),
            ("wastage", "Wastage, %", 5, True),
            ("rolls", "Rolls",
             of("TRAY_ROLLS", at["net"], "0", at["roll"], at["wastage"], "B5"), False),
            ("price", "Price of a roll, £", 38.5, True),
            ("cost", "Cost, £", of("PACK_COST", at["rolls"], at["price"]), False),
            ("profit", "Profit by", "markup on cost", True),
            ("markup", "Markup or margin, %", 20, True),
            ("asked", "Price, £", of("CLIENT_PRICE", at["cost"], at["profit"], at["markup"], at["vat"], at["status"]), False),
            ("vat", "VAT, %", 20, True),
            ("status", "VAT status", "standard", True),
            ("total", "Price with VAT, £",
             of("TOTAL_WITH_VAT", at["asked"], at["vat"], at["status"]), False),
        )  # fmt: skip
        for name, label, value, typed in lines:
            cell = self.sheet[at[name]]
            self.sheet.cell(cell.row, 1, label)
            cell.value, cell.alignment = value, _RIGHT
            if "£" in label:
                cell.number_format = POUNDS.number_format
            elif label.endswith(", m") and not typed:
                cell.number_format = METRES.number_format
            if typed:
                cell.fill = _TYPED

    # ---- every function once ----

    def every_function(self) -> None:
        """Each with its example, the figure worked by hand beside it."""
        most = max(len(f.arguments) for f in FUNCTIONS.values())
        self._widths((36, 38, 42, *(_ARGUMENT,) * most, 18, 7, 18, 40, 30))
        self._say(1, "Every function once, with the figure worked by hand beside it", _LARGE)
        self._say(2, self._canary(), _BOLD)
        self._say(3, CAUTION, _GREY)
        given = tuple(f"Argument {n + 1}" for n in range(most))
        self._head(4, ("Function", "What it gives", "What it takes, in this order", *given), _LEFT)
        self._head(4, ("Gives",), _RIGHT, most + 4)
        self._head(4, ("Unit",), _IN, most + 5)
        self._head(4, ("By hand",), _RIGHT, most + 6)
        self._head(4, ("Worked", *self._why_head()), _IN, most + 7)
        for row, function in enumerate(FUNCTIONS.values(), 5):
            self._once(row, function, 4 + most)
        self.sheet.freeze_panes = "B5"
        self.sheet.print_title_rows = "4:4"

    def _once(self, row: int, function: Function, gives: int) -> None:
        example, cells = function.example, []
        takes = "; ".join(a.shown for a in function.arguments)
        for column, words in enumerate((function.name, function.meaning, takes), 1):
            self.sheet.cell(row, column, words).alignment = _LEFT
        self.sheet.cell(row, 1).font = _BOLD
        for column, value in enumerate(example.given, 4):
            cell = self.sheet.cell(row, column, value)
            cell.fill, cell.alignment = _TYPED, _LEFT
            cells.append(cell.coordinate)
        figure = _LEFT if function.unit.text else _RIGHT
        after: tuple[tuple[Any, Alignment], ...] = (
            (self._calling(function.method, *cells), figure),
            (function.unit.sign, _IN),
            (example.gives, figure),
            (example.working, _IN),
            *((why, _IN) for why in self._why(function.method, *cells)),
        )
        for column, (value, alignment) in enumerate(after, gives):
            self.sheet.cell(row, column, value).alignment = alignment
        for column in (gives, gives + 2):
            self.sheet.cell(row, column).number_format = _shown(function)
        tallest = max(
            *(len(str(v)) / 16 for v in (*example.given, example.gives)),
            len(function.meaning) / 38, len(takes) / 42, len(example.working) / 38,
        )  # fmt: skip
        # Words do not fill their lines: a sixth more is allowed.
        self.sheet.row_dimensions[row].height = _LINE * math.ceil(tallest * 7 / 6) + 3

    def mark_refusals(self) -> None:
        """Colour the cells whose text is a refusal: most columns are too narrow to read it in."""
        refusal = f'LEFT(A1,{len(MESSAGE)})="{MESSAGE}"'
        rule = FormulaRule(formula=[refusal], fill=_REFUSED, font=Font(color="009C0006"))
        self.sheet.conditional_formatting.add(self.sheet.dimensions, rule)

    # ---- formulas ----

    def _canary(self) -> str:
        """Says whether the functions are there; NOW() has it worked out each time.

        Looked for is the beginning of what they say: in Excel a failure is a text too.
        """
        there = f"{self.host.prefix}{INSTALLED}()"
        return (
            f'=IF(NOW()>0,IF(ISERROR(SEARCH("{THERE}",{there})),'
            '"The damp-proofing functions are NOT installed: '
            f'figures on this sheet are missing or old. See {self.host.page}.",{there}),"")'
        )

    def _calling(self, method: str, *cells: str) -> str:
        return f"={self.host.prefix}{method}({','.join(cells)})"

    def _why(self, method: str, *cells: str) -> tuple[str, ...]:
        """Where a refusal is an error value, the formula that explains it."""
        if self.host.why_of_each:
            return (self._calling(f"{method}_{WHY}", *cells),)
        return (self._calling(WHY, f'"DAMP_{method}"', *cells),) if self.host.errors else ()

    def _why_head(self) -> tuple[str, ...]:
        return ("If no figure: why",) if self.host.errors else ()

    # ---- cells ----

    def _whole(self, area: str, method: str, *cells: str) -> None:
        shown_as = _shown(FUNCTIONS[f"DAMP_{method}"])
        self.sheet[area.split(":")[0]] = ArrayFormula(area, self._calling(method, *cells))
        for (cell,) in self.sheet[area]:
            cell.number_format = shown_as

    def _head(self, row: int, words: Sequence[str], alignment: Alignment, first: int = 1) -> None:
        self.sheet.row_dimensions[row].height = 2 * _LINE
        for column, word in enumerate(words, first):
            cell = self.sheet.cell(row, column, word)
            cell.font, cell.alignment = _BOLD, alignment

    def _say(self, row: int, words: str, font: Font) -> None:
        self.sheet.cell(row, 1, words).font = font

    def _widths(self, widths: Sequence[float]) -> None:
        for n, width in enumerate(widths, 1):
            self.sheet.column_dimensions[get_column_letter(n)].width = width
        self.sheet.page_setup.orientation, self.sheet.page_setup.paperSize = "landscape", 9
        self.sheet.page_setup.fitToWidth, self.sheet.page_setup.fitToHeight = 1, 0
        self.sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
        margins = self.sheet.page_margins
        margins.left = margins.right = margins.top = margins.bottom = 0.4
        self.sheet.oddFooter.right.text = "&A, page &P of &N"


def _shown(function: Function) -> str:
    """The format of its figures: half millimetres are seen, as on the workbook's sheets."""
    if function.unit is MILLIMETRES:
        return "0.0"
    return (
        "General" if function.unit is AMOUNT or function.unit.text else function.unit.number_format
    )


def _total(total: str, numbers: str, figures: str) -> str:
    """A total that refuses unless each row holds a number and a figure, or nothing in either.

    A sum passes over a text in silence: a refusal in Excel, what stands in its cells where Python
    does not answer, a number typed as a text. Nothing is told by LEN: in Calc the empty text of a
    column in one call is not equal to "".
    """
    whole = f"ISNUMBER({numbers})*ISNUMBER({figures})+(LEN({numbers})+LEN({figures})=0)"
    return f"=IF(SUMPRODUCT(1-({whole}))>0,NA(),{total})"
