"""Draws the one-page form: the questions, what is assumed until it is known, what is still open."""

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Font

from ..form.answers import INPUTS
from ..rules.tables import POSITION, Item, Table
from .page import BRICK, FAINT, Page, font
from .template import GUARDS

_HEADINGS = {
    "extension_width": "Size and build-up",
    "extension_finished": "Levels, on the drawing's datum",
    "extension_old_wall": "The house it is built against",
    "extension_roof": "Roof",
    "extension_doors": "Openings",
}


def form(book: Workbook, tables: dict[str, Table], cells: dict[str, Item]) -> None:
    """The form, for an extension of one room against one wall of a house."""
    page = Page(
        book,
        "Form",
        "An extension on one page",
        "For one room against one wall of a house. The answers fill rows in every list (marks X...). "
        "What is typed in a list always wins; nothing is overwritten. Leave all blank not to use it.",
        landscape=False,
    )
    sheet = page.sheet
    for letter, width in zip("ABCDEF", (42, 40, 7, 11, 12, 40), strict=True):
        sheet.column_dimensions[letter].width = width
    page.widened = frozenset("ABCDEF")
    for item in INPUTS:
        if item.name in _HEADINGS:
            page.row += 1
            page.heading(_HEADINGS[item.name], "ABC")
        page.cell_row(item, "A", "B", "C")
    page.put(
        "A",
        "Guidance, supplier, and whether radon or gas is present: on the Job sheet.",
        font(9, colour=FAINT, italic=True),
    )
    page.row += 2
    page.heading("Assumed until typed", "ABCDEF")
    table = tables["assumed"]
    printed = ["label", "figure_typed", "unit", "figure_in_use", "state", "says"]
    rest = [c.name for c in table if c.name not in printed]
    page.list(table, [*printed, POSITION, *GUARDS, *rest], inside=6)
    line = page.row - 2
    for letter in "BD":
        sheet[f"{letter}{line}"].number_format = "General"
    sheet.conditional_formatting.add(
        f"E{line}", FormulaRule([f'E{line}="assumed"'], font=Font(color=BRICK, bold=True))
    )
    page.heading("Still to be measured or found out", "ABCDEF")
    table = tables["open_questions"]
    page.list(table, ["label", "find_out", "open", None, None, None, POSITION, "key"], inside=6)
    line = page.row - 2
    sheet[f"B{line}"].alignment = Alignment(wrap_text=True, vertical="center", indent=1)
    sheet.row_dimensions[line].height = 26
    sheet.conditional_formatting.add(
        f"A{line}:C{line}", FormulaRule([f"$C{line}>0"], font=Font(color=BRICK, bold=True))
    )
    page.finish()
