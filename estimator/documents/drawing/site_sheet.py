"""Draws the sheet for site: to be printed, ticked and signed by hand, or filled in on a screen."""

from copy import copy

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Protection, Side

from ...model.plan import HOLD_BLOCKS
from ...workbook.drawing.site import NOTICES, OLD_WALL
from ...workbook.page import BRICK, FAINT, HEADED, INK, fill, font
from .stationery import BETWEEN, MIDDLE, MONEY, RIGHT, Paper

TICKS = (
    "Tick each thing when it has been seen as it should be, and sign and date it. Something that is "
    "not as it should be is written beside it, and put right before it is covered."
)
STANDINGS = (
    "By others: somebody else's to supply and do; excluded: not part of this work; either is looked "
    "at all the same before it is covered. Provisional: not settled yet, so ask before it is done."
)
_COLUMNS = {"A": 4, "B": 8, "C": 48, "D": 9.5, "E": 6, "F": 11, "G": 18, "H": 13}


def site(book: Workbook) -> None:
    """The one sheet for site."""
    page = Paper(book, "Site", "Hold points", _COLUMNS)
    page.replacing()
    page.gap(4)
    for label, name in (
        *(("Work", "job_title"), ("Site", "site_address"), ("Nation", "site_nation")),
        *(("From", "prepared_by"), ("Date", "quote_date"), ("Revision", "revision_mark")),
    ):
        page.put("A", label, font(9, colour=FAINT))
        page.words("C:H", f"{{{name}}}", font(10), 14)
    page.gap(4)
    page.words("A:H", NOTICES)
    page.words("A:H", TICKS)
    page.words("A:H", STANDINGS)
    page.words("A:H", OLD_WALL, font(9, colour=BRICK))
    page.part("gas_area", lambda: page.words("A:H", "{gas_note}", font(9, colour=BRICK)))
    for name, table, cells in HOLD_BLOCKS:
        page.listing(
            table,
            lambda name=name, cells=cells: _head(page, name, cells),  # type: ignore[misc]
            lambda: _line(page),
            17,
        )
    page.finished()


def _head(page: Paper, name: str, cells: tuple[str, ...]) -> None:
    page.gap(7)
    for letter in page.columns:
        page.sheet[f"{letter}{page.row}"].fill = fill(HEADED)
        page.sheet[f"{letter}{page.row}"].border = Border(top=Side("thin", color=INK))
    page.put("A", f"{name[:1].upper()}{name[1:]}", font(11, True, BRICK), fill=fill(HEADED))
    for letter, label in (("G", "Seen by"), ("H", "Date")):
        page.put(letter, label, font(9, True), fill=fill(HEADED))
    page.sheet.row_dimensions[page.row].height = 18
    page.row += 1
    faces = (font(9), font(9, True), font(8, colour=FAINT))
    for label, cell, face in zip(("Look for", "Tell", "Source"), cells, faces, strict=True):
        page.put("A", label, font(9, colour=FAINT), alignment=Alignment(vertical="center"))
        page.words("C:H", f"{{{cell}}}", face)


def _line(page: Paper) -> None:
    row, edge = page.row, Side("thin", color=INK)
    page.sheet[f"A{row}"].border = Border(top=edge, bottom=edge, left=edge, right=edge)
    page.across("B:C", "{what}", font(10))
    page.sheet[f"B{row}"].alignment = Alignment(
        horizontal="left", wrap_text=True, vertical="center", indent=1
    )
    page.put("D", "{quantity}", font(10), number_format=MONEY, alignment=copy(RIGHT))
    page.put(
        "E", "{unit}", font(10), alignment=Alignment(horizontal="left", vertical="center", indent=1)
    )
    page.whole_where_counted(f"D{row}", f"E{row}")
    page.put("F", "{standing}", font(9, True, BRICK), alignment=copy(MIDDLE))
    for letter in "BCDEFGH":
        page.sheet[f"{letter}{row}"].border = BETWEEN
    for letter in "AGH":
        page.sheet[f"{letter}{row}"].protection = Protection(locked=False)
        page.sheet[f"{letter}{row}"].alignment = copy(MIDDLE)
