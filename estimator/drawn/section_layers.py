"""The layers of the floor in its section, from the finished floor down to the formation.

The sheet lies between those that are over it and those that are under it; a floor without one has
all of them over the void. Where insulation and slab both lie under it, the slab is drawn above.
"""

from ..language import *
from .chosen import in_row
from .section import FLOOR_SEEN
from .side_lines import line_rows
from .strokes import stroke_table

LABELS_X, APART = 76, 3  # of the frame: the labels, and how far apart they are at least
LEADER_IN = 40  # mm: how far inside the floor the line to a label begins


@rule
def over_dpm(drawn_row: Each, column: Column, zone_over: Column, zone_sheet: Column) -> Millimetres:
    """Depth of a layer that lies over the sheet, or in a floor without one."""
    return where(
        less(0, drawn_row),
        beside(column, drawn_row)
        * most(beside(zone_over, drawn_row), 1 - beside(zone_sheet, drawn_row)),
        0,
    )


@rule
def under_dpm(
    drawn_row: Each, column: Column, zone_over: Column, zone_sheet: Column
) -> Millimetres:
    """Depth of the same layer where it lies under the sheet."""
    return where(
        less(0, drawn_row),
        beside(column, drawn_row)
        * (1 - beside(zone_over, drawn_row))
        * beside(zone_sheet, drawn_row),
        0,
    )


@rule
def no_depth(drawn_row: Each) -> Millimetres:
    """A level has none."""
    return 0 * drawn_row


@rule
def always(drawn_row: Each) -> Flag:
    """1 where a floor is drawn."""
    return where(less(0, drawn_row), 1, 0)


@rule
def down(above_down: Millimetres, above_depth: Millimetres) -> Millimetres:
    """Its top below the finished floor."""
    return above_down + above_depth


@rule
def shown(is_level: Flag, level_shown: Flag, depth: Millimetres) -> Flag:
    """1 where it is labelled."""
    return where(same(is_level, 1), level_shown, where(less(0, depth), 1, 0))


@rule
def bottom_y(
    section_floor: Amount, section_scale: Amount, down: Millimetres, depth: Millimetres
) -> Amount:
    """Its foot in the frame, from below."""
    return section_floor - (down + depth) * section_scale


@rule
def middle_y(
    section_floor: Amount, section_scale: Amount, down: Millimetres, depth: Millimetres
) -> Amount:
    """Its middle in the frame, from below."""
    return section_floor - (down + depth / 2) * section_scale


@rule
def label_down(shown: Flag, middle_y: Amount, above_label_down: Amount) -> Amount:
    """Its label from the top of the frame: as high as its middle, or below the label before."""
    return where(same(shown, 1), most(100 - middle_y, above_label_down + APART), above_label_down)


@rule
def label_y(label_down: Amount) -> Amount:
    """The same, from below."""
    return 100 - label_down


@rule
def label_x(is_level: Flag) -> Amount:
    """Where its label begins, from the left."""
    return LABELS_X + 0 * is_level


@rule
def in_level(level: Metres) -> Text:
    """A level as it is written: metres, with a minus below the datum."""
    return one_text(where(less(level, 0), "-", ""), in_metres(most(level, 0 - level)))


@rule
def level_says(words: Text, level: Metres) -> Text:
    """What is said of a level."""
    return one_text(words, " ", in_level(level))


@rule
def depth_of(words: Text, depth: Millimetres) -> Text:
    """What is said of a layer."""
    return one_text(words, " ", in_figures(depth))


@rule
def level(down: Millimetres, section_floor_level: Metres) -> Metres:
    """The level of its top, on the drawing's datum."""
    return section_floor_level - down / 1000


@rule
def label(words: Text, shown: Flag, is_level: Flag, depth: Millimetres, level: Metres) -> Text:
    """Its words: a layer's depth in millimetres, a level in metres. A blank where it is not there."""
    return where(
        same(shown, 1),
        where(same(is_level, 1), level_says(words, level), depth_of(words, depth)),
        " ",
    )


def _of(column: str) -> Worked:
    return worked(in_row, row=NamedCell("drawn_row"), column=WholeColumn("zones", column))


def _over(column: str) -> Worked:
    return worked(over_dpm, column=WholeColumn("zones", column),
                  zone_over=WholeColumn("zones", f"{column}_over"))  # fmt: skip


def _under(column: str) -> Worked:
    return worked(under_dpm, column=WholeColumn("zones", column),
                  zone_over=WholeColumn("zones", f"{column}_over"))  # fmt: skip


# From the top: its words, its depth, and of a level whether it is there.
_LAYERS: tuple[tuple[str, Rule | Worked, Rule | Worked | None], ...] = (
    ("finished floor", rule_of(no_depth), rule_of(always)),
    ("screed", _of("screed"), None),
    ("insulation", _over("insulation"), None),
    ("slab or structure", _over("slab"), None),
    ("void", _of("void_depth"), None),
    ("oversite", _of("oversite"), None),
    ("DPM", rule_of(no_depth), _of("sheet")),
    ("slab or structure", _under("slab"), None),
    ("insulation", _under("insulation"), None),
    ("blinding", _of("bed"), None),
    ("hardcore", _of("hardcore_depth"), None),
    ("formation", rule_of(no_depth), rule_of(always)),
)

DRAWN_LAYERS = Table(
    "drawn_layers",
    "drawn_layer",
    "Section: the layers of the floor, from the top",
    (
        Fixed("name", "Layer", TEXT),
        Fixed("words", "As it is called", TEXT),
        Fixed("is_level", "A level", FLAG),
        Varied("level_shown", "The level is there", FLAG,
               rules=tuple(there or rule_of(always) for _, _, there in _LAYERS)),
        Varied("depth", "Depth", MILLIMETRES, rules=tuple(depth for _, depth, _ in _LAYERS)),
        worked(down, "Its top, down"),
        worked(shown, "Labelled"),
        worked(bottom_y, "Its foot, from below"),
        worked(middle_y, "Its middle, from below"),
        worked(label_down, "Label, from the top"),
        worked(label_y, "Label, from below"),
        worked(label_x, "Label, from the left"),
        worked(level),
        worked(label),
    ),
    key="name",
    guarded=False,
    since=7,
)  # fmt: skip

LAYER_ROWS = tuple(
    {"name": f"{n}: {words}", "words": words, "is_level": int(there is not None)}
    for n, (words, _, there) in enumerate(_LAYERS, 1)
)


# ---- their lines ----------------------------------------------------------------------------------


@rule
def foot_x(
    end: Flag, section_left: Amount, section_thick: Millimetres, section_scale: Amount
) -> Amount:
    """An end of the line under a layer: at the wall, or where the floor is cut off."""
    return section_left + (section_thick + end * FLOOR_SEEN) * section_scale


@rule
def foot_y(of: Each, drawn_layer_bottom_y: Column) -> Amount:
    """How high that line is."""
    return beside(drawn_layer_bottom_y, of)


@rule
def leader_x(
    of: Each,
    end: Flag,
    section_left: Amount,
    section_thick: Millimetres,
    section_scale: Amount,
    drawn_layer_shown: Column,
) -> Amount:
    """An end of the line from a layer to its label. Where there is none, a point that no line has."""
    return where(
        same(end * beside(drawn_layer_shown, of), 1),
        LABELS_X - 1,
        section_left
        + (section_thick + FLOOR_SEEN - LEADER_IN * (2 - beside(drawn_layer_shown, of)))
        * section_scale,
    )


@rule
def leader_y(
    of: Each,
    end: Flag,
    drawn_layer_shown: Column,
    drawn_layer_middle_y: Column,
    drawn_layer_label_y: Column,
) -> Amount:
    """The same, from below."""
    return where(
        same(end * beside(drawn_layer_shown, of), 1),
        beside(drawn_layer_label_y, of),
        beside(drawn_layer_middle_y, of),
    )


DRAWN_FEET = stroke_table(
    "drawn_feet",
    "drawn_foot",
    "Section: the line under each layer, and the one to its label",
    "End of a line",
    Fixed("of", "Of layer", EACH),
    Fixed("end", "1 for its end", FLAG),
    worked(foot_x, "From the left", "x"),
    worked(foot_y, "From below", "y"),
    worked(leader_x, "To the label, from the left"),
    worked(leader_y, "To the label, from below"),
    since=7,
)

FOOT_ROWS = tuple(
    {key: value for key, value in row.items() if key != "last"}
    for n in range(1, len(_LAYERS) + 1)
    for row in line_rows("layer", n)
)
