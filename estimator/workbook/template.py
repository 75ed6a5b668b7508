"""Reading a template: an ordinary workbook whose places say what goes where.

A place is a cell that holds nothing but a name in braces, as {quote_total}. A list is one row
of places, its block named `<list>_line`; a list that grows has a row `<list>_end` under it. Rows
named `<list>_head` stand above a list and are left out with it where it has no rows. A row need
not be named whose places are those of one list only. In the template of a job's workbook any place
may be missing: lists without a row there stand on sheets of their own (fronts.py). In that of a
document every place must be, but for the rows of its drawings or discounted prices: without them
it has none. All else (wording, logo, colours, widths, print set-up) is the practitioner's, and is kept.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import BadZipFile, ZipFile

from openpyxl import Workbook, load_workbook
from openpyxl.utils import range_boundaries
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.worksheet.worksheet import Worksheet

from ..errors import FileError, TemplateError
from ..files.xlsx.opening import open_package
from ..language.plan import Plan
from ..language.tables import FAULT, IN_USE, OFFERED, Table
from ..model.places import PLACES
from .fronts import ENGINE

# Places that templates of earlier layouts have, and that mean nothing now: they stay blank.
_GONE = frozenset(("wired", "checked", "rows_unwired", "sheet_preference"))
DRAWINGS = "drawings"  # the rows on which a document's drawings lie
DISCOUNTED = "discounted"  # the prices on an order of products with a trade discount
_OPTIONAL = (DRAWINGS, DISCOUNTED)
_PLACE = re.compile(r"\{([a-z0-9_]+)\}")


@dataclass
class Block:
    """Rows of a template: the one that stands for a list's rows, its end line, or its head."""

    name: str
    sheet: str
    row: int
    last: int  # the same row, but for a head of several


@dataclass
class Template:
    """A template as read, before anything is put in."""

    workbook: Workbook
    lines: dict[str, Block] = field(default_factory=dict)
    ends: dict[str, Block] = field(default_factory=dict)
    heads: dict[str, Block] = field(default_factory=dict)

    def block_at(self, sheet: str, row: int) -> Block | None:
        """The list whose line stands on that row."""
        for block in self.lines.values():
            if (block.sheet, block.row) == (sheet, row):
                return block
        return None

    def left_out(self, sheet: str, rows: Mapping[str, int]) -> frozenset[int]:
        """The rows of a sheet that stand for lists which have no rows, with their heads."""
        return frozenset(
            row
            for blocks in (self.heads, self.lines)
            for name, block in blocks.items()
            if block.sheet == sheet and not rows[name]
            for row in range(block.row, block.last + 1)
        )


_NOT_CARRIED = (
    ("xl/drawings/", b"<xdr:sp", "text boxes or drawn shapes"),
    ("xl/worksheets/", b"legacyDrawingHF", "pictures in headers or footers"),
    ("xl/worksheets/", b"<picture ", "sheet backgrounds"),
    ("xl/worksheets/", b"sparkline", "sparklines"),
    ("xl/threadedComments/", b"", "threaded comments"),
)


def not_carried(path: Path) -> list[str]:
    """What stands in a template and is lost when it is read."""
    with ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    return [
        what
        for folder, sign, what in _NOT_CARRIED
        if any(name.startswith(folder) and sign in part for name, part in parts.items())
    ]


def place_in(value: Any) -> str | None:
    """The name of the place a cell is, if it is one."""
    found = _PLACE.fullmatch(value) if isinstance(value, str) else None
    return found.group(1) if found else None


def read_template(path: Path, plan: Plan) -> Template:
    """Read a template and check that every list and every named cell has its place.

    Raises TemplateError naming the first place that is missing, doubled or unknown.
    """
    try:
        package = open_package(path)  # what cannot be a workbook is refused before it is unpacked
        template = Template(load_workbook(BytesIO(package.data)))
    except FileError as error:
        raise TemplateError(error.where, error.found, error.accepted) from None
    except (BadZipFile, InvalidFileException, KeyError, OSError, ValueError) as error:
        raise TemplateError(path.name, type(error).__name__, "a workbook (.xlsx)") from None
    for title in template.workbook.sheetnames if _is_job(plan) else ():
        if title.startswith(ENGINE):
            accepted = f"no name that begins with {ENGINE}: the program lays those sheets out"
            raise TemplateError(path.name, f"the sheet {title}", accepted)
    for name in list(template.workbook.defined_names):
        stem, _, part = name.rpartition("_")
        if stem in plan.tables and part in ("line", "end", "head"):
            block = _block(template, name, path, part == "head")
            {"line": template.lines, "end": template.ends, "head": template.heads}[part][stem] = (
                block
            )
            del template.workbook.defined_names[name]
    for name, table in plan.tables.items():
        if name not in template.lines and (_is_job(plan) or name in _OPTIONAL):
            continue  # laid out from the plan, or not wanted
        if name not in template.lines:
            template.lines[name] = _unnamed(template, plan, table, path)
        if table.grows and name not in template.ends:
            raise TemplateError(path.name, None, f"a block named {name}_end, the row under {name}")
    _check_places(template, plan, path)
    return template


def _block(template: Template, name: str, path: Path, high: bool) -> Block:
    where = f"{path.name}: {name}"
    areas = list(template.workbook.defined_names[name].destinations)
    if len(areas) != 1 or areas[0][0] not in template.workbook.sheetnames:
        raise TemplateError(where, len(areas), "one area on one sheet")
    sheet, area = areas[0]
    _, top, _, bottom = range_boundaries(area)
    if top is None or (top != bottom and not high):
        raise TemplateError(where, area, "rows" if high else "one row")
    return Block(name, sheet, top, bottom)


def _unnamed(template: Template, plan: Plan, table: Table, path: Path) -> Block:
    """The row of a list by its places, where these can be no others'."""
    others = {*plan.cells, *plan.keyed}.union(
        *(t.places for t in plan.tables.values() if t is not table)
    )
    rows: set[tuple[str, int]] = set()
    if others.isdisjoint(table.places):
        for sheet in template.workbook.worksheets:
            cells = (cell for row in sheet.iter_rows() for cell in row)
            rows |= {(sheet.title, c.row) for c in cells if place_in(c.value) in table.places}
    if not rows:
        raise TemplateError(path.name, None, f"a block named {table.name}_line, one row high")
    if len(rows) > 1:
        found = ", ".join(f"{sheet}, row {row}" for sheet, row in sorted(rows))
        accepted = f"each place once: those of {table.name} in one row"
        raise TemplateError(f"{path.name}: {table.name}", found, accepted)
    ((sheet, row),) = rows
    return Block(f"{table.name}_line", sheet, row, row)


def _check_places(template: Template, plan: Plan, path: Path) -> None:
    found: set[str] = set()
    in_lists: dict[str, set[str]] = {name: set() for name in plan.tables}
    for sheet in template.workbook.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                name = place_in(cell.value)
                if name is None:
                    continue
                block = template.block_at(sheet.title, cell.row)
                where = f"{path.name}: {sheet.title}!{cell.coordinate}"
                in_list = plan.tables[block.name.removesuffix("_line")] if block else None
                if _is_job(plan) and (name in _GONE or (in_list and _is_gone(name, in_list))):
                    cell.value = None
                elif in_list is None:
                    if name not in plan.cells and name not in plan.keyed:
                        raise TemplateError(where, name, "the name of a cell of the plan")
                    found.add(name)
                else:
                    if not in_list.has(name) and name != FAULT:
                        raise TemplateError(where, name, f"a column of {in_list.name}")
                    in_lists[in_list.name].add(name)
    if _is_job(plan):
        return  # what has no place there is worked out behind, and typed where there is room
    for name in plan.cells:
        if name not in found:
            raise TemplateError(path.name, None, f"a place {{{name}}} on one of its sheets")
    for list_name in template.lines:
        table = plan.tables[list_name]
        for name in sorted(set(table.places) - in_lists[list_name]):
            raise TemplateError(
                f"{path.name}: {list_name}_line", None, f"a place {{{name}}} in that row"
            )


def _is_gone(name: str, table: Table) -> bool:
    """Whether it stood in the list in an earlier layout: where the form filled a column that it
    leaves alone today, what it offered and what was in use stood beside it."""
    beside = next((name.removeprefix(p) for p in (OFFERED, IN_USE) if name.startswith(p)), "")
    return name in table.gone or (table.has(beside) and not table.has(name))


def _is_job(plan: Plan) -> bool:
    """Whether it is the plan of a job's workbook, not of one of its documents."""
    return PLACES.name in plan.tables


def clear(sheet: Worksheet) -> dict[tuple[int, int], Any]:
    """Take every cell out of a sheet; what is returned still holds values and styles."""
    cells = dict(sheet._cells)
    sheet._cells.clear()
    return cells
