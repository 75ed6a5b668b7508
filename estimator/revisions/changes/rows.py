"""What was changed in the lists: rows added, removed and renamed, and each field that differs."""

from collections.abc import Iterator, Mapping
from typing import Any

from ...language import Input, Table
from ...language.ledger import Ledger, is_available
from ...model.job import Job
from ...model.sound_rows import mark_of, offered_at
from ..digest import marked_rows
from .change import INPUTS, Change
from .renamed import COMPARED, Renames, blank_as_none
from .visible import CLIENT_LISTS, HIDDEN_FIELDS
from .words import as_typed, in_sentence, row_noun, say, word


def row_changes(
    old: Job,
    new: Job,
    renames: Renames,
    before: Ledger | None = None,
    after: Ledger | None = None,
) -> Iterator[Change]:
    """List by list. The order of rows is no difference.

    The figures of both states say what the form filled in: where the first figure is typed into a
    row of the form, the row is not new, and what was there was the form's.
    """
    for table in COMPARED:
        yield from _list_changes(
            table, _Rows(table, old, before), _Rows(table, new, after), renames
        )


class _Rows:
    """The rows of a list in one state of a job, by their marks: typed, and filled by the form."""

    def __init__(self, table: Table, job: Job, ledger: Ledger | None) -> None:
        self.typed = dict(marked_rows(job, table))
        self._table, self._ledger = table, ledger
        self._places = {} if ledger is None or not job.uses_form else self._filled(ledger)

    def _filled(self, ledger: Ledger) -> dict[str, int]:
        """Where the rows stand that the form fills, typed over or not."""
        marks = (mark_of(ledger, self._table, n) for n in range(self._table.rows_offered))
        return {str(mark): n for n, mark in enumerate(marks) if mark}

    def get(self, mark: str) -> Mapping[str, Any] | None:
        """What is typed in the row of that mark: nothing in one that only the form fills."""
        return self.typed.get(mark, {} if mark in self._places else None)

    def in_use(self, item: Input, mark: str, typed: Any) -> Any:
        """What is typed, or what the form says where nothing is."""
        if typed is not None or mark not in self._places or not self._table.offers(item.name):
            return typed
        assert self._ledger is not None
        said = offered_at(self._ledger, self._table, item, self._places[mark])
        return blank_as_none(said) if is_available(said) else None


def _list_changes(table: Table, old: _Rows, new: _Rows, renames: Renames) -> Iterator[Change]:
    seen = table.name in CLIENT_LISTS
    renamed = renames.of(table)
    for mark, row in old.typed.items():
        if mark in renamed:
            text = say("renamed", was=row_name(table, mark, row), now=renamed[mark])
            yield Change(INPUTS, (table.name, renamed[mark], table.key), text, mark,
                         renamed[mark], seen)  # fmt: skip
    for mark, row in old.typed.items():
        if new.get(mark) is None and mark not in renamed:
            text = say("removed", row=row_name(table, mark, row))
            yield Change(INPUTS, (table.name, mark), text, mark, None, seen)
    marks = [*new.typed, *(m for m in old.typed if m not in new.typed and m not in renamed)]
    for mark in marks:
        was, now = old.get(mark), new.get(mark)
        if was is not None and now is not None:
            yield from _row_changes(table, mark, old, new, renames)
        elif now is not None and mark not in renamed.values():
            text = say("added", row=row_name(table, mark, now))
            yield Change(INPUTS, (table.name, mark), text, None, mark, seen)


def _row_changes(
    table: Table, mark: str, old: _Rows, new: _Rows, renames: Renames
) -> Iterator[Change]:
    before, after = old.get(mark) or {}, new.get(mark) or {}
    for item in table.inputs:
        if item.name == table.key:
            continue
        was = renames.followed(item, blank_as_none(before.get(item.name)))
        now = blank_as_none(after.get(item.name))
        if was == now:
            continue
        stood, stands = old.in_use(item, mark, was), new.in_use(item, mark, now)
        if stood != stands:  # else the form's own figure was typed, or taken out: said as a blank
            was, now = stood, stands
        field = in_sentence(item.label)
        name = row_name(table, mark, after, before)
        text = say("field", row=name, field=field, was=shown(item, was), now=shown(item, now))
        seen = table.name in CLIENT_LISTS and (table.name, item.name) not in HIDDEN_FIELDS
        yield Change(INPUTS, (table.name, mark, item.name), text, was, now, seen)


def row_name(
    table: Table, mark: str, row: Mapping[str, Any], other: Mapping[str, Any] | None = None
) -> str:
    """What the row is called: its kind, its mark, and its description where it has one."""
    kind = row.get("kind")
    if other is not None and other.get("kind") != kind:
        kind = None
    noun = row_noun(table.name, kind or None)
    described = row.get("description")
    if described:
        return say("row_described", noun=noun, mark=mark, description=described)
    return say("row", noun=noun, mark=mark)


def shown(item: Input, value: Any) -> str:
    """What is typed in a field, as it reads in a sentence."""
    if value is None:
        return word("blank")
    return value if isinstance(value, str) else as_typed(value, item.unit)
