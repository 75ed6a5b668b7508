"""Draws the sheet for site: hold points in site order, what is counted at each, cautions."""

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Border, Side
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat

from ..rules.tables import POSITION, Table
from .page import BRICK, FAINT, INK, LINE, Page, font
from .template import GUARDS

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
    "before work starts. A period may run in working days. Nothing is covered before it has been seen, "
    "or before the time allowed for a visit is over. Quantities are net, as measured."
)
_INSPECTED = ("Seen by", "Date")


def site(book: Workbook, tables: dict[str, Table]) -> None:
    """The sheet for site, to be printed and written on."""
    page = Page(book, "Site", "Hold points", "", landscape=True)
    sheet = page.sheet
    for letter, width in zip("ABCDEFGH", (20, 54, 9, 6, 38, 34, 15, 11), strict=True):
        sheet.column_dimensions[letter].width = width
    page.widened = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    page.row = 2
    for label, name in (("Work", "job_title"), ("Site", "site_address"), ("In", "site_nation")):
        page.put("A", label, font(9, colour=FAINT))
        page.put("B", f"{{{name}}}", font(10))
        page.row += 1
    page.wrapped("A:H", NOTICES, 26, font(9))
    page.wrapped("A:H", OLD_WALL, 50, font(9, colour=BRICK))
    table = tables["site_lines"]
    printed = ["hold_point", "what", "quantity", "unit", "to_tell", "says_so"]
    head = page.row
    rest = [c.name for c in table if c.name not in printed]
    page.list(table, [*printed, None, None, POSITION, *rest], inside=8)
    for letter, label in zip("GH", _INSPECTED, strict=True):
        donor = sheet[f"A{head}"]
        for row, value in ((head, label), (head + 1, None)):
            cell = sheet[f"{letter}{row}"]
            cell.value, cell.font, cell.fill = value, donor.font.copy(), donor.fill.copy()
            cell.alignment = donor.alignment.copy()
            cell.border = sheet[f"A{row}"].border.copy()
    sheet.row_dimensions[head].height = 20
    _line(page, head + 2)
    printed_to = page.row
    page.row += 1
    page.heading("Your own words for a notice (not printed)", "ABCDEFGH")
    holds = tables["hold_points"]
    order = ["name", "own_notice", *GUARDS, POSITION]
    page.list(holds, [*order, *(c.name for c in holds if c.name not in order)], inside=4)
    sheet[f"B{page.row - 2}"].alignment = Alignment(wrap_text=True, vertical="center")
    sheet.row_dimensions[page.row - 2].height = 26
    page.print_to = "H"
    page.finish(last_row=printed_to - 1)


def _line(page: Page, line: int) -> None:
    """Heights are left to the host: a hold point needs several lines, what is counted one."""
    sheet = page.sheet
    sheet.row_dimensions[line].height = None
    for letter in "ABCDEFGH":
        cell = sheet[f"{letter}{line}"]
        cell.alignment = Alignment(
            wrap_text=letter not in "CD",
            vertical="top",
            horizontal="right" if letter == "C" else "left",
        )
        cell.border = Border(bottom=Side("hair", color=LINE))
    sheet[f"A{line}"].font = font(10, True, BRICK)
    sheet[f"B{line}"].font = sheet[f"E{line}"].font = font(9, colour=INK)
    sheet[f"F{line}"].font = font(8, colour=FAINT)
    sheet[f"C{line}"].number_format = "#,##0.00"
    area = f"A{line}:H{line}"
    nothing = FormulaRule([f'$D{line}=""'])
    nothing.dxf = DifferentialStyle(numFmt=NumberFormat(numFmtId=199, formatCode='"";"";"";""'))
    sheet.conditional_formatting.add(f"C{line}", nothing)
    whole = FormulaRule([f'$D{line}="nr"'])
    whole.dxf = DifferentialStyle(numFmt=NumberFormat(numFmtId=198, formatCode="0"))
    sheet.conditional_formatting.add(f"C{line}", whole)
    sheet.conditional_formatting.add(
        area, FormulaRule([f'$A{line}<>""'], border=Border(top=Side("thin", color=INK)))
    )
