"""The command that issues a job: documents, an e-mail draft, and a record in the workbook."""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import click

from ..documents.heads import ORDER, replaced
from ..documents.issue import Earlier, Issue, Issued, Order
from ..documents.journal import settle, staging_of, sweep, write_down
from ..documents.pdf import by_hand
from ..documents.writing import Drafts, issue_documents, refuse_taken
from ..errors import FileError, IssueError, JobError, MailError, so_many
from ..files.keeping import free_name, locked, refuse_open_elsewhere, replace_locked
from ..files.resources import LETTERS
from ..language.ledger import Ledger
from ..mail.letters import fill
from ..mail.message import address, attachment, draft
from ..model.issued import REVISIONS
from ..revisions.changes import client_changes
from ..revisions.digest import digest, revision_row
from ..workbook.filling import filled
from .before_issue import warn_before_issue, warn_of_profit
from .figures import money
from .given import Given, given_job, is_workbook, say_differences
from .mailing import Message, mail_settings, own_address, send_all
from .manners import warn


def issue(
    job: Path,
    out: Path,
    level: str,
    revision: str | None,
    issued_on: str | None,
    since: Path | None,
    again: bool,
    to: tuple[str, ...],
    sender: str | None,
    sending: bool,
    dry_run: bool,
    settings_file: Path | None,
) -> None:
    """Issue a workbook's quote: client's copy, order lists, sheet for site, PDFs, drafts.

    The issue is recorded in the workbook. A copy from before the issue is kept beside it.
    """
    settings = mail_settings(settings_file, sending)
    if sending and not to:
        raise MailError("--to", None, "the client's e-mail address", "nothing was sent to anyone")
    sender = own_address(sender, settings)
    for one in (*to, *([sender] if sender else [])):
        address(one, "--from" if one is sender else "--to")
    _refuse_no_workbook(job)
    refuse_open_elsewhere(job)
    asked = (level, revision, issued_on, since, to, sender, again)
    if dry_run:
        message = _issue(job, out, *asked, dry_run=True)
    else:
        with locked(job):
            settle(job, warn)
            sweep(job, out)
            message = _issue(job, out, *asked)
    if message is not None and settings is not None and (sending or (dry_run and to)):
        send_all([message], settings, dry_run)


def _issue(
    job: Path,
    out: Path,
    level: str,
    revision: str | None,
    issued_on: str | None,
    since: Path | None,
    to: Sequence[str],
    sender: str | None,
    again: bool,
    dry_run: bool = False,
) -> Message | None:
    """Write and record one issue of a workbook that is locked; the message to the client.

    A dry run does all of it in a folder of its own that it takes away again, and records nothing.
    """
    given = _read(job)
    ledger = given.ledger
    row = revision_row(given.job, ledger, issued_on or str(ledger.cell("quote_date")))
    rows = list(given.job.rows[REVISIONS.name])
    last = _unchanged(rows, row)
    if again:
        row = _once_more(job, last, revision, issued_on, since)
        rows.pop()
    elif last is not None:
        raise IssueError(
            str(job),
            f"nothing that has changed since revision {last['revision']}, {last['date']}",
            "a change, or --again to write that revision's documents once more",
        )
    if revision is not None:
        _refuse_used(given, revision)
        row["revision"] = revision
    recorded = None if again else _recorded(given, row)
    old = None if since is None else _issued_before(given, since)
    changes, changed_since = _changes(given, old, level)
    earlier = [Earlier(r["revision"], r["date"]) for r in rows]
    planned = Issue(row["revision"], row["date"], level, changes, changed_since, earlier)
    if sender is not None:
        _draft(ledger, planned, sender, to, ())  # what cannot be said is found before all else
    warn_before_issue(given, planned, job)
    if old is not None and since is not None:
        warn_of_profit(old[0], given, planned, (since, job))
    is_new = not out.exists()
    if not dry_run:
        _make_folder(out)
    assert given.returned is not None
    was = given.returned.sheets.package.data
    kept = free_name(job.with_name(f"{job.stem} issued {row['revision']}{job.suffix}"))
    content: list[bytes] = []

    def drafts(issued: Issued) -> dict[str, bytes]:
        if sender is None:
            return {}
        content.append(_draft(ledger, planned, sender, to, issued.for_client))
        orders = {
            f"{o.workbook.stem}.eml": _order_draft(ledger, planned, sender, o)
            for o in issued.orders
        }
        return {f"{issued.quote.stem}.eml": content[0], **orders}

    def note(files: Mapping[Path, Path], staging: Path) -> None:
        if recorded is not None:
            write_down(job, row["revision"], recorded, files, {kept: was}, staging)

    if dry_run:
        issued = _tried(ledger, planned, out, drafts)
        message = Message(issued.drafts[0].name, content[0], to) if content else None
        _say_tried(issued, out, row["revision"], job, None if recorded is None else kept)
        return message
    try:
        issued = issue_documents(
            ledger, planned, out, lambda text: click.echo(f"  {text}"), warn=warn,
            drafts=drafts, note=note, staging_name=staging_of(job),
        )  # fmt: skip
        if recorded is not None:
            kept = replace_locked(job, recorded, kept, was)
    except BaseException:
        settle(job, lambda _: None)  # nothing is issued that is not recorded
        if is_new:
            with suppress(OSError):  # where something is in it, it stays
                out.rmdir()
        raise
    settle(job, lambda _: None)
    message = Message(issued.drafts[0].name, content[0], to) if content else None
    _say(issued, out, message, row["revision"])
    if recorded is None:
        click.echo(f"This revision was recorded before: {job.name} is not changed.")
    else:
        click.echo(
            f"Recorded in {job.name}. The workbook from before the issue is kept as {kept.name}."
        )
    return message


def _tried(ledger: Ledger, planned: Issue, out: Path, drafts: Drafts) -> Issued:
    """The documents as they would be issued, none of them left behind. Raises as issuing does."""
    if out.exists() or not out.parent.is_dir():
        _make_folder(out)  # says what is wrong with it; one that is there is left as it is
    with TemporaryDirectory() as folder:
        issued = issue_documents(
            ledger, planned, Path(folder), lambda _: None, warn=warn, drafts=drafts
        )
    refuse_taken(out / path.name for path in issued.files)
    return issued


def _say_tried(issued: Issued, out: Path, revision: str, job: Path, kept: Path | None) -> None:
    click.echo(
        f"A dry run: nothing was written or recorded. Revision {revision} would be in {out}:"
    )
    for path in (*issued.files, *issued.drafts):
        whose = "to the client" if path in issued.for_client else "yours"
        click.echo(f"  {path.name} ({whose})")
    if kept is None:
        click.echo(f"This revision was recorded before: {job.name} would not be changed.")
    else:
        click.echo(f"It would be recorded in {job.name}, and {kept.name} would be kept beside it.")


def _unchanged(
    rows: Sequence[Mapping[str, Any]], row: Mapping[str, Any]
) -> Mapping[str, Any] | None:
    """The last revision, where nothing that was typed has changed since, nor the total."""
    if not rows:
        return None
    last = rows[-1]
    same = last.get("digest") == row["digest"] and last.get("total") == row["total"]
    return last if same else None


def _once_more(
    job: Path,
    last: Mapping[str, Any] | None,
    revision: str | None,
    issued_on: str | None,
    since: Path | None,
) -> dict[str, Any]:
    """The revision whose documents are written again. Raises IssueError where there is none."""
    if last is None:
        found = "a job that has changed since its last issue, or was not issued yet"
        raise IssueError(str(job), found, "--again only for a job that is as it was issued")
    for option, given in (("--revision", revision), ("--date", issued_on), ("--since", since)):
        if given is not None:
            raise IssueError(option, str(given), "none with --again: the revision is as it was")
    return dict(last)


def _refuse_no_workbook(path: Path) -> None:
    if not is_workbook(path):
        raise FileError(
            str(path), "a job file", "a workbook (.xlsx), in which the issue is recorded"
        )
    if not path.exists():
        raise FileError(str(path), None, "a file that exists")


def _read(path: Path) -> Given:
    given = given_job(path)
    say_differences(given)
    if given.different:
        count = len(given.different)
        raise FileError(
            str(path),
            f"{so_many(count, 'place')} unlike what is worked out",
            "a workbook that shows what will be issued: estimator workbook brings it up to date",
        )
    return given


def _refuse_used(given: Given, revision: str) -> None:
    used = [str(r["revision"]) for r in given.job.rows[REVISIONS.name]]
    if revision.lower() in (u.lower() for u in used):
        raise JobError("--revision", revision, "one not used yet; used are " + ", ".join(used))


def _recorded(given: Given, row: dict[str, Any]) -> bytes:
    """The workbook's file with the issue in its list of revisions. Raises FileError when it is full."""
    assert given.returned is not None
    rows = [*given.job.rows[REVISIONS.name], row]
    return filled(given.returned, {REVISIONS.name: rows})


def _issued_before(given: Given, since: Path) -> tuple[Given, str]:
    """An earlier state of the job, and which revision it was.

    Raises FileError for one that was not issued.
    """
    old = given_job(since)
    say_differences(old)
    rows = given.job.rows[REVISIONS.name]
    of = digest(old.job)
    found = [str(r["revision"]) for r in rows if r.get("digest") == of]
    if not found:
        issued = ", ".join(str(r["revision"]) for r in rows if r.get("digest")) or "none yet"
        accepted = f"a state that was issued, by the digests on {REVISIONS.title}: {issued}"
        raise FileError(str(since), f"digest {of}", accepted)
    return old, found[-1]


def _changes(
    given: Given, before: tuple[Given, str] | None, level: str
) -> tuple[Sequence[str], str]:
    """What the client is told of the changes, and since which revision."""
    if before is None:
        return (), ""
    old, revision = before
    told = client_changes(old.ledger, given.ledger, old.job, given.job, level)
    return told, revision if told else ""


def _make_folder(out: Path) -> None:
    try:
        out.mkdir(exist_ok=True)
    except OSError as error:
        raise FileError(str(out), error.strerror, "a folder that can be written to") from None


def _draft(
    ledger: Ledger, planned: Issue, sender: str, to: Sequence[str], files: Sequence[Path]
) -> bytes:
    """The draft to the client, with those files. Raises MailError for what a message cannot say."""
    words = fill(
        "quote",
        LETTERS,
        {
            **{n: str(ledger.cell(n)) for n in ("client_name", "job_title", "prepared_by")},
            "site_address": str(ledger.cell("site_address")),
            "document": str(ledger.cell("document_word")),
            "promise": str(ledger.cell("document_promise")),
            "quote_date": planned.date,
            "revision": f"revision {planned.revision}",
            "valid_until": f"Valid: {ledger.cell('quote_valid')}",
            "total": money(ledger.cell("quote_total")),
            "total_label": str(ledger.cell("vat_total_label")),
            "attachments": ", ".join(p.name for p in files),
        },
    )
    attached = [attachment(p) for p in files]
    return draft(to, sender, words.subject, words.text, words.html, attached)


def _order_draft(ledger: Ledger, planned: Issue, sender: str, order: Order) -> bytes:
    """The draft that an order list goes out with; no command sends it, and nobody is addressed.

    Raises MailError for what a message cannot say.
    """
    words = fill(
        "order",
        LETTERS,
        {
            "supplier": order.supplier,
            "prepared_by": str(ledger.cell("prepared_by")),
            "reference": f"{ledger.cell('job_title')}, revision {planned.revision}",
            "deliver_to": str(ledger.cell("site_address")),
            "replaces": replaced(planned, ORDER),
            "attachments": order.workbook.name,
        },
    )
    attached = [attachment(order.workbook)]
    return draft((), sender, words.subject, words.text, words.html, attached)


def _say(issued: Issued, out: Path, message: Message | None, revision: str) -> None:
    click.echo(f"\nRevision {revision} in {out}:")
    for path in issued.files:
        whose = "to the client" if path in issued.for_client else "yours"
        click.echo(f"  {path.name} ({whose})")
    if message is None:
        click.echo("  No e-mail draft was written: give your own address with --from.")
    else:
        click.echo(f"  {message.name} (a draft, not sent)")
        count = len(issued.orders)
        if count:
            drafts = "a draft for each order list" if count > 1 else "a draft for the order list"
            click.echo(f"  {drafts}, under its name (never sent from here)")
    if issued.pdf is None:
        joined = "" if message is None else ", the quote's to be attached to the draft"
        warn(
            "The PDFs are missing. Where LibreOffice is installed and not open, this makes them"
            f"{joined}:\n"
            f"  {by_hand((issued.quote, issued.site))}"
        )
