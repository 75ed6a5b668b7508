"""Where a printed page ends: never between a heading and the first rows of what it heads.

How high a row is that does not say so, each spreadsheet program decides. So a page begins before
every heading that may fall on the foot of one, in any of them.
"""

from collections.abc import Iterator
from itertools import accumulate

from openpyxl.utils import column_index_from_string, range_boundaries
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

_A4, _INCH = (595.0, 842.0), 72.0  # points
_LOW, _HIGH = 11.3, 15.0  # points: the lowest and the highest that such a row is known to be
_CHARACTER = 5.25  # points across, of a column's width; and of one that says none as many
USUAL_WIDTH = 8.43
_SLACK = 0.04  # of what is above: margins and scale are rounded by each program in its own way
_WITH_HEADING = 4  # rows that stand on the page of their heading


def break_pages(sheet: Worksheet) -> None:
    """Begin a page before each heading that may else be the last of one, and leave the pages that
    begin anyway. A sheet that is fitted to a number of pages or repeats rows is left as it is."""
    fitted = sheet.sheet_properties.pageSetUpPr
    if not (fitted and fitted.fitToPage) or sheet.page_setup.fitToHeight or not sheet.print_area:
        return
    if sheet.print_title_rows:
        return
    left, top, right, bottom = range_boundaries(sheet.print_area.split("!")[-1].replace("$", ""))
    high = _page_height(sheet, left, right)
    rows = range(top, bottom + 1)
    heights = [sheet.row_dimensions[r].height if r in sheet.row_dimensions else None for r in rows]
    low_at, high_at = ([0.0, *accumulate(h or usual for h in heights)] for usual in (_LOW, _HIGH))
    own = [b.id + 1 - top for b in sheet.row_breaks.brk]
    begins = 0  # the row, counted from the first, with which the page last begun by a break begins
    for first, last in _headed(sheet, left, rows):
        n, end = first - top, min(last + 1, bottom + 1) - top
        begins = max([begins, *(row for row in own if row <= n)])
        above = (low_at[n] - low_at[begins]) * (1 - _SLACK)
        through = (high_at[end] - high_at[begins]) * (1 + _SLACK)
        if n > begins and above // high != through // high:
            sheet.row_breaks.append(Break(id=first - 1))
            begins = n


def _page_height(sheet: Worksheet, left: int, right: int) -> float:
    """How much of a sheet one page holds, in points of the sheet, fitted to its width."""
    across, down = _A4 if sheet.page_setup.orientation == "portrait" else _A4[::-1]
    margins = sheet.page_margins
    across -= (margins.left + margins.right) * _INCH
    down -= (margins.top + margins.bottom) * _INCH
    wide = widths(sheet)
    characters = sum(wide.get(n, USUAL_WIDTH) for n in range(left, right + 1))
    return down / min(1.0, across / (characters * _CHARACTER))


def widths(sheet: Worksheet) -> dict[int, float]:
    """Column widths by number, 0 for one that is hidden; a file may give several at once."""
    found: dict[int, float] = {}
    for letter, dimension in sheet.column_dimensions.items():
        if not dimension.width:
            continue
        first = dimension.min or column_index_from_string(letter)
        for n in range(first, (dimension.max or first) + 1):
            found[n] = 0.0 if dimension.hidden else dimension.width
    return found


def _headed(sheet: Worksheet, column: int, rows: range) -> Iterator[tuple[int, int]]:
    """Each heading, with the last row that stands on its page. One that follows at once is under it."""
    headings = [r for r in rows if _is_heading(sheet, r, column)]
    first = None
    for n, row in enumerate(headings):
        first = first or row
        if n + 1 < len(headings) and headings[n + 1] - row <= 2:
            continue
        yield first, row + _WITH_HEADING
        first = None


def _is_heading(sheet: Worksheet, row: int, column: int) -> bool:
    cell = sheet._cells.get((row, column))
    return (
        cell is not None
        and isinstance(cell.value, str)
        and cell.data_type != "f"
        and bool(cell.font.b)
    )
