"""Whether a row can be used, as far as that is not known from reading it: one that the form fills,
or that was typed over the form. The rule itself is in usable.py.
"""

from collections.abc import Sequence
from typing import Any

from ..language.ledger import Ledger
from ..language.tables import IN_USE, OFFERED, Input, Table, Worked
from ..language.units import PERCENT
from .usable import Around, mark_usable, usable, usable_or_offered


def unusable_rows(ledger: Ledger) -> frozenset[tuple[str, int]]:
    """Rows the form should fill and cannot, and rows of it that were typed over in vain.

    Each is a list's name and the row's number, counted from 1.
    """
    return frozenset(
        (table.name, n + 1)
        for table in ledger.plan.tables.values()
        for n in range(min(table.rows_offered, len(ledger.rows[table.name])))
        if not is_sound(ledger, table, n)
    )


def is_sound(ledger: Ledger, table: Table, n: int) -> bool:
    """Whether row n (from 0), typed or filled by the form, can be used; a spare one can."""
    if n >= table.rows_offered:
        return True  # typed by a person, and checked when it was read
    if mark_of(ledger, table, n) != "":
        return all(is_usable(ledger, table, i, n) for i in table.inputs)
    return all(v is None for v in ledger.rows[table.name][n].values())


def mark_of(ledger: Ledger, table: Table, n: int) -> Any:
    """The mark of a row, typed or offered, whether or not the row can be used."""
    typed = ledger.rows[table.name][n].get(table.key)
    return typed if typed is not None else ledger.column(table.name, OFFERED + table.key)[n]


def is_usable(ledger: Ledger, table: Table, item: Input, n: int) -> bool:
    """Whether what stands in that cell of row n (from 0), typed or offered, can be used."""
    rows = ledger.rows[table.name]
    typed = rows[n].get(item.name) if n < len(rows) else None
    typed = "" if typed is None else typed
    offered = None
    if table.offers(item.name):  # what is asked of it is asked of a blank that may not be one
        asked = typed == "" and (item.required or item.name == table.key)
        offered = offered_at(ledger, table, item, n) if asked else ""
    if item.name == table.key:
        return bool(mark_usable(typed, offered))
    blank = typed == "" and offered in (None, "")  # then nothing around it is asked
    beside = Around() if blank else _around(ledger, table, item, n)
    if offered is None:
        return bool(usable(item, typed, beside))
    return bool(usable_or_offered(item, typed, offered, beside))


def _around(ledger: Ledger, table: Table, item: Input, n: int) -> Around:
    """What is asked with that cell, though it is not known yet whether the row can be used."""

    def own(name: str) -> Any:
        return ledger.column(table.name, name)[n]

    least, most = map(own, item.limits_in) if item.limits_in else (item.least, item.most)
    is_percent = item.unit is PERCENT or item.percent_in is not None
    has_used = table.has(IN_USE + item.name)
    listed: Sequence[Any] = ()
    if item.choice_of:
        other, column = item.choice_of.split(".")
        listed = ledger.column(other, ledger.plan.tables[other].in_use(column))
    return Around(
        least=least or 0,
        most=most or 0,
        listed=listed,
        unit=own("unit") if item.limits_in and table.has("unit") else None,
        says=own(item.percent_in[0]) if item.limits_in and item.percent_in else None,
        meant=as_if_sound(ledger, table, item, n) if is_percent and has_used else None,
        under=ledger.cell(item.under[0]) if item.under else None,
    )


def is_cell_usable(item: Input, value: Any) -> bool:
    """Whether a named cell that is typed holds what it must; what it holds was checked when read."""
    return not item.required or value not in (None, "")


def offered_at(ledger: Ledger, table: Table, item: Input, n: int) -> Any:
    """What the form says in a cell; None where it never says anything."""
    if not table.offers(item.name):
        return None
    column = ledger.column(table.name, OFFERED + item.name)
    return column[n] if n < len(column) else ""


def as_if_sound(ledger: Ledger, table: Table, item: Input, n: int) -> Any:
    """What is in use in a cell of row n, though the row cannot be used."""
    column = table.column(table.in_use(item.name))
    if isinstance(column, Worked):
        return ledger.unguarded(table, column, n)
    return ledger.column(table.name, column.name)[n]
