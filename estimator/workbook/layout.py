"""Where everything lands: lists unrolled downwards, and the address of each column and cell."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from openpyxl.utils import get_column_letter, quote_sheetname

from ..language.formulas import ROW
from ..language.plan import Plan
from ..language.tables import IN_USE, Input, Table
from .template import Template, place_in

RAW = "raw_"  # before a typed column: as it is on the front, a blank being the empty text
SOUND = "ok_"  # before a typed column: whether what is typed there can be used
_PLAIN = re.compile(r"[A-Za-z_][A-Za-z_]*")


def on(sheet: str) -> str:
    """The sheet's name as a formula writes it: in quotes unless it is one plain word."""
    return sheet if _PLAIN.fullmatch(sheet) else quote_sheetname(sheet)


@dataclass(frozen=True)
class Span:
    """A list on its sheet: its columns' letters, its first and last row, an end line or none."""

    sheet: str
    letters: Mapping[str, str]
    first: int
    last: int
    has_end: bool

    @property
    def bottom(self) -> int:
        """The last row of its ranges: the end line, so that rows put in above it are counted."""
        return self.last + 1 if self.has_end else self.last


@dataclass
class Layout:
    """Addresses of everything, and where each row of the template went."""

    spans: dict[str, Span] = field(default_factory=dict)
    cells: dict[str, tuple[str, str]] = field(default_factory=dict)  # name: (sheet, address)
    moved: dict[str, dict[int, int]] = field(default_factory=dict)  # sheet: {row: new row}
    again: list[tuple[str, str, str]] = field(default_factory=list)  # name, sheet, address
    fronts: dict[str, Span] = field(default_factory=dict)  # where a list is typed apart
    # For how many rows of a list others were laid out, where that is not as many as it has now.
    reached: dict[str, int] = field(default_factory=dict)

    def own(self, table: str, column: str) -> str:
        """The cell of the row at hand."""
        return f"${self.spans[table].letters[column]}{ROW}"

    def whole(self, table: str, column: str, seen_from: str) -> str:
        """The whole column; without its sheet when seen from a list on the same sheet."""
        span = self.spans[table]
        letter = span.letters[column]
        area = f"${letter}${span.first}:${letter}${span.bottom}"
        here = self.spans[seen_from].sheet if seen_from else None
        return area if here == span.sheet else f"{on(span.sheet)}!{area}"

    def typed(self, table: str) -> Span:
        """Where a list is typed: on its front, or where it is worked out too."""
        return self.fronts.get(table) or self.spans[table]

    def stands(self, table: str, column: str) -> Span:
        """Where a column stands: a typed one on its front, any other where it is worked out."""
        is_typed = table in self.fronts and SOUND + column in self.spans[table].letters
        return self.fronts[table] if is_typed else self.spans[table]

    def front_area(self, table: str, column: str) -> str:
        """A column of a front from the row above its first to its end line, so that rows put in
        anywhere between are inside."""
        span = self.fronts[table]
        letter = span.letters[column]
        return f"{on(span.sheet)}!${letter}${span.first - 1}:${letter}${span.bottom}"

    def said_at(self, table: str, column: str) -> str | None:
        """The cell that tells a blank from a 0: the one that reads the front."""
        raw = RAW + column
        apart = table in self.fronts and raw in self.spans[table].letters
        return self.own(table, raw) if apart else None

    def choices(self, item: Input, table: Table | None) -> str:
        """The column that lists what may be typed there, as it is in use."""
        other, _, column = (item.choice_of or "").partition(".")
        in_use = IN_USE + column
        found = in_use if in_use in self.spans[other].letters else column
        return self.whole(other, found, table.name if table else "")


def lay_out(template: Template, plan: Plan, rows: Mapping[str, int]) -> Layout:
    """Unroll every list to its number of rows and note where things land.

    A list without rows is left out, and its head with it.
    """
    layout = Layout()
    for sheet in template.workbook.worksheets:
        moved: dict[int, int] = {}
        target = 1
        left_out = template.left_out(sheet.title, rows)
        for row in range(1, sheet.max_row + 1):
            if row in left_out:
                continue
            moved[row] = target
            block = template.block_at(sheet.title, row)
            if block is None:
                target += 1
                continue
            name = block.name.removesuffix("_line")
            letters = {
                place: get_column_letter(cell.column)
                for cell in sheet[row]
                if (place := place_in(cell.value))
            }
            last = target + rows[name] - 1
            layout.spans[name] = Span(sheet.title, letters, target, last, name in template.ends)
            target = last + 1
        layout.moved[sheet.title] = moved
        for line in sheet.iter_rows():
            for cell in line:
                place = place_in(cell.value)
                if place is None or cell.row not in moved:  # left out
                    continue
                if template.block_at(sheet.title, cell.row) is not None:
                    continue
                address = f"${cell.column_letter}${moved[cell.row]}"
                if place in plan.cells and place not in layout.cells:
                    layout.cells[place] = (sheet.title, address)
                else:
                    layout.again.append((place, sheet.title, address))
    for name, (table, row) in plan.keyed.items():
        span = layout.spans[table]
        letter = span.letters[plan.tables[table].names or ""]
        layout.cells[name] = (span.sheet, f"${letter}${span.first + row - 1}")
    return layout
