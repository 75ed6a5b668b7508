"""The job a command is given: a job file, or a workbook that was edited and comes back."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from ..buying.lines import LINES
from ..errors import FileError
from ..language.ledger import Ledger
from ..model.job import Job
from ..model.job_file import read_and_estimated
from .manners import warn

if TYPE_CHECKING:  # imported where a workbook is given, and only there
    from ..workbook.reading.comparison import Difference
    from ..workbook.reading.inputs import Returned

WORKBOOKS = (".xlsx", ".xlsm")


@dataclass
class Given:
    """A job, its figures, and the workbook it came in, if it came in one."""

    job: Job
    ledger: Ledger
    returned: "Returned | None" = None
    different: "tuple[Difference, ...]" = ()


def is_workbook(path: Path) -> bool:
    """Whether the name is that of a workbook, not of a job file."""
    return path.suffix.lower() in WORKBOOKS


def given_job(path: Path) -> Given:
    """The job in a job file (TOML) or a workbook (.xlsx). Raises as the readers do."""
    if is_workbook(path):
        from .given_back import given_workbook

        return given_workbook(path)
    if path.suffix.lower() in (".xls", ".ods", ".csv"):
        accepted = "a job file (.toml), or a workbook saved as .xlsx"
        raise FileError(str(path), path.suffix, accepted)
    return Given(*read_and_estimated(path))


def earlier_job(path: Path) -> Job:
    """What stands in an earlier job, finished or not. Raises as reading it does."""
    if not is_workbook(path):
        return read_and_estimated(path)[0]
    from ..workbook.reading.inputs import read_back

    return read_back(path).job


def say_left_out(job: Job) -> None:
    """The lines that are newer than the job file, by their names in it."""
    if job.left_out:
        warn(
            "These lines are newer than this job file, and so excluded. The quote lists those "
            "that are on the job. To count one, give it a status under [line_status]:"
        )
        for line in LINES:
            if line.key in job.left_out:
                warn(f"  {line.key}: {line.label}")


def say_differences(given: Given) -> None:
    """What the workbook shows otherwise than what is worked out, and what was read as it stands."""
    say_left_out(given.job)
    if given.returned is not None:
        from .given_back import say_what_differs

        say_what_differs(given, given.returned)
