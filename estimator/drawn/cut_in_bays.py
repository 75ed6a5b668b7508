"""A level tray cut into an existing wall, drawn to scale: the bays in two passes, the tray in them.

Seen on the wall's face, in metres from the tray's end. The odd bays are opened first, the even ones
when those carry again. How long a bay may be, and the order, is the designer's; bays are drawn of
one length, the whole taken by their number. A tray that goes round corners is unrolled.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import *
from ..takeoff.weep_places import weep_end, weep_place, weep_units
from .chosen import chosen_row, in_row, there
from .frame import SCALE_ROWS, TICK, drawn_bar, scale_table
from .strokes import TRAY, WEEP, numbered, stroke_table, strokes

BAYS_DRAWN, WEEPS_DRAWN = 12, 16
LEFT, WIDE, HIGH = 6, 88, 16  # of the frame: where the bays may lie
BAY_FOOT, TRAY_FOOT, LENGTH_Y = 58, 44, 36  # of the frame, from below
NUMBER_FROM = 2.4  # of the frame: a shorter bay has no number

CHOSEN = text(
    "drawn_cut_in",
    "Tray cut in drawn",
    "The ref of the tray cut into an existing wall that is drawn. Blank: the first with bays.",
    choice_of="cut_ins.mark",
    required=False,
    since=10,
)


# ---- the tray, and how it lies in the frame -----------------------------------------------------------


@rule
def bays_first(cut_in_position: Column, cut_in_bays: Column) -> Each:
    """The first tray that is opened up in bays. 0 if none."""
    return there(smallest_of(cut_in_position, less(0, cut_in_bays)))


@rule
def bays_up(bays_courses: Each, bays_course: Millimetres) -> Metres:
    """Height of the courses taken out."""
    return bays_courses * bays_course / 1000


@rule
def bays_scale(bays_taken: Metres, bays_up: Metres) -> Amount:
    """Hundredths of the frame to a metre, the same both ways. 0 without a tray."""
    return where(less(0, bays_taken), divided(1, most(bays_taken / WIDE, bays_up / HIGH)), 0)


@rule
def bays_long(bays_taken: Metres, bays_all: Each) -> Metres:
    """Length of each bay."""
    return divided(bays_taken, bays_all)


@rule
def bays_weeps(bays_weeps_of_all: Each, bays_number: Each) -> Each:
    """Weeps over one of so many alike."""
    return divided(bays_weeps_of_all, bays_number)


def _tray(name: str, label: str, column: str) -> Worked:
    return worked(
        *(in_row, f"Tray cut in drawn: {label}", name),
        row=NamedCell("bays_row"),
        column=WholeColumn("cut_ins", column),
    )


BAY_CELLS: tuple[Item, ...] = (
    worked(bays_first, "First tray cut in that can be drawn"),
    worked(chosen_row, "Tray cut in drawn, its row", "bays_row", chosen=NamedCell("drawn_cut_in"),
           first=NamedCell("bays_first"), mark=WholeColumn("cut_ins", "mark"),
           position=WholeColumn("cut_ins", "position")),
    _tray("bays_taken", "length", "taken"),
    _tray("bays_all", "bays", "bays"),
    _tray("bays_number", "number", "number"),
    _tray("bays_courses", "courses out", "courses"),
    _tray("bays_course", "a course", "course_height"),
    _tray("bays_bricks", "bricks along it", "bricks"),
    _tray("bays_unit", "a brick", "brick_unit"),
    _tray("bays_most", "longest bay", "bay_most"),
    _tray("bays_tray_unit", "tray unit", "unit_length"),
    _tray("bays_corners", "corners", "turned"),
    _tray("bays_weeps_of_all", "weeps of all", "weeps"),
    _tray("bays_weep_first", "first weep", "weep_first"),
    _tray("bays_weep_step", "weeps apart", "weep_step"),
    worked(bays_up, "Tray cut in drawn: height taken out"),
    worked(bays_scale, "Scale of the tray cut in"),
    worked(bays_long, "Tray cut in drawn: each bay"),
    worked(bays_weeps, "Tray cut in drawn: weeps"),
    worked(weep_units, "Tray cut in drawn: bricks between weeps", "bays_weep_units",
           weeps=NamedCell("bays_weeps"), length=NamedCell("bays_taken"),
           weep_first=NamedCell("bays_weep_first"), unit=NamedCell("bays_unit")),
    worked(weep_end, "Tray cut in drawn: weep from the end", "bays_weep_end",
           length=NamedCell("bays_taken"), weep_units=NamedCell("bays_weep_units"),
           unit=NamedCell("bays_unit")),
    worked(drawn_bar, "Tray cut in drawn: scale's arm", "bays_bar",
           drawn_scale=NamedCell("bays_scale")),
)  # fmt: skip


# ---- the bays -----------------------------------------------------------------------------------------


@rule
def bay_x(
    of: Each, share: Amount, bays_all: Each, bays_long: Metres, bays_taken: Metres,
    bays_scale: Amount,
) -> Amount:  # fmt: skip
    """A corner of a bay, from the left. The tray's end where there is none."""
    return LEFT + bays_scale * where(
        at_most(of, bays_all), (of - 1 + share) * bays_long, bays_taken
    )


@rule
def bay_y(of: Each, up: Flag, bays_all: Each, bays_up: Metres, bays_scale: Amount) -> Amount:
    """The same, from below."""
    return BAY_FOOT + where(at_most(of, bays_all), up * bays_up * bays_scale, 0)


BAY_LINES = stroke_table(
    "bay_lines",
    "bay_line",
    "Tray cut in: its bays, those of the first pass before those of the second",
    "Corner of a bay",
    Fixed("of", "Bay", EACH),
    Fixed("share", "Of its length", AMOUNT),
    Fixed("up", "1 at its top", FLAG),
    worked(bay_x, "From the left", "x"),
    worked(bay_y, "From below", "y"),
    since=10,
)
_ROUND = ((0, 0), (1, 0), (1, 1), (0, 1), (0, 0))
_PASSES = (("first pass", 1, (*_ROUND, (1, 1))), ("second pass", 2, _ROUND))
BAY_ROWS = strokes(
    ({"name": name, "of": of, "share": share, "up": up} for share, up in points)
    for name, first, points in _PASSES
    for of in range(first, BAYS_DRAWN + 1, 2)
)


@rule
def number_says(of: Each, bays_all: Each, bays_long: Metres, bays_scale: Amount) -> Text:
    """Its number, where it is there and long enough."""
    return where(
        both(at_most(of, bays_all), at_most(NUMBER_FROM, bays_long * bays_scale)),
        in_figures(of),
        " ",
    )


BAY_NUMBERS = Table(
    "bay_numbers",
    "bay_number",
    "Tray cut in: the numbers of its bays",
    (
        Fixed("name", "Bay", TEXT),
        Fixed("of", "Bay no.", EACH),
        Fixed("share", "Of its length", AMOUNT),
        worked(bay_x, "From the left", "x"),
        Fixed("y", "From below", AMOUNT),
        worked(number_says, "What it says", "says"),
    ),
    key="name",
    guarded=False,
    since=10,
)
NUMBER_ROWS = tuple(
    {"name": f"bay {of}", "of": of, "share": 0.5, "y": BAY_FOOT - 1.8}
    for of in range(1, BAYS_DRAWN + 1)
)


# ---- the tray in them, its length, its weeps ------------------------------------------------------------


@rule
def along_x(share: Amount, bays_taken: Metres, bays_scale: Amount) -> Amount:
    """A point along the tray, from the left."""
    return LEFT + share * bays_taken * bays_scale


@rule
def along_y(foot: Amount, more_y: Amount, bays_all: Each) -> Amount:
    """The same, from below. Without a tray its strokes have no length."""
    return foot + where(less(0, bays_all), more_y, 0)


BAY_TRAY = stroke_table(
    "bay_tray",
    "bay_tray_point",
    "Tray cut in: the tray with its stop ends, and its length",
    "Point",
    Fixed("share", "Of its length", AMOUNT),
    Fixed("foot", "Of the frame, from below", AMOUNT),
    Fixed("more_y", "And more up", AMOUNT),
    worked(along_x, "From the left", "x"),
    worked(along_y, "From below", "y"),
    since=10,
)
_LENGTH = ((0, -TICK), (0, TICK), (0, 0), (1, 0), (1, -TICK), (1, TICK))
TRAY_ROWS = strokes(
    ({"name": name, "share": share, "foot": foot, "more_y": y} for share, y in points)
    for name, foot, points in (("tray", TRAY_FOOT, TRAY), ("length", LENGTH_Y, _LENGTH))
)


@rule
def weep_x(
    weep: Each,
    bays_weeps: Each,
    bays_weep_end: Millimetres,
    bays_weep_units: Each,
    bays_weep_step: Millimetres,
    bays_unit: Millimetres,
    bays_scale: Amount,
) -> Amount:
    """A weep over the tray, from the left."""
    return (
        LEFT
        + bays_scale
        * weep_place(weep, bays_weeps, bays_weep_end, bays_weep_units, bays_weep_step, bays_unit)
        / 1000
    )


@rule
def weep_y(weep: Each, more_y: Amount, bays_weeps: Each, bays_all: Each) -> Amount:
    """An end of its stroke, from below. One that is not there has no length."""
    return TRAY_FOOT + where(both(at_most(weep, bays_weeps), less(0, bays_all)), more_y, 0)


BAY_WEEPS = stroke_table(
    "bay_weeps",
    "bay_weep",
    "Tray cut in: its weeps",
    "End of a weep",
    Fixed("weep", "Weep no.", EACH),
    Fixed("more_y", "Above the tray", AMOUNT),
    worked(weep_x, "From the left", "x"),
    worked(weep_y, "From below", "y"),
    since=10,
)
WEEP_ROWS = strokes(
    numbered(str(weep), ({"weep": weep, "more_y": up} for up in WEEP))
    for weep in range(1, WEEPS_DRAWN + 1)
)

BAY_SCALE = scale_table(
    *("bay_pieces", "bay_piece", "Tray cut in: the scale", "bays_bar", "bays_scale", 10)
)
TABLES = (BAY_LINES, BAY_NUMBERS, BAY_TRAY, BAY_WEEPS, BAY_SCALE)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {
    "bay_lines": BAY_ROWS,
    "bay_numbers": NUMBER_ROWS,
    "bay_tray": TRAY_ROWS,
    "bay_weeps": WEEP_ROWS,
    "bay_pieces": SCALE_ROWS,
}
