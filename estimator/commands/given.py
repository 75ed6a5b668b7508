"""The job a command is given: a job file, or a workbook that was edited and comes back."""

from dataclasses import dataclass
from pathlib import Path

import click

from ..errors import FileError
from ..estimate import estimate
from ..job import Job
from ..job_file import read_job
from ..returned.truth import Difference, by_row, differences, laid_ledger, worth_saying
from ..returned.typed import Returned, read_checked
from ..rules.evaluate import Ledger

WORKBOOKS = (".xlsx", ".xlsm")
_SAID = 5  # differences that are said where they are not what was asked for


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
    found = differences(returned, laid_ledger(returned))
    return Given(returned.job, estimate(returned.job), returned, tuple(by_row(found)))


def say_differences(given: Given, every: bool = False) -> None:
    """What the workbook shows otherwise than what is worked out, and what was read as it stands."""
    if given.returned is None:
        return
    for note in given.returned.notes:
        click.echo(note, err=True)
    count = len(given.different)
    if not count:
        return
    click.echo(
        f"{given.returned.path.name}: {count} place(s) differ from what is worked out; "
        "what is printed here is worked out from what was typed.",
        err=True,
    )
    said = worth_saying(given.different, count if every else _SAID)
    for difference in said:
        click.echo(f"  {difference.sentence}", err=True)
    if count > len(said):
        click.echo(f"  and {count - len(said)} more: estimator check lists them", err=True)
