"""What else a wall run brings: steps in its DPC, junctions, the bond of its outer leaf."""

from ..language import *
from .openings import PERPEND, in_perpends, in_units

BY_LAPS, PREFORMED = "laps", "preformed"
MASONRY, TIMBER_FRAME = "masonry", "timber frame"
COURSE = (
    75  # one brick and one joint in height: 65 + 10 mm: RICS isurv measurement conventions, p. 8
)


@rule
def step_laps(steps: Each, step_rise: Millimetres, step_by: Text, dpc_lap: Millimetres) -> Metres:
    """DPC that steps add to each leaf: the rise and two laps. None where units are preformed."""
    return where(
        same(step_by, "preformed"),
        0,
        first_given(steps, 0) * (first_given(step_rise, 0) + 2 * dpc_lap) / 1000,
    )


@rule
def step_units(steps: Each, step_by: Text, inner_leaf: Millimetres) -> Each:
    """Preformed step units: one a leaf at each step."""
    return where(
        same(step_by, "preformed"), first_given(steps, 0) * where(less(0, inner_leaf), 2, 1), 0
    )


@rule
def outer_added(end_laps: Metres, step_laps: Metres) -> Metres:
    """Laps at ends, and what steps add, in the outer leaf."""
    return end_laps + step_laps


@rule
def inner_added(inner_leaf: Millimetres, outer_added: Metres) -> Metres:
    """The same in the inner leaf."""
    return where(less(0, inner_leaf), outer_added, 0)


@rule
def steps_agree(steps: Each, step_rise: Millimetres) -> Flag:
    """1 unless there are steps without a rise, or a rise without steps."""
    return where(
        same(
            where(less(0, first_given(steps, 0)), 1, 0),
            where(less(0, first_given(step_rise, 0)), 1, 0),
        ),
        1,
        0,
    )


@rule
def cavity_agrees(cavity: Millimetres, base_tray: Text, inner_of: Text) -> Flag:
    """1 unless a solid wall is given a tray across its cavity, or a timber frame behind it."""
    return where(
        both(same(cavity, 0), either(same(base_tray, "yes"), same(inner_of, "timber frame"))),
        0,
        1,
    )


@rule
def course_used(course: Millimetres) -> Millimetres:
    """Height of a course of the outer leaf, with its joint."""
    return first_given(course, COURSE)


@rule
def unit_used(unit: Millimetres) -> Millimetres:
    """Length of a brick or block of the outer leaf, with its joint."""
    return first_given(unit, PERPEND)


@rule
def wall_weep_step(weep_spacing: Millimetres, unit_used: Millimetres) -> Millimetres:
    """Spacing of weeps as built: whole units of this wall within the limit."""
    return in_units(weep_spacing, unit_used)


@rule
def wall_weep_first(weep_from_end: Millimetres, unit_used: Millimetres) -> Millimetres:
    """First weep from a tray's end: whole units of this wall within the limit.

    A limit below the unit is kept as in brickwork: the count then errs on the high side.
    """
    return where(
        at_most(unit_used, weep_from_end),
        in_units(weep_from_end, unit_used),
        in_perpends(weep_from_end),
    )


DETAIL_COLUMNS = (
    worked(steps_agree, "Steps agree"),
    worked(cavity_agrees, "Cavity agrees"),
    worked(course_used, "Course"),
    worked(unit_used, "Unit"),
    worked(wall_weep_step, "Weeps apart", name="weep_step"),
    worked(wall_weep_first, "First weep", name="weep_first"),
    worked(step_laps, "Steps add"),
    worked(step_units, "Step units"),
)
