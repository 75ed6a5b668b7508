"""The order list of one supplier: what to send to our site, for what, and how many packs.

The list has no prices, neither ours to the client nor what we expect to pay: it is pinned up on
site and handed to drivers. Where this supplier gives a trade discount, its list price, discount
and net price stand on a sheet of their own. No other supplier's name.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from ..language import rounding
from ..language.ledger import Ledger
from ..language.units import AMOUNT, EACH, PERCENT, POUNDS
from ..language.wording import in_figures
from ..workbook.template import DISCOUNTED as DISCOUNTED_ROWS
from .declaration import Document, JobRow, Listed, cell, column, listed, rows_in_use
from .heads import ABOUT, ORDER, REPLACES, note
from .issue import Issuing


@dataclass(frozen=True)
class Ordering(Issuing):
    """An issue as one supplier gets it."""

    supplier: str


class FromSupplier(Protocol):
    """What one supplier gets of a job, issued or not."""

    @property
    def job(self) -> Ledger:
        """The figures."""

    @property
    def supplier(self) -> str:
        """Whose products they are."""


@dataclass(frozen=True)
class Drafted:
    """An order before the job is issued."""

    job: Ledger
    supplier: str


def _lines(of: FromSupplier) -> list[JobRow]:
    uses = _uses(of.job)
    return [
        replace(row, other={"used_for": "; ".join(uses.get(int(row["book_row"]), ()))})
        for row in rows_in_use(of.job, "order_lines", "supplier")
        if row["supplier"] == of.supplier
    ]


LINES: Listed[FromSupplier] = listed(
    *("order_lines", "order_line", "Order list"),
    column("code", "Code"),
    column("description", "Product"),
    column("packs", "Packs", EACH),
    column("content", "Each holds", AMOUNT, lambda row: rounding.six_places(row["content"])),
    column("unit", "Unit"),
    column("used_for", "For"),
    rows=_lines,
    numbered=True,
)
DISCOUNTED: Listed[Ordering] = listed(
    *(DISCOUNTED_ROWS, "discounted_line", "Prices agreed"),
    column("code", "Code"),
    column("description", "Product"),
    column("list_price", "List price", POUNDS),
    column("discount", "Trade discount", PERCENT),
    column("price", "Price", POUNDS),
    rows=lambda of: [row for row in _lines(of) if row["discount"] != ""],
    numbered=True,
)
LINES_ALONE: Document[FromSupplier] = Document(lists=(LINES,), cells=())
ORDER_LIST: Document[Ordering] = Document(
    lists=(REPLACES, LINES, DISCOUNTED),
    cells=(*ABOUT, note(ORDER), cell("supplier_name", "To", lambda of: of.supplier)),
)
_CSV_NAMES = {"content": "each_holds"}


def ordered_from(job: Ledger) -> list[str]:
    """The suppliers from whom anything is ordered, in their order."""
    return list(dict.fromkeys(n for n in job.column("order_lines", "supplier") if n != ""))


def csv_rows(order: Ledger) -> list[Sequence[str | float]]:
    """One order list as the rows of a CSV file, its head first."""
    names = [c.name for c in LINES.table]
    lines = zip(*(order.column(LINES.table.name, n) for n in names), strict=True)
    return [[_CSV_NAMES.get(n, n) for n in names], *lines]


def _uses(job: Ledger) -> dict[int, list[str]]:
    """What each row of the price book is for: the lines that take it, and to what width it is trimmed."""
    labels = dict(zip(job.column("lines", "key"), job.column("lines", "label"), strict=True))
    found: dict[int, list[str]] = {}
    picks = dict(enumerate(job.column("demands", "pick"), 1))
    needs = (job.column("needs", c) for c in ("line", "demand", "trim_to"))
    for line, demand, width in zip(*needs, strict=True):
        if pick := picks.get(demand):
            uses = found.setdefault(int(pick), [])
            trimmed = f", trim to {in_figures(width)} mm" if width else ""
            if (use := labels[line] + trimmed) not in uses:
                uses.append(use)
    return found
