"""What stands against a quote: each count is a named cell, and any above 0 refuses the total."""

from ..buying.cutting_plan import plans_stale
from ..buying.needs import needs_beyond
from ..buying.suppliers import deliveries_missing
from ..buying.taking import own_packs_short
from ..guidance import hold_points
from ..language import *
from ..questionnaire import answers
from ..takeoff import cut_in_counts, existing, gas, old_vents
from ..takeoff.layouts import ROLLS_LAID_OUT
from . import quote, vat, work


@rule
def needs_uncovered(need_uncovered: Column) -> Each:
    """Needs that nothing stocked by their supplier covers."""
    return count_of(same(need_uncovered, 1))


@rule
def prices_missing(book_price_missing: Column) -> Each:
    """Products that are needed and have no price."""
    return total(book_price_missing)


@rule
def edges_disagree(
    zone_edges_agree: Column,
    zone_floor_row: Column,
    edge_edge_agrees: Column,
    edge_kind_row: Column,
) -> Each:
    """Floors whose edges do not add up, and edges that do not agree with their neighbours."""
    return count_of(same(zone_edges_agree, 0), less(0, zone_floor_row)) + count_of(
        same(edge_edge_agrees, 0), less(0, edge_kind_row)
    )


@rule
def levels_disagree(zone_levels_agree: Column, zone_net_area: Column) -> Each:
    """Floors whose formation lies too high for what is laid on it."""
    return count_of(same(zone_levels_agree, 0), less(0, zone_net_area))


@rule
def voids_disagree(zone_void_agrees: Column, zone_net_area: Column) -> Each:
    """Floors whose void is not typed and must be, or is typed where it follows from levels."""
    return count_of(same(zone_void_agrees, 0), less(0, zone_net_area))


@rule
def free_areas_missing(zone_free_area_missing: Column) -> Each:
    """Ventilated floors for which no free area of an air brick is typed."""
    return count_of(same(zone_free_area_missing, 1))


@rule
def features_incomplete(feature_complete: Column, feature_number: Column) -> Each:
    """Thickenings without direction or depth, and partitions without length or width."""
    return count_of(same(feature_complete, 0), less(0, feature_number))


@rule
def laps_uncovered(book_by_cover: Column, book_packs: Column, book_wastage: Column) -> Each:
    """Products bought by cover with no wastage, which holds their laps."""
    return count_of(same(book_by_cover, 1), less(0, book_packs), at_most(book_wastage, 0))


@rule
def packs_misfit(book_pack_misfit: Column) -> Each:
    """Products that do not say what they are bought by, or rolls wider than they are long."""
    return count_of(same(book_pack_misfit, 1))


@rule
def turn_ups_missing(edge_no_turn_up: Column) -> Each:
    """Edges whose turn-up cannot be worked out."""
    return count_of(same(edge_no_turn_up, 1))


@rule
def walls_disagree(wall_wall_agrees: Column, wall_thickness: Column) -> Each:
    """Wall runs that do not hold together."""
    return count_of(same(wall_wall_agrees, 0), less(0, wall_thickness))


@rule
def weeps_unbuildable(
    weep_spacing: Millimetres, wall_length_in_use: Column, wall_unit_used: Column
) -> Each:
    """Wall runs whose units are longer than weeps may stand apart."""
    return count_of(less(0, wall_length_in_use), less(weep_spacing, wall_unit_used))


@rule
def openings_disagree(opening_opening_agrees: Column, opening_number: Column) -> Each:
    """Openings that do not hold together."""
    return count_of(same(opening_opening_agrees, 0), less(0, opening_number))


@rule
def abutments_disagree(abutment_abutment_agrees: Column, abutment_length: Column) -> Each:
    """Abutments whose preformed units do not fit their tray."""
    return count_of(same(abutment_abutment_agrees, 0), less(0, abutment_length))


@rule
def rolls_beyond(book_roll_no: Column, layout_roll_no: Column, zone_sheet: Column) -> Each:
    """Stocked sheet rolls for which there is no room in the layouts of the floors there are."""
    return where(
        less(0, total(zone_sheet)),
        most(0, largest_of(book_roll_no) - largest_of(layout_roll_no)),
        0,
    )


@rule
def quote_lines_beyond(
    book_quote_no: Column,
    supplier_quote_no: Column,
    work_line_quote_no: Column,
    quote_line_position: Column,
) -> Each:
    """Lines for which there is no room in the quote."""
    return most(
        0,
        most(
            largest_of(book_quote_no), largest_of(supplier_quote_no), largest_of(work_line_quote_no)
        )
        - largest_of(quote_line_position),
    )


@rule
def lines_beyond(
    quote_lines_beyond: Each,
    book_order_no: Column,
    order_line_position: Column,
    line_scope_no: Column,
    scope_line_position: Column,
) -> Each:
    """Lines for which there is no room in the quote or in the order lists."""
    return most(
        quote_lines_beyond,
        largest_of(book_order_no) - largest_of(order_line_position),
        largest_of(line_scope_no) - largest_of(scope_line_position),
    )


@rule
def sum_of_parts(
    book_quoted: Column, supplier_delivery_price: Column, work_line_amount: Column
) -> Pounds:
    """What price book, deliveries and work come to."""
    return to_pence(total(book_quoted) + total(supplier_delivery_price) + total(work_line_amount))


@rule
def lines_disagree(quote_line_amount: Column, sum_of_parts: Pounds) -> Flag:
    """1 when the lines of the quote are not those of price book, deliveries and work."""
    return where(less(0.005, apart(total(quote_line_amount), sum_of_parts)), 1, 0)


@rule
def needs_disagree(need_wanted: Column, need_uncovered: Column, book_net: Column) -> Flag:
    """1 when what is bought is not what is needed: a need bought twice, or lost."""
    return where(
        less(0.0005, apart(sum_of(need_wanted, same(need_uncovered, 0)), total(book_net))), 1, 0
    )


@rule
def nothing_quoted(quote_line_amount: Column, prices_missing: Each) -> Flag:
    """1 when there is nothing to quote for. What only lacks its price is something."""
    return where(less(0, count_of(less(0, quote_line_amount)) + prices_missing), 0, 1)


@rule
def problems_measured(
    edges_disagree: Each,
    levels_disagree: Each,
    voids_disagree: Each,
    free_areas_missing: Each,
    features_incomplete: Each,
    turn_ups_missing: Each,
    walls_disagree: Each,
    old_walls_disagree: Each,
    ties_disagree: Each,
    edges_unwalled: Each,
    openings_disagree: Each,
    weeps_unbuildable: Each,
    abutments_disagree: Each,
) -> Each:
    """What was measured and cannot be."""
    return (
        edges_disagree
        + levels_disagree
        + voids_disagree
        + free_areas_missing
        + features_incomplete
        + turn_ups_missing
        + walls_disagree
        + old_walls_disagree
        + ties_disagree
        + edges_unwalled
        + openings_disagree
        + weeps_unbuildable
        + abutments_disagree
    )


@rule
def problems_typed(
    rows_unchecked: Each,
    problems_measured: Each,
    sums_missing: Flag,
    answers_missing: Each,
    stocks_disagree: Each,
    units_disagree: Each,
    margin_impossible: Flag,
    vat_unreasoned: Flag,
    vat_rate_differs: Flag,
    vat_to_householder: Flag,
    work_misfits: Each,
    packs_misfit: Each,
    own_packs_short: Each,
    plans_stale: Each,
) -> Each:
    """What was typed and cannot be."""
    return (
        rows_unchecked
        + problems_measured
        + sums_missing
        + answers_missing
        + stocks_disagree
        + units_disagree
        + margin_impossible
        + vat_unreasoned
        + vat_rate_differs
        + vat_to_householder
        + work_misfits
        + packs_misfit
        + own_packs_short
        + plans_stale
    )


@rule
def problems_worked(
    needs_uncovered: Each,
    prices_missing: Each,
    deliveries_missing: Each,
    laps_uncovered: Each,
    rolls_beyond: Each,
    needs_beyond: Each,
    lines_beyond: Each,
    items_unshown: Each,
    lines_disagree: Flag,
    needs_disagree: Flag,
    nothing_quoted: Flag,
) -> Each:
    """What came out and cannot be."""
    return (
        needs_uncovered
        + prices_missing
        + deliveries_missing
        + laps_uncovered
        + rolls_beyond
        + needs_beyond
        + lines_beyond
        + items_unshown
        + lines_disagree
        + needs_disagree
        + nothing_quoted
    )


@rule
def problem_count(problems_typed: Each, problems_worked: Each, figures_missing: Each) -> Each:
    """Everything that stands against the quote. A figure that cannot be given counts too."""
    return first_given(problems_typed, figures_missing + 1) + first_given(
        problems_worked, figures_missing + 1
    )


@rule
def quote_state(problem_count: Each, shorts_told: Each, blanks_told: Each) -> Text:
    """Whether the quote can be sent, and whether checks need an answer before it is."""
    return where(
        same(problem_count, 0),
        where(
            less(0, shorts_told + blanks_told),
            "Ready to send. Some checks are short, or figures are not given.",
            "Ready to send.",
        ),
        "No total yet. Fix what is listed below, and the total comes back.",
    )


@rule
def start_lists(
    problem_count: Each, shorts_told: Each, blanks_told: Each, checks_say: Text
) -> Text:
    """What every other sheet says beside the total: what the first sheet lists, as a link to it."""
    return where(
        less(0, problem_count),
        "Start lists what to fix.",
        where(
            same(shorts_told + blanks_told, 0),
            checks_say,
            where(
                same(blanks_told, 0),
                "Checks are short: Start lists them.",
                where(
                    same(shorts_told, 0),
                    "Figures are not given: Start lists them.",
                    "Checks are short and figures not given: Start lists them.",
                ),
            ),
        ),
    )


# Counted by the sheet itself, list by list (model/faults.py); a job file is checked when it is read.
ROWS_UNCHECKED = Item(
    "rows_unchecked", "Rows and cells to fix: each list says what",
    EACH,
)  # fmt: skip

COUNTS: tuple[Item, ...] = (
    ROWS_UNCHECKED,
    worked(needs_uncovered, "Needs that their supplier has no product for"),
    worked(prices_missing, "Products needed that have no price"),
    worked(deliveries_missing, "Suppliers ordered from that have no delivery charge"),
    worked(edges_disagree, "Edges that do not add up, or joints that do not match"),
    worked(levels_disagree, "Floors whose formation lies too high"),
    worked(voids_disagree, "Floors with the void missing, or typed where there is none"),
    worked(free_areas_missing, "Ventilated floors without the free area of an air brick"),
    worked(features_incomplete, "Thickenings or partitions without their measures"),
    worked(laps_uncovered, "Products bought by cover without wastage for laps"),
    worked(own_packs_short, "Products with fewer packs of your own than needed"),
    worked(plans_stale, "Cutting plans that give too few pieces now"),
    worked(packs_misfit, "Products without their measures, or wider than long"),
    worked(turn_ups_missing, "Edges whose turn-up cannot be worked out"),
    worked(walls_disagree, "Wall runs whose measures do not fit together"),
    worked(
        cut_in_counts.old_walls_disagree,
        "Old walls or trays cut in that do not fit together",
    ),
    *answers.COUNTS,
    worked(old_vents.stocks_disagree, "Ducts bought in another length than typed"),
    worked(
        cut_in_counts.units_disagree,
        "Trays cut in, counted by another unit than the one bought",
    ),
    worked(cut_in_counts.sums_missing, "Trays left to the designer, without a provisional sum"),
    worked(gas.edges_unwalled, "Edges where gas sheet crosses an unnamed wall run"),
    worked(
        existing.ties_disagree,
        "Wall runs whose tie-ins differ from their ends at old walls",
    ),
    worked(weeps_unbuildable, "Wall runs whose units are longer than the weep spacing"),
    worked(
        openings_disagree,
        "Openings that do not fit their place, or whose tray lintel has no length",
    ),
    worked(abutments_disagree, "Abutments whose preformed units do not fit their tray"),
    worked(
        rolls_beyond, f"Rolls of sheet stocked beyond the {ROLLS_LAID_OUT} that can be laid out"
    ),
    worked(needs_beyond, "Needs of more widths and lengths than there is room for"),
    worked(lines_beyond, "Lines beyond the room in the quote or the orders"),
    worked(lines_disagree, "Quote lines that differ from price book and work"),
    worked(needs_disagree, "Needs bought twice, or lost"),
    worked(nothing_quoted, "Nothing to quote for"),
    *quote.COUNTS,
    *vat.COUNTS,
    *work.COUNTS,
    *hold_points.COUNTS,
)
CELLS: tuple[Item, ...] = (
    *COUNTS,
    worked(old_vents.duct_stock, "Length in which ducts are bought"),
    worked(cut_in_counts.unit_bought, "Length of the tray unit bought"),
    worked(quote_lines_beyond, "Lines beyond the room in the quote"),
    worked(sum_of_parts, "Price book, deliveries and work"),
    worked(problems_measured, "Measured, and cannot be"),
    worked(problems_typed, "Typed, and cannot be"),
    worked(problems_worked, "Worked out, and cannot be"),
    worked(problem_count, "In all"),
    worked(quote_state, "State"),
    worked(start_lists, "What Start lists"),
)
