"""Joints between zones: how long the lap is, turn-ups at its ends and all."""

from ..language import *

STEP_MOST = 2000  # mm; above this a level was mistyped


@rule
def joint_step(zone_row: Each, joins_row: Each, zone_dpm_level: Column) -> Metres:
    """Step in the membrane at a joint. 0 elsewhere."""
    return where(
        both(less(0, joins_row), less(0, zone_row)),
        apart(beside(zone_dpm_level, zone_row), beside(zone_dpm_level, joins_row)),
        0,
    )


@rule
def step_up(
    kind_row: Each, joint_step: Metres, joint_lap: Millimetres, edge_kind_steps: Column
) -> Millimetres:
    """What the sheet takes to go up or down a step to another floor, before it laps that sheet."""
    return where(less(0, joint_lap), joint_step * 1000 * beside(edge_kind_steps, kind_row), 0)


@rule
def step_agrees(kind_row: Each, joint_step: Metres, edge_kind_steps: Column) -> Flag:
    """1 when the membranes of two floors lie at one level at a joint, at two at a step."""
    return where(
        same(beside(edge_kind_steps, kind_row), 1),
        where(both(less(0.0005, joint_step), at_most(joint_step * 1000, STEP_MOST)), 1, 0),
        where(at_most(joint_step, 0.0005), 1, 0),
    )


@rule
def facing(
    zone: Text, joins: Text, edge_side_length: Column, edge_zone: TextColumn, edge_joins: TextColumn
) -> Metres:
    """Length of joint that the floor on the other side lists against this one."""
    return sum_of(edge_side_length, same(edge_zone, joins), same(edge_joins, zone))  # fmt: skip


@rule
def listed(
    zone: Text, joins: Text, edge_side_length: Column, edge_zone: TextColumn, edge_joins: TextColumn
) -> Metres:
    """Length of joint that this floor lists against the other."""
    return sum_of(edge_side_length, same(edge_zone, zone), same(edge_joins, joins))  # fmt: skip


@rule
def on_a(faces: Text) -> Flag:
    """1 on a side of length A."""
    return where(either(same(faces, "A1"), same(faces, "A2")), 1, 0)


@rule
def whole_side(
    joins_row: Each,
    zone_row: Each,
    walked: Flag,
    on_a: Flag,
    listed: Metres,
    open_listed: Each,
    zone_extent_a: Column,
    zone_extent_b: Column,
) -> Flag:
    """1 where the joint to that floor takes the whole of this side. Two floors meet on one side.

    Of a walk: where external corners end it.
    """
    return where(
        less(0, joins_row),
        where(
            same(walked, 1),
            where(same(open_listed, 0), 1, 0),
            where(
                at_most(
                    where(
                        same(on_a, 1),
                        beside(zone_extent_a, zone_row),
                        beside(zone_extent_b, zone_row),
                    ),
                    listed + 0.0005,
                ),
                1,
                0,
            ),
        ),
        0,
    )


@rule
def goes_round(joins_row: Each, joins: Text, beside_it: Each, edge_joins: TextColumn) -> Flag:
    """1 where the side beside it in the walk is of the same joint."""
    return where(
        both(less(0, joins_row), less(0, beside_it)),
        where(same(beside(edge_joins, beside_it), joins), 1, 0),
        0,
    )


@rule
def out_before(joins_row: Each, side_before: Each, edge_turns_out: Column) -> Flag:
    """1 where a joint of a walk begins at an external corner."""
    return where(
        both(less(0, joins_row), less(0, side_before)), beside(edge_turns_out, side_before), 0
    )


@rule
def out_after(joins_row: Each, side_after: Each, turns_out: Flag) -> Flag:
    """1 where a joint of a walk ends at an external corner."""
    return where(both(less(0, joins_row), less(0, side_after)), turns_out, 0)


@rule
def past_corner(is_out: Flag, goes_round: Flag, beside_it: Each, edge_reach: Column) -> Millimetres:
    """How far the sheet reaches past the side next to the joint, at an external corner that ends it."""
    return where(same(is_out * (1 - goes_round), 1), beside(edge_reach, beside_it), 0)


@rule
def open_ends(
    joins_row: Each,
    walked: Flag,
    out_before: Flag,
    round_before: Flag,
    out_after: Flag,
    round_after: Flag,
) -> Each:
    """Ends of a joint of a walk that are no external corner of this floor."""
    return where(
        less(0, joins_row),
        walked * ((1 - out_before) * (1 - round_before) + (1 - out_after) * (1 - round_after)),
        0,
    )


@rule
def open_listed(
    zone: Text, joins: Text, edge_open_ends: Column, edge_zone: TextColumn, edge_joins: TextColumn
) -> Each:
    """The same, of all edges that this floor lists against the other."""
    return sum_of(edge_open_ends, same(edge_zone, zone), same(edge_joins, joins))


@rule
def past_listed(
    zone: Text,
    joins: Text,
    edge_past_before: Column,
    edge_past_after: Column,
    edge_zone: TextColumn,
    edge_joins: TextColumn,
) -> Millimetres:
    """How far the sheet reaches past the external corners that end a joint of a walk, all together."""
    return sum_of(edge_past_before, same(edge_zone, zone), same(edge_joins, joins)) + sum_of(
        edge_past_after, same(edge_zone, zone), same(edge_joins, joins)
    )


@rule
def bent(
    joint_lap: Millimetres,
    out_before: Flag,
    round_before: Flag,
    out_after: Flag,
    round_after: Flag,
) -> Millimetres:
    """What a lap that goes round an external corner of its own floor takes more, on this side of it."""
    return joint_lap * (out_before * round_before + out_after * round_after)


@rule
def past_one(
    joins_row: Each,
    zone_row: Each,
    on_a: Flag,
    zone_reach_a_one: Column,
    zone_reach_b_one: Column,
) -> Millimetres:
    """At a joint: how far the sheet reaches past the first of the two sides next to this one."""
    return where(
        less(0, joins_row),
        where(
            same(on_a, 1), beside(zone_reach_b_one, zone_row), beside(zone_reach_a_one, zone_row)
        ),
        0,
    )


@rule
def past_two(
    joins_row: Each,
    zone_row: Each,
    on_a: Flag,
    zone_reach_a_two: Column,
    zone_reach_b_two: Column,
) -> Millimetres:
    """At a joint: how far the sheet reaches past the second of the two sides next to this one."""
    return where(
        less(0, joins_row),
        where(
            same(on_a, 1), beside(zone_reach_b_two, zone_row), beside(zone_reach_a_two, zone_row)
        ),
        0,
    )


@rule
def own_ends(
    walked: Flag,
    whole_side: Flag,
    past_one: Millimetres,
    past_two: Millimetres,
    past_listed: Millimetres,
) -> Millimetres:
    """What this floor's own corners add to its joint: both, where the joint takes the whole side.

    Elsewhere one of them at most, and not known which: the larger. A walk knows its corners.
    """
    return where(
        same(walked, 1),
        past_listed,
        where(same(whole_side, 1), past_one + past_two, most(past_one, past_two)),
    )


@rule
def facing_ends(
    zone: Text, joins: Text, edge_own_ends: Column, edge_zone: TextColumn, edge_joins: TextColumn
) -> Millimetres:
    """The same, of the floor on the other side of a joint."""
    return where(
        same(joins, ""),
        0,
        largest_of(edge_own_ends, same(edge_zone, joins), same(edge_joins, zone)),
    )


@rule
def facing_whole(
    zone: Text, joins: Text, edge_whole_side: Column, edge_zone: TextColumn, edge_joins: TextColumn
) -> Flag:
    """1 where the joint takes the whole side of the floor on the other side of it."""
    return where(
        same(joins, ""),
        0,
        largest_of(edge_whole_side, same(edge_zone, joins), same(edge_joins, zone)),
    )


@rule
def joint_ends(
    whole_side: Flag, facing_whole: Flag, own_ends: Millimetres, facing_ends: Millimetres
) -> Millimetres:
    """Turn-ups that the lap of a joint runs up, at both its ends together.

    Where the joint takes the whole side of one floor, its ends are that floor's corners: how far the
    sheet reaches past the two sides next to the joint. Where it takes the whole side of both, the
    larger of the two. Where it takes the whole side of neither, one end is a corner of one floor and
    one of the other: the larger of each. A side reaches as far as the largest of its edges, also
    where that edge does not come to the corner: enough tape, never too little. At a splay the lap
    runs up the wall square to it.
    """
    return where(
        less(0, whole_side + facing_whole),
        most(whole_side * own_ends, facing_whole * facing_ends),
        own_ends + facing_ends,
    )


@rule
def joint_length(
    joint_lap: Millimetres,
    side_length: Metres,
    joint_ends: Millimetres,
    bent: Millimetres,
    listed: Metres,
) -> Metres:
    """Length of the lap to another floor, counted once: the edge, and the turn-ups at its ends.

    Edges that list one joint in parts share its ends.
    """
    return where(
        less(0, joint_lap),
        side_length + bent / 1000 + divided(side_length * joint_ends / 1000, listed),
        0,
    )


@rule
def joins_itself(joins: Text, zone: Text) -> Flag:
    """1 for a joint whose other side is its own floor."""
    return where(same(joins, zone), 1, 0)


JOINT_COLUMNS: tuple[Item, ...] = (
    worked(facing, "Facing joint"),
    worked(listed, "Joint listed"),
    worked(on_a, "On a side A"),
    worked(whole_side, "Joint takes the side"),
    worked(past_one, "Past its one end"),
    worked(past_two, "Past its other end"),
    worked(goes_round, "Joint goes on, before", "round_before",
           beside_it=OwnCell("side_before")),
    worked(goes_round, "Joint goes on, after", "round_after",
           beside_it=OwnCell("side_after")),
    worked(out_before, "Joint begins at a corner"),
    worked(out_after, "Joint ends at a corner"),
    worked(past_corner, "Past the side before", "past_before",
           is_out=OwnCell("out_before"), goes_round=OwnCell("round_before"),
           beside_it=OwnCell("side_before")),
    worked(past_corner, "Past the side after", "past_after",
           is_out=OwnCell("out_after"), goes_round=OwnCell("round_after"),
           beside_it=OwnCell("side_after")),
    worked(past_listed, "Past both"),
    worked(open_ends, "Ends at no corner"),
    worked(open_listed, "Joint's ends at no corner"),
    worked(bent, "Lap goes round a corner"),
    worked(own_ends, "Ends add"),
    worked(facing_ends, "Facing ends add"),
    worked(facing_whole, "Takes the facing side"),
    worked(joint_ends, "Turn-ups at its ends"),
    worked(joint_length, "Lapped to the floor"),
)  # fmt: skip
