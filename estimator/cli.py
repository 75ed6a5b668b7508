"""The command line: a job file in, a workbook out, and one sentence when something is wrong."""

import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Any

import click

from . import __version__
from .errors import EstimateError, FileError
from .estimate import USUAL_ROOM, estimate
from .guards import COUNTS
from .job_file import read_job
from .resources import DEMO_JOB, JOB_TEMPLATE
from .rules.evaluate import Ledger, is_available
from .workbook.build import build
from .workbook.cached import save

BAD_INPUT = 2


def _in_one_sentence(command: Callable[..., None]) -> Callable[..., None]:
    """A person's mistake ends in one sentence and exit code 2, never in a traceback."""

    @wraps(command)
    def guarded(*args: Any, **options: Any) -> None:
        try:
            command(*args, **options)
        except EstimateError as error:
            click.echo(str(error), err=True)
            sys.exit(BAD_INPUT)

    return guarded


@click.group()
@click.version_option(__version__, prog_name="estimator")
def main() -> None:
    """Damp-proofing materials: taken off, checked and priced in a live workbook."""


@main.command()
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path(),
    show_default="the current folder",
    help="Folder for the workbook.",
)
@_in_one_sentence
def demo(out: Path) -> None:
    """Write the workbook of the invented demo job. A file that is there is left alone."""
    if not out.is_dir():
        raise FileError(str(out), None, "a folder that exists")
    path = _free_name(out, "demo")
    _write(DEMO_JOB, path, JOB_TEMPLATE)
    click.echo("Everything in this job is invented: house, people, suppliers and prices.")


@main.command()
@click.argument("job", type=click.Path(path_type=Path, dir_okay=False))
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The workbook to write.  [default: the job file's name, .xlsx]",
)
@click.option("--replace", is_flag=True, help="Write over a workbook that is there.")
@click.option(
    "--template",
    type=click.Path(path_type=Path, dir_okay=False),
    default=JOB_TEMPLATE,
    show_default="the shipped one",
    help="A restyled template.",
)
@_in_one_sentence
def workbook(job: Path, out: Path | None, replace: bool, template: Path) -> None:
    """Write the workbook of a job file (TOML)."""
    path = out or job.with_suffix(".xlsx")
    if path.suffix != ".xlsx":
        raise FileError("--out", str(path), "a name ending in .xlsx")
    if path.exists() and not replace:
        raise FileError(str(path), "a file of that name", "a new name, or --replace")
    if not path.parent.is_dir():
        raise FileError(str(path.parent), None, "a folder that exists")
    _write(job, path, template)


def _write(job_path: Path, path: Path, template: Path) -> None:
    if not template.is_file():
        raise FileError(str(template), None, "a template that exists")
    job = read_job(job_path)
    ledger = estimate(job, USUAL_ROOM)
    built = build(ledger, template, USUAL_ROOM)
    try:
        save(built.workbook, built.results, path)
    except OSError as error:
        raise FileError(str(path), error.strerror, "a place that can be written to") from None
    click.echo(f"{path} written.")
    _summary(ledger)


def _summary(ledger: Ledger) -> None:
    _quantities(ledger)
    total, net = ledger.cell("quote_total"), ledger.cell("quote_net")
    if is_available(total):
        click.echo(f"\nQuote: £{net:,.2f} without VAT, £{total:,.2f} with VAT.")
        return
    click.echo("\nNo total can be quoted yet:")
    for item in COUNTS:
        count = ledger.cell(item.name)
        if is_available(count) and count:
            click.echo(f"  {item.label}: {count:g}")
    table = ledger.plan.tables["allowances"]
    basis = ledger.cell("basis_choice")
    for n, row in enumerate(ledger.rows[table.name], 1):
        if not is_available(ledger.figure(table.name, n, "in_use")):
            click.echo(
                f"  {basis} states no {row['key']} ({row['label'].lower()}): give the job's own"
                " under [allowances.own]"
            )


def _quantities(ledger: Ledger) -> None:
    columns = ("label", "net", "laid", "ordered", "unit")
    click.echo(f"\n{'':<18}{'net':>10}{'laid':>10}{'ordered':>10}")
    for n in range(1, len(ledger.rows["totals"]) + 1):
        label, net, laid, ordered, unit = (ledger.figure("totals", n, c) for c in columns)
        shown = "".join(_shown(v, unit) for v in (net, laid, ordered))
        click.echo(f"{label:<18}{shown} {unit}")


def _shown(value: Any, unit: str) -> str:
    if not is_available(value):
        return f"{'#N/A':>10}"
    return f"{value:>10.0f}" if unit == "nr" else f"{value:>10.2f}"


def _free_name(folder: Path, stem: str) -> Path:
    path, n = folder / f"{stem}.xlsx", 1
    while path.exists():
        n += 1
        path = folder / f"{stem}-{n}.xlsx"
    return path


if __name__ == "__main__":
    main()
