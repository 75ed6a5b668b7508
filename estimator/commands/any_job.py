"""A job, in whatever kind of file it stands."""

from pathlib import Path

from ..errors import FileError
from ..job import Job
from ..job_file import read_job


def read_any(path: Path) -> Job:
    """The job in a file. Raises JobError, PriceError or FileError, in one sentence."""
    if path.suffix.lower() == ".xlsx":
        raise FileError(str(path), "a workbook", "a job file (TOML)")
    return read_job(path)
