"""A dry run says what would be done, and leaves workbook, folder and computer as they were."""

import tempfile
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from estimator.cli.main import main
from estimator.documents import writing
from estimator.files.resources import DEMO_JOB
from estimator.model.estimate import estimate
from estimator.model.issued import REVISIONS
from estimator.model.job_file import read_job
from estimator.workbook.fronts import BEHIND

from .made import SMALL_ROOM, laid_out
from .mail_servers import PASSWORD, USER, Inbox, certificates, private, real_server

ROOM = replace(SMALL_ROOM, spare={**SMALL_ROOM.spare, REVISIONS.name: 2 + BEHIND})
DOCUMENTS = [
    "Quotation - Garden room extension (invented example) - revision B.xlsx",
    "Order list - Garden room extension (invented example) - revision B - "
    "Fernbank Supplies (invented).xlsx",
    "Site sheet - Garden room extension (invented example) - revision B.xlsx",
]


@pytest.fixture(scope="module")
def written() -> bytes:
    return laid_out(estimate(read_job(DEMO_JOB), ROOM), ROOM)[1]


@pytest.fixture
def job(written: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workbook in a folder of its own; what a command puts aside meanwhile goes to `spare`."""
    monkeypatch.setattr(writing, "to_pdf", lambda *_: ())
    (tmp_path / "spare").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "spare"))
    (tmp_path / "desk").mkdir()
    path = tmp_path / "desk" / "job.xlsx"
    path.write_bytes(written)
    return path


def run(*words: str | Path) -> tuple[int, str]:
    done = CliRunner().invoke(main, [*map(str, words)], env={"ESTIMATOR_SMTP_FROM": ""})
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done.exit_code, done.output


def all_files(folder: Path) -> dict[str, tuple[bytes, int]]:
    """Every file, hidden ones too, with its content and when it was written; and the folders."""
    return {
        str(p.relative_to(folder)): (p.read_bytes() if p.is_file() else b"", p.stat().st_mtime_ns)
        for p in sorted(folder.rglob("*"))
    }


def test_an_issue_that_is_only_tried_changes_nothing_and_can_then_be_issued(job: Path) -> None:
    desk = job.parent
    before = all_files(desk)
    code, text = run("issue", job, "--out", desk / "out", "--from", "me@x.example", "--dry-run")
    assert code == 0, text
    assert all_files(desk) == before
    assert list((desk.parent / "spare").iterdir()) == []
    assert (
        f"A dry run: nothing was written or recorded. Revision B would be in {desk / 'out'}:"
        in text
    )
    for name in DOCUMENTS:
        assert name in text
    assert "Quotation - Garden room extension (invented example) - revision B.eml (yours)" in text
    assert text.endswith(
        "It would be recorded in job.xlsx, and job issued B.xlsx would be kept beside it.\n"
    )
    assert "4 detail checks need an answer" in text, "it warns as the issue will"
    code, text = run("issue", job, "--out", desk / "out")
    assert code == 0, text
    assert set(DOCUMENTS) <= {p.name for p in (desk / "out").iterdir()}
    assert (desk / "job issued B.xlsx").exists(), "under the mark that was tried"


def test_a_dry_run_is_refused_as_the_issue_would_be(job: Path) -> None:
    desk = job.parent
    (desk / "out").mkdir()
    (desk / "out" / DOCUMENTS[0]).write_text("mine")
    before = all_files(desk)
    code, text = run("issue", job, "--out", desk / "out", "--dry-run")
    assert code == 2
    assert "found 'a file of that name'; accepted: another revision, or another folder" in text
    assert run("issue", job, "--out", desk / "no" / "out", "--dry-run")[0] == 2
    assert run("issue", job, "--out", desk / "o", "--revision", "A", "--dry-run")[0] == 2
    assert all_files(desk) == before


def test_with_send_it_logs_in_and_sends_nothing(job: Path, tmp_path: Path) -> None:
    known, inbox, desk = certificates(tmp_path), Inbox(), job.parent
    before = all_files(desk)
    with real_server(inbox, known.good) as port:
        private(
            tmp_path / "mail.toml",
            f'host = "127.0.0.1"\nport = {port}\nuser = "{USER}"\npassword = "{PASSWORD}"\n'
            'from = "me@x.example"\nca_file = "ca.pem"\ntimeout_seconds = 60\n',
        )
        words = ["--settings", str(tmp_path / "mail.toml"), "--to", "client@x.example"]
        code, text = run("issue", job, "--out", desk / "out", "--send", "--dry-run", *words)
    assert code == 0, text
    assert "A dry run, nothing was sent. It would be sent" in text
    assert inbox.arrived == []
    assert all_files(desk) == before


def test_a_request_that_is_only_tried_writes_nothing(tmp_path: Path) -> None:
    code, text = run("request", DEMO_JOB, "--out", tmp_path / "out", "--dry-run")
    assert code == 0, text
    assert f"A dry run: nothing was written. It would be in {tmp_path / 'out'}:" in text
    assert "Fernbank Supplies (invented): " in text
    assert list(tmp_path.iterdir()) == []
