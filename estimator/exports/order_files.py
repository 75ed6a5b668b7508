"""What is to be ordered from each supplier, as rows for another program, before a job is issued."""

from ..documents import safe_csv
from ..documents.names import safe, told_apart
from ..documents.orders import LINES_ALONE, Drafted, csv_rows, ordered_from
from ..errors import IssueError
from ..language.ledger import Ledger
from ..model.reports import not_measured, not_ordered


def order_files(job: Ledger) -> dict[str, bytes]:
    """The CSV of each supplier by its file's name: code, product, packs, what each holds, for what.

    The rows are those of the order list that is issued; no prices. Raises IssueError while the
    orders do not hold all that is to be bought.
    """
    against = "; ".join(filter(None, (not_measured(job), not_ordered(job))))
    if against:
        raise IssueError("orders", against, "a job whose orders hold all that is to be bought")
    suppliers = ordered_from(job)
    title = safe(str(job.cell("job_title")))
    stems = told_apart([f"Order - {title} - {safe(s)}" for s in suppliers])
    return {
        f"{stem}.csv": safe_csv.written(csv_rows(LINES_ALONE.ledger(Drafted(job, supplier))))
        for stem, supplier in zip(stems, suppliers, strict=True)
    }
