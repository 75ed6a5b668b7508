"""Draws the first sheet: price and what is to be fixed, the job, the questions, what is still open."""

from openpyxl import Workbook
from openpyxl.styles import Alignment

from ...checks.counts import COUNTS as CHECK_COUNTS
from ...language.tables import FAULT, IN_USE, POSITION, Item, Table
from ...pricing.refusals import COUNTS
from ...questionnaire.answers import INPUTS
from ..page import BRICK, FAINT, HAIRLINE, HEAVY, Page, font
from .quote import CAUTION

_COLUMNS = "ABCDEF"
_TOP = Alignment(vertical="top", wrap_text=True)
_FORM = {
    "extension_width": "Size and build-up",
    "extension_finished": "Levels, on the drawing's datum",
    "extension_old_wall": "The house it is built against",
    "extension_roof": "Roof",
    "extension_doors": "Openings",
}
_METHOD = (
    "Sheet is laid in whole strips; rolls are counted for whole strips, so their need is at most that "
    "number. DPC and trays are joined roll to roll, each change of roll costing one lap. Openings are "
    "not deducted from the DPC of a wall. Wastage is added where the list of materials says that it "
    "applies. Everything is worked out on hidden sheets, one for each list (names that begin with "
    "e_): unhide them to follow a figure. Formulas were recalculated in LibreOffice and Gnumeric; "
    "Excel was not available to the project and was not run."
)
_STANDING = (
    '"read": seen in the document. "reported": seen in a page that reports it. "memory": known, but '
    "the clause was not in front of us; confirm it in the document."
)


def start(book: Workbook, tables: dict[str, Table], cells: dict[str, Item]) -> None:
    """All that is typed once for the job, and how far it is from a price."""
    page = Page(
        book,
        "Start",
        "Damp-proofing materials",
        "Shaded cells are typed. Everything else follows from them, here and on every other sheet.",
        landscape=False,
    )
    for letter, width in zip(_COLUMNS, (46, 46, 7, 12, 14, 56), strict=True):
        page.sheet.column_dimensions[letter].width = width
    page.widened = frozenset("ABCDEFGH")
    _price(page, cells)
    _to_fix(page, tables["to_fix"])
    _particulars(page, cells)
    _form(page, cells)
    _assumed(page, tables["assumed"])
    _open(page, tables["open_questions"])
    _sum(page, cells)
    _counts(page, cells)
    page.heading("About these figures", _COLUMNS)
    for words, height in ((CAUTION, 52), (_METHOD, 52), (_STANDING, 16)):
        page.wrapped("A:F", words, height)
    page.print_to = "F"
    page.finish()


def _price(page: Page, cells: dict[str, Item]) -> None:
    sheet = page.sheet
    page.cell_row(cells["quote_total"], "A", "B", "C", font(14, True))
    sheet[f"A{page.row - 1}"].font = font(14, True)
    sheet[f"B{page.row - 1}"].border = HEAVY
    sheet.row_dimensions[page.row - 1].height = 22
    for name in ("quote_state", "checks_say"):
        page.put("A", f"{{{name}}}", font(10, name == "quote_state", BRICK))
        page.row += 1
    page.row += 1


def _to_fix(page: Page, table: Table) -> None:
    page.heading(f"{table.title}; nothing, where this is blank", _COLUMNS)
    line = page.row
    page.put("A", "{where}", font(9, True, BRICK))
    page.put("B", "{says}", font(9))
    page.sheet.row_dimensions[line].height = 12
    page.name_row("to_fix_line", "A", "F", line)
    page.row += 2


def _particulars(page: Page, cells: dict[str, Item]) -> None:
    for heading, names in (
        (
            "Job",
            (
                *("job_title", "client_name", "site_address", "prepared_by", "quote_date"),
                *("quote_valid", "job_notes"),
            ),
        ),
        (
            "Guidance and supplier",
            ("basis_choice", "document_title", "document_binds", "site_nation", "supplier_choice"),
        ),
        (
            "How it is built",
            ("sheet_joints", "tray_joints", "weep_kind", "loose_rule", "radon_area"),
        ),
        (
            "Price",
            (
                *("profit_rule", "profit_percent", "profit_on_delivery", "profit_on_work"),
                *("minimum_charge", "vat_status", "vat_percent", "supplier_vat_percent"),
                *("vat_reason", "client_is_householder"),
            ),
        ),
    ):
        page.heading(heading, _COLUMNS)
        for name in names:
            page.cell_row(cells[name], "A", "B", "C")
            if name in ("job_notes", "document_title", "document_binds"):
                _tall(page, page.row - 1)
            if IN_USE + name in cells:
                _as_read(page, page.row - 1, IN_USE + name)
        page.row += 1


def _as_read(page: Page, row: int, name: str) -> None:
    """The percentage that is read, beside the cell in which it was typed."""
    cell = page.sheet[f"D{row}"]
    cell.value, cell.font = f"{{{name}}}", font(9, colour=FAINT)
    cell.number_format = '"read as "0.0##" %"'
    cell.alignment = Alignment(horizontal="left", vertical="center")


def _tall(page: Page, row: int) -> None:
    """Two lines for what may be long."""
    sheet = page.sheet
    sheet[f"A{row}"].alignment = sheet[f"B{row}"].alignment = _TOP
    sheet[f"B{row}"].font = font(9)
    sheet.row_dimensions[row].height = 28


def _form(page: Page, cells: dict[str, Item]) -> None:
    """The questions, for an extension of one room against one wall of a house."""
    page.heading("The form: an extension in a few answers", _COLUMNS)
    page.wrapped(
        "A:F",
        "For one room against one wall of a house. Answer what you know; leave blank what you do not. "
        "The answers fill rows in every list (marks X...); what you type in a list always wins, and "
        "nothing you typed is overwritten. Leave all blank not to use them.",
        26,
        font(9, colour=FAINT, italic=True),
    )
    for item in INPUTS:
        if item.name in _FORM:
            page.put("A", _FORM[item.name], font(10, True))
            page.row += 1
        page.cell_row(item, "A", "B", "C", font(9 if item.unit.text else 10))
        page.row -= 1
        page.put("D", item.help or None, font(8, colour=FAINT))
        page.row += 1
    page.row += 1


def _assumed(page: Page, table: Table) -> None:
    """What is assumed until a figure is typed."""
    sheet = page.sheet
    page.heading("Assumed until you type your own", _COLUMNS)
    order = ["label", "figure_typed", "unit", "figure_in_use", "state", "says", POSITION, FAULT]
    page.list(table, order, inside=6)
    line = page.row - 2
    for name in ("figure_typed", "figure_in_use"):
        sheet.cell(line, order.index(name) + 1).number_format = "General"
    for letter in "FGH":
        sheet[f"{letter}{line}"].font = font(8, colour=FAINT)
    page.stand_out(f"E{line}", f'E{line}="assumed"')


def _open(page: Page, table: Table) -> None:
    """What is still to be found out, and how."""
    sheet = page.sheet
    page.heading("Still to be measured or found out", _COLUMNS)
    line = page.row
    for letter, name in zip("ABD", ("label", "open", "find_out"), strict=True):
        page.put(letter, f"{{{name}}}", font(9), border=HAIRLINE)
    sheet[f"B{line}"].number_format = "0"
    sheet[f"B{line}"].alignment = Alignment(horizontal="left")
    page.name_row("open_questions_line", "A", "F", line)
    page.stand_out(f"A{line}:F{line}", f"N($B{line})>0")
    page.quiet(f"A{line}:F{line}", f"N($B{line})=0")
    page.row += 2


def _sum(page: Page, cells: dict[str, Item]) -> None:
    page.heading("The sum", _COLUMNS)
    for name in (
        *("cost_total", "work_sum", "firm_sum", "provisional_sum", "quote_sum", "minimum_added"),
        *("quote_net", "quote_vat", "vat_accounted", "lines_quoted"),
    ):
        page.cell_row(cells[name], "A", "B", "C")
    page.row += 1


def _counts(page: Page, cells: dict[str, Item]) -> None:
    page.heading("What stands against the quote", _COLUMNS)
    for name in (*(c.name for c in COUNTS), "figures_missing", "problem_count"):
        _count(page, cells[name])
        page.stand_out(f"A{page.row - 1}:B{page.row - 1}", f"N($B{page.row - 1})>0")
    page.row += 1
    page.heading("What the checks ask", _COLUMNS)
    for name in (*(c.name for c in CHECK_COUNTS), "checks_asking"):
        _count(page, cells[name])
    page.row += 1
    page.heading("What is known, and what is not yet", _COLUMNS)
    for name in (
        *("answers_typed", "answers_blank", "figures_assumed", "questions_open"),
        *("wastages_blank", "orders_below", "lines_provisional", "work_provisional"),
        "open_perpends",
    ):
        _count(page, cells[name])
    page.row += 1
    page.heading("Issued", _COLUMNS)
    page.put("A", "{issue_state}", font(9, True))
    page.stand_out(f"A{page.row}", "ABS(N(moved_since))>0.004")
    page.row += 1
    for name in (
        *("last_issued", "last_issued_on", "last_issued_total", "moved_since", "last_issue_no"),
    ):
        _count(page, cells[name])
    page.row += 1


def _count(page: Page, item: Item) -> None:
    """A count, faint where it is 0."""
    page.cell_row(item, "A", "B", face=font(9))
    row = page.row - 1
    page.sheet[f"A{row}"].font = font(9)
    page.sheet[f"B{row}"].alignment = Alignment(horizontal="left", vertical="center")
    page.quiet(f"A{row}:B{row}", f"N($B{row})=0")
