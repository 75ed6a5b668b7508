"""What differs between two states of a job, in sentences for the estimator and for the client."""

from ...language.ledger import Ledger
from ...model.job import Job
from ...model.levels import LEVELS, LINES, QUANTITIES, STAGES
from .change import Change, State
from .document import document_changes
from .particulars import particular_changes
from .price import price_changes
from .profit import at_profit_of, dearer_by_profit
from .quantities import quantity_changes
from .renamed import Renames
from .rows import row_changes

__all__ = [
    "LEVELS",
    "LINES",
    "QUANTITIES",
    "STAGES",
    "Change",
    "State",
    "at_profit_of",
    "changes",
    "client_changes",
    "dearer_by_profit",
]


def changes(old: State, new: State) -> list[Change]:
    """Every difference: inputs, quantities, price, document. Empty for the same job."""
    renames = Renames(old.job, new.job)
    return [
        *particular_changes(old, new, renames),
        *row_changes(old.job, new.job, renames, old.ledger, new.ledger),
        *quantity_changes(old, new),
        *price_changes(old, new),
        *document_changes(old, new),
    ]


def client_changes(
    old_ledger: Ledger, new_ledger: Ledger, old_job: Job, new_job: Job, detail: str = QUANTITIES
) -> list[str]:
    """The sentences that the next quote can carry: nothing of cost, supplier, wastage or profit.

    `detail` is what that quote shows: the sums of its stages, its lines, or their quantities too.
    """
    found = changes(State(old_job, old_ledger), State(new_job, new_ledger))
    return [c.sentence for c in found if c.shown_at(detail)]
