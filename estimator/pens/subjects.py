"""Each floor, wall, roof, tray cut in or product of a job in turn, as the one that is drawn."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from ..language.ledger import Ledger, is_available
from .views import View

Subject = tuple[str, Ledger, tuple[View, ...]]


def each(job: Ledger, views: Sequence[View]) -> Iterator[Subject]:
    """The mark of each that can be drawn, the job's figures with that one chosen, and
    the views of it that show something; views of the same list together, in the order given."""
    for (of, chosen), group in groupby(views, lambda view: (view.of, view.chosen)):
        alike = tuple(group)
        for mark in dict.fromkeys(job.column(of, job.plan.tables[of].in_use("mark"))):
            if mark:
                typed = {**job.typed, chosen: mark}
                ledger = Ledger(job.plan, job.rows, typed, job.is_sound)
                worth = {view: ledger.cell(view.worth) for view in alike}
                seen = tuple(view for view, n in worth.items() if is_available(n) and n)
                if seen:
                    yield mark, ledger, seen
