"""Which rolls of the price book are compared by width (sizes.py), and which of them are left out.

What is joined only: whole pieces are counted by their cutting (cutting.py), so a material of which
any are cut stays with the narrowest that covers. So does one of which a roll without a price is the
only one of its width, while anything needs that width: its price is asked for first.
"""

from ..language import *
from .ranking import UNPRICED

MOST_COMPARED = 40  # a chain of widths is one number, exact up to 2 ** 53


@rule
def width_group(
    usable: Flag,
    slot: Each,
    material_row: Each,
    material: Text,
    laps_as_tray: Flag,
    material_laps_as_dpc: Column,
    demand_in_pieces: Column,
    demand_material: TextColumn,
) -> Each:
    """Supplier and material, as one number, of a roll that may be trimmed. 0 of all others."""
    return where(
        both(
            less(0, usable * (laps_as_tray + beside(material_laps_as_dpc, material_row))),
            same(count_of(less(0, demand_in_pieces), same(demand_material, material)), 0),
        ),
        1000 * slot + material_row,
        0,
    )


@rule
def unpriced(
    width_group: Each,
    if_joined: Amount,
    width: Millimetres,
    book_width_group: Column,
    book_width: Column,
    book_ranked_price: Column,
) -> Flag:
    """1 where it is the narrowest for something, and no roll as wide has a price."""
    return where(
        both(less(0, width_group), less(0, if_joined)),
        where(
            less(
                0,
                count_of(
                    same(book_width_group, width_group),
                    same(book_width, first_given(width, 0)),
                    less(book_ranked_price, UNPRICED),
                ),
            ),
            0,
            1,
        ),
        0,
    )


@rule
def compared(width_group: Each, book_width_group: Column, book_unpriced: Column) -> Flag:
    """1 where the rolls of its supplier and material are compared by cost: up to 40 of them."""
    return where(
        less(0, width_group),
        where(
            either(
                less(MOST_COMPARED, count_of(same(book_width_group, width_group))),
                less(0, count_of(same(book_width_group, width_group), same(book_unpriced, 1))),
            ),
            0,
            1,
        ),
        0,
    )


@rule
def width_order(compared: Flag, width_group: Each, net_price: Pounds, width: Millimetres) -> Amount:
    """What its place among the rolls that are compared is told by. 0 where it has none."""
    return where(
        both(same(compared, 1), given(net_price)),
        100000 * width_group + first_given(width, 0),
        0,
    )


@rule
def size_no(
    width_order: Amount, position: Each, book_width_order: Column, book_position: Column
) -> Each:
    """Its place among them: supplier by supplier, material by material, the narrowest first."""
    return where(
        less(0, width_order),
        count_of(
            less(0, book_width_order),
            either(
                less(book_width_order, width_order),
                both(same(book_width_order, width_order), less(book_position, position + 1)),
            ),
        ),
        0,
    )


@rule
def sizes_in_all(book_size_no: Column) -> Each:
    """Rolls that may be trimmed, of all suppliers."""
    return largest_of(book_size_no)


CELLS = (worked(sizes_in_all, "Rolls whose widths are compared"),)


@rule
def left_out(
    compared: Flag,
    size_no: Each,
    position: Each,
    size_product: Column,
    size_best_product: Column,
    size_bought: Column,
) -> Flag:
    """1 for a roll that is not chosen: others serve its needs for less.

    One without a price is, where widths are compared. A roll beyond the list of them is not.
    """
    return compared * where(
        same(size_no, 0),
        1,
        count_of(same(size_product, position))
        * (1 - count_of(same(size_best_product, position), same(size_bought, 1))),
    )


BOOK_COLUMNS = (
    worked(width_group, "May be trimmed"),
    worked(unpriced, "Price needed first"),
    worked(compared, "Widths compared"),
    worked(width_order, "Ordered by"),
    worked(size_no, "Size no."),
    worked(left_out, "Left out"),
)
