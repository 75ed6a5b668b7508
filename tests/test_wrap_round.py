"""A wrap-round extension on two levels, worked by hand before it was entered.

An invented room behind an invented house, 6.0 × 3.5 m, round a chimney breast of 1.2 × 0.4 m of the
old wall, with a splayed bay to the garden; and a side wing, 1.5 × 6.5 m, 150 mm lower, half beside
the room and half beside the house. Every figure below was worked with pencil and calculator from the
rules as docs/rules.md words them; none was taken from the program.

Its geometry takes 41 typed cells: 15 lengths, 7 turns that are no right angle to the right, 17 kinds,
2 floors joined. Before sides could be walked, neither bay nor breast could be said; two rectangles
alone took 4 lengths, 10 edges with side, length and kind, 2 floors joined, 5 cells for each run: 46.
"""

import math
from functools import cache

import pytest

from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate

from .made import worked_out
from .small_jobs import bare_job, edge, opening, row, walked_zone
from .walked_jobs import LEFT, NEW, OLD, RIGHT, following, up

STEP = 0.15  # m
SPLAY = 0.6 * math.sqrt(2)


def lap(mark: str) -> dict[str, object]:
    return {"kind": "step to another floor", "joins": mark}


# The room, to the right from the house's corner: the old wall round its chimney breast, the new
# wall opposite the wing, the garden side with its bay, and the step down to the wing.
ROOM = [
    (2, RIGHT, OLD), (0.4, LEFT, OLD), (1.2, LEFT, OLD), (0.4, RIGHT, OLD), (2.8, RIGHT, OLD),
    (3.5, RIGHT, NEW), (2, -45, NEW), (SPLAY, 45, NEW), (1, 45, NEW), (SPLAY, -45, NEW),
    (1.8, RIGHT, up(335)), (None, RIGHT, lap("Z2")),
]  # fmt: skip
# The wing from its front: 3.0 beside the house, then the step up, the garden end, and its long wall.
BELOW = {"kind": "new wall", "dpc_level": -STEP}
WING = [
    (1.5, RIGHT, BELOW), (3, 0, {**OLD, "dpc_level": -0.225}), (3.5, RIGHT, lap("Z1")),
    (1.5, RIGHT, BELOW), (None, RIGHT, BELOW),
]  # fmt: skip


def sides(mark: str, walk: list[tuple]) -> list[dict[str, object]]:
    return [edge(f"{mark}-{n}", mark, None, length, turn=turn, **kind)
            for n, (length, turn, kind) in enumerate(walk, 1)]  # fmt: skip


@cache
def found() -> Ledger:
    return estimate(
        bare_job(
            zones=[
                walked_zone("Z1"),
                walked_zone("Z2", finished_level=-STEP, formation_level=-0.55 - STEP),
            ],
            edges=[*sides("Z1", ROOM), *sides("Z2", WING)],
            walls=[following("W1", "Z1", dpc_height=150), following("W2", "Z2", dpc_height=150)],
            tie_ins=[row("tie_ins", mark=f"T{n}", wall=f"W{n}", number=1, height=2.4) for n in (1, 2)],
            openings=[
                opening("O1", "W1", kind="level-access door", width=1.8, height=2.1, lintel=2.1,
                        side="Z1-11", first_jamb=0),
                opening("O2", "W1", width=0.9, height=1.2, lintel=1.2, side="Z1-9",
                        first_jamb=0.05),
                opening("O3", "W2", width=1.2, height=1.05, lintel=1.5, side="Z2-5", first_jamb=1),
            ],
        )
    )  # fmt: skip


def of(table: str, row: int, *names: str) -> list[object]:
    return [found().figure(table, row, name) for name in names]


def test_the_floors() -> None:
    """Room 6 × 3.5 - 1.2 × 0.4 + (2.2 + 1) ÷ 2 × 0.6 = 21.48; wing 1.5 × 6.5 = 9.75.

    The room's last side closes it: 3.5. Eight of its corners turn out (two by 45), four turn in: the
    two beside the breast and the two feet of the bay. The wing: 6.5 along, four out.
    """
    assert of("zones", 1, "walk_fault", "net_area", "corners_out", "corners_in") == [
        0, pytest.approx(21.48), 8, 4
    ]  # fmt: skip
    assert of("zones", 2, "walk_fault", "net_area", "corners_out", "corners_in") == [
        0, pytest.approx(9.75), 4, 0
    ]  # fmt: skip
    assert found().figure("edges", 12, "side_length") == pytest.approx(3.5)
    assert found().figure("edges", 17, "side_length") == pytest.approx(6.5)
    assert of("zones", 1, "extent_a", "extent_b") == pytest.approx([6, 4.1])


def test_the_step() -> None:
    """The sheet of the wing goes up 150 and laps the room's by 300: once, on the floor listed second."""
    room, wing = 12, 15
    assert of("edges", room, "joint_lap", "step_up", "reach") == [0, 0, 0]
    assert of("edges", wing, "joint_lap", "step_up", "reach") == [300, pytest.approx(150), 450]
    assert found().cell("edges_disagree") == 0
    # 165 of hardcore under each, 150 apart: 21.48 × 0.165 and 9.75 × 0.165.
    assert found().column("zones", "hardcore_volume") == pytest.approx([3.5442, 1.60875])


def test_the_sheet() -> None:
    """Turned up: room 435 at new walls, 285 at the old, 335 at the door; wing the same.

    Room: 20.297 round (2 + 0.4 + 1.2 + 0.4 + 2.8 old, 3.5 + 2 + 1 + 1.697 new, 1.8 door) less the
    step: 6.8 + 8.197 + 1.8 = 16.797. Wing: 1.5 + 1.5 + 6.5 new, 3 old: 12.5.
    """
    assert found().column("zones", "turned_up") == pytest.approx(
        [6.8 + 6.5 + 2 * SPLAY + 1.8, 12.5]
    )
    # The wing is a rectangle: along B 6.5 + 0.435 + 0.435, across 1.5 + 0.435 and past the step.
    sheet = sorted(of("zones", 2, "sheet_a", "sheet_b"))  # type: ignore[type-var]
    assert sheet == pytest.approx([1.5 + 0.435 + 0.45, 7.37])
    # The room along A: from the wing's side 0, past the far wall 435. Its bay goes 0.6 further out.
    assert of("zones", 1, "shaped", "sheet_a") == [1, pytest.approx(6 + 0 + 0.435)]


def test_the_runs() -> None:
    """Room: 3.5 + 2 + 2 × 0.849 + 1 + 1.8 = 9.997 inside; one right angle out, the bay's 45 in, out,
    out, in: their tangents cancel, 1 in all. Outer leaf 9.997 + 2 × 0.25125 × 1 = 10.500.
    Wing: 1.5 + 6.5 + 1.5 = 9.5, two out: 9.5 + 2 × 0.25125 × 2 = 10.505.
    """
    assert of("walls", 1, "length_in_use", "outer_length") == pytest.approx(
        [8.3 + 2 * SPLAY, 8.3 + 2 * SPLAY + 0.5025]
    )
    assert of("walls", 2, "length_in_use", "outer_length") == pytest.approx([9.5, 10.505])
    assert found().cell("walls_disagree") == 0


def test_doors_and_windows_fit() -> None:
    """The door fills its threshold; a window of 0.9 fits the bay's front of 1.0 with 50 each side."""
    assert found().column("openings", "place_note") == ["", "", ""]


def test_levels_that_do_not_fit_their_kind() -> None:
    """A joint whose floors lie at two levels, and a step whose floors lie at one, do not match."""
    for level, kind, wrong in (
        (0, "joint", 0),
        (-STEP, "joint", 2),
        (0, "step to another floor", 2),
    ):
        other = {"kind": kind}
        edges = [
            {**e, **(other if e["joins"] else {})} for e in [*sides("Z1", ROOM), *sides("Z2", WING)]
        ]
        zones = [
            walked_zone("Z1"),
            walked_zone("Z2", finished_level=level, formation_level=-0.55 + level),
        ]
        ledger = estimate(bare_job(zones=zones, edges=edges))
        assert ledger.cell("edges_disagree") == wrong


def test_it_has_a_total() -> None:
    assert found().cell("quote_total") is not NOT_AVAILABLE


# ---- the house as it is shipped: the same walks, a bay of 3-4-5 triangles, a pier beside the door --------


def test_the_floors_as_shipped() -> None:
    """Room 6 × 3.5 - 1.2 × 0.4 + (1.8 + 1.2) ÷ 2 × 0.4 = 21.12; wing 1.5 × 6.5 = 9.75.

    The bay's splays: 0.3 along, 0.4 out, so 0.5 long, turned by atan(4 ÷ 3) = 53.13.
    """
    found = worked_out("wrap_round")
    assert found.column("zones", "net_area") == pytest.approx([21.12, 9.75], abs=1e-4)
    assert found.column("edges", "side_length")[12] == pytest.approx(3.5, abs=1e-4)


def test_the_runs_as_shipped() -> None:
    """Room 3.5 + 1.7 + 0.5 + 1.2 + 0.5 + 1.8 + 0.7 = 9.9, one corner out, the bay's four cancel:
    outer leaf 9.9 + 2 × (0.1 + 0.15 + 0.05125) = 10.5025. Wing 9.5, two out: 10.705.
    """
    found = worked_out("wrap_round")
    assert found.column("walls", "length_in_use") == pytest.approx([9.9, 9.5], abs=1e-4)
    assert found.column("walls", "outer_length") == pytest.approx([10.5025, 10.705], abs=1e-4)


def test_what_is_bought_as_shipped() -> None:
    """Hardcore (21.12 + 9.75) × 0.165 = 5.09355 m³, × 1.94 = 9.88 t; six trays of two stop
    ends; four preformed corners: two of the breast, two at the feet of the bay."""
    found = worked_out("wrap_round")
    net = {
        line: found.figure("lines", n, "net")
        for n, line in enumerate(found.column("lines", "key"), 1)
    }
    assert net["hardcore"] == pytest.approx(5.09355 * 1.94, abs=1e-3)
    assert net["stop_ends"] == 2 * 6
    assert net["corner_patches"] == 4
    assert found.cell("quote_total") is not NOT_AVAILABLE
