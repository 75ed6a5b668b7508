"""Where an opening stands along its wall run, and what a place must fit: run, corner, threshold.

Places are in plan, on the line on which the run is measured; that of a run that follows a floor is
the inside face. No quantity follows from a place. The DPC of the leaves is measured through under a
door, and the tape at a threshold is that of the floor's edge, as without a place: no source cuts
either. What does not go together is said instead.
"""

from ..language import *
from .dpc_steps import STEPS_AT_OPENING
from .threshold_doors import (
    in_named_run,
    named_by_sides,
    off_threshold,
    threshold_asked,
    threshold_met,
    threshold_row,
)

# ---- the opening -------------------------------------------------------------------------------


@rule
def placed(first_jamb: Metres) -> Flag:
    """1 for an opening that has a place along its run. Any other is counted and not placed."""
    return where(given(first_jamb), 1, 0)


@rule
def side_row(side: Text, edge_mark: TextColumn, edge_position: Column) -> Each:
    """The row of the floor's side on which it stands. 0 where none is named."""
    return where(same(side, ""), 0, sum_of(edge_position, same(edge_mark, side)))


@rule
def begins(placed: Flag, first_jamb: Metres, side_row: Each, edge_run_at: Column) -> Metres:
    """Its first jamb, along the run. 0 where it has no place."""
    return where(
        same(placed, 1),
        first_given(first_jamb, 0) + where(less(0, side_row), beside(edge_run_at, side_row), 0),
        0,
    )


@rule
def ends(placed: Flag, begins: Metres, width: Metres) -> Metres:
    """Its second jamb, along the run. 0 where it has no place."""
    return where(same(placed, 1), begins + width, 0)


@rule
def side_misfit(
    side_row: Each,
    floor_row: Each,
    edge_zone_row: Column,
    edge_in_run: Column,
) -> Flag:
    """1 where the side that is named is none of new wall of the floor that its run follows."""
    return where(
        less(0, side_row),
        where(
            both(
                less(0, floor_row),
                both(
                    same(beside(edge_zone_row, side_row), floor_row),
                    same(beside(edge_in_run, side_row), 1),
                ),
            ),
            0,
            1,
        ),
        0,
    )


@rule
def past_side(placed: Flag, first_jamb: Metres, side_row: Each, edge_side_length: Column) -> Flag:
    """1 where it begins at or past the end of the side that is named."""
    return where(
        less(0, placed * side_row),
        where(at_most(beside(edge_side_length, side_row), first_given(first_jamb, 0)), 1, 0),
        0,
    )


@rule
def corners_across(
    placed: Flag,
    floor_row: Each,
    begins: Metres,
    ends: Metres,
    edge_zone_row: Column,
    edge_run_corner: Column,
    edge_run_to: Column,
) -> Each:
    """Corners of its run between its jambs. Of a run measured by hand it is not known where they are."""
    return where(
        less(0, placed * floor_row),
        count_of(
            same(edge_zone_row, floor_row),
            same(edge_run_corner, 1),
            less(begins, edge_run_to),
            less(edge_run_to, ends),
        ),
        0,
    )


@rule
def stands_with(kind_row: Each, kind_jambs: Flag) -> Each:
    """Whose place in plan it shares by no usual detail: 0 for windows and doors, else its kind's row."""
    return where(same(kind_jambs, 1), 0, kind_row)


@rule
def in_its_way(
    placed: Flag,
    wall_row: Each,
    begins: Metres,
    ends: Metres,
    stands_with: Each,
    opening_placed: Column,
    opening_wall_row: Column,
    opening_begins: Column,
    opening_ends: Column,
    opening_stands_with: Column,
) -> Each:
    """Placed openings of its run that overlap it in plan: windows and doors, or others of its kind.

    An air brick below a window, or a window above a meter box, is no overlap.
    """
    return where(
        same(placed, 1),
        count_of(
            same(opening_placed, 1),
            same(opening_wall_row, wall_row),
            same(opening_stands_with, stands_with),
            less(opening_begins, ends),
            less(begins, opening_ends),
        )
        - 1,
        0,
    )


@rule
def level_placed(placed: Flag, with_threshold: Each) -> Flag:
    """1 for a level-access door that has a place."""
    return where(less(0, placed * with_threshold), 1, 0)


@rule
def thresholds_across(
    level_placed: Flag,
    wall_row: Each,
    begins: Metres,
    ends: Metres,
    opening_level_placed: Column,
    opening_wall_row: Column,
    opening_begins: Column,
    opening_ends: Column,
) -> Each:
    """Other level thresholds of its run that overlap its own: all lie on the floor."""
    return where(
        same(level_placed, 1),
        count_of(
            same(opening_level_placed, 1),
            same(opening_wall_row, wall_row),
            less(opening_begins, ends),
            less(begins, opening_ends),
        )
        - 1,
        0,
    )


@rule
def place_fault(
    placed: Flag,
    side_row: Each,
    number: Each,
    side_misfit: Flag,
    past_side: Flag,
    run_ends: Metres,
    ends: Metres,
    corners_across: Each,
    thresholds_across: Each,
    steps_across: Each,
) -> Each:
    """Which of PLACE_FAULTS keeps it from its place. 0 where it fits, or has none."""
    return where(
        same(placed, 0),
        where(less(0, side_row), 1, 0),
        where(
            less(1, number),
            2,
            where(
                same(side_misfit, 1),
                3,
                where(
                    same(past_side, 1),
                    4,
                    where(
                        less(run_ends, ends),
                        5,
                        where(
                            less(0, corners_across),
                            6,
                            where(
                                less(0, thresholds_across),
                                7,
                                where(less(0, steps_across), 8, 0),
                            ),
                        ),
                    ),
                ),
            ),
        ),
    )


PLACE_FAULTS = (
    "a side is named, and no first jamb",
    "a place is for one, and there are more",
    "its run does not follow that side",
    "it begins past the end of its side",
    "it ends past the end of its run",
    "it goes across a corner",
    "its threshold overlaps another",
)  # and behind them what `step_between` says


@rule
def step_between(steps_across: Each) -> Text:
    """That its level threshold lies across a step in the DPC, in words."""
    return where(less(0, steps_across), "a step in the DPC is between its jambs", "")


@rule
def misplaced(place_fault: Each, step_between: Text) -> Text:
    """What keeps it from its place, in words."""
    return choose(place_fault + 1, "", *PLACE_FAULTS, step_between)


@rule
def place_note(
    misplaced: Text, off_threshold: Flag, named_by_sides: Flag, in_its_way: Each
) -> Text:
    """What is wrong with its place, or to be looked at there, in words."""
    return where(
        same(misplaced, ""),
        where(
            same(off_threshold, 1),
            where(
                same(named_by_sides, 1),
                "no threshold of its width in its wall",
                "no threshold of its floor lies there",
            ),
            where(less(0, in_its_way), "it overlaps another in plan", ""),
        ),
        misplaced,
    )


@rule
def to_know(place_note: Text, note: Text) -> Text:
    """What stands beside it: what is to be said of its place, else what is left to the designer."""
    return where(same(place_note, ""), note, place_note)


PLACE_COLUMNS: tuple[Item, ...] = (
    read("kind_jambs", "Has jambs", FLAG, "opening_kinds.has_jambs", at="kind_row"),
    read("kind_door", "A door", FLAG, "opening_kinds.door", at="kind_row"),
    read("floor_row", "Floor no.", EACH, "walls.follows_row", at="wall_row"),
    read("run_ends", "Run ends at", METRES, "walls.length_in_use", at="wall_row"),
    worked(placed),
    worked(side_row, "Side no."),
    worked(begins, "Begins at"),
    worked(ends, "Ends at"),
    worked(side_misfit, "Side misfits"),
    worked(past_side, "Past its side"),
    worked(corners_across, "Corners across"),
    worked(stands_with, "Stands with"),
    worked(in_its_way, "In its way"),
    worked(level_placed, "Level door placed"),
    worked(thresholds_across, "Thresholds across"),
    *STEPS_AT_OPENING,
    worked(place_fault, "Place's fault"),
    worked(threshold_met, "Threshold at first jamb"),
    worked(threshold_row, "Threshold no."),
    worked(named_by_sides, "Run named by sides"),
    worked(threshold_asked, "Threshold asked"),
    worked(in_named_run, "Thresholds of its width"),
    worked(off_threshold, "Off a threshold"),
    worked(step_between, "The step"),
    worked(misplaced),
    worked(place_note, "The place"),
)
