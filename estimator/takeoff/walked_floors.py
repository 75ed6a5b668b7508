"""What a walk says of its floor: whether it closes, its area, its corners, the rectangle round it."""

from ..language import *
from . import holes
from .walks import CLOSES_WITHIN, QUARTER

LEAST_SIDES = 3


@rule
def walked(side_a: Metres, side_b: Metres) -> Flag:
    """1 for a floor that is walked: neither of its sides is typed."""
    return where(given(side_a), 0, where(given(side_b), 0, 1))


@rule
def half_typed(side_a: Metres, side_b: Metres) -> Flag:
    """1 where one side of a rectangle is typed, and not the other."""
    return where(given(side_a), where(given(side_b), 0, 1), where(given(side_b), 1, 0))


@rule
def sides_walked(mark: Text, edge_zone: TextColumn, edge_walked: Column) -> Each:
    """Sides listed for a walk."""
    return count_of(same(edge_zone, mark), same(edge_walked, 1))


@rule
def sides_unmeasured(mark: Text, edge_zone: TextColumn, edge_unmeasured: Column) -> Each:
    """Sides whose length is left to be worked out."""
    return count_of(same(edge_zone, mark), same(edge_unmeasured, 1))


@rule
def turned_round(mark: Text, edge_turns_by: Column, edge_zone: TextColumn) -> Degrees:
    """All turns: 360 once round to the right, -360 to the left."""
    return sum_of(edge_turns_by, same(edge_zone, mark))


@rule
def left_a(mark: Text, edge_given_a: Column, edge_zone: TextColumn) -> Metres:
    """What the typed lengths miss along A."""
    return 0 - sum_of(edge_given_a, same(edge_zone, mark))


@rule
def left_b(mark: Text, edge_given_b: Column, edge_zone: TextColumn) -> Metres:
    """What the typed lengths miss along B."""
    return 0 - sum_of(edge_given_b, same(edge_zone, mark))


@rule
def ends_a(mark: Text, edge_step_a: Column, edge_zone: TextColumn) -> Metres:
    """Where the walk ends along A, counted from its start."""
    return sum_of(edge_step_a, same(edge_zone, mark))


@rule
def ends_b(mark: Text, edge_step_b: Column, edge_zone: TextColumn) -> Metres:
    """Where the walk ends along B, counted from its start."""
    return sum_of(edge_step_b, same(edge_zone, mark))


@rule
def sides_twice(mark: Text, edge_zone: TextColumn, edge_listed_twice: Column) -> Each:
    """Sides that bear the number of another."""
    return count_of(same(edge_zone, mark), same(edge_listed_twice, 1))


@rule
def sides_crossed(mark: Text, edge_zone: TextColumn, edge_crossed: Column) -> Each:
    """Sides that cross another."""
    return count_of(same(edge_zone, mark), less(0, edge_crossed))


@rule
def turned_wrong(turned_round: Degrees) -> Degrees:
    """By how much the turns miss once round, to the right or to the left."""
    return apart(most(turned_round, 0 - turned_round), 4 * QUARTER)


@rule
def walk_gap(ends_a: Metres, ends_b: Metres) -> Metres:
    """How far from its start the walk ends."""
    return root_of(ends_a * ends_a + ends_b * ends_b)


@rule
def hole_fault(holes_outside: Each, holes_together: Each) -> Each:
    """Which of WALK_FAULTS is about its holes. 0 where all lie inside, clear of each other."""
    return where(less(0, holes_outside), 8, where(less(0, holes_together), 9, 0))


@rule
def walk_fault(
    walked: Flag,
    half_typed: Flag,
    sides_walked: Each,
    sides_twice: Each,
    sides_unmeasured: Each,
    turned_wrong: Degrees,
    walk_gap: Metres,
    sides_crossed: Each,
    hole_fault: Each,
) -> Each:
    """Which of WALK_FAULTS keeps the floor from being a shape. 0 where it is one."""
    return where(
        same(walked, 0),
        where(same(half_typed, 1), 1, hole_fault),
        where(
            less(sides_walked, LEAST_SIDES),
            2,
            where(
                less(0, sides_twice),
                3,
                where(
                    less(1, sides_unmeasured),
                    4,
                    where(
                        less(0, turned_wrong),
                        5,
                        where(
                            less(CLOSES_WITHIN, walk_gap),
                            6,
                            where(less(0, sides_crossed), 7, hole_fault),
                        ),
                    ),
                ),
            ),
        ),
    )


WALK_FAULTS = (
    "side A or side B is blank",
    "fewer than three sides",
    "two sides with one number",
    "more than one side without a length",
    "turns that do not come once round",
    "an end away from the start",
    "sides that cross",
    "a hole that touches its sides",
    "holes that meet",
)


@rule
def walk_note(walk_fault: Each) -> Text:
    """What keeps the floor from being a shape, in words."""
    return choose(walk_fault + 1, "", *WALK_FAULTS)


@rule
def swept_round(mark: Text, edge_swept: Column, edge_zone: TextColumn) -> SquareMetres:
    """Twice the area inside the walk. Below 0 where it goes round to the left."""
    return sum_of(edge_swept, same(edge_zone, mark))


@rule
def reaches_from(mark: Text, edge_at: Column, edge_zone: TextColumn) -> Metres:
    """How far back behind its start a walk comes."""
    return largest_of(0 - edge_at, same(edge_zone, mark))


@rule
def reaches_to(mark: Text, edge_at: Column, edge_zone: TextColumn) -> Metres:
    """How far before its start a walk comes."""
    return largest_of(edge_at, same(edge_zone, mark))


@rule
def extent_a(walked: Flag, side_a: Metres, from_a: Metres, to_a: Metres) -> Metres:
    """Length of the rectangle, along A, that the floor fills, or in which it lies."""
    return where(same(walked, 1), from_a + to_a, first_given(side_a, 0))


@rule
def extent_b(walked: Flag, side_b: Metres, from_b: Metres, to_b: Metres) -> Metres:
    """Length of the same along B."""
    return where(same(walked, 1), from_b + to_b, first_given(side_b, 0))


@rule
def sides_splayed(mark: Text, edge_zone: TextColumn, edge_splayed: Column) -> Each:
    """Sides out of the right angle."""
    return count_of(same(edge_zone, mark), same(edge_splayed, 1))


@rule
def corners_in(mark: Text, edge_zone: TextColumn, edge_turns_in: Column) -> Each:
    """Internal corners: the floor lies on both sides of them."""
    return count_of(same(edge_zone, mark), same(edge_turns_in, 1))


@rule
def corners_out(mark: Text, edge_zone: TextColumn, edge_turns_out: Column) -> Each:
    """External corners of a walk."""
    return count_of(same(edge_zone, mark), same(edge_turns_out, 1))


@rule
def corner_patches(
    mark: Text, edge_corner_patch: Column, edge_hole_corners: Column, edge_zone: TextColumn
) -> Each:
    """Preformed corners where the sheet turns up round an internal corner, and round holes."""
    return sum_of(edge_corner_patch, same(edge_zone, mark)) + sum_of(
        edge_hole_corners, same(edge_zone, mark)
    )


WALK_COLUMNS: tuple[Item, ...] = (
    worked(walked, "Walked"),
    worked(half_typed, "One side of two"),
    worked(sides_walked, "Sides of the walk"),
    worked(sides_unmeasured, "Without length"),
    worked(sides_twice, "Numbers twice"),
    worked(turned_round, "Turned round"),
    worked(turned_wrong, "Turned wrong"),
    worked(left_a, "Missing along A"),
    worked(left_b, "Missing along B"),
    worked(ends_a, "Ends off, along A"),
    worked(ends_b, "Ends off, along B"),
    worked(walk_gap, "Ends off"),
    worked(sides_crossed, "Sides that cross"),
    *holes.FLOOR_COLUMNS,
    worked(hole_fault, "Holes' fault"),
    worked(walk_fault, "Walk's fault"),
    worked(walk_note, "The walk"),
    worked(swept_round, "Swept, all round"),
    worked(reaches_from, "Back along A", "from_a", edge_at=WholeColumn("edges", "at_a")),
    worked(reaches_to, "Ahead along A", "to_a", edge_at=WholeColumn("edges", "at_a")),
    worked(reaches_from, "Back along B", "from_b", edge_at=WholeColumn("edges", "at_b")),
    worked(reaches_to, "Ahead along B", "to_b", edge_at=WholeColumn("edges", "at_b")),
    worked(extent_a, "Extent along A"),
    worked(extent_b, "Extent along B"),
    worked(sides_splayed, "Splayed sides"),
    worked(corners_in, "Internal corners"),
    worked(corners_out, "External corners"),
    worked(corner_patches, "Preformed corners"),
)
