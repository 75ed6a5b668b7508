"""Draws the template that is shipped. Anyone may restyle the file itself; this is its origin.

Run `python -m estimator.workbook.draw_template FILE` after adding a column or a list.
"""

import sys
from collections.abc import Sequence
from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Alignment

from ..guards import COUNTS
from ..plan import plan
from ..rules.tables import Item, Table
from . import draw_background, draw_form, draw_quote, draw_site
from .page import BRICK, HEAVY, Page, all_columns, font


def draw() -> Workbook:
    """The template, drawn anew."""
    book = Workbook()
    book.remove(book.active)
    cells = plan().cells
    tables = plan().tables
    _job(book, cells)
    draw_form.form(book, tables, cells)
    _list_page(
        book,
        "Floors",
        "Floor zones",
        "One row for each rectangle of floor; its build-up says in which order the layers lie. "
        "Shaded cells are typed; the rest is worked out.",
        tables["zones"],
        {"description": 22, "build_up": 31, "depth_note": 30, "separating_layer": 10},
        pages=(
            "void",
            "floor_row",
            "bed",
            "turned_up",
            "reach_a_one",
            "blinding_loose",
            "opposite_a",
        ),
    )
    _list_page(
        book,
        "Edges",
        "Edges of floor zones",
        "Every side of every zone, piece by piece: "
        "what it meets decides how far the sheet turns up.",
        tables["edges"],
        {"kind": 26, "mark": 8, "zone": 8, "side": 7, "joins": 9, "turn_up_from": 13},
        pages=("kind_row", "rise", "facing"),
    )
    _list_page(
        book,
        "Features",
        "Floor features",
        "Thickenings, under which the sheet dips; partitions built off the slab, on their own DPC; "
        "piers, columns and re-entrant corners, with a preformed corner or patch each.",
        tables["floor_features"],
        {"mark": 8, "zone": 8, "kind": 23, "along": 8},
        pages=("kind_row",),
    )
    _list_page(
        book,
        "Walls",
        "Wall runs",
        "A DPC lies in each leaf, on its centre line. Corners lap by the full width of the roll.",
        tables["walls"],
        {
            "description": 24,
            "measured_on": 14,
            "run": 8,
            "mark": 8,
            "step_by": 11,
            "inner_of": 13,
            "party_wall": 9,
            "base_tray": 9,
        },
        pages=("dpc_height", "thickness", "steps_agree", "corners", "with_base_tray"),
    )
    _list_page(
        book,
        "Openings",
        "Openings",
        "A tray over each, with stop ends and weeps; DPC at "
        "jambs and under sills as the kind of opening asks.",
        tables["openings"],
        {"description": 22, "wall": 8, "kind": 19, "mark": 8, "kind_note": 28, "lintel_tray": 10},
        pages=("kind_row", "inserts", "jambs_asked", "with_sill", "threshold_girth"),
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
        "A level tray, or stepped units up a slope. Lead, soakers and sealant are counted, by others.",
        tables["abutments"],
        {"description": 30, "wall": 12, "kind": 20},
        pages=("kind_row", "unit_legs", "units_each", "slope_length"),
    )
    _list_page(
        book,
        "Units",
        "Preformed units in level trays",
        "Corners, T-junctions, level steps and penetrations: the straight tray laps each leg.",
        tables["tray_units"],
        {"description": 26, "abutment": 12, "kind": 14},
        pages=("units",),
    )
    _list_page(
        book,
        "Parapets",
        "Parapets",
        "A DPC under the coping, as wide as the wall and held over the cavity, and a tray above "
        "the roof.",
        tables["parapets"],
        {"description": 26, "wall": 8, "note": 26},
        pages=("thickness", "trays"),
    )
    _list_page(
        book,
        "Existing",
        "Existing walls, and trays cut into them",
        "What is known of the house that stands, and what is opened up in it.",
        tables["old_walls"],
        {"description": 26, "kind": 16, "note": 40},
    )
    _list_page(
        book,
        "CutIns",
        "Trays cut into existing walls",
        "Above a new roof, or over a new opening: whole bricks, opened in bays, odd ones first. "
        "Solid, stone or unknown: no count, a provisional sum.",
        tables["cut_ins"],
        {"description": 26, "wall": 9, "kind": 18, "note": 40},
        pages=("wall_row", "bays"),
    )
    _list_page(
        book,
        "TieIns",
        "Tie-ins of new walls to existing ones",
        "Vertical DPC and a movement joint at each end of a run that meets an existing wall.",
        tables["tie_ins"],
        {"wall": 9},
    )
    _list_page(
        book,
        "OldVents",
        "Existing air bricks carried through",
        "A new solid floor must not stop the air under an old one.",
        tables["old_vents"],
        {"description": 26, "wall": 9},
        pages=("wall_row",),
    )
    draw_background.allowances(book, tables, cells)
    draw_background.suppliers(book, tables)
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
        "Work",
        "Labour, plant, preliminaries and fees",
        "Your own hours, rates and sums: none is shipped. Type what each costs you; a line may "
        "follow anything that is counted on the job.",
        tables["work_lines"],
        {
            "description": 38,
            "kind": 15,
            "way": 14,
            "wired_to": 26,
            "work_note": 34,
        },
        pages=("kind_row", "measure_row"),
    )
    for cell in next(book["Work"].iter_rows(min_row=6, max_row=6)):
        if cell.value == "{figure}":  # pounds, hours or percent: as it was typed
            cell.number_format = "#,##0.00##"
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
    draw_quote.quantities(book, tables)
    draw_quote.orders(book, tables)
    draw_quote.quote(book, tables, cells)
    draw_site.site(book, tables)
    draw_background.checks(book, tables)
    draw_background.kinds(book, tables, cells)
    draw_background.notes(book, tables)
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
    page.list(table, all_columns(table), widths, pages=pages)
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
    for name in (
        *("basis_choice", "document_title", "document_binds", "site_nation", "supplier_choice"),
    ):
        page.cell_row(cells[name], "A", "B")
    for row in (page.row - 4, page.row - 3):
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
        *("profit_rule", "profit_percent", "profit_on_delivery", "profit_on_work"),
        *("minimum_charge", "vat_status", "vat_percent", "supplier_vat_percent", "vat_reason"),
        "client_is_householder",
    ):
        page.cell_row(cells[name], "A", "B", "C")
    for name in (
        *("cost_total", "work_sum", "firm_sum", "provisional_sum", "quote_sum", "minimum_added"),
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
    for name in ("answers_typed", "figures_assumed", "answers_blank", "questions_open"):
        page.cell_row(cells[name], "A", "B")
    for name in (
        *("figures_missing", "orders_below", "lines_provisional", "work_provisional"),
        "open_perpends",
    ):
        page.cell_row(cells[name], "A", "B")
    page.finish()
    sheet.page_setup.fitToHeight = 1


if __name__ == "__main__":
    draw().save(Path(sys.argv[1]))
