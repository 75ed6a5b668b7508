"""The three quantities of each material side by side: net, laid, ordered."""

from ..language import *


@rule
def net(key: Text, book_net: Column, book_material: TextColumn) -> Amount:
    """Measured as fixed: no laps, no turn-ups, no wastage."""
    return sum_of(book_net, same(book_material, key))


@rule
def laid(key: Text, book_laid: Column, book_material: TextColumn) -> Amount:
    """Net, and all laps and turn-ups."""
    return sum_of(book_laid, same(book_material, key))


@rule
def ordered(key: Text, book_ordered: Column, book_material: TextColumn) -> Amount:
    """What is bought: laid and wastage, rounded up to what the suppliers sell."""
    return sum_of(book_ordered, same(book_material, key))


@rule
def cost(key: Text, book_cost: Column, book_material: TextColumn) -> Pounds:
    """What the suppliers charge, without VAT and delivery."""
    return to_pence(sum_of(book_cost, same(book_material, key)))


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
