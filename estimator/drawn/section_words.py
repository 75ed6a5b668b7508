"""What is written on the section of a floor: its wall, levels, depths, and the heights in figures."""

from ..language import *
from .frame import BAR_X, BAR_Y, Words, fixed, words_table
from .section import TOP_Y
from .section_layers import in_level

LEFT_WORDS = 7.5  # of the frame: the middle of DPC and ground's words from the outer face


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
    """The highest step that the sheet of the floor drawn goes up to another floor. 0 for none."""
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
    """How thick a leaf or the cavity is. A blank where there is none."""
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

WORD_CELLS: tuple[Item, ...] = (worked(section_step, "Section: step to another floor"),)
