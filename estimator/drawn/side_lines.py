"""The lines of the plan of a floor: each side from one end to the other, and the sheet turned up along it."""

from ..language import *
from .sides import SIDES_DRAWN, TURN_IN
from .strokes import stroke_table


@rule
def line_x(
    of: Each,
    end: Flag,
    last: Flag,
    slot: Each,
    drawn_side_from_x: Column,
    drawn_side_size: Column,
    drawn_side_way_a: Column,
    drawn_side_drawn_as: Column,
) -> Amount:
    """An end of a side, from the left. Its last point again where the side is of another line."""
    return beside(drawn_side_from_x, of) + beside(drawn_side_size, of) * beside(
        drawn_side_way_a, of
    ) * where(same(beside(drawn_side_drawn_as, of), slot), end, last)


@rule
def line_y(
    of: Each,
    end: Flag,
    last: Flag,
    slot: Each,
    drawn_side_from_y: Column,
    drawn_side_size: Column,
    drawn_side_way_b: Column,
    drawn_side_drawn_as: Column,
) -> Amount:
    """An end of a side, from below. Its last point again where the side is of another line."""
    return beside(drawn_side_from_y, of) - beside(drawn_side_size, of) * beside(
        drawn_side_way_b, of
    ) * where(same(beside(drawn_side_drawn_as, of), slot), end, last)


@rule
def turn_x(
    of: Each,
    end: Flag,
    last: Flag,
    drawn_hand: Flag,
    drawn_side_turned: Column,
    drawn_side_from_x: Column,
    drawn_side_size: Column,
    drawn_side_way_a: Column,
    drawn_side_way_b: Column,
) -> Amount:
    """An end of the turned-up sheet, from the left: inside its side, and as much shorter."""
    return beside(drawn_side_from_x, of) + (
        (
            TURN_IN
            + where(same(beside(drawn_side_turned, of), 1), end, last)
            * (beside(drawn_side_size, of) - 2 * TURN_IN)
        )
        * beside(drawn_side_way_a, of)
        - TURN_IN * drawn_hand * beside(drawn_side_way_b, of)
    )


@rule
def turn_y(
    of: Each,
    end: Flag,
    last: Flag,
    drawn_hand: Flag,
    drawn_side_turned: Column,
    drawn_side_from_y: Column,
    drawn_side_size: Column,
    drawn_side_way_a: Column,
    drawn_side_way_b: Column,
) -> Amount:
    """An end of the turned-up sheet, from below."""
    return beside(drawn_side_from_y, of) - (
        (
            TURN_IN
            + where(same(beside(drawn_side_turned, of), 1), end, last)
            * (beside(drawn_side_size, of) - 2 * TURN_IN)
        )
        * beside(drawn_side_way_b, of)
        + TURN_IN * drawn_hand * beside(drawn_side_way_a, of)
    )


LINES = ("new wall", "existing wall", "threshold", "joint", "partition or free edge")

DRAWN_LINES = stroke_table(
    "drawn_lines",
    "drawn_line",
    "Plan: its lines, from and to",
    "End of a line",
    Fixed("of", "Of side", EACH),
    Fixed("end", "1 for its end", FLAG),
    Fixed("last", "Its last point", FLAG),
    *slots(line_x, "From the left, line", "x", len(LINES)),
    *slots(line_y, "From below, line", "y", len(LINES)),
    worked(turn_x, "Turn-up, from the left"),
    worked(turn_y, "Turn-up, from below"),
    since=7,
)


def line_rows(thing: str, n: int) -> tuple[dict[str, object], ...]:
    """From and to, and an empty row; every second line the other way round.

    In LibreOffice 7.4 a line is lost that begins where the one before it ended, whatever is between
    them. Of sides round a floor no two begin, and no two end, at one corner.
    """
    ends = (0, 1) if n % 2 else (1, 0)
    return (
        *({"name": f"{thing} {n}, {e}", "of": n, "end": e, "last": ends[1]} for e in ends),
        {},
    )


LINE_ROWS = tuple(row for n in range(1, SIDES_DRAWN + 1) for row in line_rows("side", n))
