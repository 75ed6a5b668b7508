"""Rows made tall enough for the words that are wrapped in them.

A spreadsheet program does not fit the height of merged cells, and a stamped document holds texts
of any length. Widths of letters are estimated on the safe side: a row may be a little too tall.
"""

from typing import Any

from ..workbook.build import Built
from ..workbook.page_breaks import USUAL_WIDTH, widths

_DIGIT, _PADDING = 7, 8  # pixels: one unit of a column's width, and what a cell keeps free
# Of a font's height: the widths of Helvetica's letters, as its metrics give them, by class.
_WIDTHS = (
    (" ijl.,;:'|!/", 0.26),
    ("ftrI()[]-", 0.32),
    ("mwMW%@", 0.87),
    ("ABCDEFGHKLNOPQRSTUVXYZ&", 0.71),
)
_USUAL_LETTER, _BOLDER = 0.555, 1.08
_LINE, _AROUND = 1.26, 4  # of a font's height, from line to line; points above and below them
_TALLEST = 409.0  # points: what a row can be


def fit_rows(built: Built) -> None:
    """Raise every row that is too low for a wrapped text in it."""
    for sheet in built.workbook.worksheets:
        wide = widths(sheet)
        merged = {(m.min_row, m.min_col): m for m in sheet.merged_cells.ranges}
        results = built.results[sheet.title]
        for row in sheet.iter_rows():
            for cell in row:
                if not cell.alignment.wrap_text:
                    continue
                value = results.get((cell.row, cell.column), cell.value)
                if not isinstance(value, str) or not value:
                    continue
                area = merged.get((cell.row, cell.column))
                last = area.max_col if area else cell.column
                room = sum(wide.get(n, USUAL_WIDTH) for n in range(cell.column, last + 1))
                needed = lines(value, room, cell.font) * cell.font.size * _LINE + _AROUND
                dimension = sheet.row_dimensions[cell.row]
                if needed > (dimension.height or 0):
                    dimension.height = min(_TALLEST, needed)


def lines(text: str, width: float, font: Any) -> int:
    """How many lines a text takes in so many units of a column's width."""
    size = font.size * 4 / 3 * (_BOLDER if font.bold else 1)
    room = (_DIGIT * width - _PADDING) / size
    blank, count, used = _wide(" "), 1, 0.0
    for word in text.split(" "):
        wide = _wide(word)
        if used and used + blank + wide > room:
            count, used = count + 1, 0.0
        used += wide + (blank if used else 0)
        while used > room > 0:  # a word longer than the line is broken
            count, used = count + 1, used - room
    return count


def _wide(text: str) -> float:
    """How wide a text is, as a part of its font's height."""
    return sum(
        next((width for letters, width in _WIDTHS if c in letters), _letter(c)) for c in text
    )


def _letter(sign: str) -> float:
    return _USUAL_LETTER if sign < "\u0300" else 1.0
