"""Commands that hand a job's figures to others: bill, calendar, export."""

import json
from datetime import UTC, datetime
from pathlib import Path

import click

from ..documents import safe_csv
from ..documents.document import document
from ..errors import FileError, JobError
from ..exports import icalendar
from ..exports.bill import Billing, bill_of_quantities, csv_rows
from ..exports.figures import figures
from ..exports.hold_days import hold_days
from ..exports.order_files import order_files
from ..files.keeping import write_whole
from ..files.resources import BILL_TEMPLATE, BILL_TO_PRICE_TEMPLATE
from ..model.plan import PLANNED_DAYS
from .given import given_job, say_differences
from .manners import may_write

_BILLS = (".xlsx", ".csv")


def bill(job: Path, out: Path, priced: bool, overwrite: bool) -> None:
    """Write a bill of quantities: net, by stage and element. No prices, packs or wastage."""
    if out.suffix.lower() not in _BILLS:
        raise FileError("--out", str(out), "a name ending in .xlsx or .csv")
    may_write(out, overwrite, out.suffix)
    given = given_job(job)
    say_differences(given)
    found = bill_of_quantities(priced).ledger(Billing(given.ledger))
    if out.suffix.lower() == ".csv":
        data = safe_csv.written(csv_rows(found))
    else:
        template = BILL_TO_PRICE_TEMPLATE if priced else BILL_TEMPLATE
        data = document(found, template, out.stem).as_file()
    write_whole(out, data, new=not overwrite)
    items, others = (len(found.rows[name]) for name in ("bill_items", "not_billed"))
    click.echo(f"{out}: {items} items, and {others} that are measured and not to be priced here.")


def export(job: Path, figures_file: Path | None, orders: Path | None, overwrite: bool) -> None:
    """Write a job's figures, or its orders, for other programs to read."""
    if figures_file is None and orders is None:
        raise click.UsageError("Say what to write: --json FILE, --orders FOLDER, or both.")
    given = given_job(job)
    say_differences(given)
    files: dict[Path, bytes] = {}
    if figures_file is not None:
        found = json.dumps(figures(given.ledger), indent=1, ensure_ascii=False, allow_nan=False)
        files[figures_file] = f"{found}\n".encode()
        may_write(figures_file, overwrite, ".json", "--json")
    if orders is not None:
        lists = order_files(given.ledger)
        orders.mkdir(parents=True, exist_ok=True)
        files |= {orders / name: data for name, data in lists.items()}
    for path in files:
        may_write(path, overwrite, path.suffix)
    for path, data in files.items():
        write_whole(path, data, new=not overwrite)
        click.echo(str(path))
    if not files:
        click.echo("This job orders nothing: no file was written.")


def calendar(job: Path, out: Path, overwrite: bool) -> None:
    """Write the planned days of hold points as a calendar file (.ics)."""
    may_write(out, overwrite, ".ics")
    given = given_job(job)
    say_differences(given)
    events = hold_days(given.ledger)
    if not events:
        raise JobError(
            job.name,
            "no planned day at any hold point",
            "a day, as 2026-03-02, typed beside a hold point on Site"
            " (in a job file: day_foundations and the like under [job])",
        )
    write_whole(out, icalendar.calendar(events, datetime.now(UTC)), new=not overwrite)
    click.echo(f"{out}: {len(events)} of {len(PLANNED_DAYS)} hold points have a planned day.")
