"""The wall in the section of a floor: its leaves, their DPC, the ground, the sheet, and the scale."""

from ..language import *
from .frame import (
    BAR_MOST,
    SCALE_ROWS,
    scale_table,
)
from .section import FLOOR_SEEN, GROUND_SEEN
from .strokes import stroke_table, strokes

DPC_PAST = 10  # mm: how far a DPC is drawn past the faces of its leaf
SHEET_OFF = 14  # mm: how far the sheet is drawn off what it lies on, to be seen beside it


@rule
def section_bar(section_scale: Amount) -> Millimetres:
    """Length of each arm of the scale: the longest round figure there is room for."""
    return where(
        at_most(1000 * section_scale, BAR_MOST),
        1000,
        where(
            at_most(500 * section_scale, BAR_MOST),
            500,
            where(at_most(200 * section_scale, BAR_MOST), 200, 100),
        ),
    )


@rule
def there(
    needs: Each,
    section_has_dpc: Flag,
    section_has_ground: Flag,
    section_sheet: Flag,
    section_cavity: Millimetres,
) -> Flag:
    """1 where what a line needs is there."""
    return choose(
        needs,
        1,
        section_has_dpc,
        section_has_ground,
        section_sheet,
        where(less(0, section_cavity), section_has_dpc, 0),
    )


@rule
def across(
    x_of: Each,
    more_x: Millimetres,
    section_outer: Millimetres,
    section_cavity: Millimetres,
    section_thick: Millimetres,
    section_dressed: Millimetres,
) -> Millimetres:
    """How far the point is from the outer face."""
    return more_x + choose(
        x_of,
        0,
        section_outer,
        section_outer + section_cavity,
        section_thick,
        section_thick - section_dressed,
    )


@rule
def height(
    y_of: Each,
    more_y: Millimetres,
    section_up: Millimetres,
    section_down: Millimetres,
    section_dpc: Millimetres,
    section_ground: Millimetres,
    section_over: Millimetres,
    section_rise: Millimetres,
) -> Millimetres:
    """How far it is above the finished floor."""
    return more_y + choose(
        y_of,
        0,
        section_up,
        0 - section_down,
        section_dpc,
        section_ground,
        0 - section_over,
        section_rise - section_over,
    )


@rule
def point_x(
    there: Flag, across: Millimetres, section_left: Amount, section_scale: Amount
) -> Amount:
    """From the left of the frame. The outer face where the line is not there."""
    return section_left + there * across * section_scale


@rule
def point_y(
    there: Flag, height: Millimetres, section_floor: Amount, section_scale: Amount
) -> Amount:
    """From below."""
    return section_floor + there * height * section_scale


DRAWN_WALL = stroke_table(
    "drawn_wall",
    "drawn_corner",
    "Section: the wall, its DPC, the ground and the sheet",
    "Point",
    Fixed("needs", "1 always, 2 a DPC, 3 the ground, 4 a sheet, 5 a cavity", EACH),
    Fixed("x_of", "From: 1 outer face, 2 to 4 the next faces, 5 end of the sheet", EACH),
    Fixed("more_x", "And more across", MILLIMETRES),
    Fixed("y_of", "At: 1 floor, 2 top, 3 foot, 4 DPC, 5 ground, 6 DPM, 7 its top", EACH),
    Fixed("more_y", "And more up", MILLIMETRES),
    worked(there),
    worked(across, "From the outer face"),
    worked(height, "Over the floor"),
    worked(point_x, "From the left", "x"),
    worked(point_y, "From below", "y"),
    since=7,
)

# Each line: what it needs, and of each point the face, what is added, and the height.
_WALL = (
    ("leaf", 1, ((1, 0, 2), (1, 0, 3))),
    ("leaf", 1, ((2, 0, 3), (2, 0, 2))),
    ("leaf", 1, ((3, 0, 2), (3, 0, 3))),
    ("leaf", 1, ((4, 0, 3), (4, 0, 2))),
    ("floor", 1, ((4, 0, 1), (4, FLOOR_SEEN, 1))),
    ("ground", 3, ((1, -GROUND_SEEN, 5), (1, 0, 5))),
    ("DPC", 2, ((1, -DPC_PAST, 4), (2, DPC_PAST, 4))),
    ("DPC", 5, ((3, -DPC_PAST, 4), (4, DPC_PAST, 4))),
    ("sheet", 4, ((4, FLOOR_SEEN, 6), (4, SHEET_OFF, 6), (4, SHEET_OFF, 7), (5, 0, 7))),
)
WALL_ROWS = strokes(
    (
        {
            "name": name,
            "needs": needs,
            "x_of": x_of,
            "more_x": more,
            "y_of": y_of,
            "more_y": SHEET_OFF if name == "sheet" else 0,
        }
        for x_of, more, y_of in points
    )
    for name, needs, points in _WALL
)


# ---- the scale --------------------------------------------------------------------------------------


DRAWN_PIECES = scale_table(
    "drawn_pieces", "drawn_piece", "Section: the scale", "section_bar", "section_scale", 7
)
PIECE_ROWS = SCALE_ROWS


WALL_CELLS: tuple[Item, ...] = (worked(section_bar, "Section: scale's arm"),)
