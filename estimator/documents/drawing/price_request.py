"""Draws a price request: what we say, and the cells that a supplier fills in."""

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Side
from openpyxl.utils import get_column_letter

from ...language.units import MILLIMETRES
from ...workbook.page import BRICK, FAINT, HAIRLINE, HEADED, INK, LINE, TYPED, TYPED_BOX, fill, font
from ...workbook.text_door import as_text_style
from ..price_requests.fields import (
    ASKED,
    COLUMNS,
    FILLED_IN,
    LINES,
    NUMBER,
    OTHERS,
    PRICE,
    PRICE_REQUEST,
    TERMS,
)
from .stationery import Paper

HOW = (
    "Please fill in the shaded cells only, without VAT, in figures (12.50, not £12.50 or POA), and "
    "send the workbook back. Leave blank what you do not sell. Where you sell another width, length "
    "or pack, put it under \u201cOffered instead\u201d with its own price; the words and figures we "
    "ask for stay as they are. The cells are locked against slips only, there is no password. "
    "This is a request for prices, not an order."
)
_WIDTHS = {"code": 9, "material": 17, "description": 31, "pack": 27, "packs": 8, "price": 10,
           "other_description": 27, "other_made_of": 12, "other_price": 10,
           "other_thickness": 10}  # fmt: skip
_BANDS = ((ASKED[0], "Asked for"), (PRICE.name, "Your price"), (OTHERS[0].name, "Offered instead"))


def price_request(book: Workbook) -> None:
    """The one sheet of a price request."""
    widths = {get_column_letter(n): _WIDTHS.get(c, 8.5) for n, c in enumerate(COLUMNS, 1)}
    page = Paper(book, "Prices", "Request for prices", widths, wide=True)
    page.sheet.oddFooter.left.text = "Request for prices · not an order"
    page.row = 3
    said = [c for c in PRICE_REQUEST.plan.cells.values() if c not in TERMS]
    for ours, item in zip(said, TERMS, strict=True):
        page.put("A", ours.label, font(9, colour=FAINT))
        page.put("B", f"{{{ours.name}}}", font(10, ours.name == NUMBER))
        page.put("E", item.label, font(9, colour=FAINT))
        wide = item.unit.text
        cell = page.put("G", f"{{{item.name}}}", fill=fill(TYPED), border=TYPED_BOX)
        cell.alignment = Alignment(horizontal="left", wrap_text=wide, vertical="center")
        cell.number_format = "General" if wide else item.unit.number_format
        if item.unit.sign:
            page.put("H", item.unit.sign + ", without VAT", font(9, colour=FAINT))
        page.row += 1
    page.row += 1
    page.wrapped(f"{page.first}:{page.last}", HOW, 28, font(9, colour=BRICK))
    page.row += 1
    _list(page)
    page.sheet.print_title_rows = f"{page.row - 3}:{page.row - 1}"
    page.finish(freeze=f"B{page.row}")


def _list(page: Paper) -> None:
    """Bands, labels, units, and last the one line of places."""
    sheet = page.sheet
    bands, heads, units, line = (page.row + n for n in range(4))
    for name, words in _BANDS:
        cell = sheet.cell(bands, COLUMNS.index(name) + 1, words)
        cell.font = font(9, True, INK if name in ASKED else BRICK)
        cell.alignment = Alignment(indent=1)
        for row in range(bands, line + 1):
            sheet.cell(row, cell.column).border = Border(left=Side("thin", color=INK))
    for n, column in enumerate(LINES.table, 1):
        name, typed = column.name, column in FILLED_IN
        across = "left" if column.unit.text else "right"
        ground = fill(TYPED if typed else HEADED)
        head = sheet.cell(heads, n, column.label)
        unit = sheet.cell(units, n, column.unit.sign or None if typed else None)
        cell = sheet.cell(line, n, f"{{{name}}}")
        for one in (head, unit, cell):
            indent = 1 if across == "left" or name == "packs" else 0
            one.alignment = Alignment(
                horizontal=across, vertical="center", wrap_text=one is not unit, indent=indent
            )
        head.font, unit.font = font(9, True), font(8, colour=FAINT)
        cell.font = font(9, name == "packs")
        head.fill = unit.fill = ground
        edge = sheet.cell(bands, n).border.left
        if typed and (edge is None or edge.style is None):
            edge = Side("hair", color=LINE)
        for one, under in ((unit, INK), (cell, HAIRLINE.bottom.color.rgb[-6:])):
            one.border = Border(left=edge, bottom=Side("thin", color=under))
        if typed:
            cell.fill = ground
            plain = column.unit.text or column.unit is MILLIMETRES
            shown = "General" if plain else column.unit.number_format.replace(".000", ".0##")
            cell.number_format = shown
        elif column.unit.text:
            as_text_style(cell)  # what we say stays a text, whatever it begins with
    sheet.row_dimensions[heads].height, sheet.row_dimensions[line].height = 27, 17
    page.row = line
