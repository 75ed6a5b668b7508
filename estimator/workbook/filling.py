"""Typing into a workbook that came back: rows changed, and rows added where there is room."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from ..errors import FileError
from ..model.issued import REVISIONS
from .layout import on
from .reading.inputs import Returned
from .refresh import Field, refreshed, refuse_other_layout, with_typed

Rows = Sequence[Mapping[str, Any]]
NONE_GONE: Mapping[str, Collection[str]] = {}


def filled(
    returned: Returned,
    tables: Mapping[str, Rows],
    gone: Mapping[str, Collection[str]] = NONE_GONE,
) -> bytes:
    """The workbook's file with those lists as they are to be: {list: its rows, by their marks}.

    Rows that are there are changed field by field, others are added below; what is typed in those
    that are `gone` is taken out, and leaves a spare row. Every result is brought up to date. Raises FileError when there is no room, when a
    formula of the person's own would not be recalculated, or as `refreshed`.
    """
    refuse_other_layout(returned)
    if returned.linked and set(tables) != {REVISIONS.name}:
        raise FileError(
            returned.linked[0],
            "a formula of your own that reads other cells",
            "its figure, typed: what is written here may change what it reads",
        )
    fields: dict[Field, Any] = {}
    for name, rows in tables.items():
        fields |= _fields(returned, name, rows)
    for name, marks in gone.items():
        fields |= _emptied(returned, name, marks)
    data, _ = refreshed(with_typed(returned, fields))
    return data


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


def _emptied(returned: Returned, name: str, marks: Collection[str]) -> dict[Field, Any]:
    """Nothing in each typed cell of those rows."""
    table = returned.where.plan.tables[name]
    at_row = returned.where.rows.get(name, {})
    return {
        (name, at_row[row[table.key]], item.name): None
        for row in returned.job.rows[name]
        if row.get(table.key) in marks
        for item in table.inputs
        if row.get(item.name) is not None
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
