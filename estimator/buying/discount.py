"""What a pack costs: its list price less the trade discount of whoever sells it."""

from ..language import *

NET = "net"  # what a row of the price book says of its price where no discount is taken off it


@rule
def discount_listed(
    slot: Each,
    material_row: Each,
    material_discount_1: Column,
    material_discount_2: Column,
    material_discount_3: Column,
    material_discount_4: Column,
    material_discount_5: Column,
) -> Percent:
    """This supplier's discount on this material. Nothing where none is given."""
    return choose(
        most(1, slot),
        beside(material_discount_1, material_row),
        beside(material_discount_2, material_row),
        beside(material_discount_3, material_row),
        beside(material_discount_4, material_row),
        beside(material_discount_5, material_row),
    )


@rule
def discount(
    price_is: Text, slot: Each, discount_listed: Percent, supplier_discount: Column
) -> Percent:
    """The discount that counts: the material's own, else the supplier's on everything, else none.

    None where the price is net.
    """
    return where(
        same(price_is, NET),
        0,
        first_given(discount_listed, beside(supplier_discount, most(1, slot)), 0),
    )


@rule
def net_price(price: Pounds, discount: Percent) -> Pounds:
    """The price that is used: the list price of a pack less the discount, half up to the penny.

    Rounded for each pack, so that packs times price is the cost. Without a discount the price is
    as typed.
    """
    # A discount often ends on half a penny, which not every program rounds up: so in whole pence.
    return where(
        given(price),
        where(
            less(0, discount),
            whole_down(first_given(price, 0) * (100 - discount) + 0.5) / 100,
            first_given(price, 0),
        ),
        "",
    )
