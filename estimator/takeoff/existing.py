"""The existing house: what its walls are, and where the new walls tie in to them."""

from ..language import *

OLD_WALL_KINDS = Table(
    "old_wall_kinds",
    "old_wall_kind",
    "Kinds of existing wall",
    (
        Fixed("name", "Kind of existing wall", TEXT),
        Fixed("counted", "Can be counted", FLAG),
        Fixed("filled", "Cavity is filled", FLAG),
        Fixed("note", "Left to the designer", TEXT),
    ),
    key="name",
    guarded=False,
)
_NO_COUNT = "no count: provisional sum, designer's detail"
OLD_WALL_KIND_ROWS = (
    {"name": "cavity, clear", "counted": 1, "filled": 0, "note": ""},
    {"name": "cavity, filled", "counted": 1, "filled": 1, "note": "clear the fill above the tray"},
    {"name": "solid", "counted": 0, "filled": 0, "note": _NO_COUNT},
    {"name": "stone", "counted": 0, "filled": 0, "note": _NO_COUNT},
    {"name": "unknown", "counted": 0, "filled": 0, "note": _NO_COUNT},
)


@rule
def old_wall_agrees(counted: Flag, outer_leaf: Millimetres, cavity: Millimetres) -> Flag:
    """1 unless a cavity wall lacks the size of its outer leaf or of its cavity."""
    return where(
        both(
            same(counted, 1),
            either(at_most(first_given(outer_leaf, 0), 0), at_most(first_given(cavity, 0), 0)),
        ),
        0,
        1,
    )


OLD_WALLS = Table(
    "old_walls",
    "old_wall",
    "Existing walls",
    (
        text("mark", "Ref", "The existing wall's reference on the drawing, used once."),
        text("description", "Description", required=False),
        text("kind", "Kind of existing wall", "As found by opening up. Unknown until then.",
             choice_of="old_wall_kinds.name"),
        number("outer_leaf", "Outer leaf", MILLIMETRES, 50, 600,
               "Of a cavity wall. Blank while it is not known.", required=False),
        number("cavity", "Cavity", MILLIMETRES, 25, 400,
               "Of a cavity wall. Blank while it is not known.", required=False),
        find("kind_row", "Kind no.", by="kind", where="old_wall_kinds.name"),
        read("counted", "Counted", FLAG, "old_wall_kinds.counted", at="kind_row"),
        read("filled", "Filled", FLAG, "old_wall_kinds.filled", at="kind_row"),
        read("note", "Note", TEXT, "old_wall_kinds.note", at="kind_row"),
        worked(old_wall_agrees, "Holds together"),
    ),
    grows=True,
    shown=(), said="note",
    spare=(2, 4),
)  # fmt: skip


@rule
def vertical_dpc(number: Each, height: Metres) -> Metres:
    """Vertical DPC between the new leaf and the existing wall, net."""
    return number * height


@rule
def vertical_laps(number: Each, dpc_lap: Millimetres) -> Metres:
    """Laps of the vertical DPC on to the DPC at its foot."""
    return number * dpc_lap / 1000


@rule
def vertical_width(outer_leaf: Millimetres, dpc_width: Millimetres) -> Millimetres:
    """Width of the vertical DPC: as typed, else the outer leaf."""
    return first_given(dpc_width, outer_leaf)


@rule
def movement_joint(number: Each, height: Metres) -> Metres:
    """Movement joint at the face, filled and sealed by others."""
    return number * height


TIE_INS = Table(
    "tie_ins",
    "tie_in",
    "Tie-ins of new walls to existing ones",
    (
        text("mark", "Ref", "The tie-in's reference on the drawing, used once."),
        text("wall", "New wall", "The run that ends there.", choice_of="walls.mark"),
        number("number", "Number", EACH, 1, 2, "Ends of that run tied in alike."),
        number("height", "Height", METRES, 0.1, 15, "Of the wall at the tie-in, above its DPC."),
        number("dpc_width", "DPC width", MILLIMETRES, 50, 600, "Blank: the outer leaf.",
               required=False),
        find("wall_row", "Wall no.", by="wall", where="walls.mark"),
        read("outer_leaf", "Outer leaf", MILLIMETRES, "walls.outer_leaf", at="wall_row"),
        worked(vertical_dpc, "Vertical DPC"),
        worked(vertical_laps, "Laps at the foot"),
        worked(vertical_width, "DPC, least"),
        worked(movement_joint),
    ),
    grows=True,
    shown=("vertical_dpc", "movement_joint"),
    spare=(2, 4),
)  # fmt: skip


@rule
def ties_disagree(wall_ties_agree: Column, wall_length_in_use: Column) -> Each:
    """Runs for which other tie-ins are listed than they have ends at existing walls."""
    return count_of(same(wall_ties_agree, 0), less(0, wall_length_in_use))
