"""Each material from whoever sells all of it for least, live: goods, and each delivery added.

It is no more than a first look: delivery decides nothing here, and a material is not divided. The
cheapest mix of suppliers is sourcing's.
"""

from ..language import *
from .delivery import delivery_due
from .needs import SUPPLIERS

# ---- material by material ----------------------------------------------------------------------


@rule
def all_from(
    demanded: Each,
    lacking: Each,
    position: Each,
    slot: Each,
    picks: Column,
    demand_needs: Column,
    demand_material_no: Column,
    book_all_cost: Column,
    book_all_price_missing: Column,
    book_slot: Column,
    book_material_row: Column,
) -> Amount:
    """All of this material from one supplier. NOTHING or more where not all has a pack and a price."""
    return where(
        less(0, demanded),
        to_pence(
            sum_of(
                book_all_cost + NOTHING * book_all_price_missing,
                same(book_material_row, position),
                same(book_slot, slot),
            )
            + where(
                less(0, lacking),
                NOTHING * sum_of(demand_needs, same(picks, 0), same(demand_material_no, position)),
                0,
            )
        ),
        0,
    )


@rule
def least_cost(
    all_from_one: Amount,
    all_from_two: Amount,
    all_from_three: Amount,
    all_from_four: Amount,
    all_from_five: Amount,
) -> Amount:
    """What it costs where it costs least."""
    return least(all_from_one, all_from_two, all_from_three, all_from_four, all_from_five)


@rule
def cheapest_slot(
    least_cost: Amount,
    all_from_one: Amount,
    all_from_two: Amount,
    all_from_three: Amount,
    all_from_four: Amount,
) -> Each:
    """The supplier no. of that supplier, among equals the first. 0 where none has all of it."""
    return where(
        less(least_cost, NOTHING),
        where(
            at_most(all_from_one, least_cost),
            1,
            where(
                at_most(all_from_two, least_cost),
                2,
                where(
                    at_most(all_from_three, least_cost),
                    3,
                    where(at_most(all_from_four, least_cost), 4, 5),
                ),
            ),
        ),
        0,
    )


@rule
def cheapest_from(cheapest_slot: Each, packs_with: Each, supplier_name: TextColumn) -> Text:
    """From whom all of it costs least. Nothing where none of it is taken."""
    return where(
        less(0, packs_with),
        where(
            less(0, cheapest_slot),
            beside(supplier_name, most(1, cheapest_slot)),
            "none has all",
        ),
        "",
    )


MATERIAL_COLUMNS = (
    *(
        worked(all_from, f"All from supplier {n}", f"all_from_{name}", slot=n,
               lacking=NamedCell(f"lacking_{name}"),
               picks=WholeColumn("demands", f"pick_{name}"))
        for n, name in enumerate(SUPPLIERS, 1)
    ),
    worked(least_cost, "Least cost"),
    worked(cheapest_slot, "Cheapest from no."),
    worked(cheapest_from, "Cheapest from"),
)  # fmt: skip

# ---- the suppliers, and the sum ----------------------------------------------------------------


@rule
def cheapest_goods(
    position: Each, material_least_cost: Column, material_cheapest_slot: Column
) -> Pounds:
    """Goods of the materials that cost least here."""
    return to_pence(sum_of(material_least_cost, same(material_cheapest_slot, position)))


@rule
def cheapest_delivery(cheapest_goods: Pounds, delivery: Pounds, free_over: Pounds) -> Pounds:
    """Delivery of them in one drop. Not known where the charge is missing."""
    return available(
        either(same(cheapest_goods, 0), given(delivery)),
        delivery_due(cheapest_goods, delivery, free_over),
    )


SUPPLIER_COLUMNS = (
    worked(cheapest_goods, "Cheapest here: goods"),
    worked(cheapest_delivery, "Cheapest here: delivery"),
)


@rule
def cheapest_lacking(material_least_cost: Column) -> Each:
    """Materials that no supplier has all of, with a price."""
    return count_of(at_most(NOTHING, material_least_cost))


@rule
def cheapest_each(
    cheapest_lacking: Each,
    rolls_beyond: Each,
    supplier_cheapest_goods: Column,
    supplier_cheapest_delivery: Column,
) -> Pounds:
    """Each material from whoever sells all of it for least, every delivery added, without VAT."""
    return available(
        same(cheapest_lacking + rolls_beyond, 0),
        to_pence(total(supplier_cheapest_goods) + total(supplier_cheapest_delivery)),
    )


@rule
def cheapest_below(supplier_cheapest_goods: Column, supplier_minimum_order: Column) -> Each:
    """Orders that would then be below their supplier's minimum."""
    return count_of(
        less(0, supplier_cheapest_goods), less(supplier_cheapest_goods, supplier_minimum_order)
    )


@rule
def cheapest_note(cheapest_lacking: Each, cheapest_below: Each) -> Text:
    """What is to be known of that sum."""
    return where(
        less(0, cheapest_lacking),
        one_text("materials that no supplier has all of: ", in_figures(cheapest_lacking)),
        where(
            less(0, cheapest_below),
            one_text("orders below their minimum: ", in_figures(cheapest_below)),
            "",
        ),
    )


CELLS = (
    worked(cheapest_lacking, "Materials that no supplier has all of"),
    worked(cheapest_each, "Each material at its cheapest, delivered"),
    worked(cheapest_below, "Orders below their minimum, if each were bought where it is cheapest"),
    worked(cheapest_note, "Note"),
)
