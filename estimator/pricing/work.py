"""Work on site and what goes with it: labour, plant, preliminaries, fees, provisional sums.

Every figure is the estimator's own: nothing is shipped as the truth about hours or rates. A line
may follow a quantity of the list of everything counted, bought here or not.

What is typed is what it costs, with any VAT that cannot be reclaimed: labour carries none, so
the suppliers' VAT is never put on these lines.
"""

from typing import Any

from ..language import *
from ..language.percent import column_in_use, percent_usable

WHOLE = 100  # per cent
PROVISIONAL_SUM = "provisional sum"
ON_SITE, PRELIMS_AND_FEES = "Work on site", "Preliminaries and fees"
FIXED, PER_UNIT, HOURS, PERCENTAGE = WAYS = ("fixed", "per unit", "hours per unit", "percentage")

WORK_KINDS = Table(
    "work_kinds",
    "work_kind",
    "Kinds of work",
    (
        Fixed("name", "Kind of work", TEXT),
        Fixed("stage", "Stage", TEXT),
        Fixed("with_profit", "May carry profit", FLAG),
        Fixed("in_base", "Percentages count it", FLAG),
        Fixed("set_aside", "A provisional sum", FLAG),
        Fixed("counted_in", "Counted on the quote as", TEXT),
        find("stage_no", "Stage no.", by="stage", where="stages.name"),
    ),
    key="name",
    guarded=False,
)


def _kind(name: str, stage: str, flags: str, counted_in: str = "item") -> dict[str, Any]:
    columns = ("with_profit", "in_base", "set_aside")
    words = {"name": name, "stage": stage, "counted_in": counted_in}
    return words | {c: int(c in flags) for c in columns}


WORK_KIND_ROWS = (
    _kind("labour", ON_SITE, "with_profit in_base"),
    _kind("plant", ON_SITE, "with_profit in_base"),
    _kind("preliminaries", PRELIMS_AND_FEES, "with_profit"),
    _kind("fee", PRELIMS_AND_FEES, ""),
    _kind(PROVISIONAL_SUM, ON_SITE, "set_aside", "sum"),
)


@rule
def by_hours(way: Text) -> Flag:
    """1 where hours are counted, so that a rate is needed."""
    return where(same(way, "hours per unit"), 1, 0)


@rule
def by_quantity(way: Text) -> Flag:
    """1 where the line follows a quantity."""
    return where(either(same(way, "per unit"), same(way, "hours per unit")), 1, 0)


@rule
def by_percentage(way: Text) -> Flag:
    """1 where the line is a percentage of others."""
    return where(same(way, "percentage"), 1, 0)


@rule
def rate_misfits(by_hours: Flag, rate: Pounds) -> Flag:
    """1 for hours without their rate, or for a rate that nothing would read."""
    return where(same(by_hours + where(given(rate), 1, 0), 1), 1, 0)


@rule
def quantity_misfits(by_quantity: Flag, wired_to: Text) -> Flag:
    """1 for a line that lacks its quantity, or is wired to one that it would not read."""
    return where(same(by_quantity + where(is_blank(wired_to), 0, 1), 1), 1, 0)


@rule
def percentage_misfits(by_percentage: Flag, figure: Amount) -> Flag:
    """1 for a percentage that is above 100, or can be read in two ways."""
    return where(same(by_percentage, 1), where(same(percent_usable(figure, WHOLE), 1), 0, 1), 0)


@rule
def misfit(rate_misfits: Flag, quantity_misfits: Flag, percentage_misfits: Flag) -> Flag:
    """1 where priced by, figure, rate and quantity do not go together."""
    return where(less(0, rate_misfits + quantity_misfits + percentage_misfits), 1, 0)


@rule
def quantity(measure_row: Each, measure_measured: Column) -> Amount:
    """The quantity it follows, net, as measured. 0 for a line that follows none."""
    return where(less(0, measure_row), beside(measure_measured, measure_row), 0)


@rule
def unit(measure_row: Each, measure_unit: TextColumn) -> Text:
    """What that quantity is counted in."""
    return where(less(0, measure_row), beside(measure_unit, measure_row), "")


@rule
def hours(by_hours: Flag, figure: Amount, quantity: Amount) -> Amount:
    """Hours in all."""
    return by_hours * figure * quantity


@rule
def cost(
    way: Text, figure: Amount, rate: Pounds, quantity: Amount, hours: Amount, by_hours: Flag
) -> Amount:
    """What it costs before profit. A percentage is worked out apart."""
    return where(
        same(by_hours, 1),
        hours * where(given(rate), rate, 0),
        where(same(way, "per unit"), figure * quantity, where(same(way, "fixed"), figure, 0)),
    )


@rule
def priced(cost: Amount, with_profit: Flag, profit_on_work: Text, price_factor: Amount) -> Pounds:
    """As quoted, without VAT: with profit only where its kind and the job say so."""
    return to_pence(
        cost * where(both(same(with_profit, 1), same(profit_on_work, "yes")), price_factor, 1)
    )


@rule
def amount(by_percentage: Flag, figure: Amount, percentage_base: Pounds, priced: Pounds) -> Pounds:
    """What the client is asked for the line, without VAT.

    A percentage is of prices that carry their profit already, and gets none of its own.
    """
    return where(same(by_percentage, 1), to_pence(figure / 100 * percentage_base), priced)


@rule
def unsure(set_aside: Flag, measure_row: Each, measure_provisional: Column) -> Flag:
    """1 for a provisional sum, and for work on what is itself provisional."""
    return where(
        same(set_aside, 1),
        1,
        where(less(0, measure_row), beside(measure_provisional, measure_row), 0),
    )


@rule
def provisional(unsure: Flag, by_percentage: Flag, base_provisional: Flag) -> Flag:
    """1 where the price may change: a percentage is as sure as what it is a percentage of."""
    return where(less(0, unsure + by_percentage * base_provisional), 1, 0)


@rule
def quote_no(
    position: Each,
    amount: Pounds,
    stage_no: Each,
    lines_before_work: Each,
    work_line_amount: Column,
    work_line_stage_no: Column,
    work_line_position: Column,
) -> Each:
    """The line of the quote it stands on, after goods and deliveries. 0 for nothing to price."""
    return where(
        less(0, amount),
        lines_before_work
        + count_of(
            less(0, work_line_amount),
            either(
                less(work_line_stage_no, stage_no),
                both(same(work_line_stage_no, stage_no), less(work_line_position, position + 1)),
            ),
        ),
        0,
    )


@rule
def work_note(misfit: Flag, amount: Pounds, unsure: Flag, set_aside: Flag) -> Text:
    """What stands against the line, or what it rests on."""
    return where(
        same(misfit, 1),
        "priced by, figure, rate and quantity do not go together",
        where(
            same(amount, 0),
            "comes to nothing: not on the quote",
            where(both(same(unsure, 1), same(set_aside, 0)), "follows a provisional line", ""),
        ),
    )


FIGURE = number(
    "figure", "Figure", AMOUNT, 0, 1000000, "Pounds, pounds per unit, hours per unit or percent. "
                                            "As it costs you, with any VAT you cannot reclaim.",
    percent_in=("way", PERCENTAGE),
)  # fmt: skip

WORK_LINES = Table(
    "work_lines",
    "work_line",
    "Labour, plant, preliminaries and fees",
    (
        text("mark", "Ref", "The line's own reference, used once."),
        text("description", "Description", "As it is to be printed on the quote."),
        text("kind", "Kind", choice_of="work_kinds.name"),
        text("way", "Priced by", "A percentage is of all goods as quoted, without delivery, and "
                                 "of all labour and plant that is not itself a percentage.", choices=WAYS),
        FIGURE,
        number("rate", "Rate of an hour", POUNDS, 0.01, 10000, "Only for hours per unit.",
               required=False),
        text("wired_to", "Follows", "Only for per unit and hours per unit: the quantity, net as "
                                    "measured, bought here or not.", choice_of="measures.label", required=False),
        column_in_use(FIGURE),
        find("kind_row", "Kind no.", by="kind", where="work_kinds.name"),
        read("stage_no", "Stage no.", EACH, "work_kinds.stage_no", at="kind_row"),
        read("with_profit", "May carry profit", FLAG, "work_kinds.with_profit", at="kind_row"),
        read("in_base", "In percentages", FLAG, "work_kinds.in_base", at="kind_row"),
        read("set_aside", "Set aside", FLAG, "work_kinds.set_aside", at="kind_row"),
        worked(by_hours, "By hours"),
        worked(by_quantity, "By quantity"),
        worked(by_percentage, "By percentage"),
        worked(rate_misfits, "Rate misfits"),
        worked(quantity_misfits, "Quantity misfits"),
        worked(percentage_misfits, "No percentage", figure=TypedCell("figure")),
        worked(misfit, "Misfit"),
        find("measure_row", "Quantity no.", by="wired_to", where="measures.label"),
        worked(quantity),
        worked(unit),
        worked(hours),
        worked(cost, "Cost"),
        worked(priced, "Priced by itself"),
        worked(unsure, "Unsure by itself"),
        worked(provisional),
        worked(amount, "Price"),
        worked(quote_no, "Quote line"),
        worked(work_note, "Note"),
    ),
    grows=True,
    shown=("quantity", "hours", "cost", "amount",), said="work_note",
    spare=(4, 12),
)  # fmt: skip


@rule
def lines_before_work(book_quote_no: Column, supplier_quote_no: Column) -> Each:
    """Lines of the quote that goods and their deliveries take."""
    return count_of(less(0, book_quote_no)) + count_of(less(0, supplier_quote_no))


@rule
def percentage_base(
    book_quoted: Column, work_line_priced: Column, work_line_in_base: Column
) -> Pounds:
    """What percentages are of: goods as quoted, without delivery, and labour and plant."""
    return to_pence(total(book_quoted) + sum_of(work_line_priced, same(work_line_in_base, 1)))


@rule
def base_provisional(
    book_provisional: Column,
    work_line_unsure: Column,
    work_line_in_base: Column,
    work_line_priced: Column,
) -> Flag:
    """1 when anything that percentages are of is provisional."""
    return where(
        less(
            0,
            count_of(same(book_provisional, 1))
            + count_of(
                same(work_line_unsure, 1), same(work_line_in_base, 1), less(0, work_line_priced)
            ),
        ),
        1,
        0,
    )


@rule
def work_sum(work_line_amount: Column) -> Pounds:
    """All lines of work, preliminaries, fees and provisional sums, without VAT."""
    return to_pence(total(work_line_amount))


@rule
def work_provisional(work_line_provisional: Column, work_line_amount: Column) -> Each:
    """Lines of work that are provisional, provisional sums among them."""
    return count_of(same(work_line_provisional, 1), less(0, work_line_amount))


@rule
def sums_set_aside(work_line_set_aside: Column, work_line_amount: Column) -> Each:
    """Provisional sums."""
    return count_of(same(work_line_set_aside, 1), less(0, work_line_amount))


@rule
def work_misfits(work_line_misfit: Column) -> Each:
    """Lines of work whose priced by, figure, rate and quantity do not go together."""
    return count_of(same(work_line_misfit, 1))


INPUTS = (
    text("profit_on_work", "Profit on work too", "On labour, plant and preliminaries, never on "
                                                 "fees and provisional sums.", choices=("no", "yes"), default="no"),
)  # fmt: skip
COUNTS = (worked(work_misfits, "Lines of work that do not fit together"),)
CELLS = (
    worked(lines_before_work, "Quote lines before work"),
    worked(percentage_base, "What percentages are of"),
    worked(base_provisional, "Of which some is provisional"),
    worked(work_sum, "Work, preliminaries and fees"),
    worked(work_provisional, "Provisional lines of work"),
    worked(sums_set_aside, "Provisional sums"),
)
