"""The DPC of the wall drawn, with its steps, and the ground along it.

Heights are counted from the DPC at the start of the run. The height of the DPC above the ground is
typed once for a run, so the ground is drawn that far below each part of the DPC.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import *
from ..takeoff.dpc_steps import step_place
from .elevation import LEFT, STEPS_SEEN
from .elevation_lines import wall_there
from .strokes import stroke_table, strokes

AT_END = STEPS_SEEN + 1
GROUND_PAST = 3  # of the frame: beyond each end of the wall


@rule
def point_at(
    step: Each,
    elevation_steps_seen: Each,
    elevation_step_from: Metres,
    elevation_step_gap: Metres,
    elevation_length: Metres,
) -> Metres:
    """Where it is along the run: at its start, at a step, at its end. At the end for a step not there."""
    return where(
        same(step, 0),
        0,
        where(
            at_most(step, elevation_steps_seen),
            step_place(step, elevation_step_from, elevation_step_gap),
            elevation_length,
        ),
    )


@rule
def past_end(step: Each, past: Each, elevation_steps_seen: Each) -> Each:
    """-1 before the start of the wall, 1 behind its end. 0 at a step."""
    return where(less(0, step), where(at_most(step, elevation_steps_seen), 0, past), past)


@rule
def point_x(
    there: Flag,
    along: Metres,
    past_end: Each,
    elevation_begins: Amount,
    elevation_way: Amount,
    elevation_turned: Flag,
) -> Amount:
    """The same, from the left. The ground goes on past both ends of the wall."""
    return LEFT + there * (
        elevation_begins
        - LEFT
        + along * elevation_way
        + past_end * GROUND_PAST * (1 - 2 * elevation_turned)
    )


@rule
def point_y(
    there: Flag,
    passed: Each,
    needs: Each,
    elevation_steps_seen: Each,
    elevation_step_up: Metres,
    elevation_ground: Millimetres,
    elevation_dpc: Amount,
    elevation_scale: Amount,
) -> Amount:
    """The same, from below, so many steps from the start of the run."""
    return elevation_dpc + there * elevation_scale * (
        least(passed, elevation_steps_seen) * elevation_step_up
        - where(same(needs, 2), elevation_ground / 1000, 0)
    )


ELEVATION_STEPPED = stroke_table(
    "elevation_stepped",
    "elevation_tread",
    "Elevation: the DPC with its steps, and the ground",
    "Point",
    Fixed("needs", "1 a run, 2 the ground", EACH),
    Fixed("step", f"At step no.: 0 the start, {AT_END} the end", EACH),
    Fixed("passed", "Steps behind it", EACH),
    Fixed("past", "As an end, past the wall: -1 before its start, 1 behind its end", EACH),
    worked(wall_there, "There", "there"),
    worked(point_at, "Along the run", "along"),
    worked(past_end, "Past the wall"),
    worked(point_x, "From the left", "x"),
    worked(point_y, "From below", "y"),
    since=11,
)


def _line(name: str, needs: int, past: int) -> Sequence[Mapping[str, Any]]:
    """From the start of the run to its end, at each step before it and behind it."""
    steps = range(1, STEPS_SEEN + 1)
    each = ((n, passed, past) for n in steps for passed in (n - 1, n))
    points = [(0, 0, -past), *each, (AT_END, STEPS_SEEN, past)]
    return [
        {"name": name, "needs": needs, "step": step, "passed": passed, "past": beyond}
        for step, passed, beyond in points
    ]


STEPPED_ROWS = strokes((_line("DPC", 1, 0), _line("ground", 2, 1)))
TABLES = (ELEVATION_STEPPED,)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {"elevation_stepped": STEPPED_ROWS}
