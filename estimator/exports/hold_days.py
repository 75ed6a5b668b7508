"""The days planned for a job's hold points, as events of a calendar."""

from hashlib import sha256

from ..language.days import day_of
from ..language.ledger import Ledger
from ..model.plan import HOLD_BLOCKS, PLANNED_DAYS
from .icalendar import Event

CAUTION = "A reminder only: confirm every notice with your building control body."


def hold_days(job: Ledger) -> list[Event]:
    """An event for each hold point that has a day, in site order."""
    title, site = str(job.cell("job_title")), str(job.cell("site_address"))
    # The same job has the same events, whenever they are written: a new day moves the old event.
    of_job = sha256(f"{title}\n{site}".encode()).hexdigest()[:16]
    found = []
    for name, table, words in HOLD_BLOCKS:
        planned = job.cell(PLANNED_DAYS[name].name)
        if not planned:
            continue
        look_for, tell, source = (str(job.cell(w)) for w in words)
        said = f"Look for: {look_for}\nTell: {tell}\nSource: {source}\n{CAUTION}"
        summary = f"Hold point: {name}. {title}"
        uid = f"{table}-{of_job}@estimator.invalid"
        found.append(Event(uid, day_of(planned), summary, said, site))
    return found
