"""The one-page form: the same extension from a few answers, and typed row by row.

An invented lean-to: 4.0 m wide and 3.0 m deep inside, brick 102.5 + cavity 100 + block 100, so
302.5 mm thick and 4.605 m wide outside. Levels: floor 0, ground -0.15, formation -0.60. The new
DPC lies 150 above the ground: at 0.
"""

from dataclasses import replace
from typing import Any

import pytest

from estimator.errors import JobError
from estimator.language import Varied, Worked
from estimator.language.ledger import Ledger, is_available
from estimator.language.offering import number_or_nought
from estimator.language.percent import figure_in_use, percent_in_use
from estimator.language.registry import rule_of
from estimator.language.tables import IN_USE, WholeColumn
from estimator.model.estimate import estimate, rows_in_use
from estimator.model.job import Job
from estimator.model.job_checks import check_job
from estimator.model.locations import InJobFile
from estimator.model.plan import FILLED, plan

from .small_jobs import bare_job, edge, row, wall, zone

ANSWERS = {
    "extension_width": 4.0,
    "extension_projection": 3.0,
    "extension_wall": "brick 102.5, cavity 100, block 100",
    "extension_floor": "screed 65, insulation 120, slab 150, on DPM",
    "extension_finished": 0.0,
    "extension_ground": -0.15,
    "extension_formation": -0.6,
    "extension_new_dpc": 0.0,
    "extension_old_wall": "cavity, clear",
    "extension_old_dpc": -0.1,
    "extension_roof": "lean-to",
    "extension_pitch": 15.0,
    "extension_eaves": 2.3,
    "extension_doors": 1.0,
    "extension_door_width": 2.4,
    "extension_windows": 2.0,
    "extension_window_width": 1.2,
    "extension_window_height": 1.05,
    "extension_old_vents": 2.0,
}


def formed(**changed: Any) -> Job:
    """The job with the form answered, and nothing typed in any list."""
    job = bare_job()
    return replace(job, particulars={**job.particulars, **ANSWERS, **changed})


def typed() -> Job:
    """The same job typed row by row. The tie-ins: 2.3 + (3.0 + 0.3025) × tan 15° = 3.184902."""
    dpc = {"kind": "new wall", "dpc_level": 0.0}
    turned_up = 335  # 65 + 120 + 150: finished floor to membrane
    return bare_job(
        zones=[zone("X1", 4, 3, formation_level=-0.6)],
        edges=[
            edge("E1", "X1", "A1", 4, kind="existing wall with DPC", dpc_level=-0.1, dress=25),
            edge("E2", "X1", "A2", 1.6, **dpc),
            edge("E3", "X1", "A2", 2.4, kind="threshold", typed_turn_up=turned_up),
            edge("E4", "X1", "B1", 3, **dpc),
            edge("E5", "X1", "B2", 3, **dpc),
        ],
        walls=[
            wall("W", 10, measured_on="inside face", external_corners=2, ends_at_existing=2,
                 dpc_height=150),
        ],
        openings=[
            row("openings", mark="D", wall="W", kind="level-access door", number=1, width=2.4,
                height=2.1, lintel=2.7, closer=50),
            row("openings", mark="N", wall="W", kind="window", number=2, width=1.2, height=1.05,
                lintel=1.5, closer=50),
        ],
        old_walls=[row("old_walls", mark="H", kind="cavity, clear", outer_leaf=102.5, cavity=50)],
        cut_ins=[
            row("cut_ins", mark="C", wall="H", kind="above a new roof", number=1, length=4.605,
                courses=2, unit_length=0.9, unit_lap=100, bay_most=0.9),
        ],
        tie_ins=[row("tie_ins", mark="T", wall="W", number=2, height=3.184902)],
        old_vents=[
            row("old_vents", mark="V", wall="W", number=2, projection=3, old_leaf=102.5, size=110,
                stock=3),
        ],
    )  # fmt: skip


def lines(ledger: Ledger) -> dict[str, float]:
    return dict(zip(ledger.column("lines", "key"), ledger.column("lines", "net"), strict=True))


def test_the_form_alone_gives_what_typing_gives() -> None:
    by_form, by_hand = estimate(formed()), estimate(typed())
    found, expected = lines(by_form), lines(by_hand)
    assert found == pytest.approx(expected, abs=1e-5)
    assert sum(v > 0 for v in expected.values()) > 15
    for name in ("packs", "laid"):
        assert by_form.column("book", name) == pytest.approx(by_hand.column("book", name), abs=1e-5)
    assert is_available(by_hand.cell("quote_total"))
    assert by_form.cell("quote_total") == by_hand.cell("quote_total")
    assert by_form.column("measures", "measured") == pytest.approx(
        by_hand.column("measures", "measured"), abs=1e-5
    )


def test_the_form_worked_by_hand() -> None:
    """Some of it with the working.

    Outer leaf, centre 51.25 behind the face of 302.5: inside 10 m, two corners, moved out by
    251.25: 10 + 2 × 0.25125 × 2 = 11.005. Tray: 4.605 / 0.225 = 20.47, up to 21 bricks; 2 courses:
    42. Ducts: 2 × (3 + 0.3025 + 0.1025) = 6.81. Floor 12 m². Turned up at the house: from DPM
    -0.335 to DPC -0.1 is 235, and 25 into the chase: 260.
    """
    ledger = estimate(formed())
    assert lines(ledger)["outer_dpc"] == pytest.approx(11.005)
    assert lines(ledger)["ducts"] == pytest.approx(6.81)
    assert lines(ledger)["dpm"] == pytest.approx(12)
    assert ledger.figure("cut_ins", 1, "bricks_out") == 42
    assert ledger.figure("edges", 1, "turn_up") == pytest.approx(260)
    assert ledger.figure("tie_ins", 1, "used_height") == pytest.approx(3.184902, abs=1e-6)


def test_rows_are_those_that_would_be_typed() -> None:
    rows = rows_in_use(formed(), InJobFile("test"))
    check_job(replace(formed(), rows=rows), InJobFile("test"))
    assert [r["mark"] for r in rows["edges"]] == ["X1-A1", "X1-A2", "X1-A2d", "X1-B1", "X1-B2"]


def test_what_is_typed_wins_and_is_said() -> None:
    """A flank typed over as 3.5 on both sides: 4 × 3.5 = 14 m², and the run 4 + 2 × 3.5 = 11 m."""
    job = formed()
    rows = {
        **job.rows,
        "zones": [{"slab": 100}],
        "edges": [{}, {}, {}, {"length": 3.5}, {"length": 3.5}],
    }
    ledger = estimate(replace(job, rows=rows))
    assert ledger.figure("edges", 4, "used_length") == 3.5
    assert ledger.figure("edges", 4, "form_length") == 3.0
    assert ledger.figure("zones", 1, "used_slab") == 100
    assert ledger.figure("zones", 1, "filled_by") == "form, unless typed"
    assert ledger.figure("zones", 1, "net_area") == pytest.approx(14)
    assert ledger.figure("walls", 1, "length_in_use") == pytest.approx(11)
    wider = estimate(replace(job, rows=rows, particulars={**job.particulars, "extension_width": 5}))
    assert wider.figure("edges", 4, "used_length") == 3.5
    assert wider.figure("zones", 1, "net_area") == pytest.approx(17.5)


def test_without_answers_the_form_fills_nothing() -> None:
    job = typed()
    ledger = estimate(job)
    assert ledger.cell("extension_asked") == 0
    for table in FILLED:
        if table.rows_offered:
            assert set(ledger.column(table.name, "filled_by")) <= {"typed", ""}


@pytest.mark.parametrize(
    ("changed", "moved"),
    [
        ({"extension_width": 5}, ("dpm", "outer_dpc", "cut_in_units", "perimeter_strip")),
        ({"extension_projection": 4}, ("dpm", "ducts", "tie_dpc", "outer_dpc")),
        ({"extension_wall": "brick 102.5, cavity 150, block 100"}, ("outer_dpc", "ducts")),
        ({"extension_floor": "screed 65, insulation 150, slab 150, on DPM"}, ("hardcore",)),
        ({"extension_formation": -0.7}, ("hardcore",)),
        ({"extension_old_wall": "solid"}, ("cut_in_units", "cut_in_stop_ends")),
        ({"extension_roof": "clear of the house wall"}, ("cut_in_units", "tie_dpc")),
        ({"extension_doors": 0}, ("trays", "stop_ends")),
        ({"extension_windows": 3}, ("trays", "stop_ends", "sill_dpc")),
        ({"extension_old_vents": 0}, ("ducts", "sleeves")),
        ({"extension_eaves": 2.5}, ("tie_dpc", "tie_joints")),
    ],
)
def test_each_answer_moves_what_it_should(changed: dict[str, Any], moved: tuple[str, ...]) -> None:
    before, after = lines(estimate(formed())), lines(estimate(formed(**changed)))
    assert [k for k in moved if before[k] == after[k]] == []


def test_a_wall_that_is_not_known_has_no_count_and_is_asked() -> None:
    ledger = estimate(formed(extension_old_wall=None, extension_old_dpc=None))
    assert ledger.figure("old_walls", 1, "used_kind") == "unknown"
    assert lines(ledger)["cut_in_units"] == 0
    assert ledger.figure("edges", 1, "turn_up") == pytest.approx(335)  # to the finished floor
    found = dict(
        zip(ledger.column("open_questions", "key"), ledger.column("open_questions", "open"),
            strict=True)
    )  # fmt: skip
    assert found["old_walls"] == found["old_dpc"] == found["uncounted"] == 1
    assert found["answers_left"] == 2


def test_what_is_assumed_is_counted_until_it_is_typed() -> None:
    """All twelve figures are needed by this job; typing one leaves eleven."""
    assert estimate(formed()).cell("figures_assumed") == 12
    assert "priced as assumed" in estimate(formed()).cell("assumed_note")
    assert estimate(bare_job()).cell("assumed_note") == ""
    job = replace(formed(), assumed={"assumed_courses": 3})
    ledger = estimate(job)
    assert ledger.cell("figures_assumed") == 11
    assert ledger.figure("cut_ins", 1, "bricks_out") == 63  # 21 bricks in 3 courses


def test_a_blank_answer_refuses_the_total_and_is_counted() -> None:
    ledger = estimate(formed(extension_eaves=None))
    assert ledger.cell("answers_blank") == 1
    assert ledger.cell("rows_unchecked") == 1  # the tie-in has no height
    assert not is_available(ledger.cell("quote_total"))


def typed_over(table: str, **cells: Any) -> Ledger:
    """The form, with cells typed over in the first row of a list."""
    job = formed()
    return estimate(replace(job, rows={**job.rows, table: [cells]}))


def test_what_follows_a_typed_cell_follows_it() -> None:
    """A door of 3.0 instead of 2.4: its lintel 3.3, past it nothing more than 2 × 150: 3.6 m.

    A cavity of 150 instead of 100: 352.5 thick, 4.705 wide outside, tie-ins 2.3 + 3.3525 × tan 15°
    = 3.198299. A DPC 300 above the ground at -0.15: level 0.15.
    """
    door = typed_over("openings", width=3.0)
    assert door.figure("openings", 1, "used_lintel") == pytest.approx(3.3)
    assert door.figure("openings", 1, "tray_length") == pytest.approx(3.6)
    wall = typed_over("walls", cavity=150)
    assert wall.figure("cut_ins", 1, "used_length") == pytest.approx(4.705)
    assert wall.figure("tie_ins", 1, "used_height") == pytest.approx(3.198300, abs=2e-6)
    dpc = typed_over("walls", dpc_height=300)
    assert dpc.figure("edges", 2, "used_dpc_level") == pytest.approx(0.15)


def test_a_formation_that_is_not_known_follows_from_hardcore() -> None:
    """Below the finished floor at 0: 65 + 120 + 150, a bed of 50, and 150 of hardcore: 535 mm. So
    12 m² take 1.8 m³ of hardcore. With 200 of one's own it lies at -0.585."""
    ledger = estimate(formed(extension_formation=None))
    assert ledger.figure("zones", 1, "used_formation_level") == pytest.approx(-0.535)
    assert ledger.figure("zones", 1, "hardcore_depth") == pytest.approx(150)
    assert ledger.figure("zones", 1, "hardcore_volume") == pytest.approx(1.8)
    assert is_available(ledger.cell("quote_total"))
    keys, opened = (ledger.column("open_questions", c) for c in ("key", "open"))
    assert opened[keys.index("formation")] == 1
    assert ledger.cell("figures_assumed") == 12 + 1
    job = replace(formed(extension_formation=None), assumed={"assumed_hardcore": 200})
    ledger = estimate(job)
    assert ledger.figure("zones", 1, "used_formation_level") == pytest.approx(-0.585)
    assert estimate(formed()).cell("formations_assumed") == 0


@pytest.mark.parametrize(
    ("typed", "formation"),
    [({"slab": 200}, -0.585), ({"finished_level": 0.1}, -0.435), ({"formation_level": -0.7}, -0.7)],
)
def test_a_formation_by_hardcore_follows_what_is_typed(
    typed: dict[str, float], formation: float
) -> None:
    """A slab of 200 is 50 more; a floor 100 higher lifts it; one typed in the row is taken."""
    job = formed(extension_formation=None)
    ledger = estimate(replace(job, rows={**job.rows, "zones": [typed]}))
    assert ledger.figure("zones", 1, "used_formation_level") == pytest.approx(formation)
    assert ledger.cell("formations_assumed") == (0 if "formation_level" in typed else 1)


def test_no_formation_is_assumed_where_another_build_up_is_typed() -> None:
    """A beam and block floor has a void: its formation is asked for."""
    job = formed(extension_formation=None)
    ledger = estimate(replace(job, rows={**job.rows, "zones": [{"build_up": "beam and block"}]}))
    assert ledger.cell("rows_unchecked") > 0
    assert not is_available(ledger.cell("quote_total"))


def test_no_formation_is_assumed_while_the_floor_has_no_level() -> None:
    ledger = estimate(formed(extension_formation=None, extension_finished=None))
    assert ledger.cell("formations_assumed") == 0
    assert not is_available(ledger.cell("quote_total"))


@pytest.mark.parametrize(
    ("build_up", "depth", "over"),
    [
        ("slab 100 on DPM, no insulation", 100, 100),
        ("slab 100 on DPM, insulation 100 below", 200, 100),
        ("screed 65, insulation 150, slab 100, on DPM", 315, 315),
        ("screed 75 and insulation 120 on DPM, slab 100", 295, 195),
    ],
)
def test_a_slab_of_100_has_its_build_ups(build_up: str, depth: float, over: float) -> None:
    """Depth of the floor, and what lies over the DPM, added up from the name."""
    ledger = estimate(formed(extension_floor=build_up))
    assert ledger.figure("zones", 1, "floor_depth") == depth
    assert ledger.figure("zones", 1, "over_sheet") == over


def test_a_lean_to_without_a_pitch_has_no_height_at_the_house() -> None:
    ledger = estimate(formed(extension_pitch=None))
    assert ledger.cell("rows_unchecked") == 1
    assert not is_available(ledger.cell("quote_total"))


def test_a_missing_allowance_is_not_taken_for_a_missing_answer() -> None:
    """Without the blinding's thickness the turn-ups are not known; nobody forgot to type them."""
    own = {k: v for k, v in formed().own.items() if k != "blinding_thickness"}
    job = replace(formed(), own=own)
    check_job(replace(job, rows=rows_in_use(job, InJobFile("test"))), InJobFile("test"))


@pytest.mark.parametrize(
    "question", ["roof", "doors", "windows", "old_vents", "window_height", "floor", "ground"]
)
def test_a_question_whose_answer_would_add_work_refuses_while_blank(question: str) -> None:
    ledger = estimate(formed(**{f"extension_{question}": None}))
    assert ledger.cell("answers_missing") == 1
    assert not is_available(ledger.cell("quote_total"))


def test_answers_that_are_not_in_use_refuse() -> None:
    """Without a width nothing is filled: what was answered would be lost."""
    assert estimate(formed(extension_width=None)).cell("answers_missing") > 0
    assert estimate(bare_job()).cell("answers_missing") == 0


def test_two_slopes_against_the_house_have_no_count() -> None:
    ledger = estimate(formed(extension_roof="two slopes against the house"))
    assert lines(ledger)["cut_in_units"] == 0
    assert ledger.figure("cut_ins", 1, "uncounted") == 1
    assert not is_available(ledger.cell("quote_total"))


def test_a_row_of_the_form_typed_over_in_vain_is_counted() -> None:
    """No windows: what was typed over in their row would be lost."""
    job = formed(extension_windows=0)
    rows = {**job.rows, "openings": [{}, {"width": 1.5}]}
    assert estimate(replace(job, rows=rows)).cell("rows_unchecked") == 1
    with pytest.raises(JobError, match=r"openings\[2\]\.width_m: found 1\.5; .*the row XN"):
        rows_in_use(replace(job, rows=rows), InJobFile("test"))


def test_no_blank_of_the_form_spoils_a_whole_column() -> None:
    """A number column that other rules read whole holds 0, never an empty text, where none is given."""
    found = plan()
    whole = set()
    for table, column in [
        *((t, c) for t in found.tables.values() for c in t),
        *((None, c) for c in found.cells.values()),
    ]:
        if isinstance(column, Varied):
            alone = (column.row(n) for n in range(1, len(column.rules) + 1))
            sources = [s for each in alone for s in found.sources(each, None)]
        else:
            sources = list(found.sources(column, table)) if isinstance(column, Worked) else []
        whole |= {(s.table, s.column) for s in sources if isinstance(s, WholeColumn)}
    checked = 0
    for name, column in whole:
        item = found.tables[name].column(column)
        if column.startswith(IN_USE) and not item.unit.text:
            if item.rule is rule_of(percent_in_use):
                continue  # read one cell at a time, where a blank is known from 0; never summed
            if (name, column) == ("edges", "used_dpc_level"):
                continue  # the section reads the one of its side, where a blank is known from 0
            if item.rule is rule_of(figure_in_use):
                assert item.bound["blank"] == 0, (name, column)
                continue
            assert item.rule is rule_of(number_or_nought), (name, column)
            checked += 1
    assert checked > 5
