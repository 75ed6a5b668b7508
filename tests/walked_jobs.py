"""Rows of walked floors for tests, and a whole job of them."""

import random
from dataclasses import replace
from typing import Any

from estimator.model.job import Job

from .small_jobs import bare_job, edge, opening, row, walked_zone, wall

# Levels as in test_l_shaped.py: a new wall turns the sheet up 435, the old one 285.
NEW = {"kind": "new wall", "dpc_level": 0}
OLD = {"kind": "existing wall with DPC", "dpc_level": -0.075, "dress": 25}
FREE: dict[str, Any] = {"kind": "free"}
RIGHT, LEFT = None, -90
Side = tuple[float | None, float | None, dict[str, Any]]
FOLLOWING = dict.fromkeys(
    ("run", "measured_on", "external_corners", "internal_corners", "ends_at_existing")
)


def walk(mark: str, *sides: Side) -> list[dict[str, Any]]:
    return [
        edge(f"{mark}-{n}", mark, None, length, turn=turn, **kind)
        for n, (length, turn, kind) in enumerate(sides, 1)
    ]


def up(turn_up: float) -> dict[str, Any]:
    return {"kind": "threshold", "typed_turn_up": turn_up}


def lap(zone_mark: str) -> dict[str, Any]:
    return {"kind": "joint", "joins": zone_mark}


def following(mark: str = "W1", floor: str = "Z1", **given: Any) -> dict[str, Any]:
    return wall(mark, None, floor=floor, **{**FOLLOWING, **given})


SPLAY = 0.848528  # m: 0.6 × √2


def walked_job() -> Job:
    """An L with a bay and a corner cut off; a room that is walked to the left fills its corner.

    A run follows the L. Its sides stand in any order, numbered; one splay of the bay is left to be
    worked out. The joint to the room goes round the room's corner.

    Another run follows the room, whose walls are two thresholds: a door is placed on the first, none
    on the second. In the L's run, which starts with the fourth side of the walk, a window overlaps
    another, an air brick lies below it, and a level-access door stands on no threshold.

    In the L is a hole round a column, round which the sheet turns up; in the room a shaft with a free
    edge.
    """
    sides: list[Side] = [
        (6, RIGHT, OLD), (2, -45, NEW), (SPLAY, 45, NEW), (1.8, 45, NEW), (None, -45, NEW),
        (2, RIGHT, NEW), (1.4, 45, NEW), (SPLAY, 45, NEW), (1.4, 0, NEW), (2, LEFT, lap("Z2")),
        (3, 0, lap("Z2")), (1, RIGHT, FREE), (3, RIGHT, OLD),
    ]  # fmt: skip
    begun = (*range(9, 14), *range(1, 9))  # with the sixth, in the middle of the long wall
    numbered = [{**s, "number": n} for n, s in zip(begun, walk("Z1", *sides), strict=True)]
    random.Random(5).shuffle(numbered)
    room: list[Side] = [(3, LEFT, lap("Z1")), (2, LEFT, up(300)), (3, LEFT, up(150)),
                        (2, LEFT, lap("Z1"))]  # fmt: skip
    column = {"kind": "existing wall, DPC unknown", "typed_turn_up": 435}
    holes = [
        edge("H1", "Z1", None, None, **column, hole_along_a=0.6, hole_along_b=0.45,
             hole_from_a=1, hole_from_b=0.5),
        edge("H2", "Z2", None, None, hole_along_a=1, hole_along_b=0.8, hole_from_a=1.2,
             hole_from_b=-1.5),
    ]  # fmt: skip
    return bare_job(
        zones=[walked_zone("Z1", description="An L with a bay"), walked_zone("Z2")],
        edges=[*numbered[:3], *holes, *numbered[3:], *walk("Z2", *room)],
        walls=[following(dpc_height=150, base_tray="yes"), wall("W2", 5), following("W3", "Z2")],
        openings=[
            opening("O1", "W1", number=2),
            opening("O2", "W2", kind="level-access door"),
            opening("O3", "W1", first_jamb=0.19, width=0.91),
            opening("O4", "W1", side="Z1-2", first_jamb=1, width=0.91),
            opening("O5", "W1", first_jamb=1.2, width=0.225, kind="air brick", lintel=None),
            opening(
                "O6", "W1", side="Z1-8", first_jamb=0.2, kind="air brick", width=0.225, lintel=None
            ),
            opening("O7", "W1", side="Z1-9", first_jamb=0.2, width=0.9, kind="level-access door"),
            opening(
                "O8", "W3", side="Z2-2", first_jamb=0.005, width=1.99, kind="level-access door"
            ),
            opening("O9", "W2", first_jamb=3, width=2, kind="raised door"),
        ],
        tie_ins=[row("tie_ins", mark="T1", wall="W1", number=1, height=2.4)],
    )


def misplaced_job() -> Job:
    """The same with openings, and steps in a DPC, that do not fit, each in its own way: no file is read
    with them."""
    job = walked_job()
    door: dict[str, Any] = {"kind": "level-access door", "lintel": None}
    openings = [
        opening("O1", "W1", side="Z1-2"),
        opening("O2", "W1", number=2, first_jamb=0),
        opening("O3", "W1", side="Z1-13", first_jamb=0),
        opening("O4", "W2", side="Z1-2", first_jamb=0),
        opening("O5", "W1", side="Z1-2", first_jamb=2, width=0.5),
        opening("O6", "W2", first_jamb=3.5),
        opening("O7", "W1", side="Z1-9", first_jamb=0.5),
        opening("O8", "W1", first_jamb=1.5, width=0.91),
        opening("O9", "W2", first_jamb=0, width=1, **door),
        opening("O10", "W2", first_jamb=0.999, width=1, **door),
        opening("O11", "W4", first_jamb=2, width=1, **door),
    ]
    steps = {"steps": 2, "step_rise": 150, "step_way": "down", "first_step": 2.5}
    walls = [
        *job.rows["walls"],
        wall("W4", 5, **steps, step_spacing=1),
        wall("W5", 5, **steps, step_spacing=2.5),
    ]
    return replace(job, rows={**job.rows, "openings": openings, "walls": walls})
