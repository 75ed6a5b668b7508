"""The job a command is given: a job file, or a workbook that was edited and comes back."""

import shlex
from dataclasses import dataclass
from pathlib import Path

import click

from ..errors import FileError
from ..estimate import estimate
from ..job import Job
from ..job_file import read_job
from ..returned.truth import STALE, Difference, by_row, differences, laid_ledger, told
from ..returned.typed import Returned, read_checked
from ..rules.evaluate import Ledger
from ..workbook.build import SCHEMA

WORKBOOKS = (".xlsx", ".xlsm")


@dataclass
class Given:
    """A job, its figures, and the workbook it came in, if it came in one."""

    job: Job
    ledger: Ledger
    returned: Returned | None = None
    different: tuple[Difference, ...] = ()


def is_workbook(path: Path) -> bool:
    """Whether the name is that of a workbook, not of a job file."""
    return path.suffix.lower() in WORKBOOKS


def given_job(path: Path) -> Given:
    """The job in a job file (TOML) or a workbook (.xlsx). Raises as the readers do."""
    if not is_workbook(path):
        if path.suffix.lower() in (".xls", ".ods", ".csv"):
            accepted = "a job file (.toml), or a workbook saved as .xlsx"
            raise FileError(str(path), path.suffix, accepted)
        job = read_job(path)
        return Given(job, estimate(job))
    returned = read_checked(path)
    # Cells of an earlier layout stand elsewhere, so only what was typed is read.
    found = [] if returned.is_earlier else differences(returned, laid_ledger(returned))
    return Given(returned.job, estimate(returned.job), returned, tuple(by_row(found)))


def say_differences(given: Given) -> None:
    """What the workbook shows otherwise than what is worked out, and what was read as it stands."""
    if given.returned is None:
        return
    for note in (*given.returned.notes, *given.returned.taken):
        click.echo(note, err=True)
    if given.returned.is_earlier:
        path = given.returned.path
        click.echo(
            f"{path.name} is of layout version {given.returned.schema}, and this program writes "
            f"version {SCHEMA}: what was typed is read, what it shows is not compared. To lay it "
            f"out anew: estimator workbook --afresh {shlex.quote(str(path))}",
            err=True,
        )
    if not given.different:
        return
    path = given.returned.path
    click.echo(
        f"{path.name} does not show what is worked out from what was typed in it; "
        "what is printed here is worked out.",
        err=True,
    )
    for line in told(given.different):
        click.echo(f"  {line}", err=True)
    only_stale = all(d.kind == STALE for d in given.different)
    saved = (
        "Recalculate it in a spreadsheet program and save it, or bring" if only_stale else "Bring"
    )
    click.echo(f"{saved} it up to date with: estimator workbook {shlex.quote(str(path))}", err=True)
