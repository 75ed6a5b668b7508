"""Edges of floor zones: what each does to the sheet. Turn-ups follow from levels.

A zone without a sheet turns up nothing, and its edges need no level of a DPC. A sheet under an
oversite turns up to the top of the oversite unless a turn-up is typed: it meets no DPC.
"""

from ..language import *
from . import dpc_levels, edge_kinds, gas, holes, joints
from .floor_runs import RUN_COLUMNS
from .sheet_outlines import SHEET_AT_SIDE
from .threshold_doors import DOOR_COLUMNS
from .walks import QUARTER, SIDE_COLUMNS

TURN_UP_MOST = 2000  # mm; above this a level was mistyped
SIDES = ("A1", "A2", "B1", "B2")

# The names of sides as columns may bear them: no digits.
NAMED_SIDES = tuple(zip(("a_one", "a_two", "b_one", "b_two"), SIDES, strict=True))


@rule
def joins_row(joins: Text, zone_mark: TextColumn, zone_position: Column) -> Each:
    """The row of the floor on the other side of a joint. 0 elsewhere."""
    return where(same(joins, ""), 0, sum_of(zone_position, same(zone_mark, joins)))


@rule
def from_levels(kind_row: Each, to_dpc: Flag, edge_kind_by_levels: Column) -> Flag:
    """1 where the sheet is dressed on to a DPC whose level is given."""
    return to_dpc * beside(edge_kind_by_levels, kind_row)


@rule
def by_hand(kind_row: Each, to_dpc: Flag, edge_kind_by_hand: Column) -> Flag:
    """1 where the sheet turns up as far as is typed."""
    return to_dpc * beside(edge_kind_by_hand, kind_row)


@rule
def at_oversite(
    kind_row: Each,
    on_sheet: Flag,
    to_dpc: Flag,
    edge_kind_by_levels: Column,
    edge_kind_by_hand: Column,
) -> Flag:
    """1 where a sheet under an oversite meets a wall or a threshold."""
    return (on_sheet - to_dpc) * (
        beside(edge_kind_by_levels, kind_row) + beside(edge_kind_by_hand, kind_row)
    )


@rule
def rise(
    from_levels: Flag, dpc_level: Metres, zone_row: Each, zone_dpm_level: Column
) -> Millimetres:
    """Height between the membrane and the DPC that receives it, up or down."""
    return where(
        same(from_levels, 1),
        apart(first_given(dpc_level), beside(zone_dpm_level, zone_row)) * 1000,
        0,
    )


@rule
def dressed(
    kind_row: Each,
    from_levels: Flag,
    dress: Millimetres,
    dpm_dpc_lap: Millimetres,
    wall_crossed: Millimetres,
    edge_kind_by_chase: Column,
) -> Millimetres:
    """Length dressed on to the DPC: as typed, else the allowance. At a chase only as typed.

    In a radon or gas area never less than the new wall that the sheet crosses.
    """
    return where(
        same(from_levels, 1),
        where(
            same(beside(edge_kind_by_chase, kind_row), 1),
            first_given(dress),
            most(wall_crossed, first_given(dress, dpm_dpc_lap)),
        ),
        0,
    )


@rule
def by_levels(from_levels: Flag, rise: Millimetres, dressed: Millimetres) -> Millimetres:
    """Turn-up that follows from levels: the rise, and the length dressed on to the DPC."""
    return where(same(from_levels, 1), rise + dressed, 0)


@rule
def turn_up(
    from_levels: Flag,
    by_levels: Millimetres,
    by_hand: Flag,
    at_oversite: Flag,
    upstand: Millimetres,
    typed_turn_up: Millimetres,
    wall_crossed: Millimetres,
) -> Millimetres:
    """Turn-up of the sheet at this edge. Never less than a wall that a gas sheet crosses.

    As typed where it is typed. Else from levels. Nothing at joints, partitions and free edges.
    A threshold, or an existing wall whose DPC is unknown, has no figure until one is typed. Under
    an oversite it is the upstand of the oversite.
    """
    return where(
        same(from_levels, 1),
        most(wall_crossed, first_given(typed_turn_up, by_levels)),
        where(
            same(by_hand, 1),
            most(wall_crossed, first_given(typed_turn_up)),
            where(same(at_oversite, 1), first_given(typed_turn_up, upstand), 0),
        ),
    )


@rule
def turn_up_from(turn_up: Millimetres, typed_turn_up: Millimetres) -> Text:
    """Whether the turn-up was typed or follows from levels."""
    return where(less(0, turn_up), where(given(typed_turn_up), "typed", "from levels"), "none")


@rule
def no_turn_up(turn_up: Millimetres) -> Flag:
    """1 where a turn-up is asked and cannot be worked out."""
    return where(given(turn_up), 0, 1)


@rule
def turned_length(side_length: Metres, turn_up: Millimetres) -> Metres:
    """Length of edge along which sheet turns up."""
    return where(less(0, turn_up), side_length, 0)


@rule
def above_dpc(
    from_levels: Flag,
    dpc_level: Metres,
    zone_row: Each,
    zone_dpm_level: Column,
) -> Flag:
    """1 where the membrane lies above the DPC it should meet."""
    return where(
        same(from_levels, 1),
        where(less(first_given(dpc_level), beside(zone_dpm_level, zone_row)), 1, 0),
        0,
    )  # fmt: skip


@rule
def loose_end(
    turn_up: Millimetres,
    rise: Millimetres,
    by_hand: Flag,
    bond: Metres,
    seal: Metres,
    to_dpc: Flag,
) -> Flag:
    """1 where the sheet should meet a wall or a threshold and does not turn up as far.

    A sheet under an oversite is to meet no DPC.
    """
    return where(
        both(
            less(0, to_dpc * (bond + seal + by_hand)),
            either(same(turn_up, 0), less(turn_up, rise)),
        ),
        1,
        0,
    )


@rule
def sheets_meet(on_sheet: Flag, joins_row: Each, zone_sheet: Column) -> Flag:
    """1 unless, at a joint, one floor has a sheet and the other has none."""
    return where(less(0, joins_row), where(same(beside(zone_sheet, joins_row), on_sheet), 1, 0), 1)


@rule
def corner_patch(
    side_after: Each, turns_in: Flag, turned_length: Metres, edge_turned_length: Column
) -> Flag:
    """1 where the sheet turns up on both sides of the internal corner at its end."""
    return where(
        both(less(0, side_after), less(0, turns_in * turned_length)),
        where(less(0, beside(edge_turned_length, side_after)), 1, 0),
        0,
    )


@rule
def edge_agrees(
    kind_row: Each,
    joins: Text,
    facing: Metres,
    listed: Metres,
    step_agrees: Flag,
    sheets_meet: Flag,
    turn_up: Millimetres,
    turn_up_unread: Flag,
    joins_itself: Flag,
    side_misfit: Flag,
    hole_misfit: Flag,
    edge_kind_joins: Column,
) -> Flag:
    """1 when a joint is listed alike from both sides, its levels agree, and no turn-up is absurd.

    Both floors have a sheet, or neither: where only one has, its edge is a threshold, typed.
    """
    return where(
        both(
            at_most(turn_up, TURN_UP_MOST),
            same(turn_up_unread + joins_itself + side_misfit + hole_misfit, 0),
        ),
        where(
            same(beside(edge_kind_joins, kind_row), 1),
            where(
                both(
                    both(less(0, facing), same(sheets_meet + step_agrees, 2)),
                    at_most(apart(facing, listed), 0.0005),
                ),
                1,
                0,
            ),
            where(same(joins, ""), 1, 0),
        ),
        0,
    )


@rule
def bond(kind_row: Each, side_length: Metres, to_dpc: Flag, edge_kind_bonds: Column) -> Metres:
    """Double-sided tape where the sheet is bonded to a DPC, or to the tray or DPC of a threshold."""
    return side_length * to_dpc * beside(edge_kind_bonds, kind_row)


@rule
def seal(kind_row: Each, side_length: Metres, on_sheet: Flag, edge_kind_seals: Column) -> Metres:
    """Single-sided tape where the sheet is sealed to an old wall."""
    return side_length * on_sheet * beside(edge_kind_seals, kind_row)


@rule
def external(
    kind_row: Each, side_length: Metres, round_hole: Flag, edge_kind_external: Column
) -> Metres:
    """Length of new wall, which makes its side external. None round a hole."""
    return side_length * (1 - round_hole) * beside(edge_kind_external, kind_row)


@rule
def external_run(
    kind_row: Each, side_length: Metres, round_hole: Flag, edge_kind_external_run: Column
) -> Metres:
    """Length that counts in the run of an external side: new wall and thresholds."""
    return side_length * (1 - round_hole) * beside(edge_kind_external_run, kind_row)


@rule
def strip(kind_row: Each, side_length: Metres, slab_edge: Flag, edge_kind_walls: Column) -> Metres:
    """Strip between the edge of a slab or screed and the wall or threshold it meets."""
    return side_length * slab_edge * beside(edge_kind_walls, kind_row)


@rule
def joint_lap(
    kind_row: Each,
    joins_row: Each,
    zone_row: Each,
    on_sheet: Flag,
    dpm_lap: Millimetres,
    edge_kind_joins: Column,
) -> Millimetres:
    """Lap at a joint between floors: once, on the floor lower in the list."""
    return where(
        both(same(on_sheet * beside(edge_kind_joins, kind_row), 1), less(joins_row, zone_row)),
        dpm_lap,
        0,
    )


@rule
def reach(
    turn_up: Millimetres, joint_lap: Millimetres, step_up: Millimetres, round_hole: Flag
) -> Millimetres:
    """How far the sheet reaches past this edge of its floor. It passes over a hole."""
    return where(same(round_hole, 1), 0, most(turn_up, joint_lap + step_up))


EDGES = Table(
    "edges",
    "edge",
    "Edges of floors",
    (
        text("mark", "Ref", "The edge's own reference, used once."),
        text("zone", "Floor", "The floor this edge belongs to.", choice_of="zones.mark"),
        text("side", "Side", "Of a rectangle: A1 and A2 are the sides of length A, B1 and B2 "
                             "those of length B. Blank where the floor is walked.",
             choices=SIDES, required=False),
        number("number", "Side no.", EACH, 1, 200, "Of a walked floor: which side it is, counted "
                                                   "round the floor. Blank: in the order of the "
                                                   "rows.", required=False, since=6),
        number("length", "Length", METRES, 0.05, 60, "Lengths on one side of a rectangle must add "
                                                     "up to that side. Of a walked floor one "
                                                     "side may be left blank.", required=False),
        number("turn", "Turn at its end", DEGREES, -179, 179, "Of a walked floor, to the right: "
            f"blank for a right angle, {-QUARTER} for one to the left, 0 for straight on, 45 for a splay.",
               required=False, since=6),
        text("kind", "Kind of edge", choice_of="edge_kinds.name"),
        number("dpc_level", "Level of DPC", METRES, -50, 500,
               "Level of the DPC that receives the sheet, on the drawing's datum. Blank where no "
               "sheet is dressed on to a DPC.", required=False),
        number("dress", "Dressed on to DPC", MILLIMETRES, 0, 500,
               "Blank: the length in the allowances. At an existing wall: the depth of the chase, "
               "never blank.", required=False),
        number("typed_turn_up", "Turn-up, typed", MILLIMETRES, 0, TURN_UP_MOST,
               "Needed at a threshold and where the old DPC is unknown. Elsewhere it replaces the "
               "one from levels. Under an oversite, blank: its thickness.", required=False),
        text("joins", "Laps floor", "At a joint or a step: the floor on the other side.",
             choice_of="zones.mark", required=False),
        text("wall", "Meets wall", "The run of the new wall or door at this edge. The plan shows "
                                   "it, and a door finds its threshold by it. Needed in a radon "
                                   "or gas area, where the sheet crosses it.", choice_of="walls.mark", required=False),
        *holes.TYPED,
        find("kind_row", "Kind no.", by="kind", where="edge_kinds.name"),
        find("zone_row", "Floor no.", by="zone", where="zones.mark"),
        *holes.HOLE_COLUMNS,
        *SIDE_COLUMNS,
        *holes.PLACE_COLUMNS,
        *RUN_COLUMNS,
        worked(joins_row, "Laps no."),
        read("on_sheet", "On a sheet", FLAG, "zones.sheet", at="zone_row"),
        read("to_dpc", "Sheet to DPC", FLAG, "zones.to_dpc", at="zone_row"),
        read("upstand", "Oversite upstand", MILLIMETRES, "zones.upstand", at="zone_row"),
        read("slab_edge", "Strip round it", FLAG, "zones.slab_edge", at="zone_row"),
        worked(from_levels, "By levels"),
        worked(by_hand, "By hand"),
        worked(at_oversite, "At an oversite"),
        worked(external, "New wall"),
        worked(external_run, "External run"),
        worked(gas.wall_row, "Wall no."),
        worked(gas.through_wall, "Through the wall"),
        worked(gas.wall_crossed, "Wall crossed"),
        worked(gas.along_wall, "Edges along that wall"),
        worked(gas.corner_squares, "Share of its corners"),
        worked(gas.covered, "Wall covered"),
        worked(rise, "Rise to DPC"),
        worked(dressed, "Dressed"),
        worked(by_levels, "Turn-up from levels"),
        worked(turn_up, "Turn-up"),
        worked(turn_up_from, "Turn-up is"),
        worked(no_turn_up, "No turn-up"),
        worked(turned_length, "Turned up"),
        worked(corner_patch, "Preformed corner"),
        *holes.SHEET_COLUMNS,
        worked(joint_lap, "Lap at joint"),
        worked(joints.joint_step, "Step at joint"),
        worked(joints.step_up, "Up the step"),
        worked(joints.step_agrees, "Levels agree"),
        worked(reach, "Sheet reaches past"),
        *SHEET_AT_SIDE,
        *joints.JOINT_COLUMNS,
        worked(sheets_meet, "Sheets meet"),
        worked(edge_kinds.may_turn_up, "May turn up"),
        worked(edge_kinds.turn_up_unread, "Turn-up unread"),
        worked(joints.joins_itself, "Joins itself"),
        worked(edge_agrees, "Agrees"),
        worked(above_dpc, "DPM above DPC"),
        worked(dpc_levels.at_old_dpc, "DPC of the house"),
        worked(dpc_levels.at_new_dpc, "New DPC"),
        worked(dpc_levels.new_dpc_down, "New DPC, turned about 0"),
        worked(dpc_levels.below_new_dpc, "House's DPC below the new"),
        worked(dpc_levels.new_level_assumed, "New DPC's level assumed"),
        worked(dpc_levels.beside_assumed, "New DPC beside it assumed"),
        worked(bond, "Bonded to DPC or threshold"),
        worked(seal, "Sealed to old wall"),
        worked(loose_end, "Not connected"),
        worked(strip, "Strip"),
        *DOOR_COLUMNS,
    ),
    grows=True,
    shown=("turn_up", "turn_up_from"),
    said="threshold_note",
    spare=(12, 30),
)  # fmt: skip
