"""Reading a price request that came back: where its cells are now, and what each holds."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from openpyxl.utils import column_index_from_string, get_column_letter

from ...errors import PriceError
from ...files.xlsx.cells import NOTHING, Failed, InPercent, Stored, as_words, read_sheets
from ...files.xlsx.opening import open_package
from ...language.tables import Input
from ...model.job import checked_number, checked_text
from .fields import ASKED, CELLS, COLUMN, COLUMNS, FILLED_IN, LAYOUT, LAYOUT_NAME

_AREA = re.compile(
    r"(?:'(?P<quoted>(?:[^']|'')+)'|(?P<plain>[^'!]+))!\$?(?P<left>[A-Z]{1,3})\$?(?P<top>[0-9]{1,7})"
    r"(?::\$?[A-Z]{1,3}\$?[0-9]{1,7})?"
)
MOST_ROWS = 5000
FIGURE = "a figure such as 12.50, without signs or words"


@dataclass(frozen=True)
class Row:
    """One row of the list as it came back: what stands in each column, and in which cell."""

    values: Mapping[str, Stored]
    cells: Mapping[str, str]  # column: place, as `file.xlsx: Prices!F12`

    @property
    def code(self) -> str:
        """The code in the row; "" for none."""
        return words(self.values["code"])

    @property
    def offers_other(self) -> bool:
        """Whether anything stands under what is offered instead."""
        return any(not is_blank(self.values[i.name]) for i in FILLED_IN[1:])


@dataclass(frozen=True)
class Returned:
    """A price request that came back."""

    file: str
    terms: Row  # the single cells, by their names
    rows: tuple[Row, ...]


def read_returned(path: Path) -> Returned:
    """The request in a file. Raises FileError for a file that cannot be read, PriceError for one
    that is no request, or whose cells were moved so that they can no longer be told apart."""
    sheets = read_sheets(open_package(path))
    if sheets.names.get(LAYOUT_NAME, "").lstrip("=") != str(LAYOUT):
        accepted = (
            "a workbook that estimator request wrote (a merchant's own list is read by "
            "estimator pricelist)"
        )
        raise PriceError(path.name, "no price request", accepted)
    places = {n: _place(sheets.names, n, path) for n in CELLS}
    columns = {n: _place(sheets.names, COLUMN + n, path) for n in COLUMNS}
    found = {sheet for sheet, _, _ in (*places.values(), *columns.values())}
    heads = {top for _, _, top in columns.values()}
    if len(found) != 1 or len(heads) != 1 or not found <= set(sheets.parts):
        raise PriceError(path.name, "cells that were moved", "the sheet laid out as it was sent")
    sheet, top = found.pop(), heads.pop()
    held = sheets.cells(sheet)

    def row_at(at: Mapping[str, tuple[int, int]]) -> Row:
        cells = {
            n: f"{path.name}: {sheet}!{get_column_letter(column)}{row}"
            for n, (row, column) in at.items()
        }
        return Row({n: held.get(where, NOTHING) for n, where in at.items()}, cells)

    numbers = {n: column for n, (_, column, _) in columns.items()}
    in_list = sorted({row for row, column in held if row > top and column in numbers.values()})
    if len(in_list) > MOST_ROWS:
        raise PriceError(path.name, f"{len(in_list)} rows", f"up to {MOST_ROWS}")
    rows = [row_at({n: (row, column) for n, column in numbers.items()}) for row in in_list]
    terms = row_at({n: (row, column) for n, (_, column, row) in places.items()})
    kept = (r for r in rows if any(not is_blank(v) for v in r.values.values()))
    return Returned(path.name, terms, tuple(kept))


def _place(names: Mapping[str, str], name: str, path: Path) -> tuple[str, int, int]:
    found = _AREA.fullmatch(names.get(name, "").lstrip("="))
    if found is None:
        where = f"{path.name}: {name.removeprefix(COLUMN)}"
        raise PriceError(where, None, "the cells of the request as they were sent, none taken out")
    sheet = (found["quoted"] or found["plain"]).replace("''", "'")
    return sheet, column_index_from_string(found["left"]), int(found["top"])


# ---- what a cell says ------------------------------------------------------------------------


def is_blank(stored: Stored) -> bool:
    """Whether a cell holds nothing, or blanks; a formula without a result is not blank."""
    value = stored.value
    if isinstance(value, Failed):
        return False
    return (isinstance(value, str) and not value.strip()) or (
        value is None and stored.formula is None
    )


def words(stored: Stored) -> str:
    """A cell's text, for comparing; a number as it is written shortest."""
    value = stored.value
    if value is None:
        return ""
    return f"{value:.15g}" if isinstance(value, float) else str(value).strip()


def figure_in(stored: Stored, item: Input, cell: str) -> float | None:
    """The number in a cell; None for a blank. Nothing is guessed: a text is refused.

    Raises PriceError naming the cell.
    """
    value = stored.value
    if is_blank(stored):
        return None
    if value is None:
        raise PriceError(cell, f"={stored.formula}", f"{FIGURE} (this formula has no result)")
    if isinstance(value, InPercent):
        raise PriceError(cell, f"{value * 100:.12g}%", FIGURE)
    if isinstance(value, str | bool) or not isinstance(value, float | int):
        shown = as_words(value) if isinstance(value, date) else value
        raise PriceError(cell, shown, FIGURE)
    try:
        return checked_number(value, item)
    except ValueError as error:
        raise PriceError(cell, value, str(error)) from None


def text_in_cell(stored: Stored, item: Input, cell: str) -> str | None:
    """The text in a cell, a number or a date in words; None for a blank. Raises PriceError."""
    if is_blank(stored):
        return None
    value: Any = stored.value
    if isinstance(value, Failed | bool) or value is None:
        raise PriceError(cell, value, item.accepted)
    text = as_words(value) if isinstance(value, date) else words(stored)
    try:
        checked_text(text, name=False)
        if item.choices and text not in item.choices:
            raise ValueError(item.accepted)
    except ValueError as error:
        raise PriceError(cell, text, str(error)) from None
    return text


def asked_in(row: Row) -> dict[str, str]:
    """What stands in the columns that we filled in."""
    return {name: words(row.values[name]) for name in ASKED}
