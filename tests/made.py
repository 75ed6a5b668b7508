"""Jobs worked out, laid into a workbook and saved: each once for all the tests of a worker.

What is handed out is shared: a test that changes a job, a file or a ledger makes its own.
"""

from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from estimator.files.resources import DEMO_FORM, DEMO_JOB, DEMO_WALKED, JOB_TEMPLATE
from estimator.language import rounding
from estimator.language.ledger import Ledger
from estimator.model.estimate import BLANK_ROOM, USUAL_ROOM, Room, estimate
from estimator.model.job import Job, blank_job
from estimator.model.job_file import read_job
from estimator.model.plan import FILLED
from estimator.workbook.build import Built, build

from .random_jobs import random_job
from .walked_jobs import misplaced_job, walked_job

SMALL_ROOM = Room({t.name: 1 for t in FILLED if t.grows}, lines=3)


@dataclass(frozen=True)
class Made:
    """One job's workbook, and whether a rounding on its way met an exact half-penny."""

    name: str
    job: Job
    room: Room
    built: Built  # without the workbook in memory: two hundred of them are five gigabytes
    data: bytes
    half_penny: bool
    total: Any

    def written(self, folder: Path) -> Path:
        """Its file in that folder."""
        path = folder / f"{self.name}.xlsx"
        path.write_bytes(self.data)
        return path


@dataclass
class Halves:
    """Counts roundings of exact half-pennies, the one place where Gnumeric differs."""

    met: bool = False
    real: Any = field(default=staticmethod(rounding.pence))

    def __call__(self, value: float) -> float:
        exact = Decimal(f"{value:.15g}") * 100
        self.met = self.met or abs(exact % 1) == Decimal("0.5")
        return float(self.real(value))


def job_named(name: str) -> tuple[Job, Room]:
    """The "demo", its "form", the "wrap_round" house, a "blank" job, one of "walked" floors, the same
    with "misplaced" openings, or a random one, "job7"; and its room in a workbook."""
    if name == "demo":
        return read_job(DEMO_JOB), USUAL_ROOM
    if name == "form":
        return read_job(DEMO_FORM), USUAL_ROOM
    if name == "wrap_round":
        return read_job(DEMO_WALKED), USUAL_ROOM
    if name == "blank":
        return blank_job("common_practice"), BLANK_ROOM
    if name == "walked":
        return walked_job(), SMALL_ROOM
    if name == "misplaced":
        return misplaced_job(), SMALL_ROOM
    return random_job(int(name.removeprefix("job"))), SMALL_ROOM


@cache
def made(name: str) -> Made:
    """The workbook of a job of that name."""
    job, room = job_named(name)
    halves = Halves()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(rounding, "pence", halves)
        ledger = estimate(job, room)
        built, data = laid_out(ledger, room)
        total = ledger.cell("quote_total")
    return Made(name, job, room, built, data, halves.met, total)


def laid_out(ledger: Ledger, room: Room) -> tuple[Built, bytes]:
    """A job's workbook, without what openpyxl holds in memory, and its file."""
    built = build(ledger, JOB_TEMPLATE, room)
    data = built.as_file()
    return replace(built, workbook=None, hidden={}), data  # type: ignore[arg-type]


@cache
def worked_out(name: str) -> Ledger:
    """The figures of a job of that name, without rows to spare."""
    return estimate(job_named(name)[0])
