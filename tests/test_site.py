"""Hold points: their data, who is told in each nation, what is counted under each; the scope."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from estimator.buying.lines import HOLD_POINTS
from estimator.errors import BasisError, JobError
from estimator.files.resources import DEMO_JOB
from estimator.guidance.hold_points import BLOCKS, ITEMS, SLUGS
from estimator.guidance.notices import FOLDER, NATIONS, load_nation, looked_for, nations
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import BLANK_ROOM, USUAL_ROOM, estimate
from estimator.model.job import Job, blank_job
from estimator.model.job_checks import check_job
from estimator.model.job_file import read_job
from estimator.model.locations import InJobFile
from estimator.model.plan import plan
from estimator.pricing.measures import MEASURE_ROWS
from estimator.pricing.scope import OUT_OF_SCOPE_ROWS

from .small_jobs import bare_job, opening, wall

# As published or reported: (nation, hold point, figure in the notice, its source).
PERIODS = (
    ("England", "before start", "two full days", "reg. 16(1)"),
    ("England", "DPC before building on", "within five days after", "reg. 16(3C)"),
    ("England", "completion", "within five days after", "reg. 16"),
    ("Wales", "before start", "two working days before", "reg. 16"),
    ("Scotland", "before start", "within 7 days of it", "reg. 59(1)(a)"),
    ("Northern Ireland", "before start", "not less than 2 days before", "reg. 12(1)(b) and (2)(a)"),
    ("Northern Ireland", "foundations", "not less than 2 days before", "reg. 12(2)(b)"),
    ("Northern Ireland", "DPC before building on", "not less than 2 days", "reg. 12(2)(b)"),
)


def test_every_nation_answers_every_hold_point_in_site_order() -> None:
    assert tuple(n.name for n in nations()) == NATIONS
    assert tuple(looked_for()) == HOLD_POINTS
    for nation in nations():
        assert tuple(nation.notices) == HOLD_POINTS
        for told in nation.notices.values():
            assert told.source
            assert len(told.notice) <= 200, "two printed lines"
    assert all(len(found.look_for) <= 210 for found in looked_for().values())


@pytest.mark.parametrize(("nation", "hold_point", "figure", "source"), PERIODS)
def test_periods_as_published(nation: str, hold_point: str, figure: str, source: str) -> None:
    told = nations()[NATIONS.index(nation)].notices[hold_point]
    assert figure in told.notice
    assert source in told.source


def test_a_hold_point_left_out_is_named(tmp_path: Path) -> None:
    text = (FOLDER / "nations" / "england.toml").read_text("utf-8")
    path = tmp_path / "england.toml"
    path.write_text(text.replace('["foundations"]', '["footings"]'), "utf-8")
    with pytest.raises(
        BasisError, match=r"england\.toml: foundations: .*accepted: each hold point"
    ):
        load_nation(path)
    path.write_text(text.replace('standing = "read"', 'standing = "certain"', 1), "utf-8")
    with pytest.raises(BasisError, match=r"before start\.standing: found 'certain'"):
        load_nation(path)
    path.write_text(text.replace('name = "England"', 'name = "Albion"'), "utf-8")
    with pytest.raises(BasisError, match=r"nation\.name: found 'Albion'"):
        load_nation(path)


def in_nation(job: Job, nation: str | None) -> Job:
    return replace(job, particulars={**job.particulars, "site_nation": nation})


@pytest.mark.parametrize("nation", NATIONS)
def test_every_notice_is_to_be_confirmed(nation: str) -> None:
    ledger = estimate(in_nation(bare_job(), nation))
    told = nations()[NATIONS.index(nation)].notices
    for name, _, (look, tell, source) in BLOCKS:
        assert ledger.cell(look) == looked_for()[name].look_for
        assert ledger.cell(tell) == told[name].notice
        assert ledger.cell(source).startswith(told[name].source)
        assert not re.search(r"\b(read|reported?s?|memory)\b", ledger.cell(source))
        assert ledger.cell(source).endswith("Confirm with your building control body.")


def test_the_jobs_own_words_replace_the_notice() -> None:
    job = replace(bare_job(), own_notices={"foundations": "Ring Ann the day before."})
    check_job(job, InJobFile("test"))
    ledger = estimate(job)
    assert ledger.cell("tell_at_foundations") == "Ring Ann the day before."
    assert ledger.cell("source_at_foundations") == (
        "The job's own words. Confirm with your building control body."
    )
    assert ledger.cell("tell_at_completion").startswith("Building control: notice within five days")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ({"footings": "Ring Ann."}, "hold_points: found 'footings'; accepted: one of before start"),
        ({"foundations": "  "}, "hold_points.foundations: found '  '; accepted: a text in words"),
        ({"foundations": "two\nlines"}, "accepted: a text of one line"),
    ],
)
def test_words_that_cannot_be_are_refused(words: dict[str, str], said: str) -> None:
    with pytest.raises(JobError, match=said):
        check_job(replace(bare_job(), own_notices=words), InJobFile("test"))


def test_a_blank_workbook_asks_for_the_nation() -> None:
    ledger = estimate(blank_job("common_practice"), BLANK_ROOM)
    assert ledger.cell("tell_at_foundations") == "Choose the nation on Start."
    for n, items in enumerate(ITEMS, 1):
        most = sum(m["hold_no"] == n for m in MEASURE_ROWS)
        assert len(ledger.rows[items.name]) == max(1, most), "room for all that can be counted"


def counted(ledger: Ledger, slug: str) -> list[tuple[str, float, str]]:
    rows = range(1, len(ledger.rows[f"{slug}_items"]) + 1)
    found = [
        tuple(ledger.figure(f"{slug}_items", n, c) for c in ("what", "quantity", "unit"))
        for n in rows
    ]
    return [f for f in found if f[0]]  # type: ignore[misc]


def test_what_is_counted_stands_under_its_hold_point() -> None:
    """Worked by hand: 5 m of wall in two leaves, one window 1.81 m wide under a 2.1 m lintel.

    No corners and no ends: 5 m of DPC in each leaf, 3 weeps or as many as the basis asks are read
    from the opening. Nothing of it belongs to the floor. Of DPC in stock (100, 112.5, 150 and
    225 mm) 112.5 is the narrowest on a leaf of 102.5, 225 on one of 102.5 with a turn-up at its
    back. NHBC Standards 2024 has laps of 100 mm.
    """
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1")])
    ledger = estimate(replace(job, override={"tray_past_lintel": 0, "tray_past_closer": 0}))
    assert counted(ledger, "dpc_before_building_on") == [
        ("DPC in outer leaf, 112.5 mm wide, laps 100 mm", 5, "m"),
        ("DPC in inner leaf, 100 mm wide, laps 100 mm", 5, "m"),
    ]
    heads = counted(ledger, "openings_before_the_lintel_course")
    assert heads[0] == ("Trays over openings, 450 mm wide, laps 100 mm", 2.1, "m")
    assert heads[1] == ("Stop ends to trays", 2, "nr")
    assert ("DPC under sills, 225 mm wide, laps 100 mm", 1.81, "m") in heads
    assert counted(ledger, "dpm_before_insulation_or_concrete") == []


def outer_dpc(job: Job) -> str:
    return counted(estimate(job), "dpc_before_building_on")[0][0]


def test_a_line_says_which_widths_it_has_and_the_laps_in_use() -> None:
    """On leaves of 102.5 and 215 mm, rolls of 112.5 and 225; where no roll is bought the leaf's."""
    walls = [wall("W1", 5), wall("W2", 3, outer_leaf=215)]
    job = bare_job(walls=walls)
    job = replace(job, override={**job.override, "dpc_lap": 150})
    assert outer_dpc(job) == "DPC in outer leaf, 112.5 to 225 mm wide, laps 150 mm"
    by_others = replace(job, line_status={"outer_dpc": "by others"})
    assert outer_dpc(by_others) == "DPC in outer leaf, 102.5 to 215 mm wide, laps 150 mm"


def test_trays_in_one_piece_say_so() -> None:
    job = bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1")])
    one = {**job.particulars, "tray_joints": "one piece"}
    (heads, *_) = counted(
        estimate(replace(job, particulars=one)), "openings_before_the_lintel_course"
    )
    assert heads[0] == "Trays over openings, 450 mm wide, in one piece, any lap 100 mm"


def test_everything_counted_is_shown_once() -> None:
    ledger = estimate(read_job(DEMO_JOB), USUAL_ROOM)
    shown = [what for slug in SLUGS for what, _, _ in counted(ledger, slug)]
    wanted = [
        m["label"]
        for n, m in enumerate(MEASURE_ROWS, 1)
        if ledger.figure("measures", n, "measured") > 0
    ]
    assert sorted(re.sub(r", [\d.]+ mm wide, laps 100 mm$", "", what) for what in shown) == sorted(
        wanted
    )
    assert len(wanted) > 15
    assert ledger.cell("items_unshown") == 0


def test_what_does_not_fit_on_the_sheet_refuses() -> None:
    ledger = estimate(read_job(DEMO_JOB))
    short = Ledger(ledger.plan, {**ledger.rows, f"{SLUGS[4]}_items": [{}]}, ledger.typed)
    assert short.cell("items_unshown") == 3, "two leaves, tie-ins and their joints: four, one line"
    assert short.cell("quote_total") is NOT_AVAILABLE


def test_what_is_out_of_scope_is_printed() -> None:
    """The five that issue and design ask for, each with a line of words."""
    names = " ".join(str(r["name"]) + " " + str(r["words"]) for r in OUT_OF_SCOPE_ROWS).lower()
    for word in ("under pressure", "chimneys", "injected", "sumps", "gas", "temporary", "support"):
        assert word in names
    assert "out_of_scope" in plan().tables
