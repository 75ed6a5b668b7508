"""Suppliers: what each delivers for, and what this job's order with each comes to."""

from ..language import *
from ..language.percent import column_in_use
from .cheapest_each import SUPPLIER_COLUMNS as CHEAPEST_COLUMNS
from .delivery import delivery_due
from .whole_list import SUPPLIER_COLUMNS


@rule
def goods(position: Each, book_cost: Column, book_slot: Column) -> Pounds:
    """Goods ordered from this supplier, before delivery."""
    return to_pence(sum_of(book_cost, same(book_slot, position)))


@rule
def delivery_missing(
    position: Each, delivery: Pounds, book_slot: Column, book_packs: Column
) -> Flag:
    """1 for a supplier that is ordered from and whose delivery charge nobody gave."""
    return where(
        less(0, count_of(same(book_slot, position), less(0, book_packs))),
        where(given(delivery), 0, 1),
        0,
    )


@rule
def order_total(goods: Pounds, delivery_due: Pounds) -> Pounds:
    """Goods and delivery."""
    return to_pence(goods + delivery_due)


@rule
def order_note(goods: Pounds, minimum_order: Pounds, delivery_missing: Flag) -> Text:
    """What is missing from the order, or too little in it. It is never padded."""
    return where(
        same(delivery_missing, 1),
        "delivery charge missing",
        where(
            both(
                both(given(minimum_order), less(0, goods)),
                less(goods, first_given(minimum_order, 0)),
            ),
            "below this supplier's minimum order",
            "",
        ),
    )


@rule
def delivery_price(
    delivery_due: Pounds, cost_factor: Amount, price_factor: Amount, profit_on_delivery: Text
) -> Pounds:
    """Delivery as quoted: with profit on it only where the job says so."""
    return to_pence(
        delivery_due * cost_factor * where(same(profit_on_delivery, "yes"), price_factor, 1)
    )


@rule
def quote_no(
    position: Each,
    delivery_due: Pounds,
    supplier_delivery_due: Column,
    supplier_position: Column,
    book_quote_no: Column,
) -> Each:
    """The line of the quote this delivery stands on, after the goods. 0 for none."""
    return where(
        less(0, delivery_due),
        largest_of(book_quote_no)
        + count_of(less(0, supplier_delivery_due), less(supplier_position, position + 1)),
        0,
    )


@rule
def provisional(position: Each, book_provisional: Column, book_slot: Column) -> Flag:
    """1 when the order holds anything provisional: its delivery may then change too."""
    return where(less(0, count_of(same(book_slot, position), same(book_provisional, 1))), 1, 0)


@rule
def orders_below(
    supplier_order_note: TextColumn, supplier_goods: Column, supplier_delivery_missing: Column
) -> Each:
    """Orders below their supplier's minimum."""
    return count_of(less(0, supplier_goods), same(supplier_delivery_missing, 0)) - count_of(
        less(0, supplier_goods), same(supplier_order_note, "")
    )


@rule
def deliveries_missing(supplier_delivery_missing: Column) -> Each:
    """Suppliers that are ordered from and whose delivery charge nobody gave."""
    return total(supplier_delivery_missing)


@rule
def in_place(place: Each, supplier_name: TextColumn) -> Text:
    """The supplier in that place of the list."""
    return beside(supplier_name, place)


# Named cells that head the columns of wastage with whom they belong to.
SUPPLIER_CELLS = ("supplier_one", "supplier_two", "supplier_three", "supplier_four",
                  "supplier_five")  # fmt: skip
CELLS = (
    worked(orders_below, "Orders below their supplier's minimum"),
    *(worked(in_place, f"Supplier {n}", name, place=n) for n, name in enumerate(SUPPLIER_CELLS, 1)),
)

DISCOUNT = number("discount", "Trade discount", PERCENT, 0, 100,
                  "Off every list price, unless its material says otherwise. Blank: none.",
                  required=False, since=8)  # fmt: skip

SUPPLIERS = Table(
    "suppliers",
    "supplier",
    "Suppliers",
    (
        text("name", "Supplier", "As it is written in the price book."),
        number("delivery", "Delivery", POUNDS, 0, 10000,
               "For one drop, without VAT. 0 where it is free. Needed for every supplier you order from.",
               required=False),
        number("free_over", "Free over", POUNDS, 0, 1000000,
               "Goods from this much up are delivered free. Blank: never.", required=False),
        number("minimum_order", "Minimum order", POUNDS, 0, 1000000, "Blank: none.",
               required=False),
        DISCOUNT,
        column_in_use(DISCOUNT),
        worked(goods),
        worked(delivery_missing),
        worked(delivery_due, "Delivery due"),
        worked(order_total, "Order"),
        worked(delivery_price, "Delivery quoted"),
        worked(provisional),
        worked(quote_no, "Quote line"),
        worked(order_note, "Note"),
        *SUPPLIER_COLUMNS,
        *CHEAPEST_COLUMNS,
    ),
    key="name",
)  # fmt: skip
