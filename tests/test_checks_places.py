"""Checks of placed openings: what overlaps in plan, level-access doors and the floor's thresholds;
and of thresholds that name a run measured by hand, whose doors need no place."""

from dataclasses import replace
from typing import Any

import pytest

from estimator.checks import MEETS, NOT_APPLICABLE, SHORT
from estimator.files.resources import DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job

from .small_jobs import bare_job, edge, opening, walked_zone, wall, zone
from .test_checks_levels import row_of
from .walked_jobs import LEFT, NEW, OLD, RIGHT, Side, following, up, walk

DOOR: dict[str, Any] = {"kind": "level-access door", "lintel": None}
RAISED: dict[str, Any] = {"kind": "raised door", "lintel": None}
BRICK: dict[str, Any] = {"kind": "air brick", "width": 0.225, "lintel": None}
# 6 m along the house, 3 m out, 1.5 + 2.4 (a threshold) + 2.1 across, 3 m back.
ROOM: list[Side] = [
    (6, RIGHT, OLD), (3, RIGHT, NEW), (1.5, 0, NEW), (2.4, 0, up(335)), (2.1, RIGHT, NEW),
    (3, RIGHT, NEW),
]  # fmt: skip
MIRRORED: list[Side] = [(s[0], LEFT if s[1] is RIGHT else s[1], s[2]) for s in ROOM]


def room(*openings: dict[str, Any], sides: list[Side] = ROOM) -> Job:
    """Each opening in the run round the room."""
    marked = [{**o, "mark": f"O{n}", "wall": "W1"} for n, o in enumerate(openings, 1)]
    return bare_job(
        zones=[walked_zone("Z1")], edges=walk("Z1", *sides), walls=[following()], openings=marked
    )


def at(first_jamb: float | None, width: float = 1, **given: Any) -> dict[str, Any]:
    return opening("O", "W1", **{"first_jamb": first_jamb, "width": width, "lintel": None, **given})


def on_straight(*openings: dict[str, Any]) -> Job:
    """Each opening in a run of 9 m, measured by hand."""
    marked = [{**o, "mark": f"O{n}"} for n, o in enumerate(openings, 1)]
    return bare_job(walls=[wall("W1", 9), wall("W2", 9)], openings=marked)


def by_hand(
    *openings: dict[str, Any], threshold: str | None = "W1", other: str | None = None
) -> Job:
    """Each opening in its run, measured by hand; a room with a threshold of 2.4 m, and the runs that
    it and the rest of its side name."""
    sides = [
        edge("E1", "Z1", "A1", 6), edge("E2", "Z1", "B1", 3), edge("E3", "Z1", "A2", 6),
        edge("E4", "Z1", "B2", 2.4, wall=threshold, **up(285)),
        edge("E5", "Z1", "B2", 0.6, kind="new wall", dpc_level=-0.05, wall=other),
    ]  # fmt: skip
    marked = [{**o, "mark": f"O{n}"} for n, o in enumerate(openings, 1)]
    walls = [wall("W1", 3), wall("W2", 6)]
    return bare_job(zones=[zone("Z1", 6, 3)], edges=sides, walls=walls, openings=marked)


STATES = [
    ("overlaps", NOT_APPLICABLE, on_straight(at(None), at(None))),
    ("overlaps", MEETS, on_straight(at(1), at(2), at(3))),  # jamb to jamb
    ("overlaps", SHORT, on_straight(at(1), at(1.999))),
    ("overlaps", SHORT, on_straight(at(1), at(1.2, 0.5, **RAISED))),  # one within the other
    ("overlaps", MEETS, on_straight(at(1), {**at(1), "wall": "W2"})),  # in another run
    ("overlaps", MEETS, on_straight(at(1), at(1.3, **BRICK))),  # an air brick below a window
    ("overlaps", SHORT, on_straight(at(1.2, **BRICK), at(1.3, **BRICK))),
    ("overlaps", MEETS, on_straight(at(1.2, **BRICK), at(1.3, kind="meter box"))),
    ("overlaps", MEETS, on_straight(at(1), at(None))),
    ("overlaps", SHORT, on_straight(at(1, **DOOR), at(1.5, **RAISED))),
    # 3 m out, and 1.5: the threshold is 4.5 to 6.9 m along the run.
    ("door_thresholds", NOT_APPLICABLE, room(at(None, 2.4, **DOOR))),
    ("door_thresholds", NOT_APPLICABLE, on_straight(at(1, **DOOR))),
    ("door_thresholds", NOT_APPLICABLE, room(at(1, **RAISED))),
    ("door_thresholds", MEETS, room(at(4.5, 2.4, **DOOR))),
    ("door_thresholds", MEETS, room(at(0, 2.4, side="Z1-4", **DOOR))),
    ("door_thresholds", MEETS, room(at(1.495, 2.41, side="Z1-3", **DOOR))),  # 5 mm either side
    ("door_thresholds", SHORT, room(at(1.485, 2.4, side="Z1-3", **DOOR))),  # 15 mm off
    ("door_thresholds", SHORT, room(at(4.5, 2.37, **DOOR))),  # 30 mm short
    ("door_thresholds", SHORT, room(at(0.5, 2.4, **DOOR))),
    ("door_thresholds", MEETS, room(at(4.5, 2.4, **DOOR), sides=MIRRORED)),
    ("threshold_doors", NOT_APPLICABLE, room(at(None, 2.4, **DOOR))),
    ("threshold_doors", NOT_APPLICABLE, room(at(0.5), at(None, 2.4, **DOOR))),  # to be placed yet
    ("threshold_doors", MEETS, room(at(4.5, 2.4, **DOOR))),
    ("threshold_doors", MEETS, room(at(4.5, 2.4, **RAISED))),
    ("threshold_doors", SHORT, room(at(0.5))),  # a window is placed, no door is listed
    ("threshold_doors", SHORT, room(at(0.5, 2.4, **DOOR))),
    ("threshold_doors", SHORT, room(at(4.5, 2.4))),  # a window on it
    # Of a run measured by hand: the door is as wide as the threshold, to a joint's width.
    ("threshold_doors", MEETS, by_hand(at(None, 2.4, **DOOR))),
    ("threshold_doors", MEETS, by_hand(at(0.3, 2.41, **DOOR))),
    ("threshold_doors", SHORT, by_hand(at(None, 2.38, **DOOR))),
    ("threshold_doors", SHORT, by_hand(at(None, 2.4))),  # a window
    ("threshold_doors", SHORT, by_hand({**at(None, 2.4, **DOOR), "wall": "W2"})),
    ("threshold_doors", SHORT, by_hand()),
    ("threshold_doors", NOT_APPLICABLE, by_hand(at(None, 2.4, **DOOR), threshold=None)),
    ("door_thresholds", MEETS, by_hand(at(None, 2.4, **DOOR))),
    ("door_thresholds", SHORT, by_hand(at(None, 1.2, **DOOR))),
    ("door_thresholds", SHORT, by_hand({**at(None, 2.4, **DOOR), "wall": "W2"}, other="W2")),
    # No side names the door's run, or the threshold none: where it lies is not known.
    ("door_thresholds", NOT_APPLICABLE, by_hand({**at(None, 2.4, **DOOR), "wall": "W2"})),
    ("door_thresholds", NOT_APPLICABLE, by_hand(at(None, 2.4, **DOOR), threshold=None, other="W1")),
    ("door_thresholds", NOT_APPLICABLE, by_hand(at(None, 2.4, **RAISED))),
]


@pytest.mark.parametrize(
    ("check", "state", "job"), STATES, ids=[f"{n} {c} {s}" for n, (c, s, _) in enumerate(STATES)]
)
def test_state(check: str, state: str, job: Job) -> None:
    assert row_of(job, check)["state"] == state


def test_rows_are_named() -> None:
    job = room(at(0.5), at(1, 2, **DOOR), at(10))
    assert row_of(job, "overlaps")["rows"] == ["O1", "O2"]
    assert row_of(job, "door_thresholds")["rows"] == ["O2"]
    assert row_of(job, "threshold_doors")["rows"] == ["Z1-4"]


def test_a_door_and_a_threshold_in_different_walls_are_named() -> None:
    """The demo with its sliding doors moved from the wall of the threshold into the next."""
    job = read_job(DEMO_JOB)
    openings = [{**o, "wall": "W2"} if o["mark"] == "O3" else o for o in job.rows["openings"]]
    moved = replace(job, rows={**job.rows, "openings": openings})
    assert row_of(job, "threshold_doors")["state"] == row_of(job, "door_thresholds")["state"]
    assert row_of(job, "threshold_doors")["state"] == MEETS
    assert row_of(moved, "threshold_doors")["rows"] == ["E6"]
    assert row_of(moved, "door_thresholds")["rows"] == ["O3 (Sliding doors)"]
    found = estimate(moved)
    assert found.column("edges", "threshold_note")[5] == "no door of its width in its wall"
    assert found.column("openings", "place_note")[2] == "no threshold of its width in its wall"
