"""Places of openings along their runs, worked by hand; refused ones; there and back again.

The L of test_walked_floors.py: its run is 7 + 2 + 4 + 4 + 3 = 20 m inside, with corners at 7, 9, 13
and 17 m along it.
"""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.errors import JobError
from estimator.files.resources import DEMO_JOB
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.workbook.reading.comparison import differences, laid_ledger
from estimator.workbook.reading.inputs import check_agreed
from estimator.workbook.refresh import refreshed, with_typed

from .made import made
from .raw_package import parts_of, returned
from .small_jobs import bare_job, edge, row, walked_zone, wall
from .test_walked_floors import L_SHAPE, mirrored
from .walked_jobs import FREE, NEW, Side, following, up, walk

DOOR: dict[str, Any] = {"kind": "level-access door", "lintel": None}


def window(mark: str, first_jamb: float | None, width: float = 1, **given: Any) -> dict[str, Any]:
    usual = {"wall": "W1", "width": width, "first_jamb": first_jamb, "lintel": None}
    return row(
        "openings", mark=mark, **{"kind": "window", "number": 1, "height": 1, **usual, **given}
    )


def an_l(*openings: dict[str, Any], sides: Any = L_SHAPE, **rows: Any) -> Job:
    """The L and its run; W2 is measured by hand, 5 m."""
    return bare_job(
        **{
            "zones": [walked_zone("Z1")],
            "edges": walk("Z1", *sides),
            "walls": [following(), wall("W2", 5)],
            "tie_ins": [row("tie_ins", mark="T1", wall="W1", number=2, height=2.4)],
            "openings": list(openings),
            **rows,
        }
    )


def spans(found: Ledger) -> list[tuple[float, float]]:
    ends = found.column("openings", "ends")
    return list(zip(found.column("openings", "begins"), ends, strict=True))


@pytest.mark.parametrize("sides", [L_SHAPE, mirrored(L_SHAPE)], ids=["right", "left"])
def test_places_in_a_run_round_an_l(sides: Any) -> None:
    """From the run's start, and from a side's: the fourth side begins 7 + 2 = 9 m along."""
    found = estimate(
        an_l(
            window("O1", 0.5),
            window("O2", 1.5, side="Z1-4"),
            window("O3", 0, 2, side="Z1-3"),  # from corner to corner
            window("O4", 19),  # to the very end
            window("O5", 1, side="Z1-6"),
            window("O6", None),
            sides=sides,
        )
    )
    wanted = [(0.5, 1.5), (10.5, 11.5), (7, 9), (19, 20), (18, 19), (0, 0)]
    assert spans(found) == [pytest.approx(w) for w in wanted]
    assert found.column("openings", "place_fault") == [0] * 6
    assert found.column("openings", "to_know") == [""] * 6
    assert found.cell("quote_total") is not NOT_AVAILABLE


def test_a_run_that_starts_in_the_middle_of_the_walk() -> None:
    """The L, walked from the corner at its far end: its fourth side of the walk is the house.

    4 + 4 + 3 m are walked first, and end the run: it starts behind the house with 7 and 2.
    """
    begun = [*L_SHAPE[3:], *L_SHAPE[:3]]
    sides = walk("Z1", *begun)
    found = estimate(an_l(window("O1", 0.5), window("O2", 1, side="Z1-1"), edges=sides))
    assert found.column("edges", "run_at") == pytest.approx([9, 13, 17, 0, 0, 7])
    assert found.column("edges", "run_to") == pytest.approx([13, 17, 20, 0, 7, 9])
    assert spans(found) == [pytest.approx((0.5, 1.5)), pytest.approx((10, 11))]


def test_a_run_that_closes_starts_with_the_walk() -> None:
    sides: list[Side] = [(5, None, NEW), (4, None, NEW), (None, None, NEW), (4, None, NEW)]
    job = bare_job(
        zones=[walked_zone("Z1")], edges=walk("Z1", *sides), walls=[following()],
        openings=[window("O1", 1), window("O2", 17), window("O3", 1.5, side="Z1-3")],
    )  # fmt: skip
    found = estimate(job)
    assert found.column("edges", "run_at") == pytest.approx([0, 5, 9, 14])
    assert spans(found) == [pytest.approx(s) for s in ((1, 2), (17, 18), (10.5, 11.5))]


def test_where_the_wall_goes_straight_on_there_is_no_corner() -> None:
    """A threshold of 1 m in the side of 7: 3 m, 1 m, 3 m. A door from 50 mm before it to 50 past."""
    sides = [L_SHAPE[0], (3, 0, NEW), (1, 0, up(300)), (3, None, NEW), *L_SHAPE[2:]]
    found = estimate(
        an_l(window("O1", 2.95, 1.1, side="Z1-2", **DOOR), window("O2", 0.5, 2.5), sides=sides)
    )
    assert spans(found) == [pytest.approx((2.95, 4.05)), pytest.approx((0.5, 3))]
    assert found.column("openings", "place_fault") == [0, 0]


def test_a_run_measured_by_hand_is_measured_on_its_own_line() -> None:
    """5 m outside: an opening may end at 5, on whichever line that is, and with corners unknown."""
    for line in ("outside face", "centre", "inside face"):
        run = wall("W2", 5, measured_on=line, external_corners=1)
        job = an_l(window("O1", 4, wall="W2"), walls=[following(), run])
        assert estimate(job).column("openings", "place_fault") == [0]


def test_no_figure_follows_from_a_place() -> None:
    """Neither the DPC of the leaves, nor tape, trays, jambs, nor what anything costs."""
    sides = [L_SHAPE[0], (3, 0, NEW), (1, 0, up(300)), (3, None, NEW), *L_SHAPE[2:]]
    openings = [window("O1", 3, **DOOR), window("O2", 10), window("O3", 10.5, kind="raised door")]
    placed = estimate(an_l(*openings, sides=sides))
    counted = estimate(an_l(*({**o, "first_jamb": None} for o in openings), sides=sides))
    for table, columns in (
        ("lines", ("net", "laps", "line_note")),
        ("order_lines", ("packs", "cost")),
        ("walls", ("outer_length", "inner_length")),
        ("edges", ("bond", "strip")),
    ):
        for name in columns:
            assert placed.column(table, name) == counted.column(table, name)
    assert placed.cell("quote_total") == counted.cell("quote_total") > 0
    assert sum(placed.column("openings", "placed")) == 3


# ---- refused ----

FAULTS: dict[str, tuple[list[dict[str, Any]], str, int, str]] = {
    "a side and no first jamb": (
        [window("O1", None, side="Z1-2")],
        "test: openings[1].first_jamb_m: found nothing; accepted: how far from the start of its "
        "side, or no side.",
        1,
        "a side is named, and no first jamb",
    ),
    "two alike": (
        [window("O1", 1, number=2)],
        "test: openings[1].number: found 2; accepted: 1 where a first jamb is given: each opening "
        "with a place has a row of its own.",
        1,
        "a place is for one, and there are more",
    ),
    "a side of the old wall": (
        [window("O1", 1), window("O2", 1, side="Z1-1")],
        "test: openings[2].side: found 'Z1-1'; accepted: one of Z1-2, Z1-3, Z1-4, Z1-5, Z1-6, along "
        "which its run goes.",
        2,
        "its run does not follow that side",
    ),
    "a side beside a run measured by hand": (
        [window("O1", 1, side="Z1-2", wall="W2")],
        "test: openings[1].side: found 'Z1-2'; accepted: none: its run follows no floor.",
        1,
        "its run does not follow that side",
    ),
    "past its side": (
        [window("O1", 2, 0.5, side="Z1-3")],
        "test: openings[1].first_jamb_m: found 2; accepted: less than the length of side Z1-3, "
        "2.000 m.",
        1,
        "it begins past the end of its side",
    ),
    "past its run": (
        [window("O1", 2.5, side="Z1-6")],
        "test: openings[1].first_jamb_m: found '19.500 to 20.500 m along its run'; accepted: an "
        "opening that ends within its run, 20.000 m.",
        1,
        "it ends past the end of its run",
    ),
    "past a run measured by hand": (
        [window("O1", 4.001, wall="W2")],
        "test: openings[1].first_jamb_m: found '4.001 to 5.001 m along its run'; accepted: an "
        "opening that ends within its run, 5.000 m.",
        1,
        "it ends past the end of its run",
    ),
    "across an external corner": (
        [window("O1", 6.5)],
        "test: openings[1].first_jamb_m: found '6.500 to 7.500 m along its run'; accepted: an "
        "opening on one side of the corner, 7.000 m along its run.",
        1,
        "it goes across a corner",
    ),
    "across the internal corner": (
        [window("O1", 3.9, side="Z1-4")],
        "test: openings[1].first_jamb_m: found '12.900 to 13.900 m along its run'; accepted: an "
        "opening on one side of the corner, 13.000 m along its run.",
        1,
        "it goes across a corner",
    ),
    "two level thresholds": (
        [window("O1", 1, **DOOR), window("O2", 1.5, **DOOR)],
        "test: openings[2].first_jamb_m: found '1.500 to 2.500 m along its run, across O1'; "
        "accepted: level thresholds beside each other: all lie on the floor.",
        2,
        "its threshold overlaps another",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_job_file_says_it_in_one_sentence(name: str) -> None:
    openings, sentence, _, _ = FAULTS[name]
    with pytest.raises(JobError) as said:
        an_l(*openings)
    assert str(said.value) == sentence


@pytest.mark.parametrize("name", FAULTS)
def test_a_sheet_has_no_total(name: str) -> None:
    openings, _, n, note = FAULTS[name]
    sound = an_l()
    found = estimate(replace(sound, rows={**sound.rows, "openings": openings}))
    assert found.figure("openings", n, "to_know") == note
    assert found.cell("openings_disagree") > 0
    assert found.cell("quote_total") is NOT_AVAILABLE


@pytest.mark.parametrize("beside", [2.0, 0.0], ids=["after", "before"])
def test_level_thresholds_jamb_to_jamb_are_taken(beside: float) -> None:
    found = estimate(an_l(window("O1", 1, **DOOR), window("O2", beside, **DOOR)))
    assert found.column("openings", "place_fault") == [0, 0]


def test_a_side_of_another_floor_is_none_of_the_run() -> None:
    rooms = [walked_zone("Z1"), {**walked_zone("Z2"), "side_a": 3, "side_b": 2}]
    edges = [*walk("Z1", *L_SHAPE), *(edge(s, "Z2", s, 3 if s[0] == "A" else 2, **FREE)
             for s in ("A1", "A2", "B1", "B2"))]  # fmt: skip
    with pytest.raises(JobError, match=r"openings\[1\]\.side: found 'A1'; accepted: one of Z1-2"):
        an_l(window("O1", 1, side="A1"), zones=rooms, edges=edges)


# ---- there and back again ----

PLACED = ("first_jamb", "side")


def placed_in(job: Job) -> list[list[Any]]:
    return [[o[name] for name in PLACED] for o in job.rows["openings"]]


def test_places_come_back_from_a_workbook_and_stay_when_it_is_refreshed() -> None:
    case = made("walked")
    wanted = placed_in(case.job)
    assert wanted[2:4] == [[0.19, None], [1, "Z1-2"]]
    found = returned(parts_of(case.data))
    assert placed_in(found.job) == wanted
    assert differences(found, laid_ledger(found)) == []
    # The third begins at 0.05 and is 0.91 wide: clear of the fourth, which begins at 1.0.
    at = case.built.layout.typed("openings").first + 2
    data, changed = refreshed(with_typed(found, {("openings", at, "first_jamb"): 0.05}))
    assert changed
    again = returned(parts_of(data))
    assert placed_in(again.job) == [*wanted[:2], [0.05, None], *wanted[3:]]
    ledger = laid_ledger(again)
    assert differences(again, ledger) == []
    assert ledger.column("openings", "to_know")[2:4] == ["", ""]
    assert ledger.cell("quote_total") == case.total


def test_a_place_typed_amiss_is_said_with_its_cell() -> None:
    """Past the run's first corner, which is 2 m along it."""
    case = made("walked")
    span = case.built.layout.typed("openings")
    at = span.first + 2
    cell = f"{span.sheet}!{span.letters['first_jamb']}{at}"
    found = with_typed(returned(parts_of(case.data)), {("openings", at, "first_jamb"): 1.5})
    with pytest.raises(JobError) as said:
        check_agreed(found)
    assert cell in str(said.value)
    assert "found '1.500 to 2.410 m along its run'" in str(said.value)


def demo_with(folder: Path, mark: str, *lines: str) -> Path:
    """The demo's job file with lines more in one of its openings, in place of what it has there."""
    text = DEMO_JOB.read_text("utf-8")
    before, named, rest = text.partition(f'[[openings]]\nmark = "{mark}"\n')
    own, gap, after = rest.partition("\n\n")
    fields = [line.split(" = ")[0] for line in lines]
    kept = [line for line in own.split("\n") if line.split(" = ")[0] not in fields]
    text = before + named + "\n".join(kept) + gap + after
    head = f'[[openings]]\nmark = "{mark}"\n'
    assert text.count(head) == 1
    path = folder / "job.toml"
    path.write_text(text.replace(head, head + "".join(f"{line}\n" for line in lines)), "utf-8")
    for prices in DEMO_JOB.parent.glob("*.csv"):
        (folder / prices.name).write_bytes(prices.read_bytes())
    return path


def test_a_job_file_says_places(tmp_path: Path) -> None:
    job = read_job(demo_with(tmp_path, "O3", "first_jamb_m = 1.9"))
    assert placed_in(job)[2] == [1.9, None]
    found = estimate(job)
    # 2.4 m wide.
    assert spans(found)[2] == pytest.approx((1.9, 4.3))
    assert found.cell("quote_total") == 3709.97


def test_the_check_command_names_what_overlaps(tmp_path: Path) -> None:
    """O3 and O4, if they are in one run of the demo."""
    text = demo_with(tmp_path, "O3", "first_jamb_m = 1.9").read_text("utf-8")
    more = '[[openings]]\nmark = "O9"\nwall = "{}"\nkind = "window"\nnumber = 1\nwidth_m = 0.6\n'
    run = next(o["wall"] for o in read_job(DEMO_JOB).rows["openings"] if o["mark"] == "O3")
    more = more.format(run) + "height_m = 0.6\nfirst_jamb_m = {}\n\n[[openings]]\n"
    for first_jamb, said in ((4.2, True), (4.3, False)):
        file = tmp_path / "job.toml"
        file.write_text(text.replace("[[openings]]\n", more.format(first_jamb), 1), "utf-8")
        answer = CliRunner().invoke(main, ["check", str(file)])
        told = [x for x in answer.output.splitlines() if "overlap another in plan" in x]
        assert any("short" in x for x in told) == said, answer.output
