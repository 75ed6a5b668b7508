"""The command that issues a job: documents, an e-mail draft, and a record in the workbook."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from ..changes import client_changes
from ..errors import FileError, JobError, MailError
from ..issued import REVISIONS
from ..issuing.issue import GROUPED, LEVELS, Earlier, Issue, Issued, Order
from ..issuing.package import issue_documents
from ..issuing.pdf import by_hand
from ..issuing.replacing import ORDER, replaced
from ..mail.letters import fill
from ..mail.message import address, attachment, draft
from ..package.keeping import free_name, refuse_open_elsewhere, replace_keeping, write_whole
from ..resources import LETTERS
from ..returned.filling import filled
from ..revisions import digest, revision_row
from ..rules.evaluate import Ledger
from .before_issue import warn_before_issue, warn_of_profit
from .figures import money
from .given import Given, given_job, is_workbook, say_differences
from .mailing import DRY_RUN, SEND, SENDER, SETTINGS, Message, mail_settings, own_address, send_all
from .manners import in_one_sentence, warn


@click.command()
@click.argument("job", type=click.Path(path_type=Path, dir_okay=False))
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    required=True,
    help="Folder for the documents; it is made if it is not there.",
)
@click.option(
    "--level",
    type=click.Choice(LEVELS),
    default=GROUPED,
    show_default=True,
    help="What the client sees: sums of stages, lines with prices, or quantities too.",
)
@click.option("--revision", help="Its mark.  [default: the next letter]")
@click.option("--date", "issued_on", help="As it is printed.  [default: the date on the Job sheet]")
@click.option(
    "--since",
    type=click.Path(path_type=Path, dir_okay=False),
    help="An earlier state of the job; the quote then says what has changed.",
)
@click.option("--to", "to", multiple=True, help="The client's e-mail address.")
@SENDER
@SEND
@DRY_RUN
@SETTINGS
@in_one_sentence
def issue(
    job: Path,
    out: Path,
    level: str,
    revision: str | None,
    issued_on: str | None,
    since: Path | None,
    to: tuple[str, ...],
    sender: str | None,
    sending: bool,
    dry_run: bool,
    settings_file: Path | None,
) -> None:
    """Issue a workbook's quote: the client's copy, its PDF, order lists, the sheet for site, a draft.

    The issue is recorded in the workbook; the file as it was issued from is kept beside it.
    """
    settings = mail_settings(settings_file, sending or dry_run)
    if (sending or dry_run) and not to:
        raise MailError("--to", None, "the client's address", "nothing was sent to anyone")
    refuse_open_elsewhere(job)
    given = _read(job)
    ledger = given.ledger
    row = revision_row(given.job, ledger, issued_on or str(ledger.cell("quote_date")))
    if revision is not None:
        _refuse_used(given, revision)
        row["revision"] = revision
    sender = own_address(sender, settings)
    for one in (*to, *([sender] if sender else [])):
        address(one, "--from" if one is sender else "--to")
    recorded = _recorded(given, row)
    old = None if since is None else _issued_before(given, since)
    changes, changed_since = _changes(given, old, level)
    earlier = [Earlier(r["revision"], r["date"]) for r in given.job.rows[REVISIONS.name]]
    planned = Issue(row["revision"], row["date"], level, changes, changed_since, earlier)
    if sender is not None:
        _draft(ledger, planned, sender, to, ())  # what cannot be said is found before all else
    warn_before_issue(given, planned, job)
    if old is not None and since is not None:
        warn_of_profit(old[0], given, planned, (since, job))
    _make_folder(out)
    issued = issue_documents(ledger, planned, out, lambda text: click.echo(f"  {text}"), warn=warn)
    kept = job.with_name(f"{job.stem} issued {row['revision']}{job.suffix}")
    written = list(issued.files)
    try:
        message = None
        if sender is not None:
            content = _draft(ledger, planned, sender, to, issued.for_client)
            draft_file = free_name(out / f"{issued.quote.stem}.eml")
            written.append(draft_file)
            write_whole(draft_file, content)
            message = Message(draft_file.name, content, to)
            for order in issued.orders:
                content = _order_draft(ledger, planned, sender, order)
                draft_file = free_name(order.workbook.with_suffix(".eml"))
                written.append(draft_file)
                write_whole(draft_file, content)
        assert given.returned is not None
        kept = replace_keeping(job, recorded, kept, given.returned.sheets.package.data)
    except BaseException:
        for path in written:  # nothing is issued that is not recorded
            path.unlink(missing_ok=True)
        raise
    _say(issued, out, message, job, kept, row["revision"])
    if message is not None and settings is not None and (sending or dry_run):
        send_all([message], settings, dry_run)


def _read(path: Path) -> Given:
    if not is_workbook(path):
        raise FileError(
            str(path), "a job file", "a workbook (.xlsx), in which the issue is recorded"
        )
    given = given_job(path)
    say_differences(given)
    if given.different:
        count = len(given.different)
        raise FileError(
            str(path),
            f"{count} place(s) that differ from what is worked out",
            "a workbook that shows what will be issued: estimator workbook brings it up to date",
        )
    return given


def _refuse_used(given: Given, revision: str) -> None:
    used = [str(r["revision"]) for r in given.job.rows[REVISIONS.name]]
    if revision.lower() in (u.lower() for u in used):
        raise JobError("--revision", revision, "a mark not used yet; used are " + ", ".join(used))


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


def _say(
    issued: Issued, out: Path, message: Message | None, job: Path, kept: Path, revision: str
) -> None:
    click.echo(f"\nRevision {revision} in {out}:")
    for path in issued.files:
        whose = "to the client" if path in issued.for_client else "yours"
        click.echo(f"  {path.name} ({whose})")
    if message is None:
        click.echo("  No e-mail draft: it needs your own address, by --from.")
    else:
        click.echo(f"  {message.name} (a draft, not sent)")
        count = len(issued.orders)
        if count:
            drafts = "a draft for each order list" if count > 1 else "a draft for the order list"
            click.echo(f"  {drafts}, under its name (never sent from here)")
    click.echo(f"Recorded in {job.name}; as it was issued from, it is kept as {kept.name}.")
    if issued.pdf is None:
        joined = "" if message is None else ", to be attached to the draft"
        warn(
            "The PDF is missing. Where LibreOffice is installed and not open, this makes it"
            f"{joined}:\n"
            f"  {by_hand(issued.quote)}"
        )
