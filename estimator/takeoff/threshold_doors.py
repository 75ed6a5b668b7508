"""Level-access doors against the thresholds of floors, and thresholds against doors.

In a run that follows a floor they are compared by their places, jamb by jamb; in a run measured by
hand, which sides of a floor may name, by their widths.
"""

from ..language import *

JAMB_WITHIN = 0.01  # m: common practice, one joint
THRESHOLD = "threshold"


# ---- the door ------------------------------------------------------------------------------------


@rule
def threshold_met(
    placed: Flag,
    kind_door: Flag,
    floor_row: Each,
    begins: Metres,
    edge_zone_row: Column,
    edge_kind: TextColumn,
    edge_run_at: Column,
    edge_position: Column,
) -> Each:
    """The row of the threshold, among the floor's sides, that begins at a door's first jamb, to a
    joint's width. 0 for none."""
    return where(
        less(0, placed * kind_door * floor_row),
        sum_of(
            edge_position,
            same(edge_zone_row, floor_row),
            same(edge_kind, THRESHOLD),
            at_most(edge_run_at, begins + JAMB_WITHIN),
            at_most(begins - JAMB_WITHIN, edge_run_at),
        ),
        0,
    )


@rule
def threshold_row(threshold_met: Each, ends: Metres, edge_run_to: Column) -> Each:
    """The same, where it also ends at the second jamb: the threshold on which the door stands."""
    return where(
        less(0, threshold_met),
        where(
            at_most(apart(beside(edge_run_to, threshold_met), ends), JAMB_WITHIN), threshold_met, 0
        ),
        0,
    )


@rule
def named_by_sides(
    floor_row: Each,
    with_threshold: Each,
    wall_row: Each,
    edge_measured_run: Column,
    edge_kind: TextColumn,
    edge_in_run: Column,
    edge_wall_row: Column,
) -> Flag:
    """1 for a level-access door in a run measured by hand that sides of a floor name, where each
    threshold names its run: then those of the run are known."""
    return where(
        both(same(floor_row, 0), less(0, with_threshold)),
        where(
            both(
                less(0, count_of(same(edge_measured_run, wall_row))),
                same(
                    count_of(
                        same(edge_kind, THRESHOLD), same(edge_in_run, 0), same(edge_wall_row, 0)
                    ),
                    0,
                ),
            ),
            1,
            0,
        ),
        0,
    )


@rule
def threshold_asked(level_placed: Flag, floor_row: Each, named_by_sides: Flag) -> Flag:
    """1 for such a door, and for one with a place in a run that follows a floor."""
    return where(less(0, level_placed * floor_row), 1, named_by_sides)


@rule
def in_named_run(
    named_by_sides: Flag,
    wall_row: Each,
    width: Metres,
    edge_measured_run: Column,
    edge_kind: TextColumn,
    edge_side_length: Column,
) -> Each:
    """Thresholds of its run, measured by hand, that are as long as it is wide, to a joint's width."""
    return where(
        same(named_by_sides, 1),
        count_of(
            same(edge_measured_run, wall_row),
            same(edge_kind, THRESHOLD),
            at_most(edge_side_length, width + JAMB_WITHIN),
            at_most(width - JAMB_WITHIN, edge_side_length),
        ),
        0,
    )


@rule
def off_threshold(threshold_asked: Flag, threshold_row: Each, in_named_run: Each) -> Flag:
    """1 for such a door where the floor has no threshold."""
    return where(less(0, threshold_row + in_named_run), 0, threshold_asked)


# ---- the threshold, among the sides of a floor ---------------------------------------------------


@rule
def measured_run(wall_row: Each, wall_follows_row: Column) -> Each:
    """The run that the side names, if that is measured by hand. 0 for none."""
    return where(
        less(0, wall_row), where(same(beside(wall_follows_row, wall_row), 0), wall_row, 0), 0
    )


@rule
def door_asked(
    in_run: Flag,
    kind: Text,
    zone_row: Each,
    measured_run: Each,
    opening_floor_row: Column,
    opening_placed: Column,
    opening_with_threshold: Column,
) -> Flag:
    """1 for a threshold that names a run measured by hand, and for one of a walk whose openings are
    placed: each level-access door, and some opening."""
    return where(
        both(same(kind, THRESHOLD), less(0, in_run + measured_run)),
        where(
            either(
                less(0, measured_run),
                both(
                    less(0, count_of(same(opening_floor_row, zone_row), same(opening_placed, 1))),
                    same(
                        count_of(
                            same(opening_floor_row, zone_row),
                            same(opening_placed, 0),
                            less(0, opening_with_threshold),
                        ),
                        0,
                    ),
                ),
            ),
            1,
            0,
        ),
        0,
    )


@rule
def doors_there(
    door_asked: Flag,
    position: Each,
    measured_run: Each,
    side_length: Metres,
    opening_threshold_row: Column,
    opening_wall_row: Column,
    opening_is_door: Column,
    opening_width: Column,
) -> Each:
    """Doors that stand on it. In a run measured by hand those as wide as it is long, to a joint's
    width."""
    return where(
        same(door_asked, 1),
        where(
            less(0, measured_run),
            count_of(
                same(opening_wall_row, measured_run),
                same(opening_is_door, 1),
                at_most(opening_width, side_length + JAMB_WITHIN),
                at_most(side_length - JAMB_WITHIN, opening_width),
            ),
            count_of(same(opening_threshold_row, position)),
        ),
        0,
    )


@rule
def no_door(door_asked: Flag, doors_there: Each) -> Flag:
    """1 for such a threshold on which no door stands."""
    return where(less(0, doors_there), 0, door_asked)


@rule
def threshold_note(no_door: Flag, measured_run: Each) -> Text:
    """What is to be looked at on that side, in words."""
    return where(
        same(no_door, 1),
        where(
            less(0, measured_run),
            "no door of its width in its wall",
            "no door is placed on this threshold",
        ),
        "",
    )


DOOR_COLUMNS: tuple[Item, ...] = (
    worked(measured_run, "Run measured by hand"),
    worked(door_asked, "Door asked"),
    worked(doors_there, "Doors there", opening_is_door=WholeColumn("openings", "kind_door")),
    worked(no_door, "No door there"),
    worked(threshold_note, "The threshold"),
)
