"""How far two figures lie apart: one rule for lengths, sums and rates alike."""

from .helpers import most
from .registry import rule
from .units import Amount


@rule
def apart(one: Amount, other: Amount) -> Amount:
    """The difference of two figures, whichever is larger."""
    return most(one - other, other - one)
