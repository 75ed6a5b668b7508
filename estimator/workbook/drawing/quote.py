"""Draws the quote, as the client will see it."""

from copy import copy

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Border, Side

from ...language.tables import Item, Table
from ..page import BRICK, FAINT, HAIRLINE, HEADED, HEAVY, INK, LINE, Page, fill, font

_COLUMNS = "ABCDEF"
_BETWEEN = Border(top=Side("hair", color=LINE))
_ABOVE = Border(top=Side("thin", color=INK))
CAUTION = (
    "Quantities follow the drawings and the guidance named here; they are not a design. They do not "
    "show that the work meets the Building Regulations or any warranty. Local codes, building "
    "control and a competent designer decide. A damp-proof course or membrane does not keep out "
    "water under pressure. Before cutting, digging or lifting: support, services, asbestos, silica "
    "dust and manual handling are for the person in charge of the site to assess."
)


def _rule_above(page: Page, row: int, key: str, last: str, filled: str) -> None:
    """Hairlines under the lines in use only, and a line above the first row of each group."""
    for column in range(1, page.sheet[f"{last}1"].column + 1):
        page.sheet.cell(row, column).border = Border()
    page.sheet.conditional_formatting.add(
        f"A{row}:{last}{row}",
        FormulaRule(
            [f'AND(${filled}{row}<>"",${key}{row}="")'],
            border=_BETWEEN,
        ),
    )
    page.sheet.conditional_formatting.add(
        f"A{row}:{last}{row}",
        FormulaRule([f'${key}{row}<>""'], border=_ABOVE),
    )


def quote(book: Workbook, tables: dict[str, Table], cells: dict[str, Item]) -> None:
    """The quote, as the client sees it."""
    page = Page(book, "Quote", "{document_word}", "Damp-proofing materials", landscape=False)
    sheet = page.sheet
    for letter, width in zip("ABCDEF", (24, 50, 9, 10, 13, 13), strict=True):
        sheet.column_dimensions[letter].width = width
    page.widened = frozenset("ABCDEF")
    page.row = 3
    for label, name in (
        ("Guidance", "document_title"),
        ("For", "client_name"),
        ("Site", "site_address"),
        ("Work", "job_title"),
        ("Date", "quote_date"),
        ("Valid", "quote_valid"),
        ("From", "prepared_by"),
    ):
        page.put("A", label, font(9, colour=FAINT))
        page.put("B", f"{{{name}}}", font(10))
        page.row += 1
    page.row += 1
    for label, name, face in (
        ("{vat_total_label}", "quote_total", font(14, True)),
        ("before VAT", "quote_net", font(10)),
        ("VAT", "quote_vat", font(10)),
    ):
        for column in "ABCDEF":
            sheet[f"{column}{page.row}"].fill = fill(HEADED)
        page.put("A", label, face, fill=fill(HEADED))
        sheet.merge_cells(f"E{page.row}:F{page.row}")
        page.put(
            "E",
            f"{{{name}}}",
            face,
            fill=fill(HEADED),
            number_format='"£"#,##0.00',
            alignment=Alignment(horizontal="right"),
        )
        sheet.row_dimensions[page.row].height = 22 if face.size == 14 else 16
        page.row += 1
    page.put("A", "{quote_warning}", font(9, True, BRICK))
    page.row += 2
    table = tables["quote_lines"]
    printed = ["heading", "item", "quantity", "counted_in", "status", "amount"]
    page.list(table, printed)
    line = page.row - 2
    sheet[f"A{line}"].font = font(10, True, BRICK)
    for letter in "BCDF":
        sheet[f"{letter}{line}"].font = font(10)
    sheet.row_dimensions[line].height = 14
    sheet.row_dimensions[line - 2].height = 22
    _rule_above(page, line, "A", "F", "B")
    page.row -= 1
    for label, name in (
        ("Firm lines, £", "firm_sum"),
        ("Provisional lines, £", "provisional_sum"),
        ("To the minimum charge, £", "minimum_added"),
        ("Sum without VAT, £", "quote_net"),
        ("VAT, £", "quote_vat"),
        ("{vat_total_label}", "quote_total"),
        ("VAT to be accounted for by the customer, £", "vat_accounted"),
    ):
        total = name == "quote_total"
        sheet.merge_cells(f"E{page.row}:F{page.row}")
        page.put("B", label, font(10, total), alignment=Alignment(horizontal="right"))
        page.put(
            "E",
            f"{{{name}}}",
            font(10, total),
            number_format="#,##0.00;-#,##0.00;–",
            alignment=Alignment(horizontal="right"),
        )
        for letter in "EF":
            sheet[f"{letter}{page.row}"].border = HEAVY if total else HAIRLINE
        page.row += 1
    page.row += 1
    for name, height in (
        *(("document_promise", 14), ("price_covers", 25), ("vat_sentence", 14)),
        *(("vat_reason", 13), ("assumed_note", 26), ("gas_note", 26)),
    ):
        page.wrapped("A:F", f"{{{name}}}", height)
    page.row += 1
    _scope(page, tables)
    stopped = tables["overrides"]
    page.list(stopped, ["gone_on", "reason", None, None, None, None], inside=6)
    _small(page, page.row - 2, _COLUMNS, 11.5)
    page.wrapped(
        "A:F",
        "Each line is rounded to the penny, and VAT once on the sum. Quantities in the scope are "
        "net: as measured, without laps and wastage.",
        25,
    )
    page.wrapped("A:F", CAUTION, 48, font(8, colour=FAINT))
    page.finish(high=2)


def _scope(page: Page, tables: dict[str, Table]) -> None:
    """What is in, by others, excluded; and what this document is not about."""
    scope = tables["scope_lines"]
    printed = ["scope", "counted", "net", "unit"]
    page.list(
        scope,
        [*printed, None, None],
        inside=6,
    )
    _small(page, page.row - 2, _COLUMNS, 11.5)
    page.sheet[f"C{page.row - 2}"].number_format = "#,##0.00"
    page.whole_where_counted(f"C{page.row - 2}", f"D{page.row - 2}")
    page.row -= 1
    out = tables["out_of_scope"]
    page.list(out, ["name", "words", None, None, None, None], inside=6)
    _small(page, page.row - 2, _COLUMNS, 11.5)


def _small(page: Page, line: int, letters: str, height: float) -> None:
    """Small print under a low heading, without rules."""
    sheet = page.sheet
    for letter in letters:
        cell = sheet[f"{letter}{line}"]
        cell.border, cell.font = Border(), font(8)
        across = cell.alignment
        cell.alignment = Alignment(
            horizontal=across.horizontal, indent=across.indent, vertical="bottom"
        )
    sheet.row_dimensions[line].height = height
    for letter in letters[:6]:
        for row in (line - 2, line - 1):
            sheet[f"{letter}{row}"].fill = fill(HEADED)
            sheet[f"{letter}{row}"].border = copy(sheet[f"A{row}"].border)
    sheet.row_dimensions[line - 2].height = 20
    sheet.row_dimensions[line - 1].height = 10
