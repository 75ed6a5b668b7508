"""Which rows of a list a check speaks of: the check asked of each row as if it were alone."""

from typing import Any, NamedTuple

from ..language import Table
from ..language.ledger import Ledger, is_available
from ..language.tables import Varied, Worked
from . import DESIGNERS, NOT_GIVEN, SHORT
from .verdict import falls_short

_CONDITIONS = ("lines",)  # says whether a kind of work is excluded: a condition, never the culprit


class Rows(NamedTuple):
    """A list's title, and the names of its rows that a check speaks of, the worst first."""

    list: str
    names: tuple[str, ...]


def rows_spoken_of(ledger: Ledger, table: str, n: int) -> Rows | None:
    """The rows behind the state of check n (from 1) of that list of checks.

    None where the check meets, or where no list is looked at: a lap, say, is one for the job.
    """
    state = ledger.figure(table, n, "state")
    if state not in (SHORT, NOT_GIVEN, DESIGNERS):
        return None
    applies, found, blank, otherwise = (
        _rule(ledger, table, n, c) for c in ("applies", "found", "blank", "otherwise")
    )
    asked_of = blank if state == NOT_GIVEN else found
    listed = _list(ledger, applies, asked_of)
    if listed is None:
        return None
    concerned = listed in ledger.lists_read(applies)
    named: list[tuple[float, int]] = []
    for row in range(1, len(ledger.rows[listed]) + 1):
        if concerned and not _positive(ledger.as_if_alone(applies, listed, row)):
            continue
        if concerned and _positive(ledger.as_if_alone(otherwise, listed, row)):
            continue
        figure = ledger.as_if_alone(asked_of, listed, row)
        if not is_available(figure) or not (concerned or figure > 0):
            continue
        if state == NOT_GIVEN:
            speaks, rank = figure > 0, 0.0
        else:
            speaks, rank = _as_bad(ledger, table, n, figure)
        if speaks:
            named.append((rank, row))
    if not named:
        return None
    of = ledger.plan.tables[listed]
    return Rows(of.title, tuple(row_name(ledger, of, row) for _, row in sorted(named)))


def row_name(ledger: Ledger, table: Table, row: int) -> str:
    """A row's mark, and its description where it has one."""
    mark = str(ledger.figure(table.name, row, table.key_in_use))
    if not table.has("description"):
        return mark
    described = ledger.figure(table.name, row, table.in_use("description"))
    return f"{mark} ({described})" if described else mark


def _rule(ledger: Ledger, table: str, n: int, column: str) -> Worked:
    item = ledger.plan.tables[table].column(column)
    assert isinstance(item, Varied)
    return item.row(n)


def _list(ledger: Ledger, applies: Worked, asked_of: Worked) -> str | None:
    """The list whose rows are looked at: one that the check concerns too, where there is one."""
    read = [t for t in ledger.lists_read(asked_of) if t not in _CONDITIONS]
    both = [t for t in read if t in ledger.lists_read(applies)]
    return next(iter([*both, *read]), None)


def _as_bad(ledger: Ledger, table: str, n: int, figure: float) -> tuple[bool, float]:
    """Whether a row's own figure falls short, or is the worst where nothing is asked; its rank."""
    worst, asked, at_least = (ledger.figure(table, n, c) for c in ("found", "asked", "at_least"))
    rank = figure if at_least else -figure
    if isinstance(asked, int | float):
        return bool(falls_short(figure, asked, at_least)), rank
    return (figure == worst if at_least else figure > 0), rank


def _positive(value: Any) -> bool:
    return is_available(value) and value > 0
