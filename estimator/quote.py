"""The quote: which line stands where, what it says, and how the total is made.

Money is rounded to the penny on each line before it is summed, and VAT once on the sum.
Statuses other than firm, other VAT statuses, own lines and a minimum charge have their place
here: a status column on the lines, a row of VAT_STATUSES, terms of quote_net.
"""

from .rules import (
    Table,
    available,
    beside,
    count_of,
    largest_of,
    less,
    number,
    rule,
    same,
    sum_of,
    text,
    to_pence,
    total,
    where,
    worked,
)
from .rules.units import (
    PERCENT,
    Column,
    Each,
    Flag,
    Percent,
    Pounds,
    Text,
    TextColumn,
)

FIRM = "firm"


@rule
def book_row(position: Each, book_quote_no: Column, book_position: Column) -> Each:
    """The price book's row on this line of the quote; 0 for a delivery, or past the last line."""
    return sum_of(book_position, same(book_quote_no, position))


@rule
def drop(position: Each, supplier_quote_no: Column, supplier_position: Column) -> Each:
    """The supplier whose delivery stands on this line of the quote; 0 for goods."""
    return sum_of(supplier_position, same(supplier_quote_no, position))


@rule
def item(book_row: Each, drop: Each, book_description: TextColumn) -> Text:
    """What the line is for."""
    return where(
        less(0, book_row),
        beside(book_description, book_row),
        where(less(0, drop), "Delivery of materials, one drop", ""),
    )


@rule
def stage_no(book_row: Each, book_stage_no: Column, stage_position: Column) -> Each:
    """The stage it stands under: goods where they are first used, deliveries last."""
    return where(less(0, book_row), beside(book_stage_no, book_row), largest_of(stage_position))


@rule
def quantity(book_row: Each, book_packs: Column) -> Each:
    """Packs, or drops."""
    return where(less(0, book_row), beside(book_packs, book_row), 1)


@rule
def counted_in(book_row: Each, book_material_row: Column, material_pack: TextColumn) -> Text:
    """What the quantity counts."""
    return where(
        less(0, book_row), beside(material_pack, beside(book_material_row, book_row)), "drop"
    )


@rule
def amount(
    book_row: Each, drop: Each, book_quoted: Column, supplier_delivery_price: Column
) -> Pounds:
    """What the client is asked for the line, without VAT."""
    return where(
        less(0, book_row), beside(book_quoted, book_row), beside(supplier_delivery_price, drop)
    )


@rule
def starts_stage(
    position: Each, stage_no: Each, quote_line_stage_no: Column, quote_line_position: Column
) -> Flag:
    """1 on the first line of each stage."""
    return where(
        same(
            count_of(same(quote_line_stage_no, stage_no), less(quote_line_position, position)), 0
        ),
        1,
        0,
    )  # fmt: skip


@rule
def heading(starts_stage: Flag, stage_no: Each, stage_name: TextColumn) -> Text:
    """The stage, on its first line."""
    return where(same(starts_stage, 1), beside(stage_name, stage_no), "")


@rule
def status() -> Text:
    """Whether the price of the line is binding."""
    return FIRM


QUOTE_LINES = Table(
    "quote_lines",
    "quote_line",
    "Quote",
    (
        worked(book_row, "Book row"),
        worked(drop, "Delivery of"),
        worked(item, "Item"),
        worked(stage_no, "Stage no."),
        worked(starts_stage, "Stage starts"),
        worked(heading, "Stage"),
        worked(quantity),
        worked(counted_in, "of"),
        worked(status),
        worked(amount, "Price £"),
    ),
    key="item",
)

VAT_STATUSES = {
    "standard": "VAT at the standard rate is charged: the usual rate for extending a house.",
}


@rule
def quote_net(problem_count: Each, quote_line_amount: Column) -> Pounds:
    """The quote without VAT: refused while anything stands against it."""
    return available(same(problem_count, 0), to_pence(total(quote_line_amount)))


@rule
def quote_vat(quote_net: Pounds, vat_percent: Percent) -> Pounds:
    """VAT, rounded once on the sum."""
    return to_pence(quote_net * vat_percent / 100)


@rule
def quote_total(quote_net: Pounds, quote_vat: Pounds) -> Pounds:
    """The quote with VAT."""
    return to_pence(quote_net + quote_vat)


@rule
def lines_quoted(quote_line_amount: Column) -> Each:
    """Lines with a price."""
    return count_of(less(0, quote_line_amount))


@rule
def cost_total(supplier_order_total: Column) -> Pounds:
    """Cost of all orders and deliveries, without VAT."""
    return to_pence(total(supplier_order_total))


QUOTE_INPUTS = (
    number("markup_percent", "Markup on cost", PERCENT, 0, 200,
           "Added to cost. A markup of 20 % is not a margin of 20 %: 1,000 becomes 1,200."),
    text("markup_on_delivery", "Markup on delivery too", choices=("no", "yes")),
    text("vat_status", "VAT", choices=tuple(VAT_STATUSES),
         help="Only the standard rate so far."),
    number("vat_percent", "VAT rate", PERCENT, 0, 50, "The rate of the VAT status."),
)  # fmt: skip

QUOTE_CELLS = (
    worked(quote_net, "Sum without VAT"),
    worked(quote_vat, "VAT"),
    worked(quote_total, "Total with VAT"),
    worked(lines_quoted),
    worked(cost_total, "Cost of orders, without VAT"),
)
