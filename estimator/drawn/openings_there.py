"""Openings of a run, or round a floor, that have a place along it or have none: how many, and which."""

from typing import Any

from ..language import *


@rule
def openings_there(row: Each, placed: Flag, opening_at: Column, opening_placed: Column) -> Each:
    """Openings there, with a place or without."""
    return where(less(0, row), count_of(same(opening_at, row), same(opening_placed, placed)), 0)


@rule
def found(
    row: Each,
    placed: Flag,
    above_found: Amount,
    opening_position: Column,
    opening_at: Column,
    opening_placed: Column,
) -> Amount:
    """The next of them. NOTHING or more when there is none."""
    return where(
        less(0, row),
        smallest_of(
            opening_position,
            same(opening_at, row),
            same(opening_placed, placed),
            less(above_found, opening_position),
        ),
        NOTHING,
    )


def of_row(row: str, at: str, placed: bool) -> dict[str, Any]:
    """What the rules above read: the openings whose column `at` holds what the cell `row` does."""
    return {
        "row": NamedCell(row),
        "opening_at": WholeColumn("openings", at),
        "placed": int(placed),
    }
