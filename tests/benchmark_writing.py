"""What the writer, the rules and growth cost, as ratios within one run.

Run: python tests/benchmark_writing.py [openings] [many openings]. Times vary; ratios hold.
"""

import math
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import openpyxl

from estimator.estimate import USUAL_ROOM, estimate
from estimator.job import Job
from estimator.job_file import read_job
from estimator.resources import DEMO_JOB, JOB_TEMPLATE
from estimator.takeoff.openings import OPENING_KIND_ROWS, OPENINGS
from estimator.workbook.build import build
from estimator.workbook.cached import save


def best(work: Callable[[], object], times: int = 3) -> float:
    found = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return min(found)


def job_of(count: int) -> Job:
    job = read_job(DEMO_JOB)
    pattern = job.rows["openings"]
    openings = [dict(pattern[n % len(pattern)], mark=f"O{n}") for n in range(count)]
    return replace(job, rows={**job.rows, "openings": openings})


def bare_arithmetic(job: Job) -> float:
    """The same tray, weep, jamb and sill figures by plain Python, nothing rounded or checked."""
    walls = {w["mark"]: w for w in job.rows["walls"]}
    kinds = {k["name"]: k for k in OPENING_KIND_ROWS}
    total = 0.0
    for o in job.rows["openings"]:
        wall, kind = walls[o["wall"]], kinds[o["kind"]]
        closer = o["closer"] or 0
        tray = max(o["lintel"] or 0, o["width"] + 2 * (closer + 25) / 1000)
        girth = wall["outer_leaf"] + math.sqrt(wall["cavity"] ** 2 + 140**2) + 100
        weeps = max(2, math.ceil((tray * 1000 - 450) / 450) + 1)
        jamb = 2 * (o["height"] + 0.2) if o["jamb_dpc"] and kind["has_jambs"] else 0
        sill = (o["width"] + 0.15) * kind["has_sill"]
        total += o["number"] * (tray + weeps + 2 + jamb + sill) + girth
    return total


def quantities(job: Job) -> object:
    return estimate(job).column("totals", "ordered")


def openings_only(job: Job) -> object:
    ledger = estimate(job)
    return [ledger.column("openings", c.name) for c in OPENINGS]


def whole(job: Job, path: Path) -> None:
    built = build(estimate(job, USUAL_ROOM), JOB_TEMPLATE, USUAL_ROOM)
    save(built.workbook, built.results, path)


def main(count: int, many: int) -> None:
    job = job_of(count)
    built = build(estimate(job, USUAL_ROOM), JOB_TEMPLATE, USUAL_ROOM)
    cells = sum(len(s._cells) for s in built.workbook)
    formulas = sum(len(r) for r in built.results.values())
    print(f"openpyxl {openpyxl.__version__}, lxml {'there' if openpyxl.LXML else 'not there'}")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.xlsx"
        bare = best(lambda: built.workbook.save(path))
        ours = best(lambda: save(built.workbook, built.results, path))
        print(f"{count} openings: {cells} cells, {formulas} formulas with results")
        print(f"writing: bare openpyxl 1.00, with results {ours / bare:.2f}")
        plain = best(lambda: bare_arithmetic(job))
        worked = best(lambda: quantities(job))
        measured = best(lambda: openings_only(job))
        print(
            f"quantities: bare arithmetic 1, openings {measured / plain:.0f},"
            f" the whole job priced and compared {worked / plain:.0f}"
        )
        small, large = best(lambda: whole(job, path), 1), best(lambda: whole(job_of(many), path), 1)
        print(f"growth: {many / count:.0f} × the openings take {large / small:.1f} × the time")


if __name__ == "__main__":
    given = [int(a) for a in sys.argv[1:]]
    main(*(given + [2000, 20000][len(given) :]))
