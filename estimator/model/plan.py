"""The plan of the house: every list and every named cell, in the order of the sheets."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from .. import checks, drawn
from ..buying import (
    cheapest_each,
    cutting,
    price_ages,
    ranking,
    sheet,
    suppliers,
    whole_list,
)
from ..buying.book import BOOK
from ..buying.cutting import CUTS
from ..buying.cutting_plan import PLANNED_CUTS
from ..buying.demands import DEMANDS
from ..buying.lines import LINES_TABLE, STAGE_ROWS, STAGES
from ..buying.materials import MATERIAL_ROWS, MATERIALS
from ..buying.needs import NEEDS
from ..buying.orders import ORDER_LINES
from ..buying.totals import TOTALS
from ..checks import counts as check_counts
from ..guidance import allowances, hold_points
from ..guidance.basis import Basis, shipped_bases
from ..language import *
from ..language.offering import with_offers
from ..pricing import measures, quote, refusals, scope, terms, vat, work
from ..questionnaire import answers, assumed, builds, on_plan, open_questions
from ..questionnaire.offers import OFFERS
from ..takeoff import (
    bands,
    methods,
)
from ..takeoff.abutments import ABUTMENT_KIND_ROWS, ABUTMENT_KINDS, ABUTMENTS
from ..takeoff.build_ups import FLOOR_KIND_ROWS, FLOOR_KINDS
from ..takeoff.cut_ins import CUT_IN_KIND_ROWS, CUT_IN_KINDS, CUT_INS
from ..takeoff.edge_kinds import EDGE_KIND_ROWS, EDGE_KINDS
from ..takeoff.edges import EDGES
from ..takeoff.existing import OLD_WALL_KIND_ROWS, OLD_WALL_KINDS, OLD_WALLS, TIE_INS
from ..takeoff.floor_features import FEATURE_KIND_ROWS, FEATURE_KINDS, FLOOR_FEATURES
from ..takeoff.floors import ZONES
from ..takeoff.layouts import LAYOUTS
from ..takeoff.old_vents import OLD_VENTS
from ..takeoff.openings import OPENING_KIND_ROWS, OPENING_KINDS, OPENINGS, weep_first, weep_step
from ..takeoff.parapets import PARAPETS
from ..takeoff.penetrations import PENETRATIONS
from ..takeoff.tray_units import TRAY_UNIT_KIND_ROWS, TRAY_UNIT_KINDS, TRAY_UNITS
from ..takeoff.walls import MEASURING_LINE_ROWS, MEASURING_LINES, WALLS
from . import figures_read, issued
from .faults import TO_FIX, WATCHED
from .places import PLACES


@rule
def supplier_slot(
    supplier_choice: Text,
    supplier_one: Text,
    supplier_name: TextColumn,
    supplier_position: Column,
) -> Each:
    """The job's supplier's place in the list of suppliers: the one chosen, else the first."""
    return where(
        is_blank(supplier_choice),
        where(is_blank(supplier_one), 0, 1),
        sum_of(supplier_position, same(supplier_name, supplier_choice)),
    )


def _offered(table: Table) -> Table:
    """The list as it is used: with what the form offers to it."""
    if table.name not in OFFERS:
        return table
    offers = OFFERS[table.name]
    return with_offers(table, offers.columns, offers.nought, offers.assumed, offers.counted)


# What stands on the quote beside its figures.
SAID_TO_CLIENT: tuple[Input, ...] = (*terms.REFERENCES, *terms.FIRM)

PARTICULARS: tuple[Input, ...] = (
    text("job_title", "Job"),
    text("client_name", "Client"),
    text("site_address", "Site"),
    text("prepared_by", "Prepared by"),
    text("quote_date", "Date", "As it is to be printed."),
    text("quote_valid", "Valid", "How long the quote holds."),
    *terms.REFERENCES,
    text("job_notes", "Notes", required=False),
    *terms.FIRM,
    allowances.CHOICE,
    hold_points.CHOICE,
    *hold_points.PLANNED.values(),
    text("supplier_choice", "Buy from", choice_of="suppliers.name",
         help="For every line without a supplier of its own. Blank: the first supplier in the "
              "list.",
         required=False),
    *methods.INPUTS,
    *quote.INPUTS,
    *work.INPUTS,
    *vat.INPUTS,
    *drawn.CHOSEN,
    *price_ages.INPUTS,
)  # fmt: skip

# Everything typed in a cell of its own: the particulars, and the answers of the form.
TYPED_CELLS: tuple[Input, ...] = (*PARTICULARS, *answers.INPUTS)

# The lists a person fills in, as a job file names them.
FILLED: tuple[Table, ...] = tuple(
    _offered(t)
    for t in (
        ZONES,
        EDGES,
        FLOOR_FEATURES,
        WALLS,
        OPENINGS,
        PENETRATIONS,
        ABUTMENTS,
        TRAY_UNITS,
        PARAPETS,
        OLD_WALLS,
        CUT_INS,
        TIE_INS,
        OLD_VENTS,
        suppliers.SUPPLIERS,
        BOOK,
        PLANNED_CUTS,
        work.WORK_LINES,
        issued.REVISIONS,
    )
)

# The rows of the lists that come with the program.
SHIPPED_ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "floor_kinds": FLOOR_KIND_ROWS,
    "edge_kinds": EDGE_KIND_ROWS,
    "feature_kinds": FEATURE_KIND_ROWS,
    "measuring_lines": MEASURING_LINE_ROWS,
    "opening_kinds": OPENING_KIND_ROWS,
    "abutment_kinds": ABUTMENT_KIND_ROWS,
    "old_wall_kinds": OLD_WALL_KIND_ROWS,
    "cut_in_kinds": CUT_IN_KIND_ROWS,
    "tray_unit_kinds": TRAY_UNIT_KIND_ROWS,
    "stages": STAGE_ROWS,
    "materials": MATERIAL_ROWS,
    "vat_statuses": vat.VAT_STATUS_ROWS,
    "measures": measures.MEASURE_ROWS,
    "wall_builds": builds.WALL_BUILD_ROWS,
    "floor_builds": builds.FLOOR_BUILD_ROWS,
    "roof_builds": builds.ROOF_BUILD_ROWS,
    "questions": answers.QUESTION_ROWS,
    "open_questions": open_questions.OPEN_ROWS,
    "nations": hold_points.NATION_ROWS,
    "work_kinds": work.WORK_KIND_ROWS,
    "out_of_scope": scope.OUT_OF_SCOPE_ROWS,
    **drawn.ROWS,
}

# The sheet for site: each hold point, its list, and the cells of its words.
HOLD_BLOCKS = hold_points.BLOCKS
PLANNED_DAYS = hold_points.PLANNED  # of each hold point, the cell of the day


@cache
def bases() -> tuple[Basis, ...]:
    """The shipped bases, read once."""
    return shipped_bases()


@cache
def figure_rows() -> list[dict[str, Any]]:
    """The rows of the list of what each quantity is worked out from."""
    return figures_read.rows(plan())


@cache
def plan() -> Plan:
    """The plan, with one allowance column for each shipped basis.

    What each quantity is worked out from is read off the plan without that list.
    """
    without = _plan()
    return _plan(figures_read.table(without))


def _plan(*more: Table) -> Plan:
    return Plan(
        tables=(
            allowances.BASES,
            allowances.allowances_table(bases()),
            FLOOR_KINDS,
            EDGE_KINDS,
            FEATURE_KINDS,
            MEASURING_LINES,
            OPENING_KINDS,
            ABUTMENT_KINDS,
            OLD_WALL_KINDS,
            CUT_IN_KINDS,
            TRAY_UNIT_KINDS,
            STAGES,
            vat.VAT_STATUSES,
            work.WORK_KINDS,
            hold_points.NATIONS_TABLE,
            MATERIALS,
            builds.WALL_BUILDS,
            builds.FLOOR_BUILDS,
            builds.ROOF_BUILDS,
            answers.QUESTIONS,
            assumed.ASSUMED,
            open_questions.OPEN_QUESTIONS,
            *FILLED,
            bands.BANDS,
            LAYOUTS,
            checks.CHECKS_TABLE,
            checks.PRODUCTS_TABLE,
            LINES_TABLE,
            NEEDS,
            DEMANDS,
            CUTS,
            ORDER_LINES,
            measures.MEASURES,
            *more,
            *drawn.TABLES,
            TOTALS,
            hold_points.HOLDS,
            *hold_points.ITEMS,
            quote.QUOTE_LINES,
            scope.SCOPE_LINES,
            scope.OUT_OF_SCOPE,
            scope.OVERRIDES,
            allowances.SOURCES,
            WATCHED,
            TO_FIX,
            PLACES,
        ),
        cells=(
            *TYPED_CELLS,
            *allowances.CELLS,
            worked(supplier_slot, "Supplier no."),
            *suppliers.CELLS,
            *sheet.CELLS,
            *bands.CELLS,
            *cutting.CELLS,
            worked(ranking.wastages_blank, "Products bought with no wastage given: 0 %"),
            *whole_list.CELLS,
            *cheapest_each.CELLS,
            *price_ages.CELLS,
            *methods.CELLS,
            worked(weep_step, "Weeps built apart"),
            worked(weep_first, "First weep built at"),
            *hold_points.CELLS,
            *work.CELLS,
            *check_counts.CELLS,
            *refusals.CELLS,
            *quote.CELLS,
            *vat.CELLS,
            *issued.CELLS,
            *drawn.CELLS,
            *answers.CELLS,
            *on_plan.CELLS,
            *assumed.CELLS,
            *open_questions.CELLS,
        ),
        keyed={"allowances": allowances.allowance_items(), "assumed": assumed.ITEMS},
    )
