"""One command from the estimator's workbook to what leaves the desk, and the record of it."""

import email
import os
import re
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from email.policy import SMTP
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from lxml import etree
from openpyxl import load_workbook

from estimator.cli import before_issue, issuing
from estimator.cli.given import given_job
from estimator.cli.main import main
from estimator.cli.manners import warn_listing
from estimator.documents import pdf
from estimator.documents.issue import Issue
from estimator.errors import FileError
from estimator.files.resources import DEMO_JOB
from estimator.files.xlsx.cells import place
from estimator.files.xlsx.patching import Put, patched
from estimator.model.estimate import estimate
from estimator.model.issued import REVISIONS
from estimator.model.job_file import read_job
from estimator.revisions.digest import digest
from estimator.workbook.filling import filled
from estimator.workbook.fronts import BEHIND
from estimator.workbook.reading.comparison import differences, laid_ledger
from estimator.workbook.reading.inputs import read_back
from estimator.workbook.refresh import refreshed, with_typed

from .hosts import need
from .made import SMALL_ROOM, laid_out
from .mail_servers import PASSWORD, USER, Inbox, certificates, private, real_server
from .raw_package import packed, part_of, parts_of, with_cell

FERNBANK = "Fernbank Supplies (invented)"


def run(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(main, list(words), env={"ESTIMATOR_SMTP_FROM": ""})
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.output


# Few spare rows, so that files are read and written in less time; but rows for the issues, and
# those that are kept for rows put in.
ROOM = replace(SMALL_ROOM, spare={**SMALL_ROOM.spare, REVISIONS.name: 4 + BEHIND})


@pytest.fixture(scope="module")
def written() -> bytes:
    return laid_out(estimate(read_job(DEMO_JOB), ROOM), ROOM)[1]


@pytest.fixture
def job(written: bytes, tmp_path: Path) -> Path:
    path = tmp_path / "job.xlsx"
    path.write_bytes(written)
    return path


@dataclass(frozen=True)
class FirstIssue:
    """The demo issued once, as revision B, with drafts: its folder, and what was said."""

    folder: Path
    output: str
    warnings: list[str]

    def copied(self, to: Path) -> Path:
        """The same folder for a test that goes on from there; its workbook."""
        shutil.copytree(self.folder, to, dirs_exist_ok=True)
        return to / "job.xlsx"


@pytest.fixture(scope="module")
def first(written: bytes, tmp_path_factory: pytest.TempPathFactory) -> FirstIssue:
    folder = tmp_path_factory.mktemp("first")
    job = folder / "job.xlsx"
    job.write_bytes(written)
    words = ["issue", str(job), "--out", str(folder / "out"), "--from", "Me <me@x.example>"]
    result = CliRunner().invoke(main, [*words, "--to", "Client <client@x.example>"])
    assert result.exit_code == 0, result.output
    return FirstIssue(folder, result.output, result.stderr.splitlines())


def typed(path: Path, table: str, column: str, value: object) -> None:
    """A figure typed in the first row of a list, everything brought up to date."""
    returned = read_back(path)
    row = returned.layout.typed(table).first
    path.write_bytes(refreshed(with_typed(returned, {(table, row, column): value}))[0])


def test_an_issue_is_written_and_recorded(first: FirstIssue, written: bytes) -> None:
    """The demo has revision A already; its total is 3,709.97 by tests/test_workbook.py's demo."""
    out = first.folder / "out"
    assert "Revision B" in first.output
    (draft,) = out.glob("Quotation*.eml")
    message = email.message_from_bytes(draft.read_bytes(), policy=SMTP)
    assert message["X-Unsent"] == "1"
    assert message["To"] == "Client <client@x.example>"
    attached = {a.get_filename(): a.get_payload(decode=True) for a in message.iter_attachments()}
    quotes = {p.name: p.read_bytes() for p in out.glob("Quotation*") if p.suffix != ".eml"}
    assert attached == quotes, "the client gets the quote and its PDF, and nothing else"
    body = "".join(str(message.get_body((kind,)).get_content()) for kind in ("plain", "html"))
    assert "£3,709.97" in body
    for secret in (FERNBANK, str(first.folder), "markup", "wastage"):
        assert secret not in body + str(message["Subject"])
    # The record.
    returned = read_back(first.folder / "job.xlsx")
    row = returned.job.rows["revisions"][-1]
    assert (row["revision"], row["total"], row["document"]) == ("B", 3709.97, "Quotation")
    assert row["digest"] == digest(read_job(DEMO_JOB)), "the inputs are those of the job file"
    assert differences(returned, laid_ledger(returned)) == []
    assert (first.folder / "job issued B.xlsx").read_bytes() == written
    # Whoever still holds revision A, recorded in the demo, is told.
    for path in [*out.glob("Order list*.xlsx"), *out.glob("Site sheet*.xlsx")]:
        shown = b"".join(d for n, d in parts_of(path.read_bytes()).items() if "sheet" in n)
        assert b"It replaces revision A of 16 February 2026. Do not" in shown, path.name


def test_each_order_list_has_a_draft_of_its_own(first: FirstIssue) -> None:
    """Addressed to nobody, never sent, and with nothing of the price or of the client in it."""
    out = first.folder / "out"
    lists = sorted(p.name for p in out.glob("Order list*.xlsx"))
    drafts = sorted(out.glob("Order list*.eml"))
    assert [d.with_suffix(".xlsx").name for d in drafts] == lists
    assert len(lists) > 0
    for path, name in zip(drafts, lists, strict=True):
        message = email.message_from_bytes(path.read_bytes(), policy=SMTP)
        assert (message["X-Unsent"], message["To"], message["From"]) == (
            "1", None, "Me <me@x.example>"
        )  # fmt: skip
        attached = {a.get_filename(): a.get_payload(decode=True)
                    for a in message.iter_attachments()}  # fmt: skip
        assert attached == {name: (out / name).read_bytes()}
        for kind in ("plain", "html"):
            body = str(message.get_body((kind,)).get_content())
            assert "It replaces revision A of 16 February 2026. Do not order" in body
            for secret in ("£", "markup", str(read_job(DEMO_JOB).particulars["client_name"])):
                assert secret not in body


def test_later_issues_tell_what_changed(first: FirstIssue, tmp_path: Path) -> None:
    job, b = first.copied(tmp_path), str(tmp_path / "job issued B.xlsx")
    typed(job, "openings", "width", 2.4)
    assert run("issue", str(job), "--out", str(tmp_path / "c"))[0] == 0
    assert [r["revision"] for r in read_back(job).job.rows["revisions"]] == ["A", "B", "C"]
    # Since is a state that was issued, and any of them.
    typed(job, "openings", "width", 2.7)
    words = ["issue", str(job), "--out", str(tmp_path / "d"), "--since"]
    code, text = run(*words, str(job))
    assert code == 2
    assert "accepted: a state that was issued" in text
    assert not (tmp_path / "d").exists()
    code, text = run(*words, b)
    assert code == 0, text
    (quote,) = (tmp_path / "d").glob("Quotation*revision D.xlsx")
    parts = parts_of(quote.read_bytes())
    shown = re.sub(r"<[^>]*>", " ", b"".join(d for n, d in parts.items() if "sheet" in n).decode())
    assert re.search(r"Since revision\s+B", shown)
    assert "2.7" in shown
    code, text = run("changes", b, str(job))
    assert code == 0
    assert "2.70 m" in text


def test_what_is_shown_must_be_what_is_issued(job: Path, tmp_path: Path) -> None:
    """A figure typed over a formula, and results out of date: nothing is issued."""
    returned = read_back(job)
    span = returned.layout.spans["book"]
    at = place(f"{span.letters['packs']}{span.first}")
    job.write_bytes(patched(returned.sheets, {span.sheet: {at: Put(None, None, "9")}}))
    before = job.read_bytes()
    code, text = run("issue", str(job), "--out", str(tmp_path / "out"))
    assert code == 2
    assert "typed over, shows 9" in text
    assert not (tmp_path / "out").exists()
    assert job.read_bytes() == before


def test_no_free_row_for_the_record(job: Path, tmp_path: Path) -> None:
    returned = read_back(job)
    span = returned.layout.typed("revisions")
    first = returned.job.rows["revisions"][0]
    rows = [{**first, "revision": f"P{n}"} for n in range(span.last - span.first + 1 - 1)]
    job.write_bytes(filled(returned, {"revisions": [first, *rows]}))
    code, text = run("issue", str(job), "--out", str(tmp_path / "out"))
    assert code == 2
    assert "0 free rows" in text
    assert "--afresh" in text
    assert not (tmp_path / "out").exists()


def test_it_is_sent_and_said(job: Path, tmp_path: Path) -> None:
    known = certificates(tmp_path)
    inbox = Inbox()
    settings = tmp_path / "mail.toml"
    words = ["issue", str(job), "--to", "client@x.example", "--settings", str(settings)]
    with real_server(inbox, known.good) as port:
        private(
            settings,
            f'host = "127.0.0.1"\nport = {port}\nuser = "{USER}"\npassword = "{PASSWORD}"\n'
            'from = "me@x.example"\nca_file = "ca.pem"\ntimeout_seconds = 60\n',
        )
        before = job.read_bytes()
        code, text = run(*words, "--out", str(tmp_path / "dry"), "--send", "--dry-run")
        assert code == 0, text
        assert "nothing was sent" in text
        assert job.read_bytes() == before
        assert not (tmp_path / "dry").exists()
        assert inbox.arrived == []
        code, text = run(*words, "--out", str(tmp_path / "out"), "--send")
        assert code == 0, text
        assert text.index("4 detail checks need an answer") < text.index(
            "Writing the client's copy"
        )
        assert "Sent from me@x.example" in text
    ((_, people, content),) = inbox.arrived
    assert people == ["client@x.example"]
    message = email.message_from_bytes(content, policy=SMTP)
    for attached in message.iter_attachments():
        name = attached.get_filename()
        assert attached.get_payload(decode=True) == (tmp_path / "out" / str(name)).read_bytes()


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--send", "--settings", "none.toml"], "none.toml: found nothing"),
        (["--revision", "A"], "one not used yet"),
        (["--revision", "a mark far too long"], "1 to 12 characters"),
        (["--since", "none.xlsx"], "none.xlsx: found nothing"),
        (["--to", "nobody", "--from", "me@x.example"], "found 'nobody'"),
    ],
)
def test_what_cannot_be_issued_leaves_nothing(
    job: Path, tmp_path: Path, more: list[str], said: str
) -> None:
    before = job.read_bytes()
    code, text = run("issue", str(job), "--out", str(tmp_path / "out"), *more)
    assert code == 2
    assert said in text
    assert not (tmp_path / "out").exists() or not list((tmp_path / "out").iterdir())
    assert job.read_bytes() == before


def planted(path: Path, name: str, inside: str, style: str | None = None) -> None:
    """A named cell's content written by hand, with another cell format if one is given."""
    sheet, address = read_back(path).layout.cell(name)
    parts = with_cell(parts_of(path.read_bytes()), sheet, address.replace("$", ""), inside, None)
    if style is not None:
        part = part_of(parts, sheet)
        tree = etree.fromstring(parts[part])
        (cell,) = tree.xpath(f"//*[@r='{address.replace('$', '')}'][local-name()='c']")
        cell.set("s", style)
        parts[part] = etree.tostring(tree)
    path.write_bytes(packed(parts))


def test_a_percentage_typed_with_its_sign_is_not_a_small_one(job: Path, tmp_path: Path) -> None:
    """20% is stored as 0.2 in a percent format (ISO/IEC 29500-1, 18.8.30, format 9)."""
    parts = parts_of(job.read_bytes())
    styles = etree.fromstring(parts["xl/styles.xml"])
    formats = styles.find("{*}cellXfs")
    etree.SubElement(formats, formats[0].tag).set("numFmtId", "9")
    number = str(len(formats) - 1)
    parts["xl/styles.xml"] = etree.tostring(styles)
    job.write_bytes(packed(parts))
    planted(job, "profit_percent", "<v>0.2</v>", number)
    code, text = run("issue", str(job), "--out", str(tmp_path / "out"))
    assert code == 0, text
    row = read_back(job).job.rows["revisions"][-1]
    assert row["total"] == 3709.97, "the demo's, with its 20 %"


def test_formulas_of_ones_own_are_said_and_not_left_behind_the_times(
    job: Path, tmp_path: Path
) -> None:
    """One that reads other cells cannot be recalculated here: what it reads is not changed."""
    planted(job, "profit_percent", "<f>12+13</f><v>25</v>")
    job.write_bytes(refreshed(read_back(job))[0])
    code, text = run("issue", str(job), "--out", str(tmp_path / "out"))
    assert code == 0, text
    assert "a formula of your own, =12+13, gives 25." in text
    planted(job, "profit_percent", "<f>MAX(Prices!A1:A2)+25</f><v>25</v>")
    returned = read_back(job)
    rows = [dict(r) for r in returned.job.rows["book"]]
    rows[0]["price"] = 1.0
    with pytest.raises(FileError, match="a formula of your own that reads other cells"):
        filled(returned, {"book": rows})


def test_nothing_is_issued_that_cannot_be_recorded(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out, before = tmp_path / "out", job.read_bytes()
    (tmp_path / ".~lock.job.xlsx#").write_text("")
    assert "a file that is open elsewhere" in run("issue", str(job), "--out", str(out))[1]
    assert not out.exists()
    (tmp_path / ".~lock.job.xlsx#").unlink()
    # Saved by someone while the documents are made.
    real = issuing.issue_documents

    def slow(*words: object, **more: object) -> object:
        found = real(*words, **more)  # type: ignore[arg-type]
        job.write_bytes(before + b" ")
        return found

    monkeypatch.setattr(issuing, "issue_documents", slow)
    code, text = run("issue", str(job), "--out", str(out), "--from", "me@x.example")
    assert code == 2
    assert "a file that was saved meanwhile" in text
    assert not out.exists()
    assert job.read_bytes() == before + b" "


def test_a_job_file_is_not_issued(tmp_path: Path) -> None:
    code, text = run("issue", str(DEMO_JOB), "--out", str(tmp_path / "out"))
    assert code == 2
    assert "a workbook (.xlsx), in which the issue is recorded" in text


@pytest.mark.host
def test_a_pdf_that_was_missed_is_made_by_the_line_that_was_printed(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """LibreOffice is not there while issuing; the printed line is then run as a person would."""
    out = tmp_path / "what's sent"
    with monkeypatch.context() as patch:
        patch.setattr(pdf, "PROGRAMS", ())
        code, text = run("issue", str(job), "--out", str(out))
    assert code == 0, text
    assert list(out.glob("*.pdf")) == []
    (line,) = [t for t in text.splitlines() if "--convert-to" in t]
    need("soffice")
    home = {**os.environ, "HOME": str(tmp_path)}  # a profile in which nothing is open
    subprocess.run(["sh", "-c", line], check=True, capture_output=True, timeout=180, env=home)
    for of in ("Quotation", "Site sheet"):
        (made,) = out.glob(f"{of}*.pdf")
        assert made.read_bytes().startswith(b"%PDF-")
        assert made.stem == next(out.glob(f"{of}*.xlsx")).stem


@pytest.mark.parametrize("was_there", [False, True])
def test_an_issue_that_fails_leaves_no_new_folder(
    job: Path, tmp_path: Path, was_there: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    if was_there:
        out.mkdir()

    def fails(*_: Any, **__: Any) -> None:
        raise FileError(str(out), "no room", "a disk with room")

    monkeypatch.setattr(issuing, "issue_documents", fails)
    before = job.read_bytes()
    code, text = run("issue", str(job), "--out", str(out))
    assert code == 2, text
    assert "no room" in text
    assert out.exists() == was_there
    assert job.read_bytes() == before


@pytest.mark.own_office
def test_nothing_is_said_of_a_pdf_that_is_there(job: Path, tmp_path: Path) -> None:
    code, text = run("issue", str(job), "--out", str(tmp_path / "out"))
    assert code == 0, text
    assert list((tmp_path / "out").glob("*.pdf"))
    assert "--convert-to" not in text


def warned(*words: str) -> list[str]:
    """What an issue says beside what was asked for: the lines on standard error."""
    result = CliRunner().invoke(main, ["issue", *words], env={"ESTIMATOR_SMTP_FROM": ""})
    assert result.exit_code == 0, result.output
    return result.stderr.splitlines()


def test_what_detail_checks_ask_is_said_before_it_goes_out(job: Path, first: FirstIssue) -> None:
    """The demo is 10 mm short of a DPC height, and leaves three figures to the designer."""
    said = first.warnings
    at = said.index("4 detail checks need an answer. The quote goes out all the same:")
    first = said[at + 1]
    assert re.fullmatch(
        r"  Guidance, row \d+: DPC above finished ground: short; given 140 mm, asked 150 mm by .*",
        first,
    )
    row = re.search(r"row (\d+)", first)
    assert row is not None
    sheet = load_workbook(job)["Guidance"]
    assert "DPC above finished ground" in [c.value for c in sheet[int(row[1])]]
    assert sum(line.startswith("  Guidance, row") for line in said) == 4
    result = CliRunner().invoke(main, ["check", str(job)])
    asking = [
        t for t in result.output.splitlines() if t and not t.startswith((" ", "meets", "not a"))
    ]
    assert len(asking) == 4 + 2, "as the command check says, how many more, and its caution"


def test_more_than_eight_are_counted(capsys: pytest.CaptureFixture[str]) -> None:
    warn_listing("Of these:", [f"thing {n}" for n in range(1, 12)], "estimator check 'a job.xlsx'")
    out, error = capsys.readouterr()
    assert out == ""
    assert error.splitlines() == [
        "Of these:",
        *(f"  thing {n}" for n in range(1, 9)),
        "  and 3 more: estimator check 'a job.xlsx'",
    ]
    warn_listing("Of these:", ["one"] * 8, "nowhere")
    assert "more" not in capsys.readouterr().err


def test_an_old_date_is_said_and_does_not_refuse(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The demo is dated 2 March 2026 and stands for 30 days: to 1 April."""
    new, given = job.read_bytes(), given_job(job)

    def said(day: date, work: Callable[[], object]) -> list[str]:
        monkeypatch.setattr(before_issue, "today", lambda: day)
        work()
        return [t for t in capsys.readouterr().err.splitlines() if " is dated " in t]

    def told() -> None:
        before_issue.warn_before_issue(given, Issue("B", "2 March 2026"), job)

    assert said(date(2026, 4, 1), told) == []
    (to_come,) = said(date(2026, 3, 1), told)
    issues = ["issue", str(job), "--out", str(tmp_path / "out")]
    (old,) = said(date(2026, 4, 2), lambda: main(issues, standalone_mode=False))
    job.write_bytes(new)
    issues = ["issue", str(job), "--out", str(tmp_path / "dated"), "--date", "2 April 2026"]
    assert said(date(2026, 4, 2), lambda: main(issues, standalone_mode=False)) == []
    assert [*(tmp_path / "dated").glob("Quotation*.xlsx")], "an issue, and nothing said of its date"
    assert "'30 days from the date above', which ended on 1 April 2026, 1 day ago" in old
    assert "which is still to come" in to_come


def test_an_order_to_a_supplier_without_a_name_is_said_once(
    first: FirstIssue, tmp_path: Path
) -> None:
    """The demo's first supplier called as a new job calls it: its order is written all the same."""
    for path in DEMO_JOB.parent.glob(f"{DEMO_JOB.stem}*"):
        text = path.read_text("utf-8").replace(FERNBANK, "Supplier 1")
        (tmp_path / path.name).write_text(text, "utf-8")
    job = tmp_path / "job.xlsx"
    job.write_bytes(laid_out(estimate(read_job(tmp_path / DEMO_JOB.name), ROOM), ROOM)[1])
    words = ["issue", str(job), "--out", str(tmp_path / "out"), "--dry-run"]
    result = CliRunner().invoke(main, words, env={"ESTIMATOR_SMTP_FROM": ""})
    assert result.exit_code == 0, result.output
    named = [t for t in result.stderr.splitlines() if "the name with which a new job begins" in t]
    assert len(named) == 1
    assert named[0].startswith('"Supplier 1" is ')
    assert "list of suppliers" in named[0], "where its own name is typed"
    assert not [t for t in first.warnings if "new job begins" in t]
    written = [t for t in result.stdout.splitlines() if t.endswith("(yours)")]
    assert any("Supplier 1" in t for t in written), "its order list"


def test_what_only_profit_has_made_dearer_is_said(first: FirstIssue, tmp_path: Path) -> None:
    """A markup of 30 % instead of 20 %, and a wider opening: £31.50 × 14 is £441, so £529.20 and
    £573.30. Lines of other quantities have a reason that the client sees; labour carries no profit.
    """
    job = first.copied(tmp_path)
    returned = read_back(job)
    row = returned.layout.typed("openings").first
    changed = with_typed(returned, {("openings", row, "lintel"): 6.0}, {"profit_percent": 30})
    new = refreshed(changed)[0]
    job.write_bytes(new)
    since = ("--since", str(tmp_path / "job issued B.xlsx"))
    sums = warned(str(job), "--out", str(tmp_path / "c"), *since)
    assert not any("The client will see" in t for t in sums)
    job.write_bytes(new)  # as it was before revision C
    counted = warned(str(job), "--out", str(tmp_path / "d"), *since, "--level", "quantities")
    (at,) = [n for n, t in enumerate(counted) if t.startswith("The client will see that ")]
    assert "more since revision B with nothing else changed: only your markup" in counted[at]
    assert counted[at + 1] == (
        "  Ground floor, Crushed hardcore, loose, by the tonne: £573.30 (14 × 1 t), "
        "was £529.20 (14 × 1 t): £44.10 more."
    )
    assert re.fullmatch(
        r"  and \d+ more: estimator changes '.*job issued B.xlsx' .*job.xlsx", counted[at + 9]
    )
    assert not any(t.startswith("  Work on site") for t in counted)
