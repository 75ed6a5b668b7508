"""Which questions of the form stand behind a figure that it fills in."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from ..language.plan import Plan
from ..language.tables import Input, Item, NamedCell, Offer, OwnCell, Table, WholeColumn, Worked
from .answers import INPUTS, left_blank
from .offers import marks

MOST_NAMED = 3
_BY_NAME = {i.name: i for i in INPUTS}


def questions_behind(plan: Plan, table: str, n: int, column: str) -> list[Input]:
    """The questions whose answers fill that typed column in row n, counted from 1."""
    listed = plan.tables[table]
    found: dict[str, None] = {}
    seen: set[tuple[str, str]] = set()
    _of_column(plan, listed, n, listed.in_use(column), found, seen)
    return [i for name, i in _BY_NAME.items() if name in found]


def _of_column(
    plan: Plan,
    table: Table,
    n: int,
    column: str,
    found: dict[str, None],
    seen: set[tuple[str, str]],
) -> None:
    if not table.has(column) or (table.name, column) in seen:
        return
    seen.add((table.name, column))
    item: Item | None = table.column(column)
    if isinstance(item, Offer):
        item = item.row(n)
    if isinstance(item, Worked):
        _of_worked(plan, item, table, n, found, seen)


def _of_worked(
    plan: Plan,
    item: Worked,
    table: Table | None,
    n: int,
    found: dict[str, None],
    seen: set[tuple[str, str]],
) -> None:
    for source in plan.sources(item, table):
        match source:
            case NamedCell(name) if name in _BY_NAME:
                found[name] = None
            case NamedCell(name) if ("", name) not in seen and name in plan.cells:
                seen.add(("", name))
                cell = plan.cells[name]
                if isinstance(cell, Worked):
                    _of_worked(plan, cell, None, n, found, seen)
            case OwnCell(column) if table is not None:
                _of_column(plan, table, n, column, found, seen)
            case WholeColumn(other, column) if marks(other):
                _of_column(plan, plan.tables[other], 1, column, found, seen)


def asked(
    plan: Plan,
    table: str,
    mark: object,
    column: str,
    answers: Mapping[str, Any],
    named: Callable[[Input], str],
) -> str | None:
    """The questions to answer, or to answer otherwise, for a figure of a row of the form.

    The blank ones where there are any, and then whatever else is blank in the form, so that all is
    named at once. None where no answer stands behind the figure.
    """
    own = marks(table)
    if mark not in own:
        return None
    behind = questions_behind(plan, table, own.index(str(mark)) + 1, column)
    behind = [i for i in behind if answers.get(i.name) is None] or behind
    said = " and ".join(_said(behind, named))
    others = [named(i) for i in left_blank(answers) if i not in behind[:MOST_NAMED]]
    more = f" (blank in the form: {', '.join(others)})" if others else ""
    return said + more if said else None


def _said(questions: list[Input], named: Callable[[Input], str]) -> Iterator[str]:
    yield from (named(i) for i in questions[:MOST_NAMED])
    if len(questions) > MOST_NAMED:
        yield f"{len(questions) - MOST_NAMED} more"
