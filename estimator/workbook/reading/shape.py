"""Whether a list still has its shape: nothing typed where no row is, the form's rows in order."""

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

from ...errors import JobError
from ...files.xlsx.cells import Stored, address_of, place
from ...language.tables import OFFERED, POSITION, Input, Table
from .. import unread
from ..form_default import row_shown
from ..layout import on

if TYPE_CHECKING:
    from .inputs import Returned

_HEAD = re.compile(r"ROW\(\)-ROW\(\$?[A-Z]+\$?([0-9]+)\)")
_REACHED = re.compile(r"\(\$?[A-Z]+[0-9]+<=([0-9]+)\)")


def front_rows(returned: "Returned", table: Table) -> dict[int, int]:
    """The rows of a list where it is typed, by their numbers: {number: row of the sheet}.

    Of a list that comes with the program each row bears its number, wherever it was sorted to;
    of any other its place is its number. Raises JobError for a number that is gone or stands twice.
    """
    span = returned.layout.typed(table.name)
    rows = range(span.first, span.last + 1)
    if table.name not in returned.layout.fronts or table.apart or not table.inputs:
        return dict(enumerate(rows, 1))
    bears: dict[int, int] = {}
    for row in rows:
        value = returned.stored(table.name, POSITION, row).value
        where = returned.where.cell(table.name, row, POSITION)
        if value in bears:
            raise JobError(where, value, f"a number used once (row {bears[value]} has it already)")
        if isinstance(value, int | float):
            bears[int(value)] = row
    behind = returned.layout.spans[table.name]
    for n in range(1, behind.last - behind.first + 2):
        if n not in bears:
            where = f"{returned.path.name}: {table.title} on {on(span.sheet)}"
            raise JobError(where, f"no row {n}", "each row that the list came with: take them from "
                           "an earlier copy of the file")  # fmt: skip
    return {n: bears[n] for n in sorted(bears)}


def check_around(returned: "Returned", table: Table) -> None:
    """Raises JobError for what is typed above a list's first row, on its end line or below it."""
    span = returned.layout.typed(table.name)
    names = [i.name for i in table.inputs if i.name in span.letters]
    typed = {place(f"{span.letters[name]}1")[1]: name for name in names}
    every = {place(f"{letter}1")[1]: name for name, letter in span.letters.items()}
    apart = table.name in returned.layout.fronts
    for row in range(span.first if apart else _head(returned, table) + 1, span.first):
        accepted = f"rows below row {span.first - 1}, where the list reads them"
        _refuse(returned, span.sheet, row, typed, accepted)
    accepted = f"rows above the end line, row {span.bottom}"
    if not span.has_end:
        _refuse(returned, span.sheet, span.last + 1, typed, f"rows up to row {span.last}")
        return
    if not apart:
        # The end line is inside every range: a figure in any of its columns would be added up.
        _refuse(returned, span.sheet, span.bottom, every, accepted)
        beside_hint = {c: name for c, name in typed.items() if c != min(every)}
        for row in _rows_below(returned, span.sheet, span.bottom + 1, None):
            _refuse(returned, span.sheet, row, beside_hint, accepted)
        return
    letters, below = unread.columns(table, span), unread.heading_below(returned.layout, table)
    numbers = {place(f"{letter}1")[1] for letter in letters}
    free = place(f"{unread.for_remarks(span)}1")[1]
    until = below[0] if below else span.bottom + unread.LOOKED_AT + 1
    rows = _rows_below(returned, span.sheet, span.bottom, until)
    drawn = unread.drawings_from(returned.layout, table)
    if drawn is not None:
        rows += _rows_below(returned, span.sheet, drawn, drawn + unread.LOOKED_AT + 1)
    for row in rows:
        may_remark = row > span.bottom + 1 if below is None else row >= until
        kept = {c: n for c, n in every.items() if c in numbers and not (may_remark and c == free)}
        _refuse(returned, span.sheet, row, kept, accepted)


def _rows_below(returned: "Returned", sheet: str, first: int, until: int | None) -> list[int]:
    """The rows of a sheet in which anything stands, from that one up to another."""
    rows = {row for row, _ in returned.sheets.cells(sheet)}
    return sorted(r for r in rows if r >= first and (until is None or r < until))


def _refuse(
    returned: "Returned", sheet: str, row: int, columns: Mapping[int, str], accepted: str
) -> None:
    cells = returned.sheets.cells(sheet)
    for column, name in columns.items():
        stored = cells.get((row, column))
        if stored is not None and (stored.value not in (None, "") or stored.formula is not None):
            where = f"{returned.path.name}: {on(sheet)}!{address_of((row, column))}"
            shown = f"={stored.formula}" if stored.value is None else stored.value
            raise JobError(f"{where} ({name.replace('_', ' ')})", shown, accepted)


def _head(returned: "Returned", table: Table) -> int:
    """The row under which the list begins, as its rows count themselves from it."""
    span = returned.layout.spans[table.name]
    for row in range(span.first, span.last + 1):
        formula = returned.stored(table.name, POSITION, row).formula
        found = _HEAD.fullmatch((formula or "").replace(" ", ""))
        if found is not None:
            return int(found.group(1))
    return span.first - 1


def check_offered(returned: "Returned", table: Table, own_marks: tuple[str, ...]) -> None:
    """The rows the form fills stand first, in their order: each is known by its formula."""
    span = returned.layout.spans[table.name]
    column = OFFERED + table.key
    if column not in span.letters:
        return
    for n, row in enumerate(range(span.first, span.last + 1)):
        stored = returned.stored(table.name, column, row)
        where = returned.where.cell(table.name, row, column)
        own = [m for m in own_marks if f'"{m}"' in (stored.formula or "")]
        if n >= len(own_marks):
            if own:
                raise JobError(where, f"the row {own[0]} of the form", "a row of your own")
            continue
        missing = stored.formula is None and stored.value is None
        if missing or (stored.formula is not None and own_marks[n] not in own):
            raise JobError(
                where,
                "another row",
                f"the row {own_marks[n]} of the form, first in its list and in its order. "
                "Type over it to change it",
            )


def reached(returned: "Returned", table: Table) -> int | None:
    """For how many rows the list says that others were laid out; None where it does not say."""
    span = returned.layout.spans[table.name]
    said = [
        int(found.group(1))
        for row in range(span.first, span.last + 1)
        if (formula := returned.stored(table.name, "checked", row).formula)
        and (found := _REACHED.search(formula.replace(" ", "")))
    ]
    return max(set(said), key=said.count) if said else None


def is_default(returned: "Returned", table: Table, item: Input, stored: Stored, row: int) -> bool:
    """Whether a typed cell still holds the formula by which it shows what the form says.

    Raises JobError for one that came from another row: there the sheet has no total either.
    """
    if stored.formula is None or table.name not in returned.layout.fronts:
        return False
    layout = returned.layout
    n = row_shown(layout, table, item.name, stored.formula, not returned.is_earlier)
    if n is None:
        return False
    if stored.value not in (None, "") and n != row - layout.fronts[table.name].first:
        raise JobError(
            returned.where.cell(table.name, row, item.name),
            "what the form says of another row",
            "the rows of the form, first in their list and in their order. Type over them to "
            "change them",
        )
    return True
