"""How many rolls are enough: lapped end to end, or cut into whole pieces."""

from ..language import *


@rule
def rolls_for(metres: Metres, lap: Metres, roll: Metres) -> Each:
    """Rolls that reach: each after the first gives up one lap. Never fewer than one."""
    return most(1, whole_up(divided(metres - lap, roll - lap)))


@rule
def at_most_rolls(counted: Each, metres: Metres, roll: Metres, longest: Metres) -> Each:
    """Rolls that are enough for whole pieces of several lengths.

    Counted length by length, or by what every roll but the last must at least give when no piece
    is put off that would still fit: more than the roll less the longest piece. And one where all
    of them together are no longer than it.
    """
    return where(
        at_most(metres, roll),
        least(1, counted),
        where(
            less(longest, roll), least(counted, whole_up(divided(metres, roll - longest))), counted
        ),
    )


@rule
def rolls_of_pieces(metres: Amount, piece: Metres, roll: Metres) -> Each:
    """Rolls that give all pieces of one length. 0 where nothing is cut in pieces."""
    return where(
        less(0, piece),
        whole_up(
            whole_up(metres / most(piece, LEAST_PIECE))
            / most(1, whole_down(roll / most(piece, LEAST_PIECE)))
        ),
        0,
    )


LEAST_PIECE = 0.001  # m; keeps the division whole where there is no piece
