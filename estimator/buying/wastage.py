"""What wastage adds to an order, material by material, beside where it is typed."""

from ..language import *
from .taking import packs_joined, packs_worked


@rule
def packs_bare(
    net: Amount,
    minimum_packs: Each,
    by_area: Flag,
    whole_strips: Flag,
    rolls_cut: Each,
    sheet_cut: Each,
    sheet_changes: Each,
    pieces_cut: Each,
    joined: Amount,
    lap: Metres,
    content: Amount,
) -> Each:
    """Packs to buy as worked out, if there were no wastage."""
    return where(
        less(0, net),
        most(
            first_given(minimum_packs, 0),
            where(
                same(by_area, 1),
                where(
                    same(whole_strips, 1),
                    where(less(0, rolls_cut), least(sheet_cut, rolls_cut), sheet_cut),
                    sheet_changes + 1,
                ),
                pieces_cut + packs_joined(joined, lap, content),
            ),
        ),
        0,
    )


@rule
def packs_bare_counted(
    plan_holds: Flag, planned_bare: Each, minimum_packs: Each, packs_bare: Each
) -> Each:
    """The same by a cutting plan where one holds."""
    return where(same(plan_holds, 1), packs_worked(planned_bare, minimum_packs), packs_bare)


@rule
def packs_with(position: Each, book_packs_worked: Column, book_material_row: Column) -> Each:
    """Packs worked out of this material, with the wastage of whoever they are bought from."""
    return sum_of(book_packs_worked, same(book_material_row, position))


@rule
def packs_without(
    packs_with: Each, position: Each, book_packs_bare_counted: Column, book_material_row: Column
) -> Each:
    """Packs of it without any wastage."""
    return where(
        less(0, packs_with),
        sum_of(book_packs_bare_counted, same(book_material_row, position)),
        0,
    )


@rule
def unpriced(
    packs_with: Each, position: Each, book_price_missing: Column, book_material_row: Column
) -> Each:
    """Products of this material that are needed and have no price."""
    return where(
        less(0, packs_with),
        count_of(same(book_price_missing, 1), same(book_material_row, position)),
        0,
    )


@rule
def cost_of_packs(
    packs_with: Each,
    position: Each,
    packs_counted: Column,
    book_ranked_price: Column,
    book_material_row: Column,
    unpriced: Each,
) -> Pounds:
    """What those packs cost, without VAT. Not known while one has no price."""
    return available(
        same(unpriced, 0),
        where(
            less(0, packs_with),
            to_pence(sum_of(packs_counted * book_ranked_price, same(book_material_row, position))),
            0,
        ),
    )


@rule
def wastage_seen(
    position: Each,
    packs_with: Each,
    by_piece: Flag,
    by_area: Flag,
    wastage_applies: Flag,
    book_packs_worked: Column,
    book_applies: Column,
    book_joined: Column,
    book_material_row: Column,
) -> Text:
    """Why a percentage adds nothing to what is taken of this material. Nothing where it may."""
    return where(
        either(
            same(packs_with, 0),
            less(
                0,
                count_of(
                    same(book_material_row, position),
                    less(0, book_packs_worked),
                    less(0, book_applies * book_joined),
                ),
            ),
        ),
        "",
        where(
            same(by_piece, 1),
            "not used: by the piece",
            where(
                either(same(by_area, 1), same(wastage_applies, 1)),
                "not used: in whole pieces",
                "not used: does not apply",
            ),
        ),
    )


def _cost(name: str, label: str, packs: str) -> Worked:
    return worked(cost_of_packs, label, name, packs_counted=WholeColumn("book", packs))


MATERIAL_COLUMNS = (
    worked(packs_with, "Packs with wastage"),
    worked(packs_without, "Packs without it"),
    worked(unpriced, "Prices missing"),
    _cost("cost_with", "Cost with wastage", "packs_worked"),
    _cost("cost_without", "Cost without it", "packs_bare_counted"),
    worked(wastage_seen, "Wastage"),
)
