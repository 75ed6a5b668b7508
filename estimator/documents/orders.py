"""The order list of one supplier: what to send to our site, for what, and how many packs.

No prices, neither ours to the client nor what we expect to pay: the list is pinned up on site and
handed to drivers, and what a pack costs is agreed by a price request. No other supplier's name.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ..language import Fixed, Plan, Table, rounding
from ..language.ledger import Ledger
from ..language.units import AMOUNT, EACH, TEXT
from .issue import Issue
from .replacing import NOTE, ORDER, REPLACES, replaced
from .rows import rows_in_use

Row = dict[str, Any]

ORDER_LINES = Table(
    "order_lines",
    "order_line",
    "Order list",
    (
        Fixed("code", "Code", TEXT),
        Fixed("description", "Product", TEXT),
        Fixed("packs", "Packs", EACH),
        Fixed("content", "Each holds", AMOUNT),
        Fixed("unit", "Unit", TEXT),
        Fixed("used_for", "For", TEXT),
    ),
    key="code",
    guarded=False,
)
_COPIED = ("job_title", "site_address", "prepared_by")
_PLAN = Plan(
    (REPLACES, ORDER_LINES),
    cells=[
        NOTE,
        *(
            Fixed(name, label, TEXT)
            for name, label in (
                ("supplier_name", "To"),
                ("job_title", "Job"),
                ("site_address", "Deliver to"),
                ("prepared_by", "From"),
                ("quote_date", "Date"),
                ("revision_mark", "Revision"),
            )
        ),
    ],
    keyed={},
)
CSV_HEAD = ("code", "description", "packs", "each_holds", "unit", "used_for")


@dataclass(frozen=True)
class OrderList:
    """What one supplier is asked for."""

    supplier: str
    lines: tuple[Row, ...]


def order_lists(job: Ledger) -> list[OrderList]:
    """One for each supplier that anything is ordered from, in their order."""
    columns = ("supplier", "book_row", "code", "description", "packs", "content", "unit")
    uses = _uses(job)
    lists: dict[str, list[Row]] = {}
    for row in rows_in_use(job, "order_lines", columns, "supplier"):
        at = int(row.pop("book_row"))
        row["used_for"] = "; ".join(uses.get(at, ()))
        row["content"] = rounding.six_places(row["content"])
        lists.setdefault(row.pop("supplier"), []).append(row)
    return [OrderList(supplier, tuple(lines)) for supplier, lines in lists.items()]


def order_ledger(job: Ledger, issue: Issue, order: OrderList) -> Ledger:
    """One order list as figures."""
    typed = {name: job.cell(name) for name in _COPIED} | {
        "supplier_name": order.supplier,
        "quote_date": issue.date,
        "revision_mark": issue.revision,
        NOTE.name: replaced(issue, ORDER),
    }
    rows: dict[str, list[Row]] = {
        REPLACES.name: [{}] if issue.earlier else [],
        ORDER_LINES.name: list(order.lines),
    }
    return Ledger(_PLAN, rows, typed)


def csv_rows(order: OrderList) -> list[Sequence[str | float]]:
    """One order list as the rows of a CSV file, its head first."""
    columns = [c.name for c in ORDER_LINES]
    return [CSV_HEAD, *([line[c] for c in columns] for line in order.lines)]


def _uses(job: Ledger) -> dict[int, list[str]]:
    """What each row of the price book is for: the lines of the quantities that take it."""
    labels = dict(zip(job.column("lines", "key"), job.column("lines", "label"), strict=True))
    books = {p: n for n, p in enumerate(job.column("book", "preference"), 1) if p}
    found: dict[int, list[str]] = {}
    needs = (job.column("needs", c) for c in ("line", "pick", "wanted"))
    for line, pick, wanted in zip(*needs, strict=True):
        if pick and wanted and pick in books:
            uses = found.setdefault(books[pick], [])
            if labels[line] not in uses:
                uses.append(labels[line])
    return found
