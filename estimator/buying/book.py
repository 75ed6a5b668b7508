"""The price book: one row for each supplier and product, and what this job takes of it.

The row is the hub. Needs choose rows; equal products are summed here before they are rounded up
to packs; orders and quote read the result.
"""

from ..rules import (
    Table,
    beside,
    both,
    choose,
    count_of,
    divided,
    either,
    first_given,
    largest_of,
    less,
    most,
    number,
    rule,
    same,
    sum_of,
    text,
    to_pence,
    to_six_places,
    where,
    whole_up,
    worked,
)
from ..rules.reading import find, read
from ..rules.units import (
    EACH,
    FLAG,
    KILOGRAMS,
    METRES,
    MICROMETRES,
    MILLIMETRES,
    POUNDS,
    Amount,
    Column,
    Each,
    Flag,
    Kilograms,
    Metres,
    Millimetres,
    Percent,
    Pounds,
    Text,
)
from .packing import at_most_rolls, rolls_for
from .whole_list import BOOK_COLUMNS


@rule
def in_roll(
    material_row: Each,
    by_area: Flag,
    width: Millimetres,
    length: Metres,
    material_by_length: Column,
) -> Amount:
    """What a roll holds: metres, or square metres of sheet; 0 for what comes in no roll."""
    return first_given(length, 0) * (
        beside(material_by_length, material_row) + by_area * (first_given(width, 0) / 1000)
    )


@rule
def content(
    material_row: Each,
    in_roll: Amount,
    pieces: Each,
    weight: Kilograms,
    material_by_piece: Column,
    material_by_weight: Column,
) -> Amount:
    """What one pack holds, in the unit the material is counted in."""
    return (
        in_roll
        + beside(material_by_piece, material_row) * first_given(pieces, 0)
        + beside(material_by_weight, material_row) * (first_given(weight, 0) / 1000)
    )


@rule
def lap(
    material_row: Each,
    dpc_lap: Millimetres,
    tray_lap: Millimetres,
    material_laps_as_dpc: Column,
    laps_as_tray: Flag,
) -> Metres:
    """Length lost at each change of roll; 0 for what is not lapped."""
    return where(
        same(beside(material_laps_as_dpc, material_row), 1),
        dpc_lap / 1000,
        where(same(laps_as_tray, 1), tray_lap / 1000, 0),
    )


@rule
def roll_no(by_area: Flag, position: Each, book_by_area: Column, book_position: Column) -> Each:
    """Which of the stocked sheet rolls this is, in the order of the list; 0 for other goods."""
    return where(
        same(by_area, 1), count_of(same(book_by_area, 1), less(book_position, position + 1)), 0
    )


@rule
def sheet_metres(position: Each, layout_roll_metres: Column, layout_book_row: Column) -> Metres:
    """Metres of this sheet's roll laid in all zones, if it is the one chosen."""
    return sum_of(layout_roll_metres, same(layout_book_row, position))


@rule
def sheet_whole(position: Each, layout_rolls: Column, layout_book_row: Column) -> Each:
    """Rolls of this sheet for all zones when strips stay whole: zone by zone, at most."""
    return sum_of(layout_rolls, same(layout_book_row, position))


@rule
def sheet_longest(position: Each, layout_strip_length: Column, layout_book_row: Column) -> Metres:
    """Longest strip of this sheet in any zone."""
    return largest_of(layout_strip_length, same(layout_book_row, position))


@rule
def sheet_cut(
    sheet_whole: Each, sheet_metres: Metres, sheet_longest: Metres, length: Metres
) -> Each:
    """Rolls of this sheet for all zones when strips stay whole: at most these."""
    return at_most_rolls(sheet_whole, sheet_metres, first_given(length, 0), sheet_longest)


@rule
def sheet_rolls(
    whole_strips: Flag,
    sheet_cut: Each,
    sheet_metres: Metres,
    wastage: Percent,
    length: Metres,
    dpm_lap: Millimetres,
) -> Each:
    """Rolls of this sheet for all zones, if it is the one chosen.

    Joined across, all metres are pooled and each change of roll costs one lap.
    """
    return where(
        less(0, sheet_metres),
        where(
            same(whole_strips, 1),
            whole_up(sheet_cut * (1 + wastage / 100)),
            rolls_for(sheet_metres * (1 + wastage / 100), dpm_lap / 1000, first_given(length, 0)),
        ),
        0,
    )


@rule
def sheet_joint(position: Each, layout_joint: Column, layout_book_row: Column) -> Metres:
    """Metres of lap between its strips, over all zones."""
    return to_six_places(sum_of(layout_joint, same(layout_book_row, position)))


@rule
def sheet_fails(
    position: Each, layout_fits: Column, layout_book_row: Column, layout_sheet_a: Column
) -> Each:
    """Zones in which this sheet cannot be laid."""
    return count_of(same(layout_book_row, position), same(layout_fits, 0), less(0, layout_sheet_a))


@rule
def usable(slot: Each, content: Amount, lap: Metres, sheet_fails: Each) -> Flag:
    """1 for a product that a known supplier sells in a pack that can cover something."""
    return where(both(less(0, slot), both(less(lap, content), same(sheet_fails, 0))), 1, 0)


@rule
def first_rank(
    by_area: Flag,
    sized: Flag,
    width: Millimetres,
    sheet_rolls: Each,
    minimum_packs: Each,
    price: Pounds,
) -> Amount:
    """What counts first among products that cover: for sheet the least cost, else the narrowest.

    Where no line asks for a width, as with tape, it does not count.
    """
    return where(
        same(by_area, 1),
        to_pence(most(first_given(minimum_packs, 0), sheet_rolls) * price),
        sized * first_given(width, 0),
    )


@rule
def second_rank(by_area: Flag, price: Pounds, content: Amount, sheet_joint: Metres) -> Amount:
    """What counts next: the cheapest for each unit; for sheet, the fewest metres of lap.

    In whole millionths, so that two products are either alike or clearly apart.
    """
    return whole_up(where(same(by_area, 1), sheet_joint, divided(price, content)) * 1000000)


@rule
def preference(
    first_rank: Amount,
    second_rank: Amount,
    position: Each,
    book_first_rank: Column,
    book_second_rank: Column,
    book_position: Column,
    book_slot: Column,
) -> Each:
    """Order of choice, the highest taken first: 1 and the number of rows that come after this."""
    return 1 + count_of(
        less(0, book_slot),
        either(
            less(first_rank, book_first_rank),
            both(
                same(book_first_rank, first_rank),
                either(
                    less(second_rank, book_second_rank),
                    both(same(book_second_rank, second_rank), less(position, book_position)),
                ),
            ),
        ),
    )


@rule
def net(preference: Each, need_net: Column, need_pick: Column) -> Amount:
    """Needed of this product, as measured."""
    return sum_of(need_net, same(need_pick, preference))


@rule
def laps(
    preference: Each, need_added: Column, need_corner_laps: Column, need_pick: Column
) -> Amount:
    """Laps at ends and corners, and turn-ups, of all that is needed."""
    return sum_of(need_added + need_corner_laps, same(need_pick, preference))


@rule
def applies(
    material_row: Each,
    by_area: Flag,
    whole_strips: Flag,
    whole_pieces: Flag,
    material_wastage_applies: Column,
) -> Flag:
    """1 where wastage counts: by the material's switch, and for sheet joined across.

    Trays cut in one piece never carry a percentage: the cutting already shows the offcut.
    """
    return (1 - whole_pieces) * most(
        beside(material_wastage_applies, material_row),
        where(both(same(by_area, 1), same(whole_strips, 0)), 1, 0),
    )


@rule
def wastage(
    slot: Each,
    material_row: Each,
    applies: Flag,
    material_wastage_1: Column,
    material_wastage_2: Column,
    material_wastage_3: Column,
    material_wastage_4: Column,
    material_wastage_5: Column,
) -> Percent:
    """This supplier's wastage for this material, where wastage applies to it."""
    return applies * choose(
        most(1, slot),
        beside(material_wastage_1, material_row),
        beside(material_wastage_2, material_row),
        beside(material_wastage_3, material_row),
        beside(material_wastage_4, material_row),
        beside(material_wastage_5, material_row),
    )


@rule
def required(net: Amount, laps: Amount, wastage: Percent) -> Amount:
    """To be covered by packs: net, laps and turn-ups, and wastage."""
    return (net + laps) * (1 + wastage / 100)


@rule
def whole_pieces(by_length: Flag, laps_as_tray: Flag, one_piece: Flag) -> Flag:
    """1 for trays that are cut in one piece each."""
    return by_length * laps_as_tray * one_piece


@rule
def pieces_counted(preference: Each, need_rolls: Column, need_pick: Column) -> Each:
    """Rolls when every piece stays whole, counted length by length."""
    return sum_of(need_rolls, same(need_pick, preference))


@rule
def pieces_longest(preference: Each, need_longest: Column, need_pick: Column) -> Metres:
    """Longest piece that comes from this product."""
    return largest_of(need_longest, same(need_pick, preference))


@rule
def pieces_rolls(pieces_counted: Each, net: Amount, length: Metres, pieces_longest: Metres) -> Each:
    """Rolls when every piece stays whole: at most these."""
    return at_most_rolls(pieces_counted, net, first_given(length, 0), pieces_longest)


@rule
def packs_needed(
    required: Amount,
    lap: Metres,
    content: Amount,
    by_area: Flag,
    sheet_rolls: Each,
    whole_pieces: Flag,
    pieces_rolls: Each,
) -> Each:
    """Packs that cover what is required: sheet by its layouts, pieces by their cutting."""
    return where(
        less(0, required),
        where(
            same(by_area, 1),
            sheet_rolls,
            where(same(whole_pieces, 1), pieces_rolls, rolls_for(required, lap, content)),
        ),
        0,
    )


@rule
def packs(packs_needed: Each, minimum_packs: Each) -> Each:
    """Packs to buy: no fewer than the supplier sells at once."""
    return where(less(0, packs_needed), most(first_given(minimum_packs, 0), packs_needed), 0)


@rule
def sheet_changes(
    whole_strips: Flag, sheet_metres: Metres, length: Metres, dpm_lap: Millimetres
) -> Each:
    """Changes of roll in the sheet as laid, wastage apart; none when strips stay whole."""
    return where(
        both(same(whole_strips, 0), less(0, sheet_metres)),
        rolls_for(sheet_metres, dpm_lap / 1000, first_given(length, 0)) - 1,
        0,
    )


@rule
def sheet_laid(
    position: Each,
    sheet_changes: Each,
    width: Millimetres,
    dpm_lap: Millimetres,
    layout_laid_area: Column,
    layout_book_row: Column,
) -> Amount:
    """Sheet laid in all zones, if it is the one chosen; joints across cost a lap each."""
    return sum_of(layout_laid_area, same(layout_book_row, position)) + sheet_changes * (
        dpm_lap / 1000
    ) * (first_given(width, 0) / 1000)


@rule
def laid(
    net: Amount,
    laps: Amount,
    packs_needed: Each,
    lap: Metres,
    content: Amount,
    by_area: Flag,
    sheet_laid: Amount,
    whole_pieces: Flag,
) -> Amount:
    """Net, and all laps and turn-ups, those between rolls included; no wastage."""
    return where(
        less(0, packs_needed),
        where(
            same(by_area, 1),
            sheet_laid,
            net + laps + (1 - whole_pieces) * lap * (rolls_for(net + laps, lap, content) - 1),
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
def cost(packs: Each, price: Pounds) -> Pounds:
    """What the supplier charges, without VAT."""
    return to_pence(packs * price)


@rule
def quoted(cost: Pounds, cost_factor: Amount, price_factor: Amount) -> Pounds:
    """What the client is asked for this line, without VAT."""
    return to_pence(cost * cost_factor * price_factor)


@rule
def provisional(packs: Each, preference: Each, need_pick: Column, need_provisional: Column) -> Flag:
    """1 when any line that takes this product is provisional."""
    return where(
        less(0, packs),
        where(less(0, count_of(same(need_pick, preference), same(need_provisional, 1))), 1, 0),
        0,
    )


@rule
def stage_no(
    packs: Each, preference: Each, need_stage_no: Column, need_pick: Column, stage_position: Column
) -> Each:
    """The first stage that uses this product."""
    return where(
        less(0, packs),
        largest_of(stage_position) - largest_of(
            largest_of(stage_position) - need_stage_no, same(need_pick, preference)
        ),
        0,
    )  # fmt: skip


@rule
def quote_no(stage_no: Each, position: Each, book_stage_no: Column, book_position: Column) -> Each:
    """The line of the quote it stands on: by stage, then as in the book; 0 when not bought."""
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
def counted_how(packs: Each, by_area: Flag, whole_strips: Flag, whole_pieces: Flag) -> Text:
    """Whether the packs are as many as can be needed, because whole pieces were not laid out."""
    return where(
        both(less(0, packs), less(0, by_area * whole_strips + whole_pieces)), "at most", ""
    )


@rule
def book_note(slot: Each, content: Amount, sheet_fails: Each) -> Text:
    """What keeps this product from being chosen."""
    return where(
        less(0, slot),
        where(
            less(0, content),
            where(less(0, sheet_fails), "too short or too narrow for a zone", ""),
            "its pack holds nothing",
        ),
        "supplier not listed",
    )


BOOK = Table(
    "book",
    "book",
    "Price book",
    (
        text("code", "Code", "The product's own code, used once."),
        text("supplier", "Supplier", choice_of="suppliers.name"),
        text("material", "Material", choice_of="materials.key"),
        text("description", "Description"),
        number("width", "Width", MILLIMETRES, 10, 12000, "Of a roll; of sheet, unfolded.",
               required=False),
        number("length", "Length", METRES, 0.5, 200, "Of a roll.", required=False),
        number("pieces", "Pieces", EACH, 1, 10000, "In a pack.", required=False),
        number("weight", "Weight", KILOGRAMS, 1, 30000, "Of a bag, or the step of a loose load.",
               required=False),
        number("thickness", "Thickness", MICROMETRES, 50, 3000, "Of sheet.", required=False),
        text("made_of", "Made of", "Of a DPC or a tray: a plain polyethylene DPC is no tray.",
             choices=("polyethylene", "polymer", "bitumen", "other"), required=False),
        number("price", "Price", POUNDS, 0.01, 100000, "For one pack, without VAT."),
        number("minimum_packs", "Fewest packs", EACH, 1, 1000, "Least sold at once; blank: one.",
               required=False),
        find("slot", "Supplier no.", by="supplier", where="suppliers.name"),
        find("material_row", "Material no.", by="material", where="materials.key"),
        read("by_area", "In strips", FLAG, "materials.by_area", at="material_row"),
        read("by_length", "By length", FLAG, "materials.by_length", at="material_row"),
        read("sized", "By width", FLAG, "materials.sized", at="material_row"),
        read("laps_as_tray", "A tray", FLAG, "materials.laps_as_tray", at="material_row"),
        worked(in_roll, "In a roll"),
        worked(content, "Pack holds"),
        worked(lap, "Lap"),
        worked(roll_no, "Sheet roll no."),
        worked(applies, "Wastage counts"),
        worked(wastage),
        worked(sheet_metres, "Sheet metres"),
        worked(sheet_whole, "Whole strips"),
        worked(sheet_longest, "Longest strip"),
        worked(sheet_cut, "Cut whole"),
        worked(sheet_rolls),
        worked(sheet_changes, "Sheet changes"),
        worked(sheet_joint, "Sheet laps"),
        worked(sheet_fails, "Zones it fails"),
        worked(sheet_laid),
        worked(usable),
        worked(first_rank, "Ranked first by"),
        worked(second_rank, "then by"),
        worked(preference, "Order of choice"),
        worked(net, "Net"),
        worked(laps, "Laps, turn-ups"),
        worked(required, "With wastage"),
        worked(whole_pieces, "In one piece"),
        worked(pieces_counted, "Piece by piece"),
        worked(pieces_longest, "Longest piece"),
        worked(pieces_rolls, "By pieces"),
        worked(packs_needed, "Packs needed"),
        worked(packs),
        worked(laid),
        worked(ordered),
        worked(left, "Left over"),
        worked(cost),
        worked(quoted),
        worked(provisional),
        worked(stage_no, "Stage no."),
        worked(quote_no, "Quote line"),
        worked(order_no, "Order line"),
        worked(counted_how, "Counted"),
        worked(book_note, "Note"),
        *BOOK_COLUMNS,
    ),
    key="code",
    grows=True,
)  # fmt: skip
