"""The sheets of a price list, whatever kind of file it is: what each cell holds, and where."""

import json
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from openpyxl.utils import get_column_letter

from ..errors import FileError, PriceError
from ..files.opening import csv_lines, file_bytes
from ..files.xlsx.opening import package_of
from .workbook_cells import MOST_COLUMNS, MOST_MEMORY, MOST_ROWS

A_LIST = "a price list (.csv, .xlsx, .xls or .ods)"
MOST_BYTES = 64 * 2**20
SECONDS = 120  # for a spreadsheet to be read; 50,000 rows take two
_ZIPPED, _COMPOUND = b"PK", bytes.fromhex("d0cf11e0a1b11ae1")  # [MS-CFB]: .xls
_CSV = (".csv", ".txt", ".tsv")
_DELIMITERS = ("\t", ";", ",")  # where they fit alike the first: a comma may stand in a price
_LOOKED_AT = 400  # lines, to tell the delimiter

# A text, a figure, a date, or True and False. A blank is "", and so is an error or a formula that
# has no result.
Cell = str | float | bool | date
Area = tuple[tuple[int, int], tuple[int, int]]


@dataclass(frozen=True)
class Sheet:
    """One sheet, or the whole of a CSV file, whose name is then ""."""

    file: str
    name: str
    rows: Sequence[tuple[int, Sequence[Cell]]]  # those that hold anything, numbered from 1
    merged: Sequence[Area] = ()  # first and last cell of each area, row and column from 0
    hidden: bool = False

    def place(self, row: int, column: int | None = None) -> str:
        """A row, or a cell of it, as a person finds it; columns are counted from 0."""
        if self.name:
            at = f"row {row}" if column is None else f"{get_column_letter(column + 1)}{row}"
            return f"{self.file}: {self.name}!{at}"
        at = "" if column is None else f", column {get_column_letter(column + 1)}"
        return f"{self.file}, line {row}{at}"


def read_list(path: Path) -> list[Sheet]:
    """The sheets of a price list. Raises FileError, in one sentence, for what cannot be read."""
    data = file_bytes(path, A_LIST, MOST_BYTES)
    if data.startswith(_ZIPPED):
        package_of(path, data, A_LIST)  # refuses what would unpack to too much
        return _from_spreadsheet(path, data)
    if data.startswith(_COMPOUND):
        return _from_spreadsheet(path, data)
    if path.suffix.lower() not in _CSV:
        raise FileError(str(path), "another kind of file" if data else None, A_LIST)
    return [_from_csv(path, data)]


def _from_csv(path: Path, data: bytes) -> Sheet:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        try:
            text = data.decode("cp1252")
        except UnicodeDecodeError:
            text = "\0"
    if "\0" in text:
        accepted = "CSV saved in UTF-8 or Windows-1252"
        raise FileError(str(path), "another encoding", accepted)
    rows: list[tuple[int, Sequence[Cell]]] = []
    try:
        for number, cells in csv_lines(text, _delimiter(text), MOST_ROWS):
            if len(cells) > MOST_COLUMNS:
                found = f"{len(cells)} cells"
                raise PriceError(f"{path.name}, line {number}", found, f"up to {MOST_COLUMNS}")
            rows.append((number, cells))
    except PriceError:
        raise
    except ValueError as error:
        raise FileError(
            path.name, str(error), f"CSV of up to {MOST_ROWS:,} lines, its quote marks closed"
        ) from None
    if not rows:
        raise FileError(str(path), None, A_LIST)
    return Sheet(path.name, "", rows)


def _delimiter(text: str) -> str:
    """The sign by which most lines fall into as many cells as each other."""
    best, found = (0, 0), _DELIMITERS[-1]
    head = "".join(text.splitlines(keepends=True)[:_LOOKED_AT])
    for sign in _DELIMITERS:
        widths: dict[int, int] = {}
        try:
            for _, cells in csv_lines(head, sign):
                widths[len(cells)] = widths.get(len(cells), 0) + 1
        except ValueError:  # the head may end within quote marks
            pass
        fit = max(((count, width) for width, count in widths.items() if width > 1), default=(0, 0))
        if fit > best:
            best, found = fit, sign
    return found


def _from_spreadsheet(path: Path, data: bytes) -> list[Sheet]:
    reader = Path(__file__).with_name("workbook_cells.py")
    try:
        done = subprocess.run(
            [sys.executable, "-I", str(reader)], input=data, capture_output=True, timeout=SECONDS
        )
    except subprocess.TimeoutExpired:
        accepted = f"one that is read in {SECONDS} seconds"
        raise FileError(str(path), "a spreadsheet that takes too long", accepted) from None
    sheets: list[Sheet] = []
    reading = ""
    for line in done.stdout.splitlines():
        said = json.loads(line, object_hook=_with_days)
        reading = said.get("reading", reading)
        if "refused" in said:
            raise FileError(_named(path, reading), said["refused"], _READABLE)
        if "rows" in said:
            merged = [((a, b), (c, d)) for (a, b), (c, d) in said["merged"]]
            name = said["name"]
            sheets.append(Sheet(path.name, name, said["rows"], merged, said["hidden"]))
            reading = ""
    if reading or done.returncode:
        if b"ModuleNotFoundError" in done.stderr:
            raise FileError(str(path), "no reader of spreadsheets", "pip install python-calamine")
        found = "cells too many, or too far apart, to be held in memory"
        raise FileError(_named(path, reading), found, _READABLE)
    return sheets


_READABLE = (
    f"{A_LIST} that is whole, without a password, of up to {MOST_ROWS:,} rows and {MOST_COLUMNS} "
    f"columns, and {MOST_MEMORY // 2**30} GB when read"
)


def _named(path: Path, sheet: str) -> str:
    return f"{path.name}: {sheet}" if sheet else str(path)


def _with_days(found: Mapping[str, Any]) -> Any:
    """A date as a date; a time of day, or a date no calendar has, as it is written."""
    if set(found) != {"time"}:
        return found
    try:
        return date.fromisoformat(found["time"])
    except ValueError:
        return str(found["time"])
