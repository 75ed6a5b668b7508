"""The extension on plan: its sides as they follow from a few answers, and what runs along the house.

It stands against one wall of the house, or goes round one corner of it. Then it has two sides more:
the side of the house, and the wall that ends the return. Mirrored it takes the same.
"""

from ..language import *


@rule
def extension_wraps(
    extension_asked: Flag, extension_return: Metres, extension_return_width: Metres
) -> Flag:
    """1 where it goes round a corner of the house: both figures of its return are answered."""
    return where(
        same(extension_asked, 1),
        where(both(given(extension_return), given(extension_return_width)), 1, 0),
        0,
    )


@rule
def return_length(extension_wraps: Flag, extension_return: Metres) -> Metres:
    """How far the extension goes back along the side of the house."""
    return where(same(extension_wraps, 1), first_given(extension_return, 0), 0)


@rule
def return_width(extension_wraps: Flag, extension_return_width: Metres) -> Metres:
    """Clear width of the extension beside the house."""
    return where(same(extension_wraps, 1), first_given(extension_return_width, 0), 0)


@rule
def doors_width(extension_doors: Each, extension_door_width: Metres) -> Metres:
    """Width of all doors in the front."""
    return first_given(extension_doors, 0) * first_given(extension_door_width, 0)


@rule
def front_wall(extension_width: Metres, return_width: Metres, doors_width: Metres) -> Metres:
    """What is left of the front beside the doors."""
    return first_given(extension_width, 0) + return_width - doors_width


@rule
def long_flank(extension_projection: Metres, return_length: Metres) -> Metres:
    """The flank that goes back as far as the return does."""
    return first_given(extension_projection, 0) + return_length


@rule
def extension_outside(
    extension_width: Metres, extension_thickness: Millimetres, extension_wraps: Flag
) -> Metres:
    """Along the wall of the house, outside the new walls, or from there to its corner."""
    return first_given(extension_width, 0) + (2 - extension_wraps) * extension_thickness / 1000


@rule
def return_outside(return_length: Metres, extension_thickness: Millimetres) -> Metres:
    """Along the side of the house, from its corner to the outside of the return."""
    return return_length + extension_thickness / 1000


@rule
def return_tray_wanted(tray_wanted: Flag, extension_wraps: Flag) -> Flag:
    """1 where a level tray is cut into the side of the house too."""
    return tray_wanted * extension_wraps


@rule
def ties_at_back(extension_wraps: Flag) -> Each:
    """Ends of the new wall at the wall that the width lies along. The other is at the side then."""
    return 2 - extension_wraps


@rule
def tie_height(
    extension_eaves: Metres,
    depth: Metres,
    extension_thickness: Millimetres,
    extension_pitch: Pitch,
    pitch_needed: Flag,
) -> Amount:
    """Height at the house: the eaves, and for a lean-to its rise. Nothing until known."""
    return where(
        both(
            less(0, first_given(extension_eaves, 0)),
            either(same(pitch_needed, 0), given(extension_pitch)),
        ),
        first_given(extension_eaves, 0)
        + pitch_needed
        * (first_given(depth, 0) + extension_thickness / 1000)
        * tan_of(first_given(extension_pitch, 0)),
        "",
    )


CELLS = (
    worked(extension_wraps, "Round a corner of the house"),
    worked(return_length, "Return, as in use"),
    worked(return_width, "Its clear width, as in use"),
    worked(doors_width, "Width of doors"),
    worked(front_wall, "Front beside the doors"),
    worked(long_flank, "Flank to the end of the return"),
    worked(extension_outside, "Outside width along the house"),
    worked(return_outside, "Outside length along its side"),
    worked(return_tray_wanted, "Tray cut in above the return"),
    worked(ties_at_back, "Tie-ins at the back wall"),
    worked(tie_height, "Height at the house", depth=NamedCell("extension_projection")),
    worked(
        tie_height,
        "Height at the side of the house",
        "return_tie_height",
        depth=NamedCell("extension_return_width"),
    ),
)


# ---- what is offered to the rows of its floor and of its wall run ------------------------------


@rule
def if_walked(extension_asked: Flag, wanted: Each, zone_walked: Column, figure: Amount) -> Amount:
    """A figure of a side, while the form's floor is walked: nobody typed its sides A and B."""
    return where(
        both(same(extension_asked, 1), less(0, first_given(wanted, 0))),
        where(same(beside(zone_walked, 1), 1), figure, ""),
        "",
    )


@rule
def if_rectangle(extension_asked: Flag, zone_walked: Column, words: Text) -> Text:
    """The side of the rectangle, where somebody typed the floor as one."""
    return where(same(extension_asked, 1), where(same(beside(zone_walked, 1), 1), "", words), "")


@rule
def follows_unless_typed(
    extension_asked: Flag,
    run: Text,
    measured_on: Text,
    length: Metres,
    external_corners: Each,
    internal_corners: Each,
    ends_at_existing: Each,
    mark: Text,
) -> Text:
    """The floor that the run follows, unless something of the run is typed."""
    return where(
        both(same(extension_asked, 1), both(is_blank(run), is_blank(measured_on))),
        where(
            either(
                either(given(length), given(ends_at_existing)),
                either(given(external_corners), given(internal_corners)),
            ),
            "",
            mark,
        ),
        "",
    )


@rule
def run_described(extension_asked: Flag, extension_wraps: Flag) -> Text:
    """What the run is of."""
    return where(
        same(extension_asked, 1),
        where(same(extension_wraps, 1), "Extension, round the corner", "Extension, three sides"),
        "",
    )


def side_no(number: int) -> Worked:
    """Which side it is, round the floor."""
    return worked(if_walked, wanted=NamedCell("extension_asked"), figure=number)


def turn_where(wanted: str, degrees: int) -> Worked:
    """Another turn at its end than a right angle, where that named cell is above 0."""
    return worked(if_walked, wanted=NamedCell(wanted), figure=degrees)


def side(name: str) -> Worked:
    """The side of a rectangle that it is on."""
    return worked(if_rectangle, words=name)
