"""One sheet of a template, filled from the top, in the house's own style."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.pagebreak import Break, ColBreak

from ..rules.tables import POSITION, Fixed, Input, Item, Table
from ..rules.units import EACH, FLAG, MILLIMETRES, Unit
from .template import GUARDS

INK, FAINT, LINE, BRICK = "2A2F2B", "77807A", "C3C9C2", "8C4A32"
TYPED, HEADED = "F1F0E2", "E4E7E0"
FACE = "Arial"

HAIRLINE = Border(bottom=Side("thin", color=LINE))
TYPED_BOX = Border(bottom=Side("thin", color=BRICK))
RULED = Border(bottom=Side("medium", color=BRICK))
HEAVY = Border(top=Side("thin", color=INK), bottom=Side("double", color=INK))
_GUARD_FORMAT = '"ok";"ok";"CHECK"'


def font(size: float = 10, bold: bool = False, colour: str = INK, italic: bool = False) -> Font:
    """A font of the house."""
    return Font(FACE, size, bold=bold, italic=italic, color=colour)


def fill(colour: str) -> PatternFill:
    """A plain ground of that colour."""
    return PatternFill("solid", fgColor=colour)


class Page:
    """One sheet of the template, filled from the top."""

    def __init__(
        self, book: Workbook, title: str, heading: str, intro: str, landscape: bool
    ) -> None:
        self.book, self.sheet = book, book.create_sheet(title)
        self.row = 1
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
        self.put("A", heading, font(16, True, BRICK))
        sheet.row_dimensions[1].height = 26
        self.row = 2
        if intro:
            self.put("A", intro, font(9, colour=FAINT, italic=True))
        self.row = 4

    def put(self, column: str, value: Any, face: Font | None = None, **style: Any) -> Any:
        """A value in the present row."""
        cell = self.sheet[f"{column}{self.row}"]
        cell.value = value
        cell.font = face or font()
        for name, what in style.items():
            setattr(cell, name, what)
        return cell

    def wrapped(self, columns: str, text: str, height: float, face: Font | None = None) -> None:
        """A paragraph across columns."""
        first, last = columns.split(":")
        self.sheet.merge_cells(f"{first}{self.row}:{last}{self.row}")
        self.put(first, text, face or font(9), alignment=Alignment(wrap_text=True, vertical="top"))
        self.sheet.row_dimensions[self.row].height = height
        self.row += 1

    def heading(self, text: str, columns: Sequence[str]) -> None:
        """A heading with a rule under it."""
        for column in columns:
            self.sheet[f"{column}{self.row}"].border = RULED
        self.put(columns[0], text, font(11, True))
        self.sheet.row_dimensions[self.row].height = 20
        self.row += 1

    def cell_row(
        self, item: Item, label: str, value: str, unit: str = "", face: Font | None = None
    ) -> None:
        """A label, the place of a named cell, its unit."""
        self.put(label, item.label)
        typed = isinstance(item, Input)
        left = Alignment(horizontal="left") if item.unit.text else Alignment(horizontal="right")
        self.put(
            value,
            f"{{{item.name}}}",
            face or font(),
            fill=fill(TYPED) if typed else PatternFill(),
            border=TYPED_BOX if typed else HAIRLINE,
            alignment=left,
            number_format=_format(item.unit),
        )
        if unit and item.unit.sign:
            self.put(unit, item.unit.sign, font(9, colour=FAINT))
        self.row += 1

    def name_row(self, name: str, left: str, right: str, row: int) -> None:
        """Name a block of the template."""
        area = f"{self.sheet.title}!${left}${row}:${right}${row}"
        self.book.defined_names[name] = DefinedName(name, attr_text=area)

    def list(
        self,
        table: Table,
        order: Sequence[str | None],
        widths: dict[str, float] | None = None,
        inside: int | None = None,
        pages: Sequence[str] = (),
        left: str = "A",
    ) -> None:
        """A list: labels, units, one line of places, and an end line where it grows.

        `inside` columns are printed, the rest are working beside the page; `pages` name the
        columns that start a new page to the right.
        """
        sheet = self.sheet
        start = sheet[f"{left}1"].column
        widths = widths or {}
        last = get_column_letter(start + len(order) - 1)
        head, units, line = self.row, self.row + 1, self.row + 2
        for n, name in enumerate(order):
            letter = get_column_letter(start + n)
            if name is None:  # a column that this list leaves free
                continue
            self._column(table, name, letter, head)
            if letter not in self.widened:
                width = widths.get(name, _width(table, name))
                sheet.column_dimensions[letter].width = width
        sheet.row_dimensions[head].height = 38
        sheet.row_dimensions[line].height = 15
        self.name_row(f"{table.name}_line", left, last, line)
        self.row = line + 1
        if table.grows:
            # The end line is inside every range, so it stays empty.
            sheet.row_dimensions[self.row].height = 5
            for n in range(len(order)):
                sheet[f"{get_column_letter(start + n)}{self.row}"].border = Border(
                    top=Side("thin", color=INK)
                )
            self.name_row(f"{table.name}_end", left, last, self.row)
            self.row += 1
            self.put(
                left,
                "Put new rows above the line, and copy a whole row into them.",
                font(8, colour=FAINT, italic=True),
            )
            self.row += 1
        end = get_column_letter(start + (inside or len(order)) - 1)
        if self.print_to is None or sheet[f"{end}1"].column > sheet[f"{self.print_to}1"].column:
            self.print_to = end
        if self.titles and not sheet.print_title_rows:
            sheet.print_title_rows = f"{head}:{units}"
        breaks = [get_column_letter(start + order.index(p)) for p in pages]
        if breaks:
            sheet.col_breaks = ColBreak(
                brk=[Break(id=sheet[f"{b}1"].column - 1, max=1048575, man=True) for b in breaks]
            )
        self.row += 1

    widened: frozenset[str] = frozenset()
    print_to: str | None = None
    titles = True  # the head of its first list is printed on every page

    def _column(self, table: Table, name: str, letter: str, head: int) -> None:
        item = _item(table, name)
        sheet = self.sheet
        typed = isinstance(item, Input)
        fixed = isinstance(item, Fixed)
        top = sheet[f"{letter}{head}"]
        top.value, top.font = item.label, font(9, True)
        top.fill = fill(HEADED)
        across = "left" if item.unit.text else "right"
        indent = 1 if item.unit.text else 0  # a text beside a figure would touch it
        top.alignment = Alignment(
            wrap_text=True, vertical="bottom", horizontal=across, indent=indent
        )
        under = sheet[f"{letter}{head + 1}"]
        under.value = item.unit.sign or None
        under.font, under.fill = font(8, colour=FAINT), fill(HEADED)
        under.border = Border(bottom=Side("thin", color=BRICK if typed else INK))
        under.alignment = Alignment(horizontal=across)
        cell = sheet[f"{letter}{head + 2}"]
        cell.value = f"{{{name}}}"
        cell.font = font(9, colour=INK if typed or fixed else FAINT)
        cell.border = HAIRLINE
        cell.alignment = Alignment(horizontal=across, vertical="center", indent=indent)
        cell.number_format = _GUARD_FORMAT if name in GUARDS else _format(item.unit, typed or fixed)
        if typed:
            cell.fill = fill(TYPED)
        if name in GUARDS:
            cell.alignment = Alignment(horizontal="center", vertical="center")
            area = f"{letter}{head + 2}"
            sheet.conditional_formatting.add(
                area,
                FormulaRule([f"{area}=0"], font=Font(color="FFFFFF", bold=True), fill=fill(BRICK)),
            )

    def finish(self, wide: int = 1, last_row: int | None = None, freeze: str | None = None) -> None:
        """Set the print area and how many pages wide it is."""
        sheet = self.sheet
        sheet.print_area = f"A1:{self.print_to}{last_row or self.row}"
        if sheet.col_breaks.brk:
            sheet.page_setup.scale = self._scale()
            sheet.print_title_cols = "A:B"
        else:
            sheet.sheet_properties.pageSetUpPr.fitToPage = True
            sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = wide, 0
        if freeze:
            sheet.freeze_panes = freeze

    def _scale(self) -> int:
        """The largest scale at which every page between two breaks fits its paper."""
        sheet = self.sheet
        last = sheet[f"{self.print_to}1"].column
        inches = [
            (7 * sheet.column_dimensions[get_column_letter(n)].width + 5) / 96
            for n in range(1, last + 1)
        ]
        titles = sum(inches[:2])
        starts = [0, *(b.id for b in sheet.col_breaks.brk), last]
        widest = max(sum(inches[a:b]) + (titles if a else 0) for a, b in pairwise(starts))
        # Hosts differ in how wide a character is: leave them room.
        return max(45, min(100, int(100 * 8.0 / widest)))


def _item(table: Table, name: str) -> Item:
    if name == "wired":
        return Item(name, "Wired", FLAG)
    if name == "checked":
        return Item(name, "Checked", FLAG)
    return table.column(name)


def _format(unit: Unit, as_typed: bool = True) -> str:
    if unit.text or (unit is MILLIMETRES and as_typed):
        return "General"
    return "0.0" if unit is MILLIMETRES else unit.number_format


def _width(table: Table, name: str) -> float:
    if name == POSITION:
        return 5
    if name in GUARDS:
        return 8.5
    if name == "mark":
        return 9
    unit = _item(table, name).unit
    if unit.text:
        return 20
    return 9 if unit in (EACH, FLAG) else 10


def all_columns(table: Table, *first: str) -> list[str]:
    """All columns of a list: those named first, then the rest, the guards after what is typed."""
    names = [c.name for c in table]
    typed = [c.name for c in table.inputs]
    if table.offers(table.key):
        first = (table.key_in_use, "filled_by", *first)
    guards = list(GUARDS) if typed else []
    rest = [n for n in names if n not in first and n not in typed]
    lead = [n for n in typed if n not in first]
    return [POSITION, *first, *lead, *guards, *rest]
