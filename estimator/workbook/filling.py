"""Typing into a workbook that came back: rows changed, and rows added where there is room."""

from collections.abc import Mapping, Sequence
from typing import Any

from ..buying.lines import LINES_TABLE
from ..errors import FileError
from ..model.issued import REVISIONS
from .layout import on
from .reading.inputs import Returned
from .refresh import Field, refreshed, refuse_other_layout, with_typed

Rows = Sequence[Mapping[str, Any]]


def filled(returned: Returned, tables: Mapping[str, Rows]) -> bytes:
    """The workbook's file with those lists as they are to be: {list: its rows, by their marks}.

    Rows that are there are changed field by field, others are added below; none is taken out.
    Every result is brought up to date. Raises FileError when there is no room, when a
    formula of the person's own would not be recalculated, or as `refreshed`.
    """
    refuse_other_layout(returned)
    if set(tables) != {REVISIONS.name}:
        _refuse_linked(returned)
    fields: dict[Field, Any] = {}
    for name, rows in tables.items():
        fields |= _fields(returned, name, rows)
    data, _ = refreshed(with_typed(returned, fields))
    return data


def bought_from(returned: Returned, suppliers: Mapping[str, str | None]) -> bytes:
    """The workbook's file with those lines bought from those suppliers; None: as the job says.

    Raises as `filled`.
    """
    refuse_other_layout(returned)
    _refuse_linked(returned)
    at_row = returned.where.rows[LINES_TABLE.name]
    fields = {(LINES_TABLE.name, at_row[x], "supplier"): s for x, s in suppliers.items()}
    data, _ = refreshed(with_typed(returned, fields))
    return data


def _refuse_linked(returned: Returned) -> None:
    if returned.linked:
        raise FileError(
            returned.linked[0],
            "a formula of your own that reads other cells",
            "its figure, typed: what is written here may change what it reads",
        )


def _fields(returned: Returned, name: str, rows: Rows) -> dict[Field, Any]:
    table = returned.where.plan.tables[name]
    at_row = returned.where.rows.get(name, {})
    old = {r.get(table.key): r for r in returned.job.rows[name]}
    added = [r for r in rows if r[table.key] not in at_row]
    place = dict(at_row)
    place |= zip((r[table.key] for r in added), _free(returned, name, len(added)), strict=True)
    return {
        (name, place[row[table.key]], item.name): row.get(item.name)
        for row in rows
        for item in table.inputs
        if row.get(item.name) != old.get(row[table.key], {}).get(item.name)
    }


def _free(returned: Returned, name: str, count: int) -> range:
    """The rows under the last that is used. Raises FileError when there are fewer."""
    span = returned.layout.typed(name)
    first = max(returned.where.rows.get(name, {}).values(), default=span.first - 1) + 1
    if count and first + count - 1 > span.last:
        raise FileError(
            f"{returned.path.name}: {on(span.sheet)}",
            f"{max(span.last - first + 1, 0)} free rows",
            f"{count}: estimator workbook --afresh lays out more",
        )
    return range(first, first + count)
