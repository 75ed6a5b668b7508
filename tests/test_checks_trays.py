"""The states of the checks of jambs, thresholds, parapets and the walls' own details."""

from dataclasses import replace

import pytest

from estimator.checks import DESIGNERS, MEETS, NOT_APPLICABLE, NOT_GIVEN, SHORT
from estimator.model import reports
from estimator.model.estimate import estimate
from estimator.model.job import Job

from .small_jobs import STOCK, bare_job, opening, product, row, wall


def of_opening(**given: object) -> Job:
    return bare_job(walls=[wall("W1", 5)], openings=[opening("O1", "W1", **given)])


def of_block(unit: float, **override: float) -> Job:
    walls = [wall("W1", 9, unit=unit, base_tray="yes")]
    return replace(bare_job(walls=walls), override=override)


def of_parapet(
    made_of: str | None = None, tray_height: float | None = None, **given: object
) -> Job:
    stock = [p for p in STOCK if p["material"] != "tray_roll"]
    stock.append(product("T", "tray_roll", width=450, length=20, made_of=made_of))
    parapet = row("parapets", mark="K1", wall="W1", length=4, corners=0, ends=2,
                  tray_height=tray_height)  # fmt: skip
    return bare_job(walls=[wall("W1", 5, **given)], parapets=[parapet], book=stock)


def without(line: str, job: Job) -> Job:
    return replace(job, line_status={line: "excluded"})


STATES: list[tuple[str, str, Job]] = [
    ("jambs", MEETS, of_opening(closer=100)),
    ("jambs", MEETS, of_opening(jamb_dpc=150)),
    ("jambs", SHORT, of_opening()),
    ("jambs", SHORT, without("closers", of_opening(closer=100))),
    ("jambs", SHORT, without("jamb_dpc", of_opening(jamb_dpc=150))),
    ("jambs", MEETS, without("closers", of_opening(jamb_dpc=150))),
    ("jambs", NOT_APPLICABLE, of_opening(kind="meter box")),
    ("parapet_trays", MEETS, of_parapet(tray_height=150)),
    ("parapet_trays", SHORT, of_parapet(tray_height=149)),
    ("parapet_trays", NOT_GIVEN, of_parapet()),
    ("parapet_trays", NOT_APPLICABLE, of_parapet(cavity=0, inner_leaf=0)),
    ("parapet_trays", NOT_APPLICABLE, of_opening()),
    ("coping_material", MEETS, of_parapet(made_of="polymer")),
    ("coping_material", SHORT, of_parapet(made_of="polyethylene")),
    ("coping_material", NOT_GIVEN, of_parapet()),
    ("coping_material", NOT_APPLICABLE, of_opening()),
    ("party_wall", DESIGNERS, bare_job(walls=[wall("W1", 5, party_wall="yes"), wall("W2", 5)])),
    ("party_wall", NOT_APPLICABLE, bare_job(walls=[wall("W1", 5, party_wall="no")])),
    ("weep_spacing", SHORT, of_block(600, weep_spacing=675)),
    ("weep_spacing", MEETS, of_block(450, weep_spacing=450)),
    ("tray_rise", MEETS, bare_job(walls=[wall("W1", 5, base_tray="yes")])),
    ("thresholds", DESIGNERS, of_opening(kind="level-access door")),
    ("thresholds", NOT_APPLICABLE, of_opening(kind="raised door")),
]


@pytest.mark.parametrize(("check", "state", "job"), STATES, ids=[f"{c} {s}" for c, s, _ in STATES])
def test_state(check: str, state: str, job: Job) -> None:
    rows = {r["check"]: r for r in reports.checks(estimate(job))}
    assert rows[check]["state"] == state
