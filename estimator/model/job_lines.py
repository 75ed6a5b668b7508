"""'Buy from' in a job file, changed where it stands: every other character stays as it is."""

import json
import re
from collections.abc import Mapping

from ..errors import JobError
from ..files.opening import toml_in
from .spelling import as_listed

SECTION = "lines"
_HEAD = re.compile(r"\s*\[\s*lines\s*\]\s*(#.*)?")
_ANY_HEAD = re.compile(r"\s*\[")
_ENTRY = re.compile(r"(\s*)([\w-]+|\"[\w-]+\"|'[\w-]+')\s*=\s*(\"(?:[^\"\\]|\\.)*\"|'[^']*')(.*)")


def with_line_suppliers(text: str, place: str, suppliers: Mapping[str, str | None]) -> str:
    """The text of a job file in which those lines name those suppliers; None: none of their own.

    Raises JobError when the section [lines] is written in a way that is not one entry to a line.
    """
    end = "\r\n" if "\r\n" in text else "\n"
    was, lines = toml_in(text), text.split(end)
    wanted = dict(suppliers)
    start = next((n for n, x in enumerate(lines) if _HEAD.fullmatch(x)), None)
    if start is None:
        added = [f"{k} = {_quoted(v)}" for k, v in wanted.items() if v is not None]
        while lines and not lines[-1]:
            lines.pop()
        done = [*lines, "", f"[{SECTION}]", *added, ""] if added else text.split(end)
    else:
        stop = next(
            (n for n in range(start + 1, len(lines)) if _ANY_HEAD.match(lines[n])), len(lines)
        )
        body, last = [], start
        for line in lines[start + 1 : stop]:
            entry = _ENTRY.fullmatch(line)
            key = as_listed(entry[2].strip("\"'"), suppliers) if entry else None
            if entry is None or key not in wanted:
                body.append(line)
            else:
                supplier = wanted.pop(key)
                if supplier is not None:
                    body.append(f"{entry[1]}{entry[2]} = {_quoted(supplier)}{entry[4]}")
            if body and body[-1].strip():
                last = len(body)
        last = len(body) if not any(b.strip() for b in body) else last
        while last and not body[last - 1].strip():
            last -= 1
        body[last:last] = [f"{k} = {_quoted(v)}" for k, v in wanted.items() if v is not None]
        head = lines[start : start + 1]
        if not any(b.strip() for b in body) and head == [f"[{SECTION}]"]:
            head, body = [], []
            while start and not lines[start - 1]:
                start -= 1
        done = [*lines[:start], *head, *body, *lines[stop:]]
        if not head and lines[stop:] == []:
            done.append("")
        elif not head:
            done[start:start] = [""]
    new = end.join(done)
    _hold_to(was, new, place, suppliers)
    return new


def _hold_to(
    was: Mapping[str, object], new: str, place: str, suppliers: Mapping[str, str | None]
) -> None:
    """Nothing else may have changed. Raises JobError where something has."""
    section = was.get(SECTION, {})
    wanted = {
        k: v for k, v in (section if isinstance(section, dict) else {}).items()
        if as_listed(k, suppliers) not in suppliers
    }  # fmt: skip
    wanted |= {k: v for k, v in suppliers.items() if v is not None}
    try:
        now = toml_in(new)
        found = {as_listed(k, suppliers): v for k, v in now.pop(SECTION, {}).items()}
    except (ValueError, AttributeError):
        found, now = {}, {}
    if found != wanted or now != {k: v for k, v in was.items() if k != SECTION}:
        raise JobError(
            f"{place}: {SECTION}",
            "entries written in another way",
            f'a section [{SECTION}] with one entry to a line, as in outer_dpc = "A supplier"',
        )


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)  # a TOML basic string is a JSON string
