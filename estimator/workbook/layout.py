"""Where everything lands: lists unrolled downwards, and the address of each column and cell."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from openpyxl.utils import column_index_from_string, get_column_letter, quote_sheetname

from ..language.formulas import FIRST_OWN, LAST_OWN, ROW
from ..language.plan import Plan
from ..language.tables import CHECKED, FAULT, IN_USE, POSITION, Input, Table
from ..model.places import PLACES, place_rows
from . import fronts
from .fronts import ENGINE
from .template import Template, place_in

RAW = "raw_"  # before a typed column: as it is on the front, a blank being the empty text
SOUND = "ok_"  # before a typed column: whether what is typed there can be used
ROW_SOUND = SOUND + "row"  # whether the row is there, and its mark its own
STANDS = "stands_in"  # in which row of its front a row of a list stands that comes with the program
CELLS = ENGINE + "cells"  # where each named cell is worked out, or read from where it is typed
WORDS_ABOVE = 2  # rows of a list behind above its first: what it is, and its headings
CELLS_FIRST = WORDS_ABOVE + 1
# What the workbook calls its layout's number, its list of places, and the program's version.
SCHEMA_NAME, PLACES_NAME = "estimator_schema", "estimator_places"
VERSION_NAME = "estimator_version"
CELL_VALUE, CELL_RAW, CELL_SOUND, CELL_ASKED, CELL_LED_TO, CELL_SHEET = "BCDEFG"  # columns there
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

    spans: dict[str, Span] = field(default_factory=dict)  # where a list is worked out
    fronts: dict[str, Span] = field(default_factory=dict)  # where it is typed and shown
    cells: dict[str, tuple[str, str]] = field(default_factory=dict)  # name: (sheet, address)
    typed_cells: dict[str, tuple[str, str]] = field(default_factory=dict)  # of those on a front
    added: list[str] = field(default_factory=list)  # typed cells that the template has no place for
    moved: dict[str, dict[int, int]] = field(default_factory=dict)  # sheet: {row: new row}
    again: list[tuple[str, str, str]] = field(default_factory=list)  # name, sheet, address
    drawn: dict[str, int] = field(default_factory=dict)  # sheet: the row of its drawings' heading
    # For how many rows of a list others were laid out, where that is not as many as it has now.
    reached: dict[str, int] = field(default_factory=dict)

    @property
    def is_apart(self) -> bool:
        """Whether what is seen and typed stands apart from what is worked out: in a job's workbook."""
        return bool(self.typed_cells)

    def own(self, table: str, column: str) -> str:
        """The cell of the row at hand."""
        return f"${self.spans[table].letters[column]}{ROW}"

    def whole(self, table: str, column: str, seen_from: str) -> str:
        """The whole column; without its sheet when seen from a list on the same sheet."""
        span = self.spans[table]
        return self._rows(table, column, seen_from, str(span.first), str(span.bottom))

    def own_rows(self, table: str, column: str, seen_from: str) -> str:
        """Some rows of a column, left open; without its sheet when seen from the same sheet."""
        return self._rows(table, column, seen_from, FIRST_OWN, LAST_OWN)

    def _rows(self, table: str, column: str, seen_from: str, first: str, last: str) -> str:
        span = self.spans[table]
        letter = span.letters[column]
        area = f"${letter}${first}:${letter}${last}"
        here = self.spans[seen_from].sheet if seen_from else None
        return area if here == span.sheet else f"{on(span.sheet)}!{area}"

    def cell(self, name: str) -> tuple[str, str]:
        """Where a named cell is typed, or else worked out."""
        return self.typed_cells.get(name) or self.cells[name]

    def typed(self, table: str) -> Span:
        """Where a list is typed: on its front, or where it is worked out too."""
        return self.fronts.get(table) or self.spans[table]

    def stands(self, table: str, column: str) -> Span:
        """Where a column stands: a typed one on its front, any other where it is worked out."""
        is_typed = table in self.fronts and SOUND + column in self.spans[table].letters
        return self.fronts[table] if is_typed else self.spans[table]

    def front_area(self, table: str, column: str, to: str | None = None) -> str:
        """A column of a front, or all from that one to another, from the row above its first to its
        end line, so that rows put in anywhere between are inside."""
        span = self.fronts[table]
        begins, ends = span.letters[column], span.letters[to or column]
        return f"{on(span.sheet)}!${begins}${span.first - 1}:${ends}${span.bottom}"

    def said_at(self, table: str, column: str) -> str | None:
        """The cell that tells a blank from a 0: the one that reads the front."""
        raw = RAW + column
        return self.own(table, raw) if raw in self.spans[table].letters else None

    def cell_said_at(self, name: str, in_list: bool) -> str | None:
        """The cell that tells a blank from a 0, of a named cell that is typed."""
        if name not in self.typed_cells:
            return None
        return (f"{CELLS}!" if in_list else "") + self.beside_cell(name, CELL_RAW)

    def beside_cell(self, name: str, column: str) -> str:
        """The cell in that column, in the row in which a named cell is worked out."""
        return f"${column}${self.cells[name][1].rpartition('$')[2]}"

    def keyed(self, item: Input, cell: str) -> str:
        """What is typed in a cell: its key, where the text of the list that stands for it is typed."""
        if not item.shown_as:
            return cell
        labels = self.choices(item, None, labelled=True)
        rows = self.whole((item.choice_of or "").partition(".")[0], POSITION, "")
        found = f"1/(1/SUMPRODUCT(({labels}={cell})*{rows}))"
        return f"IFERROR(INDEX({self.choices(item, None)},{found}),{cell})"

    def choices(self, item: Input, table: Table | None, labelled: bool = False) -> str:
        """The column that lists what may be typed there, as it is in use; or what stands for it."""
        other, _, column = (item.choice_of or "").partition(".")
        column = item.shown_as if labelled and item.shown_as else column
        in_use = IN_USE + column
        found = in_use if in_use in self.spans[other].letters else column
        return self.whole(other, found, table.name if table else "")


def lay_out(
    template: Template, plan: Plan, rows: Mapping[str, int], seen: Mapping[str, int]
) -> Layout:
    """Unroll every list to its number of rows and note where things land.

    In a job's workbook that is where they are seen, in `seen` rows: what is worked out stands in
    rows of its own. A list without rows is left out, and its head with it.
    """
    layout = Layout()
    apart = PLACES.name in plan.tables
    spans = layout.fronts if apart else layout.spans
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
            if apart:
                _complete(letters, plan.tables[name])
            last = target + seen[name] - 1
            spans[name] = Span(sheet.title, letters, target, last, name in template.ends)
            target = last + 1
        layout.moved[sheet.title] = moved
        for line in sheet.iter_rows():
            for cell in line:
                place = place_in(cell.value)
                if place is None or cell.row not in moved:  # left out
                    continue
                if template.block_at(sheet.title, cell.row) is not None:
                    continue
                at = sheet.title, f"${cell.column_letter}${moved[cell.row]}"
                typed = isinstance(plan.cells.get(place), Input)
                own = layout.typed_cells if apart else layout.cells
                if place in plan.cells and place not in own and (typed or not apart):
                    own[place] = at
                else:
                    layout.again.append((place, *at))
    if apart:
        _lay_out_unplaced(layout, plan)
        _lay_out_fronts(layout, plan, seen)
        columns = {name: span.letters for name, span in layout.fronts.items()}
        again = [name for name, _, _ in layout.again]
        count = len(place_rows(plan, columns, layout.typed_cells, again))
        _lay_out_engines(layout, plan, {**rows, PLACES.name: count})
    _name_rows(layout, plan)
    return layout


def _complete(letters: dict[str, str], table: Table) -> None:
    """The columns that a template's row lacks and a list cannot do without, to its right."""
    needed = [i.name for i in table.inputs]
    if needed:
        needed += [FAULT] if table.grows else [FAULT, POSITION]
    last = max(map(column_index_from_string, letters.values()), default=0)
    missing = [name for name in needed if name not in letters]
    letters |= {n: get_column_letter(at) for at, n in enumerate(missing, last + 1)}


def _lay_out_unplaced(layout: Layout, plan: Plan) -> None:
    """Cells that are typed and have no place in the template: at the end of its first sheet."""
    sheet = next(iter(layout.moved))
    typed = [name for name, item in plan.cells.items() if isinstance(item, Input)]
    by_drawings = {name for front in fronts.FRONTS for name in front.chosen}
    missing = [n for n in typed if n not in layout.typed_cells and n not in by_drawings]
    for row, name in enumerate(missing, max(layout.moved[sheet].values(), default=0) + 2):
        layout.typed_cells[name] = sheet, f"$B${row}"
        layout.added.append(name)


def _lay_out_fronts(layout: Layout, plan: Plan, seen: Mapping[str, int]) -> None:
    """The lists that have no row in the template, one under another on their sheets."""
    used = {sheet: max(moved.values(), default=0) for sheet, moved in layout.moved.items()}
    for span in layout.fronts.values():  # the rows of a list that has the last row of its sheet
        used[span.sheet] = max(used[span.sheet], span.bottom)
    for name in layout.added:
        sheet, address = layout.typed_cells[name]
        used[sheet] = max(used[sheet], int(address.rpartition("$")[2]))
    for front in fronts.FRONTS:
        row = used[front.sheet] + 2 if front.sheet in used else fronts.first_row(front)
        placed = all(name in layout.fronts for name in front.lists)
        if front.sheet not in used and not placed:
            cells = enumerate(front.cells, fronts.TOP)
            layout.again += [(name, front.sheet, f"$C${at}") for at, name in cells]
            layout.again += [
                (name, front.sheet, f"${first}${fronts.STANDING_ROW}")
                for name, first, *_ in fronts.STANDING
            ]
        for name in (n for n in front.lists if n not in layout.fronts):
            table = plan.tables[name]
            past = fronts.most_seen(front, plan.tables)
            columns = enumerate(fronts.columns(front, table, past), 1)
            letters = {n: get_column_letter(at) for at, n in columns if n is not None}
            first = row + fronts.ABOVE
            last = first + seen[name] - 1
            layout.fronts[name] = Span(front.sheet, letters, first, last, table.grows)
            row = last + fronts.BELOW + 1
            heads = ((front.heads[n], at) for n, at in letters.items() if n in front.heads)
            layout.again += [(n, front.sheet, f"${at}${first - 2}") for n, at in heads]
        if front.drawn:
            layout.drawn[front.sheet] = row
            for at, name in enumerate(front.chosen, row + 1):
                layout.typed_cells.setdefault(name, (front.sheet, f"$B${at}"))


def _lay_out_engines(layout: Layout, plan: Plan, rows: Mapping[str, int]) -> None:
    """The lists one under another on their hidden sheets, and a sheet for the named cells."""
    free: dict[str, int] = {}
    for name, table in plan.tables.items():
        sheet = fronts.engine_sheet(name)
        first = free.get(sheet, 1) + WORDS_ABOVE
        last = first + rows[name] - 1
        layout.spans[name] = Span(sheet, engine_letters(table), first, last, False)
        free[sheet] = last + 2
    for row, name in enumerate(cells_in_order(plan), CELLS_FIRST):
        layout.cells[name] = CELLS, f"${CELL_VALUE}${row}"


def cells_in_order(plan: Plan) -> list[str]:
    """The named cells as they stand one under another: those that are typed first."""
    return sorted(plan.cells, key=lambda name: not isinstance(plan.cells[name], Input))


def _name_rows(layout: Layout, plan: Plan) -> None:
    """The cells that are named by the row of a list they stand in."""
    for name, (table, row) in plan.keyed.items():
        span = layout.spans[table]
        letter = span.letters[plan.tables[table].names or ""]
        layout.cells[name] = (span.sheet, f"${letter}${span.first + row - 1}")


def engine_columns(table: Table) -> list[str]:
    """The columns of a list where it is worked out: its numbers; of one that is typed in, what is
    typed, whether it can be used, and what is wrong; then all others."""
    rest = [c.name for c in table if not isinstance(c, Input)]
    if not table.inputs:
        return [POSITION, *rest]
    read = [raw_of(table, i) for i in table.inputs]
    kept = [i.name for i in table.inputs if raw_of(table, i) != i.name]
    tests = [SOUND + i.name for i in table.inputs]
    at = () if table.apart else (STANDS,)
    return [POSITION, *at, *read, *kept, *tests, ROW_SOUND, CHECKED, FAULT, *rest]


def engine_letters(table: Table) -> dict[str, str]:
    """The letters of those columns."""
    return {n: get_column_letter(at) for at, n in enumerate(engine_columns(table), 1)}


def raw_of(table: Table, item: Input) -> str:
    """The column that holds what stands on the front: a text's own, but for that of the marks."""
    return item.name if item.unit.text and item.name != table.key else RAW + item.name
