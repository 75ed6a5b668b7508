"""A command works a job out once; the one ledger says the same as one made for each purpose."""

from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from estimator.cli.main import main
from estimator.files.resources import DEMO_FORM, DEMO_JOB
from estimator.language.ledger import Ledger
from estimator.language.tables import POSITION
from estimator.model import estimate as estimating
from estimator.model import reports
from estimator.model.estimate import PRINTED, USUAL_ROOM, Room, estimate
from estimator.model.job import Job
from estimator.model.job_file import read_job
from estimator.model.plan import plan
from estimator.workbook.reading.inputs import Returned, read_back

from .random_jobs import random_job


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words), catch_exceptions=False)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("once") / "job.xlsx"
    assert run("workbook", str(DEMO_JOB), "--out", str(path)).exit_code == 0
    return path


def everything(ledger: Ledger) -> dict[tuple[str, str], Any]:
    """Every column of every list, and every named cell."""
    found: dict[tuple[str, str], Any] = {
        (t.name, c): list(ledger.column(t.name, c))
        for t in ledger.plan.tables.values()
        if t.name != "places"
        for c in (POSITION, *(i.name for i in t))
    }
    cells = (*ledger.plan.cells, *ledger.plan.keyed)
    return found | {("", name): ledger.cell(name) for name in cells}


JOBS = {
    "demo": lambda: read_job(DEMO_JOB),
    "form": lambda: read_job(DEMO_FORM),
    "random 11": lambda: random_job(11),
}


@pytest.mark.parametrize("name", JOBS)
def test_a_printed_list_cut_short_changes_nothing(name: str) -> None:
    """Cut to its length when all is worked out, as if it had been so long from the start."""
    job: Job = JOBS[name]()
    cut = estimate(job, USUAL_ROOM)
    lengths = {table: len(cut.rows[table]) for table in PRINTED}
    fresh = estimate(job, Room(USUAL_ROOM.spare, lengths=lengths))
    assert {t: len(fresh.rows[t]) for t in PRINTED} == lengths
    assert any(n < len(estimate(job).rows[t]) for t, n in lengths.items())
    one, other = everything(cut), everything(fresh)
    assert [at for at in one if one[at] != other[at]] == []


COMMANDS = (
    ("check",), ("quantities",), ("workbook",), ("issue", "--out", "out"),
    ("request", "--out", "asked"),
)  # fmt: skip


@pytest.mark.parametrize("words", COMMANDS, ids=lambda w: w[0])
def test_a_command_works_a_workbook_out_once(
    words: tuple[str, ...], demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Counted where ledgers are made; documents and requests have plans of their own."""
    (tmp_path / "job.xlsx").write_bytes(demo.read_bytes())
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PATH", "")  # no program that draws a PDF
    made: list[Ledger] = []

    def counted(*given: Any) -> Ledger:
        made.append(Ledger(*given))
        return made[-1]

    monkeypatch.setattr(estimating, "Ledger", counted)
    done = run(words[0], "job.xlsx", *words[1:])
    assert done.exit_code in (0, 1), done.output
    # An issue puts a row into the workbook, and reads and works out what it then holds.
    assert len(made) == (2 if words[0] == "issue" else 1)


def test_a_job_file_is_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[Ledger] = []

    def counted(*given: Any) -> Ledger:
        made.append(Ledger(*given))
        return made[-1]

    monkeypatch.setattr(estimating, "Ledger", counted)
    assert run("quantities", str(DEMO_JOB)).exit_code == 0
    assert len(made) == 1


def said(ledger: Ledger, job: Job) -> list[Any]:
    return [
        reports.quantities(ledger), reports.checks(ledger), reports.suppliers(ledger),
        reports.open_questions(ledger), reports.assumed(ledger), reports.by_basis(job, ledger),
    ]  # fmt: skip


def test_the_sheets_own_ledger_says_what_the_jobs_does(demo: Path) -> None:
    returned = read_back(demo)
    assert returned.figures() is returned.laid_ledger()
    assert said(returned.figures(), returned.job) == said(estimate(returned.job), returned.job)


@pytest.mark.parametrize("table", ["order_lines", "quote_lines", "scope_lines"])
def test_what_the_sheets_do_not_reach_is_counted_all_the_same(demo: Path, table: str) -> None:
    """A printed list without a free row may leave something out, so the job is worked out itself."""
    returned: Returned = read_back(demo)
    used = [k for k in returned.laid_ledger().column(table, plan().tables[table].key) if k != ""]
    returned._laid = returned._figures = None
    lengths = {**returned.room.lengths, table: max(len(used) - 1, 0)}
    returned.room = Room(lengths=lengths, laid_out=returned.room.laid_out)
    assert returned.figures() is not returned.laid_ledger()
    total = estimate(returned.job).cell("quote_total")
    assert returned.figures().cell("quote_total") == total == 3709.97
