"""The wall in the section of a floor: its leaves, their DPC, the ground, the sheet; and what is written."""

from ..language import *
from .frame import (
    BAR_MOST,
    BAR_X,
    BAR_Y,
    SCALE_ROWS,
    Words,
    fixed,
    scale_table,
    words_table,
)
from .section import FLOOR_SEEN, GROUND_SEEN, TOP_Y
from .section_layers import in_level
from .strokes import stroke_table, strokes

DPC_PAST = 10  # mm: how far a DPC is drawn past the faces of its leaf
SHEET_OFF = 14  # mm: how far the sheet is drawn off what it lies on, to be seen beside it
LEFT_WORDS = 7.5  # of the frame: the middle of DPC and ground's words from the outer face


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
    """From the left of the frame; the outer face where the line is not there."""
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


# ---- words ------------------------------------------------------------------------------------------


@rule
def section_title(drawn_row: Each, zone_mark: TextColumn) -> Text:
    """What is drawn."""
    return where(
        less(0, drawn_row),
        one_text("Section of floor ", beside(zone_mark, drawn_row)),
        "Section: no floor to draw",
    )


@rule
def wall_says(
    section_named: Each, section_run: Each, section_wall: Each, wall_mark: TextColumn
) -> Text:
    """Whose leaves are drawn."""
    return where(
        less(0, section_wall),
        one_text(
            where(
                less(0, section_named + section_run),
                "Depths in mm, levels in m. Leaves of run ",
                "Depths in mm, levels in m. No run follows this floor. Leaves as in run ",
            ),
            beside(wall_mark, section_wall),
        ),
        "Depths in mm, levels in m. No wall run yet",
    )


@rule
def side_says(section_edge: Each, edge_mark: TextColumn, section_side_length: Metres) -> Text:
    """At which side it is cut, and how long that is, so that it is found on the plan."""
    return where(
        less(0, section_edge),
        one_text(
            "At side ",
            beside(edge_mark, section_edge),
            ", ",
            in_metres(section_side_length),
            " m long",
        ),
        "No side meets a new wall whose DPC has a level",
    )


@rule
def sheet_says(
    section_sheet: Flag, section_turn_up: Millimetres, section_dressed: Millimetres
) -> Text:
    """How far the sheet turns up, and how much of that lies on the DPC."""
    return where(
        less(0, section_sheet * section_turn_up),
        one_text(
            "Sheet turned up ",
            in_figures(section_turn_up),
            " mm: ",
            in_figures(section_turn_up - section_dressed),
            " on the wall, ",
            in_figures(section_dressed),
            " on the DPC",
        ),
        " ",
    )


@rule
def dpc_height_says(section_dpc_height: Millimetres, dpc_height_min: Millimetres) -> Text:
    """How high the DPC lies above the ground, what is asked, and what is missing of it."""
    return where(
        less(0, section_dpc_height),
        one_text(
            "DPC above the ground: ",
            in_figures(section_dpc_height),
            " mm",
            where(
                given(dpc_height_min),
                one_text(
                    "; asked: ",
                    in_figures(dpc_height_min),
                    " mm",
                    where(less(section_dpc_height, dpc_height_min), ", short", ""),
                ),
                "",
            ),
        ),
        " ",
    )


@rule
def below_floor_says(
    section_has_dpc: Flag, section_dpc: Millimetres, section_sheet: Flag, section_over: Millimetres
) -> Text:
    """How far DPC and DPM lie from the finished floor."""
    return one_text(
        where(
            same(section_has_dpc, 1),
            one_text(
                "DPC ",
                in_figures(most(section_dpc, 0 - section_dpc)),
                where(less(0, section_dpc), " mm above", " mm below"),
                " the finished floor. ",
            ),
            " ",
        ),
        where(
            same(section_sheet, 1),
            one_text("DPM ", in_figures(section_over), " mm below the finished floor"),
            "",
        ),
    )


@rule
def section_step(drawn_row: Each, edge_step_up: Column, edge_zone_row: Column) -> Millimetres:
    """The highest step that the sheet of the floor drawn goes up to another floor; 0 for none."""
    return where(less(0, drawn_row), largest_of(edge_step_up, same(edge_zone_row, drawn_row)), 0)


@rule
def step_says(section_step: Millimetres) -> Text:
    """The same in words."""
    return where(
        less(0, first_given(section_step, 0)),
        one_text(
            "Step to another floor: the sheet goes up ",
            in_figures(first_given(section_step, 0)),
            " mm",
        ),
        " ",
    )


@rule
def leaf_says(leaf: Millimetres) -> Text:
    """How thick a leaf or the cavity is; a blank where there is none."""
    return where(less(0, leaf), in_figures(leaf), " ")


@rule
def dpc_says(section_has_dpc: Flag, section_dpc_level: Metres) -> Text:
    """The level of the DPC."""
    return where(same(section_has_dpc, 1), one_text("DPC ", in_level(section_dpc_level)), " ")


@rule
def ground_says(section_has_ground: Flag, section_dpc_height: Millimetres) -> Text:
    """How far the ground lies below the DPC."""
    return where(
        same(section_has_ground, 1), one_text(in_figures(section_dpc_height), " below DPC"), " "
    )


@rule
def bar_says(drawn_row: Each, section_bar: Millimetres) -> Text:
    """How long an arm of the scale is."""
    return where(less(0, drawn_row), one_text(in_figures(section_bar), " mm each way"), " ")


@rule
def in_wall(
    from_face: Millimetres, half: Millimetres, section_left: Amount, section_scale: Amount
) -> Amount:
    """The middle of a leaf or the cavity, from the left."""
    return section_left + (from_face + half / 2) * section_scale


@rule
def inner_x(
    section_outer: Millimetres,
    section_cavity: Millimetres,
    section_inner: Millimetres,
    section_left: Amount,
    section_scale: Amount,
) -> Amount:
    """The middle of the inner leaf, from the left."""
    return section_left + (section_outer + section_cavity + section_inner / 2) * section_scale


@rule
def left_x(section_left: Amount) -> Amount:
    """Beside the outer face, over the ground."""
    return section_left - LEFT_WORDS


@rule
def level_y(
    section_floor: Amount, height: Millimetres, section_scale: Amount, off: Amount
) -> Amount:
    """At a height over the finished floor, from below."""
    return section_floor + height * section_scale + off


@rule
def bar_y(section_bar: Millimetres, section_scale: Amount) -> Amount:
    """Beside the upright arm of the scale."""
    return BAR_Y + section_bar * section_scale / 2


def _leaf(name: str) -> Worked:
    return worked(leaf_says, leaf=NamedCell(name))


_WORDS: Words = (
    ("title", fixed(2), fixed(97), rule_of(section_title)),
    ("wall", fixed(2), fixed(93.7), rule_of(wall_says)),
    ("side", fixed(2), fixed(90.9), rule_of(side_says)),
    ("sheet", fixed(2), fixed(3), rule_of(sheet_says)),
    ("outer leaf", worked(in_wall, from_face=0, half=NamedCell("section_outer")),
     fixed(TOP_Y + 1.8), _leaf("section_outer")),
    ("cavity", worked(in_wall, from_face=NamedCell("section_outer"),
                      half=NamedCell("section_cavity")),
     fixed(TOP_Y + 4.2), _leaf("section_cavity")),
    ("inner leaf", rule_of(inner_x), fixed(TOP_Y + 1.8), _leaf("section_inner")),
    ("DPC", rule_of(left_x), worked(level_y, height=NamedCell("section_dpc"), off=1.4),
     rule_of(dpc_says)),
    ("ground", rule_of(left_x), worked(level_y, height=NamedCell("section_ground"), off=-2),
     rule_of(ground_says)),
    ("scale", fixed(BAR_X + 1), rule_of(bar_y), rule_of(bar_says)),
    ("below floor", fixed(2), fixed(5.8), rule_of(below_floor_says)),
    ("DPC height", fixed(2), fixed(8.6), rule_of(dpc_height_says)),
    ("step", fixed(2), fixed(11.4), rule_of(step_says)),
)  # fmt: skip

DRAWN_LABELS = words_table("drawn_labels", "drawn_label", "Section: its title and words", _WORDS)

LABEL_ROWS = tuple({"name": name} for name, *_ in _WORDS)

WALL_CELLS: tuple[Item, ...] = (
    worked(section_bar, "Section: scale's arm"),
    worked(section_step, "Section: step to another floor"),
)
