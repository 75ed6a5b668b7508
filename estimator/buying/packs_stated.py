"""What a row of the price book must state: the measures its material is bought by."""

from ..language import *


@rule
def length_missing(by_length: Flag, by_area: Flag, by_cover: Flag, length: Metres) -> Flag:
    """1 for a roll or length that does not say how long it is."""
    return (by_length + by_area + by_cover) * where(given(length), 0, 1)


@rule
def width_missing(
    by_length: Flag, by_area: Flag, by_cover: Flag, sized: Flag, width: Millimetres
) -> Flag:
    """1 for a sheet, or a length chosen by its width, that does not say how wide it is."""
    return (by_length * sized + by_area + by_cover) * where(given(width), 0, 1)


@rule
def pieces_missing(by_piece: Flag, pieces: Each) -> Flag:
    """1 for a pack that does not say how many are in it."""
    return by_piece * where(given(pieces), 0, 1)


@rule
def weight_missing(by_weight: Flag, weight: Kilograms) -> Flag:
    """1 for a load or bag that does not say what it weighs."""
    return by_weight * where(given(weight), 0, 1)


@rule
def in_tonnes(weight: Kilograms) -> Flag:
    """1 for a tonne and more that one decimal says in tonnes."""
    return where(
        at_most(1000, first_given(weight, 0)),
        where(same(100 * whole_down(first_given(weight, 0) / 100), first_given(weight, 0)), 1, 0),
        0,
    )


@rule
def weighed(in_tonnes: Flag, weight: Kilograms) -> Text:
    """What a number of bags, or of steps of a loose load, counts: times the weight of one."""
    return where(
        same(in_tonnes, 1),
        one_text("× ", in_figures(first_given(weight, 0) / 1000), " t"),
        one_text("× ", in_figures(first_given(weight, 0)), " kg"),
    )


@rule
def each_is(
    by_weight: Flag, weighed: Text, pieces: Each, material_row: Each, material_pack: TextColumn
) -> Text:
    """What a number of packs counts, as a client reads it: times a weight, nr, or packs."""
    return where(
        same(by_weight, 1),
        weighed,
        where(same(first_given(pieces, 0), 1), "nr", beside(material_pack, material_row)),
    )


@rule
def too_wide(width: Millimetres, length: Metres) -> Flag:
    """1 for a roll that is wider than it is long: one of the two was mistyped."""
    return where(
        both(given(width), given(length)),
        where(at_most(first_given(width, 0), first_given(length, 0) * 1000), 0, 1),
        0,
    )


@rule
def pack_misfit(
    length_missing: Flag,
    width_missing: Flag,
    pieces_missing: Flag,
    weight_missing: Flag,
    too_wide: Flag,
) -> Flag:
    """1 where the pack does not say what its material is bought by, or cannot be."""
    return where(
        less(0, length_missing + width_missing + pieces_missing + weight_missing + too_wide), 1, 0
    )
