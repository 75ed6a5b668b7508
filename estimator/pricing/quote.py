"""The quote: which line stands where, what it says, and how the total is made.

Money is rounded to the penny on each line before it is summed, and VAT (vat.py) once on the sum.
"""

from ..language import *
from ..language.percent import cell_in_use


@rule
def book_row(position: Each, book_quote_no: Column, book_position: Column) -> Each:
    """The price book's row on this line of the quote. 0 for a delivery, or past the last line."""
    return sum_of(book_position, same(book_quote_no, position))


@rule
def drop(position: Each, supplier_quote_no: Column, supplier_position: Column) -> Each:
    """The supplier whose delivery stands on this line of the quote. 0 for goods."""
    return sum_of(supplier_position, same(supplier_quote_no, position))


@rule
def work_row(position: Each, work_line_quote_no: Column, work_line_position: Column) -> Each:
    """The line of work that stands on this line of the quote. 0 for goods and deliveries."""
    return sum_of(work_line_position, same(work_line_quote_no, position))


@rule
def item(
    book_row: Each,
    drop: Each,
    work_row: Each,
    book_description: TextColumn,
    work_line_description: TextColumn,
) -> Text:
    """What the line is for."""
    return where(
        less(0, book_row),
        beside(book_description, book_row),
        where(
            less(0, drop),
            "Delivery of materials, one drop",
            where(less(0, work_row), beside(work_line_description, work_row), ""),
        ),
    )


@rule
def stage_no(
    book_row: Each,
    work_row: Each,
    book_stage_no: Column,
    work_line_stage_no: Column,
    stage_name: TextColumn,
    stage_position: Column,
) -> Each:
    """The stage it stands under: goods where they are first used, then deliveries, then work."""
    return where(
        less(0, book_row),
        beside(book_stage_no, book_row),
        where(
            less(0, work_row),
            beside(work_line_stage_no, work_row),
            sum_of(stage_position, same(stage_name, "Delivery")),
        ),
    )


@rule
def quantity(book_row: Each, book_packs: Column) -> Each:
    """Packs, or drops. One for a line of work, however it is priced."""
    return where(less(0, book_row), beside(book_packs, book_row), 1)


@rule
def counted_in(
    book_row: Each,
    work_row: Each,
    book_each_is: TextColumn,
    work_line_kind_row: Column,
    work_kind_counted_in: TextColumn,
) -> Text:
    """What the quantity counts."""
    return where(
        less(0, book_row),
        beside(book_each_is, book_row),
        where(
            less(0, work_row),
            beside(work_kind_counted_in, beside(work_line_kind_row, work_row)),
            "drop",
        ),
    )


@rule
def amount(
    book_row: Each,
    drop: Each,
    work_row: Each,
    book_quoted: Column,
    supplier_delivery_price: Column,
    work_line_amount: Column,
) -> Pounds:
    """What the client is asked for the line, without VAT."""
    return where(
        less(0, book_row),
        beside(book_quoted, book_row),
        where(
            less(0, work_row),
            beside(work_line_amount, work_row),
            beside(supplier_delivery_price, drop),
        ),
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
def status(
    book_row: Each,
    drop: Each,
    work_row: Each,
    book_provisional: Column,
    supplier_provisional: Column,
    work_line_provisional: Column,
) -> Text:
    """Whether the price of the line binds. A delivery is as sure as its order."""
    return where(
        less(
            0,
            where(
                less(0, book_row),
                beside(book_provisional, book_row),
                where(
                    less(0, work_row),
                    beside(work_line_provisional, work_row),
                    beside(supplier_provisional, drop),
                ),
            ),
        ),
        "provisional",
        "firm",
    )


QUOTE_LINES = Table(
    "quote_lines",
    "quote_line",
    "Quote",
    (
        worked(book_row, "Book row"),
        worked(drop, "Delivery of"),
        worked(work_row, "Work no."),
        worked(item, "Item"),
        worked(stage_no, "Stage no."),
        worked(starts_stage, "Stage starts"),
        worked(heading, "Stage"),
        worked(quantity),
        worked(counted_in, "of"),
        worked(status),
        worked(amount, "Price"),
    ),
    key="item",
)


@rule
def price_factor(profit_rule: Text, profit_percent: Percent) -> Amount:
    """Price for each pound of cost. Markup is on the cost, margin is on the price."""
    return where(
        same(profit_rule, "margin on price"),
        divided(1, 1 - profit_percent / 100),
        1 + profit_percent / 100,
    )


@rule
def margin_impossible(profit_rule: Text, profit_percent: Percent) -> Flag:
    """1 for a margin of 100 % or more: no price has it."""
    return where(both(same(profit_rule, "margin on price"), at_most(100, profit_percent)), 1, 0)


@rule
def quote_sum(problem_count: Each, quote_line_amount: Column) -> Pounds:
    """All lines: refused while anything stands against the quote."""
    return available(same(problem_count, 0), to_pence(total(quote_line_amount)))


@rule
def firm_sum(
    problem_count: Each, quote_line_amount: Column, quote_line_status: TextColumn
) -> Pounds:
    """The firm lines."""
    return available(
        same(problem_count, 0), to_pence(sum_of(quote_line_amount, same(quote_line_status, "firm")))
    )


@rule
def provisional_sum(
    problem_count: Each, quote_line_amount: Column, quote_line_status: TextColumn
) -> Pounds:
    """The provisional lines."""
    return available(
        same(problem_count, 0),
        to_pence(sum_of(quote_line_amount, same(quote_line_status, "provisional"))),
    )


@rule
def minimum_added(quote_sum: Pounds, minimum_charge: Pounds) -> Pounds:
    """What brings a small quote up to the minimum charge."""
    return where(
        both(less(0, quote_sum), less(quote_sum, minimum_charge)),
        to_pence(minimum_charge - quote_sum),
        0,
    )


@rule
def quote_net(quote_sum: Pounds, minimum_added: Pounds) -> Pounds:
    """The quote without VAT."""
    return to_pence(quote_sum + minimum_added)


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


@rule
def lines_provisional(line_provisional: Column, line_net: Column) -> Each:
    """Lines of the quantities that are provisional on this job."""
    return count_of(same(line_provisional, 1), less(0, line_net))


@rule
def quote_warning(problem_count: Each) -> Text:
    """What the quote says while it has no total. Nothing when it has one."""
    return where(same(problem_count, 0), "", "This document has no total yet. Do not send it.")


@rule
def document_word(lines_provisional: Each, work_provisional: Each) -> Text:
    """A quote binds once accepted. With a provisional line in it, it is an estimate."""
    return where(less(0, lines_provisional + work_provisional), "Estimate", "Quotation")


@rule
def promise_of_firm(sums_set_aside: Each) -> Text:
    """What the document promises where no line but a sum set aside is provisional."""
    return where(
        less(0, sums_set_aside),
        "An estimate. A provisional sum is set aside for work that cannot be priced yet. You pay "
        "what that work comes to. The other lines are firm.",
        "A quote is a price that holds once it is accepted.",
    )


@rule
def document_promise(
    lines_provisional: Each, work_provisional: Each, sums_set_aside: Each, promise_of_firm: Text
) -> Text:
    """What the document promises."""
    return where(
        less(0, lines_provisional + work_provisional - sums_set_aside),
        "An estimate is a considered guess. The provisional lines may change, and are listed "
        "apart.",
        promise_of_firm,
    )


# What the lines of a quote name. A document by stages says it otherwise: documents/client.py.
MATERIALS_LISTED, WORK_LISTED = "the materials listed", "the work, preliminaries and fees listed"
COVERS_WORK = (
    f"The price covers {MATERIALS_LISTED}, in the packs their suppliers sell, and {WORK_LISTED}. "
    "It covers no other labour or plant."
)
COVERS_SUPPLY = (
    f"The price covers the supply of {MATERIALS_LISTED}, in the packs their suppliers sell. "
    "It covers no labour or plant."
)


@rule
def price_covers(work_sum: Pounds) -> Text:
    """What the price is for."""
    return where(less(0, work_sum), COVERS_WORK, COVERS_SUPPLY)


PROFIT_RULES = ("markup on cost", "margin on price")
INPUTS = (
    text("profit_rule", "Profit by", "On a cost of 1,000 a markup of 20 % makes 1,200, a margin "
                                     "of 20 % makes 1,250.", choices=PROFIT_RULES, default=PROFIT_RULES[0]),
    number("profit_percent", "Markup or margin", PERCENT, 0, 100, default=0),
    text("profit_on_delivery", "Profit on delivery too", choices=("no", "yes"), default="no"),
    number("minimum_charge", "Minimum charge", POUNDS, 0, 100000,
           "Added before VAT when the lines come to less. 0: none.", default=0),
)  # fmt: skip
COUNTS = (worked(margin_impossible, "A margin of 100 % or more"),)
CELLS = (
    *(cell_in_use(i) for i in INPUTS if i.unit is PERCENT),
    worked(price_factor, "Price for each pound of cost"),
    worked(firm_sum, "Firm lines"),
    worked(provisional_sum, "Provisional lines"),
    worked(quote_sum, "All lines"),
    worked(minimum_added, "To the minimum charge"),
    worked(quote_net, "Sum without VAT"),
    worked(quote_total, "Total with VAT"),
    worked(lines_quoted),
    worked(cost_total, "Cost of orders, without VAT"),
    worked(lines_provisional, "Provisional lines on this job"),
    worked(quote_warning, "Warning"),
    worked(document_word, "Document"),
    worked(promise_of_firm, "Promise, but for provisional lines"),
    worked(document_promise, "Promise"),
    worked(price_covers, "The price covers"),
)
