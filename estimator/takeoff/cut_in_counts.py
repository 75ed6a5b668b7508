"""Trays cut into existing walls: what is counted over all of them, and what stands against a quote."""

from ..language import *


@rule
def all_bricks_out(cut_in_bricks_out: Column) -> Each:
    """Bricks cut out of existing walls."""
    return total(cut_in_bricks_out)


@rule
def all_bays_odd(cut_in_bays_odd: Column) -> Each:
    """Bays opened up in the first pass."""
    return total(cut_in_bays_odd)


@rule
def all_bays_even(cut_in_bays_even: Column) -> Each:
    """Bays opened up in the second pass."""
    return total(cut_in_bays_even)


@rule
def all_made_good(cut_in_made_good: Column) -> Metres:
    """Existing brickwork made good."""
    return total(cut_in_made_good)


@rule
def all_cleared(cut_in_cleared: Column) -> Metres:
    """Filled cavity cleared above trays that are cut in."""
    return total(cut_in_cleared)


@rule
def all_uncounted(cut_in_uncounted: Column) -> Each:
    """Trays in existing walls that cannot be counted."""
    return total(cut_in_uncounted)


@rule
def old_walls_disagree(
    old_wall_old_wall_agrees: Column,
    old_wall_kind_row: Column,
    cut_in_cut_in_agrees: Column,
    cut_in_length: Column,
) -> Each:
    """Existing walls, and trays cut into them, that do not hold together."""
    return count_of(same(old_wall_old_wall_agrees, 0), less(0, old_wall_kind_row)) + count_of(
        same(cut_in_cut_in_agrees, 0), less(0, cut_in_length)
    )


@rule
def unit_bought(book_length: Column, book_material: TextColumn, book_packs: Column) -> Metres:
    """Length of the tray unit that is bought for existing walls. 0 where the product states none."""
    return largest_of(book_length, same(book_material, "cut_in_unit"), less(0, book_packs))


@rule
def units_disagree(unit_bought: Metres, cut_in_units: Column, cut_in_unit_length: Column) -> Each:
    """Trays cut in whose units are counted by another length than the unit that is bought."""
    return where(
        less(0, unit_bought),
        count_of(
            less(0, cut_in_units),
            either(less(cut_in_unit_length, unit_bought), less(unit_bought, cut_in_unit_length)),
        ),
        0,
    )


@rule
def sums_missing(cut_in_uncounted: Column, sums_set_aside: Each) -> Flag:
    """1 where a tray cannot be counted and no provisional sum is set aside for anything."""
    return where(both(less(0, total(cut_in_uncounted)), same(sums_set_aside, 0)), 1, 0)
