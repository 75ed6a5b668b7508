"""What this job takes of a product: summed, lapped, wasted, packed, priced, and where it stands."""

from ..language import *
from .packing import at_most_rolls, rolls_for


@rule
def net(position: Each, demand_wanted: Column, demand_pick: Column) -> Amount:
    """Needed of this product, as measured."""
    return sum_of(demand_wanted, same(demand_pick, position))


@rule
def laps(net: Amount, position: Each, demand_laps: Column, demand_pick: Column) -> Amount:
    """Laps at ends and corners, and turn-ups, of all that is needed."""
    return where(less(0, net), sum_of(demand_laps, same(demand_pick, position)), 0)


@rule
def required(net: Amount, laps: Amount, wastage: Percent) -> Amount:
    """To be covered by packs: net, laps and turn-ups, and wastage."""
    return (net + laps) * (1 + wastage / 100)


@rule
def pieces_counted(net: Amount, position: Each, demand_rolls: Column, demand_pick: Column) -> Each:
    """Rolls when every piece stays whole, counted length by length."""
    return where(less(0, net), sum_of(demand_rolls, same(demand_pick, position)), 0)


@rule
def pieces_longest(
    net: Amount, position: Each, demand_longest: Column, demand_pick: Column
) -> Metres:
    """Longest piece that comes from this product."""
    return where(less(0, net), largest_of(demand_longest, same(demand_pick, position)), 0)


@rule
def pieces_metres(
    net: Amount, position: Each, demand_in_pieces: Column, demand_pick: Column
) -> Metres:
    """Metres of this product that are cut in whole pieces."""
    return where(less(0, net), sum_of(demand_in_pieces, same(demand_pick, position)), 0)


@rule
def joined(net: Amount, laps: Amount, pieces_metres: Metres) -> Amount:
    """The rest: net and laps of what may be joined from pack to pack."""
    return net + laps - pieces_metres


@rule
def pieces_rolls(
    pieces_counted: Each, pieces_metres: Metres, length: Metres, pieces_longest: Metres
) -> Each:
    """Rolls when every piece stays whole: at most these."""
    return at_most_rolls(pieces_counted, pieces_metres, first_given(length, 0), pieces_longest)


@rule
def pieces_cut(pieces_rolls: Each, rolls_cut: Each) -> Each:
    """Rolls when every piece stays whole, as they are cut one after the other."""
    return where(less(0, rolls_cut), least(pieces_rolls, rolls_cut), pieces_rolls)


@rule
def sheet_taken(
    position: Each, sheet_row: Each, sheet_rolls: Each, rolls_cut: Each, wastage: Percent
) -> Each:
    """Rolls of sheet: of the one that is bought, as its strips are cut one after the other."""
    return where(
        both(same(position, sheet_row), less(0, rolls_cut)),
        least(sheet_rolls, whole_up(rolls_cut * (1 + wastage / 100))),
        sheet_rolls,
    )


@rule
def packs_joined(required: Amount, lap: Metres, content: Amount) -> Each:
    """Packs for what may be joined from one to the next."""
    return where(less(0, required), rolls_for(required, lap, content), 0)


@rule
def packs_needed(
    net: Amount,
    required: Amount,
    lap: Metres,
    content: Amount,
    by_area: Flag,
    sheet_taken: Each,
    pieces_cut: Each,
) -> Each:
    """Packs that cover what is needed: sheet by its layouts, pieces by their cutting."""
    return where(
        less(0, net),
        where(
            same(by_area, 1),
            sheet_taken,
            pieces_cut + packs_joined(required, lap, content),
        ),
        0,
    )


@rule
def packs_worked(packs_needed: Each, minimum_packs: Each) -> Each:
    """Packs to buy as worked out: no fewer than the supplier sells at once."""
    return where(less(0, packs_needed), most(first_given(minimum_packs, 0), packs_needed), 0)


@rule
def packs(packs_worked: Each, own_packs: Each) -> Each:
    """Packs to buy: a number of one's own where one is typed and the job takes the product."""
    return where(less(0, packs_worked), first_given(own_packs, packs_worked), 0)


@rule
def own_note(packs_worked: Each, own_packs: Each) -> Text:
    """What is to be known of one's own number: too few, or of what the job does not take."""
    return where(
        less(0, first_given(own_packs, 0)),
        where(
            same(packs_worked, 0),
            "your own packs are not ordered: no line needs this product",
            where(
                less(first_given(own_packs, 0), packs_worked),
                one_text("your own packs are too few: ", in_figures(packs_worked), " needed"),
                "",
            ),
        ),
        "",
    )


@rule
def own_packs_short(book_own_packs: Column, book_packs_worked: Column) -> Each:
    """Products of which one's own number of packs is fewer than the job needs."""
    return count_of(less(0, book_own_packs), less(book_own_packs, book_packs_worked))


@rule
def laid(
    net: Amount,
    laps: Amount,
    joined: Amount,
    packs_needed: Each,
    lap: Metres,
    content: Amount,
    by_area: Flag,
    sheet_laid: Amount,
) -> Amount:
    """Net, and all laps and turn-ups, those between rolls included. No wastage."""
    return where(
        less(0, packs_needed),
        where(
            same(by_area, 1),
            sheet_laid,
            net + laps + where(less(0, joined), lap * (rolls_for(joined, lap, content) - 1), 0),
        ),
        0,
    )


@rule
def ordered(packs: Each, content: Amount) -> Amount:
    """What the packs hold."""
    return packs * content


@rule
def left(ordered: Amount, laid: Amount) -> Amount:
    """What is left when all is laid: wastage and the rest of the last pack."""
    return ordered - laid


@rule
def cost(packs: Each, net_price: Pounds) -> Pounds:
    """What the supplier charges, without VAT."""
    return to_pence(packs * first_given(net_price, 0))


@rule
def price_missing(packs: Each, price: Pounds) -> Flag:
    """1 for a product that is needed and has no price."""
    return where(less(0, packs), where(given(price), 0, 1), 0)


@rule
def missing_no(
    price_missing: Flag, position: Each, book_price_missing: Column, book_position: Column
) -> Each:
    """Its place among the products that are needed and have no price. 0 for any other."""
    return where(
        same(price_missing, 1),
        count_of(same(book_price_missing, 1), less(book_position, position + 1)),
        0,
    )


@rule
def quoted(cost: Pounds, cost_factor: Amount, price_factor: Amount) -> Pounds:
    """What the client is asked for this line, without VAT."""
    return to_pence(cost * cost_factor * price_factor)


@rule
def provisional(
    packs: Each, position: Each, demand_pick: Column, demand_provisional: Column
) -> Flag:
    """1 when any line that takes this product is provisional."""
    return where(
        less(0, packs),
        where(less(0, count_of(same(demand_pick, position), less(0, demand_provisional))), 1, 0),
        0,
    )


@rule
def stage_no(
    packs: Each,
    position: Each,
    demand_stage_no: Column,
    demand_pick: Column,
    stage_position: Column,
) -> Each:
    """The first stage that uses this product."""
    return where(
        less(0, packs),
        largest_of(stage_position) - largest_of(
            largest_of(stage_position) - demand_stage_no, same(demand_pick, position)
        ),
        0,
    )  # fmt: skip


@rule
def quote_no(stage_no: Each, position: Each, book_stage_no: Column, book_position: Column) -> Each:
    """The line of the quote it stands on: by stage, then as in the book. 0 when not bought."""
    return where(
        less(0, stage_no),
        count_of(
            less(0, book_stage_no),
            either(
                less(book_stage_no, stage_no),
                both(same(book_stage_no, stage_no), less(book_position, position + 1)),
            ),
        ),
        0,
    )


@rule
def order_no(
    packs: Each,
    slot: Each,
    position: Each,
    book_packs: Column,
    book_slot: Column,
    book_position: Column,
) -> Each:
    """The line of the order lists it stands on: by supplier, then as in the book."""
    return where(
        less(0, packs),
        count_of(
            less(0, book_packs),
            either(
                less(book_slot, slot),
                both(same(book_slot, slot), less(book_position, position + 1)),
            ),
        ),
        0,
    )  # fmt: skip


@rule
def under_coping(
    packs: Each, position: Each, demand_pick: Column, demand_under_coping: Column
) -> Flag:
    """1 for a product that is laid under copings."""
    return where(
        less(0, packs),
        where(less(0, count_of(same(demand_pick, position), less(0, demand_under_coping))), 1, 0),
        0,
    )


@rule
def no_make_of_coping(under_coping: Flag, made_of: Text) -> Flag:
    """1 for a product laid under copings that does not say what it is made of."""
    return where(same(made_of, ""), under_coping, 0)


@rule
def no_make_of_tray(laps_as_tray: Flag, packs: Each, made_of: Text) -> Flag:
    """1 for a roll of tray bought that does not say what it is made of."""
    return where(both(less(0, laps_as_tray * packs), same(made_of, "")), 1, 0)


@rule
def sheet_proven(
    sheet_metres: Metres,
    position: Each,
    length: Metres,
    layout_least_metres: Column,
    layout_book_row: Column,
) -> Each:
    """Rolls that the strips of all floors fill at the least, whichever way they run."""
    return where(
        less(0, sheet_metres),
        whole_up(
            divided(
                sum_of(layout_least_metres, same(layout_book_row, position)),
                first_given(length, 0),
            )
        ),
        0,
    )


@rule
def counted_how(
    packs: Each,
    by_area: Flag,
    whole_strips: Flag,
    pieces_metres: Metres,
    joined: Amount,
    length: Metres,
    packs_needed: Each,
    sheet_proven: Each,
) -> Text:
    """Whether fewer rolls could do for what is cut in whole pieces. Nothing for all else."""
    return where(
        both(less(0, packs), less(0, by_area * whole_strips + pieces_metres)),
        where(
            at_most(
                packs_needed,
                where(
                    same(by_area, 1),
                    sheet_proven,
                    where(
                        less(0, joined), 0, whole_up(divided(pieces_metres, first_given(length, 0)))
                    ),
                ),
            ),
            "least, proven",
            "may be fewer",
        ),
        "",
    )
