"""What evaluating, starting, reading, writing and growth cost, as ratios within one run.

Run: python -m tests.benchmarks [--before REVISION]. Processor time, not the clock; what is
compared runs by turns, and the least of each is taken. With --before the same evaluation is also
timed in that revision of the project's history. What LibreOffice takes is measured where it is
installed (benchmark_libreoffice.py).
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import openpyxl

from estimator.files.resources import DEMO_JOB, JOB_TEMPLATE
from estimator.model.estimate import USUAL_ROOM, estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.workbook.build import build

from .benchmark_libreoffice import in_libreoffice
from .hosts import can_be_driven

ROOT = Path(__file__).parent.parent
TURNS = 5
EVERY_FIGURE = """
import time
try:
    from estimator.files.resources import DEMO_JOB
    from estimator.model.estimate import USUAL_ROOM, estimate
    from estimator.model.job_file import read_job
except ImportError:  # before 0.3.0
    from estimator.estimate import USUAL_ROOM, estimate
    from estimator.job_file import read_job
    from estimator.resources import DEMO_JOB
def every_figure(job):
    ledger = estimate(job, USUAL_ROOM)
    for table in ledger.plan.tables.values():
        for column in table.columns:
            ledger.column(table.name, column.name)
    for name in ledger.plan.cells:
        ledger.cell(name)
job = read_job(DEMO_JOB)
every_figure(job)
start = time.process_time()
every_figure(job)
print(time.process_time() - start)
"""


def spent(work: Callable[[], object]) -> float:
    """Processor seconds of this process."""
    start = time.process_time()
    work()
    return time.process_time() - start


def spent_by(*command: str) -> float:
    """Processor seconds of another process."""
    # As installed: each module is compiled once, not at every start.
    given = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    nothing = subprocess.DEVNULL
    child = subprocess.Popen(command, stdout=nothing, stderr=nothing, env=given)
    _, _, usage = os.wait4(child.pid, 0)
    child.returncode = 0
    return usage.ru_utime + usage.ru_stime


def by_turns(*works: Callable[[], float], turns: int = TURNS) -> list[float]:
    """The least of each, tried one after another, several times over."""
    found = [[work() for work in works] for _ in range(turns)]
    return [min(times) for times in zip(*found, strict=True)]


def evaluating(revision: str) -> None:
    def figures(folder: Path) -> float:
        command = [sys.executable, "-c", EVERY_FIGURE]
        said = subprocess.run(command, cwd=folder, check=True, capture_output=True, text=True)
        return float(said.stdout)

    with tempfile.TemporaryDirectory() as folder:
        old = Path(folder) / "old"
        git = ["git", "-C", str(ROOT), "worktree"]
        subprocess.run(
            [*git, "add", "--detach", str(old), revision], check=True, capture_output=True
        )
        try:
            before, now = by_turns(lambda: figures(old), lambda: figures(ROOT), turns=3)
        finally:
            subprocess.run([*git, "remove", "--force", str(old)], check=True, capture_output=True)
    print(f"every figure of the demo: {revision} 1.00, now {now / before:.2f} ({now:.2f} s)")


def starting(workbook: Path) -> None:
    python, module = sys.executable, ("-m", "estimator.cli")
    bare, needs, help_, version, check = by_turns(
        lambda: spent_by(python, "-c", "pass"),
        lambda: spent_by(python, "-c", "import openpyxl, pydantic"),
        lambda: spent_by(python, *module, "--help"),
        lambda: spent_by(python, *module, "--version"),
        lambda: spent_by(python, *module, "check", str(workbook)),
    )
    print(f"start: bare interpreter 1.0, --help {help_ / bare:.1f}, --version {version / bare:.1f}")
    print(
        f"check a workbook: import of openpyxl and pydantic 1.0, check {check / needs:.1f} (at most 4)"
    )


def writing(folder: Path) -> None:
    job = read_job(DEMO_JOB)
    ledger = estimate(job, USUAL_ROOM)
    built = build(ledger, JOB_TEMPLATE, USUAL_ROOM)
    ours, theirs = folder / "ours.xlsx", folder / "theirs.xlsx"
    built.save(ours)
    book = openpyxl.load_workbook(ours)
    bare, saved, stamped, evaluated = by_turns(
        lambda: spent(lambda: book.save(theirs)),
        lambda: spent(lambda: built.save(ours)),
        lambda: spent(lambda: build(ledger, JOB_TEMPLATE, USUAL_ROOM)),
        lambda: spent(lambda: build(estimate(job, USUAL_ROOM), JOB_TEMPLATE, USUAL_ROOM)),
    )
    print(
        f"writing: bare openpyxl, the same cells 1.00, with results {saved / bare:.2f} (at most 0.5);"
        f" stamping {stamped / bare:.2f}, evaluation and stamping {evaluated / bare:.2f} (at most 1.2)"
    )


def openings(count: int) -> Job:
    job = read_job(DEMO_JOB)
    pattern = job.rows["openings"]
    rows = [dict(pattern[n % len(pattern)], mark=f"O{n}") for n in range(count)]
    return replace(job, rows={**job.rows, "openings": rows})


def products(count: int) -> Job:
    job = read_job(DEMO_JOB)
    pattern = [r for r in job.rows["book"] if r["material"] not in ("dpm_sheet", "gas_sheet")]
    sheets = [r for r in job.rows["book"] if r not in pattern]
    more = [dict(pattern[n % len(pattern)], code=f"P{n}") for n in range(count - len(sheets))]
    return replace(job, rows={**job.rows, "book": [*sheets, *more]})


def total_of(job: Job) -> float:
    return min(spent(lambda: estimate(job).cell("quote_total")) for _ in range(2))


def growth() -> None:
    few, some, many = (total_of(openings(n)) for n in (20, 200, 2000))
    print(f"openings: 20 1.0, ten times as many {some / few:.1f}, a hundred times {many / few:.1f}")
    few, some, many = (total_of(products(n)) for n in (200, 1000, 5000))
    print(f"products: 200 1.0, 1,000 {some / few:.1f}, 5,000 {many / few:.1f}")


CALAMINE_ALONE = """
import sys
from python_calamine import load_workbook
with load_workbook(sys.argv[1]) as book:
    for name in book.sheet_names:
        book.get_sheet_by_name(name).to_python()
"""
LIST_UNDERSTOOD = """
import sys
from pathlib import Path
from estimator.files.resources import DEMO_JOB
from estimator.model.job_file import read_job
from estimator.price_lists.mapping import read_map
from estimator.price_lists.sheets import read_list
from estimator.price_lists.understood import understood
job = read_job(DEMO_JOB)
how = read_map(Path(sys.argv[2]), [r["name"] for r in job.rows["suppliers"]])
found = understood(job, 20, read_list(Path(sys.argv[1])), how)
assert (len(found.rows), len(found.not_in_map)) == (1, 49_999)
"""


def price_lists(folder: Path) -> None:
    """A merchant's list of 50,000 rows, against its cells alone and against the program's start."""
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Prices")
    sheet.append(["Code", "Description", "Unit", "Price"])
    for n in range(50_000):
        sheet.append([f"X{n}", f"Thing {n} of 25 m", "roll", n / 100 + 1])
    book.save(folder / "list.xlsx")
    (folder / "map.toml").write_text(
        'supplier = "Fernbank Supplies (invented)"\nvat = "excluded"\n[columns]\ncode = "Code"\n'
        'description = "Description"\npack = "Unit"\nprice = "Price"\n[products]\nX7 = "F-05"\n',
        "utf-8",
    )
    files = (str(folder / "list.xlsx"), str(folder / "map.toml"))
    job_alone = LIST_UNDERSTOOD.partition("how =")[0]
    alone, start, read = by_turns(
        lambda: spent_by(sys.executable, "-c", CALAMINE_ALONE, *files),
        lambda: spent_by(sys.executable, "-c", job_alone, *files),
        lambda: spent_by(sys.executable, "-c", LIST_UNDERSTOOD, *files),
    )
    print(
        f"a price list of 50,000 rows: python-calamine alone 1.0, read and understood "
        f"{(read - start) / alone:.1f} beyond reading the job"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--before", metavar="REVISION", help="a revision to compare with")
    before = parser.parse_args().before
    if before:
        evaluating(before)
    with tempfile.TemporaryDirectory() as folder:
        workbook = Path(folder) / "job.xlsx"
        made = build(estimate(read_job(DEMO_JOB), USUAL_ROOM), JOB_TEMPLATE, USUAL_ROOM)
        made.save(workbook)
        starting(workbook)
        writing(Path(folder))
        growth()
        price_lists(Path(folder))
        if shutil.which("soffice") and can_be_driven():
            in_libreoffice(Path(folder))


if __name__ == "__main__":
    main()
