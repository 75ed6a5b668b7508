"""Walked floors worked by hand: an L, a bay, a detached room, runs that follow, joints between them.

Every figure below was worked with pencil and calculator before it was entered; none was taken from
the program.
"""

from collections.abc import Iterable, Sequence
from typing import Any

import pytest

from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate

from .small_jobs import bare_job, edge, walked_zone, zone
from .walked_jobs import (
    FREE,
    LEFT,
    NEW,
    OLD,
    RIGHT,
    SPLAY,
    Side,
    following,
    lap,
    up,
    walk,
    walked_job,
)


def of_floor(found: Ledger, *names: str) -> list[Any]:
    return [found.figure("zones", 1, name) for name in names]


def of_run(found: Ledger, *names: str) -> list[Any]:
    return [found.figure("walls", 1, name) for name in names]


# The L of test_l_shaped.py as one floor: 6 along the house, 7 out, 2 across, 4 back to where it
# turns in, 4 to the left, and 3 back to the house, which is left to be worked out.
L_SHAPE: Sequence[Side] = (
    (6, RIGHT, OLD),
    (7, RIGHT, NEW),
    (2, RIGHT, NEW),
    (4, LEFT, NEW),
    (4, RIGHT, NEW),
    (None, RIGHT, NEW),
)


def mirrored(sides: Iterable[Side]) -> list[Side]:
    return [(length, -90 if turn is RIGHT else -turn, kind) for length, turn, kind in sides]


@pytest.mark.parametrize("sides", [L_SHAPE, mirrored(L_SHAPE)], ids=["right", "left"])
def test_an_l_shaped_floor(sides: Sequence[Side]) -> None:
    """6 × 3 + 2 × 4 = 26 m², in a rectangle of 6 × 7; 6 + 7 + 2 + 4 + 4 + 3 = 26 m round it.

    The sheet: 6 + 2 × 0.435 = 6.87 by 7 + 0.285 + 0.435 = 7.72. Five corners turn out, one in.
    """
    found = estimate(bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *sides)))
    assert found.column("edges", "side_length")[5] == pytest.approx(3)
    figures = ("net_area", "extent_a", "extent_b", "turned_up", "sheet_a", "sheet_b")
    assert of_floor(found, *figures) == pytest.approx([26, 6, 7, 26, 6.87, 7.72])
    assert of_floor(found, "corners_out", "corners_in", "corner_patches") == [5, 1, 1]
    assert of_floor(found, "walk_fault", "walk_note", "edges_agree") == [0, "", 1]
    assert found.cell("edges_disagree") == 0
    assert found.cell("quote_total") is not NOT_AVAILABLE


@pytest.mark.parametrize("sides", [L_SHAPE, mirrored(L_SHAPE)], ids=["right", "left"])
def test_a_run_follows_an_l_shaped_floor(sides: Sequence[Side]) -> None:
    """New wall inside: 7 + 2 + 4 + 4 + 3 = 20 m; three corners turn out, one in; both ends old.

    Outer leaf: 302.5 - 51.25 = 251.25 outside that line, 20 + 2 × 0.25125 × (3 - 1) = 21.005, as
    in test_l_shaped.py, where the run is measured on its outside face. Inner: 20 + 2 × 0.05 × 2.
    """
    job = bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *sides), walls=[following()])
    found = estimate(job)
    assert of_run(found, "length_in_use", "outer_length", "inner_length") == pytest.approx(
        [20, 21.005, 20.2]
    )
    assert of_run(found, "external_in_use", "internal_in_use", "old_ends_in_use") == [3, 1, 2]
    assert of_run(found, "run_in_use", "line_in_use") == ["open", "inside face"]
    assert of_run(found, "run_misfit", "run_note", "wall_agrees") == [0, "", 1]


def test_a_threshold_is_part_of_the_run_and_straight_on_is_no_corner() -> None:
    """The same L, a door of 3 in its side of 4 that faces away from the house: 3 + 1 of wall."""
    door: list[Side] = [*L_SHAPE[:4], (3, 0, up(335)), (1, RIGHT, NEW), L_SHAPE[5]]
    job = bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *door), walls=[following()])
    found = estimate(job)
    assert of_run(found, "length_in_use", "external_in_use", "internal_in_use") == [20, 3, 1]
    assert of_floor(found, "net_area", "corners_in") == [26, 1]
    assert found.cell("walls_disagree") == 0


def test_sides_stand_in_any_order_when_they_are_numbered() -> None:
    rows = walk("Z1", *L_SHAPE)
    numbered = [{**row, "number": 10 * n} for n, row in enumerate(rows, 1)]
    shuffled = [numbered[n] for n in (3, 0, 5, 1, 4, 2)]
    found = estimate(bare_job(zones=[walked_zone("Z1")], edges=shuffled, walls=[following()]))
    assert of_floor(found, "net_area", "extent_a", "extent_b") == pytest.approx([26, 6, 7])
    assert of_run(found, "outer_length") == pytest.approx([21.005])


# A room of 4 × 3 with a bay in its front: 0.5 of wall, a splay of 0.6 out and 0.6 along, 1.8 across.
BAY: Sequence[Side] = (
    (4, RIGHT, OLD),
    (3, RIGHT, NEW),
    (0.5, -45, NEW),
    (SPLAY, 45, NEW),
    (1.8, 45, NEW),
    (None, -45, NEW),
    (0.5, RIGHT, NEW),
    (3, RIGHT, NEW),
)


def test_a_splayed_bay() -> None:
    """12 m², and a bay of (3.0 + 1.8) / 2 × 0.6 = 1.44. In a rectangle of 4 × 3.6.

    New wall: 3 + 0.5 + 0.848528 + 1.8 + 0.848528 + 0.5 + 3 = 10.497056. What the two outer splays
    of the bay add to a leaf, its two inner ones take: 2 × 0.25125 × 2 for the room's own corners.
    The sheet: 4 and 435 past both flanks; 3.6, 435 past the bay and 285 past the house's wall.
    """
    job = bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *BAY), walls=[following()])
    found = estimate(job)
    assert of_floor(found, "net_area", "extent_a", "extent_b") == pytest.approx(
        [13.44, 4, 3.6], abs=2e-6
    )
    assert of_floor(found, "sheet_a", "sheet_b") == pytest.approx([4.87, 4.32], abs=2e-6)
    assert of_floor(found, "corners_out", "corners_in", "corner_patches") == [6, 2, 2]
    assert found.column("edges", "side_length")[5] == pytest.approx(SPLAY, abs=2e-6)
    assert of_run(found, "length_in_use", "outer_length") == pytest.approx(
        [10.497056, 11.502056], abs=3e-6
    )
    assert of_run(found, "external_in_use", "internal_in_use", "wall_agrees") == [4, 2, 1]


def test_a_bay_of_its_own_counts_its_splays_for_what_they_are() -> None:
    """3 m along the house, splays of 0.6 by 0.6, 1.8 across: two corners of 45° in the run.

    Inside 0.848528 + 1.8 + 0.848528 = 3.497056. On the outer leaf each corner adds twice 0.25125
    × tan 22.5° = 0.104071: 3.497056 + 2 × 0.208142 = 3.913340; as right angles it would be 4.502.
    """
    sides: list[Side] = [(3, 135, OLD), (SPLAY, 45, NEW), (1.8, 45, NEW), (None, 135, NEW)]
    job = bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *sides), walls=[following()])
    found = estimate(job)
    assert of_floor(found, "net_area") == pytest.approx([1.44], abs=2e-6)
    assert of_run(found, "outer_length") == pytest.approx([3.913340], abs=3e-6)
    assert of_run(found, "external_in_use", "old_ends_in_use", "wall_agrees") == [2, 2, 1]


# ---- a room that stands alone ----


def test_a_detached_room_has_a_closed_run() -> None:
    """5 × 4: 18 m inside, 20 m²; outer leaf 18 + 2 × 0.25125 × 4 = 20.01; no ends."""
    sides: list[Side] = [(5, RIGHT, NEW), (4, RIGHT, NEW), (None, RIGHT, NEW), (4, RIGHT, NEW)]
    job = bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *sides), walls=[following()])
    found = estimate(job)
    assert of_floor(found, "net_area", "corner_patches") == [20, 0]
    assert of_run(found, "outer_length", "end_laps") == pytest.approx([20.01, 0])
    assert of_run(found, "run_in_use", "external_in_use", "wall_agrees") == ["closed", 4, 1]


def test_a_closed_run_need_not_be_right_angled() -> None:
    """An octagon of 2 m sides: 2 × (1 + √2) × 4 = 19.313708 m².

    A leaf 0.25125 outside: each side longer by 2 × 0.25125 × tan 22.5° = 0.208142, 17.665137 m.
    """
    sides: list[Side] = [(2, 45, NEW)] * 8
    job = bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *sides), walls=[following()])
    found = estimate(job)
    assert of_floor(found, "net_area") == pytest.approx([19.313708], abs=1e-6)
    assert of_run(found, "outer_length") == pytest.approx([17.665137], abs=2e-6)
    assert of_run(found, "run_in_use", "external_in_use", "wall_agrees") == ["closed", 8, 1]


def test_a_published_girth_by_a_walk() -> None:
    """15 × 6 m outside, walls 300: 40.8 m on their centre (tests/hand_worked/first_cases.toml).

    Inside it is 14.4 × 5.4.
    """
    sides: list[Side] = [(14.4, RIGHT, NEW), (5.4, RIGHT, NEW)] * 2
    solid = following(outer_leaf=300, cavity=0, inner_leaf=0)
    found = estimate(bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *sides), walls=[solid]))
    assert of_run(found, "outer_length") == pytest.approx([40.8])


# ---- internal corners ----


def test_a_patch_only_where_the_sheet_turns_up_on_both_sides() -> None:
    """The L again; the side before its internal corner is free, then the one after it."""
    for at in (3, 4):
        sides = [(*s[:2], FREE if n == at else s[2]) for n, s in enumerate(L_SHAPE)]
        found = estimate(bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *sides)))
        assert of_floor(found, "corners_in", "corner_patches") == [1, 0]


def test_patches_are_bought() -> None:
    found = estimate(bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *L_SHAPE)))
    lines = dict(zip(found.column("lines", "key"), found.column("lines", "net"), strict=True))
    assert lines["corner_patches"] == 1
    packs = dict(zip(found.column("book", "code"), found.column("book", "packs"), strict=True))
    assert packs["PATCH"] == 1


# ---- joints between walked floors ----


# In each, Z1 lies against the house and Z2 below it; the joint runs along the foot of Z1, whose
# walk comes from its right-hand side, and along the head of Z2.
JOINTS: dict[str, tuple[list[Side], list[Side], float]] = {
    # Z1 4 m wide, Z2 4 m wide and 1 m to the right: Z2's left corner is within Z1's foot, and Z1's
    # right-hand corner within Z2's head. Up 0.3 at the one, 0.2 at the other: 3.5.
    "each ends it at one corner": (
        [(4, RIGHT, FREE), (3, RIGHT, up(300)), (3, 0, lap("Z2")), (1, RIGHT, up(100)),
         (3, RIGHT, up(150))],
        [(3, 0, lap("Z1")), (1, RIGHT, up(100)), (2, RIGHT, up(50)), (4, RIGHT, FREE),
         (2, RIGHT, up(200))],
        3.5,
    ),
    # Z2, 2 m wide, within the foot of Z1: up 0.2 and 0.05 at its own corners: 2.25.
    "one floor's whole side": (
        [(4, RIGHT, FREE), (3, RIGHT, up(300)), (1, 0, up(100)), (2, 0, lap("Z2")),
         (1, RIGHT, up(100)), (3, RIGHT, up(150))],
        [(2, RIGHT, lap("Z1")), (2, RIGHT, up(50)), (2, RIGHT, FREE), (2, RIGHT, up(200))],
        2.25,
    ),
    # The same, flush with Z1's right-hand wall, which turns up 0.3: Z2's sheet is cut to its own
    # width, so still 2.25.
    "flush at one end": (
        [(4, RIGHT, FREE), (3, RIGHT, up(300)), (2, 0, lap("Z2")), (2, RIGHT, up(100)),
         (3, RIGHT, up(150))],
        [(2, RIGHT, lap("Z1")), (2, RIGHT, up(50)), (2, RIGHT, FREE), (2, RIGHT, up(200))],
        2.25,
    ),
    # Both 4 m wide: the larger of 0.3 + 0.15 and 0.2 + 0.05: 4.45.
    "flush at both ends": (
        [(4, RIGHT, FREE), (3, RIGHT, up(300)), (4, RIGHT, lap("Z2")), (3, RIGHT, up(150))],
        [(4, RIGHT, lap("Z1")), (2, RIGHT, up(50)), (4, RIGHT, FREE), (2, RIGHT, up(200))],
        4.45,
    ),
    # Listed in two parts by Z1, in one by Z2: the ends are those of the whole, 4.45.
    "in two parts": (
        [(4, RIGHT, FREE), (3, RIGHT, up(300)), (1, 0, lap("Z2")), (3, RIGHT, lap("Z2")),
         (3, RIGHT, up(150))],
        [(4, RIGHT, lap("Z1")), (2, RIGHT, up(50)), (4, RIGHT, FREE), (2, RIGHT, up(200))],
        4.45,
    ),
    # Z2 fills the corner of an L, 2 m by 1.5: the lap of 0.3 goes round its corner, so that it is
    # 0.3 longer on each side of it. Corners of both end it: the larger of 0.3 and 0.05 + 0.2.
    # 3.5 + 0.6 + 0.3.
    "round a corner": (
        [(4, RIGHT, FREE), (1.5, RIGHT, up(300)), (2, LEFT, lap("Z2")), (1.5, RIGHT, lap("Z2")),
         (2, RIGHT, FREE), (3, RIGHT, up(150))],
        [(2, RIGHT, lap("Z1")), (1.5, RIGHT, up(50)), (2, RIGHT, up(200)), (1.5, RIGHT, lap("Z1"))],
        4.4,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", JOINTS)
def test_a_joint_runs_up_what_turns_up_at_its_ends(name: str) -> None:
    upper, lower, wanted = JOINTS[name]
    job = bare_job(
        zones=[walked_zone("Z1"), walked_zone("Z2")],
        edges=[*walk("Z1", *upper), *walk("Z2", *lower)],
    )
    found = estimate(job)
    assert found.cell("edges_disagree") == 0
    assert sum(found.column("edges", "joint_length")) == pytest.approx(wanted)


def test_a_walked_floor_meets_a_rectangle() -> None:
    """As in the first of JOINTS, the lower floor typed as 4 × 2: one of its corners is at the joint,
    and not known which, so the larger turn-up, 0.2; and 0.3 at the corner of the walk: 3.5."""
    upper = JOINTS["each ends it at one corner"][0]
    lower = [
        edge("B1", "Z2", "A1", 3, **lap("Z1")),
        edge("B2", "Z2", "A1", 1, **up(100)),
        edge("B3", "Z2", "A2", 4),
        edge("B4", "Z2", "B1", 2, **up(200)),
        edge("B5", "Z2", "B2", 2, **up(50)),
    ]
    job = bare_job(zones=[walked_zone("Z1"), zone("Z2", 4, 2)], edges=[*walk("Z1", *upper), *lower])
    assert sum(estimate(job).column("edges", "joint_length")) == pytest.approx(3.5)


def test_the_job_that_all_programs_work_out() -> None:
    """The L of 26 m² with its bay of 1.44, a corner of 0.6 × 0.6 / 2 cut off: 27.26. The room: 6.
    In the L a column of 0.6 × 0.45: 26.99 are left; in the room a shaft of 1 × 0.8: 5.2.

    New wall 2 + 0.848528 + 1.8 + 0.848528 + 2 + 1.4 + 0.848528 + 1.4 = 11.145584. Its corners: the
    bay's take as much as they give; a right angle; the cut-off's two splays, 2 × tan 22.5°. On the
    outer leaf 11.145584 + 2 × 0.25125 × 1.828427 = 12.064369. The joint: 2 + 3, the lap of 0.3 on
    both sides of the room's corner, and up 0.3 and 0.15 at its ends: 6.05.
    """
    found = estimate(walked_job())
    assert found.column("zones", "net_area") == pytest.approx([26.99, 5.2], abs=2e-6)
    assert of_run(found, "length_in_use", "outer_length") == pytest.approx(
        [11.145584, 12.064369], abs=3e-6
    )
    assert of_run(found, "external_in_use", "internal_in_use", "old_ends_in_use") == [5, 2, 1]
    assert sum(found.column("edges", "joint_length")) == pytest.approx(6.05)
    assert found.cell("quote_total") is not NOT_AVAILABLE
