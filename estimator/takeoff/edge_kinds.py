"""Kinds of floor edge: what each means to the sheet, to ventilation and to the strip round a slab."""

from ..language import *

_MEANS = {
    "by_levels": "Turn-up follows from levels",
    "by_chase": "Dressed into a chase",
    "by_hand": "Turn-up is typed",
    "joins": "Laps another floor",
    "steps": "At another level",
    "bonds": "Taped to a DPC or threshold",
    "seals": "Sealed to an old wall",
    "external": "Makes a side external",
    "external_run": "Part of an external side",
    "walls": "Meets a wall or threshold",
}

EDGE_KINDS = Table(
    "edge_kinds",
    "edge_kind",
    "Kinds of floor edge",
    (
        Fixed("name", "Kind of edge", TEXT),
        *(Fixed(name, label, FLAG) for name, label in _MEANS.items()),
        Fixed("line", "Drawn as line", EACH, "On the plan: LINES in drawn/side_lines.py.", since=7),
        Fixed("may_hole", "May go round a hole", FLAG, since=9),
    ),
    key="name",
    guarded=False,
)


def _kind(name: str, line: int, *means: str) -> dict[str, object]:
    # Another floor at a joint, or a door over a threshold, is at a side and at no hole.
    at_side = "joins" in means or ("external_run" in means and "external" not in means)
    return {
        "name": name,
        **{m: int(m in means) for m in _MEANS},
        "line": line,
        "may_hole": int(not at_side),
    }


EDGE_KIND_ROWS = (
    _kind("new wall", 1, "by_levels", "bonds", "external", "external_run", "walls"),
    _kind("existing wall with DPC", 2, "by_levels", "by_chase", "bonds", "seals", "walls"),
    _kind("existing wall, DPC unknown", 2, "by_hand", "seals", "walls"),
    _kind("joint", 4, "joins"),
    # The membranes lie at two levels: the sheet goes up the step and laps the other (common practice).
    _kind("step to another floor", 4, "joins", "steps"),
    # A door's threshold takes no side by itself, and is part of the run of an external one. The
    # sheet is bonded there to the threshold's tray or DPC, and the slab's edge stands against it.
    _kind("threshold", 3, "by_hand", "bonds", "external_run", "walls"),
    _kind("partition", 5),
    _kind("free", 5),
)


@rule
def may_turn_up(kind_row: Each, edge_kind_by_levels: Column, edge_kind_by_hand: Column) -> Flag:
    """1 where a turn-up may be typed: not at a joint, a partition or a free edge."""
    return beside(edge_kind_by_levels, kind_row) + beside(edge_kind_by_hand, kind_row)


@rule
def turn_up_unread(may_turn_up: Flag, typed_turn_up: Millimetres) -> Flag:
    """1 for a turn-up typed where nothing turns up."""
    return where(both(same(may_turn_up, 0), given(typed_turn_up)), 1, 0)
