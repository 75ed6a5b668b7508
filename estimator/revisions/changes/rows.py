"""What was changed in the lists: rows added, removed and renamed, and each field that differs."""

from collections.abc import Iterator, Mapping
from typing import Any

from ...language import Input, Table
from ...model.job import Job
from ..digest import marked_rows
from .change import INPUTS, Change
from .renamed import COMPARED, Renames, blank_as_none
from .visible import CLIENT_LISTS, HIDDEN_FIELDS
from .words import as_typed, in_sentence, row_noun, say, word


def row_changes(old: Job, new: Job, renames: Renames) -> Iterator[Change]:
    """List by list. The order of rows is no difference."""
    for table in COMPARED:
        yield from _list_changes(table, old, new, renames)


def _list_changes(table: Table, old: Job, new: Job, renames: Renames) -> Iterator[Change]:
    seen = table.name in CLIENT_LISTS
    before, after = dict(marked_rows(old, table)), dict(marked_rows(new, table))
    renamed = renames.of(table)
    for mark, row in before.items():
        if mark in renamed:
            text = say("renamed", was=row_name(table, mark, row), now=renamed[mark])
            yield Change(INPUTS, (table.name, renamed[mark], table.key), text, mark,
                         renamed[mark], seen)  # fmt: skip
    for mark, row in before.items():
        if mark not in after and mark not in renamed:
            text = say("removed", row=row_name(table, mark, row))
            yield Change(INPUTS, (table.name, mark), text, mark, None, seen)
    for mark, row in after.items():
        if mark in before:
            yield from _row_changes(table, mark, before[mark], row, renames)
        elif mark not in renamed.values():
            text = say("added", row=row_name(table, mark, row))
            yield Change(INPUTS, (table.name, mark), text, None, mark, seen)


def _row_changes(
    table: Table, mark: str, old: Mapping[str, Any], new: Mapping[str, Any], renames: Renames
) -> Iterator[Change]:
    for item in table.inputs:
        if item.name == table.key:
            continue
        was = renames.followed(item, blank_as_none(old.get(item.name)))
        now = blank_as_none(new.get(item.name))
        if was == now:
            continue
        field = in_sentence(item.label)
        name = row_name(table, mark, new, old)
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
