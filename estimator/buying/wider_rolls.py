"""Whether a wider roll, trimmed, costs less than one that is laid as it comes: roll by roll.

What is compared is what the roll would serve if all were bought from its supplier, so that nothing
here moves with the supplier that a line names. A roll that serves several widths, trimmed, is one run
with a lap at each change of width: with that lap counted, buying them together never takes a roll more
than buying them apart.
"""

from ..language import *
from .needs import SUPPLIERS
from .taking import packs_joined
from .whole_list import all_net, all_of, all_required, all_theirs, theirs

MOST_ROLLS = 8  # rolls of a wider one: with more the narrower stays

UNTRIMMED = tuple(WholeColumn("demands", f"untrimmed_{s}") for s in SUPPLIERS)


@rule
def trims_as(
    material_row: Each,
    laps_as_tray: Flag,
    sold_by: Each,
    material: Text,
    made_of: Text,
    net_price: Pounds,
    material_laps_as_dpc: Column,
) -> Text:
    """What may be trimmed in place of each other: supplier, material and make, as one text.

    Nothing for what is not DPC or tray in rolls, cannot be used, or has no price.
    """
    return where(
        both(
            less(0, sold_by * (laps_as_tray + beside(material_laps_as_dpc, material_row))),
            given(net_price),
        ),
        label_of(sold_by, material, made_of),
        "",
    )


@rule
def reach(content: Amount, lap: Metres) -> Amount:
    """What each roll adds: what it holds, less a lap."""
    return content - lap


@rule
def cost_untrimmed(
    trims_as: Text,
    own_net: Amount,
    own_pieces: Metres,
    own_required: Amount,
    lap: Metres,
    content: Amount,
    minimum_packs: Each,
    own_packs: Each,
    ranked_price: Pounds,
) -> Pounds:
    """What the job would pay for this roll, laid as it comes. 0 where it is not compared.

    Not compared: what is cut in whole pieces, and where one's own number of packs is typed.
    """
    return where(
        either(same(trims_as, ""), either(same(own_net, 0), less(0, own_pieces))),
        0,
        where(
            given(own_packs),
            0,
            to_pence(
                most(first_given(minimum_packs, 0), packs_joined(own_required, lap, content))
                * ranked_price
            ),
        ),
    )


@rule
def price_wider(
    cost_untrimmed: Pounds,
    trims_as: Text,
    width: Millimetres,
    book_ranked_price: Column,
    book_trims_as: TextColumn,
    book_width: Column,
) -> Amount:
    """Pounds for the cheapest of all wider rolls. NOTHING where there is none."""
    return where(
        less(0, cost_untrimmed),
        least(
            NOTHING,
            smallest_of(
                book_ranked_price,
                same(book_trims_as, trims_as),
                less(first_given(width, 0), book_width),
            ),
        ),
        NOTHING,
    )


@rule
def cost_wider(
    slot: Each,
    cost_untrimmed: Pounds,
    price_wider: Amount,
    trims_as: Text,
    width: Millimetres,
    own_required: Amount,
    book_ranked_price: Column,
    book_trims_as: TextColumn,
    book_width: Column,
    book_reach: Column,
    book_minimum_packs: Column,
) -> Amount:
    """Pounds for so many of a wider roll, of the cheapest that are enough. NOTHING where none is.

    Not looked for where so many of the cheapest of all would cost no less.
    """
    return where(
        less(slot * price_wider, cost_untrimmed),
        least(
            NOTHING,
            to_pence(
                slot
                * smallest_of(
                    book_ranked_price,
                    same(book_trims_as, trims_as),
                    less(first_given(width, 0), book_width),
                    at_most(own_required, slot * book_reach),
                    at_most(book_minimum_packs, slot),
                )
            ),
        ),
        NOTHING,
    )


@rule
def least_wider(*cost_wider: Amount) -> Amount:
    """The least of these."""
    return least(*cost_wider)


@rule
def rolls_wider(
    least_wider: Amount,
    cost_wider_1: Amount,
    cost_wider_2: Amount,
    cost_wider_3: Amount,
    cost_wider_4: Amount,
    cost_wider_5: Amount,
    cost_wider_6: Amount,
    cost_wider_7: Amount,
) -> Each:
    """How many rolls that is, the fewest where several numbers cost alike."""
    return where(
        same(cost_wider_1, least_wider),
        1,
        where(
            same(cost_wider_2, least_wider),
            2,
            where(
                same(cost_wider_3, least_wider),
                3,
                where(
                    same(cost_wider_4, least_wider),
                    4,
                    where(
                        same(cost_wider_5, least_wider),
                        5,
                        where(
                            same(cost_wider_6, least_wider),
                            6,
                            where(same(cost_wider_7, least_wider), 7, MOST_ROLLS),
                        ),
                    ),
                ),
            ),
        ),
    )


@rule
def width_wider(
    cost_untrimmed: Pounds,
    least_wider: Amount,
    rolls_wider: Each,
    trims_as: Text,
    width: Millimetres,
    own_required: Amount,
    book_ranked_price: Column,
    book_trims_as: TextColumn,
    book_width: Column,
    book_reach: Column,
    book_minimum_packs: Column,
) -> Millimetres:
    """Width of that wider roll, the narrowest of those alike. 0 where none costs less."""
    return where(
        less(least_wider, cost_untrimmed),
        smallest_of(
            book_width,
            same(book_trims_as, trims_as),
            less(first_given(width, 0), book_width),
            at_most(own_required, rolls_wider * book_reach),
            at_most(book_minimum_packs, rolls_wider),
            at_most(rolls_wider * book_ranked_price, least_wider),
        ),
        0,
    )


@rule
def instead(
    width_wider: Millimetres,
    least_wider: Amount,
    rolls_wider: Each,
    trims_as: Text,
    own_required: Amount,
    book_position: Column,
    book_ranked_price: Column,
    book_trims_as: TextColumn,
    book_width: Column,
    book_reach: Column,
    book_minimum_packs: Column,
) -> Each:
    """Row of the roll that is bought instead, trimmed, the first of those alike. 0 for none."""
    return where(
        less(0, width_wider),
        smallest_of(
            book_position,
            same(book_trims_as, trims_as),
            same(book_width, width_wider),
            at_most(own_required, rolls_wider * book_reach),
            at_most(book_minimum_packs, rolls_wider),
            at_most(rolls_wider * book_ranked_price, least_wider),
        ),
        0,
    )


@rule
def instead_said(instead: Each, book_code: TextColumn) -> Text:
    """That a wider roll is taken in its place, and which."""
    return where(
        less(0, instead),
        one_text("a wider roll is taken instead: ", beside(book_code, instead)),
        "",
    )


BOOK_COLUMNS = (
    worked(trims_as, "Trimmed as"),
    worked(reach, "Each roll adds"),
    worked(all_net, "If untrimmed, all from here: net", "own_net", picks=UNTRIMMED),
    worked(all_theirs, "If untrimmed, all from here: laps", "own_laps", net=OwnCell("own_net"),
           **theirs("laps", "untrimmed")),
    worked(all_of, "If untrimmed: in whole pieces", "own_pieces", net=OwnCell("own_net"),
           picks=UNTRIMMED, figure=WholeColumn("demands", "in_pieces")),
    worked(all_required, "If untrimmed: with wastage", "own_required", all_net=OwnCell("own_net"),
           all_laps=OwnCell("own_laps"), all_pieces=OwnCell("own_pieces")),
    worked(cost_untrimmed, "If untrimmed: cost"),
    worked(price_wider, "Wider: price of the cheapest"),
    *slots(cost_wider, "Wider: cost of rolls", "cost_wider", MOST_ROLLS),
    worked(least_wider, "Wider: least cost"),
    worked(rolls_wider, "Wider: rolls"),
    worked(width_wider, "Wider: width"),
    worked(instead, "Bought instead"),
    worked(instead_said, "Instead of it"),
)  # fmt: skip
