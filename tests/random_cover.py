"""What the random jobs cover: what refuses their totals, what is typed, and what is worked out.

Printed by: python -m tests.random_cover (two minutes).
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.language.tables import Fixed, Input
from estimator.model.estimate import estimate
from estimator.model.plan import plan
from estimator.pricing import refusals

from .random_jobs import random_job

JOBS = 200


@dataclass
class Typed:
    """A typed column: its rows, those with a value, and the different values."""

    rows: int = 0
    given: int = 0
    values: set[Any] = field(default_factory=set)


def refused(ledger: Ledger) -> dict[str, Any]:
    """What stands against the total, by the name of its cell."""
    found = {i.name: ledger.cell(i.name) for i in refusals.COUNTS}
    return {name: value for name, value in found.items() if value != 0}


def typed(ledger: Ledger, into: dict[str, Typed]) -> None:
    """Count what is typed in each column of each list."""
    for table in plan().tables.values():
        for item in table.inputs:
            seen = into.setdefault(f"{table.name}.{item.name}", Typed())
            for value in ledger.column(table.name, item.name):
                seen.rows += 1
                if value is not None and value != "":
                    seen.given += 1
                    seen.values.add(value)


def worked() -> list[str]:
    """Every column and named cell that is worked out, linked or offered."""
    columns = [
        f"{t.name}.{c.name}"
        for t in plan().tables.values()
        for c in t
        if not isinstance(c, Input | Fixed)
    ]
    return columns + [n for n, c in plan().cells.items() if not isinstance(c, Input)]


def differing(ledger: Ledger) -> Iterator[str]:
    """Those of them that hold more than 0, blanks and figures not available in this job."""
    for name in worked():
        table, _, column = name.rpartition(".")
        found = ledger.column(table, column) if table else [ledger.cell(column)]
        if any(v is not NOT_AVAILABLE and v is not None and v not in (0, "") for v in found):
            yield name


def main() -> None:
    columns: dict[str, Typed] = {}
    causes, jobs = Counter[str](), Counter[str]()
    priced = 0
    for seed in range(JOBS):
        ledger = estimate(random_job(seed))
        causes.update(refused(ledger).keys())
        priced += ledger.cell("quote_total") is not NOT_AVAILABLE
        typed(ledger, columns)
        jobs.update(differing(ledger))
    print(f"{priced} of {JOBS} jobs have a total. What refuses it, and in how many:")
    for name, number in causes.most_common():
        print(f"  {name} {number}")
    print("Typed: share of rows with a value, and different values:")
    for name, seen in columns.items():
        print(f"  {name} {seen.given / max(1, seen.rows):.2f} {len(seen.values)}")
    print("Worked out: jobs in which it is more than 0 or blank:")
    for name in worked():
        print(f"  {name} {jobs[name]}")


if __name__ == "__main__":
    main()
