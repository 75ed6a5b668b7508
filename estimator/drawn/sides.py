"""The plan of one floor, drawn to scale: its sides as lines and words in a frame of 0 to 100 both ways.

Which floor is chosen in a cell. Side A of a rectangle, or the first side of a walk, runs to the
right, and B down from it, as one walks: the plan is never seen in a mirror. What stands in no row
that is drawn is counted, and said.
"""

from ..language import *
from .chosen import chosen_row, in_row, there
from .side_labels import (
    figured,
    free_below,
    label,
    label_x,
    label_y,
    long_enough,
    mark_y,
    marked,
    own_mark,
    run_row,
    with_run,
)

SIDES_DRAWN = 24
LEFT, WIDE = 18, 71  # of the frame: where the floor may lie, as large as it fits
TOP, HIGH = 84.5, 57.5
FREE_WIDE, FREE_HIGH = 9, 6  # of the frame: what is free round that, for the sheet past the floor
TURN_IN = 1.2  # of the frame: the turned-up sheet from its side

CHOSEN = text(
    "drawn_floor",
    "Floor drawn",
    "The ref of the floor that is drawn. Blank: the first.",
    choice_of="zones.mark",
    required=False,
    since=7,
)


# ---- the floor, and how it lies in the frame ----------------------------------------------------


@rule
def drawn_first(zone_position: Column, zone_floor_row: Column) -> Each:
    """The first floor that can be used. 0 if none."""
    return there(smallest_of(zone_position, less(0, zone_floor_row)))


@rule
def drawn_hand(drawn_row: Each, zone_turned_round: Column) -> Flag:
    """1 where the floor lies to the right of its sides, -1 where it is walked round to the left."""
    return where(less(0, drawn_row), where(less(beside(zone_turned_round, drawn_row), 0), -1, 1), 1)


@rule
def drawn_past(
    drawn_extent_a: Metres,
    drawn_extent_b: Metres,
    strips_near_a: Metres,
    strips_far_a: Metres,
    strips_near_b: Metres,
    strips_far_b: Metres,
) -> Metres:
    """How far the sheet goes past the floor drawn, where it goes farthest."""
    return most(
        0,
        0 - strips_near_a,
        0 - strips_near_b,
        strips_far_a - drawn_extent_a,
        strips_far_b - drawn_extent_b,
    )


@rule
def drawn_scale(drawn_extent_a: Metres, drawn_extent_b: Metres, drawn_past: Metres) -> Amount:
    """Hundredths of the frame to a metre: the floor fits in its room, the sheet in what is free."""
    return divided(
        1,
        most(
            drawn_extent_a / WIDE,
            drawn_extent_b / HIGH,
            (drawn_extent_a + 2 * drawn_past) / (WIDE + FREE_WIDE),
            (drawn_extent_b + 2 * drawn_past) / (HIGH + FREE_HIGH),
        ),
    )


@rule
def drawn_left(drawn_extent_a: Metres, drawn_scale: Amount) -> Amount:
    """Where the floor begins in the frame, from the left."""
    return LEFT + (WIDE - drawn_extent_a * drawn_scale) / 2


@rule
def drawn_top(drawn_extent_b: Metres, drawn_scale: Amount) -> Amount:
    """Where the floor begins in the frame, at its back."""
    return TOP - (HIGH - drawn_extent_b * drawn_scale) / 2


@rule
def drawn_bottom(drawn_top: Amount, drawn_extent_b: Metres, drawn_scale: Amount) -> Amount:
    """Where the floor ends in the frame, at its front."""
    return drawn_top - drawn_extent_b * drawn_scale


@rule
def drawn_sides_all(drawn_row: Each, edge_zone_row: Column, edge_round_hole: Column) -> Each:
    """Sides listed of the floor drawn."""
    return where(
        less(0, drawn_row), count_of(same(edge_zone_row, drawn_row), same(edge_round_hole, 0)), 0
    )


@rule
def drawn_without_figure(drawn_side_edge_row: Column, drawn_side_figured: Column) -> Each:
    """Sides drawn that have no room for their figure."""
    return count_of(less(0, drawn_side_edge_row), same(drawn_side_figured, 0))


@rule
def drawn_without_mark(drawn_side_figured: Column, drawn_side_marked: TextColumn) -> Each:
    """Sides with a figure that have no room for their ref."""
    return count_of(same(drawn_side_figured, 1), same(drawn_side_marked, " "))


FLOOR_CELLS: tuple[Item, ...] = (
    worked(drawn_first, "First floor that can be drawn"),
    worked(chosen_row, "Floor drawn, its row", "drawn_row", chosen=NamedCell("drawn_floor"),
           first=NamedCell("drawn_first"), mark=WholeColumn("zones", "mark"),
           position=WholeColumn("zones", "position")),
    worked(in_row, "Floor drawn is walked", "drawn_walked",
           row=NamedCell("drawn_row"), column=WholeColumn("zones", "walked")),
    worked(in_row, "Floor drawn, along A", "drawn_extent_a",
           row=NamedCell("drawn_row"), column=WholeColumn("zones", "extent_a")),
    worked(in_row, "Floor drawn, along B", "drawn_extent_b",
           row=NamedCell("drawn_row"), column=WholeColumn("zones", "extent_b")),
    worked(in_row, "Floor drawn, back along A", "drawn_from_a",
           row=NamedCell("drawn_row"), column=WholeColumn("zones", "from_a")),
    worked(in_row, "Floor drawn, back along B", "drawn_from_b",
           row=NamedCell("drawn_row"), column=WholeColumn("zones", "from_b")),
    worked(drawn_hand, "Floor drawn lies to the right"),
    worked(drawn_past, "Sheet past the floor drawn"),
    worked(drawn_scale, "Scale of the plan"),
    worked(drawn_left, "Plan, left"),
    worked(drawn_top, "Plan, top"),
    worked(drawn_bottom, "Plan, bottom"),
    worked(drawn_sides_all, "Sides of the floor drawn"),
    worked(drawn_without_figure, "Sides drawn without a figure"),
    worked(drawn_without_mark, "Sides drawn without a ref"),
)  # fmt: skip


# ---- its sides ----------------------------------------------------------------------------------


@rule
def found(
    drawn_row: Each,
    above_found: Amount,
    of_hole: Flag,
    edge_position: Column,
    edge_zone_row: Column,
    edge_round_hole: Column,
) -> Amount:
    """The next side, or hole, of the floor drawn, as the rows stand. NOTHING or more when there is none."""
    return where(
        less(0, drawn_row),
        smallest_of(
            edge_position,
            same(edge_zone_row, drawn_row),
            same(edge_round_hole, of_hole),
            less(above_found, edge_position),
        ),
        NOTHING,
    )


@rule
def side(drawn_walked: Flag, edge_row: Each, edge_side: TextColumn) -> Text:
    """Which side of a rectangle it lies on. Nothing for a side of a walk."""
    return where(
        same(drawn_walked, 1), "", where(less(0, edge_row), beside(edge_side, edge_row), "")
    )


@rule
def before(
    side: Text,
    drawn_row: Each,
    edge_row: Each,
    edge_side_length: Column,
    edge_zone_row: Column,
    edge_side: TextColumn,
    edge_position: Column,
) -> Metres:
    """Of a rectangle: the lengths listed before it on its side."""
    return where(
        same(side, ""),
        0,
        sum_of(
            edge_side_length,
            same(edge_zone_row, drawn_row),
            same(edge_side, side),
            less(edge_position, edge_row),
        ),
    )


@rule
def length(edge_row: Each, edge_side_length: Column) -> Metres:
    """Its length."""
    return where(less(0, edge_row), beside(edge_side_length, edge_row), 0)


@rule
def size(length: Metres, drawn_scale: Amount) -> Amount:
    """Its length in the frame."""
    return length * drawn_scale


@rule
def way(
    side: Text, edge_row: Each, drawn_walked: Flag, ahead: Text, back: Text, edge_share: Column
) -> Amount:
    """Which way it leads: progress for each metre of side."""
    return where(
        same(side, ""),
        where(less(0, edge_row), drawn_walked * beside(edge_share, edge_row), 0),
        where(same(side, ahead), 1, where(same(side, back), -1, 0)),
    )


@rule
def begins(
    side: Text,
    edge_row: Each,
    before: Metres,
    extent: Metres,
    reaches_back: Metres,
    ahead: Text,
    back: Text,
    far: Text,
    edge_at: Column,
) -> Metres:
    """Where it begins, from the back of the floor, one way."""
    return where(
        same(side, ""),
        where(less(0, edge_row), reaches_back + beside(edge_at, edge_row), 0),
        where(
            same(side, ahead),
            before,
            where(same(side, back), extent - before, where(same(side, far), extent, 0)),
        ),
    )


@rule
def from_x(drawn_left: Amount, begins_a: Metres, drawn_scale: Amount) -> Amount:
    """Where it begins in the frame, from the left."""
    return drawn_left + begins_a * drawn_scale


@rule
def from_y(drawn_top: Amount, begins_b: Metres, drawn_scale: Amount) -> Amount:
    """Where it begins in the frame, from below."""
    return drawn_top - begins_b * drawn_scale


@rule
def drawn_as(
    edge_row: Each, edge_kind_row: Column, edge_kind_line: Column
) -> Each:  # fmt: skip
    """Which line it is drawn as: the number of a style. 0 for none."""
    return where(less(0, edge_row), beside(edge_kind_line, beside(edge_kind_row, edge_row)), 0)


@rule
def turned(edge_row: Each, size: Amount, edge_turn_up: Column) -> Flag:
    """1 where the sheet turns up along it, and it is long enough to show that."""
    return where(
        less(0, edge_row),
        where(
            given(beside(edge_turn_up, edge_row)),
            where(less(0, beside(edge_turn_up, edge_row)), where(less(3 * TURN_IN, size), 1, 0), 0),
            0,
        ),
        0,
    )


DRAWN_SIDES = Table(
    "drawn_sides",
    "drawn_side",
    "Plan: the sides of the floor drawn",
    (
        Fixed("name", "Side drawn", TEXT),
        worked(found, of_hole=0),
        worked(there, "Row of the side", "edge_row"),
        worked(side),
        worked(before),
        worked(length),
        worked(size),
        worked(way, "Along A", "way_a", ahead="A1", back="A2",
               edge_share=WholeColumn("edges", "share_a")),
        worked(way, "Along B", "way_b", ahead="B1", back="B2",
               edge_share=WholeColumn("edges", "share_b")),
        worked(begins, "Begins along A", "begins_a", ahead="A1", back="A2", far="B1",
               extent=NamedCell("drawn_extent_a"), reaches_back=NamedCell("drawn_from_a"),
               edge_at=WholeColumn("edges", "at_a")),
        worked(begins, "Begins along B", "begins_b", ahead="B1", back="B2", far="A2",
               extent=NamedCell("drawn_extent_b"), reaches_back=NamedCell("drawn_from_b"),
               edge_at=WholeColumn("edges", "at_b")),
        worked(from_x, "From the left"),
        worked(from_y, "From below"),
        worked(drawn_as, "Line"),
        worked(turned, "Turned up"),
        worked(label_x, "Figure, from the left"),
        worked(label_y, "Figure, from below"),
        worked(long_enough),
        worked(figured, "Has its figure"),
        worked(label, "Figure"),
        worked(run_row, "Run no."),
        worked(own_mark, "Its ref"),
        worked(with_run, "Ref and run"),
        worked(free_below, "Room for its ref"),
        worked(marked, "Ref written"),
        worked(mark_y, "Ref, from below"),
    ),
    key="name",
    guarded=False,
    since=7,
)  # fmt: skip

SIDE_ROWS = tuple({"name": f"side {n}"} for n in range(1, SIDES_DRAWN + 1))
