"""Pipes and ducts through the floor: where it has a sheet a collar each, and tape round it."""

from ..language import *

ROUND = 3.141592653589793  # girth of a pipe for its diameter


@rule
def collars(number: Each, on_sheet: Flag) -> Each:
    """Collars: one for each pipe, in a floor that has a sheet."""
    return number * on_sheet


@rule
def collar_tape(collars: Each, diameter: Millimetres) -> Metres:
    """Double-sided tape round the collars: the girth of each pipe."""
    return collars * ROUND * diameter / 1000


PENETRATIONS = Table(
    "penetrations",
    "penetration",
    "Pipes and ducts through the floor",
    (
        text("mark", "Ref", "The pipe's reference on the drawing, used once."),
        text("description", "Description", required=False),
        text("zone", "Floor", "The floor it comes up through.", choice_of="zones.mark"),
        number("number", "Number", EACH, 1, 100, "How many alike: a collar each."),
        number("diameter", "Diameter", MILLIMETRES, 5, 500, "Outside diameter of the pipe."),
        find("zone_row", "Floor no.", by="zone", where="zones.mark"),
        read("on_sheet", "On a sheet", FLAG, "zones.sheet", at="zone_row"),
        worked(collars),
        worked(collar_tape, "Tape round collars"),
    ),
    grows=True,
    shown=("collars", "collar_tape"),
    spare=(4, 6),
)  # fmt: skip
