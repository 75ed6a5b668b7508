"""Radon or gas: the sheet covers the whole footprint, new walls and all, in the grade made for it.

Grade, laps, sealing, sump or vented void and testing stay with a specialist: no figure for them
is known to the project (radon notes citing BRE BR 211).
"""

from ..language import *


@rule
def gas_mode(radon_area: Text) -> Flag:
    """1 where the sheet is to keep out radon or gas."""
    return where(same(radon_area, "yes"), 1, 0)


@rule
def wall_row(wall: Text, wall_mark: TextColumn, wall_position: Column) -> Each:
    """The run whose wall this edge meets. 0 where none is named."""
    return where(same(wall, ""), 0, sum_of(wall_position, same(wall_mark, wall)))


@rule
def through_wall(gas_mode: Flag, to_dpc: Flag, external_run: Metres) -> Flag:
    """1 where the sheet goes on across a new wall, or under a threshold in it, to the outer face."""
    return where(less(0, external_run), gas_mode * to_dpc, 0)


@rule
def wall_crossed(through_wall: Flag, wall_row: Each, wall_thickness: Column) -> Millimetres:
    """Thickness of the new wall that the sheet crosses."""
    return where(
        both(same(through_wall, 1), less(0, wall_row)), beside(wall_thickness, wall_row), 0
    )


@rule
def along_wall(
    wall_row: Each, edge_side_length: Column, edge_wall_row: Column, edge_through_wall: Column
) -> Metres:
    """All edges along which sheets cross the wall of that run."""
    return where(
        less(0, wall_row),
        sum_of(edge_side_length, same(edge_wall_row, wall_row), same(edge_through_wall, 1)),
        0,
    )


@rule
def corner_squares(
    side_length: Metres,
    wall_row: Each,
    wall_crossed: Millimetres,
    along_wall: Metres,
    wall_turns: Column,
) -> SquareMetres:
    """This edge's share of the squares at the corners of the run, thickness by thickness.

    Edges are measured along the inside face: an external corner has one square that no edge
    covers, at an internal corner two edges cover one square twice. A run has them where its
    corners are counted. Its edges share them by their lengths.
    """
    return where(
        less(0, wall_crossed),
        divided(
            side_length * beside(wall_turns, wall_row) * wall_crossed * wall_crossed, along_wall
        )
        / 1000000,
        0,
    )


@rule
def covered(
    side_length: Metres, wall_crossed: Millimetres, corner_squares: SquareMetres
) -> SquareMetres:
    """Footprint of the new wall along this edge, and its share of the corners."""
    return side_length * wall_crossed / 1000 + corner_squares


@rule
def walls_covered(mark: Text, edge_covered: Column, edge_zone: TextColumn) -> SquareMetres:
    """Footprint of new walls that this floor's sheet covers."""
    return sum_of(edge_covered, same(edge_zone, mark))


@rule
def edges_unwalled(edge_through_wall: Column, edge_wall_row: Column) -> Each:
    """Edges where the sheet is to cross a new wall, and none is named."""
    return count_of(same(edge_through_wall, 1), same(edge_wall_row, 0))


@rule
def gas_note(gas_mode: Flag) -> Text:
    """What stays with a specialist, in a radon or gas area."""
    return where(
        same(gas_mode, 1),
        "Radon or gas: where a floor has a sheet to its DPC, it is counted over the new walls "
        "too, with a tray across each cavity. A specialist decides on grade, laps, sealing, "
        "other floors, a sump or vented void, and testing.",
        "",
    )
