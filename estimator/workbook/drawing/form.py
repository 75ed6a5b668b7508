"""Draws the one-page form: the questions, what is assumed until it is known, what is still open."""

from copy import copy

from openpyxl import Workbook
from openpyxl.styles import Alignment

from ...language.tables import GUARDS, POSITION, Item, Table
from ...questionnaire.answers import INPUTS
from ..page import BRICK, FAINT, HAIRLINE, HEADED, Page, fill, font

_COLUMNS = "ABCDEF"
_COUNTED = ("answers_typed", "answers_blank", "figures_assumed", "questions_open")
_HEADINGS = {
    "extension_width": "Size and build-up",
    "extension_finished": "Levels, on the drawing's datum",
    "extension_old_wall": "The house it is built against",
    "extension_roof": "Roof",
    "extension_doors": "Openings",
}


def form(book: Workbook, tables: dict[str, Table], cells: dict[str, Item]) -> None:
    """The form, for an extension of one room against one wall of a house."""
    page = Page(book, "Form", "An extension on one page", "", landscape=False)
    page.titles = False
    sheet = page.sheet
    for letter, width in zip("ABCDEF", (35, 36, 6, 10, 11, 43), strict=True):
        sheet.column_dimensions[letter].width = width
    page.widened = frozenset("ABCDEF")
    page.row = 2
    page.wrapped(
        "A:F",
        "For one room against one wall of a house. Answer what you know; leave blank what you do not. "
        "The answers fill rows in every list (marks X...); what you type in a list always wins, and "
        "nothing you typed is overwritten. Leave all blank not to use the form.",
        26,
        font(9, colour=FAINT, italic=True),
    )
    _so_far(page, cells)
    page.row += 1
    for item in INPUTS:
        if item.name in _HEADINGS:
            page.row += int(item.name != next(iter(_HEADINGS)))
            page.heading(_HEADINGS[item.name], _COLUMNS)
        page.cell_row(item, "A", "B", "C", font(9 if item.unit.text else 10))
        page.row -= 1
        page.put("D", item.help or None, font(8, colour=FAINT))
        page.row += 1
    page.put(
        "A",
        "Guidance, supplier, and whether radon or gas is present: on the Job sheet.",
        font(9, colour=FAINT, italic=True),
    )
    page.row += 2
    _assumed(page, tables["assumed"])
    _open(page, tables["open_questions"])
    page.finish(high=1)


def _so_far(page: Page, cells: dict[str, Item]) -> None:
    """How far the form is filled in, in one line of counts."""
    for letter, name in zip("ABDF", _COUNTED, strict=True):
        page.put(letter, cells[name].label, font(8, colour=FAINT))
        cell = page.sheet[f"{letter}{page.row + 1}"]
        cell.value, cell.font = f"{{{name}}}", font(12, True, BRICK)
        cell.alignment, cell.number_format = Alignment(horizontal="left"), "0"
    page.row += 2


def _assumed(page: Page, table: Table) -> None:
    """What is assumed until a figure is typed."""
    sheet = page.sheet
    page.heading("Assumed until you type your own", _COLUMNS)
    printed = ["label", "figure_typed", "unit", "figure_in_use", "state", "says"]
    rest = [c.name for c in table if c.name not in printed]
    order = [*printed, POSITION, *GUARDS, *rest]
    page.list(table, order, inside=6)
    line = page.row - 2
    # A formula may be shown in the format of the cell it reads: all of them plain.
    for name in ("figure_typed", "figure_in_use", "figure"):
        sheet.cell(line, order.index(name) + 1).number_format = "General"
    page.stand_out(f"E{line}", f'E{line}="assumed"')


def _open(page: Page, table: Table) -> None:
    """What is still to be found out, and how."""
    sheet = page.sheet
    page.heading("Still to be measured or found out", _COLUMNS)
    page.list(table, ["label", None, "open", "find_out", None, None, POSITION, "key"], inside=6)
    line = page.row - 2
    for row, ground in ((line - 2, HEADED), (line - 1, HEADED)):
        for letter in "BEF":
            sheet[f"{letter}{row}"].fill = fill(ground)
            sheet[f"{letter}{row}"].border = copy(sheet[f"A{row}"].border)
    for letter in "BEF":
        sheet[f"{letter}{line}"].border = HAIRLINE
    sheet[f"C{line}"].number_format = "0"
    page.stand_out(f"A{line}:F{line}", f"$C{line}>0")
    page.quiet(f"A{line}:F{line}", f"$C{line}=0")
