"""Pipes and ducts through the membrane: a collar each, and tape round it."""

from ..rules import Table, number, rule, text, worked
from ..rules.units import EACH, MILLIMETRES, Each, Metres, Millimetres

ROUND = 3.141592653589793  # girth of a pipe for its diameter


@rule
def collar_tape(number: Each, diameter: Millimetres) -> Metres:
    """Double-sided tape round the collars: the girth of each pipe."""
    return number * ROUND * diameter / 1000


PENETRATIONS = Table(
    "penetrations",
    "penetration",
    "Pipes and ducts through the floor",
    (
        text("mark", "Mark", "The pipe's mark on the drawing, used once."),
        text("description", "Description", required=False),
        text("zone", "Zone", "The zone it comes up through.", choice_of="zones.mark"),
        number("number", "Number", EACH, 1, 100, "How many alike: a collar each."),
        number("diameter", "Diameter", MILLIMETRES, 5, 500, "Outside diameter of the pipe."),
        worked(collar_tape, "Tape round collars"),
    ),
    grows=True,
    spare=(4, 6),
)  # fmt: skip
