"""A job file as text: rows written into it, all else in it left as it stands."""

import json
import re
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from ..errors import FileError
from ..files.opening import toml_in
from ..language import Table
from ..language.days import day_of
from ..language.tables import Input
from ..language.units import EACH
from .places import SCHEMA
from .plan import PARTICULARS, SHIPPED_ROWS
from .spelling import one_line

Row = Mapping[str, Any]
_HEADER = re.compile(r"\s*\[\[?\s*(?P<name>[^\[\]]+?)\s*\]\]?\s*(#.*)?$")


def entry_of(inputs: Sequence[Input], row: Row) -> dict[str, Any]:
    """A row under the names that its fields have in a job file; blanks are left out."""
    return {
        i.key: int(row[i.name]) if i.unit is EACH else row[i.name]
        for i in inputs
        if row.get(i.name) is not None
    }


def fields_text(inputs: Sequence[Input], row: Row, wanting: Collection[str] = ()) -> str:
    """The fields of a row, one a line; a column in `wanting` as a line to be filled in."""
    lines = []
    for item in inputs:
        entry = entry_of([item], row)
        for key, value in entry.items():
            # A TOML basic string is a JSON string; numbers are written as they are.
            shown = day_of(value) if item.unit.dated else json.dumps(value, ensure_ascii=False)
            lines.append(f"{key} = {shown}\n")
        if not entry and item.name in wanting:
            lines.append(f"# {item.key} =   # to be filled in: {_accepted(item)}\n")
    return "".join(lines)


def _accepted(item: Input) -> str:
    """What may be typed, each name of a list that comes with the program among it."""
    name, _, column = (item.choice_of or "").partition(".")
    listed = [str(r[column]) for r in SHIPPED_ROWS.get(name, ())]
    return "one of " + "; ".join(listed) if listed else item.accepted


def row_text(table: Table, row: Row, wanting: Collection[str] = ()) -> str:
    """A row of a list as a job file has it."""
    return f"[[{table.name}]]\n" + fields_text(table.inputs, row, wanting)


def with_rows(
    text: str,
    name: str,
    tables: Mapping[str, Table],
    put: Mapping[str, Mapping[str, str]],
    gone: Mapping[str, Collection[str]],
) -> str:
    """The text of a job file with those rows written, and others taken out.

    `put` holds for each list the text of rows by their marks: one that is there is written where it
    stands, others below the last of their list. Raises FileError for a file whose rows cannot be
    told apart, and then nothing of it is changed.
    """
    broken = "\r\n" in text
    lines = text.replace("\r\n", "\n").split("\n")
    before = toml_in(text)
    blocks = _blocks(lines)
    swaps: list[tuple[int, int, list[str]]] = []  # from line, to line, what stands there then
    expected = dict(before)
    for list_name in {**put, **gone}:
        rows = dict(put.get(list_name, {}))
        key = tables[list_name].key
        there = [b for b in blocks if b[0] == list_name]
        entries = before.get(list_name, [])
        if len(there) != len(entries):
            accepted = f"rows each under [[{list_name}]]"
            raise FileError(f"{name}: {list_name}", "rows written another way", accepted)
        kept: list[Any] = []
        end = None
        for (_, first, last), entry in zip(there, entries, strict=True):
            mark, end = entry.get(key), last
            if mark in rows:
                new = rows.pop(mark)
                swaps.append((first, last, new.rstrip("\n").split("\n")))
                kept += toml_in(new)[list_name]
            elif mark in gone.get(list_name, ()):
                blank = last < len(lines) and not lines[last].strip()
                swaps.append((first, last + blank, []))
            else:
                kept.append(entry)
        added = list(rows.values())
        for new in added:
            kept += toml_in(new)[list_name]
        if added:
            at = len(lines) if end is None else end
            block = ["", *"\n".join(a.rstrip("\n") + "\n" for a in added).rstrip("\n").split("\n")]
            swaps.append((at, at, block))
        expected[list_name] = kept
    for first, last, new_lines in sorted(swaps, key=lambda s: (s[0], s[1]), reverse=True):
        lines[first:last] = new_lines
    found = "\n".join(lines).rstrip("\n") + "\n"
    if toml_in(found) != {k: v for k, v in expected.items() if v or before.get(k) == v}:
        accepted = "one whose rows are told apart by their headings, as the demo's"
        raise FileError(name, "a file that cannot be written row by row", accepted)
    return found.replace("\n", "\r\n") if broken else found


def _blocks(lines: Sequence[str]) -> list[tuple[str, int, int]]:
    """Each heading's name, its line, and the line after its last field.

    Comments and blank lines above a heading belong to it, not to what stands before.
    """
    heads = [(n, m["name"]) for n, line in enumerate(lines) if (m := _HEADER.match(line))]
    found = []
    for at, (first, name) in enumerate(heads):
        last = heads[at + 1][0] if at + 1 < len(heads) else len(lines)
        while last > first + 1 and (
            not lines[last - 1].strip() or lines[last - 1].lstrip()[0] == "#"
        ):
            last -= 1
        found.append((name, first, last))
    return found


_HEAD = """\
# Begun with the drawing {name}. What the drawing shows is written here. A line that begins with "#"
# and has nothing after its "=" is to be filled in: no drawing shows it. Put the name of a price
# file here, and the suppliers at the end. docs/job-file.md shows every field.
# prices = "prices.csv"

layout = {layout}  # what this file is written for: a later program reads it by that

# As they usually are: change them as the job has it.
[job]
"""


def begun(name: str, rows: Mapping[str, Mapping[str, str]]) -> str:
    """The text of a new job file with those rows, and what has still to be filled in."""
    usual = {i.name: i.default for i in PARTICULARS}
    needed = [i.name for i in PARTICULARS if i.required]
    parts = [_HEAD.format(name=one_line(name), layout=SCHEMA)]
    parts.append(fields_text(PARTICULARS, usual, needed))
    for found in rows.values():
        parts += (f"\n{text}" for text in found.values())
    return "".join(parts)
