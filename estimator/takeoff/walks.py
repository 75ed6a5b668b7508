"""A floor walked round its sides: how long each is, how far one turns at its end, and back again.

The first side runs along A; B lies to the right of it. Each side begins where the one before ends,
so area, corners and outline follow, and whether the walk comes back to where it began. Sines and
cosines are taken of what is left over from quarter turns alone: a right angle is exact.
"""

from ..language import *

QUARTER = 90  # degrees
CLOSES_WITHIN = 0.005  # m: common practice, half a joint
AROUND = 36_000  # degrees: a hundred turns, so that no heading is below 0


@rule
def walked(floor_walked: Flag, round_hole: Flag) -> Flag:
    """1 for a side of a walk. An edge that goes round a hole is none."""
    return floor_walked * (1 - round_hole)


@rule
def order(number: Each, position: Each) -> Each:
    """Which side it is, round its floor: as numbered, else as the rows stand."""
    return first_given(number, position)


@rule
def turns_by(walked: Flag, turn: Degrees) -> Degrees:
    """Turn at its end, to the right: a right angle unless another is typed."""
    return walked * first_given(turn, QUARTER)


@rule
def heading(
    zone: Text, order: Each, edge_turns_by: Column, edge_zone: TextColumn, edge_order: Column
) -> Degrees:
    """Where it leads, to the right of the first side, with a hundred turns added."""
    return AROUND + sum_of(edge_turns_by, same(edge_zone, zone), less(edge_order, order))


@rule
def quarters(heading: Degrees) -> Each:
    """Whole quarter turns in that."""
    return whole_down(heading / QUARTER)


@rule
def quarter(quarters: Each) -> Each:
    """Which way it leads: 0 along A, 1 along B, 2 and 3 back."""
    return quarters - 4 * whole_down(quarters / 4)


@rule
def slant(heading: Degrees, quarters: Each) -> Degrees:
    """What is left over: 0 but for a splay."""
    return heading - QUARTER * quarters


@rule
def share_a(walked: Flag, quarter: Each, slant: Degrees) -> Amount:
    """Progress along A for each metre of side."""
    return walked * choose(
        quarter + 1, cos_of(slant), 0 - sin_of(slant), 0 - cos_of(slant), sin_of(slant)
    )


@rule
def share_b(walked: Flag, quarter: Each, slant: Degrees) -> Amount:
    """Progress along B for each metre of side."""
    return walked * choose(
        quarter + 1, sin_of(slant), cos_of(slant), 0 - sin_of(slant), 0 - cos_of(slant)
    )


@rule
def given_a(length: Metres, share_a: Amount) -> Metres:
    """Progress along A, as far as its length is typed."""
    return first_given(length, 0) * share_a


@rule
def given_b(length: Metres, share_b: Amount) -> Metres:
    """Progress along B, as far as its length is typed."""
    return first_given(length, 0) * share_b


@rule
def unmeasured(walked: Flag, length: Metres) -> Flag:
    """1 for a side of a walk whose length is left to be worked out."""
    return where(given(length), 0, walked)


@rule
def side_length(
    length: Metres,
    unmeasured: Flag,
    zone_row: Each,
    zone_left_a: Column,
    zone_left_b: Column,
    zone_sides_unmeasured: Column,
    hole_round: Metres,
) -> Metres:
    """Its length: typed, or what brings the walk back to its start. 0 where more than one is left.

    Of an edge that goes round a hole, its four sides.
    """
    return where(
        same(unmeasured, 1),
        where(
            same(beside(zone_sides_unmeasured, zone_row), 1),
            root_of(
                beside(zone_left_a, zone_row) * beside(zone_left_a, zone_row)
                + beside(zone_left_b, zone_row) * beside(zone_left_b, zone_row)
            ),
            0,
        ),
        first_given(length, hole_round),
    )


@rule
def step_a(side_length: Metres, share_a: Amount) -> Metres:
    """How far it goes along A."""
    return side_length * share_a


@rule
def step_b(side_length: Metres, share_b: Amount) -> Metres:
    """How far it goes along B."""
    return side_length * share_b


@rule
def at_a(
    zone: Text, order: Each, edge_step_a: Column, edge_zone: TextColumn, edge_order: Column
) -> Metres:
    """Where it begins, along A."""
    return sum_of(edge_step_a, same(edge_zone, zone), less(edge_order, order))


@rule
def at_b(
    zone: Text, order: Each, edge_step_b: Column, edge_zone: TextColumn, edge_order: Column
) -> Metres:
    """Where it begins, along B."""
    return sum_of(edge_step_b, same(edge_zone, zone), less(edge_order, order))


@rule
def swept(at_a: Metres, at_b: Metres, step_a: Metres, step_b: Metres) -> SquareMetres:
    """Twice the area between this side and the start of the walk. With a sign."""
    return at_a * step_b - at_b * step_a


@rule
def side_no(
    walked: Flag,
    zone: Text,
    order: Each,
    edge_zone: TextColumn,
    edge_order: Column,
    edge_walked: Column,
) -> Each:
    """Its number in the walk, from 1. 0 where the floor is not walked."""
    return walked * (
        1 + count_of(same(edge_zone, zone), same(edge_walked, 1), less(edge_order, order))
    )


@rule
def next_no(side_no: Each, zone_row: Each, zone_sides_walked: Column) -> Each:
    """The side that follows."""
    return where(same(side_no, beside(zone_sides_walked, zone_row)), 1, side_no + 1)


@rule
def turns_out(turns_by: Degrees, zone_row: Each, zone_turned_round: Column) -> Flag:
    """1 where an external corner ends it."""
    return where(less(0, turns_by * beside(zone_turned_round, zone_row)), 1, 0)


@rule
def turns_in(turns_by: Degrees, zone_row: Each, zone_turned_round: Column) -> Flag:
    """1 where an internal corner ends it."""
    return where(less(turns_by * beside(zone_turned_round, zone_row), 0), 1, 0)


@rule
def side_before(
    zone: Text,
    side_no: Each,
    edge_zone: TextColumn,
    edge_next_no: Column,
    edge_walked: Column,
    edge_position: Column,
) -> Each:
    """The row of the side before. 0 where the floor is not walked."""
    return where(
        less(0, side_no),
        sum_of(
            edge_position,
            same(edge_zone, zone),
            same(edge_next_no, side_no),
            same(edge_walked, 1),
        ),
        0,
    )


@rule
def side_after(
    zone: Text,
    next_no: Each,
    side_no: Each,
    edge_zone: TextColumn,
    edge_side_no: Column,
    edge_position: Column,
) -> Each:
    """The row of the side after. 0 where the floor is not walked."""
    return where(
        less(0, side_no), sum_of(edge_position, same(edge_zone, zone), same(edge_side_no, next_no)), 0
    )  # fmt: skip


@rule
def faces(walked: Flag, side: Text, quarter: Each) -> Text:
    """Which side of a rectangle it is, or faces as: the first of a walk as A1, the next as B1."""
    return where(same(walked, 1), choose(quarter + 1, "A1", "B1", "A2", "B2"), side)


@rule
def low(at: Metres, step: Metres) -> Metres:
    """Where it comes nearest to the back of the floor, one way."""
    return at + least(step, 0)


@rule
def high(at: Metres, step: Metres) -> Metres:
    """Where it comes farthest from there."""
    return at + most(step, 0)


@rule
def crossed(
    walked: Flag,
    zone: Text,
    low_a: Metres,
    high_a: Metres,
    low_b: Metres,
    high_b: Metres,
    edge_zone: TextColumn,
    edge_low_a: Column,
    edge_high_a: Column,
    edge_low_b: Column,
    edge_high_b: Column,
) -> Each:
    """Sides of the walk that this one crosses from side to side, by more than a walk may end off.

    Every one of a right-angled floor. Two splayed sides may cross unseen: a job file finds them.
    """
    return walked * count_of(
        same(edge_zone, zone),
        less(low_a + CLOSES_WITHIN, edge_low_a),
        less(edge_high_a, high_a - CLOSES_WITHIN),
        less(edge_low_b, low_b - CLOSES_WITHIN),
        less(high_b + CLOSES_WITHIN, edge_high_b),
    )


@rule
def splayed(walked: Flag, slant: Degrees) -> Flag:
    """1 for a side out of the right angle."""
    return where(less(0, most(slant, 0 - slant)), walked, 0)


@rule
def listed_twice(
    walked: Flag,
    zone: Text,
    order: Each,
    edge_zone: TextColumn,
    edge_order: Column,
    edge_walked: Column,
) -> Flag:
    """1 where two sides of one walk have one number."""
    return where(
        less(1, count_of(same(edge_zone, zone), same(edge_order, order), same(edge_walked, 1))),
        walked,
        0,
    )


@rule
def side_misfit(
    walked: Flag, round_hole: Flag, side: Text, length: Metres, number: Each, turn: Degrees
) -> Flag:
    """1 where a walked floor's edge names a side of a rectangle, or a rectangle's none. Or where
    what belongs to a walk is typed for a rectangle. An edge round a hole is no side."""
    return where(
        same(walked, 1),
        where(same(side, ""), 0, 1),
        where(
            same(round_hole, 1),
            0,
            where(
                given(number),
                1,
                where(given(turn), 1, where(given(length), where(same(side, ""), 1, 0), 1)),
            ),
        ),
    )


SIDE_COLUMNS: tuple[Item, ...] = (
    read("floor_walked", "Of a walked floor", FLAG, "zones.walked", at="zone_row"),
    worked(walked, "Of a walk"),
    worked(order),
    worked(turns_by, "Turns by"),
    worked(heading, "Leads"),
    worked(quarters, "Quarter turns"),
    worked(quarter, "Way"),
    worked(slant, "Splay"),
    worked(share_a, "Along A, a metre"),
    worked(share_b, "Along B, a metre"),
    worked(given_a, "Along A, as typed"),
    worked(given_b, "Along B, as typed"),
    worked(unmeasured, "No length"),
    worked(side_length, "Length in use"),
    worked(step_a, "Along A"),
    worked(step_b, "Along B"),
    worked(at_a, "Begins, along A"),
    worked(at_b, "Begins, along B"),
    worked(swept, "Swept, twice"),
    worked(low, "Back, along A", "low_a", at=OwnCell("at_a"), step=OwnCell("step_a")),
    worked(high, "Ahead, along A", "high_a", at=OwnCell("at_a"), step=OwnCell("step_a")),
    worked(low, "Back, along B", "low_b", at=OwnCell("at_b"), step=OwnCell("step_b")),
    worked(high, "Ahead, along B", "high_b", at=OwnCell("at_b"), step=OwnCell("step_b")),
    worked(crossed, "Sides crossed"),
    worked(side_no, "Side of the walk"),
    worked(next_no, "Side that follows"),
    worked(turns_out, "External corner"),
    worked(turns_in, "Internal corner"),
    worked(side_before, "Row before"),
    worked(side_after, "Row after"),
    worked(faces),
    worked(splayed),
    worked(listed_twice, "Number twice"),
    worked(side_misfit, "Side misfits"),
)  # fmt: skip
