"""Where the columns of a list stand: the row of its headings, found among the first rows."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from openpyxl.utils import column_index_from_string, get_column_letter

from ..errors import PriceError
from .mapping import COLUMNS, PriceListMap, text_key
from .sheets import Area, Cell, Sheet
from .workbook_cells import MOST_COLUMNS

MOST_ABOVE = 50  # rows that hold anything, of which one has the headings
_LOOKED_AT = 300  # rows below it, to tell under which part of a merged heading figures stand
_LETTER = re.compile(r"column ([a-z]{1,2})")
_PER = re.compile(r"(?:\bper |/ ?)[a-z0-9²³ ]+")


@dataclass(frozen=True)
class Columns:
    """Where each column of one sheet stands, counted from 0, and in which row the headings."""

    row: int
    at: Mapping[str, int]
    per: str = ""  # what the heading of the prices says that they are for
    heading: str = ""  # of the prices, as it is written


class Line(NamedTuple):
    """One row of a list, its texts as they stand there on one line."""

    sheet: Sheet
    row: int
    code: str
    description: str
    pack: str  # what the price is for, by the row or else by the heading of the prices
    price: Cell
    discount: Cell
    price_at: int  # the column
    discount_at: int

    @property
    def place(self) -> str:
        """The row, as a person finds it."""
        return self.sheet.place(self.row)


def columns_of(sheet: Sheet, how: PriceListMap) -> Columns | None:
    """The columns of a sheet; None where no row has all the headings of the map.

    Raises PriceError, with both cells, where a heading stands twice in that row.
    """
    lettered = {c: n for c, names in how.columns.items() if (n := _lettered(names)) is not None}
    wanted = {c: [text_key(n) for n in names] for c, names in how.columns.items() if c not in lettered}  # fmt: skip
    if not wanted:
        return Columns(0, lettered)
    for n in range(min(len(sheet.rows), MOST_ABOVE)):
        names = heading_names(sheet, n)
        found = {c: _columns_named(names, accepted) for c, accepted in wanted.items()}
        if all(found.values()):
            row, cells = sheet.rows[n]
            at = {c: _one(sheet, n, places, how) for c, places in found.items()}
            price = {**at, **lettered}["price"]
            said = _PER.findall(next(iter(names.get(price, ())), ""))
            per = said[0].lstrip("/ ") if said else ""
            heading = text_of(cells[price]) if price < len(cells) else ""
            return Columns(row, {**at, **lettered}, per, heading)
    return None


def _lettered(names: Sequence[str]) -> int | None:
    found = _LETTER.fullmatch(text_key(names[0])) if names else None
    return column_index_from_string(found[1].upper()) - 1 if found else None


def heading_names(sheet: Sheet, n: int) -> dict[int, tuple[str, ...]]:
    """What each column of a row may be called: by its own text, or with the text above it.

    A heading merged over several columns belongs to each; one merged down belongs to its last row.
    """
    row, cells = sheet.rows[n]
    number, above = sheet.rows[n - 1] if n else (0, ())
    if number != row - 1:
        above = ()
    found: dict[int, tuple[str, ...]] = {}
    merged = [m for m in sheet.merged if row - 2 <= m[0][0] < row]
    rights = [right + 1 for _, (_, right) in merged]
    for column in range(min(max(len(cells), len(above), *rights, 0), MOST_COLUMNS)):
        own = text_key(_merged_text(merged, row, cells, column))
        upper = text_key(_merged_text(merged, row - 1, above, column))
        if own and upper:
            found[column] = (own, f"{upper} / {own}")
        elif own or upper:
            found[column] = (own or upper,)
    return found


def _merged_text(merged: Sequence[Area], row: int, cells: Sequence[Cell], column: int) -> str:
    own = text_of(cells[column]) if column < len(cells) else ""
    if own:
        return own
    for (top, left), (_, right) in merged:
        if top == row - 1 and left <= column <= right and left < len(cells):
            return text_of(cells[left])
    return ""


def _columns_named(names: Mapping[int, tuple[str, ...]], accepted: Sequence[str]) -> list[int]:
    """The columns that bear the first of the accepted headings that any column bears."""
    for name in accepted:
        if found := [c for c, called in names.items() if name in called]:
            return found
    return []


def _one(sheet: Sheet, n: int, places: list[int], how: PriceListMap) -> int:
    """The one column of that heading; of a merged one that in which something stands below."""
    if len(places) > 1:
        below = sheet.rows[n + 1 : n + 1 + _LOOKED_AT]
        full = [p for p in places if any(p < len(c) and c[p] != "" for _, c in below)]
        row = sheet.rows[n][0]
        merged = any(
            top <= row - 1 <= bottom and left <= min(places) and max(places) <= right
            for (top, left), (bottom, right) in sheet.merged
        )
        if not (merged and len(full) == 1):
            one, other = places[:2]
            cells = sheet.rows[n][1]
            raise PriceError(
                sheet.place(row, other),
                text_of(cells[other] if other < len(cells) else ""),
                f"that heading once: it is that of column {get_column_letter(one + 1)} too; in "
                f'{how.file} say which, as "column {get_column_letter(other + 1)}"',
            )
        return full[0]
    return places[0]


def lines_of(sheet: Sheet, columns: Columns) -> Iterator[Line]:
    """The rows below the headings that have a code or a description."""
    at = [columns.at.get(c, -1) for c in COLUMNS]
    code_at, description_at, price_at, pack_at, discount_at = at
    for row, cells in sheet.rows:
        if row <= columns.row:
            continue
        width = len(cells)
        code = text_of(cells[code_at]) if 0 <= code_at < width else ""
        description = text_of(cells[description_at]) if 0 <= description_at < width else ""
        if not code and not description:
            continue
        price = cells[price_at] if price_at < width else ""
        if columns.heading and price != "" and text_of(price) == columns.heading:
            continue  # the headings once more, as at the head of a page
        yield Line(
            sheet,
            row,
            code,
            description,
            (text_of(cells[pack_at]) if 0 <= pack_at < width else "") or columns.per,
            price,
            cells[discount_at] if 0 <= discount_at < width else "",
            price_at,
            discount_at,
        )


def text_of(cell: Cell) -> str:
    """What a cell says, on one line; a whole number without its point."""
    if isinstance(cell, str):
        return " ".join(cell.split())
    if isinstance(cell, bool):
        return ""
    return cell.isoformat() if isinstance(cell, date) else f"{cell:.15g}"
