"""Commands that ask suppliers for prices and read what comes back: request, prices."""

import re
import sys
from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any

import click

from ..documents.price_requests.asked import Request, district, requests
from ..documents.price_requests.effect import effect
from ..documents.price_requests.fields import NOT_AGREED
from ..documents.price_requests.first_prices import far_off, first_prices
from ..documents.price_requests.merging import Merge, merge, merged
from ..documents.price_requests.returned import read_returned
from ..documents.price_requests.stamping import workbook_of
from ..errors import FileError, JobError, MailError
from ..files.keeping import write_whole
from ..files.resources import LETTERS
from ..language.ledger import Ledger, is_available
from ..mail.letters import fill
from ..mail.message import Attachment, draft
from ..mail.settings import ENVIRONMENT
from ..model.estimate import estimate
from ..model.job import Job, checked_text
from ..workbook.filling import filled
from .figures import as_given
from .given import Given, given_job, say_differences
from .mailing import Message, mail_settings, own_address, send_all, warn_of_name
from .manners import FINDINGS, print_json
from .updating import put


def request(
    job: Path, out: Path, whole_list: bool, deliver_to: str | None, sender: str | None,
    to: tuple[str, ...], template: Path, overwrite: bool, sending: bool, dry_run: bool,
    settings_file: Path | None,
) -> None:  # fmt: skip
    """Write for each supplier a workbook to be filled in with prices, and an e-mail draft.

    With --send the drafts are sent too. Every supplier then needs an address.
    """
    settings = mail_settings(settings_file, sending)
    read = given_job(job)
    say_differences(read)
    given, ledger = read.job, read.ledger
    asked = requests(given, ledger, whole_list)
    addresses = _addresses(to, [r.supplier for r in asked])
    if sending:
        for one in asked:
            if one.supplier not in addresses:
                raise MailError("--to", None, f"an e-mail address for {one.supplier}")
    sender = own_address(sender, settings)
    place = _delivered_to(given, deliver_to)
    by = given.particulars.get("prepared_by") or ""
    files: dict[str, bytes] = {}
    messages: list[Message] = []
    for one, stem in zip(asked, _stems(asked), strict=True):
        files[f"{stem}.xlsx"] = book = workbook_of(one, by, place, template)
        if sender:
            people = addresses.get(one.supplier, [])
            attached = Attachment(f"{stem}.xlsx", book)
            files[f"{stem}.eml"] = content = _draft(one, attached, sender, people, by, place)
            messages.append(Message(f"{stem}.eml", content, people))
    if files:
        _refuse_taken(out, files, overwrite)
    if files and not dry_run:
        _write_all(out, files)
    if files and dry_run:
        click.echo(f"A dry run: nothing was written. It would be in {out}:")
    for one, stem in zip(asked, _stems(asked), strict=True):
        count = f"{len(one.lines)} product{'' if len(one.lines) == 1 else 's'}"
        click.echo(f"{one.supplier}: {count}, request {one.number}, {stem}.xlsx")
    _say_what_lacks(asked, ledger, place, sender)
    warn_of_name(one.supplier for one in asked)
    if settings is not None and (sending or (dry_run and to)):
        send_all(messages, settings, dry_run)


def _delivered_to(job: Job, given: str | None) -> str:
    """Where deliveries go, as suppliers are told."""
    if given is None:
        return district(job.particulars.get("site_address")) or NOT_AGREED
    try:
        return checked_text(given, name=False)
    except ValueError as error:
        raise JobError("--deliver-to", given, str(error)) from None


def _say_what_lacks(asked: list[Request], ledger: Ledger, place: str, sender: str | None) -> None:
    if not asked:
        click.echo("This job orders nothing, so no supplier is asked.")
        return
    if place == NOT_AGREED:
        click.echo("The site's address has no postcode, so no supplier can price the delivery. "
                   "Give a place with --deliver-to.", err=True)  # fmt: skip
    if not sender:
        click.echo(f"No e-mail drafts were written: give your own address with --from or "
                   f"{ENVIRONMENT['from']}.", err=True)  # fmt: skip
    lacking = ledger.cell("needs_uncovered")
    if is_available(lacking) and lacking:
        click.echo(f"{as_given(lacking)} needs have no product on Prices, so no supplier is asked for them.",
                   err=True)  # fmt: skip


def prices(
    job: Path, returned: tuple[Path, ...], changed_since: bool, show: bool, as_json: bool
) -> None:
    """Read the price requests that came back, and put what they change into the workbook.

    The old workbook is kept beside it. A job file is not changed: its prices are in its CSV file.
    Exit code 1 when a row cannot be used.
    """
    read = given_job(job)
    say_differences(read)
    given, ledger = read.job, read.ledger
    asked = [*requests(given, ledger), *requests(given, ledger, whole_list=True)]
    found: list[dict[str, Any]] = []
    refused = False
    for path, answer in [(p, read_returned(p)) for p in returned]:
        merge_of = merge(given, asked, answer, changed_since)
        with_it = merged(given, merge_of)
        after = estimate(with_it)
        merge_of.notices += far_off(first_prices(merge_of, after))
        done = effect(given, merge_of, ledger, after)
        found.append({"file": path.name, **_as_data(merge_of), **done})
        refused = refused or bool(merge_of.refused)
        if not as_json:
            _print(path, merge_of, done["lines"])
        given, ledger = with_it, after
    if as_json:
        print_json(found)
    if not show:
        _put_into(job, read, given, as_json)
    if refused:
        sys.exit(FINDINGS)


def _put_into(path: Path, read: Given, merged_job: Job, quiet: bool) -> None:
    """Put the new prices where they belong, in a workbook."""
    tables = {name: merged_job.rows[name] for name in ("book", "suppliers")}
    if all(list(read.job.rows[name]) == list(rows) for name, rows in tables.items()):
        return
    if read.returned is None:
        click.echo(f"{path.name} is a job file: its prices are left as they are.", err=quiet)
        return
    put(path, None, filled(read.returned, tables), read.returned.sheets.package.data, quiet)


def _as_data(found: Merge) -> dict[str, Any]:
    return {**asdict(found), "changes": [c._asdict() for c in found.changes]}


def _print(path: Path, found: Merge, lines: list[str]) -> None:
    click.echo(f"{path.name}: request {found.number}, {found.supplier}")
    for head, listed in (
        ("Cannot be used, and is left out:", found.refused),
        ("Not answered:", found.left),
        ("To look at:", found.notices),
        ("What changes:", lines),
    ):
        if listed:
            click.echo(f"\n{head}")
            for line in listed:
                click.echo(f"  {line}")
    click.echo()


def _addresses(given: tuple[str, ...], suppliers: list[str]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for text in given:
        supplier, equals, where = text.partition("=")
        if not equals or supplier not in suppliers:
            accepted = "SUPPLIER=ADDRESS, the supplier one of " + ", ".join(suppliers)
            raise MailError("--to", text, accepted)
        found.setdefault(supplier, []).append(where)
    return found


def _stems(asked: list[Request]) -> list[str]:
    """A file's name for each request, made of the supplier's name and the number."""
    stems = []
    for one in asked:
        plain = "-".join(re.findall(r"[A-Za-z0-9]+", one.supplier)).lower()[:40].strip("-")
        stems.append(f"price-request-{plain or 'supplier'}-{one.number.lower()}")
    return stems


def _draft(
    one: Request, attached: Attachment, sender: str, to: list[str], by: str, place: str
) -> bytes:
    words = fill(
        "price_request",
        LETTERS,
        {
            "supplier": one.supplier,
            "reference": one.number,
            "prepared_by": by,
            "deliver_to": place,
            "attachments": attached.name,
        },
    )
    return draft(to, sender, words.subject, words.text, words.html, [attached])


def _refuse_taken(folder: Path, files: Mapping[str, bytes], overwrite: bool) -> None:
    for name in files:
        if (folder / name).exists() and not overwrite:
            raise FileError(str(folder / name), "a file of that name", "a new folder, or --replace")


def _write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write each file whole, once it is known that none is in the way."""
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        raise FileError(str(folder), error.strerror, "a place that can be written to") from None
    for name, content in files.items():
        write_whole(folder / name, content)
