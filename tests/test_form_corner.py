"""A room round a corner of the house, from the form: its walk, its run, and what is along the house.

The lean-to of test_form.py with a return: 4.0 m wide along the back wall up to the corner of the
house, 3.0 m deep; round the corner 2.5 m back along the side of the house, 1.5 m wide. Walls 302.5.

           R 1.5
          +-----+          The back of the house is A1, its side H. The old corner between them is
        H |     |          an internal corner of the room; all others turn out.
      2.5 |     |
  --------+     | B1       A1 4.0, H 2.5, R 1.5, B1 2.5 + 3.0 = 5.5, front 4.0 + 1.5 = 5.5,
   A1 4.0       | 5.5      B2 3.0.
B2 |            |
3.0+------------+
      A2 5.5
"""

from dataclasses import replace
from typing import Any

import pytest

from estimator.errors import JobError
from estimator.language.ledger import Ledger, is_available
from estimator.model.estimate import estimate, rows_in_use
from estimator.model.job import Job
from estimator.model.job_checks import check_job
from estimator.model.locations import InJobFile

from .made import SMALL_ROOM, laid_out
from .raw_package import parts_of, returned
from .small_jobs import edge, row, walked_zone
from .test_form import ANSWERS, formed, lines, typed
from .walked_jobs import following

RETURN = {"extension_return": 2.5, "extension_return_width": 1.5}


def wrapped(**changed: Any) -> Job:
    return formed(**RETURN, **changed)


def typed_wrapped() -> Job:
    """The same, row by row. Tie-ins: 2.3 + 3.3025 × tan 15° = 3.184902 at the back wall;
    2.3 + (1.5 + 0.3025) × 0.267949 = 2.782978 at the side. Trays: 4 + 0.3025 and 2.5 + 0.3025."""
    old = {"kind": "existing wall with DPC", "dpc_level": -0.1, "dress": 25}
    new = {"kind": "new wall", "dpc_level": 0.0}
    by_hand = typed()
    [tray], [ties] = by_hand.rows["cut_ins"], by_hand.rows["tie_ins"]
    sides: list[tuple[float, int | None, dict[str, Any]]] = [
        (4, -90, old), (2.5, None, old), (1.5, None, new), (5.5, None, new),
        (3.1, 0, new), (2.4, None, {"kind": "threshold", "typed_turn_up": 335}), (3, None, new),
    ]  # fmt: skip
    return replace(
        by_hand,
        rows={
            **by_hand.rows,
            "zones": [walked_zone("X1", formation_level=-0.6)],
            "edges": [
                edge(f"E{n}", "X1", None, length, turn=turn, **kind)
                for n, (length, turn, kind) in enumerate(sides, 1)
            ],
            "walls": [following("W", "X1", dpc_height=150)],
            "cut_ins": [
                {**tray, "length": 4.3025},
                {**tray, "mark": "C2", "length": 2.8025},
            ],
            "tie_ins": [
                {**ties, "number": 1},
                {**ties, "mark": "T2", "number": 1, "height": 2.782978},
            ],
        },
    )


def test_the_corner_worked_by_hand() -> None:
    """Floor 5.5 × 3.0 + 1.5 × 2.5 = 20.25 m². Round it 4 + 2.5 + 1.5 + 5.5 + 5.5 + 3 = 22 m.

    The sheet turns up 260 at the house (test_form.py), and at its side alike; at new walls from
    -0.335 to 0, and 100 on to the DPC: 435; at the door 335. One preformed corner, at the house's.

    New wall 1.5 + 5.5 + 5.5 + 3 = 15.5 m with three corners out and none in, both ends old. Outer
    leaf 251.25 outside: 15.5 + 2 × 0.25125 × 3 = 17.0075; inner 50: 15.5 + 2 × 0.05 × 3 = 15.8.
    """
    found = estimate(wrapped())
    assert found.figure("zones", 1, "net_area") == pytest.approx(20.25)
    assert found.figure("zones", 1, "turned_up") == pytest.approx(22)
    assert [found.figure("zones", 1, n) for n in ("corners_out", "corners_in")] == [5, 1]
    assert lines(found)["corner_patches"] == 1
    marks = found.column("edges", "used_mark")
    turned = dict(zip(marks, found.column("edges", "turn_up"), strict=True))
    assert turned == pytest.approx(
        {"X1-A1": 260, "X1-H": 260, "X1-R": 435, "X1-B1": 435, "X1-A2": 435, "X1-A2d": 335,
         "X1-B2": 435}
    )  # fmt: skip
    of_run = ("length_in_use", "outer_length", "inner_length", "external_in_use", "internal_in_use",
              "old_ends_in_use")  # fmt: skip
    assert [found.figure("walls", 1, n) for n in of_run] == pytest.approx(
        [15.5, 17.0075, 15.8, 3, 0, 2]
    )
    assert [found.figure("cut_ins", n, "used_length") for n in (1, 2)] == pytest.approx(
        [4.3025, 2.8025]
    )
    assert [found.figure("tie_ins", n, "used_number") for n in (1, 2)] == [1, 1]
    assert [found.figure("tie_ins", n, "used_height") for n in (1, 2)] == pytest.approx(
        [3.184902, 2.782978], abs=1e-6
    )
    assert is_available(found.cell("quote_total"))


def test_the_corner_by_the_form_is_the_corner_typed() -> None:
    by_form, by_hand = estimate(wrapped()), estimate(typed_wrapped())
    assert lines(by_form) == pytest.approx(lines(by_hand), abs=1e-5)
    for name in ("packs", "laid"):
        assert by_form.column("book", name) == pytest.approx(by_hand.column("book", name), abs=1e-5)
    assert is_available(by_hand.cell("quote_total"))
    assert by_form.cell("quote_total") == by_hand.cell("quote_total")


def test_its_rows_are_those_that_would_be_typed() -> None:
    rows = rows_in_use(wrapped(), InJobFile("test"))
    check_job(replace(wrapped(), rows=rows), InJobFile("test"))
    numbers = sorted((r["number"], r["mark"]) for r in rows["edges"])
    assert [mark for _, mark in numbers] == [
        "X1-A1", "X1-H", "X1-R", "X1-B1", "X1-A2", "X1-A2d", "X1-B2",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("changed", "trays", "at_side"),
    [
        ({"extension_roof": "flat"}, 2, 2.3),
        ({"extension_roof": "clear of the house wall"}, 0, 2.3),
        ({"extension_return_width": 2.5}, 2, 2.3 + 2.8025 * 0.26794919),
    ],
)
def test_the_roof_along_both_walls(changed: dict[str, Any], trays: int, at_side: float) -> None:
    found = estimate(formed(**{**RETURN, **changed}))
    assert sum(m != "" for m in found.column("cut_ins", "used_mark")) == trays
    assert found.figure("tie_ins", 2, "used_height") == pytest.approx(at_side)
    assert found.cell("ties_disagree") == 0


def test_the_side_of_the_house_is_as_its_back_and_is_asked() -> None:
    """Its DPC is not known: up to the finished floor, 335, along both walls; the corner is open."""
    found = estimate(wrapped(extension_old_dpc=None))
    assert [found.figure("edges", n, "turn_up") for n in (1, 6)] == pytest.approx([335, 335])
    kinds = [found.figure("edges", n, "used_kind") for n in (1, 6)]
    assert kinds == ["existing wall, DPC unknown"] * 2
    assert open_of(found)["corner"] == 1
    assert open_of(estimate(formed()))["corner"] == 0


def open_of(ledger: Ledger) -> dict[str, float]:
    keys, found = ledger.column("open_questions", "key"), ledger.column("open_questions", "open")
    return dict(zip(keys, found, strict=True))


def test_no_more_is_answered_for_a_lean_to_and_two_figures_for_a_corner() -> None:
    """Nineteen answers as before there were returns, none of them blank; twenty-one."""
    plain, corner = estimate(formed()), estimate(wrapped())
    assert len(ANSWERS) == plain.cell("answers_typed") == 19
    assert corner.cell("answers_typed") == 21
    assert [e.cell("answers_blank") for e in (plain, corner)] == [0, 0]


@pytest.mark.parametrize("only", RETURN)
def test_half_a_return_has_no_total(only: str) -> None:
    found = estimate(formed(**{only: RETURN[only]}))
    assert found.cell("answers_missing") == 1
    assert not is_available(found.cell("quote_total"))
    assert found.figure("zones", 1, "net_area") == 12


def test_a_run_says_that_its_floor_cannot_be_used() -> None:
    """The floor's build-up is not answered: no row of the floor, so nothing for its run to follow."""
    found = estimate(wrapped(extension_floor=None))
    assert found.figure("walls", 1, "run_note") == "the floor it follows cannot be used"
    assert not is_available(found.cell("quote_total"))


def test_the_corner_comes_back_from_its_workbook() -> None:
    """An edge typed over among them, and a row of one's own after those of the form."""
    job = wrapped()
    own = row("cut_ins", mark="C9", wall="XH", kind="above a new roof", number=1, length=2.0,
              courses=2, unit_length=0.9, unit_lap=100, bay_most=0.9)  # fmt: skip
    rows = {**job.rows, "edges": [{}] * 6 + [{"typed_turn_up": 400}], "cut_ins": [{}, {}, own]}
    job = replace(job, rows=rows)
    data = laid_out(estimate(job, SMALL_ROOM), SMALL_ROOM)[1]
    read = returned(parts_of(data))
    assert [{k: v for k, v in r.items() if v is not None} for r in read.job.rows["edges"]] == [
        {}, {}, {}, {}, {}, {}, {"typed_turn_up": 400},
    ]  # fmt: skip
    assert [r.get("mark") for r in read.job.rows["cut_ins"]] == [None, None, "C9"]
    assert read.figures().cell("quote_total") == estimate(job).cell("quote_total")


# ---- a plan typed over, in a file of today ----

RUN = {"run": "open", "length": 10.0, "measured_on": "inside face", "external_corners": 2,
       "internal_corners": 0, "ends_at_existing": 2}  # fmt: skip
RECTANGLE = {"side_a": 4.0, "side_b": 3.0}
REFUSED: dict[str, tuple[Job, dict[str, list[dict[str, Any]]], str]] = {
    "one side": (formed(), {"zones": [{"side_b": 3.5}]}, r"side_a_m.*both sides .*, or neither"),
    "a rectangle, its run left": (
        formed(), {"zones": [RECTANGLE]}, r"walls\[1\]\.floor.*a floor that is walked"),
    "a run in part": (formed(), {"walls": [{"length": 10}]}, r"walls\[1\]\.run: found nothing"),
    "a side of an edge": (
        formed(), {"edges": [{}, {}, {"side": "A2"}]}, r"edges\[3\]\.side.*floor that is walked"),
    "one flank": (
        formed(), {"edges": [{}, {}, {}, {"length": 3.5}]}, r"an end 0\.500 m right of the start"),
    "a rectangle with a return": (
        wrapped(), {"zones": [RECTANGLE], "walls": [RUN]}, r"edges\[6\]\.side.*A and B are typed"),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_half_a_plan_typed_over_is_one_sentence_and_no_total(name: str) -> None:
    job, over, said = REFUSED[name]
    job = replace(job, rows={**job.rows, **over})
    with pytest.raises(JobError, match=said):
        check_job(replace(job, rows=rows_in_use(job, InJobFile("test"))), InJobFile("test"))
    assert not is_available(estimate(job).cell("quote_total"))


@pytest.mark.parametrize("over", [{"walls": [RUN]}, {"walls": [RUN], "zones": [RECTANGLE]}])
def test_a_plan_typed_over_in_full_is_the_one_in_use(over: dict[str, Any]) -> None:
    """As the form has it, 4 × 3 and 10 m: so the same total."""
    job = replace(formed(), rows={**formed().rows, **over})
    check_job(replace(job, rows=rows_in_use(job, InJobFile("test"))), InJobFile("test"))
    found = estimate(job)
    assert found.figure("walls", 1, "length_in_use") == 10
    assert found.figure("zones", 1, "walked") == (0 if "zones" in over else 1)
    assert found.cell("quote_total") == estimate(formed()).cell("quote_total")
