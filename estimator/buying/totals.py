"""The three quantities of each material side by side: net, laid, ordered.

Its rows are those of the materials, in the same order.
"""

from ..language import *


@rule
def net(position: Each, book_net: Column, book_material_row: Column) -> Amount:
    """Measured as fixed: no laps, no turn-ups, no wastage."""
    return sum_of(book_net, same(book_material_row, position))


@rule
def laid(net: Amount, position: Each, book_laid: Column, book_material_row: Column) -> Amount:
    """Net, and all laps and turn-ups."""
    return where(less(0, net), sum_of(book_laid, same(book_material_row, position)), 0)


@rule
def ordered(net: Amount, position: Each, book_ordered: Column, book_material_row: Column) -> Amount:
    """What is bought: laid and wastage, rounded up to what the suppliers sell."""
    return where(less(0, net), sum_of(book_ordered, same(book_material_row, position)), 0)


@rule
def cost(net: Amount, position: Each, book_cost: Column, book_material_row: Column) -> Pounds:
    """What the suppliers charge, without VAT and delivery."""
    return where(less(0, net), to_pence(sum_of(book_cost, same(book_material_row, position))), 0)


TOTALS = Table(
    "totals",
    "totalled",
    "Material by material",
    (
        Fixed("key", "Material", TEXT),
        Fixed("label", "In words", TEXT),
        worked(net),
        worked(laid),
        worked(ordered),
        Fixed("unit", "Unit", TEXT),
        worked(cost),
    ),
    key="key",
    guarded=False,
)
