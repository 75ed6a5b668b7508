"""The section of a floor at its wall, drawn to scale: the layers, the sheet, the leaves and their DPC.

It is that of the floor drawn on the plan, at the first of its new walls whose DPC has a level. The
leaves are those of the run that the side names, else of the first that follows the floor, else of the
first in the list. Heights are counted in millimetres from the finished floor, widths from the outer face.
"""

from ..language import *
from .chosen import in_row, there

ABOVE_ALL, BELOW_ALL = 225, 150  # mm: wall that is seen above floor and DPC, and below formation
FLOOR_SEEN, GROUND_SEEN = 450, 200  # mm: how far the floor is seen, and the ground outside
FROM_X, WIDE = 15, 57  # of the frame: where wall and floor may lie
TOP_Y, HIGH = 84, 70


# ---- the wall, and the side of the floor at it --------------------------------------------------


@rule
def section_edge_found(
    drawn_row: Each,
    edge_position: Column,
    edge_zone_row: Column,
    edge_at_new_dpc: Column,
    edge_round_hole: Column,
) -> Amount:
    """The first side at a new wall whose DPC has a level. NOTHING if none."""
    return where(
        less(0, drawn_row),
        smallest_of(
            edge_position,
            same(edge_zone_row, drawn_row),
            same(edge_at_new_dpc, 1),
            same(edge_round_hole, 0),
        ),
        NOTHING,
    )


@rule
def section_run_found(
    drawn_row: Each, wall_position: Column, wall_follows_row: Column, wall_thickness: Column
) -> Amount:
    """The first run that follows the floor drawn. NOTHING if none."""
    return where(
        less(0, drawn_row),
        smallest_of(wall_position, same(wall_follows_row, drawn_row), less(0, wall_thickness)),
        NOTHING,
    )


@rule
def section_wall(
    section_named: Each, section_run: Each, wall_position: Column, wall_thickness: Column
) -> Each:
    """The run whose leaves are drawn: the side's, or that which follows, else the first. 0 if none."""
    return where(
        less(0, section_named),
        section_named,
        where(
            less(0, section_run),
            section_run,
            there(smallest_of(wall_position, less(0, wall_thickness))),
        ),
    )


@rule
def section_has_dpc(section_edge: Each) -> Flag:
    """1 where the DPC has a level."""
    return where(less(0, section_edge), 1, 0)


@rule
def section_has_ground(section_has_dpc: Flag, section_dpc_height: Millimetres) -> Flag:
    """1 where it is known how far the ground lies below the DPC."""
    return where(less(0, section_dpc_height), section_has_dpc, 0)


@rule
def section_dpc(
    section_has_dpc: Flag, section_dpc_level: Metres, section_floor_level: Metres
) -> Millimetres:
    """The DPC above the finished floor. Below 0 under it."""
    return section_has_dpc * (section_dpc_level - section_floor_level) * 1000


@rule
def section_depth(section_floor_level: Metres, section_formation_level: Metres) -> Millimetres:
    """From the finished floor down to the formation."""
    return (section_floor_level - section_formation_level) * 1000


@rule
def section_ground(section_dpc: Millimetres, section_dpc_height: Millimetres) -> Millimetres:
    """The ground outside above the finished floor. Below 0 under it."""
    return section_dpc - section_dpc_height


@rule
def section_turn_up(section_edge: Each, edge_turn_up: Column) -> Millimetres:
    """Turn-up of the sheet there. 0 where it is not known."""
    return where(
        less(0, section_edge),
        where(given(beside(edge_turn_up, section_edge)), beside(edge_turn_up, section_edge), 0),
        0,
    )


@rule
def section_rise(
    section_from_levels: Flag,
    section_turn_up: Millimetres,
    section_dpc: Millimetres,
    section_over: Millimetres,
) -> Millimetres:
    """How far the sheet goes up the wall: to the DPC, or as far as it turns up. Below 0 downwards."""
    return where(
        same(section_from_levels, 1),
        where(
            less(section_dpc + section_over, 0),
            most(section_dpc + section_over, 0 - section_turn_up),
            least(section_dpc + section_over, section_turn_up),
        ),
        section_turn_up,
    )


@rule
def section_dressed(
    section_from_levels: Flag, section_turn_up: Millimetres, section_rise: Millimetres
) -> Millimetres:
    """How far it is dressed on to the DPC."""
    return section_from_levels * (section_turn_up - most(section_rise, 0 - section_rise))


@rule
def section_up(section_dpc: Millimetres) -> Millimetres:
    """How much is seen above the finished floor."""
    return most(section_dpc, 0) + ABOVE_ALL


@rule
def section_down(
    section_dpc: Millimetres, section_ground: Millimetres, section_depth: Millimetres
) -> Millimetres:
    """How much is seen below it."""
    return most(section_depth, 0 - section_dpc, 0 - section_ground) + BELOW_ALL


@rule
def section_thick(
    section_outer: Millimetres, section_cavity: Millimetres, section_inner: Millimetres
) -> Millimetres:
    """Thickness of the wall."""
    return section_outer + section_cavity + section_inner


@rule
def section_scale(
    drawn_row: Each,
    section_thick: Millimetres,
    section_up: Millimetres,
    section_down: Millimetres,
) -> Amount:
    """Hundredths of the frame to a millimetre, the same both ways. 0 without a floor."""
    return where(
        less(0, drawn_row),
        1
        / most(
            (section_thick + FLOOR_SEEN + GROUND_SEEN) / WIDE, (section_up + section_down) / HIGH
        ),
        0,
    )


@rule
def section_left(section_scale: Amount) -> Amount:
    """Where the outer face lies in the frame."""
    return FROM_X + GROUND_SEEN * section_scale


@rule
def section_floor(section_up: Millimetres, section_scale: Amount) -> Amount:
    """Where the finished floor lies in the frame."""
    return TOP_Y - section_up * section_scale


def _zone(name: str, label: str, column: str) -> Worked:
    return worked(
        in_row, label, name, row=NamedCell("drawn_row"), column=WholeColumn("zones", column)
    )


def _side(name: str, label: str, column: str) -> Worked:
    return worked(
        in_row, label, name, row=NamedCell("section_edge"), column=WholeColumn("edges", column)
    )


def _wall(name: str, label: str, column: str) -> Worked:
    return worked(
        in_row, label, name, row=NamedCell("section_wall"), column=WholeColumn("walls", column)
    )


SECTION_CELLS: tuple[Item, ...] = (
    worked(section_edge_found, "Section: side looked for"),
    worked(
        there, "Section: side of the floor", "section_edge", found=NamedCell("section_edge_found")
    ),
    worked(section_run_found, "Section: run looked for"),
    worked(there, "Section: run that follows", "section_run", found=NamedCell("section_run_found")),
    _side("section_named", "Section: run of the side", "wall_row"),
    worked(section_wall, "Section: run drawn"),
    worked(section_has_dpc, "Section: has a DPC"),
    _side("section_side_length", "Section: length of the side", "side_length"),
    _side("section_dpc_level", "Section: level of DPC", "dpc_level"),
    _side("section_from_levels", "Section: sheet goes to the DPC", "from_levels"),
    _zone("section_floor_level", "Section: finished floor", "finished_level"),
    _zone("section_formation_level", "Section: formation", "formation_level"),
    _zone("section_over", "Section: over the DPM", "over_sheet"),
    _zone("section_sheet", "Section: has a DPM", "sheet"),
    _wall("section_outer", "Section: outer leaf", "outer_leaf"),
    _wall("section_cavity", "Section: cavity", "cavity"),
    _wall("section_inner", "Section: inner leaf", "inner_leaf"),
    _wall("section_dpc_height", "Section: DPC above ground", "dpc_height"),
    worked(section_has_ground, "Section: ground is known"),
    worked(section_dpc, "Section: DPC over the floor"),
    worked(section_depth, "Section: floor over formation"),
    worked(section_ground, "Section: ground over the floor"),
    worked(section_turn_up, "Section: turn-up"),
    worked(section_rise, "Section: sheet goes up"),
    worked(section_dressed, "Section: sheet dressed on"),
    worked(section_up, "Section: seen above"),
    worked(section_down, "Section: seen below"),
    worked(section_thick, "Section: wall"),
    worked(section_scale, "Section: scale"),
    worked(section_left, "Section: outer face, from the left"),
    worked(section_floor, "Section: floor, from below"),
)
