"""Typing into a workbook that came back: rows changed, and rows added where there is room."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from ..buying.lines import LINES_TABLE
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
    that are `gone` is taken out, and others may stand there. Every result is brought up to date.
    Raises FileError when there is no room, when a formula of the person's own would not be
    recalculated, or as `refreshed`.
    """
    refuse_other_layout(returned)
    if set(tables) != {REVISIONS.name}:
        _refuse_linked(returned)
    fields: dict[Field, Any] = {}
    for name in {**tables, **gone}:
        fields |= _fields(returned, name, tables.get(name, ()), gone.get(name, ()))
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


def _fields(returned: Returned, name: str, rows: Rows, gone: Collection[str]) -> dict[Field, Any]:
    """What is typed anew: rows that are added stand first where others went."""
    table = returned.where.plan.tables[name]
    at_row = returned.where.rows.get(name, {})
    old = {at_row[r[table.key]]: r for r in returned.job.rows[name] if r.get(table.key) in at_row}
    empty = [at for mark, at in at_row.items() if mark in gone]
    added = [r[table.key] for r in rows if r[table.key] not in at_row]
    places = [*empty, *_free(returned, name, max(len(added) - len(empty), 0))]
    place = {**at_row, **dict(zip(added, places, strict=False))}
    new: dict[int, Mapping[str, Any]] = {at: {} for at in empty}
    new |= {place[r[table.key]]: r for r in rows}
    return {
        (name, at, item.name): row.get(item.name)
        for at, row in new.items()
        for item in table.inputs
        if row.get(item.name) != old.get(at, {}).get(item.name)
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
