"""Levels of damp-proof courses: none is filled in for the user and then said to meet a check.

The lean-to of test_form: floor 0, ground -0.15, DPM -0.335 (65 + 120 + 150 below the floor), the
house's DPC at -0.1, so 50 mm above the ground where 150 is asked.
"""

from dataclasses import replace
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.checks import MEETS, NOT_APPLICABLE, NOT_GIVEN, SHORT
from estimator.cli.main import main
from estimator.files.resources import DEMO_FORM
from estimator.model import reports
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import bare_job, edge, zone
from .test_form import formed


def levels(old: float, *new: float) -> Job:
    """One zone against a house, typed row by row: its DPC at `old`, the new ones at `new`."""
    at = [edge("E1", "Z1", "A1", 3, kind="existing wall with DPC", dpc_level=old, dress=25)]
    at += [
        edge(f"E{n}", "Z1", side, 3, kind="new wall", dpc_level=level)
        for n, (side, level) in enumerate(zip(("A2", "B1", "B2"), new, strict=True), 2)
    ]
    return bare_job(zones=[zone("Z1", 3, 3)], edges=at)


UNKNOWN = {"extension_new_dpc": None}
STATES = [
    ("dpc_height", MEETS, formed()),
    ("dpc_height", NOT_GIVEN, formed(**UNKNOWN)),
    ("dpc_height", SHORT, formed(extension_new_dpc=-0.01)),  # 140 above -0.15
    ("new_dpc_level", MEETS, formed()),
    ("new_dpc_level", NOT_GIVEN, formed(**UNKNOWN)),
    ("new_dpc_level", MEETS, levels(0, 0, 0, 0)),
    ("new_dpc_level", NOT_APPLICABLE, bare_job()),
    ("old_dpc_level", SHORT, formed()),
    ("old_dpc_level", NOT_GIVEN, formed(**UNKNOWN)),
    ("old_dpc_level", MEETS, formed(extension_old_dpc=0.0)),
    ("old_dpc_level", MEETS, levels(-0.1, -0.1, -0.15, -0.2)),
    ("old_dpc_level", SHORT, levels(-0.1, -0.2, -0.15, -0.05)),
    ("old_dpc_level", SHORT, levels(0.1, 0.2, 0, 0)),
    ("old_dpc_level", NOT_APPLICABLE, formed(extension_old_dpc=None)),
    ("old_dpc_height", SHORT, formed()),
    ("old_dpc_height", MEETS, formed(extension_old_dpc=0.0)),  # 150 above -0.15
    ("old_dpc_height", NOT_GIVEN, formed(extension_old_dpc=None)),
    ("old_dpc_height", NOT_APPLICABLE, bare_job()),
    ("lintels", NOT_GIVEN, formed()),
    ("lintels", MEETS, replace(formed(), assumed={"assumed_bearing": 150})),
    ("jambs", NOT_GIVEN, formed()),
    ("jambs", MEETS, replace(formed(), assumed={"assumed_closer": 50})),
]


@pytest.mark.parametrize(("check", "state", "job"), STATES, ids=[f"{c} {s}" for c, s, _ in STATES])
def test_state(check: str, state: str, job: Job) -> None:
    assert row_of(job, check)["state"] == state


def row_of(job: Job, check: str) -> dict[str, Any]:
    return {r["check"]: r for r in reports.checks(estimate(job))}[check]


def test_without_a_level_the_quantities_assume_one_and_it_is_an_estimate() -> None:
    """Assumed 150 above -0.15: level 0, and 335 up from the DPM and 100 on to the DPC: 435.

    With the level answered the same quantities are firm.
    """
    given, assumed = estimate(formed()), estimate(formed(**UNKNOWN))
    assert assumed.figure("walls", 1, "used_dpc_height") == 0
    assert assumed.figure("edges", 2, "used_dpc_level") == pytest.approx(0)
    assert assumed.figure("edges", 2, "turn_up") == pytest.approx(435)
    assert assumed.column("lines", "net") == pytest.approx(given.column("lines", "net"))
    assert given.cell("document_word") == "Quotation"
    assert assumed.cell("document_word") == "Estimate"
    standing = dict(
        zip(assumed.column("lines", "key"), assumed.column("lines", "standing"), strict=True)
    )
    assert standing["dpm"] == "provisional"
    assert assumed.cell("figures_assumed") == given.cell("figures_assumed") + 1 == 13


def test_the_level_answered_is_the_one_used() -> None:
    """At 0.05: 200 above the ground; the turn-up 335 + 50 + 100 = 485."""
    ledger = estimate(formed(extension_new_dpc=0.05))
    assert ledger.figure("walls", 1, "used_dpc_height") == pytest.approx(200)
    assert ledger.figure("edges", 2, "turn_up") == pytest.approx(485)


def test_at_the_ground_and_below_it_the_level_answered_is_kept() -> None:
    """At -0.15, the ground: 185 up from -0.335, and 100. A DPC there is never said to meet."""
    ledger = estimate(formed(extension_new_dpc=-0.15))
    assert ledger.figure("edges", 2, "turn_up") == pytest.approx(285)
    assert row_of(formed(extension_new_dpc=-0.15), "dpc_height")["state"] != MEETS
    assert row_of(formed(extension_new_dpc=-0.2), "dpc_height")["state"] == SHORT


def test_a_height_typed_in_place_of_the_assumed_one_is_given() -> None:
    """200 above -0.15 is 0.05: 335 + 50 + 100 = 485."""
    job = replace(formed(**UNKNOWN), assumed={"assumed_dpc_height": 200})
    ledger = estimate(job)
    assert ledger.figure("edges", 2, "turn_up") == pytest.approx(485)
    assert row_of(job, "dpc_height")["state"] == MEETS
    assert row_of(job, "new_dpc_level")["state"] == MEETS
    assert ledger.cell("document_word") == "Quotation"


def test_a_lintel_or_closer_typed_in_its_row_is_given() -> None:
    """The doors' own are typed; the windows' stay assumed, and are the ones named."""
    job = formed()
    job = replace(job, rows={**job.rows, "openings": [{"lintel": 2.7, "closer": 50}]})
    for check, assumed in (("lintels", 150), ("jambs", 50)):
        row = row_of(job, check)
        assert (row["state"], row["assumed"]) == (NOT_GIVEN, assumed)
        assert row["rows"] == ["XN (Windows)"]


@pytest.mark.parametrize(
    ("answer", "said"), [("", "not given (assumed 150)"), ("extension_new_dpc_m = 0.0\n", "meets")]
)
def test_the_command_says_what_is_assumed(tmp_path: Any, answer: str, said: str) -> None:
    """The demo's lean-to, whose ground is at -0.3, with the answer taken out, and with another."""
    text = DEMO_FORM.read_text("utf-8").replace("extension_new_dpc_m = -0.15\n", answer)
    (tmp_path / "job.toml").write_text(text, "utf-8")
    prices = DEMO_FORM.with_name("garden_room_prices.csv")
    (tmp_path / prices.name).write_bytes(prices.read_bytes())
    found = CliRunner().invoke(main, ["check", str(tmp_path / "job.toml")])
    [line] = [x for x in found.output.splitlines() if x.endswith("DPC above finished ground")]
    assert line.startswith(f"{said} ")
