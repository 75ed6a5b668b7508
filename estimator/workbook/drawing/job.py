"""Draws the first sheet: the job, and beside it what stands against its quote."""

from openpyxl import Workbook
from openpyxl.styles import Alignment

from ...checks.counts import COUNTS as CHECK_COUNTS
from ...language.tables import IN_USE, Item
from ...pricing.refusals import COUNTS
from ..page import BRICK, FAINT, HEAVY, PAPER, Page, font

_TOP = Alignment(vertical="top", wrap_text=True)


def job(book: Workbook, cells: dict[str, Item]) -> None:
    """The particulars to the left, the counts to the right, on one page."""
    page = Page(
        book,
        "Job",
        "Damp-proofing materials",
        "Shaded cells are typed. Everything else follows from them, here and on every other sheet.",
        landscape=True,
    )
    sheet = page.sheet
    for letter, width in zip("ABCDEF", (30, 46, 4, 14, 64, 16), strict=True):
        sheet.column_dimensions[letter].width = width
    page.print_to = "F"
    first = page.row
    _particulars(page, cells)
    last = page.row
    page.row = first
    _against(page, cells)
    page.row = max(page.row, last)
    page.finish(high=1)


def _particulars(page: Page, cells: dict[str, Item]) -> None:
    sheet = page.sheet
    page.heading("Job", "ABC")
    for name in (
        *("job_title", "client_name", "site_address", "prepared_by", "quote_date", "quote_valid"),
        "job_notes",
    ):
        page.cell_row(cells[name], "A", "B")
    _tall(page, page.row - 1)
    page.row += 1
    page.heading("Guidance and supplier", "ABC")
    for name in (
        *("basis_choice", "document_title", "document_binds", "site_nation", "supplier_choice"),
    ):
        page.cell_row(cells[name], "A", "B")
    for row in (page.row - 4, page.row - 3):
        _tall(page, row)
    page.row += 1
    page.heading("How it is built", "ABC")
    for name in ("sheet_joints", "tray_joints", "weep_kind", "loose_rule", "radon_area"):
        page.cell_row(cells[name], "A", "B")
    page.row += 1
    page.heading("Price", "ABC")
    for name in (
        *("profit_rule", "profit_percent", "profit_on_delivery", "profit_on_work"),
        *("minimum_charge", "vat_status", "vat_percent", "supplier_vat_percent", "vat_reason"),
        "client_is_householder",
    ):
        page.cell_row(cells[name], "A", "B", "C")
        if IN_USE + name in cells:
            _as_read(page, page.row - 1, IN_USE + name)
    page.row += 1
    page.heading("The sum", "ABC")
    for name in (
        *("cost_total", "work_sum", "firm_sum", "provisional_sum", "quote_sum", "minimum_added"),
        *("quote_net", "quote_vat", "vat_accounted"),
    ):
        page.cell_row(cells[name], "A", "B", "C")
        page.quiet_where_missing(f"B{page.row - 1}")
    page.cell_row(cells["quote_total"], "A", "B", "C", font(12, True))
    page.quiet_where_missing(f"B{page.row - 1}")
    sheet[f"A{page.row - 1}"].font = font(12, True)
    sheet[f"B{page.row - 1}"].border = HEAVY
    page.cell_row(cells["checks_say"], "A", "B")
    _tall(page, page.row - 1)
    sheet[f"A{page.row - 1}"].font = font(9, True)
    sheet[f"B{page.row - 1}"].font = font(9, True)
    page.stand_out(f"B{page.row - 1}", "checks_asking>0")
    page.cell_row(cells["lines_quoted"], "A", "B", "C")


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


def _against(page: Page, cells: dict[str, Item]) -> None:
    page.heading("What stands against the quote", "EF")
    page.put("E", "{quote_state}", font(10, True, BRICK))
    page.row += 1
    for name in (*(c.name for c in COUNTS), "figures_missing", "problem_count"):
        _count(page, cells[name])
        page.stand_out(f"E{page.row - 1}:F{page.row - 1}", f"$F{page.row - 1}>0")
    page.sheet[f"E{page.row - 1}"].font = page.sheet[f"F{page.row - 1}"].font = font(9, True)
    page.row += 1
    page.heading("What the checks ask", "EF")
    for name in (*(c.name for c in CHECK_COUNTS), "checks_asking"):
        _count(page, cells[name])
    page.row += 1
    page.heading("What is known, and what is not yet", "EF")
    for name in (
        *("answers_typed", "answers_blank", "figures_assumed", "questions_open"),
        *("wastages_blank", "orders_below", "lines_provisional", "work_provisional"),
        "open_perpends",
    ):
        _count(page, cells[name])
    page.row += 1
    page.heading("Issued", "EF")
    page.put("E", "{issue_state}", font(9, True))
    page.stand_out(f"E{page.row}", f"ABS($F{page.row + 4})>0.004")
    page.row += 1
    for name in ("last_issued", "last_issued_on", "last_issued_total", "moved_since"):
        _count(page, cells[name])
        page.quiet(f"F{page.row - 1}", f"ISNA(F{page.row - 1})", PAPER)  # nothing issued yet
    _count(page, cells["last_issue_no"])


def _count(page: Page, item: Item) -> None:
    """A count, faint where it is 0."""
    page.cell_row(item, "E", "F", face=font(9))
    row = page.row - 1
    page.sheet[f"E{row}"].font = font(9)
    page.sheet[f"E{row}"].alignment = Alignment(horizontal="left", vertical="center")
    page.sheet[f"F{row}"].alignment = Alignment(horizontal="right", vertical="center")
    page.quiet(f"E{row}:F{row}", f"$F{row}=0")
