"""Roofs against a new wall: a level tray, or stepped units up a slope."""

from ..language import *
from .flashings import FLASHING_COLUMNS
from .openings import inserts, tray_girth, vents, weeps_over
from .tray_units import UNIT_COLUMNS

ABUTMENT_KINDS = Table(
    "abutment_kinds",
    "abutment_kind",
    "Kinds of abutment",
    (
        Fixed("name", "Kind of abutment", TEXT),
        Fixed("level", "One level tray", FLAG),
        Fixed("slopes", "Slopes with stepped units", FLAG),
    ),
    key="name",
    guarded=False,
)
ABUTMENT_KIND_ROWS = (
    {"name": "level", "level": 1, "slopes": 0},
    {"name": "one slope", "level": 0, "slopes": 1},
    {"name": "two slopes meeting", "level": 0, "slopes": 2},
)


@rule
def level(kind_level: Flag, cavity: Millimetres) -> Flag:
    """1 for one level tray. A solid wall has no cavity for it to cross."""
    return where(less(0, cavity), kind_level, 0)


@rule
def slopes(kind_slopes: Each, cavity: Millimetres) -> Each:
    """Slopes with stepped units. None in a solid wall."""
    return where(less(0, cavity), kind_slopes, 0)


@rule
def note(cavity: Millimetres) -> Text:
    """What is left to the designer."""
    return where(less(0, cavity), "", "solid wall: designer's detail")


@rule
def level_trays(level: Flag, number: Each) -> Each:
    """How many level trays there are."""
    return level * number


@rule
def straight(length: Metres, unit_metres: Metres) -> Metres:
    """Straight tray in one level tray: what its preformed units leave of its length."""
    return most(0, length - unit_metres)


@rule
def tray(level_trays: Each, straight: Metres) -> Metres:
    """Level tray, net: no laps, no preformed units."""
    return level_trays * straight


@rule
def tray_each(level: Flag, straight: Metres, unit_legs: Each, tray_lap: Millimetres) -> Metres:
    """Length of roll in one level tray, with its laps on the legs of units."""
    return level * (straight + unit_legs * tray_lap / 1000)


@rule
def unit_laps(level_trays: Each, unit_legs: Each, tray_lap: Millimetres) -> Metres:
    """Laps on the legs of preformed units: one at each."""
    return level_trays * unit_legs * tray_lap / 1000


@rule
def course_height(course: Millimetres, wall_course: Millimetres) -> Millimetres:
    """Height of a course: the abutment's own, else its wall's."""
    return first_given(course, wall_course)


@rule
def units_each(slopes: Each, length: Metres, pitch: Pitch, course_height: Millimetres) -> Each:
    """Stepped units up one slope: one for every course the roof climbs along the wall."""
    return where(
        same(slopes, 0),
        0,
        most(1, whole_up(length * 1000 * tan_of(first_given(pitch)) / course_height)),
    )


@rule
def step(slopes: Each, pitch: Pitch, course_height: Millimetres) -> Millimetres:
    """Horizontal step from unit to unit: it sets the length of the unit."""
    return where(same(slopes, 0), 0, divided(course_height, tan_of(first_given(pitch))))


@rule
def catchments(slopes: Each, number: Each) -> Each:
    """Catchment units: one at the foot of each slope, with the weep."""
    return slopes * number


@rule
def intermediates(slopes: Each, number: Each, units_each: Each) -> Each:
    """Intermediate units: the rest of each slope, handed left or right."""
    return slopes * number * most(0, units_each - 1)


@rule
def ridges(slopes: Each, number: Each) -> Each:
    """Ridge units: one where two slopes meet."""
    return where(same(slopes, 2), number, 0)


@rule
def stop_ends(level: Flag, slopes: Each, number: Each, branch_ends: Each) -> Each:
    """Stop ends: two to a level tray and one to each branch, two to each catchment unit."""
    return number * (2 * (level + slopes) + level * branch_ends)


@rule
def weeps(
    level: Flag,
    slopes: Each,
    number: Each,
    length: Metres,
    weep_first: Millimetres,
    weep_step: Millimetres,
    weeps_min: Each,
) -> Each:
    """Weeps: as over an opening on a level tray, one at the foot of each slope."""
    return number * where(
        same(level, 1), weeps_over(length, weep_first, weep_step, weeps_min), slopes
    )


ABUTMENTS = Table(
    "abutments",
    "abutment",
    "Roof abutments on new walls",
    (
        text("mark", "Ref", "The abutment's reference on the drawing, used once."),
        text("description", "Description", required=False),
        text("wall", "Against wall", "The new wall the roof meets.", choice_of="walls.mark"),
        text("kind", "Kind of abutment", choice_of="abutment_kinds.name"),
        number("number", "Number", EACH, 1, 50, "How many alike."),
        number("length", "Length", METRES, 0.2, 40,
               "Level: along the wall. Sloping: of one slope, on plan."),
        number("pitch", "Pitch", PITCH, 5, 75, "Of a sloping roof. Blank where level.",
               required=False),
        number("course", "Course height", MILLIMETRES, 50, 300,
               "Of the outer leaf, with its joint. Blank: as its wall.", required=False),
        number("tile_gauge", "Tile gauge", MILLIMETRES, 40, 500,
               "Of tiles on a sloping roof that has soakers. Blank: no soakers.", required=False),
        find("kind_row", "Kind no.", by="kind", where="abutment_kinds.name"),
        find("wall_row", "Wall no.", by="wall", where="walls.mark"),
        read("kind_level", "By its kind, level", FLAG, "abutment_kinds.level", at="kind_row"),
        read("kind_slopes", "By its kind, slopes", EACH, "abutment_kinds.slopes", at="kind_row"),
        read("outer_leaf", "Outer leaf", MILLIMETRES, "walls.outer_leaf", at="wall_row"),
        read("cavity", "Cavity", MILLIMETRES, "walls.cavity", at="wall_row"),
        read("wall_course", "Wall's course", MILLIMETRES, "walls.course_used", at="wall_row"),
        read("weep_step", "Weeps apart", MILLIMETRES, "walls.weep_step", at="wall_row"),
        read("weep_first", "First weep", MILLIMETRES, "walls.weep_first", at="wall_row"),
        worked(course_height),
        worked(level, "Level tray"),
        worked(slopes),
        worked(note),
        *UNIT_COLUMNS,
        worked(level_trays),
        worked(straight, "Straight tray"),
        worked(tray_each, "Tray length"),
        worked(tray, "Trays"),
        worked(unit_laps, "Laps on units"),
        worked(tray_girth, "Tray girth"),
        worked(units_each, "Units a slope"),
        worked(step, "Step"),
        worked(catchments, "Catchment units"),
        worked(intermediates, "Intermediate units"),
        worked(ridges, "Ridge units"),
        worked(stop_ends, "Stop ends"),
        worked(weeps, "Weeps"),
        worked(inserts, "Inserts bought"),
        worked(vents, "Vents bought"),
        *FLASHING_COLUMNS,
    ),
    grows=True,
    shown=("tray", "units_each", "weeps",), said="note",
    spare=(3, 5),
)  # fmt: skip
