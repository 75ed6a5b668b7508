"""Where everything stands in a workbook that comes back, as the workbook itself says it."""

import re
from collections.abc import Iterable
from dataclasses import replace

from openpyxl.utils import get_column_letter

from ...errors import FileError
from ...files.xlsx.cells import Sheets, place, read_sheets
from ...files.xlsx.opening import Package
from ...language.plan import Plan
from ...language.tables import CHECKED, FAULT, POSITION, Input, Item, Table
from ...model.places import (
    ENGINE_ROWS,
    FRONTS_SINCE,
    PLACES,
    SCHEMA,
    SHOWN_AGAIN,
    STANDS_AT,
    TYPED_CELL,
)
from ..layout import PLACES_NAME, SCHEMA_NAME, Layout, Span, engine_letters, on

OURS = "a workbook that the estimator wrote"
OLDEST = 2  # the first layout that says itself where its lists stand
MOST_ROWS = 10_000  # of a list that is typed in or printed
GUARDS_BEFORE = ("wired", CHECKED)  # beside each typed row, before fronts
AS_WRITTEN = "the {} as it was written, or take an earlier copy of the file"
_SHEET = r"(?:'((?:[^']|'')+)'|([^'!()]+))!"
_CELL = re.compile(rf"{_SHEET}\$?([A-Z]{{1,3}})\$?(\d+)")
_AREA = re.compile(
    rf"{_SHEET}\$?([A-Z]{{1,3}})\$?(\d+)(?::(?:{_SHEET})?\$?([A-Z]{{1,3}})\$?(\d+))?"
)
_ROWS = re.compile(rf"ROWS\(({_AREA.pattern})\)")


def open_ours(package: Package) -> tuple[Sheets, int]:
    """The sheets of one of our workbooks, and its layout version.

    Raises FileError for a file that is not ours, or is of a layout that cannot be read.
    """
    sheets, path = read_sheets(package), package.path
    said = sheets.names.get(SCHEMA_NAME)
    if said is None:
        raise FileError(str(path), f"no name {SCHEMA_NAME}", OURS)
    if not re.fullmatch(r"[0-9]{1,4}", said):
        raise FileError(f"{path.name}: the name {SCHEMA_NAME}", said, "the number of a layout")
    if int(said) > SCHEMA:
        found = f"layout version {said}"
        raise FileError(str(path), found, f"up to version {SCHEMA}: a newer estimator wrote it")
    if int(said) < OLDEST:
        raise FileError(
            str(path),
            f"layout version {said}",
            f"version {OLDEST} or later: this one does not say where its lists are. Write it anew "
            f"from its job file",
        )
    if PLACES_NAME not in sheets.names:
        where = f"{path.name}: the name {PLACES_NAME}"
        raise FileError(where, None, AS_WRITTEN.format("name"))
    return sheets, int(said)


def layout_of(sheets: Sheets, plan: Plan, schema: int = SCHEMA) -> tuple[Layout, list[str]]:
    """Where each list and named cell stands; and what stands there that this plan does not know.

    `schema` is the layout it was written in: in this plan's own all must be there; in an earlier
    one what was renamed since stands under its old name. Raises FileError naming what was deleted,
    stands in doubt, or lies apart from the rest of its list.
    """
    layout, whole = Layout(), schema == SCHEMA
    unknown = _find_cells(sheets, plan, layout, schema)
    areas: dict[str, dict[str, tuple[str, int, int, int]]] = {}
    lists = {name: _renamed(table, schema) for name, table in plan.tables.items()}
    lists[SHOWN_AGAIN] = lists[TYPED_CELL] = _renamed(plan.cells.values(), schema)
    for list_name, called, formula in _said(sheets, whole):
        column = lists.get(list_name, {}).get(called, called)
        if list_name in (SHOWN_AGAIN, TYPED_CELL):
            _find_cell(sheets, plan, layout, list_name, column, formula)
            continue
        table = plan.tables.get(list_name)
        if table is None or not _has(table, column, schema):
            unknown.append(f"column {column} of the list {list_name}")
            continue
        area = _area(sheets, list_name, column, formula)
        if areas.setdefault(list_name, {}).setdefault(column, area) != area:
            where = f"{sheets.package.path.name}: the list {list_name}, column {column}"
            raise FileError(where, "two places", AS_WRITTEN.format("list of places"))
    if whole:
        _all_there(sheets, plan, areas, layout)
    elif not areas:
        where = f"{sheets.package.path.name}: the name {PLACES_NAME}"
        raise FileError(where, "no list that is known", AS_WRITTEN.format("list of places"))
    for name, table in plan.tables.items():
        if name not in areas:
            continue
        if schema >= FRONTS_SINCE:
            _find_apart(sheets, _as_it_was(table, schema), areas[name], layout)
        else:
            layout.spans[name] = _span(sheets, name, areas[name], table.grows)
    _find_places(sheets, layout)
    _in_no_doubt(sheets, plan, layout)
    return layout, unknown


def _has(table: Table, column: str, schema: int) -> bool:
    """Whether that is a column of the list today, wherever it stands."""
    apart = schema >= FRONTS_SINCE and column in (ENGINE_ROWS, FAULT)
    return apart or table.has(column) or (table.inputs != () and column in GUARDS_BEFORE)


def _find_cell(
    sheets: Sheets, plan: Plan, layout: Layout, list_name: str, name: str, formula: str
) -> None:
    """A named cell where it is typed, or where it is shown again."""
    sheet, number, row, _ = _area(sheets, list_name, name, formula)
    address = f"${get_column_letter(number)}${row}"
    if list_name == SHOWN_AGAIN and (name in plan.cells or name in plan.keyed):
        layout.again.append((name, sheet, address))
    elif list_name == TYPED_CELL and name in plan.cells:
        layout.typed_cells[name] = sheet, address


def _find_apart(
    sheets: Sheets, table: Table, areas: dict[str, tuple[str, int, int, int]], layout: Layout
) -> None:
    """The front of a list, where it has one, and its engine, of which only the rows are said."""
    behind = _span(sheets, table.name, {POSITION: areas.pop(ENGINE_ROWS)}, grows=False)
    layout.spans[table.name] = replace(behind, letters=engine_letters(table))
    if areas:
        front = _span(sheets, table.name, areas, table.grows)
        # The row above the first is inside what is read, as the end line is.
        layout.fronts[table.name] = replace(front, first=front.first + 1)


def _as_it_was(table: Table, schema: int) -> Table:
    """The list without what is typed in it since: an engine holds that before all it works out."""
    columns = tuple(c for c in table if not isinstance(c, Input) or c.since <= schema)
    return replace(table, columns=columns)


def _all_there(
    sheets: Sheets,
    plan: Plan,
    areas: dict[str, dict[str, tuple[str, int, int, int]]],
    layout: Layout,
) -> None:
    """Raises FileError for a list, a typed column or a typed cell of which the workbook no longer
    says where it stands."""
    for name, table in plan.tables.items():
        typed = [i.name for i in table.inputs]
        number = [POSITION] if typed and not table.apart else []
        for column in () if table is PLACES else (ENGINE_ROWS, *number, *typed):
            if column not in areas.get(name, {}):
                where = f"{sheets.package.path.name}: the list {name}, column {column}"
                raise FileError(where, None, AS_WRITTEN.format("list of places"))
    for name, item in plan.cells.items():
        if isinstance(item, Input) and name not in layout.typed_cells:
            where = f"{sheets.package.path.name}: {item.label}"
            raise FileError(where, None, AS_WRITTEN.format("list of places"))


def _in_no_doubt(sheets: Sheets, plan: Plan, layout: Layout) -> None:
    """Raises FileError where a name stands for another cell than the one it was given to."""
    held: dict[tuple[str, str], str] = {}
    for name, cell in layout.cells.items():
        where = f"{sheets.package.path.name}: the name {name}"
        if cell in held:
            raise FileError(where, f"the cell of {held[cell]}", AS_WRITTEN.format("name"))
        held[cell] = name
        table, row = plan.keyed.get(name, ("", 0))
        span = layout.spans.get(table)
        if span is not None:
            letter = span.letters[plan.tables[table].names or ""]
            if cell != (span.sheet, f"${letter}${span.first + row - 1}"):
                found = f"{on(cell[0])}!{cell[1]}"
                raise FileError(where, found, f"{on(span.sheet)}!{letter}{span.first + row - 1}")
    ours = {sheet for sheet, _ in layout.cells.values()} | {
        span.sheet for span in layout.spans.values()
    }
    for sheet, name in sorted(sheets.local):
        if sheet in ours and name in layout.cells:
            where = f"{sheets.package.path.name}: the name {name}"
            raise FileError(where, f"another one on {on(sheet)} alone", "one in the workbook")


def _renamed(items: Iterable[Item], schema: int) -> dict[str, str]:
    """What was called otherwise in that layout: its old name with its name of today."""
    return {old: item.name for item in items for old in item.names_before(schema)}


def _find_cells(sheets: Sheets, plan: Plan, layout: Layout, schema: int) -> list[str]:
    unknown = []
    renamed = _renamed((*plan.cells.values(), *plan.keyed_items.values()), schema)
    for name in (*plan.cells, *plan.keyed) if schema == SCHEMA else ():
        if name not in sheets.names:
            where = f"{sheets.package.path.name}: the name {name}"
            raise FileError(where, None, AS_WRITTEN.format("name"))
    for called, text in sheets.names.items():
        if called in (SCHEMA_NAME, PLACES_NAME):
            continue
        name = renamed.get(called, called)
        known = name in plan.cells or name in plan.keyed
        found = _CELL.fullmatch(text)
        if known and (found is None or _sheet(found, 1) not in sheets.parts):
            place = f"{sheets.package.path.name}: the name {called}"
            raise FileError(place, text, "a cell: its row, column or sheet was deleted")
        if known and found is not None:
            layout.cells[name] = (_sheet(found, 1), f"${found.group(3)}${found.group(4)}")
        elif found is not None:
            unknown.append(f"the named cell {name}")
    return unknown


def _said(sheets: Sheets, whole: bool) -> list[tuple[str, str, str]]:
    """List, column and formula of every line of the list of places."""
    area = _AREA.fullmatch(sheets.names[PLACES_NAME])
    where = f"{sheets.package.path.name}: the name {PLACES_NAME}"
    if area is None or area.group(8) is None or _sheet(area, 1) not in sheets.parts:
        raise FileError(where, sheets.names[PLACES_NAME], "the list of places, four columns wide")
    first, last = place(area.group(3) + area.group(4)), place(area.group(7) + area.group(8))
    cells = sheets.cells(_sheet(area, 1))
    lists = _column_of_lists(first[1], last[1])
    found = []
    for row in range(first[0], last[0] + 1):
        texts = [cells.get((row, c)) for c in (lists, lists + 1, last[1])]
        if all(t is None for t in texts):
            if whole:  # the lines below it would no longer be those that are looked for there
                at = f"{sheets.package.path.name}: {on(_sheet(area, 1))}!A{row}"
                raise FileError(at, "a blank row", "the list of places without it: delete that row")
            continue
        name, column, formula = texts
        if name is None or column is None or formula is None or formula.formula is None:
            at = f"{sheets.package.path.name}: {_sheet(area, 1)}!A{row}"
            raise FileError(at, "a line that was changed", "the list of places as it was written")
        found.append((str(name.value), str(column.value), formula.formula))
    return found


def _column_of_lists(first: int, last: int) -> int:
    """The column that names the lists: the first workbooks left their numbers out of the area."""
    return first + (1 if last - first > 2 else 0)


def _area(sheets: Sheets, name: str, column: str, formula: str) -> tuple[str, int, int, int]:
    """Sheet, column number, first and last row of a column of a list."""
    found = _ROWS.fullmatch(formula.strip())
    where = f"{sheets.package.path.name}: the list {name}, column {column}"
    if found is None:
        raise FileError(where, formula, "a column: it, its rows or its sheet were deleted")
    area = _AREA.fullmatch(found.group(1))
    if area is None or _sheet(area, 1) not in sheets.parts:
        raise FileError(where, formula, "a column: it, its rows or its sheet were deleted")
    top = place(area.group(3) + area.group(4))
    bottom = place((area.group(7) or area.group(3)) + (area.group(8) or area.group(4)))
    if top[1] != bottom[1] or top[0] > bottom[0]:
        raise FileError(where, area.group(0), "one column")
    return _sheet(area, 1), top[1], top[0], bottom[0]


def _span(
    sheets: Sheets, name: str, areas: dict[str, tuple[str, int, int, int]], grows: bool
) -> Span:
    """The list whose columns stand there. Raises FileError when they do not stand side by side."""
    sheet, _, first, last = next(iter(areas.values()))
    for column, (other, number, top, bottom) in areas.items():
        if (other, top, bottom) != (sheet, first, last):
            letter = get_column_letter(number)
            raise FileError(
                f"{sheets.package.path.name}: {other}!{letter}{top}:{letter}{bottom} "
                f"({name}, {column})",
                "cells moved away from their rows",
                f"rows {first} to {last} of {sheet}, as the rest of the list",
            )
    if last - first > MOST_ROWS and name not in ("needs", "demands", "cuts", "layouts"):
        where = f"{sheets.package.path.name}: the list {name} on {sheet}"
        raise FileError(where, f"{last - first:,} rows", f"up to {MOST_ROWS:,}")
    letters = {column: get_column_letter(number) for column, (_, number, _, _) in areas.items()}
    end = int(grows)
    if last - end < first:
        where = f"{sheets.package.path.name}: the list {name} on {sheet}"
        raise FileError(where, "no rows", "at least one row above its end line")
    return Span(sheet, letters, first, last - end, grows)


def _find_places(sheets: Sheets, layout: Layout) -> None:
    """The list of places itself, which does not list itself."""
    area = _AREA.fullmatch(sheets.names[PLACES_NAME])
    if area is None:
        return
    first = place(area.group(3) + area.group(4))
    last = place((area.group(7) or "") + (area.group(8) or ""))
    lists = _column_of_lists(first[1], last[1])
    letters = {
        POSITION: get_column_letter(max(lists - 1, 1)),
        "list": get_column_letter(lists),
        "column": get_column_letter(lists + 1),
        STANDS_AT: get_column_letter(last[1]),
    }
    layout.spans["places"] = Span(_sheet(area, 1), letters, first[0], last[0], False)


def _sheet(found: re.Match[str], group: int) -> str:
    quoted = found.group(group)
    return str(quoted).replace("''", "'") if quoted else str(found.group(group + 1))
