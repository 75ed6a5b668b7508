"""Draws the sheets of the template that stand behind the figures: allowances, suppliers, checks, kinds, notes."""

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter

from ...buying.suppliers import SUPPLIER_CELLS
from ...language.tables import GUARDS, POSITION, Item, Table
from ...model.plan import bases
from ..blocks import all_columns, bands
from ..page import BRICK, FAINT, Page, fill, font
from .quote import CAUTION

WORKED_ONCE = (
    *("problems_typed", "problems_worked"),
    *("lacking_one", "lacking_two", "lacking_three", "lacking_four", "lacking_five"),
    *("regulation_no", "laxer_said", "short_said"),
    *("basis_slot", "supplier_slot", "weep_step", "weep_first", "sheet_slot", "sheet_row"),
    *("sheet_preference", "cross_joints", "whole_strips", "one_piece", "weep_inserts"),
    *("weep_vents", "vat_row", "cost_factor", "price_factor", "document_word"),
    *("gas_mode", "sheet_material", "weeps_in_all"),
    *("extension_asked", "wall_build_no", "floor_build_no", "roof_build_no", "pitch_needed"),
    *("tray_wanted", "openings_wanted", "extension_thickness", "extension_outside"),
    *("new_dpc_unknown", "new_dpc_by_height", "own_dpc_height", "bearing_assumed"),
    *("closer_assumed", "extension_dpc", "doors_width", "front_wall", "tie_height"),
    *("document_promise", "vat_sentence", "price_covers", "nation_slot", "lines_before_work"),
    *("percentage_base", "base_provisional", "sums_set_aside", "allowances_assumed"),
)


def allowances(book: Workbook, tables: dict[str, Table], cells: dict[str, Item]) -> None:
    """The allowances, basis beside basis."""
    page = Page(
        book,
        "Allowances",
        "Allowances",
        "Each basis's figure side by side. An override "
        "replaces it; the job's own figure serves only where the basis states none; where the job "
        "has none either, common practice is assumed and what rests on it is provisional.",
        landscape=True,
    )
    page.put("A", "Basis chosen on the Job sheet:", font(9))
    page.put("D", "{basis_choice}", font(10, True))
    page.row += 1
    page.put("A", "Regulatory figures by:", font(9))
    page.put("D", "{regulation_title}", font(9))
    page.row += 2
    table = tables["allowances"]
    stated = [f"stated_{n}" for n in range(1, len(bases()) + 1)]  # a firm's own stand further right
    printed = [
        POSITION,
        "label",
        "unit",
        *stated,
        "override",
        "own",
        "in_use",
        "from_where",
        "common",
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
    for name in (*stated, "common", "regulatory", "by_basis", "override", "own", "in_use"):
        letter = get_column_letter(order.index(name) + 1)
        sheet[f"{letter}{head + 2}"].number_format = "General"
    sheet.row_dimensions[head + 2].height = 25
    warn = get_column_letter(order.index("beside_regulation") + 1)
    sheet.conditional_formatting.add(
        f"{warn}{head + 2}",
        FormulaRule([f'{warn}{head + 2}<>""'], font=Font(color=BRICK, bold=True)),
    )
    page.finish(freeze=f"C{head + 2}")


def suppliers(book: Workbook, tables: dict[str, Table]) -> None:
    """The suppliers and their wastage."""
    page = Page(
        book,
        "Suppliers",
        "Suppliers and wastage",
        "Up to five suppliers. The wastage of "
        "each, material by material, is set in the second list.",
        landscape=True,
    )
    page.titles = False
    order = all_columns(tables["suppliers"])
    page.list(
        tables["suppliers"],
        order,
        {"name": 27, "order_note": 24, "all_note": 20},
        bands=bands(tables["suppliers"], order),
    )
    page.widened = frozenset(get_column_letter(n) for n in range(1, 30))
    page.heading("Wastage, in percent, by material and supplier", "ABCDEFGHIJKLMNO")
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
            get_column_letter(4 + 2 * n),
            f"{{{name}}}",
            font(8, bold=True),
            alignment=Alignment(wrap_text=True, horizontal="right", vertical="bottom"),
        )
    page.sheet.row_dimensions[page.row].height = 36
    page.row += 1
    beside = [n for c in table.inputs for n in dict.fromkeys((c.name, table.in_use(c.name)))]
    lead = ["label", *beside]
    order = [POSITION, *lead, *GUARDS, *(c.name for c in table if c.name not in lead)]
    page.list(table, order, inside=len(lead) + 3)
    page.finish(high=1)


def checks(book: Workbook, tables: dict[str, Table]) -> None:
    """The detail checks."""
    page = Page(
        book,
        "Checks",
        "Detail checks",
        "What was given, what is asked, and who asks. A check compares; it does not show that "
        "anything is in order with regulations or a warranty.",
        landscape=True,
    )
    page.put("A", "Regulatory figures by:", font(9))
    page.put("C", "{regulation_title}", font(9))
    page.row += 2
    printed = [POSITION, "label", "state", "assumed", "found", "asked", "unit", "asked_by", "regulatory",
               "regulation_note", "reason"]  # fmt: skip
    widths: dict[str, float] = {"label": 36, "state": 15, "unit": 6, "asked_by": 54, "reason": 28}
    widths |= {"regulation_note": 24, "stops": 7, "assumed": 14}
    for name in ("checks", "product_checks"):
        table = tables[name]
        page.heading(table.title, "ABCDEFGHIJKL")
        rest = [c.name for c in table if c.name not in printed]
        rest.sort(key=lambda n: n != "stops")
        free = [] if rest[0] == "stops" else [None]  # products stop nothing
        page.list(table, [*printed, *free, *rest, *GUARDS], widths, inside=12)
        page.widened = frozenset("ABCDEFGHIJKL")
        _check_line(page, page.row - 2, stops=name == "checks")
    page.finish()


def _check_line(page: Page, line: int, stops: bool) -> None:
    sheet = page.sheet
    sheet.row_dimensions[line].height = 26
    for letter in "BCHJK":
        sheet[f"{letter}{line}"].alignment = Alignment(
            wrap_text=True, vertical="center", horizontal="left", indent=1
        )
    for letter in "EFI":
        sheet[f"{letter}{line}"].number_format = "General"  # 149.6 is not shown as the 150 asked
    sheet[f"D{line}"].number_format = '"(assumed "General")"'
    sheet[f"C{line}"].font = font(9, bold=True)
    for state in ("short", "not given"):
        sheet.conditional_formatting.add(
            f"C{line}", FormulaRule([f'C{line}="{state}"'], font=Font(color=BRICK, bold=True))
        )
    if stops:
        sheet.conditional_formatting.add(
            f"L{line}", FormulaRule([f"L{line}=1"], font=Font(color="FFFFFF"), fill=fill(BRICK))
        )


def kinds(book: Workbook, tables: dict[str, Table], cells: dict[str, Item]) -> None:
    """The lists of kinds, and what is worked out once."""
    page = Page(
        book,
        "Kinds",
        "Kinds",
        "What each kind of edge, line and opening means to the "
        "rules. These lists are read by formulas; they are not for typing.",
        landscape=False,
    )
    page.titles = False  # each list has labels of its own
    widths: dict[str, dict[str, float]] = {"bases": {"name": 34, "title": 26, "binds": 26}}
    for name in (
        "bases",
        "floor_kinds",
        "edge_kinds",
        "feature_kinds",
        "measuring_lines",
        "opening_kinds",
        "abutment_kinds",
        "old_wall_kinds",
        "cut_in_kinds",
        "tray_unit_kinds",
        "stages",
        "vat_statuses",
        "nations",
        "work_kinds",
        "measures",
        "wall_builds",
        "floor_builds",
        "roof_builds",
        "questions",
    ):
        table = tables[name]
        page.heading(table.title, "ABCDEFG")
        page.row += 1
        page.list(table, all_columns(table), widths.get(name))
        if name == "bases":
            line = page.row - 2
            for letter in "CD":
                page.sheet[f"{letter}{line}"].alignment = Alignment(wrap_text=True, vertical="top")
            page.sheet.row_dimensions[line].height = 62
        page.widened = frozenset(get_column_letter(n) for n in range(1, 12))
    page.heading("Worked out once for the whole job", "ABCDEFG")
    for name in WORKED_ONCE:
        page.cell_row(cells[name], "B", "C")
    page.print_to = "L"
    page.finish()


def notes(book: Workbook, tables: dict[str, Table]) -> None:
    """Cautions, method and sources."""
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
        "wall. Wastage is added where the Suppliers sheet says that it applies. "
        "Formulas were recalculated in LibreOffice and Gnumeric; Excel was "
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


def places(book: Workbook, tables: dict[str, Table]) -> None:
    """Where each list stands; not printed but for its first page."""
    page = Page(
        book,
        "Places",
        "Where each list stands",
        "Read when the workbook comes back, so that rows and columns may be moved. Not for typing.",
        landscape=False,
    )
    head = page.row
    page.list(
        tables["places"], [POSITION, "list", "column", "stands_at"], {"list": 30, "column": 30}
    )
    page.finish(last_row=head + 1, freeze=f"A{head + 2}")
