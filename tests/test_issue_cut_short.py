"""An issue that is killed anywhere is completed or undone by the next run; two never run at once.

Each kill is aimed: the child ends itself, as power lost would, at a named moment.
"""

import json
import os
import signal
import stat
from collections.abc import Callable
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from estimator.cli import issuing
from estimator.cli.main import main
from estimator.documents import pdf, writing
from estimator.documents.journal import journal_of
from estimator.errors import FileError
from estimator.files import keeping
from estimator.files.keeping import locked, replace_keeping, write_whole
from estimator.model.estimate import estimate
from estimator.workbook.reading.inputs import read_back

from .made import SMALL_ROOM, laid_out
from .small_jobs import bare_job, row, wall


def _issue_and_die(job: Path, out: Path, moment: str) -> None:
    """The issue that is killed, in a process of its own."""
    pdf.PROGRAMS = ()

    def dies_at(module: Any, name: str, wanted: int, before: bool = True) -> None:
        real, count = getattr(module, name), [0]

        def worked(*words: Any, **more: Any) -> Any:
            count[0] += 1
            if before and count[0] == wanted:
                os.kill(os.getpid(), signal.SIGKILL)
            found = real(*words, **more)
            if not before and count[0] == wanted:
                os.kill(os.getpid(), signal.SIGKILL)
            return found

        setattr(module, name, worked)

    at: dict[str, Callable[[], None]] = {
        "while the documents are written": lambda: dies_at(writing, "write", 2),
        "before anything is placed": lambda: dies_at(writing, "place_new", 1),
        "after one file": lambda: dies_at(writing, "place_new", 2),
        "after three files": lambda: dies_at(writing, "place_new", 4),
        "before it is recorded": lambda: dies_at(issuing, "replace_locked", 1),
        "when the old file is kept": lambda: dies_at(keeping, "write_whole", 1, before=False),
        "after it is recorded": lambda: dies_at(keeping, "write_whole", 2, before=False),
        "before it is said": lambda: dies_at(issuing, "replace_locked", 1, before=False),
    }
    at[moment]()
    main(["issue", str(job), "--out", str(out)], standalone_mode=False)


UNDONE = (
    "while the documents are written",
    "before anything is placed",
    "after one file",
    "after three files",
    "before it is recorded",
    "when the old file is kept",
)
WHOLE = ("after it is recorded", "before it is said")


@pytest.fixture(scope="module")
def small() -> bytes:
    """A wall of 20 m, issued as A: the moments are those of any job, and its files are written
    and read in a third of the time."""
    issued = row(
        "revisions", revision="A", date="today", basis="nhbc_2024", document="Quotation",
        net=50, vat=10, total=60,
    )  # fmt: skip
    job = bare_job(walls=[wall("W1", 20)], revisions=[issued])
    return laid_out(estimate(job, SMALL_ROOM), SMALL_ROOM)[1]


def _killed(job: Path, out: Path, moment: str) -> None:
    child = get_context("fork").Process(target=_issue_and_die, args=(job, out, moment))
    child.start()
    child.join()
    assert child.exitcode == -signal.SIGKILL


def _again(job: Path, out: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr(pdf, "PROGRAMS", ())
    return CliRunner().invoke(main, ["issue", str(job), "--out", str(out)]).output


def _hidden(*folders: Path) -> list[str]:
    return [p.name for f in folders if f.is_dir() for p in f.iterdir() if p.name.startswith(".")]


def _revisions(job: Path) -> list[str]:
    return [str(r["revision"]) for r in read_back(job).job.rows["revisions"]]


@pytest.mark.parametrize("moment", UNDONE)
def test_what_was_not_recorded_is_undone(
    moment: str, small: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The job was issued as A; the killed issue would have been B, and the next is B once only."""
    job, out = tmp_path / "job.xlsx", tmp_path / "out"
    job.write_bytes(small)
    _killed(job, out, moment)
    assert job.read_bytes() == small
    said = _again(job, out, monkeypatch)
    assert "Recorded in job.xlsx" in said
    if moment not in ("while the documents are written", "before anything is placed"):
        assert "The issue of revision B was cut short before it was recorded" in said
    assert _revisions(job) == ["A", "B"]
    assert all("revision B" in p.name for p in out.iterdir())
    assert len([p for p in out.iterdir() if p.name.startswith("Quotation")]) == 1
    assert sorted(p.name for p in tmp_path.iterdir()) == ["job issued B.xlsx", "job.xlsx", "out"]
    assert _hidden(tmp_path, out) == []


@pytest.mark.parametrize("moment", WHOLE)
def test_what_was_recorded_is_whole(
    moment: str, small: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, out = tmp_path / "job.xlsx", tmp_path / "out"
    job.write_bytes(small)
    _killed(job, out, moment)
    placed = sorted(out.iterdir())
    assert any(p.name.startswith("Quotation") for p in placed)
    said = _again(job, out, monkeypatch)
    assert "The issue of revision B was cut short after it was recorded: it is whole" in said
    assert "nothing that has changed since revision B" in said
    assert sorted(p for p in out.iterdir() if not p.name.startswith(".issue-")) == [
        p for p in placed if not p.name.startswith(".issue-")
    ]
    assert _revisions(job) == ["A", "B"]
    assert _hidden(tmp_path, out) == []


def test_a_file_that_another_put_there_is_left(tmp_path: Path, small: bytes) -> None:
    """Undoing takes away what was placed, by its content, and nothing else."""
    from estimator.documents.journal import digest_of, settle

    job, ours, theirs = (tmp_path / n for n in ("job.xlsx", "ours.xlsx", "theirs.xlsx"))
    for path, data in ((job, small), (ours, b"ours"), (theirs, b"theirs, saved since")):
        path.write_bytes(data)
    files = {str(ours): digest_of(b"ours"), str(theirs): digest_of(b"ours too")}
    noted = {"revision": "B", "workbook": "0", "staging": str(tmp_path / "no"), "files": files}
    journal_of(job).write_text(json.dumps(noted))
    said: list[str] = []
    settle(job, said.append)
    assert "1 document that it had placed" in said[0]
    assert not ours.exists()
    assert theirs.read_bytes() == b"theirs, saved since"


# ---- nothing has changed ----


def test_an_unchanged_job_is_not_issued_anew(
    small: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, out, more = tmp_path / "job.xlsx", tmp_path / "out", tmp_path / "more"
    job.write_bytes(small)
    assert "Recorded in" in _again(job, out, monkeypatch)
    recorded = job.read_bytes()
    assert "found 'nothing that has changed since revision B" in _again(job, more, monkeypatch)
    result = CliRunner().invoke(main, ["issue", str(job), "--out", str(more), "--again"])
    assert result.exit_code == 0, result.output
    assert "was recorded before" in result.output
    assert {p.name for p in more.iterdir()} == {p.name for p in out.iterdir()}
    assert job.read_bytes() == recorded, "the same revision is no new one"
    (order,) = more.glob("Order list*.csv")
    (first,) = out.glob("Order list*.csv")
    assert order.read_bytes() == first.read_bytes(), "no order is said to replace itself"
    assert _revisions(job) == ["A", "B"]


def test_again_is_only_for_what_is_as_it_was_issued(small: bytes, tmp_path: Path) -> None:
    job = tmp_path / "job.xlsx"
    job.write_bytes(small)
    words = ["issue", str(job), "--out", str(tmp_path / "out"), "--again"]
    result = CliRunner().invoke(main, words)
    assert result.exit_code == 2
    assert "a job that has changed since its last issue" in result.output
    assert not (tmp_path / "out").exists()


# ---- two at once, and who may read ----


def _write(path: str, data: bytes, was: bytes, gate: Any, answers: Any) -> None:
    gate.wait()
    try:
        replace_keeping(Path(path), data, Path(path).with_name("kept.xlsx"), was)
        answers.put(data)
    except FileError as error:
        answers.put(str(error))


def test_of_two_writers_one_is_told(tmp_path: Path) -> None:
    """Each read the same file; only one may say that it wrote, and what it wrote stands there."""
    context = get_context("fork")
    for trial in range(30):
        path = tmp_path / str(trial) / "job.xlsx"
        path.parent.mkdir()
        path.write_bytes(b"old" * 200_000)
        gate, answers = context.Barrier(2), context.Queue()
        each = [bytes([65 + n]) * 400_000 for n in range(2)]
        children = [
            context.Process(target=_write, args=(str(path), d, b"old" * 200_000, gate, answers))
            for d in each
        ]
        for child in children:
            child.start()
        found = [answers.get(timeout=30) for _ in children]
        for child in children:
            child.join()
        wrote = [f for f in found if isinstance(f, bytes)]
        assert len(wrote) == 1, found
        assert path.read_bytes() == wrote[0]
        (said,) = (f for f in found if isinstance(f, str))
        assert "saved meanwhile" in said or "being written by another command" in said
        assert sorted(p.name for p in path.parent.iterdir()) == ["job.xlsx", "kept.xlsx"]


def test_a_workbook_that_is_being_written_is_not_issued(small: bytes, tmp_path: Path) -> None:
    job = tmp_path / "job.xlsx"
    job.write_bytes(small)
    with locked(job):
        result = CliRunner().invoke(main, ["issue", str(job), "--out", str(tmp_path / "out")])
    assert result.exit_code == 2
    assert "being written by another command" in result.output
    assert not (tmp_path / "out").exists()


def test_the_kept_copy_is_as_private_as_the_workbook(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(b"old")
    path.chmod(0o600)
    kept = replace_keeping(path, b"new", tmp_path / "kept.xlsx", b"old")
    assert [stat.S_IMODE(p.stat().st_mode) for p in (path, kept)] == [0o600, 0o600]


def test_a_link_stays_and_its_file_is_written(tmp_path: Path) -> None:
    (tmp_path / "store").mkdir()
    target, link = tmp_path / "store" / "real.xlsx", tmp_path / "job.xlsx"
    target.write_bytes(b"old")
    link.symlink_to(target)
    kept = replace_keeping(link, b"new", tmp_path / "kept.xlsx", b"old")
    assert link.is_symlink()
    assert (target.read_bytes(), kept.read_bytes()) == (b"new", b"old")
    assert os.listdir(tmp_path / "store") == ["real.xlsx"]


def test_a_new_file_never_takes_the_place_of_one(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(b"theirs")
    with pytest.raises(FileError, match="a file of that name"):
        write_whole(path, b"ours", new=True)
    assert path.read_bytes() == b"theirs"
    assert os.listdir(tmp_path) == ["job.xlsx"]
