"""What stands against a quote: each count is a named cell, and any above 0 refuses the total."""

from . import quote, vat
from .rules import Item, count_of, largest_of, less, most, rule, same, where, worked
from .rules.units import EACH, Column, Each, Flag, Text


@rule
def needs_uncovered(need_uncovered: Column) -> Each:
    """Needs that nothing stocked by their supplier covers."""
    return count_of(same(need_uncovered, 1))


@rule
def edges_disagree(zone_edges_agree: Column, zone_net_area: Column) -> Each:
    """Zones whose edges do not add up to their sides."""
    return count_of(same(zone_edges_agree, 0), less(0, zone_net_area))


@rule
def runs_open(wall_run_agrees: Column, wall_thickness: Column) -> Each:
    """Closed wall runs whose corners do not bring them back to their start."""
    return count_of(same(wall_run_agrees, 0), less(0, wall_thickness))


@rule
def rolls_beyond(book_roll_no: Column, layout_roll_no: Column, zone_side_a: Column) -> Each:
    """Stocked sheet rolls for which there is no room in the layouts of the zones there are."""
    return where(
        less(0, count_of(less(0, zone_side_a))),
        most(0, largest_of(book_roll_no) - largest_of(layout_roll_no)),
        0,
    )


@rule
def lines_beyond(
    book_quote_no: Column,
    supplier_quote_no: Column,
    quote_line_position: Column,
    book_order_no: Column,
    order_line_position: Column,
    line_scope_no: Column,
    scope_line_position: Column,
) -> Each:
    """Lines for which there is no room in the quote or in the order lists."""
    return most(
        0,
        most(largest_of(book_quote_no), largest_of(supplier_quote_no))
        - largest_of(quote_line_position),
        largest_of(book_order_no) - largest_of(order_line_position),
        largest_of(line_scope_no) - largest_of(scope_line_position),
    )


@rule
def problem_count(
    rows_unwired: Each,
    rows_unchecked: Each,
    needs_uncovered: Each,
    edges_disagree: Each,
    runs_open: Each,
    rolls_beyond: Each,
    lines_beyond: Each,
    margin_impossible: Flag,
    vat_unreasoned: Flag,
    vat_to_householder: Flag,
) -> Each:
    """Everything that stands against the quote."""
    return (
        rows_unwired
        + rows_unchecked
        + needs_uncovered
        + edges_disagree
        + runs_open
        + rolls_beyond
        + lines_beyond
        + margin_impossible
        + vat_unreasoned
        + vat_to_householder
    )


@rule
def quote_state(problem_count: Each) -> Text:
    """Whether the quote can be sent."""
    return where(
        same(problem_count, 0),
        "Nothing stands against this quote.",
        "No total: something below is not 0. Mend it where it stands, and the total returns.",
    )


# Counted by the sheet itself, from the guard columns of its lists; a job file is checked when it
# is read, so in Python both are 0.
ROWS_UNWIRED = Item("rows_unwired", "Rows whose formulas do not read their own row", EACH)
ROWS_UNCHECKED = Item(
    "rows_unchecked", "Rows incomplete, out of range, marked twice, or naming what is not listed",
    EACH,
)  # fmt: skip

COUNTS: tuple[Item, ...] = (
    ROWS_UNWIRED,
    ROWS_UNCHECKED,
    worked(needs_uncovered, "Needs that nothing stocked by their supplier covers"),
    worked(edges_disagree, "Zones whose edges do not add up to their sides"),
    worked(runs_open, "Closed wall runs that do not close"),
    worked(rolls_beyond, "Sheet rolls stocked beyond those laid out"),
    worked(lines_beyond, "Lines beyond the room in the quote or the orders"),
    *quote.COUNTS,
    *vat.COUNTS,
)
CELLS: tuple[Item, ...] = (
    *COUNTS,
    worked(problem_count, "In all"),
    worked(quote_state, "State"),
)
