"""What a product would cost this job if it were chosen: known before anything is chosen.

Every demand that the product could serve is put together, whoever its line is bought from, except
what a narrower product of the same supplier covers. Sheet is not ranked here: its layouts say
what each roll would take (sheet.py), and tape follows from them.
"""

from ..language import *
from .packing import rolls_of_pieces
from .ranking import MANY_MATERIALS
from .taking import packs_joined, required

# ---- by material: whether anything asks for it ---------------------------------------------------


@rule
def demanded(position: Each, demand_material_no: Column) -> Each:
    """Demands for this material, of whatever width and length."""
    return count_of(same(demand_material_no, position))


@rule
def demanded_whole(
    demanded: Each, position: Each, demand_material_no: Column, demand_in_pieces: Column
) -> Each:
    """Those of them that are cut in whole pieces."""
    return where(
        less(0, demanded),
        count_of(same(demand_material_no, position), less(0, demand_in_pieces)),
        0,
    )


MATERIAL_COLUMNS = (
    worked(demanded, "Demands for it"),
    worked(demanded_whole, "Demands in whole pieces"),
)

# ---- by product ----------------------------------------------------------------------------------


@rule
def narrower(
    sized: Flag,
    slot: Each,
    material_row: Each,
    width: Millimetres,
    material_demanded: Column,
    book_width: Column,
    book_sold_as: Column,
) -> Millimetres:
    """Width of this supplier's next narrower product: what that covers is left to it. 0 for none.

    Below 0 where no line asks for a width, or none for the material.
    """
    return where(
        less(0, sized * beside(material_demanded, material_row)),
        largest_of(
            book_width,
            same(book_sold_as, slot * MANY_MATERIALS + material_row),
            less(book_width, first_given(width, 0)),
        ),
        -1,
    )


@rule
def if_joined(
    material_row: Each,
    width: Millimetres,
    narrower: Millimetres,
    material_demanded: Column,
    demand_to_join: Column,
    demand_corners: Column,
    demand_material_no: Column,
    demand_width: Column,
) -> Amount:
    """Net, laps and turn-ups that it would serve and that may be joined from pack to pack."""
    return where(
        less(0, beside(material_demanded, material_row)),
        sum_of(
            demand_to_join + demand_corners * (first_given(width, 0) / 1000),
            less(0, demand_to_join),
            same(demand_material_no, material_row),
            less(narrower, demand_width),
            at_most(demand_width, first_given(width, 0)),
        ),
        0,
    )


@rule
def if_pieces(
    material_row: Each,
    width: Millimetres,
    length: Metres,
    narrower: Millimetres,
    material_demanded_whole: Column,
    demand_in_pieces: Column,
    demand_longest: Column,
    demand_material_no: Column,
    demand_width: Column,
) -> Metres:
    """Metres that it would serve in whole pieces, none longer than its roll."""
    return where(
        less(0, beside(material_demanded_whole, material_row)),
        sum_of(
            demand_in_pieces,
            same(demand_material_no, material_row),
            less(narrower, demand_width),
            at_most(demand_width, first_given(width, 0)),
            at_most(demand_longest, first_given(length, 0)),
        ),
        0,
    )


@rule
def if_longest(
    if_pieces: Metres,
    material_row: Each,
    width: Millimetres,
    length: Metres,
    narrower: Millimetres,
    demand_in_pieces: Column,
    demand_longest: Column,
    demand_material_no: Column,
    demand_width: Column,
) -> Metres:
    """Longest of those pieces."""
    return where(
        less(0, if_pieces),
        largest_of(
            demand_longest,
            less(0, demand_in_pieces),
            same(demand_material_no, material_row),
            less(narrower, demand_width),
            at_most(demand_width, first_given(width, 0)),
            at_most(demand_longest, first_given(length, 0)),
        ),
        0,
    )


@rule
def if_counted(if_pieces: Metres, if_longest: Metres, length: Metres) -> Each:
    """Rolls for those pieces, counted as if all were the longest."""
    return rolls_of_pieces(if_pieces, if_longest, first_given(length, 0))


@rule
def if_packs(
    by_area: Flag,
    if_joined: Amount,
    if_cut: Each,
    wastage: Percent,
    lap: Metres,
    content: Amount,
    minimum_packs: Each,
) -> Each:
    """Packs it would take, no fewer than are sold at once. 0 for sheet."""
    return where(
        both(same(by_area, 0), less(0, if_joined + if_cut)),
        most(
            first_given(minimum_packs, 0),
            if_cut + packs_joined(required(if_joined, 0, wastage), lap, content),
        ),
        0,
    )
