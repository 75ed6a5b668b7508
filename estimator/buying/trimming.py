"""Rolls trimmed to width: to what width, said at the line, in the order lists and on site.

DPC and tray rolls are cut lengthways with a knife, or sawn through before they are unrolled (common
practice). Which rolls are: wider_rolls.py.
"""

from ..language import *


@rule
def trim_to(pick: Each, untrimmed: Each, width_laid: Millimetres) -> Millimetres:
    """What the roll is trimmed to in width. 0 where it is laid as it comes."""
    return where(same(pick, untrimmed), 0, width_laid)


@rule
def need_trim_to(demand: Each, demand_trim_to: Column) -> Millimetres:
    """What its roll is trimmed to in width. 0 where it is laid as it comes."""
    return where(less(0, demand), beside(demand_trim_to, demand), 0)


@rule
def line_trim_least(trim_most: Millimetres, own_trim_to: Column) -> Millimetres:
    """The narrowest that rolls for this line are trimmed to. 0 where none is."""
    return where(less(0, trim_most), smallest_of(own_trim_to, less(0, own_trim_to)), 0)


@rule
def line_trim_most(net: Amount, own_trim_to: Column) -> Millimetres:
    """The widest that rolls for this line are trimmed to. 0 where none is."""
    return where(less(0, net), largest_of(own_trim_to), 0)


@rule
def product_trim_least(
    position: Each, trim_most: Millimetres, demand_trim_to: Column, demand_pick: Column
) -> Millimetres:
    """The narrowest that it is trimmed to. 0 where it is laid as it comes."""
    return where(
        less(0, trim_most),
        smallest_of(demand_trim_to, same(demand_pick, position), less(0, demand_trim_to)),
        0,
    )


@rule
def product_trim_most(
    net: Amount, position: Each, demand_trim_to: Column, demand_pick: Column
) -> Millimetres:
    """The widest that it is trimmed to. 0 where it is laid as it comes."""
    return where(less(0, net), largest_of(demand_trim_to, same(demand_pick, position)), 0)


@rule
def trim_said(trim_least: Millimetres, trim_most: Millimetres) -> Text:
    """To what width rolls are trimmed, in words. Nothing where they are laid as they come."""
    return where(
        less(0, trim_most),
        where(
            less(trim_least, trim_most),
            one_text("trim: ", in_figures(trim_least), " to ", in_figures(trim_most), " mm"),
            one_text("trim to ", in_figures(trim_most), " mm"),
        ),
        "",
    )


BOOK_COLUMNS = (
    worked(product_trim_most, "Trimmed to, most", "trim_most"),
    worked(product_trim_least, "Trimmed to, least", "trim_least"),
    worked(trim_said, "To trim"),
)
