"""How long writing results costs, as a ratio to bare openpyxl writing the same cells.

Run: python tests/benchmark_writing.py [openings]. Times vary; the ratio, taken in one run, holds.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import openpyxl

from estimator.estimate import USUAL_ROOM, estimate
from estimator.job_file import read_job
from estimator.resources import DEMO_JOB, JOB_TEMPLATE
from estimator.workbook.build import build
from estimator.workbook.cached import save


def best(work: Callable[[], object], times: int = 3) -> float:
    found = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return min(found)


def main(count: int) -> None:
    job = read_job(DEMO_JOB)
    pattern = job.rows["openings"]
    openings = [dict(pattern[n % len(pattern)], mark=f"O{n}") for n in range(count)]
    job = replace(job, rows={**job.rows, "openings": openings})
    start = time.perf_counter()
    ledger = estimate(job, USUAL_ROOM)
    ledger.cell("quote_total")
    worked = time.perf_counter() - start
    start = time.perf_counter()
    built = build(ledger, JOB_TEMPLATE, USUAL_ROOM)
    stamped = time.perf_counter() - start
    cells = sum(len(s._cells) for s in built.workbook)
    formulas = sum(len(r) for r in built.results.values())
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.xlsx"
        bare = best(lambda: built.workbook.save(path))
        ours = best(lambda: save(built.workbook, built.results, path))
    print(f"openpyxl {openpyxl.__version__}, lxml {'there' if openpyxl.LXML else 'not there'}")
    print(f"{count} openings: {cells} cells, {formulas} formulas with results")
    print(f"bare openpyxl 1.00, with results {ours / bare:.2f}")
    print(f"for scale: working out {worked / bare:.2f}, stamping {stamped / bare:.2f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
