"""What a product holds, how it would serve this job, and by what it is ranked among others."""

from ..language import *
from .packing import at_most_rolls, rolls_for

NONE_GIVEN = "none given: 0 %"
PRICE_MISSING = "price missing"
UNPRICED = 100_001  # pounds: more than any price of a pack may be
MANY_MATERIALS = 1000  # more than there are


@rule
def seller(supplier: Text, supplier_one: Text) -> Text:
    """Who sells the product: the supplier named, else the first in the list."""
    return where(is_blank(supplier), supplier_one, supplier)


@rule
def ranked_price(net_price: Pounds) -> Pounds:
    """The price by which products are compared: one without a price ranks behind all others."""
    return first_given(net_price, UNPRICED)


@rule
def in_roll(
    material_row: Each,
    by_area: Flag,
    by_cover: Flag,
    width: Millimetres,
    length: Metres,
    material_by_length: Column,
) -> Amount:
    """What a roll holds: metres, or square metres of sheet. 0 for what comes in no roll."""
    return first_given(length, 0) * (
        beside(material_by_length, material_row)
        + (by_area + by_cover) * (first_given(width, 0) / 1000)
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
    """Length lost at each change of roll. 0 for what is not lapped."""
    return where(
        same(beside(material_laps_as_dpc, material_row), 1),
        dpc_lap / 1000,
        where(same(laps_as_tray, 1), tray_lap / 1000, 0),
    )


@rule
def roll_no(
    material: Text,
    position: Each,
    sheet_material: Text,
    book_material: TextColumn,
    book_position: Column,
) -> Each:
    """Which of the stocked rolls of sheet this is, in the order of the list. 0 for other goods."""
    return where(
        same(material, sheet_material),
        count_of(same(book_material, sheet_material), less(book_position, position + 1)),
        0,
    )


@rule
def width_first(
    roll_no: Each,
    width: Millimetres,
    position: Each,
    book_roll_no: Column,
    book_width: Column,
    book_position: Column,
) -> Flag:
    """1 for the first of the stocked rolls of sheet that are as wide."""
    return where(
        less(0, roll_no),
        where(
            same(
                count_of(
                    less(0, book_roll_no),
                    same(book_width, first_given(width, 0)),
                    less(book_position, position),
                ),
                0,
            ),
            1,
            0,
        ),
        0,
    )


@rule
def width_no(
    roll_no: Each, width: Millimetres, book_width_first: Column, book_width: Column
) -> Each:
    """Which of the widths of sheet it has, the narrowest first. 0 for other goods."""
    return where(
        less(0, roll_no),
        1 + count_of(same(book_width_first, 1), less(book_width, first_given(width, 0))),
        0,
    )


@rule
def sheet_metres(
    roll_no: Each, position: Each, layout_roll_metres: Column, layout_book_row: Column
) -> Metres:
    """Metres of this sheet's roll laid in all floors, if it is the one chosen."""
    return where(less(0, roll_no), sum_of(layout_roll_metres, same(layout_book_row, position)), 0)


@rule
def sheet_whole(
    roll_no: Each, position: Each, layout_rolls: Column, layout_book_row: Column
) -> Each:
    """Rolls of this sheet for all floors when strips stay whole: floor by floor, at most."""
    return where(less(0, roll_no), sum_of(layout_rolls, same(layout_book_row, position)), 0)


@rule
def sheet_longest(
    roll_no: Each, position: Each, layout_strip_length: Column, layout_book_row: Column
) -> Metres:
    """Longest strip of this sheet in any floor."""
    return where(
        less(0, roll_no), largest_of(layout_strip_length, same(layout_book_row, position)), 0
    )


@rule
def sheet_cut(
    sheet_whole: Each, sheet_metres: Metres, sheet_longest: Metres, length: Metres
) -> Each:
    """Rolls of this sheet for all floors when strips stay whole: at most these."""
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
    """Rolls of this sheet for all floors, if it is the one chosen.

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
def sheet_joint(
    roll_no: Each, position: Each, layout_joint: Column, layout_book_row: Column
) -> Metres:
    """Metres of lap between its strips, over all floors."""
    return where(
        less(0, roll_no), to_six_places(sum_of(layout_joint, same(layout_book_row, position))), 0
    )


@rule
def sheet_fails(
    roll_no: Each,
    position: Each,
    layout_fits: Column,
    layout_book_row: Column,
    layout_sheet_a: Column,
) -> Each:
    """Floors in which this sheet cannot be laid."""
    return where(
        less(0, roll_no),
        count_of(same(layout_book_row, position), same(layout_fits, 0), less(0, layout_sheet_a)),
        0,
    )


@rule
def sheet_unlaid(roll_no: Each, layout_roll_no: Column, zone_sheet: Column) -> Flag:
    """1 for a roll of sheet beyond those laid out: what it would take, and cost, is not known."""
    return where(
        less(0, roll_no),
        where(
            less(0, total(zone_sheet)), where(less(largest_of(layout_roll_no), roll_no), 1, 0), 0
        ),
        0,
    )


@rule
def usable(slot: Each, content: Amount, lap: Metres, sheet_fails: Each, sheet_unlaid: Flag) -> Flag:
    """1 for a product that a known supplier sells in a pack that can cover something.

    Sheet must be laid out, and must fit every floor: what cannot be laid has no cost to be ranked by.
    """
    return where(
        both(less(0, slot), both(less(lap, content), same(sheet_fails + sheet_unlaid, 0))), 1, 0
    )


@rule
def sold_by(usable: Flag, slot: Each) -> Each:
    """The supplier no. of a product that can cover something. 0 of all others."""
    return usable * slot


@rule
def sold_as(sold_by: Each, material_row: Each) -> Each:
    """Supplier and material as one number. 0 of what can cover nothing."""
    return where(less(0, sold_by), sold_by * MANY_MATERIALS + material_row, 0)


@rule
def sheet_cost(
    by_area: Flag, sheet_rolls: Each, minimum_packs: Each, ranked_price: Pounds
) -> Pounds:
    """What this sheet would cost, if it is the one chosen. 0 for other goods."""
    return by_area * to_pence(most(first_given(minimum_packs, 0), sheet_rolls) * ranked_price)


@rule
def first_rank(by_area: Flag, sized: Flag, width: Millimetres, sheet_cost: Pounds) -> Amount:
    """What counts first among products that cover: for sheet the least cost, else the narrowest.

    Where no line asks for a width, as with tape, it does not count.
    """
    return where(same(by_area, 1), sheet_cost, sized * first_given(width, 0))


@rule
def second_rank(by_area: Flag, if_cost: Pounds, sheet_joint: Metres) -> Amount:
    """What counts next: what its packs would cost this job. For sheet, the fewest metres of lap."""
    return where(same(by_area, 1), sheet_joint, if_cost)


@rule
def applies(
    material_row: Each,
    by_area: Flag,
    whole_strips: Flag,
    material_wastage_applies: Column,
) -> Flag:
    """1 where wastage counts: by the material's switch, and for sheet joined across.

    Pieces cut whole never carry a percentage: the cutting already shows the offcut.
    """
    return most(
        beside(material_wastage_applies, material_row),
        where(both(same(by_area, 1), same(whole_strips, 0)), 1, 0),
    )


@rule
def wastage_listed(
    slot: Each,
    material_row: Each,
    material_wastage_1: Column,
    material_wastage_2: Column,
    material_wastage_3: Column,
    material_wastage_4: Column,
    material_wastage_5: Column,
) -> Percent:
    """This supplier's wastage for this material. Nothing where none is given."""
    return choose(
        most(1, slot),
        beside(material_wastage_1, material_row),
        beside(material_wastage_2, material_row),
        beside(material_wastage_3, material_row),
        beside(material_wastage_4, material_row),
        beside(material_wastage_5, material_row),
    )


@rule
def wastage(applies: Flag, wastage_listed: Percent) -> Percent:
    """The wastage that counts: none where it does not apply, and 0 where none is given."""
    return applies * first_given(wastage_listed, 0)


@rule
def wastage_said(packs: Each, applies: Flag, wastage_listed: Percent) -> Text:
    """That nobody gave a wastage where one counts, so that none is bought."""
    return where(
        both(less(0, packs), same(applies, 1)),
        where(given(wastage_listed), "", NONE_GIVEN),
        "",
    )


@rule
def wastages_blank(book_wastage_said: TextColumn) -> Each:
    """Products that are bought with no wastage given."""
    return count_of(same(book_wastage_said, NONE_GIVEN))


@rule
def sheet_changes(
    whole_strips: Flag, sheet_metres: Metres, length: Metres, dpm_lap: Millimetres
) -> Each:
    """Changes of roll in the sheet as laid, wastage apart. None when strips stay whole."""
    return where(
        both(same(whole_strips, 0), less(0, sheet_metres)),
        rolls_for(sheet_metres, dpm_lap / 1000, first_given(length, 0)) - 1,
        0,
    )


@rule
def sheet_laid(
    sheet_metres: Metres,
    position: Each,
    sheet_changes: Each,
    width: Millimetres,
    dpm_lap: Millimetres,
    layout_laid_area: Column,
    layout_book_row: Column,
) -> Amount:
    """Sheet laid in all floors, if it is the one chosen. Joints across cost a lap each."""
    return where(
        less(0, sheet_metres),
        sum_of(layout_laid_area, same(layout_book_row, position))
        + sheet_changes * (dpm_lap / 1000) * (first_given(width, 0) / 1000),
        0,
    )


@rule
def book_note(
    slot: Each,
    content: Amount,
    sheet_fails: Each,
    sheet_unlaid: Flag,
    price_missing: Flag,
    own_note: Text,
    instead_said: Text,
) -> Text:
    """What keeps this product from being chosen, or the quote from having a total."""
    return where(
        less(0, slot),
        where(
            less(0, content),
            where(
                less(0, sheet_fails),
                "too short or too narrow for a floor",
                where(
                    same(sheet_unlaid, 1),
                    "beyond the rolls of sheet that are laid out",
                    where(same(price_missing, 1), PRICE_MISSING, one_text(own_note, instead_said)),
                ),
            ),
            "its pack holds nothing",
        ),
        "supplier not listed",
    )
