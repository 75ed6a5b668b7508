"""Rows made tall enough for the words that are wrapped in them.

A spreadsheet program does not fit the height of merged cells, and a stamped document holds texts
of any length. Widths of letters are estimated on the safe side: a row may be a little too tall.
"""

from typing import Any

from openpyxl.worksheet.worksheet import Worksheet

from ..workbook.build import Built

_DIGIT, _PADDING = 7, 8  # pixels: one unit of a column's width, and what a cell keeps free
_LETTER, _BOLD = 0.5, 0.56  # of a font's height: the mean width of its letters
_LINE = 1.26  # of a font's height: from one line to the next
_TALLEST = 409.0  # points: what a row can be
_USUAL_WIDTH = 8.43


def fit_rows(built: Built) -> None:
    """Raise every row that is too low for a wrapped text in it."""
    for sheet in built.workbook.worksheets:
        widths = _widths(sheet)
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
                room = sum(widths.get(n, _USUAL_WIDTH) for n in range(cell.column, last + 1))
                needed = lines(value, room, cell.font) * cell.font.size * _LINE + 2
                dimension = sheet.row_dimensions[cell.row]
                if needed > (dimension.height or 0):
                    dimension.height = min(_TALLEST, needed)


def lines(text: str, width: float, font: Any) -> int:
    """How many lines a text takes in so many units of a column's width."""
    letter = font.size * 4 / 3 * (_BOLD if font.bold else _LETTER)
    room = max(1, int((_DIGIT * width - _PADDING) / letter))
    count, used = 1, 0
    for word in text.split(" "):
        if used and used + 1 + len(word) > room:
            count, used = count + 1, 0
        used += len(word) + (1 if used else 0)
        while used > room:  # a word longer than the line is broken
            count, used = count + 1, used - room
    return count


def _widths(sheet: Worksheet) -> dict[int, float]:
    """Column widths by number; a file may give those of several columns at once."""
    found: dict[int, float] = {}
    for letter, dimension in sheet.column_dimensions.items():
        if not dimension.width:
            continue
        first = dimension.min or sheet[f"{letter}1"].column
        for n in range(first, (dimension.max or first) + 1):
            found[n] = dimension.width
    return found
