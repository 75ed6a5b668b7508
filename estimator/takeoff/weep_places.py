"""Where weeps stand on a level tray: on perpends, so whole bricks apart, both ends of the tray alike."""

from ..language import *


@rule
def weep_units(weeps: Each, length: Metres, weep_first: Millimetres, unit: Millimetres) -> Each:
    """Whole bricks from the first weep to the last: both as near the tray's ends as is asked."""
    return most(weeps - 1, whole_up(divided(length * 1000 - 2 * weep_first, unit)), 0)


@rule
def weep_end(length: Metres, weep_units: Each, unit: Millimetres) -> Millimetres:
    """From each end of the tray to the weep next to it."""
    return (length * 1000 - weep_units * unit) / 2


@rule
def weep_place(
    weep: Each,
    weeps: Each,
    weep_end: Millimetres,
    weep_units: Each,
    weep_step: Millimetres,
    unit: Millimetres,
) -> Millimetres:
    """A weep from the tray's end: as far from the one before as allowed, the rest as bricks are left.

    Each leaves at least a brick for every weep that follows it.
    """
    return weep_end + least((weep - 1) * weep_step, (weep_units - weeps + weep) * unit)
