"""Rows that bear another mark than before and are otherwise the same."""

from collections.abc import Mapping
from typing import Any

from ...language import Input, Table
from ...model.issued import REVISIONS
from ...model.job import Job
from ...model.plan import FILLED
from ..digest import marked_rows

_BY_NAME = {t.name: t for t in FILLED}
COMPARED = tuple(t for t in FILLED if t is not REVISIONS)


class Renames:
    """Old mark to new mark, list by list; what names a row is followed to its new name."""

    def __init__(self, old: Job, new: Job) -> None:
        self._old, self._new = old, new
        self._found: dict[str, dict[str, str]] = {}

    def of(self, table: Table) -> Mapping[str, str]:
        """The rows of that list that were renamed, and nothing else."""
        if table.name not in self._found:
            self._found[table.name] = {}  # while it is looked for: a list may name its own rows
            self._found[table.name] = self._look(table)
        return self._found[table.name]

    def followed(self, item: Input, value: Any) -> Any:
        """What a field of the old job would say now: the new name of the row it names."""
        table, _, column = (item.choice_of or "").partition(".")
        named = _BY_NAME.get(table)
        if named is None or column != named.key or not isinstance(value, str):
            return value
        return self.of(named).get(value, value)

    def _look(self, table: Table) -> dict[str, str]:
        old, new = (dict(marked_rows(j, table)) for j in (self._old, self._new))
        waiting: dict[tuple[Any, ...], list[str]] = {}
        for mark in new:
            if mark not in old:
                waiting.setdefault(self._rest(table, new[mark], False), []).append(mark)
        found = {}
        for mark in old:
            alike = waiting.get(self._rest(table, old[mark], True)) if mark not in new else None
            if alike:
                found[mark] = alike.pop(0)
        return found

    def _rest(self, table: Table, row: Mapping[str, Any], follow: bool) -> tuple[Any, ...]:
        """All that is typed in a row but its mark."""
        values = []
        for item in table.inputs:
            if item.name != table.key:
                value = blank_as_none(row.get(item.name))
                values.append(self.followed(item, value) if follow else value)
        return tuple(values)


def blank_as_none(value: Any) -> Any:
    """A blank is a blank, however it is written down."""
    return None if value == "" else value
