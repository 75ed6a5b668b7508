"""Where a printed page ends: never under a heading, nor between the last line and its sums, and not so
that the last page is nearly empty.

A sheet that is to be one page wide is given its scale in percent, because page breaks are not
kept by every program beside "fit to width".
"""

from openpyxl.utils import range_boundaries
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from ..workbook.page_breaks import USUAL_WIDTH, widths

_A4 = (8.27, 11.69)  # inches, ISO 216
_LARGEST, _SMALLEST = 100, 50  # percent
_RESERVE = 0.96  # of a page: programs differ by a little in widths and heights
_USUAL_HEIGHT = 12.75  # points
_KEPT = 95  # points: a heading that near to the end of a page goes to the next
_FULL = 0.5  # of a page: where the last holds less, blocks go over to it from the page before


def set_pages(sheet: Worksheet) -> None:
    """Scale and page breaks for a sheet that is one page wide on A4; others are left alone."""
    setup = sheet.page_setup
    fits = sheet.sheet_properties.pageSetUpPr
    if not (fits and fits.fitToPage and setup.fitToWidth in (1, None) and setup.fitToHeight == 0):
        return
    if str(setup.paperSize) != "9" or not sheet.print_area:
        return
    left, top, right, bottom = range_boundaries(sheet.print_area.split("!")[-1])
    wide, high = _A4[::-1] if setup.orientation == "landscape" else _A4
    margins = sheet.page_margins
    room = (wide - margins.left - margins.right) * _RESERVE
    units = widths(sheet)
    inches = sum((7 * units.get(n, USUAL_WIDTH) + 5) / 96 for n in range(left, right + 1))
    scale = max(_SMALLEST, min(_LARGEST, int(100 * room / inches)))
    fits.fitToPage = False
    setup.scale, setup.fitToWidth, setup.fitToHeight = scale, None, None
    page = (high - margins.top - margins.bottom) * 72 * 100 / scale * _RESERVE
    for row in breaks(sheet, top, bottom, page):
        sheet.row_breaks.append(Break(id=row - 1))


def breaks(sheet: Worksheet, top: int, bottom: int, page: float) -> list[int]:
    """The rows that begin a page, where a page is so many points high."""
    titles = _height(sheet, _title_rows(sheet))
    found, used, start = [], 0.0, top
    row = top
    while row <= bottom:
        high = _height(sheet, range(row, row + 1))
        if used + high > page and row > start:
            start = row = _before_heading(sheet, start, row)
            found.append(row)
            used = titles
            continue
        used += high
        row += 1
    return _balanced(sheet, top, bottom, page - titles, found)


def _balanced(sheet: Worksheet, top: int, bottom: int, page: float, begins: list[int]) -> list[int]:
    """The same with the last page begun at the heading that makes it and the page before most alike."""
    if not begins or _height(sheet, range(begins[-1], bottom + 1)) >= _FULL * page:
        return begins
    *earlier, last = begins
    start = earlier[-1] if earlier else top

    def apart(row: int) -> float:
        return abs(_height(sheet, range(start, row)) - _height(sheet, range(row, bottom + 1)))

    blocks = [
        row
        for row in range(start + 1, last)
        if _is_heading(sheet, row) and _height(sheet, range(row, bottom + 1)) <= page
    ]
    return [*earlier, min([last, *blocks], key=apart)]


def _before_heading(sheet: Worksheet, start: int, row: int) -> int:
    """The row, or one above it where a heading or a line would be cut off from what it belongs to."""
    while row > start + 1 and sheet.cell(row, 1).value is None and sheet.cell(row, 2).value is None:
        row -= 1  # sums stay with the last line above them
    kept, at = 0.0, row - 1
    while at > start and kept < _KEPT:
        kept += _height(sheet, range(at, at + 1))
        if _is_heading(sheet, at):
            return at
        at -= 1
    return row


def _is_heading(sheet: Worksheet, row: int) -> bool:
    face = sheet.cell(row, 1).font
    return bool(face.bold and (face.size or 0) >= 11 and sheet.cell(row, 1).value)


def _title_rows(sheet: Worksheet) -> range:
    first, _, last = (sheet.print_title_rows or "").replace("$", "").partition(":")
    return range(int(first), int(last) + 1) if last else range(0)


def _height(sheet: Worksheet, rows: range) -> float:
    return sum(sheet.row_dimensions[r].height or _USUAL_HEIGHT for r in rows)
