"""Wall runs and the DPC in each leaf."""

from ..language import *
from ..language.lookups import ranked
from .base_trays import BASE_COLUMNS
from .dpc_steps import STEP_COLUMNS, STEP_INPUTS
from .floor_runs import FOLLOWING_COLUMNS
from .openings import YES_NO
from .wall_details import (
    BY_LAPS,
    DETAIL_COLUMNS,
    MASONRY,
    PREFORMED,
    TIMBER_FRAME,
    inner_added,
    outer_added,
)

OPEN, CLOSED = "open", "closed"

MEASURING_LINES = Table(
    "measuring_lines",
    "measuring_line",
    "Lines a wall is measured on",
    (
        Fixed("name", "Measured on", TEXT),
        Fixed("share", "Share of the thickness from the outside face", AMOUNT),
    ),
    key="name",
    guarded=False,
)
MEASURING_LINE_ROWS = (
    {"name": "outside face", "share": 0},
    {"name": "centre", "share": 0.5},
    {"name": "inside face", "share": 1},
)


@rule
def thickness(outer_leaf: Millimetres, cavity: Millimetres, inner_leaf: Millimetres) -> Millimetres:
    """Thickness of the wall, face to face."""
    return outer_leaf + cavity + inner_leaf


@rule
def line_depth(
    line_in_use: Text,
    thickness: Millimetres,
    measuring_line_name: TextColumn,
    measuring_line_share: Column,
) -> Millimetres:
    """Depth of the measured line behind the outside face."""
    return sum_of(measuring_line_share, same(measuring_line_name, line_in_use)) * thickness


@rule
def turns(external_in_use: Each, internal_in_use: Each, splays: Amount) -> Amount:
    """External less internal corners: what a run gains or loses when it is moved sideways.

    A corner out of the right angle counts as the tangent of half its turn.
    """
    return external_in_use - internal_in_use - splays


@rule
def moved(length: Metres, inwards: Millimetres, turns: Amount) -> Metres:
    """Length of a run moved sideways, `inwards` from the line it was measured on.

    Each external corner takes 2 × the shift away, each internal corner adds as much. The rule
    of 8 × the shift is the closed right-angled case of this one.
    """
    return length - 2 * inwards / 1000 * turns


@rule
def run_length(
    length_in_use: Metres, line_in_use: Text, ends_at_new: Each, met_thickness: Millimetres
) -> Metres:
    """Length of the run as it is built.

    A centre line ends on the centre line of the wall it meets: half that wall's thickness comes off
    for every T-junction, and nothing at a corner, where two runs meet. Centre-line method: CE 403,
    Quantity Surveying, lecture notes. Lecture AR-313B. A face line is measured to the wall's face.
    """
    return where(
        same(line_in_use, "centre"),
        length_in_use - first_given(ends_at_new, 0) * (first_given(met_thickness, 0) / 2000),
        length_in_use,
    )


@rule
def outer_length(
    length: Metres, outer_leaf: Millimetres, line_depth: Millimetres, turns: Amount
) -> Metres:
    """Length of the outer leaf on its centre line."""
    return moved(length, outer_leaf / 2 - line_depth, turns)


@rule
def inner_length(
    length: Metres,
    inner_leaf: Millimetres,
    thickness: Millimetres,
    line_depth: Millimetres,
    turns: Amount,
) -> Metres:
    """Length of the inner leaf on its centre line. Nothing where there is no inner leaf."""
    return where(
        less(0, inner_leaf), moved(length, thickness - inner_leaf / 2 - line_depth, turns), 0
    )


@rule
def corners(external_in_use: Each, internal_in_use: Each, junctions: Each) -> Each:
    """Corners and T-junctions, each a lap of the full width of the DPC."""
    return external_in_use + internal_in_use + first_given(junctions, 0)


@rule
def inner_corners(inner_leaf: Millimetres, corners: Each) -> Each:
    """Corners of the inner leaf."""
    return where(less(0, inner_leaf), corners, 0)


@rule
def end_laps(old_ends_in_use: Each, dpc_lap: Millimetres) -> Metres:
    """Laps to the DPC of the existing walls this run ends at."""
    return old_ends_in_use * dpc_lap / 1000


@rule
def outer_limit(outer_leaf: Millimetres, dpc_projection: Millimetres) -> Millimetres:
    """Widest DPC that lies on the outer leaf untrimmed."""
    return outer_leaf + dpc_projection


@rule
def inner_limit(inner_leaf: Millimetres, dpc_projection: Millimetres) -> Millimetres:
    """Widest DPC that lies on the inner leaf untrimmed."""
    return inner_leaf + dpc_projection


@rule
def run_agrees(
    follows_row: Each,
    run_in_use: Text,
    external_in_use: Each,
    internal_in_use: Each,
    old_ends_in_use: Each,
) -> Flag:
    """1 unless a closed run has ends, or corners that do not bring it back to its start.

    The walk of a floor that it follows is known to close.
    """
    return where(
        both(same(run_in_use, "closed"), same(follows_row, 0)),
        where(both(same(external_in_use - internal_in_use, 4), same(old_ends_in_use, 0)), 1, 0),
        1,
    )


@rule
def ends_agree(
    run_in_use: Text, old_ends_in_use: Each, ends_at_new: Each, met_thickness: Millimetres
) -> Flag:
    """1 unless a run has more than two ends, a closed one any, or a wall met has no thickness."""
    return where(
        both(
            at_most(
                old_ends_in_use + first_given(ends_at_new, 0),
                where(same(run_in_use, "closed"), 0, 2),
            ),
            same(
                where(less(0, first_given(ends_at_new, 0)), 1, 0),
                where(less(0, first_given(met_thickness, 0)), 1, 0),
            ),
        ),
        1,
        0,
    )


@rule
def wall_agrees(
    run_agrees: Flag,
    ends_agree: Flag,
    run_misfit: Flag,
    cavity: Millimetres,
    inner_leaf: Millimetres,
    outer_length: Metres,
    inner_length: Metres,
    steps_agree: Flag,
    step_fault: Each,
    cavity_agrees: Flag,
) -> Flag:
    """1 when the run closes, leaves and cavity belong together, and steps have a rise and fit it."""
    return where(
        both(
            both(
                same(
                    run_agrees
                    * ends_agree
                    * steps_agree
                    * cavity_agrees
                    * where(less(0, step_fault), 0, 1)
                    * (1 - run_misfit),
                    1,
                ),
                less(0, outer_length),
            ),
            either(
                both(less(0, cavity), both(less(0, inner_leaf), less(0, inner_length))),
                both(same(cavity, 0), same(inner_leaf, 0)),
            ),
        ),
        1,
        0,
    )


@rule
def ties_listed(mark: Text, tie_in_number: Column, tie_in_wall: TextColumn) -> Each:
    """Tie-ins listed for this run."""
    return sum_of(tie_in_number, same(tie_in_wall, mark))


@rule
def ties_agree(old_ends_in_use: Each, ties_listed: Each) -> Flag:
    """1 when as many tie-ins are listed as the run has ends at existing walls."""
    return where(same(old_ends_in_use, ties_listed), 1, 0)


@rule
def cavity_rank(
    cavity_below: Millimetres, cavity: Millimetres, with_base_tray: Flag
) -> Millimetres:
    """The clear cavity below the DPC of a run that has one. Behind all others where a tray is above."""
    return where(
        both(less(0, first_given(cavity_below, 0)), less(0, cavity)),
        ranked(first_given(cavity_below, 0), with_base_tray),
        0,
    )


@rule
def no_dpc_height(length_in_use: Metres, dpc_height: Millimetres) -> Flag:
    """1 for a run whose DPC has no height above the ground."""
    return where(
        both(less(0, length_in_use), same(first_given(dpc_height, 0), 0)),
        1,
        0,
    )


@rule
def no_cavity_below(cavity: Millimetres, cavity_below: Millimetres, with_base_tray: Flag) -> Flag:
    """1 for a cavity wall with no clear depth below its DPC, and no tray there instead."""
    return where(
        both(less(0, cavity), same(first_given(cavity_below, 0) + with_base_tray, 0)),
        1,
        0,
    )


WALLS = Table(
    "walls",
    "wall",
    "Wall runs",
    (
        text("mark", "Ref", "The run's reference on the drawing, used once."),
        text("description", "Description", required=False),
        text("floor", "Follows floor", "A walked floor. The run takes length, line, corners and "
                                       "ends from it: leave those blank here. Blank: a run "
                                       "measured by hand.", choice_of="zones.mark",
             required=False, since=6),
        text("run", "Run", "A closed run comes back to its start.", choices=(OPEN, CLOSED),
             required=False),
        number("length", "Length", METRES, 0.1, 200, "On the line named beside it.",
               required=False),
        text("measured_on", "Measured on", choice_of="measuring_lines.name", required=False),
        number("external_corners", "External corners", EACH, 0, 40, required=False),
        number("internal_corners", "Internal corners", EACH, 0, 40, required=False),
        number("ends_at_existing", "Ends at existing wall", EACH, 0, 2,
               "Each laps on to the old DPC.", required=False),
        number("outer_leaf", "Outer leaf", MILLIMETRES, 50, 600),
        number("cavity", "Cavity", MILLIMETRES, 0, 400, "0 for a solid wall."),
        number("inner_leaf", "Inner leaf", MILLIMETRES, 0, 600, "0 for a solid wall."),
        number("dpc_height", "DPC above ground", MILLIMETRES, 1, 2000,
               "Above the finished ground beside it, at its highest. Where the DPC has steps, in the "
               "part in which it is least.", required=False),
        number("cavity_below", "Clear cavity below DPC", MILLIMETRES, 1, 2000, required=False),
        number("junctions", "T-junctions", EACH, 0, 40, "With other walls: each a lap of the full "
               "width, as a corner is. Blank: none.", required=False),
        number("ends_at_new", "Ends at new walls", EACH, 0, 2, "T-junctions at which this run ends. "
               "Their laps are counted with T-junctions, here or on the other run. Blank: none.",
               required=False, since=4),
        number("met_thickness", "Wall met there", MILLIMETRES, 50, 1600, "Its thickness. Half of "
            "it comes off at each of those ends, where the run is measured on the centre.", required=False,
               since=4),
        number("steps", "Steps in DPC", EACH, 0, 60, "Blank: none.", required=False),
        number("step_rise", "Rise of a step", MILLIMETRES, 10, 1000, "Needed where there are steps.",
               required=False),
        text("step_by", "Steps by", "laps: each adds its rise and two laps to each leaf. "
             "preformed: a unit a leaf instead. Blank: laps.", choices=(BY_LAPS, PREFORMED),
             required=False),
        *STEP_INPUTS,
        text("party_wall", "Party wall", "yes: at the boundary the designer decides. Blank: no.",
             choices=YES_NO, required=False),
        text("inner_of", "Inner leaf of", "A timber frame has its DPC under the sole plate, as "
                                          "wide as the inner leaf, and open perpends below it. "
                                          "Blank: masonry.",
             choices=(MASONRY, TIMBER_FRAME), required=False),
        text("base_tray", "Tray at DPC level", "Across the cavity. Blank: no, but always in a "
             "radon area.", choices=YES_NO, required=False),
        number("course", "Course height", MILLIMETRES, 50, 300,
               "Of the outer leaf, with its joint. Blank: 75.", required=False),
        number("unit", "Unit length", MILLIMETRES, 100, 700,
               "Of the outer leaf's brick or block, with its joint. Blank: 225.", required=False),
        *STEP_COLUMNS,
        *FOLLOWING_COLUMNS,
        worked(ties_listed, "Tie-ins listed"),
        worked(ties_agree, "Tie-ins agree"),
        worked(thickness),
        worked(line_depth, "Line behind face"),
        worked(turns, "Corners, net"),
        worked(run_agrees, "Run closes"),
        worked(ends_agree, "Ends agree"),
        worked(run_length, "Run as built"),
        worked(outer_length, "Outer leaf DPC", length=OwnCell("run_length")),
        worked(inner_length, "Inner leaf DPC", length=OwnCell("run_length")),
        *DETAIL_COLUMNS,
        worked(cavity_rank, "Cavity below DPC, as it ranks"),
        worked(wall_agrees, "Holds together"),
        worked(corners, "Corner laps"),
        worked(inner_corners, "Inner corner laps"),
        worked(end_laps, "End laps"),
        worked(outer_added, "Outer laps"),
        worked(inner_added, "Inner laps"),
        worked(outer_limit, "Outer widest"),
        worked(inner_limit, "Inner widest"),
        *BASE_COLUMNS,
        worked(no_dpc_height, "DPC height not given"),
        worked(no_cavity_below, "Cavity depth not given"),
    ),
    grows=True,
    shown=("outer_length", "inner_length", "base_weeps"),
    said="run_note",
    spare=(5, 10),
)  # fmt: skip
