"""One issue of a job: every document written beside, then all moved into place, or none."""

import os
import shutil
import tempfile
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from ..errors import FileError
from ..files.keeping import free_name, place_new
from ..language.ledger import Ledger
from . import names, safe_csv
from .client import client_ledger
from .document import document, write
from .drawings import FOR_CLIENT, FOR_SITE, pictures
from .issue import Issue, Issued, Issuing, Order, Templates
from .journal import STAGING
from .orders import ORDER_LIST, Ordering, csv_rows, ordered_from
from .pdf import beside, to_pdf
from .site_sheet import SITE_SHEET
from .supplier_names import warnings

Say = Callable[[str], None]
Drafts = Callable[[Issued], Mapping[str, bytes]]
Note = Callable[[Mapping[Path, Path], Path], None]


def issue_documents(
    ledger: Ledger,
    issue: Issue,
    folder: Path,
    say: Say,
    templates: Templates | None = None,
    warn: Say | None = None,
    drafts: Drafts | None = None,
    note: Note | None = None,
    staging_name: str = STAGING,
) -> Issued:
    """Write the quote, an order list for each supplier, the sheet for site, and PDFs of quote and
    sheet.

    Raises IssueError while the job has no total, FileError where a file of one of the names is
    there already or the folder cannot be written to, TemplateError for an unfit template. Then
    nothing is left behind. Without LibreOffice there are no PDFs, and `warn` is told so; it is `say`
    where no other is given. `drafts` makes more files of the documents, `note` is told of every
    file before the first is placed.
    """
    warn = warn or say
    templates = templates or Templates()
    client = client_ledger(ledger, issue)  # refuses before anything is touched
    planned = _planned(ledger, issue, folder)
    plans = pictures(ledger, *FOR_CLIENT)
    drawn_words = (text for picture in plans for text in picture.texts())
    planned = replace(planned, warnings=warnings(ledger, client, drawn_words))
    if not folder.is_dir():
        raise FileError(str(folder), None, "a folder that exists")
    refuse_taken((*planned.files, beside(planned.quote), beside(planned.site)))
    for warning in planned.warnings:
        warn(warning)
    try:
        staging = Path(tempfile.mkdtemp(prefix=staging_name, dir=folder))
    except OSError as error:
        raise FileError(str(folder), error.strerror, "a folder that can be written to") from None
    try:
        staged = _planned(ledger, issue, staging)
        say("Writing the client's copy.")
        write(document(client, templates.client, staged.quote.stem, plans), staged.quote)
        for order in staged.orders:
            say(f"Writing the order list for {order.supplier}.")
            listed = ORDER_LIST.ledger(Ordering(ledger, issue, order.supplier))
            write(document(listed, templates.order, order.workbook.stem), order.workbook)
            order.csv.write_bytes(safe_csv.written(csv_rows(listed)))
        say("Writing the sheet for site.")
        site = SITE_SHEET.ledger(Issuing(ledger, issue))
        drawn = pictures(ledger, *FOR_SITE)
        write(document(site, templates.site, staged.site.stem, drawn), staged.site)
        say("Making the PDFs.")
        if to_pdf((staged.quote, staged.site), warn):
            staged, planned = _printed(staged), _printed(planned)
        more = drafts(replace(staged, warnings=planned.warnings)) if drafts else {}
        named = {free_name(folder / name): content for name, content in more.items()}
        for path, content in named.items():
            (staging / path.name).write_bytes(content)
        issued = replace(planned, drafts=tuple(named))
        files = {path: staging / path.name for path in (*issued.files, *issued.drafts)}
        if note:
            note(files, staging)
        _move(files)
    except OSError as error:
        raise FileError(str(folder), error.strerror, "a folder that can be written to") from None
    finally:
        shutil.rmtree(staging, ignore_errors=True)
    return issued


def _planned(ledger: Ledger, issue: Issue, folder: Path) -> Issued:
    """Where each file is to stand; whether there will be PDFs is not known yet."""
    suppliers = ordered_from(ledger)
    job, word = str(ledger.cell("job_title")), str(ledger.cell("document_word"))

    def stem(what: str, whom: str = "") -> str:
        return names.stem(what, job, issue.revision, whom)

    ordered = names.told_apart([stem("Order list", s) for s in suppliers])
    return Issued(
        quote=folder / f"{stem(word)}.xlsx",
        pdf=None,
        orders=tuple(
            Order(supplier, folder / f"{name}.xlsx", folder / f"{name}.csv")
            for supplier, name in zip(suppliers, ordered, strict=True)
        ),
        site=folder / f"{stem('Site sheet')}.xlsx",
        site_pdf=None,
    )


def _printed(issued: Issued) -> Issued:
    """The same with the PDFs that were made."""
    return replace(issued, pdf=beside(issued.quote), site_pdf=beside(issued.site))


def refuse_taken(files: Iterable[Path]) -> None:
    """Raises FileError where a file of one of the names is there already."""
    for path in files:
        if os.path.lexists(path):
            raise FileError(str(path), "a file of that name", "another revision, or another folder")


def _move(files: Mapping[Path, Path]) -> None:
    """Move all into place, or none: a file that has come to stand there meanwhile is kept."""
    moved: list[Path] = []
    try:
        for path, written in files.items():
            place_new(written, path)
            moved.append(path)
    except BaseException:
        for path in moved:
            path.unlink(missing_ok=True)
        raise
