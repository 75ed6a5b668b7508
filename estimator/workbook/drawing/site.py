"""Draws the sheet for site: hold points in site order, what is counted at each, cautions."""

from copy import copy

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Side
from openpyxl.utils import get_column_letter

from ...language.tables import FAULT, POSITION, Table
from ...model.plan import HOLD_BLOCKS
from ..page import BRICK, FAINT, HEADED, INK, LINE, Page, fill, font

OLD_WALL = (
    "Before an old wall is cut into. Support: lintels, needles or props may be needed, and cutting is "
    "done in short bays. Fill: an old cavity may hold loose fill that runs out. Services: cables and "
    "pipes may be buried anywhere. Asbestos: old soffits, boards, flues and textured coatings may "
    "hold it; nothing is broken out before that is known. Dust: cutting brick and mortar frees silica; "
    "water or extraction, and masks that fit. All of this is for the person in charge of the site to "
    "decide, and where a licence is needed for those who hold it. Nothing here is a method statement."
)
NOTICES = (
    "Who is to be told, and when, is a reminder: confirm every line with your building control body "
    "before work starts. Nothing is covered before it has been seen, or before the time allowed for a "
    "visit is over. Quantities are net, as measured."
)
_COLUMNS = "ABCDEF"


def site(book: Workbook, tables: dict[str, Table]) -> None:
    """The sheet for site, to be printed and written on."""
    page = Page(book, "Site", "Hold points", "", landscape=False)
    sheet = page.sheet
    for letter, width in zip(_COLUMNS, (10, 66, 10, 6, 20, 15), strict=True):
        sheet.column_dimensions[letter].width = width
    page.widened = frozenset(get_column_letter(n) for n in range(1, 27))
    page.row = 2
    for label, name in (("Work", "job_title"), ("Site", "site_address"), ("Nation", "site_nation")):
        page.put("A", label, font(9, colour=FAINT))
        page.put("B", f"{{{name}}}", font(10))
        page.row += 1
    page.wrapped("A:F", NOTICES, 26)
    page.wrapped("A:F", OLD_WALL, 50, font(9, colour=BRICK))
    page.wrapped("A:F", "{gas_note}", 26, font(9, colour=BRICK))
    for number, (name, table, cells) in enumerate(HOLD_BLOCKS, 1):
        _hold_point(page, f"{number}. {name[:1].upper()}{name[1:]}", cells)
        _counted(page, tables[table])
    printed_to = page.row - 1
    page.row += 1
    page.heading("Your own words for a notice (not printed)", _COLUMNS)
    holds = tables["hold_points"]
    page.list(holds, ["name", "own_notice", None, None, None, None, POSITION, FAULT], inside=6)
    for letter in "AB":
        cell = sheet[f"{letter}{page.row - 2}"]
        cell.alignment = Alignment(wrap_text=True, vertical="center")
    sheet.row_dimensions[page.row - 2].height = 38
    page.print_to = "F"
    page.finish(last_row=printed_to, high=2)


def _hold_point(page: Page, heading: str, cells: tuple[str, ...]) -> None:
    sheet = page.sheet
    for letter, label in zip(_COLUMNS, (heading, None, None, None, "Seen by", "Date"), strict=True):
        cell = page.put(letter, label, font(9, True), fill=fill(HEADED))
        cell.border = Border(top=Side("thin", color=INK))
    sheet[f"A{page.row}"].font = font(11, True, BRICK)
    sheet.row_dimensions[page.row].height = 18
    page.row += 1
    faces = (font(9), font(9, True), font(8, colour=FAINT))
    for label, name, face, height in zip(
        ("Look for", "Tell", None), cells, faces, (26, 26, 22), strict=True
    ):
        page.put("A", label, font(9, colour=FAINT), alignment=Alignment(vertical="top"))
        sheet.merge_cells(f"B{page.row}:F{page.row}")
        page.put(
            "B", f"{{{name}}}", copy(face), alignment=Alignment(wrap_text=True, vertical="top")
        )
        sheet.row_dimensions[page.row].height = height
        page.row += 1


def _counted(page: Page, table: Table) -> None:
    """One line of places, without labels: the lines are to be written on."""
    sheet, line = page.sheet, page.row
    places = {"B": "what", "C": "quantity", "D": "unit"}
    for letter, name in places.items():
        page.put(letter, f"{{{name}}}", font(9), alignment=Alignment(vertical="center"))
    for letter in "BCDEF":
        sheet[f"{letter}{line}"].border = Border(bottom=Side("hair", color=LINE))
    sheet[f"C{line}"].number_format = "#,##0.00"
    sheet[f"C{line}"].alignment = Alignment(horizontal="right", vertical="center")
    page.whole_where_counted(f"C{line}", f"D{line}")
    sheet.row_dimensions[line].height = 14
    page.name_row(f"{table.name}_line", "A", "F", line)
    page.row += 1
