"""One sheet that is laid out from the plan, filled from the top: each kind of cell by its cell style."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat
from openpyxl.worksheet.worksheet import Worksheet

from ..language.tables import Fixed, Input, Table
from ..language.units import MILLIMETRES, Unit
from .blocks import head_height, head_of, item_of, sign_of

INK, FAINT, LINE, BRICK = "2A2F2B", "77807A", "C3C9C2", "8C4A32"
TYPED, HEADED = "F1F0E2", "E4E7E0"
WORKED = "4F5752"  # what is worked out: quieter than what is typed, still readable on paper
FACE = "Arial"

HAIRLINE = Border(bottom=Side("thin", color=LINE))
RULED = Border(bottom=Side("medium", color=BRICK))


def font(size: float = 10, bold: bool = False, colour: str = INK, italic: bool = False) -> Font:
    """A font of the house."""
    return Font(FACE, size, bold=bold, italic=italic, color=colour)


def fill(colour: str) -> PatternFill:
    """A plain ground of that colour."""
    return PatternFill("solid", fgColor=colour)


# The kinds of cell on a sheet that is laid out from the plan, each a cell style of the workbook:
# whoever restyles the template changes the style, and every cell of that kind follows.
KINDS: dict[str, dict[str, Any]] = {
    "Sheet heading": {"font": font(16, True, BRICK)},
    "Sheet note": {"font": font(9, colour=FAINT, italic=True)},
    "Standing": {"font": font(10, True)},
    "List heading": {"font": font(11, True)},
    "Column head": {"font": font(9, True), "fill": fill(HEADED)},
    "Column head, typed": {"font": font(9, True), "fill": fill(TYPED)},
    "Unit": {
        "font": font(8, colour=FAINT),
        "fill": fill(HEADED),
        "border": Border(bottom=Side("thin", color=INK)),
    },
    "Unit, typed": {
        "font": font(8, colour=FAINT),
        "fill": fill(TYPED),
        "border": Border(bottom=Side("thin", color=BRICK)),
    },
    "Typed": {"font": font(9), "fill": fill(TYPED), "border": HAIRLINE},
    "Given": {"font": font(9), "border": HAIRLINE},
    "Worked out": {"font": font(9, colour=WORKED), "border": HAIRLINE},
}


def add_kinds(book: Workbook) -> None:
    """The cell styles that a template does not have yet."""
    for name, parts in KINDS.items():
        if name not in book.named_styles:
            book.add_named_style(NamedStyle(name, **parts))


def style_typed(cell: Any, unit: Unit) -> None:
    """A cell to be typed in, where the template has no place for it."""
    cell.style = "Typed"
    cell.number_format = _format(unit)


class Page:
    """One sheet, filled from the top."""

    def __init__(
        self, book: Workbook, title: str, heading: str, intro: str, landscape: bool
    ) -> None:
        self._begin(book, book.create_sheet(title))
        sheet = self.sheet
        sheet.sheet_view.showGridLines = False
        sheet.page_setup.paperSize = 9
        sheet.page_setup.orientation = "landscape" if landscape else "portrait"
        sheet.page_margins.left = sheet.page_margins.right = 0.5
        sheet.page_margins.top, sheet.page_margins.bottom = 0.6, 0.7
        sheet.oddFooter.left.text = f"{title} · damp-proofing materials"
        sheet.oddFooter.right.text = "Page &P of &N"
        for part in (sheet.oddFooter.left, sheet.oddFooter.right):
            part.size, part.font = 8, FACE
        self.put("A", heading).style = "Sheet heading"
        sheet.row_dimensions[1].height = 26
        self.row = 2
        if intro:
            self.put("A", intro).style = "Sheet note"
        self.row = 4

    def _begin(self, book: Workbook, sheet: Worksheet) -> None:
        add_kinds(book)
        self.sheet, self.row = sheet, 1
        self.seen: set[str] = set()  # the columns whose width follows from what stands in them
        self.widened = frozenset(sheet.column_dimensions)  # those whose width is fixed

    @classmethod
    def below(cls, book: Workbook, sheet: Worksheet) -> "Page":
        """A sheet that is there, to be filled below what it holds."""
        page = cls.__new__(cls)
        page._begin(book, sheet)
        return page

    def put(self, column: str, value: Any, face: Font | None = None) -> Any:
        """A value in the present row."""
        cell = self.sheet[f"{column}{self.row}"]
        cell.value = value
        cell.font = face or font()
        return cell

    def heading(self, text: str, columns: Sequence[str]) -> None:
        """A heading with a rule under it."""
        self.put(columns[0], text).style = "List heading"
        for column in columns:
            self.sheet[f"{column}{self.row}"].border = RULED
        self.sheet.row_dimensions[self.row].height = 20
        self.row += 1

    def head_fits(self, table: Table, letters: Mapping[str, str], row: int) -> None:
        """A row of labels as high as the longest of them needs."""
        widths = self.sheet.column_dimensions
        heads = ((head_of(table, name), widths[at].width) for name, at in letters.items())
        self.sheet.row_dimensions[row].height = head_height(heads)

    def end_line(self, row: int, columns: Sequence[str]) -> None:
        """The line under a list that grows; it is inside every range, so it stays empty."""
        self.sheet.row_dimensions[row].height = 5
        for letter in columns:
            self.sheet[f"{letter}{row}"].border = Border(top=Side("thin", color=INK))

    def column(self, table: Table, name: str, letter: str, head: int) -> None:
        """The label, the unit and the first cell of a column, as its kind asks."""
        item = item_of(table, name)
        sheet = self.sheet
        typed = isinstance(item, Input)
        fixed = isinstance(item, Fixed)
        top = sheet[f"{letter}{head}"]
        top.value = head_of(table, name)
        top.style = "Column head, typed" if typed else "Column head"
        across = "left" if item.unit.text else "right"
        indent = 1 if item.unit.text else 0  # a text beside a figure would touch it
        top.alignment = Alignment(
            wrap_text=True, vertical="bottom", horizontal=across, indent=indent
        )
        under = sheet[f"{letter}{head + 1}"]
        under.value = sign_of(table, name) or None
        under.style = "Unit, typed" if typed else "Unit"
        under.alignment = Alignment(horizontal=across, indent=indent)
        cell = sheet[f"{letter}{head + 2}"]
        cell.style = "Typed" if typed else "Given" if fixed else "Worked out"
        cell.alignment = Alignment(horizontal=across, vertical="center", indent=indent)
        cell.number_format = _format(item.unit, typed or fixed)

    def free(self, letters: Iterable[str], heading: int, first: int, last: int) -> None:
        """Columns that a list leaves free between two of its own: its bands run through them."""
        for letter in letters:
            self.sheet[f"{letter}{heading}"].border = RULED
            for row in range(heading + 1, first):
                self.sheet[f"{letter}{row}"].style = "Column head" if row < first - 1 else "Unit"
            for row in range(first, last + 1):
                self.sheet[f"{letter}{row}"].style = "Worked out"

    def finish(self, print_to: str, stays: int) -> None:
        """Set the print area, from the first column to that one, one page wide; what is above the
        row `stays` stays in sight."""
        sheet = self.sheet
        sheet.freeze_panes = f"A{stays}"
        sheet.print_area = f"A1:{print_to}{self.row}"
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0

    def stand_out(self, area: str, when: str) -> None:
        """Bold and in colour where that formula holds."""
        self.sheet.conditional_formatting.add(
            area, FormulaRule([when], font=Font(color=BRICK, bold=True))
        )

    def whole_where_counted(self, area: str, unit: str) -> None:
        """No decimals where that cell says that things are counted; nothing for none."""
        rule = FormulaRule([f'${unit}="nr"'])
        rule.dxf = DifferentialStyle(numFmt=NumberFormat(numFmtId=198, formatCode="0;-0;"))
        self.sheet.conditional_formatting.add(area, rule)

    def quiet(self, area: str, when: str) -> None:
        """Faint where that formula holds."""
        self.sheet.conditional_formatting.add(area, FormulaRule([when], font=Font(color=FAINT)))


def _format(unit: Unit, as_typed: bool = True) -> str:
    if unit.text or (unit is MILLIMETRES and as_typed):
        return "General"
    return "0.0" if unit is MILLIMETRES else unit.number_format
