"""The elevation of a wall run, drawn to scale: where its openings, corners and ends are in the frame.

The run is unrolled along the line on which it is measured. Heights are counted from the DPC at the
start of the run. A run that follows a floor is seen from outside, so one that is walked with the floor on its right begins
on the right; a run measured by hand begins on the left.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from ..language import *
from ..takeoff.weep_places import weep_end, weep_units
from .chosen import chosen_row, in_row, there
from .openings_there import found, of_row, openings_there

OPENINGS_SEEN, STEPS_SEEN = 12, 12
HEADS = (
    2.1  # m above the DPC, of windows whose height is not given: common practice, with the doors
)
ABOVE_HEADS, BELOW_ALL = 0.45, 0.15  # m of wall seen above the highest head and below the ground
LEFT, WIDE = 7, 88  # of the frame: where the run may lie
TOP, HIGH = 84, 38
LIST_X, LIST_TOP, LIST_STEP = 2, 35.5, 2.7  # of the frame: the list of trays

CHOSEN = text(
    "drawn_run",
    "Wall drawn",
    "The ref of the run that is drawn. Blank: the first in which an opening has a place.",
    choice_of="walls.mark",
    required=False,
    since=8,
)


# ---- the run, and how it lies in the frame --------------------------------------------------------


@rule
def elevation_placed(opening_wall_row: Column, opening_placed: Column) -> Each:
    """The first run in which an opening has a place. 0 if none."""
    return there(smallest_of(opening_wall_row, same(opening_placed, 1), less(0, opening_wall_row)))


@rule
def elevation_first(elevation_placed: Each, wall_position: Column, wall_thickness: Column) -> Each:
    """The run drawn where none is chosen: that, else the first. 0 if none."""
    return where(
        less(0, elevation_placed),
        elevation_placed,
        there(smallest_of(wall_position, less(0, wall_thickness))),
    )


@rule
def elevation_turned(elevation_floor: Each, zone_turned_round: Column) -> Flag:
    """1 where the run begins on the right, seen from outside: its floor lies right of its sides."""
    return where(
        less(0, elevation_floor),
        where(less(beside(zone_turned_round, elevation_floor), 0), 0, 1),
        0,
    )


@rule
def elevation_openings(elevation_all: Each, elevation_unplaced_all: Each) -> Each:
    """Openings in the run drawn, with a place or without."""
    return elevation_all + elevation_unplaced_all


@rule
def elevation_worth(elevation_openings: Each, elevation_steps_seen: Each) -> Each:
    """What there is to see in the run drawn: openings, and steps that have a place."""
    return elevation_openings + elevation_steps_seen


@rule
def elevation_steps_seen(elevation_steps_placed: Each) -> Each:
    """Steps in its DPC that are drawn."""
    return least(elevation_steps_placed, STEPS_SEEN)


@rule
def elevation_dpc_end(elevation_steps_seen: Each, elevation_step_up: Metres) -> Metres:
    """How much higher its DPC is at the end of the run than at the start."""
    return elevation_steps_seen * elevation_step_up


@rule
def elevation_heads(seen_known_head: Column) -> Metres:
    """The line of heads above the DPC: the highest that is known, and never below that of a door."""
    return most(HEADS, largest_of(seen_known_head))


@rule
def elevation_up(elevation_heads: Metres, seen_head: Column, elevation_dpc_end: Metres) -> Metres:
    """How much is seen above the DPC at the start."""
    return most(elevation_heads, largest_of(seen_head), elevation_dpc_end) + ABOVE_HEADS


@rule
def elevation_down(elevation_ground: Millimetres, elevation_dpc_end: Metres) -> Metres:
    """How much is seen below it."""
    return elevation_ground / 1000 + most(0, 0 - elevation_dpc_end) + BELOW_ALL


@rule
def elevation_scale(
    elevation_length: Metres, elevation_up: Metres, elevation_down: Metres
) -> Amount:
    """Hundredths of the frame to a metre, the same both ways. 0 without a run."""
    return where(
        less(0, elevation_length),
        1 / most(elevation_length / WIDE, (elevation_up + elevation_down) / HIGH),
        0,
    )


@rule
def elevation_wide(elevation_length: Metres, elevation_scale: Amount) -> Amount:
    """Its length in the frame."""
    return elevation_length * elevation_scale


@rule
def elevation_begins(elevation_turned: Flag, elevation_wide: Amount) -> Amount:
    """Where the run begins in the frame, from the left."""
    return LEFT + elevation_turned * elevation_wide


@rule
def elevation_way(elevation_turned: Flag, elevation_scale: Amount) -> Amount:
    """How much of the frame a metre of the run takes. Below 0 to the left."""
    return (1 - 2 * elevation_turned) * elevation_scale


@rule
def elevation_dpc(elevation_up: Metres, elevation_scale: Amount) -> Amount:
    """Where the DPC at the start of the run lies in the frame, from below."""
    return TOP - elevation_up * elevation_scale


def _run(name: str, label: str, column: str) -> Worked:
    return worked(
        in_row, label, name, row=NamedCell("elevation_row"), column=WholeColumn("walls", column)
    )


_PLACED = of_row("elevation_row", "wall_row", placed=True)
ELEVATION_CELLS: tuple[Item, ...] = (
    worked(elevation_placed, "First run with a placed opening"),
    worked(elevation_first, "First run that can be drawn"),
    worked(
        chosen_row,
        "Run drawn, its row",
        "elevation_row",
        chosen=NamedCell("drawn_run"),
        first=NamedCell("elevation_first"),
        mark=WholeColumn("walls", "mark"),
        position=WholeColumn("walls", "position"),
    ),
    _run("elevation_length", "Run drawn, its length", "length_in_use"),
    _run("elevation_floor", "Run drawn, its floor", "follows_row"),
    _run("elevation_ground", "Run drawn, ground below DPC", "dpc_height"),
    _run("elevation_steps", "Run drawn, steps in its DPC", "steps"),
    _run("elevation_steps_placed", "Run drawn, steps placed", "steps_placed"),
    _run("elevation_step_from", "Run drawn, its first step", "step_from"),
    _run("elevation_step_gap", "Run drawn, between steps", "step_gap"),
    _run("elevation_last_step", "Run drawn, its last step", "last_step"),
    _run("elevation_step_up", "Run drawn, higher past a step", "step_up"),
    worked(elevation_turned, "Run drawn begins on the right"),
    worked(openings_there, "Openings placed in the run drawn", "elevation_all", **_PLACED),
    worked(elevation_openings, "Openings in the run drawn"),
    worked(elevation_steps_seen, "Steps drawn"),
    worked(elevation_worth, "Openings and steps to be seen"),
    worked(elevation_dpc_end, "Elevation: DPC at the end"),
    worked(elevation_heads, "Elevation: line of heads"),
    worked(elevation_up, "Elevation: above the DPC"),
    worked(elevation_down, "Elevation: below the DPC"),
    worked(elevation_scale, "Scale of the elevation"),
    worked(elevation_wide, "Elevation: how wide"),
    worked(elevation_begins, "Elevation: beginning of the run"),
    worked(elevation_way, "Elevation: a metre along the run"),
    worked(elevation_dpc, "Elevation: DPC"),
)


# ---- its openings -----------------------------------------------------------------------------------


@rule
def hangs(given_height: Flag, window: Flag, door: Flag) -> Flag:
    """1 for a window of no given height: its head lies in the line of heads."""
    return (1 - given_height) * window * (1 - door)


@rule
def dpc_there(
    elevation_steps_seen: Each, elevation_step_up: Metres, steps_by_start: Each, steps_by_end: Each
) -> Metres:
    """The DPC below it. The higher part where a step is between its jambs."""
    return elevation_step_up * least(
        elevation_steps_seen, where(less(0, elevation_step_up), steps_by_end, steps_by_start)
    )


@rule
def known_sill(given_height: Flag, typed_sill: Metres, dpc_there: Metres) -> Metres:
    """Its sill where that does not follow from the line of heads: as typed, else on the DPC."""
    return where(same(given_height, 1), typed_sill, dpc_there)


@rule
def known_head(hangs: Flag, known_sill: Metres, height: Metres) -> Metres:
    """Its head, where that does not follow from the line of heads. Else 0."""
    return (1 - hangs) * (known_sill + height)


@rule
def sill(
    hangs: Flag, known_sill: Metres, elevation_heads: Metres, height: Metres, dpc_there: Metres
) -> Metres:
    """Its sill above the DPC at the start, as it is drawn. Never below the DPC for want of a height."""
    return where(same(hangs, 1), most(dpc_there, elevation_heads - height), known_sill)


@rule
def head(sill: Metres, height: Metres) -> Metres:
    """Its head above the DPC at the start, as it is drawn."""
    return sill + height


@rule
def weeps_seen(has_tray: Each, weeps_each: Each) -> Each:
    """Weeps over it: none where there is no tray."""
    return where(less(0, has_tray), weeps_each, 0)


@rule
def tray_seen(has_tray: Each, tray_length: Metres) -> Metres:
    """Length of its tray. 0 where there is none."""
    return where(less(0, has_tray), tray_length, 0)


@rule
def tray_from(begins: Metres, ends: Metres, tray_seen: Metres) -> Metres:
    """Where its tray begins, along the run."""
    return (begins + ends - tray_seen) / 2


@rule
def middle_x(
    begins: Metres, ends: Metres, elevation_begins: Amount, elevation_way: Amount
) -> Amount:
    """Its middle, from the left."""
    return elevation_begins + (begins + ends) / 2 * elevation_way


@rule
def middle_y(sill: Metres, head: Metres, elevation_dpc: Amount, elevation_scale: Amount) -> Amount:
    """Its middle, from below."""
    return elevation_dpc + (sill + head) / 2 * elevation_scale


@rule
def label(opening_row: Each, opening_mark: TextColumn) -> Text:
    """Its ref. A blank where none is drawn."""
    return where(less(0, opening_row), beside(opening_mark, opening_row), " ")


@rule
def jambs_say(opening_row: Each, label: Text, begins: Metres, ends: Metres) -> Text:
    """Its ref, and where its jambs are, from the start of the run."""
    return where(
        less(0, opening_row),
        one_text(label, ": ", in_metres(begins), " to ", in_metres(ends)),
        " ",
    )


@rule
def tray_begins_say(tray_from: Metres) -> Text:
    """Where its tray begins, from the start of the run. Near a corner it may begin before that."""
    return one_text(
        ", tray ",
        in_metres(most(tray_from, 0 - tray_from)),
        where(less(tray_from, 0), " before start to ", " to "),
    )


@rule
def tray_says(
    opening_row: Each, tray_seen: Metres, tray_from: Metres, tray_begins_say: Text
) -> Text:
    """Where its tray is, from the start of the run."""
    return where(
        less(0, opening_row),
        where(
            less(0, tray_seen),
            one_text(tray_begins_say, in_metres(tray_from + tray_seen)),
            ", no tray",
        ),
        "",
    )


@rule
def weeps_say(weeps_seen: Each, weep_end: Millimetres, weep_step: Millimetres) -> Text:
    """Its stop ends, and where its weeps are."""
    return where(
        less(0, weeps_seen),
        one_text(
            ", 2 stop ends, ",
            in_figures(weeps_seen),
            where(less(1, weeps_seen), " weeps: first ", " weep: "),
            in_figures(weep_end),
            " from each end",
            where(less(2, weeps_seen), one_text(", at most ", in_figures(weep_step), " apart"), ""),
        ),
        "",
    )


@rule
def says(jambs_say: Text, tray_says: Text, weeps_say: Text) -> Text:
    """All three, in one line."""
    return one_text(jambs_say, tray_says, weeps_say)


def _opening(name: str, label: str, column: str) -> Worked:
    return worked(
        in_row, label, name, row=OwnCell("opening_row"), column=WholeColumn("openings", column)
    )


ELEVATION_OPENINGS = Table(
    "elevation_openings",
    "seen",
    "Elevation: the openings placed in the run drawn",
    (
        Fixed("name", "Opening drawn", TEXT),
        Fixed("list_x", "Its line, from the left", AMOUNT),
        Fixed("list_y", "Its line, from below", AMOUNT),
        worked(found, **_PLACED),
        worked(there, "Row of the opening", "opening_row"),
        _opening("begins", "Begins", "begins"),
        _opening("ends", "Ends", "ends"),
        _opening("height", "Height", "height"),
        _opening("window", "Has jambs", "kind_jambs"),
        _opening("door", "A door", "kind_door"),
        _opening("has_tray", "Trays", "with_tray"),
        _opening("tray_length", "Tray", "tray_length"),
        _opening("weeps_each", "Weeps", "weeps_each"),
        _opening("weep_step", "Weeps apart", "weep_step"),
        _opening("weep_first", "First weep", "weep_first"),
        _opening("unit", "Whole brick", "unit"),
        _opening("given_height", "Height is given", "sill_given"),
        _opening("typed_sill", "Sill, as given", "sill_height"),
        _opening("steps_by_start", "Steps by its first jamb", "steps_by_start"),
        _opening("steps_by_end", "Steps by its second jamb", "steps_by_end"),
        worked(dpc_there, "DPC below it"),
        worked(hangs, "Hangs from its head"),
        worked(known_sill, "Sill, where known"),
        worked(known_head, "Head, where known"),
        worked(sill, "Sill above DPC"),
        worked(head, "Head above DPC"),
        worked(weeps_seen, "Weeps drawn"),
        worked(tray_seen, "Tray drawn"),
        worked(weep_units, "Bricks between its weeps", weeps=OwnCell("weeps_seen"),
               length=OwnCell("tray_seen")),
        worked(weep_end, "Weep from the end", length=OwnCell("tray_seen")),
        worked(tray_from, "Tray begins"),
        worked(tray_begins_say, "Where its tray begins"),
        worked(middle_x, "Middle, from the left"),
        worked(middle_y, "Middle, from below"),
        worked(label, "Ref"),
        worked(jambs_say, "Ref and jambs"),
        worked(tray_says, "Where its tray is"),
        worked(weeps_say, "Stop ends and weeps"),
        worked(says, "In words"),
    ),
    key="name",
    guarded=False,
    since=8,
)  # fmt: skip

SEEN_ROWS = tuple(
    {"name": f"opening {n}", "list_x": LIST_X, "list_y": LIST_TOP - LIST_STEP * n}
    for n in range(1, OPENINGS_SEEN + 1)
)


TABLES = (ELEVATION_OPENINGS,)
ROWS: dict[str, Sequence[Mapping[str, Any]]] = {"elevation_openings": SEEN_ROWS}
