"""The sheets on which lists are laid out from the plan (fronts.py says which list stands where)."""

from collections.abc import Callable, Sequence
from textwrap import wrap
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment
from openpyxl.utils import column_index_from_string, get_column_letter
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from ..language.tables import FAULT, OFFERED, POSITION, Input, Table
from ..language.units import AMOUNT, POUNDS
from ..pens.views import SIDE
from . import fronts
from .blocks import sign_of
from .content import Content
from .contents import FIX, Contents
from .drawn import drawing
from .layout import Layout, Span
from .page import FAINT, Page, font, style_typed
from .text_door import as_text_style

GAP, ROW = 20, 20  # pixels: between two drawings, and the height of a row beside them
LETTERS, LINE = 1.1, 11.5  # of a wrapped text, at least: to a unit of width; points to a line
BESIDE = 2  # drawings in a row: more are wider than a screen

Put = Callable[[Worksheet, Any, Content], None]


class FrontSheets:
    """Draws each list where its layout says; `put` puts a content into a cell."""

    def __init__(self, book: Workbook, layout: Layout, contents: Contents, put: Put) -> None:
        self.book, self.layout, self.contents, self.put = book, layout, contents, put
        self.plan = contents.plan

    def add(self, front: fronts.Front, lists: Sequence[str]) -> None:
        """A sheet with those lists; or these lists below what the template has on that sheet."""
        book = self.book
        own = front.sheet not in book.sheetnames
        page = (
            Page(book, front.sheet, front.heading, front.intro, landscape=True)
            if own
            else Page.below(book, book[front.sheet])
        )
        sheet = page.sheet
        for number, width in enumerate(front.across, 1):
            sheet.column_dimensions[get_column_letter(number)].width = width
            page.widened |= {get_column_letter(number)}
        if own:
            self._standing(page)
            self._cells_above(page, front)
        alone = own and len(lists) == 1  # the heading of the sheet is that of its list
        for listed in lists:
            self._block(page, front, self.plan.tables[listed], alone)
        rare = [
            column_index_from_string(self.layout.fronts[listed].letters[name])
            for listed, names in front.rare.items()
            for name in names
            if name in self.layout.fronts[listed].letters
        ]
        if rare:
            first, last = get_column_letter(min(rare)), get_column_letter(max(rare))
            sheet.column_dimensions.group(first, last, outline_level=1, hidden=True)
        below = self._drawings(page, front) if front.drawn else 0
        if own:
            self._page(page, front, lists, below)

    def _standing(self, page: Page) -> None:
        """The total, what is to be fixed and what the checks say, in a row that stays in sight."""
        page.row = row = fronts.STANDING_ROW
        for name, first, last, shown in fronts.STANDING:
            cell = page.put(first, None)
            cell.style, cell.number_format = "Standing", shown
            cell.alignment = Alignment(horizontal="left")
            if first != last:
                page.sheet.merged_cells.ranges.add(CellRange(f"{first}{row}:{last}{row}"))
            self.put(page.sheet, cell, self.contents.again(name))
            if name == "problem_count":
                page.stand_out(f"{first}{row}", f"N(${first}${row})>0")

    def _cells_above(self, page: Page, front: fronts.Front) -> None:
        for row, name in enumerate(front.cells, fronts.TOP):
            page.row = row
            page.put("B", self.plan.cells[name].label, font(9, colour=FAINT))
            cell = page.put("C", None, font(9, True))
            unit = self.plan.cells[name].unit
            if not unit.text:
                cell.number_format = ('"£"' if unit is POUNDS else "") + unit.number_format
            cell.alignment = Alignment(horizontal="left")
            self.put(page.sheet, cell, self.contents.again(name))

    def _block(self, page: Page, front: fronts.Front, table: Table, alone: bool) -> None:
        sheet, span = page.sheet, self.layout.fronts[table.name]
        page.row = span.first - fronts.ABOVE
        page.heading("" if alone else table.title, [*span.letters.values()])
        for column, letter in span.letters.items():
            if letter not in page.widened:
                known = sheet.column_dimensions[letter].width if letter in page.seen else 0
                wide = fronts.width(front, table, column)
                sheet.column_dimensions[letter].width = max(wide, known)
                page.seen.add(letter)
            page.column(table, column, letter, page.row)
            self._head(page, front, table, column, letter)
            self._rows(page, front, table, column, letter)
        free = self._free(front, table, span)
        page.free(free, span.first - fronts.ABOVE, span.first, span.last)
        if table.name in front.heights:
            for row, lines in enumerate(self._lines(sheet, table), span.first):
                height = max(front.heights[table.name], LINE * lines + 2)
                sheet.row_dimensions[row].height = height
        if FAULT in span.letters:
            at = f"{span.letters[FAULT]}{span.first}"
            page.stand_out(
                f"{at}:{span.letters[FAULT]}{span.last}", f'LEFT(${at},{len(FIX)})="{FIX}"'
            )
        if table.name in front.faint:
            first, last = span.letters[POSITION], [*span.letters.values()][-1]
            none = f"N(${span.letters[front.faint[table.name]]}{span.first})=0"
            page.quiet(f"{first}{span.first}:{last}{span.last}", none)
        page.head_fits(table, span.letters, page.row)
        if alone:
            sheet.print_title_rows = f"{page.row}:{page.row + 1}"
        page.end_line(span.last + 1, [*span.letters.values(), *free])

    def _lines(self, sheet: Worksheet, table: Table) -> list[int]:
        """How many lines the longest text of each row takes, as it is when the file is written."""
        span = self.layout.fronts[table.name]
        lines = [1] * (span.last - span.first + 1)
        for column, letter in span.letters.items():
            if table.has(column) and table.column(column).unit.text:
                wide = round(sheet.column_dimensions[letter].width * LETTERS)
                for n, content in enumerate(self.contents.front(table, column)):
                    lines[n] = max(lines[n], len(wrap(str(content.value or ""), wide)))
        return lines

    @staticmethod
    def _free(front: fronts.Front, table: Table, span: Span) -> list[str]:
        """The columns left free between those of a list that are seen."""
        rare = front.rare.get(table.name, ())
        seen = {column_index_from_string(at) for n, at in span.letters.items() if n not in rare}
        return [get_column_letter(n) for n in range(min(seen), max(seen)) if n not in seen]

    def _head(
        self, page: Page, front: fronts.Front, table: Table, column: str, letter: str
    ) -> None:
        """A column headed by what a named cell says; what it holds is said beside its unit.

        The head and unit of a closed column behind a free one are left-aligned, the head not wrapped:
        LibreOffice would print them there, the head letter under letter.
        """
        before = get_column_letter(max(1, column_index_from_string(letter) - 1))
        rare = column in front.rare.get(table.name, ())
        if rare and before not in self.layout.fronts[table.name].letters.values():
            for row in (page.row, page.row + 1):
                cell = page.sheet[f"{letter}{row}"]
                cell.alignment = Alignment(vertical="bottom", horizontal="left")
        name = front.heads.get(column)
        if name is not None:
            cell = page.sheet[f"{letter}{page.row}"]
            self.put(page.sheet, cell, self.contents.again(name))
            what, _, _ = table.column(column).label.partition(",")
            page.sheet[f"{letter}{page.row + 1}"].value = f"{sign_of(table, column)} {what.lower()}"

    def _rows(
        self, page: Page, front: fronts.Front, table: Table, column: str, letter: str
    ) -> None:
        sheet = page.sheet
        span = self.layout.fronts[table.name]
        donor = sheet[f"{letter}{span.first}"]
        item = table.column(column) if table.has(column) else None
        if table.name in front.heights and item is not None and item.unit.text:
            donor.alignment = Alignment(
                horizontal="left", wrap_text=True, vertical="center", indent=1
            )
        if item is not None and item.unit is AMOUNT:
            if table.name in front.plain:
                donor.number_format = "General"
            elif table.name in front.counted:
                donor.number_format = "#,##0.00"
                page.whole_where_counted(
                    f"{letter}{span.first}:{letter}{span.last}",
                    f"{span.letters['unit']}{span.first}",
                )
        if column in front.only_some:
            donor.number_format += ";-" + donor.number_format + ";"
        if isinstance(item, Input) and table.offers(column):
            self._quiet_default(page, table, column, letter)
        style = donor._style
        if isinstance(item, Input) and item.unit.text:
            style = as_text_style(donor)
        for row, content in enumerate(self.contents.front(table, column), span.first):
            cell = sheet.cell(row, donor.column)
            cell._style = style
            self.put(sheet, cell, content)

    def _quiet_default(self, page: Page, table: Table, column: str, letter: str) -> None:
        """What the form says is faint in its cell, until it is typed over."""
        front, first = self.layout.fronts[table.name], self.layout.fronts[table.name].first
        key = front.letters[table.key]
        said = self.layout.whole(table.name, OFFERED + column, "")
        offered = f"INDEX({said},ROW()-ROW(${key}${first - 1}))"
        at = f"${letter}{first}"
        page.quiet(
            f"{letter}{first}:{letter}{front.last}", f'IFERROR(({at}<>"")*({at}={offered})=1,FALSE)'
        )

    def _drawings(self, page: Page, front: fronts.Front) -> int:
        """The drawings of a sheet, on a page of their own where it is printed; the last row they
        take."""
        sheet, row = page.sheet, self.layout.drawn[front.sheet]
        sheet.row_breaks.append(Break(id=row - 1))
        page.row = row
        page.heading("Drawn to scale", ["A", "B"])
        for page.row, name in enumerate(front.chosen, row + 1):
            if self.layout.typed_cells[name] != (front.sheet, f"$B${page.row}"):
                continue  # the template has a place for it
            item = self.plan.cells[name]
            page.put("A", item.label, font(9))
            wide = sheet.column_dimensions["A"]
            wide.width = max(wide.width, len(item.label) * 0.9)  # the cell beside it is typed in
            page.put("C", item.help, font(9, colour=FAINT))
            cell = page.put("B", None)
            style_typed(cell, item.unit)
            self.put(sheet, cell, self.contents.typed_cell(name))
        top = page.row + 2
        high = -(-SIDE // ROW) + 1  # rows
        for n, view in enumerate(front.drawn):
            corner = top + n // BESIDE * high, _column_at(sheet, n % BESIDE * (SIDE + GAP))
            sheet._charts.append(drawing(view, self.contents, corner))
            if n and n % BESIDE == 0:
                sheet.row_breaks.append(Break(id=corner[0] - 1))
        last = top + -(-len(front.drawn) // BESIDE) * high - 1
        for number in range(top, last + 1):
            sheet.row_dimensions[number].height = ROW * 0.75  # points
        return last

    def _page(self, page: Page, front: fronts.Front, lists: Sequence[str], below: int) -> None:
        if not lists:
            return  # the template lays out all of them, and its page is its own
        page.row = max(below, *(self.layout.fronts[n].last + 1 for n in lists)) + 1
        rare = {n for names in front.rare.values() for n in names}
        print_to = max(
            (at for n in lists for c, at in self.layout.fronts[n].letters.items() if c not in rare),
            key=lambda letter: (len(letter), letter),
        )
        last = page.sheet.column_dimensions[print_to]
        if not front.across:
            last.width = max(last.width, fronts.WORDS)
        # Of several lists none has a head that is that of all: only what stands above them stays.
        stays = self.layout.fronts[lists[0]].first if len(lists) == 1 else fronts.first_row(front)
        page.finish(print_to, stays)


def _column_at(sheet: Worksheet, pixels: int) -> int:
    """The first column whose left edge is as far from the left, or farther; counted from 1."""
    column = 1
    while pixels > 0:
        width = sheet.column_dimensions[get_column_letter(column)]
        pixels -= 0 if width.hidden else round(width.width * 7 + 5)
        column += 1
    return column
