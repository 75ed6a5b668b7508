"""A job laid into a template: a workbook that goes on calculating after it has been sent."""

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.formatting.formatting import ConditionalFormattingList
from openpyxl.formatting.rule import Rule as FormatRule
from openpyxl.formula.translate import Translator
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat
from openpyxl.utils import get_column_letter, range_boundaries
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.worksheet import Worksheet

from .. import __version__
from ..errors import TemplateError
from ..language import NOT_AVAILABLE
from ..language.ledger import Ledger
from ..language.tables import CHECKED, FAULT, GUARDS, POSITION, Fixed, Input, Item, Table
from ..language.units import EACH, Unit
from ..model.estimate import Room
from ..model.places import PLACES, SCHEMA, STANDS_AT, place_rows
from ..model.plan import FILLED
from . import engine, fronts
from .blocks import head_height, head_of, label_of
from .contents import FIX, Content, Contents
from .engine import Engine
from .fronts import BEHIND
from .layout import SOUND, Layout, Span, lay_out, on
from .page import Page
from .template import Template, clear, place_in, read_template
from .text_door import as_text_style, put_text
from .validation import add_cell_validations, add_validations

SCHEMA_NAME, PLACES_NAME = "estimator_schema", "estimator_places"
VERSION_NAME = "estimator_version"
_SHOW_NOTHING = '"";"";"";""'


@dataclass
class Built:
    """A workbook in memory, the result of every formula in it, and where everything is."""

    workbook: Workbook
    layout: Layout
    results: dict[str, dict[tuple[int, int], Any]] = field(default_factory=dict)
    units: dict[str, dict[tuple[int, int], Unit]] = field(default_factory=dict)


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
    if PLACES.name in plan.tables:
        rows[PLACES.name] = len(place_rows(plan, template.again))
    layout = lay_out(template, plan, rows)
    _lay_out_apart(layout, ledger, rows)
    for span in (*layout.fronts.values(), *(layout.spans[name] for name in layout.fronts)):
        if span.sheet in template.workbook.sheetnames:
            accepted = "no sheet of that name: the program lays it out"
            raise TemplateError("the template", f"the sheet {span.sheet}", accepted)
    built = Built(template.workbook, layout)
    _Stamp(ledger, template, built).all()
    _define_names(built)
    properties = built.workbook.properties
    properties.creator = properties.lastModifiedBy = f"estimator {__version__}"
    properties.title = str(ledger.typed.get("job_title") or "")
    built.workbook.calculation.fullCalcOnLoad = True
    return built


def _lay_out_apart(layout: Layout, ledger: Ledger, rows: Mapping[str, int]) -> None:
    """Where the lists stand that are typed on a front and worked out in an engine."""
    apart = {name: t for name, t in ledger.plan.tables.items() if t.apart}
    if not apart:
        return
    on_front = {
        name: min(rows[name], max(len(ledger.rows[name]), rows[name] - BEHIND, 2)) for name in apart
    }
    layout.fronts.update(fronts.spans(ledger.plan, on_front))
    for name, table in apart.items():
        names = engine.columns(table)
        letters = {n: get_column_letter(at) for at, n in enumerate(names, 1)}
        last = engine.FIRST + rows[name] - 1
        layout.spans[name] = Span(fronts.ENGINE + name, letters, engine.FIRST, last, False)


class _Stamp:
    """Puts values, formulas, styles and results into the cells of one workbook."""

    def __init__(self, ledger: Ledger, template: Template, built: Built) -> None:
        self.ledger, self.template, self.built = ledger, template, built
        self.plan, self.layout = ledger.plan, built.layout
        self.contents = Contents(ledger, built.layout)

    def all(self) -> None:
        for sheet in self.built.workbook.worksheets:
            self.built.results[sheet.title] = {}
            self.built.units[sheet.title] = {}
            self._sheet(sheet)
        for front in fronts.FRONTS if self.layout.fronts else ():
            self._front(front)
        for name in self.layout.fronts:
            self._engine(self.plan.tables[name])
        if self.layout.fronts:
            self._in_order()
        for name, table in self.plan.tables.items():
            if name in self.layout.fronts:
                front_span = self.layout.fronts[name]
                sheet = self.built.workbook[front_span.sheet]
                add_validations(sheet, table, front_span, self.layout)
            if name not in self.layout.spans or name in self.layout.fronts:
                continue
            span = self.layout.spans[name]
            sheet = self.built.workbook[span.sheet]
            if table.guarded:
                self._hide_spare(sheet, table, span)
            add_validations(sheet, table, span, self.layout)
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
        home, address = self.layout.cells[name]
        if (home, address.replace("$", "")) != (sheet.title, cell.coordinate):
            self._put(sheet, cell, self.contents.again(name))
            return
        content = self.contents.cell(name)
        if content.formula is None and content.unit.text:
            cell._style = as_text_style(cell)
        self._put(sheet, cell, content)

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
        table, span = self.plan.tables[name], self.layout.spans[name]
        if height:
            for row in range(span.first, span.last + 1):
                sheet.row_dimensions[row].height = height
        for donor in donors:
            place = place_in(donor.value)
            if place is None:
                for row in range(span.first, span.last + 1):
                    self._copy(sheet, donor, row)
                continue
            contents = self.contents.column(table, place)
            style = donor._style
            if contents and contents[0].typed and contents[0].unit.text:
                style = as_text_style(donor)
            for row, content in enumerate(contents, span.first):
                cell = sheet.cell(row, donor.column)
                cell._style = style
                self._put(sheet, cell, content)

    # ---- lists that are typed apart ----

    def _front(self, front: fronts.Front) -> None:
        book = self.built.workbook
        page = Page(book, front.sheet, front.heading, front.intro, landscape=True)
        sheet, name = page.sheet, front.sheet
        self.built.results[name], self.built.units[name] = {}, {}
        for listed in front.lists:
            table, span = self.plan.tables[listed], self.layout.fronts[listed]
            page.row = span.first - fronts.ABOVE
            alone = len(front.lists) == 1  # the heading of the sheet is that of its list
            page.heading("" if alone else table.title, [*span.letters.values()])
            for column, letter in span.letters.items():
                width = fronts.width(front, table, column)
                known = sheet.column_dimensions[letter].width if letter in page.seen else 0
                sheet.column_dimensions[letter].width = max(width, known)
                page.seen.add(letter)
                page.column(table, column, letter, page.row)
                donor = sheet[f"{letter}{span.first}"]
                typed = isinstance(table.column(column), Input) if table.has(column) else False
                style = donor._style
                if typed and table.column(column).unit.text:
                    style = as_text_style(donor)
                donor.value = None
                for row, content in enumerate(self.contents.front(table, column), span.first):
                    cell = sheet.cell(row, donor.column)
                    cell._style = style
                    self._put(sheet, cell, content)
            at = f"{span.letters[FAULT]}{span.first}"
            page.stand_out(
                f"{at}:{span.letters[FAULT]}{span.last}", f'LEFT(${at},{len(FIX)})="{FIX}"'
            )
            heads = (
                (head_of(table, c), sheet.column_dimensions[at].width)
                for c, at in span.letters.items()
            )
            sheet.row_dimensions[page.row].height = head_height(heads)
            if alone:
                sheet.print_title_rows = f"{page.row}:{page.row + 1}"
            page.end_line(span.bottom, [*span.letters.values()])
        for listed, rare in front.rare.items():
            span = self.layout.fronts[listed]
            first, last = (span.letters[n] for n in (rare[0], rare[-1]))
            sheet.column_dimensions.group(first, last, outline_level=1, hidden=True)
        page.row = max(self.layout.fronts[n].bottom for n in front.lists) + 1
        page.print_to = max(
            (self.layout.fronts[n].letters[FAULT] for n in front.lists),
            key=lambda letter: (len(letter), letter),
        )
        last = sheet.column_dimensions[page.print_to]
        last.width = max(last.width, fronts.WORDS)
        page.finish()

    def _in_order(self) -> None:
        """What is seen stands first, in the order of the work; what it rests on is hidden."""
        book = self.built.workbook
        rank = {name: n for n, name in enumerate(fronts.SEEN)}
        book._sheets.sort(key=lambda s: rank.get(s.title, len(rank)))
        for sheet in book.worksheets:
            if sheet.title not in rank:
                sheet.sheet_state = "hidden"

    def _engine(self, table: Table) -> None:
        span = self.layout.spans[table.name]
        sheet = self.built.workbook.create_sheet(span.sheet)
        sheet.protection.sheet = True
        results = self.built.results[span.sheet] = {}
        units = self.built.units[span.sheet] = {}
        worked = Engine(table, self.layout, self.ledger)
        front = self.layout.fronts[table.name].sheet
        put_text(sheet["A1"], f"{table.title}: worked out here, row by row; typed on {front}.")
        for number, name in enumerate(span.letters, 1):
            words = worked.asked(name) if name.startswith(SOUND) else label_of(table, name)
            put_text(sheet.cell(engine.FIRST - 1, number), words)
            contents = self.contents.column(table, name)
            donor = sheet.cell(span.first, number)
            if contents and not contents[0].unit.text:
                donor.number_format = contents[0].unit.number_format
            for row, content in enumerate(contents, span.first):
                cell = sheet.cell(row, number)
                cell._style = donor._style
                self._put(sheet, cell, content)
        count = sheet[f"{span.letters[CHECKED]}1"]
        count._value, count.data_type = "=" + worked.beyond(), "f"
        results[count.row, count.column], units[count.row, count.column] = 0, EACH

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
            sheet.print_area = f"{get_column_letter(left)}{moved[top]}:{get_column_letter(right)}{ends[min(bottom, max(ends))]}"
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
                ends[block.row] = self.layout.spans[name].last
        return ends

    def _hide_spare(self, sheet: Worksheet, table: Table, span: Span) -> None:
        """Spare rows hold zeros, which are shown as nothing; a true 0 stays visible."""
        shown = [
            letter
            for name, letter in span.letters.items()
            if name not in GUARDS
            and not table_column_is_text(table, name)
            and not isinstance(table_column(table, name), Input | Fixed)
        ]
        if not shown:
            return
        rule = FormatRule(
            type="expression",
            dxf=DifferentialStyle(numFmt=NumberFormat(numFmtId=199, formatCode=_SHOW_NOTHING)),
            formula=[f'${span.letters[table.key_in_use]}{span.first}=""'],
        )
        areas = " ".join(f"{c}{span.first}:{c}{span.last}" for c in shown)
        sheet.conditional_formatting.add(areas, rule)


def table_column(table: Table, name: str) -> Item | None:
    """The column of that name; None for the place number, which is always worked out."""
    return None if name == POSITION else table.column(name)


def table_column_is_text(table: Table, name: str) -> bool:
    """Whether the column holds texts."""
    return table.column(name).unit.text


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
