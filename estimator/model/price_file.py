"""The price file (CSV) beside a job file: read, and written with all else in it left as it is."""

import csv
import io
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from ..buying.book import BOOK
from ..errors import JobError, PriceError
from ..files.opening import csv_lines, figure, file_text
from ..language.days import day_of
from ..language.tables import Input
from ..language.units import EACH
from .job import ROW_MODELS, as_now, row_from
from .places import SCHEMA

Row = Mapping[str, Any]


def read_prices(path: Path, layout: int = SCHEMA) -> list[dict[str, Any]]:
    """The rows of a price file of a layout, each checked. Raises PriceError with line and column."""
    return prices_in(file_text(path), path.name, layout)


def prices_in(text: str, name: str, layout: int = SCHEMA) -> list[dict[str, Any]]:
    """The same of a price file's text; the name is only said in sentences."""
    keys = {i.key: i for i in BOOK.inputs}
    try:
        lines = list(csv_lines(text))
    except ValueError as error:
        raise PriceError(name, str(error), "CSV whose quote marks are closed") from None
    if not lines:
        raise PriceError(name, None, "a line of columns: " + ", ".join(keys))
    names = {old: i.key for i in BOOK.inputs for old in i.keys_before(layout)}
    header = [names.get(key, key) for key in lines.pop(0)[1]]
    for key in header:
        if key not in keys or header.count(key) > 1:
            raise PriceError(
                f"{name}, line 1", key, "each of these columns once: " + ", ".join(keys)
            )
    rows = []
    for n, cells in lines:
        where = f"{name}, line {n}"
        if len(cells) != len(header):
            raise PriceError(where, f"{len(cells)} cells", f"{len(header)}, as in line 1")
        entry: dict[str, Any] = {}
        for key, cell in zip(header, cells, strict=True):
            if cell != "":
                entry[key] = cell if keys[key].unit.text else _number(cell)
        try:
            whole = as_now(entry, BOOK.inputs, layout)
            rows.append(row_from(ROW_MODELS["book"], BOOK.inputs, whole, _fields(where)))
        except JobError as error:
            raise PriceError(error.where, error.found, error.accepted) from None
    return rows


def with_book(
    text: str,
    name: str,
    changes: Mapping[str, Row],
    new_rows: Sequence[Row],
    layout: int = SCHEMA,
) -> str:
    """The text of a price file with those fields changed, by code, and new rows put below.

    Lines of which nothing changes stay to the letter. A column comes where a row has something
    for it and the file has no such column. Raises PriceError for a file that has no row of a code,
    or that would read otherwise than it should.
    """
    before = prices_in(text, name, layout)
    codes = [r["code"] for r in before]
    if len(set(codes)) != len(codes) or not set(changes) <= set(codes) or _has_lone_returns(text):
        raise PriceError(name, "rows that cannot be told apart", "each code once, a line each")
    after = [{**r, **changes.get(r["code"], {})} for r in before] + [dict(r) for r in new_rows]
    raw = io.StringIO(text, newline="").readlines()  # as its reader counts lines
    ends = "\r\n" if "\r\n" in text else "\n"
    lines = list(csv_lines(text))
    items = _columns(lines[0][1], layout)
    added = [i for i in BOOK.inputs if i not in items and any(r[i.name] is not None for r in after)]
    firsts = [n for n, _ in lines]
    blocks = [raw[a - 1 : b - 1] for a, b in zip(firsts, [*firsts[1:], len(raw) + 1], strict=True)]
    done = [*raw[: firsts[0] - 1], *_widened(blocks[0], [i.key for i in added], ends)]
    for block, was, row in zip(blocks[1:], before, after, strict=False):
        if row == was:
            done += _widened(block, [""] * len(added), ends)
        else:
            done += [_line([*items, *added], row, ends), *_blank_after(block)]
    if not done[-1].endswith("\n"):
        done[-1] += ends
    done += [_line([*items, *added], row, ends) for row in after[len(before) :]]
    found = "".join(done)
    if prices_in(found, name, SCHEMA if added else layout) != after:
        raise PriceError(name, "a file that cannot be written line by line", "one as the demo's")
    return found


def _has_lone_returns(text: str) -> bool:
    return "\r" in text.replace("\r\n", "")


def _blank_after(block: Sequence[str]) -> Sequence[str]:
    """The blank lines at the end of a row's lines."""
    last = max(n for n, line in enumerate(block) if line.strip())
    return block[last + 1 :]


def _columns(head: Sequence[str], layout: int) -> list[Input]:
    by_key = {old: i for i in BOOK.inputs for old in (*i.keys_before(layout), i.key)}
    return [by_key[key] for key in head]


def _widened(block: Sequence[str], cells: Sequence[str], ends: str) -> list[str]:
    """The lines of one row with cells added at its end; blank lines after it stay."""
    if not cells:
        return list(block)
    blank = _blank_after(block)
    own = list(block[: len(block) - len(blank)])
    own[-1] = own[-1].rstrip("\r\n") + "".join(f",{c}" for c in cells) + ends
    return [*own, *blank]


def _line(items: Sequence[Input], row: Row, ends: str) -> str:
    stream = io.StringIO(newline="")
    csv.writer(stream, lineterminator=ends).writerow([_cell(i, row.get(i.name)) for i in items])
    return stream.getvalue()


def _cell(item: Input, value: Any) -> str:
    if value is None:
        return ""
    if item.unit.text:
        return str(value)
    if item.unit.dated:
        return day_of(value).isoformat()
    return str(int(value)) if item.unit is EACH else f"{value:.15g}"


def _fields(place: str) -> Callable[[str], str]:
    return lambda key: f"{place}.{key}"


def _number(cell: str) -> Any:
    try:
        return figure(cell)
    except ValueError:
        return cell  # refused with its place by the field's own check
