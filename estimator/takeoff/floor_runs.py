"""Wall runs that follow a walked floor: what its new sides say of length, corners and ends."""

from ..language import *
from .walks import QUARTER

INSIDE_FACE = "inside face"
OF_RUN = 6  # the columns of a run that run_typed counts


# ---- each side of the floor --------------------------------------------------------------------


@rule
def in_run(kind_row: Each, side_no: Each, edge_kind_external_run: Column) -> Flag:
    """1 for a side of a walk along a new wall, or a threshold in one."""
    return where(less(0, side_no), beside(edge_kind_external_run, kind_row), 0)


@rule
def at_old_wall(kind_row: Each, edge_kind_seals: Column) -> Flag:
    """1 for a side along an old wall."""
    return beside(edge_kind_seals, kind_row)


@rule
def goes_on(in_run: Flag, side_after: Each, edge_in_run: Column) -> Flag:
    """1 where the run goes on along the side after."""
    return where(less(0, side_after), in_run * beside(edge_in_run, side_after), 0)


@rule
def run_end(in_run: Flag, goes_on: Flag) -> Flag:
    """1 where a run ends."""
    return in_run - goes_on


@rule
def run_out(goes_on: Flag, turns_out: Flag) -> Flag:
    """1 at an external corner of a run."""
    return goes_on * turns_out


@rule
def run_in(goes_on: Flag, turns_in: Flag) -> Flag:
    """1 at an internal corner of a run."""
    return goes_on * turns_in


@rule
def corner_counts(turns_by: Degrees) -> Amount:
    """What the corner at its end counts when a run is moved sideways: 1 at a right angle.

    The line is cut back by the shift times the tangent of half the turn, on either side of it.
    """
    return where(
        same(most(turns_by, 0 - turns_by), QUARTER), 1, tan_of(most(turns_by, 0 - turns_by) / 2)
    )


@rule
def corner_short(goes_on: Flag, turns_out: Flag, turns_in: Flag, corner_counts: Amount) -> Amount:
    """What a corner of a run falls short of a right angle: 0 at one."""
    return goes_on * (turns_out - turns_in) * (1 - corner_counts)


@rule
def ends_at_old(
    in_run: Flag, side_before: Each, side_after: Each, edge_at_old_wall: Column
) -> Each:
    """Ends of the run, on this side, at an old wall."""
    return where(
        less(0, in_run),
        beside(edge_at_old_wall, side_before) + beside(edge_at_old_wall, side_after),
        0,
    )


@rule
def run_begin(in_run: Flag, side_before: Each, edge_in_run: Column) -> Flag:
    """1 where a run begins. No side of a run that closes."""
    return where(
        less(0, in_run),
        where(less(0, side_before), 1 - beside(edge_in_run, side_before), 0),
        0,
    )


@rule
def run_corner(run_out: Flag, run_in: Flag) -> Flag:
    """1 at a corner of a run, whichever way it turns. 0 where the wall goes straight on."""
    return run_out + run_in


@rule
def wall_before(
    zone: Text,
    side_no: Each,
    edge_side_length: Column,
    edge_in_run: Column,
    edge_zone: TextColumn,
    edge_side_no: Column,
) -> Metres:
    """New wall on the sides of the walk before this one."""
    return sum_of(
        edge_side_length, same(edge_in_run, 1), same(edge_zone, zone), less(edge_side_no, side_no)
    )


@rule
def run_at(
    in_run: Flag,
    side_no: Each,
    wall_before: Metres,
    zone_row: Each,
    zone_run_starts: Column,
    zone_before_start: Column,
    zone_new_length: Column,
) -> Metres:
    """How far along its run it begins, in the order of the walk.

    A run starts where new wall begins, in whatever side of the walk that is. One that closes, with
    the walk.
    """
    return where(
        less(0, in_run),
        wall_before
        - beside(zone_before_start, zone_row)
        + where(
            less(side_no, beside(zone_run_starts, zone_row)), beside(zone_new_length, zone_row), 0
        ),
        0,
    )


@rule
def run_to(in_run: Flag, run_at: Metres, side_length: Metres) -> Metres:
    """How far along its run it ends."""
    return where(less(0, in_run), run_at + side_length, 0)


RUN_COLUMNS: tuple[Item, ...] = (
    worked(in_run, "In a run"),
    worked(at_old_wall, "At an old wall"),
    worked(goes_on, "Run goes on"),
    worked(run_end, "Run ends"),
    worked(run_out, "Run's external corner"),
    worked(run_in, "Run's internal corner"),
    worked(corner_counts, "Corner counts"),
    worked(corner_short, "Run's corner falls short"),
    worked(ends_at_old, "Run's old ends"),
    worked(run_begin, "Run begins"),
    worked(run_corner, "Run's corner"),
    worked(wall_before, "New wall before"),
    worked(run_at, "Along the run, from"),
    worked(run_to, "Along the run, to"),
)


# ---- the floor ---------------------------------------------------------------------------------


@rule
def new_length(
    mark: Text, edge_side_length: Column, edge_in_run: Column, edge_zone: TextColumn
) -> Metres:
    """New wall round the floor, on its inside face."""
    return sum_of(edge_side_length, same(edge_in_run, 1), same(edge_zone, mark))


@rule
def new_runs(mark: Text, edge_run_end: Column, edge_zone: TextColumn) -> Each:
    """Ends of new wall round the floor: none of a run that closes, one of an open one."""
    return sum_of(edge_run_end, same(edge_zone, mark))


@rule
def new_out(mark: Text, edge_run_out: Column, edge_zone: TextColumn) -> Each:
    """External corners of new wall."""
    return sum_of(edge_run_out, same(edge_zone, mark))


@rule
def new_in(mark: Text, edge_run_in: Column, edge_zone: TextColumn) -> Each:
    """Internal corners of new wall."""
    return sum_of(edge_run_in, same(edge_zone, mark))


@rule
def new_short(mark: Text, edge_corner_short: Column, edge_zone: TextColumn) -> Amount:
    """What the corners of new wall fall short of right angles: 0 unless a side is splayed."""
    return sum_of(edge_corner_short, same(edge_zone, mark))


@rule
def new_old_ends(mark: Text, edge_ends_at_old: Column, edge_zone: TextColumn) -> Each:
    """Ends of new wall at old ones."""
    return sum_of(edge_ends_at_old, same(edge_zone, mark))


@rule
def run_starts(
    mark: Text, edge_side_no: Column, edge_run_begin: Column, edge_zone: TextColumn
) -> Each:
    """The side with which the run starts. 0 for one that closes, and starts with the walk."""
    return sum_of(edge_side_no, same(edge_run_begin, 1), same(edge_zone, mark))


@rule
def before_start(
    mark: Text,
    run_starts: Each,
    edge_side_length: Column,
    edge_in_run: Column,
    edge_zone: TextColumn,
    edge_side_no: Column,
) -> Metres:
    """New wall on the sides of the walk before the one with which the run starts."""
    return sum_of(
        edge_side_length,
        same(edge_in_run, 1),
        same(edge_zone, mark),
        less(edge_side_no, run_starts),
    )


FLOOR_RUN_COLUMNS: tuple[Item, ...] = (
    worked(new_length, "New wall round it"),
    worked(new_runs, "Ends of new wall"),
    worked(new_out, "Its external corners"),
    worked(new_in, "Its internal corners"),
    worked(new_short, "Its corners fall short"),
    worked(new_old_ends, "Its ends at old walls"),
    worked(run_starts, "Run starts with"),
    worked(before_start, "New wall before that"),
)


# ---- the run -----------------------------------------------------------------------------------


@rule
def follows_row(floor: Text, zone_mark: TextColumn, zone_position: Column) -> Each:
    """The row of the floor that the run follows. 0 for a run measured by hand."""
    return where(same(floor, ""), 0, sum_of(zone_position, same(zone_mark, floor)))


@rule
def length_in_use(follows_row: Each, length: Metres, zone_new_length: Column) -> Metres:
    """Length of the run: of the floor it follows, else as typed."""
    return where(less(0, follows_row), beside(zone_new_length, follows_row), first_given(length, 0))


@rule
def counted(follows_row: Each, typed: Each, column: Column) -> Each:
    """Corners or ends of the run: of the floor it follows, else as typed."""
    return where(less(0, follows_row), beside(column, follows_row), first_given(typed, 0))


@rule
def splays(follows_row: Each, zone_new_short: Column) -> Amount:
    """What its corners fall short of right angles. A run measured by hand has right angles."""
    return where(less(0, follows_row), beside(zone_new_short, follows_row), 0)


@rule
def run_in_use(follows_row: Each, run: Text, zone_new_runs: Column) -> Text:
    """Whether it closes: as the floor says that it follows, else as typed."""
    return where(
        less(0, follows_row),
        where(same(beside(zone_new_runs, follows_row), 0), "closed", "open"),
        run,
    )


@rule
def line_in_use(follows_row: Each, measured_on: Text) -> Text:
    """The line it is measured on: a floor's sides lie on the inside face."""
    return where(less(0, follows_row), INSIDE_FACE, measured_on)


@rule
def run_typed(
    run: Text,
    measured_on: Text,
    length: Metres,
    external_corners: Each,
    internal_corners: Each,
    ends_at_existing: Each,
) -> Each:
    """How many are typed of what a floor would say."""
    return (
        where(same(run, ""), 0, 1)
        + where(same(measured_on, ""), 0, 1)
        + where(given(length), 1, 0)
        + where(given(external_corners), 1, 0)
        + where(given(internal_corners), 1, 0)
        + where(given(ends_at_existing), 1, 0)
    )


@rule
def run_fault(
    floor: Text,
    follows_row: Each,
    run_typed: Each,
    zone_walked: Column,
    zone_new_runs: Column,
    zone_new_length: Column,
) -> Each:
    """Which of RUN_FAULTS keeps a run from being measured. 0 where it is.

    A floor says what it is where it is walked, and its new wall is one run. One that cannot be used
    is not in its list: why is told there.
    """
    return where(
        same(follows_row, 0),
        where(same(floor, ""), where(same(run_typed, OF_RUN), 0, 1), 5),
        where(
            less(0, run_typed),
            2,
            where(
                same(beside(zone_walked, follows_row), 0),
                3,
                where(
                    both(
                        less(0, beside(zone_new_length, follows_row)),
                        at_most(beside(zone_new_runs, follows_row), 1),
                    ),
                    0,
                    4,
                ),
            ),
        ),
    )


RUN_FAULTS = (  # as long as the sheet has room for
    "not all of the run is typed",
    "it follows a floor, and is typed too",
    "the floor it follows is not walked",
    "new wall of its floor is not one run",
    "the floor it follows cannot be used",
)


@rule
def run_misfit(run_fault: Each) -> Flag:
    """1 for a run that is typed in part, or follows a floor that says nothing of it, or says two."""
    return where(less(0, run_fault), 1, 0)


@rule
def run_note(run_fault: Each, step_note: Text) -> Text:
    """What keeps a run from being measured, else its steps from their places, in words."""
    return choose(run_fault + 1, step_note, *RUN_FAULTS)


FOLLOWING_COLUMNS: tuple[Item, ...] = (
    worked(follows_row, "Floor no."),
    worked(run_typed, "Of it typed"),
    worked(run_in_use, "Run in use"),
    worked(line_in_use, "Line in use"),
    worked(length_in_use, "Length in use"),
    worked(counted, "External in use", "external_in_use", typed=OwnCell("external_corners"),
           column=WholeColumn("zones", "new_out")),
    worked(counted, "Internal in use", "internal_in_use", typed=OwnCell("internal_corners"),
           column=WholeColumn("zones", "new_in")),
    worked(counted, "Old ends in use", "old_ends_in_use", typed=OwnCell("ends_at_existing"),
           column=WholeColumn("zones", "new_old_ends")),
    worked(splays, "Corners fall short"),
    worked(run_fault, "Run's fault"),
    worked(run_misfit, "Run misfits"),
    worked(run_note, "The run"),
)  # fmt: skip
