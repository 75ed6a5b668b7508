"""Draws the template that is shipped. Anyone may restyle the file itself; this is its origin.

Run `python -m estimator.workbook.draw_template FILE` after adding a column or a list.
"""

import sys
from collections.abc import Sequence
from pathlib import Path

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Border, Font, Side
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.styles.numbers import NumberFormat
from openpyxl.utils import get_column_letter

from ..buying.suppliers import SUPPLIER_CELLS
from ..guards import COUNTS
from ..plan import plan
from ..rules.tables import POSITION, Item, Table
from .page import BRICK, FAINT, HAIRLINE, HEADED, HEAVY, INK, LINE, Page, fill, font
from .template import GUARDS


def _whole(table: Table, *first: str) -> list[str]:
    """All columns of a list: those named first, then the rest, the guards after what is typed."""
    names = [c.name for c in table]
    typed = [c.name for c in table.inputs]
    guards = list(GUARDS) if typed else []
    rest = [n for n in names if n not in first and n not in typed]
    lead = [n for n in typed if n not in first]
    return [POSITION, *first, *lead, *guards, *rest]


CAUTION = (
    "Quantities follow the drawings and the guidance named here; they are not a design. They do not "
    "show that the work meets the Building Regulations or any warranty. Local codes, building "
    "control and a competent designer decide. A damp-proof course or membrane does not keep out "
    "water under pressure. Before cutting, digging or lifting: support, services, asbestos, silica "
    "dust and manual handling are for the person in charge of the site to assess."
)


WORKED_ONCE = (
    *("problems_typed", "problems_worked"),
    *("lacking_one", "lacking_two", "lacking_three", "lacking_four", "lacking_five"),
    *("basis_slot", "supplier_slot", "weep_step", "weep_first", "sheet_slot", "sheet_row"),
    *("sheet_preference", "cross_joints", "whole_strips", "one_piece", "weep_inserts"),
    *("weep_vents", "vat_row", "cost_factor", "price_factor", "document_word"),
    *("document_promise", "vat_sentence"),
)


def draw() -> Workbook:
    """The template, drawn anew."""
    book = Workbook()
    book.remove(book.active)
    cells = plan().cells
    tables = plan().tables
    _job(book, cells)
    _list_page(
        book,
        "Floors",
        "Floor zones",
        "One row for each rectangle of ground-bearing floor, "
        "the membrane under its slab. Shaded cells are typed; the rest is worked out.",
        tables["zones"],
        {"description": 22, "depth_note": 30},
        pages=("net_area", "measured_a_one", "sheet_a"),
    )
    _list_page(
        book,
        "Edges",
        "Edges of floor zones",
        "Every side of every zone, piece by piece: "
        "what it meets decides how far the sheet turns up.",
        tables["edges"],
        {"kind": 26, "mark": 8, "zone": 8, "side": 7, "joins": 9, "turn_up_from": 13},
        pages=("kind_row",),
    )
    _list_page(
        book,
        "Walls",
        "Wall runs",
        "A DPC lies in each leaf, on its centre line. Corners lap by the full width of the roll.",
        tables["walls"],
        {"description": 24, "measured_on": 14, "run": 8, "mark": 8},
        pages=("thickness",),
    )
    _list_page(
        book,
        "Openings",
        "Openings",
        "A tray over each, with stop ends and weeps; DPC at "
        "jambs and under sills as the kind of opening asks.",
        tables["openings"],
        {"description": 22, "wall": 8, "kind": 19, "mark": 8, "kind_note": 28},
        pages=("kind_row", "inserts", "with_sill"),
    )
    _list_page(
        book,
        "Pipes",
        "Pipes and ducts through floors",
        "A collar each, and tape round it.",
        tables["penetrations"],
        {"description": 30, "zone": 8},
    )
    _list_page(
        book,
        "Abutments",
        "Roof abutments on new walls",
        "A level tray, or stepped units up a slope. Lead flashings are by others.",
        tables["abutments"],
        {"description": 30, "wall": 12, "kind": 20},
        pages=("kind_row", "units_each"),
    )
    _allowances(book, tables, cells)
    _suppliers(book, tables)
    _list_page(
        book,
        "Prices",
        "Price book",
        "One row for each supplier and product. What this "
        "job takes of it is worked out to the right.",
        tables["book"],
        {"code": 9, "supplier": 28, "material": 14, "description": 36, "book_note": 34},
        pages=("slot", "sheet_metres", "preference", "packs_needed", "all_net"),
    )
    _list_page(
        book,
        "Layouts",
        "Sheet layouts",
        "Each zone on each stocked roll of sheet, in whole strips, both ways.",
        tables["layouts"],
        {"zone": 8, "mark": 9, "direction": 26},
        pages=("per_roll_a", "fewer_along_b", "rolls"),
    )
    _list_page(
        book,
        "Needs",
        "Needs, row by row",
        "What every row of every list needs, and the product its supplier would send.",
        tables["needs"],
        {"line": 12, "mark": 9, "material": 15},
        pages=("net", "pick", "pick_one"),
    )
    _quantities(book, tables)
    _orders(book, tables)
    _quote(book, tables, cells)
    _checks(book, tables)
    _kinds(book, tables, cells)
    _notes(book, tables)
    return book


def _list_page(
    book: Workbook,
    title: str,
    heading: str,
    intro: str,
    table: Table,
    widths: dict[str, float],
    pages: Sequence[str] = (),
) -> None:
    page = Page(book, title, heading, intro, landscape=True)
    head = page.row
    page.list(table, _whole(table), widths, pages=pages)
    page.finish(freeze=f"C{head + 2}")


def _job(book: Workbook, cells: dict[str, Item]) -> None:
    page = Page(
        book,
        "Job",
        "Damp-proofing materials",
        "Shaded cells are typed. Everything else follows from them, here and on every other sheet.",
        landscape=False,
    )
    sheet = page.sheet
    for letter, width in zip("ABC", (46, 46, 6), strict=True):
        sheet.column_dimensions[letter].width = width
    page.print_to = "C"
    page.heading("Job", "ABC")
    for name in (
        "job_title",
        "client_name",
        "site_address",
        "prepared_by",
        "quote_date",
        "quote_valid",
        "job_notes",
    ):
        page.cell_row(cells[name], "A", "B")
    sheet[f"B{page.row - 1}"].alignment = Alignment(wrap_text=True, vertical="top")
    sheet[f"A{page.row - 1}"].alignment = Alignment(vertical="top")
    sheet.row_dimensions[page.row - 1].height = 28
    page.row += 1
    page.heading("Guidance and supplier", "ABC")
    for name in ("basis_choice", "document_title", "document_binds", "supplier_choice"):
        page.cell_row(cells[name], "A", "B")
    for row in (page.row - 3, page.row - 2):
        sheet[f"B{row}"].alignment = Alignment(wrap_text=True, vertical="top")
        sheet[f"A{row}"].alignment = Alignment(vertical="top")
        sheet.row_dimensions[row].height = 28
    page.row += 1
    page.heading("How it is built", "ABC")
    for name in ("sheet_joints", "tray_joints", "weep_kind", "loose_rule", "radon_area"):
        page.cell_row(cells[name], "A", "B")
    page.row += 1
    page.heading("Price", "ABC")
    for name in (
        *("profit_rule", "profit_percent", "profit_on_delivery", "minimum_charge", "vat_status"),
        *("vat_percent", "supplier_vat_percent", "vat_reason", "client_is_householder"),
    ):
        page.cell_row(cells[name], "A", "B", "C")
    for name in (
        *("cost_total", "firm_sum", "provisional_sum", "quote_sum", "minimum_added"),
        *("quote_net", "quote_vat", "vat_accounted"),
    ):
        page.cell_row(cells[name], "A", "B", "C")
    page.cell_row(cells["quote_total"], "A", "B", "C", font(12, True))
    sheet[f"A{page.row - 1}"].font = font(12, True)
    sheet[f"B{page.row - 1}"].border = HEAVY
    page.cell_row(cells["lines_quoted"], "A", "B", "C")
    page.row += 1
    page.heading("What stands against the quote", "ABC")
    page.put("A", "{quote_state}", font(10, True, BRICK))
    page.row += 1
    for name in (
        *(c.name for c in COUNTS),
        "problem_count",
    ):
        page.cell_row(cells[name], "A", "B")
        label = sheet[f"A{page.row - 1}"]
        label.alignment = Alignment(wrap_text=True, vertical="top")
        if len(str(label.value)) > 52:
            sheet.row_dimensions[page.row - 1].height = 27
    for name in ("figures_missing", "orders_below", "lines_provisional", "open_perpends"):
        page.cell_row(cells[name], "A", "B")
    page.finish()
    sheet.page_setup.fitToHeight = 1


def _allowances(book: Workbook, tables: dict[str, Table], cells: dict[str, Item]) -> None:
    page = Page(
        book,
        "Allowances",
        "Allowances",
        "Each basis's figure side by side. An override "
        "replaces it; the job's own figure serves only where the basis states none.",
        landscape=True,
    )
    page.put("A", "Basis chosen on the Job sheet:", font(9))
    page.put("D", "{basis_choice}", font(10, True))
    page.row += 2
    table = tables["allowances"]
    stated = [c.name for c in table if c.name.startswith("stated_")]
    printed = [
        POSITION,
        "label",
        "unit",
        *stated,
        "override",
        "own",
        "in_use",
        "from_where",
        "regulatory",
        "beside_regulation",
        "clause",
        *GUARDS,
    ]
    order = [*printed, *(c.name for c in table if c.name not in printed)]
    head = page.row
    page.list(
        table,
        order,
        {
            "label": 28,
            "unit": 7,
            "from_where": 20,
            "beside_regulation": 20,
            "clause": 36,
            **dict.fromkeys(stated, 13),
        },
        inside=len(printed),
    )
    sheet = page.sheet
    column = get_column_letter(order.index("in_use") + 1)
    sheet[f"{column}{head + 2}"].font = font(10, True)
    for name in ("clause", "beside_regulation", "from_where"):
        letter = get_column_letter(order.index(name) + 1)
        sheet[f"{letter}{head + 2}"].alignment = Alignment(
            wrap_text=True, vertical="center", horizontal="left", indent=1
        )
    for name in (*stated, "regulatory", "by_basis", "override", "own", "in_use"):
        letter = get_column_letter(order.index(name) + 1)
        sheet[f"{letter}{head + 2}"].number_format = "General"
    sheet.row_dimensions[head + 2].height = 25
    warn = get_column_letter(order.index("beside_regulation") + 1)
    sheet.conditional_formatting.add(
        f"{warn}{head + 2}",
        FormulaRule([f'{warn}{head + 2}<>""'], font=Font(color=BRICK, bold=True)),
    )
    page.finish(freeze=f"C{head + 2}")


def _suppliers(book: Workbook, tables: dict[str, Table]) -> None:
    page = Page(
        book,
        "Suppliers",
        "Suppliers and wastage",
        "Up to five suppliers. The wastage of "
        "each, material by material, is set in the second list.",
        landscape=True,
    )
    page.list(
        tables["suppliers"],
        _whole(tables["suppliers"]),
        {"name": 27, "order_note": 24, "all_note": 20},
    )
    page.widened = frozenset(get_column_letter(n) for n in range(1, 30))
    page.heading("Wastage, in percent, by material and supplier", "ABCDEFGHIJ")
    page.put(
        "B",
        "Suppliers are numbered as in the list above. Whole strips and pieces carry no "
        "percentage unless the switch is 1; trays cut in one piece never do.",
        font(9, colour=FAINT, italic=True),
    )
    page.row += 2
    table = tables["materials"]
    for n, name in enumerate(SUPPLIER_CELLS):
        page.put(
            get_column_letter(4 + n),
            f"{{{name}}}",
            font(8, bold=True),
            alignment=Alignment(wrap_text=True, horizontal="right", vertical="bottom"),
        )
    page.sheet.row_dimensions[page.row].height = 36
    page.row += 1
    lead = ["label", *(c.name for c in table.inputs)]
    order = [POSITION, *lead, *GUARDS, *(c.name for c in table if c.name not in lead)]
    page.list(table, order, inside=len(lead) + 3)
    page.finish()


def _checks(book: Workbook, tables: dict[str, Table]) -> None:
    page = Page(
        book,
        "Checks",
        "Detail checks",
        "What was given, what is asked, and who asks. A check compares; it does not show that "
        "anything is in order with regulations or a warranty.",
        landscape=True,
    )
    printed = [POSITION, "label", "state", "found", "asked", "unit", "asked_by", "regulatory",
               "regulation_note", "reason"]  # fmt: skip
    widths: dict[str, float] = {"label": 36, "state": 15, "unit": 6, "asked_by": 40, "reason": 28}
    widths |= {"regulation_note": 24, "stops": 7}
    for name in ("checks", "product_checks"):
        table = tables[name]
        page.heading(table.title, "ABCDEFGHIJK")
        rest = [c.name for c in table if c.name not in printed]
        rest.sort(key=lambda n: n != "stops")
        page.list(table, [*printed, *rest, *GUARDS], widths, inside=11)
        page.widened = frozenset("ABCDEFGHIJK")
        _check_line(page, page.row - 2, stops=name == "checks")
    page.finish()


def _check_line(page: Page, line: int, stops: bool) -> None:
    sheet = page.sheet
    sheet.row_dimensions[line].height = 26
    for letter in "BCGIJ":
        sheet[f"{letter}{line}"].alignment = Alignment(
            wrap_text=True, vertical="center", horizontal="left", indent=1
        )
    for letter in "DEH":
        sheet[f"{letter}{line}"].number_format = "0"
    sheet[f"C{line}"].font = font(9, bold=True)
    for state in ("short", "not given"):
        sheet.conditional_formatting.add(
            f"C{line}", FormulaRule([f'C{line}="{state}"'], font=Font(color=BRICK, bold=True))
        )
    if stops:
        sheet.conditional_formatting.add(
            f"K{line}", FormulaRule([f"K{line}=1"], font=Font(color="FFFFFF"), fill=fill(BRICK))
        )


def _quantities(book: Workbook, tables: dict[str, Table]) -> None:
    page = Page(
        book,
        "Quantities",
        "Quantities",
        "Net is measured as fixed; laid adds laps and "
        "turn-ups; ordered adds wastage and fills whole packs.",
        landscape=True,
    )
    page.list(
        tables["totals"],
        [POSITION, "label", "net", "laid", "ordered", "unit", "cost", "key"],
        {"label": 30, "unit": 8, "net": 12, "laid": 14, "ordered": 12},
        inside=7,
    )
    _counts_whole(page, page.row - 2, "F", "CDE")
    page.widened = frozenset("ABCDEFG")
    page.heading("Line by line, and where each is bought", "ABCDEFGHI")
    page.row += 1
    table = tables["lines"]
    printed = [
        *(POSITION, "label", "net", "laps", "uncovered", "unit", "stage_no", "supplier", "status"),
        *("standing", "line_note", *GUARDS),
    ]
    order = [*printed, *(c.name for c in table if c.name not in printed)]
    widths: dict[str, float] = {"supplier": 30, "line_note": 36, "status": 12, "standing": 12}
    page.list(table, order, widths, inside=len(printed))
    _counts_whole(page, page.row - 2, "F", "CD")
    page.finish()


def _counts_whole(page: Page, row: int, unit: str, columns: str) -> None:
    """Where the unit is a number of things, show no decimals."""
    for column in columns:
        rule = FormulaRule([f'${unit}{row}="nr"'])
        rule.dxf = DifferentialStyle(numFmt=NumberFormat(numFmtId=198, formatCode="0"))
        page.sheet.conditional_formatting.add(f"{column}{row}", rule)
        page.sheet[f"{column}{row}"].number_format = "#,##0.00"


def _orders(book: Workbook, tables: dict[str, Table]) -> None:
    page = Page(
        book,
        "Orders",
        "Order lists",
        "What to order from whom, what of it will be laid, and what will be left.",
        landscape=True,
    )
    table = tables["order_lines"]
    printed = [
        POSITION,
        "heading",
        "code",
        "description",
        "packs",
        "counted_how",
        "content",
        "unit",
        "net",
        "laid",
        "ordered",
        "left",
        "first_use",
        "price",
        "cost",
    ]
    order = [*printed, *(c.name for c in table if c.name not in printed)]
    page.list(
        table,
        order,
        {
            "heading": 30,
            "code": 9,
            "description": 38,
            "unit": 6,
            "packs": 7,
            "first_use": 19,
            "counted_how": 9,
        },
        inside=len(printed),
    )
    line = page.row - 2
    _counts_whole(page, line, "H", "GIJKL")
    page.sheet[f"B{line}"].font = font(10, True, BRICK)
    _rule_above(page, line, "B", "O", "D")
    page.finish()


def _rule_above(page: Page, row: int, key: str, last: str, filled: str) -> None:
    """Hairlines under the lines in use only, and a line above the first row of each group."""
    for column in range(1, page.sheet[f"{last}1"].column + 1):
        page.sheet.cell(row, column).border = Border()
    page.sheet.conditional_formatting.add(
        f"A{row}:{last}{row}",
        FormulaRule(
            [f'AND(${filled}{row}<>"",${key}{row}="")'],
            border=Border(top=Side("hair", color=LINE)),
        ),
    )
    page.sheet.conditional_formatting.add(
        f"A{row}:{last}{row}",
        FormulaRule([f'${key}{row}<>""'], border=Border(top=Side("thin", color=INK))),
    )


def _quote(book: Workbook, tables: dict[str, Table], cells: dict[str, Item]) -> None:
    page = Page(book, "Quote", "{document_word}", "Damp-proofing materials", landscape=False)
    sheet = page.sheet
    for letter, width in zip("ABCDEF", (19, 41, 8, 11, 8, 12), strict=True):
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
    order = [*printed, POSITION, *(c.name for c in table if c.name not in printed)]
    page.list(table, order, inside=len(printed))
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
    scope = tables["scope_lines"]
    printed = ["standing", "counted", "net", "unit"]
    page.list(
        scope,
        [*printed, None, None, POSITION, *(c.name for c in scope if c.name not in printed)],
        inside=6,
    )
    sheet.row_dimensions[page.row - 4].height = 20
    line = page.row - 2
    for letter in "ABCDEFG":
        sheet[f"{letter}{line}"].border = Border()
    sheet[f"C{line}"].number_format = "#,##0.00"
    sheet.row_dimensions[line].height = 12
    stopped = tables["overrides"]
    page.list(
        stopped, ["gone_on", "reason", None, None, None, None, POSITION, "check_row"], inside=6
    )
    sheet.row_dimensions[page.row - 4].height = 20
    for column in "ABGH":
        sheet[f"{column}{page.row - 2}"].border = Border()
    for name, height in (("document_promise", 15), ("vat_sentence", 25), ("vat_reason", 13)):
        page.wrapped("A:F", f"{{{name}}}", height)
    page.wrapped(
        "A:F",
        "Each line is rounded to the penny, and VAT once on the sum. The price covers the supply "
        "of the materials listed, in the packs their suppliers sell. It does not cover labour, "
        "lead flashings, tanking, chimneys, injected damp-proofing or temporary works.",
        26,
    )
    page.wrapped("A:F", CAUTION, 48, font(8, colour=FAINT))
    page.finish()


def _kinds(book: Workbook, tables: dict[str, Table], cells: dict[str, Item]) -> None:
    page = Page(
        book,
        "Kinds",
        "Kinds",
        "What each kind of edge, line and opening means to the "
        "rules. These lists are read by formulas; they are not for typing.",
        landscape=True,
    )
    widths: dict[str, dict[str, float]] = {"bases": {"name": 30, "title": 26, "binds": 26}}
    for name in (
        "bases",
        "edge_kinds",
        "measuring_lines",
        "opening_kinds",
        "abutment_kinds",
        "stages",
        "vat_statuses",
    ):
        table = tables[name]
        page.heading(table.title, "ABCDEFG")
        page.row += 1
        page.list(table, _whole(table), widths.get(name))
        if name == "bases":
            line = page.row - 2
            for letter in "CD":
                page.sheet[f"{letter}{line}"].alignment = Alignment(wrap_text=True, vertical="top")
            page.sheet.row_dimensions[line].height = 62
        page.widened = frozenset(get_column_letter(n) for n in range(1, 12))
    page.heading("Worked out once for the whole job", "ABCDEFG")
    for name in WORKED_ONCE:
        page.cell_row(cells[name], "B", "C")
    page.print_to = "H"
    page.finish()


def _notes(book: Workbook, tables: dict[str, Table]) -> None:
    page = Page(book, "Notes", "Notes and sources", "", landscape=True)
    for letter, width in zip("ABCDEFG", (5, 28, 18, 14, 52, 50, 11), strict=True):
        page.sheet.column_dimensions[letter].width = width
    page.widened = frozenset("ABCDEFG")
    page.row = 2
    page.wrapped("A:G", CAUTION, 44)
    page.wrapped(
        "A:G",
        "Sheet is laid in whole strips; rolls are counted for whole strips, so their "
        "need is at most that number. DPC and trays are joined roll to roll, each "
        "change of roll costing one lap. Openings are not deducted from the DPC of a "
        "wall. Wastage is added where the Suppliers sheet says that it applies. Layout "
        "version 1. Formulas were recalculated in LibreOffice and Gnumeric; Excel was "
        "not available to the project and was not run.",
        44,
    )
    page.wrapped(
        "A:G",
        '"read": seen in the document. "reported": seen in a page that '
        'reports it. "memory": known, but the clause was not in front of us; confirm it '
        "in the document.",
        16,
    )
    page.row += 1
    page.heading("What each basis says", "ABCDEFG")
    page.row += 1
    table = tables["sources"]
    order = [POSITION, "label", "basis", "value", "says", "source", "standing"]
    page.list(table, order)
    line = page.row - 2
    for letter in "ABCDEFG":
        page.sheet[f"{letter}{line}"].alignment = Alignment(wrap_text=True, vertical="top")
    page.sheet.row_dimensions[line].height = 26
    page.finish()


if __name__ == "__main__":
    draw().save(Path(sys.argv[1]))
