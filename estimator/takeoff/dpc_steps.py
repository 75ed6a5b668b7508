"""Where the steps in the DPC of a wall run are: the first, then one every so far, up or down.

Places are metres from the start of the run, on the line on which it is measured, as those of openings
are. No quantity follows from them: what steps take is counted from their number and rise.
"""

from ..language import *

UP, DOWN = "up", "down"

STEP_INPUTS: tuple[Item, ...] = (
    number("first_step", "First step at", METRES, 0.01, 200, "From the start of the run, on the line "
           "it is measured on. Blank: steps are counted, not placed.", required=False, since=11),
    number("step_spacing", "Steps apart", METRES, 0.05, 200, "From each step to the next. Needed where "
           "more than one has a place.", required=False, since=11),
    text("step_way", "Steps go", "Away from the start of the run. Needed where the first step has a "
         "place.", choices=(UP, DOWN), required=False, since=11),
)  # fmt: skip


@rule
def steps_placed(first_step: Metres, steps: Each) -> Each:
    """Steps that have a place along the run: all of them, or none."""
    return where(given(first_step), first_given(steps, 0), 0)


@rule
def step_from(first_step: Metres) -> Metres:
    """Where the first step is. 0 where none has a place."""
    return first_given(first_step, 0)


@rule
def step_gap(steps_placed: Each, step_spacing: Metres) -> Metres:
    """From each step to the next. That of a single one is of no account."""
    return where(less(1, steps_placed), first_given(step_spacing, 0), 1)


@rule
def step_up(step_way: Text, step_rise: Millimetres) -> Metres:
    """How much higher the DPC is past a step. Below 0 where steps go down."""
    return where(same(step_way, DOWN), -1, 1) * first_given(step_rise, 0) / 1000


@rule
def step_place(step: Each, step_from: Metres, step_gap: Metres) -> Metres:
    """Where a step is, counted from 1."""
    return step_from + (step - 1) * step_gap


@rule
def last_step(steps_placed: Each, step_from: Metres, step_gap: Metres) -> Metres:
    """Where the last step is. 0 where none has a place."""
    return where(less(0, steps_placed), step_place(steps_placed, step_from, step_gap), 0)


@rule
def step_fault(
    first_step: Metres,
    step_spacing: Metres,
    step_way: Text,
    steps_placed: Each,
    step_gap: Metres,
    last_step: Metres,
    length_in_use: Metres,
) -> Each:
    """Which of STEP_FAULTS keeps steps from their places. 0 where they fit, or have none."""
    return where(
        given(first_step),
        where(
            same(steps_placed, 0),
            2,
            where(
                same(step_way, ""),
                3,
                where(
                    same(step_gap, 0),
                    4,
                    where(less(last_step, length_in_use), 0, 5),
                ),
            ),
        ),
        where(given(step_spacing), 1, where(same(step_way, ""), 0, 1)),
    )


STEP_FAULTS = (  # as long as the sheet has room for
    "places of steps, and no first step",
    "a first step, and no number of steps",
    "up or down is not said of its steps",
    "how far apart its steps are is not typed",
    "its steps go past the end of the run",
)


@rule
def step_note(step_fault: Each) -> Text:
    """What keeps steps from their places, in words."""
    return choose(step_fault + 1, "", *STEP_FAULTS)


STEP_COLUMNS: tuple[Item, ...] = (
    worked(steps_placed, "Steps placed"),
    worked(step_from, "First step"),
    worked(step_gap, "Between steps"),
    worked(step_up, "Higher past a step"),
    worked(last_step, "Last step"),
    worked(step_fault, "Steps' fault"),
    worked(step_note, "The steps"),
)

# ---- an opening in the run -----------------------------------------------------------------------


@rule
def steps_before(along: Metres, steps_placed: Each, step_from: Metres, step_gap: Metres) -> Each:
    """Steps between the start of the run and a point along it. None that is at the point."""
    return least(steps_placed, whole_up(divided(most(0, along - step_from), step_gap)))


@rule
def steps_up_to(along: Metres, steps_placed: Each, step_from: Metres, step_gap: Metres) -> Each:
    """The same, and one that is at the point."""
    return least(steps_placed, whole_down(divided(most(0, along - step_from + step_gap), step_gap)))


@rule
def steps_across(level_placed: Flag, steps_by_start: Each, steps_by_end: Each) -> Each:
    """Steps between the jambs of a level-access door that has a place: its threshold is level."""
    return level_placed * (steps_by_end - steps_by_start)


def _of_run(name: str, label: str, unit: Unit) -> Worked:
    return read(name, label, unit, f"walls.{name}", at="wall_row")


STEPS_AT_OPENING: tuple[Item, ...] = (
    _of_run("steps_placed", "Steps in its run", EACH),
    _of_run("step_from", "First step of its run", METRES),
    _of_run("step_gap", "Between steps of its run", METRES),
    worked(steps_up_to, "Steps by its first jamb", "steps_by_start", along=OwnCell("begins")),
    worked(steps_before, "Steps by its second jamb", "steps_by_end", along=OwnCell("ends")),
    worked(steps_across, "Steps between its jambs"),
)
