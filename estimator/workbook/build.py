"""A job laid into a template: a workbook that goes on calculating after it has been sent."""

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.formatting.formatting import ConditionalFormattingList
from openpyxl.formula.translate import Translator
from openpyxl.utils import get_column_letter, range_boundaries
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.worksheet import Worksheet

from .. import __version__
from ..files.keeping import write_whole
from ..language import NOT_AVAILABLE
from ..language.ledger import Ledger
from ..language.tables import POSITION, Input, Table
from ..language.units import Unit
from ..model.estimate import Room
from ..model.places import PLACES, SCHEMA, STANDS_AT
from ..model.plan import FILLED
from . import fronts
from .blocks import head_of, label_of
from .cached import as_file
from .content import Content
from .contents import Contents
from .front_sheets import FrontSheets
from .fronts import BEHIND
from .hidden import Block, HiddenSheet
from .layout import (
    CELLS,
    CELLS_FIRST,
    PLACES_NAME,
    SCHEMA_NAME,
    SOUND,
    VERSION_NAME,
    Layout,
    lay_out,
    on,
)
from .page import add_kinds, style_typed
from .page_breaks import break_pages
from .template import Template, clear, place_in, read_template
from .text_door import as_text_style, put_text
from .validation import add_cell_validations, add_validations


@dataclass
class Built:
    """A workbook in memory, the result of every formula in it, and where everything is."""

    workbook: Workbook
    layout: Layout
    results: dict[str, dict[tuple[int, int], Any]] = field(default_factory=dict)
    units: dict[str, dict[tuple[int, int], Unit]] = field(default_factory=dict)
    hidden: dict[str, HiddenSheet] = field(default_factory=dict)  # whose cells `workbook` lacks

    def as_file(self) -> bytes:
        """The bytes of its file, each formula with its result."""
        return as_file(self.workbook, self.results, self.hidden)

    def save(self, path: Path, new: bool = False) -> None:
        """Write its file whole or not at all; with `new`, never in the place of another.

        Raises FileError when it cannot be written.
        """
        write_whole(path, self.as_file(), new=new)

    def values(self) -> dict[str, set[Any]]:
        """What stands on each sheet as it is; formulas are told apart by their equals sign."""
        found = {title: sheet.values() for title, sheet in self.hidden.items()}
        for sheet in self.workbook.worksheets:
            if sheet.title not in found:
                found[sheet.title] = {c.value for c in sheet._cells.values()} - {None}
        return found


def build(ledger: Ledger, template_path: Path, room: Room) -> Built:
    """Lay a job's figures into a template. Raises TemplateError for a place that is missing."""
    return stamped(ledger, read_template(template_path, ledger.plan), room)


def stamped(ledger: Ledger, template: Template, room: Room) -> Built:
    """Lay figures into a template that was read for their plan."""
    plan = ledger.plan
    filled = {t.name for t in FILLED}
    rows = {
        name: room.rows(name, len(r)) if name in filled else len(r)
        for name, r in ledger.rows.items()
    }
    layout = lay_out(template, plan, rows, _seen(ledger, rows))
    built = Built(template.workbook, layout)
    _Stamp(ledger, template, built).all()
    _define_names(built)
    properties = built.workbook.properties
    properties.creator = properties.lastModifiedBy = f"estimator {__version__}"
    properties.title = str(ledger.typed.get("job_title") or "")
    built.workbook.calculation.fullCalcOnLoad = True
    return built


def _seen(ledger: Ledger, rows: Mapping[str, int]) -> dict[str, int]:
    """How many rows of each list stand where it is seen: of those that grow, a few less than are
    worked out, for rows that are put in."""
    return {
        name: min(count, max(len(ledger.rows[name]), count - BEHIND, 2))
        if ledger.plan.tables[name].apart
        else count
        for name, count in rows.items()
    }


class _Stamp:
    """Puts values, formulas, styles and results into the cells of one workbook."""

    def __init__(self, ledger: Ledger, template: Template, built: Built) -> None:
        self.ledger, self.template, self.built = ledger, template, built
        self.plan, self.layout = ledger.plan, built.layout
        self.contents = Contents(ledger, built.layout)

    def all(self) -> None:
        if self.layout.is_apart:
            add_kinds(self.built.workbook)
        for sheet in self.built.workbook.worksheets:
            self.built.results[sheet.title] = {}
            self.built.units[sheet.title] = {}
            self._sheet(sheet)
        if self.layout.is_apart:
            self._fronts()
            self._add_cells()
            for table in self.plan.tables.values():
                self._engine(table)
            self._cells()
            self._in_order()
            for sheet in self.built.workbook.worksheets:
                if sheet.title not in self.built.hidden:
                    break_pages(sheet)
        for name, table in self.plan.tables.items():
            if not table.inputs or name not in (self.layout.fronts or self.layout.spans):
                continue
            span = self.layout.typed(name)
            add_validations(self.built.workbook[span.sheet], table, span, self.layout)
        there = (i for name, i in self.plan.cells.items() if name in self.layout.cells)
        typed = [i for i in there if isinstance(i, Input)]
        add_cell_validations(self.built.workbook, typed, self.layout)

    def _sheet(self, sheet: Worksheet) -> None:
        moved = self.layout.moved[sheet.title]
        heights = {r: d.height for r, d in sheet.row_dimensions.items() if d.height}
        cells = clear(sheet)
        by_row: dict[int, list[Any]] = {}
        for (row, _), cell in cells.items():
            by_row.setdefault(row, []).append(cell)
        sheet.row_dimensions.clear()
        for row, new_row in moved.items():
            block = self.template.block_at(sheet.title, row)
            source = by_row.get(row, [])
            if block is not None:
                self._list(sheet, block.name.removesuffix("_line"), source, heights.get(row))
                continue
            if row in heights:
                sheet.row_dimensions[new_row].height = heights[row]
            for cell in source:
                self._copy(sheet, cell, new_row)
        self._move_rest(sheet, moved)

    # ---- single cells ----

    def _copy(self, sheet: Worksheet, donor: Any, row: int) -> None:
        cell = sheet.cell(row, donor.column)
        cell._style = copy(donor._style)
        name = place_in(donor.value)
        if name is not None:
            self._named(sheet, cell, name)
        elif isinstance(donor.value, str) and donor.data_type == "f":
            cell.value = Translator(donor.value, donor.coordinate).translate_formula(
                cell.coordinate
            )
            self.built.results[sheet.title][row, donor.column] = NOT_AVAILABLE
        else:
            cell._value, cell.data_type = donor._value, donor.data_type

    def _named(self, sheet: Worksheet, cell: Any, name: str) -> None:
        typed = self.layout.typed_cells
        home, address = self.layout.cell(name)
        if (home, address.replace("$", "")) != (sheet.title, cell.coordinate):
            self._put(sheet, cell, self.contents.again(name))
            return
        content = self.contents.typed_cell(name) if name in typed else self.contents.cell(name)
        if content.formula is None and content.unit.text:
            cell._style = as_text_style(cell)
        self._put(sheet, cell, content)

    def _add_cells(self) -> None:
        """Typed cells that the template has no place for, below all that it has."""
        for name in self.layout.added:
            title, address = self.layout.typed_cells[name]
            sheet, item = self.built.workbook[title], self.plan.cells[name]
            cell = sheet[address.replace("$", "")]
            put_text(sheet.cell(cell.row, 1), item.label)
            style_typed(cell, item.unit)
            self._named(sheet, cell, name)

    def _put(self, sheet: Worksheet, cell: Any, content: Content) -> None:
        if content.formula is not None:
            cell._value, cell.data_type = "=" + content.formula, "f"
            self.built.results[sheet.title][cell.row, cell.column] = content.value
            self.built.units[sheet.title][cell.row, cell.column] = content.unit
        elif isinstance(content.value, str) and content.value != "":
            put_text(cell, content.value)
        elif content.value is not None and content.value != "":
            cell._value, cell.data_type = content.value, "n"

    # ---- lists ----

    def _list(self, sheet: Worksheet, name: str, donors: list[Any], height: float | None) -> None:
        table, span = self.plan.tables[name], self.layout.typed(name)
        if height:
            for row in range(span.first, span.last + 1):
                sheet.row_dimensions[row].height = height
        if self.layout.is_apart:
            self._complete(sheet, table, {place_in(d.value) for d in donors})
        for donor in donors:
            place = place_in(donor.value)
            if place is None:
                for row in range(span.first, span.last + 1):
                    self._copy(sheet, donor, row)
                continue
            read = self.contents.front if self.layout.is_apart else self.contents.column
            contents = read(table, place)
            style = donor._style
            if contents and contents[0].typed and contents[0].unit.text:
                style = as_text_style(donor)
            for row, content in enumerate(contents, span.first):
                cell = sheet.cell(row, donor.column)
                cell._style = style
                self._put(sheet, cell, content)

    def _complete(self, sheet: Worksheet, table: Table, there: set[str | None]) -> None:
        """The columns of a list that the template's row lacks, to its right."""
        span = self.layout.fronts[table.name]
        for name in (n for n in span.letters if n not in there):
            letter = span.letters[name]
            put_text(sheet[f"{letter}{span.first - 1}"], head_of(table, name))
            item = table.column(name) if table.has(name) else None
            for row, content in enumerate(self.contents.front(table, name), span.first):
                cell = sheet[f"{letter}{row}"]
                if isinstance(item, Input):
                    style_typed(cell, item.unit)
                self._put(sheet, cell, content)

    def _fronts(self) -> None:
        """The lists that have no row in the template, on sheets that are laid out from the plan."""
        sheets = FrontSheets(self.built.workbook, self.layout, self.contents, self._put)
        for front in fronts.FRONTS:
            lists = [n for n in front.lists if n not in self.template.lines]
            self.built.results.setdefault(front.sheet, {})
            self.built.units.setdefault(front.sheet, {})
            if lists or front.drawn:
                sheets.add(front, lists)

    def _in_order(self) -> None:
        """What is seen stands first, in the order of the work; what it rests on is hidden."""
        book = self.built.workbook
        # A template that was restyled for an earlier layout has an order of its own.
        seen = fronts.SEEN if fronts.SEEN[0] in book.sheetnames else self.layout.moved
        rank = {name: n for n, name in enumerate(seen)}
        behind = self.built.hidden
        last = len(rank)
        book._sheets.sort(key=lambda s: rank.get(s.title, last + (s.title in behind)))
        for sheet in book.worksheets:
            if sheet.title in behind:
                sheet.sheet_state = "hidden"

    # ---- where lists are worked out ----

    def _engine(self, table: Table) -> None:
        span = self.layout.spans[table.name]
        engine = self.contents.engine(table)
        front = self.layout.fronts.get(table.name)
        words = f"; typed on {front.sheet}" if table.inputs and front else ""
        words = f"{table.title}: worked out here, row by row{words}."
        block = self._behind(span.sheet, words, span.first)
        for name, letter in span.letters.items():
            asked = name.startswith(SOUND) and table.inputs
            head = engine.asked(name) if asked else label_of(table, name)
            block.add(letter, self.contents.column(table, name), head)

    def _cells(self) -> None:
        """The sheet on which the named cells are worked out."""
        words = "Named cells: worked out here, or read from where they are typed."
        block = self._behind(CELLS, words, CELLS_FIRST)
        for letter, contents in self.contents.cells():
            block.add(letter, contents)

    def _behind(self, title: str, words: str, first: int) -> Block:
        if title not in self.built.hidden:
            self.built.workbook.create_sheet(title).protection.sheet = True
            sheet = self.built.hidden[title] = HiddenSheet()
            self.built.results[title], self.built.units[title] = sheet.results, sheet.units
        return self.built.hidden[title].block(words, first)

    # ---- what hangs on rows ----

    def _move_rest(self, sheet: Worksheet, moved: Mapping[int, int]) -> None:
        """Merged cells, conditional formats, print area and titles follow their rows."""
        ends = self._ends(sheet)
        # All are taken out first: one that is moved may land where another still stands.
        merges = list(sheet.merged_cells.ranges)
        sheet.merged_cells.ranges.clear()
        for merged in (m for m in merges if m.min_row in moved):
            high = merged.max_row - merged.min_row
            # One on a list's line stands on each of its rows.
            for row in range(moved[merged.min_row], ends[merged.min_row] + 1):
                sheet.merged_cells.ranges.add(
                    CellRange(
                        min_col=merged.min_col,
                        max_col=merged.max_col,
                        min_row=row,
                        max_row=row + high,
                    )
                )
        formats = sheet.conditional_formatting
        sheet.conditional_formatting = ConditionalFormattingList()
        for ranged in formats:
            kept = (a for a in ranged.sqref.ranges if a.min_row in moved and a.max_row in moved)
            areas = sorted(kept, key=lambda a: (a.min_row, a.min_col))
            if not areas:
                continue
            first = areas[0].min_row
            target = " ".join(
                f"{get_column_letter(a.min_col)}{moved[a.min_row]}"
                f":{get_column_letter(a.max_col)}{ends[a.max_row]}"
                for a in areas
            )
            for found in ranged.rules:
                found.formula = [
                    Translator("=" + f, f"A{first}").translate_formula(f"A{moved[first]}")[1:]
                    for f in found.formula
                ]
                sheet.conditional_formatting.add(target, found)
        if sheet.print_area:
            left, top, right, bottom = range_boundaries(sheet.print_area.split("!")[-1])
            begins = min(
                new for row, new in moved.items() if row >= top
            )  # that row may be left out
            ends_at = ends[min(bottom, max(ends))]
            sheet.print_area = (
                f"{get_column_letter(left)}{begins}:{get_column_letter(right)}{ends_at}"
            )
        if sheet.print_title_rows:
            first, _, last = sheet.print_title_rows.replace("$", "").partition(":")
            sheet.print_title_rows = f"{moved[int(first)]}:{moved[int(last)]}"
        for image in sheet._images:
            image.anchor._from.row = moved.get(image.anchor._from.row + 1, 1) - 1

    def _ends(self, sheet: Worksheet) -> dict[int, int]:
        """The last row each row of the template became."""
        ends = dict(self.layout.moved[sheet.title])
        for name, block in self.template.lines.items():
            if block.sheet == sheet.title and block.row in ends:
                ends[block.row] = self.layout.typed(name).last
        return ends


def _define_names(built: Built) -> None:
    names = {n: f"{on(sheet)}!{address}" for n, (sheet, address) in built.layout.cells.items()}
    if PLACES.name in built.layout.spans:
        span = built.layout.spans[PLACES.name]
        first, last = span.letters[POSITION], span.letters[STANDS_AT]
        names[PLACES_NAME] = f"{on(span.sheet)}!${first}${span.first}:${last}${span.last}"
        names[SCHEMA_NAME] = str(SCHEMA)
        names[VERSION_NAME] = f'"{__version__}"'
    for name, text in names.items():
        built.workbook.defined_names[name] = DefinedName(name, attr_text=text)
