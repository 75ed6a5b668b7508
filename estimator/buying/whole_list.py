"""What the whole list would cost from each supplier alone, live beside the choice that is made.

Every demand picks its product from each supplier in turn (demands.py), and the price book works
out packs and cost as if all were bought there. Tape follows the laps of the sheet really bought.
"""

from ..language import *
from .delivery import delivery_due
from .needs import SUPPLIERS
from .taking import (
    cost,
    joined,
    packs_needed,
    pieces_rolls,
    price_missing,
    required,
)

# ---- the price book, as if all were bought from this row's supplier ----------------------------

PICKS = tuple(WholeColumn("demands", f"pick_{slot}") for slot in SUPPLIERS)


def theirs(figure: str, pick: str) -> dict[str, WholeColumn]:
    """That figure of the demands and what is sent for each, a column for each supplier."""
    return {
        f"{argument}_{slot}": WholeColumn("demands", f"{name}_{slot}")
        for argument, name in (("figure", figure), ("pick", pick))
        for slot in SUPPLIERS
    }


@rule
def all_net(position: Each, slot: Each, demand_wanted: Column, *picks: Column) -> Amount:
    """As measured, of all that its own supplier would send this product for."""
    return sum_of(demand_wanted, same(column_at(most(1, slot), *picks), position))


@rule
def all_of(net: Amount, position: Each, slot: Each, figure: Column, *picks: Column) -> Amount:
    """A figure of the demands, of all that its own supplier would send this product for."""
    return where(less(0, net), sum_of(figure, same(column_at(most(1, slot), *picks), position)), 0)


@rule
def all_longest(
    net: Amount, position: Each, slot: Each, demand_longest: Column, *picks: Column
) -> Metres:
    """Longest piece of all that its own supplier would send this product for."""
    return where(
        less(0, net),
        largest_of(demand_longest, same(column_at(most(1, slot), *picks), position)),
        0,
    )


@rule
def all_theirs(
    net: Amount,
    position: Each,
    slot: Each,
    figure_one: Column,
    figure_two: Column,
    figure_three: Column,
    figure_four: Column,
    figure_five: Column,
    pick_one: Column,
    pick_two: Column,
    pick_three: Column,
    pick_four: Column,
    pick_five: Column,
) -> Amount:
    """The same of a figure that differs with the supplier."""
    return where(
        less(0, net),
        sum_of(
            column_at(
                most(1, slot), figure_one, figure_two, figure_three, figure_four, figure_five
            ),
            same(
                column_at(most(1, slot), pick_one, pick_two, pick_three, pick_four, pick_five),
                position,
            ),
        ),
        0,
    )


@rule
def all_cut(
    all_counted: Each,
    all_pieces: Metres,
    all_rolls: Each,
    pieces_counted: Each,
    pieces_metres: Metres,
    pieces_cut: Each,
) -> Each:
    """Rolls when every piece stays whole, if all were bought from its supplier: at most these.

    Where they are the pieces that are bought of it anyway, as many as are bought.
    """
    return where(
        both(
            same(all_counted, pieces_counted),
            same(to_six_places(all_pieces), to_six_places(pieces_metres)),
        ),
        pieces_cut,
        all_rolls,
    )


@rule
def all_required(all_net: Amount, all_laps: Amount, all_pieces: Metres, wastage: Percent) -> Amount:
    """To be covered by packs joined to each other, if all were bought from its supplier."""
    return required(joined(all_net, all_laps, all_pieces), 0, wastage)


@rule
def all_packs(
    all_required: Amount,
    lap: Metres,
    content: Amount,
    minimum_packs: Each,
    own_packs: Each,
    by_area: Flag,
    sheet_taken: Each,
    all_cut: Each,
    all_net: Amount,
) -> Each:
    """Packs, if all were bought from its supplier: one's own number where it is enough."""
    return where(
        less(0, all_net),
        most(
            first_given(minimum_packs, 0),
            first_given(own_packs, 0),
            packs_needed(all_net, all_required, lap, content, by_area, sheet_taken, all_cut),
        ),
        0,
    )


BOOK_COLUMNS = (
    worked(all_net, "All from here: net", picks=PICKS),
    worked(all_theirs, "laps", "all_laps", net=OwnCell("all_net"), **theirs("laps", "pick")),
    worked(all_longest, "longest piece", net=OwnCell("all_net"), picks=PICKS),
    worked(all_theirs, "piece by piece", "all_counted", net=OwnCell("all_net"),
           **theirs("rolls", "pick")),
    worked(all_of, "in whole pieces", "all_pieces", net=OwnCell("all_net"), picks=PICKS,
           figure=WholeColumn("demands", "in_pieces")),
    worked(pieces_rolls, "by pieces", "all_rolls", pieces_counted=OwnCell("all_counted"),
           pieces_metres=OwnCell("all_pieces"), pieces_longest=OwnCell("all_longest")),
    worked(all_cut, "cut whole"),
    worked(all_required, "with wastage"),
    worked(all_packs, "packs"),
    worked(cost, "cost", "all_cost", packs=OwnCell("all_packs")),
    worked(price_missing, "price missing", "all_price_missing", packs=OwnCell("all_packs")),
)  # fmt: skip

# ---- the suppliers side by side ----------------------------------------------------------------


@rule
def lacking(demand_needs: Column, picks: Column) -> Each:
    """Needs that a supplier stocks nothing for."""
    return sum_of(demand_needs, same(picks, 0))


CELLS = tuple(
    worked(
        lacking,
        f"Needs that supplier {n} stocks nothing for",
        f"lacking_{slot}",
        picks=WholeColumn("demands", f"pick_{slot}"),
    )
    for n, slot in enumerate(SUPPLIERS, 1)
)


@rule
def all_lacking(
    position: Each,
    lacking_one: Each,
    lacking_two: Each,
    lacking_three: Each,
    lacking_four: Each,
    lacking_five: Each,
) -> Each:
    """Needs that this supplier stocks nothing for."""
    return choose(position, lacking_one, lacking_two, lacking_three, lacking_four, lacking_five)


@rule
def all_goods(position: Each, book_all_cost: Column, book_slot: Column) -> Pounds:
    """All that this supplier stocks of the whole list, without VAT."""
    return to_pence(sum_of(book_all_cost, same(book_slot, position)))


@rule
def all_unlaid(position: Each, book_slot: Column, book_sheet_unlaid: Column) -> Each:
    """Rolls of sheet of this supplier that are not laid out, so that none of them has a cost."""
    return sum_of(book_sheet_unlaid, same(book_slot, position))


@rule
def all_unpriced(
    position: Each, delivery: Pounds, book_slot: Column, book_all_price_missing: Column
) -> Each:
    """What has no price: products that the whole list takes from this supplier, and delivery."""
    return sum_of(book_all_price_missing, same(book_slot, position)) + where(given(delivery), 0, 1)


@rule
def all_total(
    all_goods: Pounds,
    delivery: Pounds,
    free_over: Pounds,
    all_lacking: Each,
    all_unlaid: Each,
    all_unpriced: Each,
) -> Pounds:
    """The whole list from this supplier in one drop, without VAT.

    Not known where it does not cover the whole list, or where a price or delivery charge is missing.
    """
    return available(
        same(all_lacking + all_unlaid + all_unpriced, 0),
        to_pence(all_goods + delivery_due(all_goods, delivery, free_over)),
    )


@rule
def all_note(
    all_lacking: Each,
    all_unlaid: Each,
    all_unpriced: Each,
    all_goods: Pounds,
    minimum_order: Pounds,
) -> Text:
    """Whether the sum covers the whole list, and can be ordered."""
    return where(
        less(0, all_unlaid),
        "more rolls of sheet than are laid out",
        where(
            less(0, all_lacking),
            "does not stock all of it",
            where(
                less(0, all_unpriced),
                "a price or the delivery charge is missing",
                where(
                    less(all_goods, first_given(minimum_order, 0)), "below its minimum order", ""
                ),
            ),
        ),
    )


SUPPLIER_COLUMNS = (
    worked(all_goods, "Whole list: goods"),
    worked(all_total, "Whole list, delivered"),
    worked(all_lacking, "Needs it lacks"),
    worked(all_unlaid, "Rolls of sheet not laid out"),
    worked(all_unpriced, "Prices missing"),
    worked(all_note, "Whole list"),
)
