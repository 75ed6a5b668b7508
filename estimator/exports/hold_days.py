"""The days planned for a job's hold points, as events of a calendar."""

from collections.abc import Callable
from hashlib import sha256

from ..documents.dates import day_in
from ..errors import JobError
from ..language.ledger import Ledger
from ..model.plan import HOLD_BLOCKS, PLANNED_DAYS
from .icalendar import Event

CAUTION = "A reminder only: confirm every notice with your building control body."


def hold_days(job: Ledger, where: Callable[[str], str]) -> list[Event]:
    """An event for each hold point that has a day, in site order.

    `where` says where a field of the job's particulars stands. Raises JobError for a day that
    cannot be read.
    """
    title, site = str(job.cell("job_title")), str(job.cell("site_address"))
    # The same job has the same events, whenever they are written: a new day moves the old event.
    of_job = sha256(f"{title}\n{site}".encode()).hexdigest()[:16]
    found = []
    for name, table, words in HOLD_BLOCKS:
        item = PLANNED_DAYS[name]
        typed = str(job.cell(item.name))
        if not typed:
            continue
        day = day_in(typed)
        if day is None:
            raise JobError(where(item.key), typed, "a day, as 2 March 2026")
        look_for, tell, source = (str(job.cell(w)) for w in words)
        said = f"Look for: {look_for}\nTell: {tell}\nSource: {source}\n{CAUTION}"
        summary = f"Hold point: {name}. {title}"
        found.append(Event(f"{table}-{of_job}@estimator.invalid", day, summary, said, site))
    return found
