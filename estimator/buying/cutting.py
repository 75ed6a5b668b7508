"""What is bought and cut in whole pieces: strips of sheet, one-piece trays, closers.

One row for each length of piece of each product, the longest first. Pieces come from the rolls that
are begun, the first begun first, and then from new ones. A row says how many rolls its product has
taken so far, and what is left of each; what is left of more rolls than are remembered is not used
again, so that the count can only be too high.
"""

from ..language import *
from .cutting_plan import CUT_COLUMNS, cuts_by_plan
from .packing import LEAST_PIECE

ROLLS_REMEMBERED = 16  # with 10, 25 trays from rolls of 5 m took a twelfth more than the least


@rule
def cut_no(
    in_pieces: Metres,
    pick: Each,
    longest: Metres,
    position: Each,
    demand_in_pieces: Column,
    demand_pick: Column,
    demand_longest: Column,
    demand_position: Column,
) -> Each:
    """Its place in the list of cuts: product by product, the longest pieces first. 0 for none."""
    return where(
        less(0, in_pieces * pick),
        count_of(
            less(0, demand_in_pieces),
            less(0, demand_pick),
            either(
                less(demand_pick, pick),
                both(
                    same(demand_pick, pick),
                    either(
                        less(longest, demand_longest),
                        both(same(demand_longest, longest), less(demand_position, position + 1)),
                    ),
                ),
            ),
        ),
        0,
    )


@rule
def demands_cut(demand_cut_no: Column) -> Each:
    """Demands that are cut in whole pieces."""
    return largest_of(demand_cut_no)


@rule
def strips_cut(zone_strip_no: Column, band_strip_no: Column) -> Each:
    """Rows of strips that are cut: a floor's, or one strip of a floor that is no rectangle."""
    return most(largest_of(zone_strip_no), largest_of(band_strip_no))


@rule
def cuts_beyond(demands_cut: Each, strips_cut: Each, cut_position: Column) -> Each:
    """Cuts for which there is no room: then products are counted without cutting, and at most."""
    return most(0, demands_cut + strips_cut - largest_of(cut_position))


@rule
def demand_row(position: Each, demand_cut_no: Column) -> Each:
    """The demand that is cut here. 0 for a floor's strips, and in a spare row."""
    return first_row(demand_cut_no, position)


@rule
def zone_row(demand_row: Each, position: Each, demands_cut: Each, zone_strip_no: Column) -> Each:
    """The floor whose strips are cut here."""
    return where(same(demand_row, 0), first_row(zone_strip_no, position - demands_cut), 0)


@rule
def band_row(
    demand_row: Each, zone_row: Each, position: Each, demands_cut: Each, band_strip_no: Column
) -> Each:
    """The strip that is cut here, of a floor that is no rectangle."""
    return where(
        same(demand_row + zone_row, 0), first_row(band_strip_no, position - demands_cut), 0
    )


@rule
def product(
    demand_row: Each, zone_row: Each, band_row: Each, sheet_row: Each, demand_pick: Column
) -> Each:
    """Its row of the price book."""
    return where(
        less(0, demand_row),
        beside(demand_pick, demand_row),
        where(less(0, zone_row + band_row), sheet_row, 0),
    )


@rule
def mark(product: Each, book_code: TextColumn) -> Text:
    """Its code."""
    return where(less(0, product), beside(book_code, product), "")


@rule
def length(
    demand_row: Each,
    zone_row: Each,
    band_row: Each,
    demand_longest: Column,
    zone_strip_long: Column,
    band_cut_long: Column,
) -> Metres:
    """Length of each piece."""
    return where(
        less(0, demand_row),
        beside(demand_longest, demand_row),
        where(
            less(0, zone_row), beside(zone_strip_long, zone_row), beside(band_cut_long, band_row)
        ),
    )


@rule
def pieces(
    demand_row: Each,
    zone_row: Each,
    length: Metres,
    demand_in_pieces: Column,
    zone_strips_here: Column,
) -> Each:
    """How many pieces."""
    return where(
        less(0, demand_row),
        whole_up(beside(demand_in_pieces, demand_row) / most(length, LEAST_PIECE)),
        where(less(0, zone_row), beside(zone_strips_here, zone_row), 1),
    )


@rule
def per_roll(roll_length: Metres, length: Metres) -> Each:
    """Pieces from a whole roll."""
    return whole_down(roll_length / most(length, LEAST_PIECE))


@rule
def begun(product: Each, above_product: Each, above_rolls: Each) -> Each:
    """Rolls of this product that are begun already."""
    return where(same(above_product, product), above_rolls, 0)


@rule
def fit(product: Each, above_product: Each, above_left: Metres, length: Metres) -> Each:
    """Pieces that what is left of this roll still gives."""
    return where(
        same(above_product, product), whole_down(above_left / most(length, LEAST_PIECE)), 0
    )


@rule
def from_new(pieces: Each, *fit: Each) -> Each:
    """Pieces that come from new rolls."""
    return most(0, pieces - sum_of_first(ROLLS_REMEMBERED, *fit))


@rule
def rolls(begun: Each, from_new: Each, per_roll: Each) -> Each:
    """Rolls of this product so far."""
    return begun + whole_up(divided(from_new, per_roll))


@rule
def from_begun(slot: Each, pieces: Each, *fit: Each) -> Each:
    """Pieces that come from this roll, begun before."""
    return least(pieces, sum_of_first(slot, *fit)) - least(pieces, sum_of_first(slot - 1, *fit))


@rule
def left(
    slot: Each,
    begun: Each,
    above_left: Metres,
    length: Metres,
    from_begun: Each,
    rolls: Each,
    roll_length: Metres,
    per_roll: Each,
    from_new: Each,
) -> Metres:
    """What is left of this roll. 0 where it is not begun."""
    return where(
        at_most(slot, begun),
        above_left - length * from_begun,
        where(
            at_most(slot, rolls),
            roll_length - length * least(per_roll, from_new - per_roll * (slot - begun - 1)),
            0,
        ),
    )


@rule
def rest(rolls: Each, *left: Metres) -> Metres:
    """What is left of the last roll so far. 0 where more are begun than are remembered."""
    return where(at_most(rolls, ROLLS_REMEMBERED), choose(most(1, rolls), *left, 0), 0)


@rule
def rolls_cut(position: Each, cuts_beyond: Each, cut_rolls: Column, cut_product: Column) -> Each:
    """Rolls of this product when its pieces are cut one after the other. 0 where none are."""
    return where(same(cuts_beyond, 0), largest_of(cut_rolls, same(cut_product, position)), 0)


CUTS = Table(
    "cuts",
    "cut",
    "Cutting list: whole pieces, the longest first",
    (
        worked(demand_row, "Demand"),
        worked(zone_row, "Floor no."),
        worked(band_row, "Strip no."),
        worked(product, "Row of the price book"),
        worked(mark, "Code"),
        read("description", "Product", TEXT, "book.description", at="product"),
        worked(length, "Length of piece"),
        worked(pieces, "Pieces"),
        read("roll_length", "Of a roll", METRES, "book.length", at="product"),
        *CUT_COLUMNS,
        worked(per_roll, "From a whole roll"),
        worked(begun, "Rolls begun"),
        *slots(fit, "From roll", "fit", ROLLS_REMEMBERED),
        worked(from_new, "From new rolls"),
        worked(rolls, "Rolls so far"),
        *slots(from_begun, "Pieces from begun roll", "from_begun", ROLLS_REMEMBERED),
        *slots(left, "Left of roll", "left", ROLLS_REMEMBERED),
        worked(rest, "Left of the last"),
    ),
    spare=(12, 40),
    since=6,
)
CELLS = (
    worked(demands_cut, "Demands cut in whole pieces"),
    worked(strips_cut, "Rows of strips cut"),
    worked(cuts_beyond, "Cuts beyond the room for them"),
    worked(cuts_by_plan, "Lengths cut by a plan"),
)
