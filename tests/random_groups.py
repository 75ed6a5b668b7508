"""The random jobs in small groups, each of which meets as many columns as so few jobs can.

The short run of test_parity.py takes one group, the version says which. The file of them is
written again by: python -m tests.random_groups (two minutes), when the random jobs change.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path

from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate

from .random_jobs import random_job

KEPT = Path(__file__).parent / "data" / "random_groups.txt"
JOBS, GROUPS = 200, 67
PRICED = "quote_total"


def groups() -> list[list[int]]:
    """The groups as they are kept: the seeds of each."""
    return [[int(n) for n in line.split()] for line in KEPT.read_text("utf-8").splitlines()]


def in_use(ledger: Ledger) -> Iterator[str]:
    """The columns and named cells that hold more than 0, blanks and figures not available."""
    for table in ledger.plan.tables.values():
        for item in table.columns if ledger.rows[table.name] else ():
            if any(map(_says, ledger.column(table.name, item.name))):
                yield f"{table.name}.{item.name}"
    yield from (name for name in ledger.plan.cells if _says(ledger.cell(name)))


def _says(value: object) -> bool:
    return value is not NOT_AVAILABLE and value not in (None, "", 0)


def dealt(used: Mapping[int, set[str]], number: int) -> list[list[int]]:
    """So many groups: first a job with a total into each, then one without, then what adds most."""
    left = dict(used)
    found: list[list[int]] = [[] for _ in range(number)]
    met: list[set[str]] = [set() for _ in range(number)]
    while left:
        for n in range(number):
            may = [
                s for s in left if len(found[n]) > 1 or (PRICED in left[s]) is not bool(found[n])
            ]
            best = max(may or left, key=lambda seed: len(left[seed] - met[n]), default=None)
            if best is not None:
                found[n].append(best)
                met[n] |= left.pop(best)
    return found


if __name__ == "__main__":
    every = {seed: set(in_use(estimate(random_job(seed)))) for seed in range(JOBS)}
    lines = [" ".join(map(str, group)) for group in dealt(every, GROUPS)]
    KEPT.write_text("".join(f"{line}\n" for line in lines), "utf-8")
