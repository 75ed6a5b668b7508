"""Commands that hand a job's figures to others: bill, calendar, export."""

from pathlib import Path

import click

from ..documents import safe_csv
from ..documents.document import document
from ..errors import FileError
from ..exports.bill import Billing, bill_of_quantities, csv_rows
from ..exports.order_files import order_files
from ..files.keeping import write_whole
from ..files.resources import BILL_TEMPLATE, BILL_TO_PRICE_TEMPLATE
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


def export(job: Path, orders: Path | None, overwrite: bool) -> None:
    """Write a job's orders for other programs to read."""
    if orders is None:
        raise click.UsageError("Say what to write: --orders FOLDER.")
    given = given_job(job)
    say_differences(given)
    files: dict[Path, bytes] = {}
    if orders is not None:
        files |= {orders / name: data for name, data in order_files(given.ledger).items()}
        orders.mkdir(parents=True, exist_ok=True)
    for path in files:
        may_write(path, overwrite, path.suffix)
    for path, data in files.items():
        write_whole(path, data, new=not overwrite)
        click.echo(str(path))
    if not files:
        click.echo("This job orders nothing: no file was written.")
