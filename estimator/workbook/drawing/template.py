"""Draws the template that is shipped. Anyone may restyle the file itself; this is its origin.

Run `python -m estimator.workbook.drawing.template FILE` after adding a column or a list.
"""

import sys
from collections.abc import Mapping
from pathlib import Path

from openpyxl import Workbook

from ...language.tables import Table
from ...model.plan import plan
from ..blocks import OFFER, all_columns, bands, block_of
from ..page import Page, set_usual_font
from . import background as draw_background
from . import form as draw_form
from . import job as draw_job
from . import quote as draw_quote
from . import site as draw_site
from . import working as draw_working


def draw() -> Workbook:
    """The template, drawn anew."""
    book = Workbook()
    book.remove(book.active)
    set_usual_font(book)
    cells = plan().cells
    tables = plan().tables
    draw_job.job(book, cells)
    draw_form.form(book, tables, cells)
    _list_page(
        book,
        "Floors",
        "Floor zones",
        "One row for each rectangle of floor; its build-up says in which order the layers lie. "
        "Shaded cells are typed; the rest is worked out.",
        tables["zones"],
        {"description": 22, "build_up": 31, "depth_note": 30, "separating_layer": 10},
    )
    _list_page(
        book,
        "Edges",
        "Edges of floor zones",
        "Every side of every zone, piece by piece: "
        "what it meets decides how far the sheet turns up.",
        tables["edges"],
        {"kind": 26, "mark": 8, "zone": 8, "side": 7, "joins": 9, "turn_up_from": 13},
    )
    _list_page(
        book,
        "Features",
        "Floor features",
        "Thickenings, under which the sheet dips; partitions built off the slab, on their own DPC; "
        "piers, columns and re-entrant corners, with a preformed corner or patch each.",
        tables["floor_features"],
        {"mark": 8, "zone": 8, "kind": 23, "along": 8},
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
    )
    _list_page(
        book,
        "Openings",
        "Openings",
        "A tray over each, with stop ends and weeps; DPC at "
        "jambs and under sills as the kind of opening asks.",
        tables["openings"],
        {"description": 22, "wall": 8, "kind": 19, "mark": 8, "kind_note": 28, "lintel_tray": 10},
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
    )
    _list_page(
        book,
        "Units",
        "Preformed units in level trays",
        "Corners, T-junctions, level steps and penetrations: the straight tray laps each leg.",
        tables["tray_units"],
        {"description": 26, "abutment": 12, "kind": 14},
    )
    _list_page(
        book,
        "Parapets",
        "Parapets",
        "A DPC under the coping, as wide as the wall and held over the cavity, and a tray above "
        "the roof.",
        tables["parapets"],
        {"description": 26, "wall": 8, "note": 26},
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
        {
            "code": 9,
            "supplier": 28,
            "material": 14,
            "description": 36,
            "book_note": 34,
            "first_rank": 15,
            "second_rank": 18,
        },
        more_bands={
            "sheet_metres": "Sheet, in whole strips",
            "narrower": "If it were chosen",
            "first_rank": "Choice, and what is taken",
            "all_net": "If all came from this supplier",
        },
    )
    _list_page(
        book,
        "Work",
        "Labour, plant, preliminaries and fees",
        "Your own hours, rates and sums: none is shipped. Type what each costs you; a line may "
        "follow anything that is counted on the job.",
        tables["work_lines"],
        {
            "description": 50,
            "kind": 15,
            "way": 14,
            "wired_to": 26,
            "work_note": 34,
        },
    )
    for cell in next(book["Work"].iter_rows(min_row=6, max_row=6)):
        if cell.value == "{figure}":  # pounds, hours or percent: as it was typed
            cell.number_format = "#,##0.00##"
    draw_working.layouts(book, tables)
    draw_working.needs(book, tables)
    draw_working.figures_read(book, tables)
    draw_quote.quantities(book, tables)
    draw_quote.orders(book, tables)
    draw_quote.quote(book, tables, cells)
    draw_site.site(book, tables)
    _list_page(
        book,
        "Revisions",
        "Revisions",
        "One row for each issue of the quote, the latest last. Written when a quote is issued; put "
        "right by hand where a quote went out another way. Nothing is priced from it.",
        tables["revisions"],
        {"date": 18, "basis": 20, "digest": 20, "note": 40},
    )
    draw_background.checks(book, tables)
    draw_background.kinds(book, tables, cells)
    draw_background.notes(book, tables)
    draw_background.places(book, tables)
    return book


def _list_page(
    book: Workbook,
    title: str,
    heading: str,
    intro: str,
    table: Table,
    widths: dict[str, float],
    more_bands: Mapping[str, str] | None = None,
) -> None:
    page = Page(book, title, heading, intro, landscape=True)
    page.head_each_page(heading)
    head, order = page.row, all_columns(table)
    offered = sum(block_of(n) == OFFER for n in order)
    page.list(
        table,
        order,
        widths,
        inside=len(order) - offered,
        bands=bands(table, order) | dict(more_bands or {}),
    )
    page.finish(freeze=f"C{head + 2}")


if __name__ == "__main__":
    draw().save(Path(sys.argv[1]))
