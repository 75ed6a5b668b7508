"""Walks that are none: one sentence where a job file is read, and no total in a sheet."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from estimator.errors import JobError
from estimator.language import NOT_AVAILABLE
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import bare_job, edge, row, walked_zone
from .test_walked_floors import L_SHAPE
from .walked_jobs import FREE, NEW, following, walk

Rows = dict[str, list[dict[str, Any]]]


def an_l() -> Job:
    """The L of test_walked_floors.py, a run that follows it, and a rectangle beside it."""
    return bare_job(
        zones=[walked_zone("Z1"), {**walked_zone("Z2"), "side_a": 3, "side_b": 2}],
        edges=[
            *walk("Z1", *L_SHAPE),
            *(edge(f"R{side}", "Z2", side, 3 if side[0] == "A" else 2, **FREE)
              for side in ("A1", "A2", "B1", "B2")),
        ],
        walls=[following()],
        tie_ins=[row("tie_ins", mark="T1", wall="W1", number=2, height=2.4)],
    )  # fmt: skip


def with_edges(**changes: dict[str, Any]) -> Callable[[Rows], None]:
    """Changes to edges by their row, as `e1`."""

    def change(rows: Rows) -> None:
        for name, given in changes.items():
            rows["edges"][int(name[1:]) - 1] |= given

    return change


def _two_sides(rows: Rows) -> None:
    rows["edges"] = [e for e in rows["edges"] if e["mark"] not in ("Z1-3", "Z1-4", "Z1-5", "Z1-6")]


def _no_sides(rows: Rows) -> None:
    rows["edges"] = [e for e in rows["edges"] if e["zone"] != "Z1"]


def _side_a_alone(rows: Rows) -> None:
    rows["zones"][1]["side_b"] = None


def _crossing(rows: Rows) -> None:
    """A U of 10 × 5 whose inner side goes 6 m up: across its back."""
    sides = ((10, None), (5, None), (3, None), (6, -90), (4, -90), (6, None), (3, None), (5, None))
    rows["edges"] = [e for e in rows["edges"] if e["zone"] != "Z1"]
    rows["edges"] += walk("Z1", *((length, turn, NEW) for length, turn in sides))


# What is wrong, the sentence, and what the sheet says of the floor (the first: Z1; else Z2).
FAULTS: dict[str, tuple[Callable[[Rows], None], str, tuple[int, str] | None]] = {
    "a side named on a walk": (
        with_edges(e2={"side": "B1"}),
        "test: edges[2].side: found 'B1'; accepted: none for a floor that is walked: its sides A "
        "and B are blank.",
        None,
    ),
    "two sides": (
        _two_sides,
        "test: zones[1] (Z1), sides: found 2; accepted: 3 or more, once round the floor.",
        (1, "fewer than three sides"),
    ),
    "no sides": (
        _no_sides,
        "test: zones[1] (Z1), sides: found 0; accepted: 3 or more, once round the floor.",
        (1, "fewer than three sides"),
    ),
    "one number twice": (
        with_edges(e2={"number": 4}),
        "test: edges[2].number: found 4; accepted: a number of its own for each side of the floor, "
        "or none for any of them.",
        (1, "two sides with one number"),
    ),
    "two lengths left blank": (
        with_edges(e2={"length": None}),
        "test: edges[6].length_m: found nothing; accepted: a length: one side of a walk may be "
        "left blank.",
        (1, "more than one side without a length"),
    ),
    "turns of one and a half rounds": (
        with_edges(e4={"turn": 90}),
        "test: zones[1] (Z1), turns of its sides: found '540 degrees'; accepted: 360 degrees in "
        "all: once round, to the right or to the left (-).",
        (1, "turns that do not come once round"),
    ),
    # 7 + 2 + 4 as before, and 3 typed: 4.5 for 4 along the garden ends 0.5 beyond.
    "an end beyond the start": (
        with_edges(e5={"length": 4.5}, e6={"length": 3}),
        "test: zones[1] (Z1), its sides: found 'an end 0.500 m behind the start'; "
        "accepted: sides that come back to where they begin (ahead is along the first).",
        (1, "an end away from the start"),
    ),
    "an end short of the start": (
        with_edges(e6={"length": 2.99}),
        "test: zones[1] (Z1), its sides: found 'an end 0.010 m right of the start'; accepted: "
        "sides that come back to where they begin (ahead is along the first).",
        (1, "an end away from the start"),
    ),
    "sides that cross": (
        _crossing,
        "test: zones[1] (Z1), its sides: found 'side 1 across side 4'; accepted: sides that meet at "
        "corners only.",
        (1, "sides that cross"),
    ),
    "one side of a rectangle": (
        _side_a_alone,
        "test: zones[2].side_b_m: found nothing; accepted: both sides of a rectangle, or neither "
        "where the floor is walked.",
        (2, "side A or side B is blank"),
    ),
    "a rectangle's edge without a side": (
        with_edges(e7={"side": None}),
        "test: edges[7].side: found nothing; accepted: one for each edge of a floor whose sides A "
        "and B are typed.",
        None,
    ),
    "a rectangle's edge without a length": (
        with_edges(e7={"length": None}),
        "test: edges[7].length_m: found nothing; accepted: one for each edge of a floor whose "
        "sides A and B are typed.",
        None,
    ),
    "a rectangle's edge with a number": (
        with_edges(e7={"number": 1}),
        "test: edges[7].number: found 1; accepted: none for a floor whose sides A and B are typed.",
        None,
    ),
    "a rectangle's edge with a turn": (
        with_edges(e7={"turn": 90}),
        "test: edges[7].turn_degrees: found 90; accepted: none for a floor whose sides A and B are "
        "typed.",
        None,
    ),
}  # fmt: skip


def changed(change: Callable[[Rows], None]) -> Rows:
    rows = {name: [dict(r) for r in rows] for name, rows in an_l().rows.items()}
    change(rows)
    return rows


def test_the_job_without_a_fault_has_a_total() -> None:
    assert estimate(an_l()).cell("quote_total") is not NOT_AVAILABLE


@pytest.mark.parametrize("name", FAULTS)
def test_a_job_file_says_it_in_one_sentence(name: str) -> None:
    change, sentence, _ = FAULTS[name]
    with pytest.raises(JobError) as said:
        bare_job(**changed(change))
    assert str(said.value) == sentence


@pytest.mark.parametrize("name", FAULTS)
def test_a_sheet_has_no_total(name: str) -> None:
    change, _, note = FAULTS[name]
    found = estimate(replace(an_l(), rows=changed(change)))
    assert found.cell("edges_disagree") > 0
    assert found.cell("quote_total") is NOT_AVAILABLE
    if note:
        floor, words = note
        assert found.figure("zones", floor, "edges_agree") == 0
        assert found.figure("zones", floor, "walk_note") == words


def test_an_extra_edge_without_a_length_beside_a_rectangle_that_adds_up() -> None:
    rows = changed(lambda rows: rows["edges"].append(edge("R5", "Z2", "A1", None, **FREE)))
    found = estimate(replace(an_l(), rows=rows))
    assert found.figure("zones", 2, "edges_agree") == 1
    assert found.cell("edges_disagree") == 1
    assert found.cell("quote_total") is NOT_AVAILABLE


def test_splayed_sides_that_cross_are_found_where_a_job_file_is_read() -> None:
    """The U of 10 × 5 again, begun along a splay of 1 × 1 across its first corner."""
    turns = (45, 90, 90, 90, -90, -90, 90, 90, 45)
    lengths = (math.sqrt(2), 9, 5, 3, 6, 4, 6, 3, 4)
    sides = [(length, turn, NEW) for length, turn in zip(lengths, turns, strict=True)]
    with pytest.raises(JobError, match="its sides: found 'side 2 across side 5'"):
        bare_job(zones=[walked_zone("Z1")], edges=walk("Z1", *sides))


# ---- runs that follow ----

TYPED = {"run": "open", "length": 20, "measured_on": "inside face", "external_corners": 3,
         "internal_corners": 1, "ends_at_existing": 2}  # fmt: skip


def one_run(**given: Any) -> Callable[[Rows], None]:
    def change(rows: Rows) -> None:
        rows["walls"] = [{**rows["walls"][0], **given}]

    return change


def _two_runs(rows: Rows) -> None:
    rows["edges"][3] |= {**dict.fromkeys(NEW), **FREE}


def _no_new_wall(rows: Rows) -> None:
    for at in range(1, 6):
        rows["edges"][at] |= {**dict.fromkeys(NEW), **FREE}


RUNS: dict[str, tuple[Callable[[Rows], None], str]] = {
    **{
        f"{name} typed too": (
            one_run(**{name: value}),
            rf"walls\[1\]\.{name}(_m)?: found '?{value}'?; accepted: none: the run follows a floor\.",
        )
        for name, value in TYPED.items()
    },
    **{
        f"{name} not typed": (
            one_run(**{**TYPED, "floor": None, name: None}),
            rf"walls\[1\]\.{name}(_m)?: found nothing; accepted: ",
        )
        for name in TYPED
    },
    "a rectangle": (
        one_run(floor="Z2"),
        r"walls\[1\]\.floor: found 'Z2'; accepted: a floor that is walked: its sides A and B are "
        r"blank\.",
    ),
    "two runs": (
        _two_runs,
        r"walls\[1\]\.floor: found 'Z1, whose new walls are 2 runs'; accepted: a floor whose new "
        r"walls are one run\.",
    ),
    "no new wall": (
        _no_new_wall,
        r"walls\[1\]\.floor: found 'Z1, whose new walls are 0 runs'; accepted: a floor whose new "
        r"walls are one run\.",
    ),
    "a cavity without an inner leaf": (
        one_run(inner_leaf=0),
        r"walls\[1\]\.inner_leaf_mm: found .*; accepted: both for a cavity wall",
    ),
    "a third end": (
        one_run(ends_at_new=1, met_thickness=215),
        r"walls\[1\]\.ends_at_new: found .*2 at existing ones.*; accepted: two ends",
    ),
}


NOTES = {
    "a rectangle": "the floor it follows is not walked",
    "two runs": "new wall of its floor is not one run",
    "no new wall": "new wall of its floor is not one run",
}


def note_of(name: str) -> str:
    if name.endswith("not typed"):
        return "not all of the run is typed"
    return "it follows a floor, and is typed too" if name.endswith("typed too") else ""


@pytest.mark.parametrize("name", RUNS)
def test_a_run_in_a_job_file(name: str) -> None:
    change, sentence = RUNS[name]
    with pytest.raises(JobError, match=sentence):
        bare_job(**changed(change))


@pytest.mark.parametrize("name", RUNS)
def test_a_run_in_a_sheet(name: str) -> None:
    change, _ = RUNS[name]
    found = estimate(replace(an_l(), rows=changed(change)))
    assert found.figure("walls", 1, "wall_agrees") == 0
    assert found.figure("walls", 1, "run_note") == NOTES.get(name, note_of(name))
    assert found.cell("walls_disagree") == 1
    assert found.cell("quote_total") is NOT_AVAILABLE


def test_a_run_typed_in_full_beside_a_walked_floor_is_taken() -> None:
    rows = changed(one_run(**TYPED, floor=None))
    assert estimate(bare_job(**rows)).figure("walls", 1, "outer_length") == pytest.approx(21.005)
