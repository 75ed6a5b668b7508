"""One digest for each job of what it says: totals, quantities and texts.

A figure that moves shows here, and then has its line in docs/changelog.md. The checks of placed
openings are left out where they concern nothing: they came later, and moved no figure. The file is
written again by: python -m tests.figures_kept. It proves that nothing moved, never that a figure is right.
The random jobs were drawn anew in 0.3.0, so that nearly all have a total: before it, the digests are
those of other jobs.
"""

import hashlib
from collections.abc import Iterator
from itertools import compress
from pathlib import Path
from typing import Any

from estimator.checks import NOT_APPLICABLE
from estimator.files.resources import DEMO_FORM, DEMO_JOB
from estimator.language import NOT_AVAILABLE
from estimator.language.ledger import Ledger
from estimator.model.estimate import estimate
from estimator.model.job_file import read_job

from .random_jobs import OF_PLACES, random_job

KEPT = Path(__file__).parent / "data" / "figures_kept.txt"
DEMOS = {"demo": DEMO_JOB, "lean-to": DEMO_FORM}
JOBS = 200

SAID = {
    "lines": ("label", "net", "unit", "laps", "supplier", "standing", "provisional", "line_note"),
    "measures": ("label", "unit", "counted"),
    "order_lines": ("supplier", "code", "description", "packs", "unit", "ordered", "left", "cost"),
    "quote_lines": ("item", "quantity", "counted_in", "status", "amount"),
    "scope_lines": ("counted", "scope", "net", "unit"),
    "checks": ("label", "found", "asked", "asked_by", "state"),
    "product_checks": ("label", "found", "asked", "asked_by", "state"),
    "suppliers": ("name", "order_total", "order_note", "all_total", "all_note"),
    "open_questions": ("label", "open", "find_out"),
}
SUMS = ("quote_net", "quote_vat", "quote_total", "quote_state", "vat_sentence")


def _text(value: Any) -> str:
    """Nine digits of a number: what the last of sixteen holds differs between machines."""
    return f"{value:.9g}" if isinstance(value, int | float) else str(value)


def _told(ledger: Ledger, table: str) -> list[bool]:
    """Which rows count."""
    if table != "checks":
        return [True] * len(ledger.rows[table])
    states = zip(ledger.column(table, "key"), ledger.column(table, "state"), strict=True)
    return [key not in OF_PLACES or state != NOT_APPLICABLE for key, state in states]


def said(ledger: Ledger) -> Iterator[str]:
    for table, columns in SAID.items():
        told = _told(ledger, table)
        for name in columns:
            found = compress(ledger.column(table, name), told)
            yield f"{table}.{name}: " + "|".join(map(_text, found))
    for name in SUMS:
        yield f"{name}: {_text(ledger.cell(name))}"


def digest(name: str) -> str:
    """The job's name, its total, and a digest of all it says."""
    job = read_job(DEMOS[name]) if name in DEMOS else random_job(int(name.removeprefix("job ")))
    ledger = estimate(job)
    total = ledger.cell("quote_total")
    shown = "no total" if total is NOT_AVAILABLE else f"{total:.2f}"
    whole = hashlib.sha256("\n".join(said(ledger)).encode()).hexdigest()[:24]
    return f"{name}: {shown}, {whole}"


def names() -> list[str]:
    return [*DEMOS, *(f"job {seed}" for seed in range(JOBS))]


if __name__ == "__main__":
    KEPT.write_text("".join(f"{digest(n)}\n" for n in names()), "utf-8")
