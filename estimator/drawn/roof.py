"""A roof against its wall, drawn to scale: stepped units up each slope by courses, or one level tray.

Seen on the wall's face, in millimetres from the foot of the first slope, or from the tray's end. Of two
slopes that meet the second is the first in a mirror.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import *
from ..takeoff.openings import weep_room, weeps_over
from ..takeoff.weep_places import weep_end, weep_place, weep_units
from .chosen import chosen_row, in_row, there
from .frame import SCALE_ROWS, drawn_bar, scale_table
from .strokes import TRAY, WEEP, numbered, stroke_table, strokes

UNITS_DRAWN, WEEPS_DRAWN = 48, 16
LEFT, WIDE, FOOT, HIGH = 6, 88, 26, 56  # of the frame: where the roof may lie

CHOSEN = text(
    "drawn_abutment",
    "Roof drawn",
    "The ref of the roof against a wall that is drawn. Blank: the first.",
    choice_of="abutments.mark",
    required=False,
    since=8,
)


# ---- the roof, and how it lies in the frame ---------------------------------------------------------


@rule
def roof_first(abutment_position: Column, abutment_length: Column) -> Each:
    """The first roof that can be drawn. 0 if none."""
    return there(smallest_of(abutment_position, less(0, abutment_length)))


@rule
def roof_rise(roof_slopes: Each, roof_units: Each, roof_course: Millimetres) -> Millimetres:
    """How far its units climb."""
    return where(less(0, roof_slopes), roof_units * roof_course, 0)


@rule
def roof_long(roof_length: Metres, roof_slopes: Each) -> Metres:
    """Its length along the wall: of both slopes, or of the level tray."""
    return roof_length * most(1, roof_slopes)


@rule
def roof_scale(roof_long: Metres, roof_rise: Millimetres) -> Amount:
    """Hundredths of the frame to a metre, the same both ways. 0 without a roof."""
    return divided(1, most(roof_long / WIDE, roof_rise / 1000 / HIGH))


@rule
def roof_weeps(
    roof_level: Flag,
    roof_length: Metres,
    roof_weep_first: Millimetres,
    roof_weep_step: Millimetres,
    weeps_min: Each,
    roof_unit: Millimetres,
) -> Each:
    """Weeps over a level tray, as many as it is long enough for. 0 up a slope."""
    return where(
        same(roof_level, 1),
        least(
            weeps_over(roof_length, roof_weep_first, roof_weep_step, weeps_min),
            weep_room(roof_length, most(1, roof_unit)),
        ),
        0,
    )


@rule
def roof_unit(roof_row: Each, abutment_wall_row: Column, wall_unit_used: Column) -> Millimetres:
    """A brick of its wall, with its joint."""
    return where(less(0, roof_row), beside(wall_unit_used, beside(abutment_wall_row, roof_row)), 0)


def _roof(name: str, label: str, column: str) -> Worked:
    return worked(
        in_row, label, name, row=NamedCell("roof_row"), column=WholeColumn("abutments", column)
    )


ROOF_CELLS: tuple[Item, ...] = (
    worked(roof_first, "First roof that can be drawn"),
    worked(chosen_row, "Roof drawn, its row", "roof_row", chosen=NamedCell("drawn_abutment"),
           first=NamedCell("roof_first"), mark=WholeColumn("abutments", "mark"),
           position=WholeColumn("abutments", "position")),
    _roof("roof_length", "Roof drawn: length", "length"),
    _roof("roof_pitch", "Roof drawn: pitch", "pitch"),
    _roof("roof_slopes", "Roof drawn: slopes", "slopes"),
    _roof("roof_level", "Roof drawn: level", "level"),
    _roof("roof_course", "Roof drawn: course", "course_height"),
    _roof("roof_units", "Roof drawn: units a slope", "units_each"),
    _roof("roof_step", "Roof drawn: step", "step"),
    _roof("roof_weep_first", "Roof drawn: first weep", "weep_first"),
    _roof("roof_weep_step", "Roof drawn: weeps apart", "weep_step"),
    worked(roof_unit, "Roof drawn: a brick of its wall"),
    worked(roof_rise, "Roof drawn: rise of its units"),
    worked(roof_long, "Roof drawn: along the wall"),
    worked(roof_scale, "Scale of the roof"),
    worked(roof_weeps, "Roof drawn: weeps"),
    worked(weep_units, "Roof drawn: bricks between its weeps", "roof_weep_units",
           weeps=NamedCell("roof_weeps"), length=NamedCell("roof_length"),
           weep_first=NamedCell("roof_weep_first"), unit=NamedCell("roof_unit")),
    worked(weep_end, "Roof drawn: weep from the end", "roof_weep_end",
           length=NamedCell("roof_length"), weep_units=NamedCell("roof_weep_units"),
           unit=NamedCell("roof_unit")),
    worked(drawn_bar, "Roof drawn: scale's arm", "roof_bar", drawn_scale=NamedCell("roof_scale")),
)  # fmt: skip


# ---- the units, course by course ----------------------------------------------------------------------


@rule
def stair_along(
    of: Each, end: Flag, roof_units: Each, roof_step: Millimetres, roof_length: Metres
) -> Metres:
    """An end of a unit, along the wall: as far as the slope goes. A spare row repeats the last."""
    return least(
        where(at_most(of, roof_units), of - 1 + end, roof_units) * roof_step / 1000, roof_length
    )


@rule
def stair_up(of: Each, roof_units: Each, roof_course: Millimetres) -> Metres:
    """How high it is over the foot: a course for each unit."""
    return least(of, roof_units) * roof_course / 1000


@rule
def roof_x(along: Metres, roof_scale: Amount) -> Amount:
    """From the left."""
    return LEFT + along * roof_scale


@rule
def roof_y(up: Metres, roof_scale: Amount) -> Amount:
    """From below."""
    return FOOT + up * roof_scale


@rule
def other_x(along: Metres, roof_slopes: Each, roof_long: Metres, roof_scale: Amount) -> Amount:
    """Of the second slope, from the left. Its foot where there is none."""
    return LEFT + (roof_long - where(same(roof_slopes, 2), along, 0)) * roof_scale


@rule
def other_y(up: Metres, roof_slopes: Each, roof_scale: Amount) -> Amount:
    """Of the second slope, from below."""
    return FOOT + where(same(roof_slopes, 2), up, 0) * roof_scale


ROOF_STAIRS = stroke_table(
    "roof_stairs",
    "roof_stair",
    "Roof drawn: its stepped units",
    "End of a unit",
    Fixed("of", "Unit", EACH),
    Fixed("end", "1 for its end", FLAG),
    worked(stair_along, "Along the wall", "along"),
    worked(stair_up, "Above the foot", "up"),
    worked(roof_x, "From the left", "x"),
    worked(roof_y, "From below", "y"),
    worked(other_x, "Second slope, from the left"),
    worked(other_y, "Second slope, from below"),
)
STAIR_ROWS = tuple(
    {"name": f"{of}, {end}", "of": of, "end": end}
    for of in range(1, UNITS_DRAWN + 1)
    for end in (0, 1)
)


# ---- the roof's line, a level tray with its stop ends, weeps --------------------------------------------


@rule
def line_along(
    level_line: Flag, share: Amount, roof_level: Flag, roof_slopes: Each, roof_long: Metres
) -> Metres:
    """A point along the wall: the ridge lies at the end of the first slope."""
    return roof_long * where(
        same(level_line, 1),
        roof_level * share,
        where(less(0, roof_slopes), least(1, share / most(1, roof_slopes)), 0),
    )


@rule
def line_up(
    level_line: Flag, share: Amount, roof_slopes: Each, roof_length: Metres, roof_pitch: Pitch
) -> Metres:
    """How high it is over the foot: a second slope comes down again."""
    return where(
        less(0, (1 - level_line) * roof_slopes),
        where(less(0, share), where(less(share, 2), 1, 2 - roof_slopes), 0)
        * roof_length
        * tan_of(roof_pitch),
        0,
    )


@rule
def line_y(
    up: Metres, level_line: Flag, more_y: Amount, roof_level: Flag, roof_scale: Amount
) -> Amount:
    """From below."""
    return FOOT + up * roof_scale + level_line * roof_level * more_y


ROOF_LINES = stroke_table(
    "roof_lines",
    "roof_line",
    "Roof drawn: its line, and a level tray",
    "Point",
    Fixed("level_line", "1 of a level tray", FLAG),
    Fixed("share", "Of the tray's length, or slopes", AMOUNT),
    Fixed("more_y", "And more up", AMOUNT),
    worked(line_along, "Along the wall", "along"),
    worked(line_up, "Above the foot", "up"),
    worked(roof_x, "From the left", "x"),
    worked(line_y, "From below", "y"),
)
_LINES = (
    ("roof", 0, ((0, 0), (1, 0), (2, 0))),
    ("tray", 1, TRAY),
)
LINE_ROWS = strokes(
    ({"name": name, "level_line": level, "share": s, "more_y": y} for s, y in points)
    for name, level, points in _LINES
)


@rule
def weep_along(
    weep: Each,
    roof_weeps: Each,
    roof_weep_end: Millimetres,
    roof_weep_units: Each,
    roof_weep_step: Millimetres,
    roof_unit: Millimetres,
) -> Metres:
    """A weep over a level tray, along the wall."""
    return (
        weep_place(weep, roof_weeps, roof_weep_end, roof_weep_units, roof_weep_step, roof_unit)
        / 1000
    )


@rule
def weep_y(weep: Each, more_y: Amount, roof_weeps: Each) -> Amount:
    """An end of its stroke, from below. One that is not there has no length."""
    return FOOT + where(at_most(weep, roof_weeps), more_y, 0)


ROOF_WEEPS = stroke_table(
    "roof_weep_lines",
    "roof_weep_line",
    "Roof drawn: weeps of a level tray",
    "End of a weep",
    Fixed("weep", "Weep no.", EACH),
    Fixed("more_y", "Above the tray", AMOUNT),
    worked(weep_along, "Along the wall", "along"),
    worked(roof_x, "From the left", "x"),
    worked(weep_y, "From below", "y"),
)
WEEP_ROWS = strokes(
    numbered(str(weep), ({"weep": weep, "more_y": up} for up in WEEP))
    for weep in range(1, WEEPS_DRAWN + 1)
)


ROOF_SCALE = scale_table(
    *("roof_pieces", "roof_piece", "Roof drawn: the scale", "roof_bar", "roof_scale", 8)
)
TABLES = (ROOF_STAIRS, ROOF_LINES, ROOF_WEEPS, ROOF_SCALE)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "roof_stairs": STAIR_ROWS,
    "roof_lines": LINE_ROWS,
    "roof_weep_lines": WEEP_ROWS,
    "roof_pieces": SCALE_ROWS,
}
