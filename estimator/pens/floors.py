"""Each floor of a job in turn, as the one that is drawn."""

from collections.abc import Iterator

from ..language.ledger import Ledger
from ..takeoff.drawn_floors import CHOSEN


def each_floor(job: Ledger) -> Iterator[tuple[str, Ledger]]:
    """The mark of each floor that can be used, and the job's figures with that floor chosen."""
    for mark in job.column("zones", "mark"):
        if mark:
            typed = {**job.typed, CHOSEN.name: mark}
            yield mark, Ledger(job.plan, job.rows, typed, job.is_sound)
