"""Draws the order list of one supplier."""

from copy import copy

from openpyxl import Workbook
from openpyxl.styles import Alignment

from ...workbook.page import FAINT, font
from .stationery import BETWEEN, MIDDLE, RIGHT, Paper

CONDITIONS = (
    "Please confirm the products, their pack sizes, and the day of delivery before anything is sent. "
    "Nothing is to be put in the place of a product listed here without our word: widths and "
    "thicknesses matter. This list carries no prices; they are as agreed between us."
)
CONTENT = "#,##0.00#"  # a bag of 25 kg holds 0.025 t
_COLUMNS = {"A": 4, "B": 11, "C": 38, "D": 7, "E": 9.5, "F": 5.5, "G": 36}


def order(book: Workbook) -> None:
    """The one sheet of an order list."""
    page = Paper(book, "Order", "Order list", _COLUMNS)
    page.replacing()
    page.gap()
    for label, name, asked in (
        ("To", "supplier_name", "Our order no."),
        ("From", "prepared_by", "Deliver on"),
        ("Deliver to", "site_address", "Contact on site"),
        ("Job", "job_title", None),
        ("Date", "quote_date", None),
        ("Revision", "revision_mark", None),
    ):
        page.put("A", label, font(9, colour=FAINT))
        if asked:
            page.put("E", asked, font(9, colour=FAINT))
            page.to_fill_in(f"G{page.row}")
        page.words("C:D", f"{{{name}}}", font(10), 15)
    page.gap()
    labels = {"A": "No.", "B": "Code", "C": "Product", "D": "Packs", "E": "Each holds", "G": "For"}
    page.labels(labels, right="DE")
    page.sheet.print_title_rows = f"{page.row - 1}:{page.row - 1}"
    places = ("position", "code", "description", "packs", "content", "unit", "used_for")
    row = page.row
    for letter, place in zip(_COLUMNS, places, strict=True):
        cell = page.put(letter, f"{{{place}}}", font(10), alignment=copy(MIDDLE))
        cell.border = BETWEEN
    page.sheet[f"A{row}"].font = font(8, colour=FAINT)
    page.sheet[f"A{row}"].alignment = Alignment(horizontal="left", vertical="center")
    page.sheet[f"D{row}"].font = font(11, True)
    page.sheet[f"F{row}"].alignment = Alignment(horizontal="left", vertical="center", indent=1)
    page.sheet[f"G{row}"].font = font(9)
    for letter, shown in (("D", "0"), ("E", CONTENT)):
        page.sheet[f"{letter}{row}"].number_format = shown
        page.sheet[f"{letter}{row}"].alignment = copy(RIGHT)
    page.whole_where_counted(f"E{row}", f"F{row}")
    page.sheet.row_dimensions[row].height = 15
    page.area("order_lines_line", row, row)
    page.row += 1
    page.gap()
    page.words("A:G", CONDITIONS)
    page.finished()
