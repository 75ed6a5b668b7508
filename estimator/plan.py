"""The plan of the house: every list and every named cell, in the order of the sheets."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from . import allowances, checks, guards, measures, quote, vat
from .basis import Basis, shipped_bases
from .buying import sheet, suppliers, whole_list
from .buying.book import BOOK
from .buying.lines import LINES_TABLE, STAGE_ROWS, STAGES
from .buying.materials import MATERIAL_ROWS, MATERIALS
from .buying.needs import NEEDS
from .buying.orders import ORDER_LINES
from .buying.totals import TOTALS
from .rules import Plan, Table, rule, same, sum_of, text, where, worked
from .rules.tables import Input
from .rules.units import Column, Each, Text, TextColumn
from .takeoff import methods
from .takeoff.abutments import ABUTMENT_KIND_ROWS, ABUTMENT_KINDS, ABUTMENTS
from .takeoff.edges import EDGE_KIND_ROWS, EDGE_KINDS, EDGES
from .takeoff.floors import ZONES
from .takeoff.layouts import LAYOUTS
from .takeoff.openings import (
    OPENING_KIND_ROWS,
    OPENING_KINDS,
    OPENINGS,
    weep_first,
    weep_step,
)
from .takeoff.parapets import PARAPETS
from .takeoff.penetrations import PENETRATIONS
from .takeoff.tray_units import TRAY_UNIT_KIND_ROWS, TRAY_UNIT_KINDS, TRAY_UNITS
from .takeoff.walls import MEASURING_LINE_ROWS, MEASURING_LINES, WALLS


@rule
def supplier_slot(
    supplier_choice: Text, supplier_name: TextColumn, supplier_position: Column
) -> Each:
    """The job's supplier's place in the list of suppliers."""
    return where(
        same(supplier_choice, ""),
        0,
        sum_of(supplier_position, same(supplier_name, supplier_choice)),
    )


PARTICULARS: tuple[Input, ...] = (
    text("job_title", "Job"),
    text("client_name", "Client"),
    text("site_address", "Site"),
    text("prepared_by", "Prepared by"),
    text("quote_date", "Date", "As it is to be printed."),
    text("quote_valid", "Valid", "For how long the quote stands."),
    text("job_notes", "Notes", required=False),
    allowances.CHOICE,
    text("supplier_choice", "Buy from", choice_of="suppliers.name",
         help="For every line that does not name its own."),
    *methods.INPUTS,
    *quote.INPUTS,
    *vat.INPUTS,
)  # fmt: skip

# The lists a person fills in, as a job file names them.
FILLED: tuple[Table, ...] = (
    ZONES,
    EDGES,
    WALLS,
    OPENINGS,
    PENETRATIONS,
    ABUTMENTS,
    TRAY_UNITS,
    PARAPETS,
    suppliers.SUPPLIERS,
    BOOK,
)

# The rows of the lists that come with the program.
SHIPPED_ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "edge_kinds": EDGE_KIND_ROWS,
    "measuring_lines": MEASURING_LINE_ROWS,
    "opening_kinds": OPENING_KIND_ROWS,
    "abutment_kinds": ABUTMENT_KIND_ROWS,
    "tray_unit_kinds": TRAY_UNIT_KIND_ROWS,
    "stages": STAGE_ROWS,
    "materials": MATERIAL_ROWS,
    "vat_statuses": vat.VAT_STATUS_ROWS,
    "measures": measures.MEASURE_ROWS,
}


@cache
def bases() -> tuple[Basis, ...]:
    """The shipped bases, read once."""
    return shipped_bases()


@cache
def plan() -> Plan:
    """The plan, with one allowance column for each shipped basis."""
    return Plan(
        tables=(
            allowances.BASES,
            allowances.allowances_table(bases()),
            EDGE_KINDS,
            MEASURING_LINES,
            OPENING_KINDS,
            ABUTMENT_KINDS,
            TRAY_UNIT_KINDS,
            STAGES,
            vat.VAT_STATUSES,
            MATERIALS,
            suppliers.SUPPLIERS,
            BOOK,
            ZONES,
            EDGES,
            WALLS,
            OPENINGS,
            PENETRATIONS,
            ABUTMENTS,
            TRAY_UNITS,
            PARAPETS,
            LAYOUTS,
            checks.CHECKS_TABLE,
            checks.PRODUCTS_TABLE,
            LINES_TABLE,
            NEEDS,
            ORDER_LINES,
            measures.MEASURES,
            TOTALS,
            quote.QUOTE_LINES,
            quote.SCOPE_LINES,
            quote.OVERRIDES,
            allowances.SOURCES,
        ),
        cells=(
            *PARTICULARS,
            *allowances.CELLS,
            worked(supplier_slot, "Supplier no."),
            *suppliers.CELLS,
            *sheet.CELLS,
            *whole_list.CELLS,
            *methods.CELLS,
            worked(weep_step, "Weeps built apart"),
            worked(weep_first, "First weep built at"),
            *guards.CELLS,
            *quote.CELLS,
            *vat.CELLS,
        ),
        keyed={"allowances": allowances.allowance_items()},
    )
