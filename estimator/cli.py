"""The command line: a job file in, a workbook out, and one sentence when something is wrong."""

import json
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import wraps
from pathlib import Path
from typing import Any

import click

from . import __version__, reports
from .allowances import borrowed
from .asking import ask_all
from .errors import EstimateError, FileError
from .estimate import BLANK_ROOM, USUAL_ROOM, Room, estimate
from .job import blank_job
from .job_file import read_beginning, read_job
from .job_writing import begun_file
from .plan import bases
from .resources import DEMO_JOB, JOB_TEMPLATE
from .rules import whole
from .rules.evaluate import Ledger, is_available
from .workbook.build import build
from .workbook.cached import save
from .workbook.template import not_carried

FINDINGS, BAD_INPUT = 1, 2


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
@click.option("--replace", "overwrite", is_flag=True, help="Write over a workbook that is there.")
@click.option(
    "--template",
    type=click.Path(path_type=Path, dir_okay=False),
    default=JOB_TEMPLATE,
    show_default="the shipped one",
    help="A restyled template.",
)
@_in_one_sentence
def workbook(job: Path, out: Path | None, overwrite: bool, template: Path) -> None:
    """Write the workbook of a job file (TOML)."""
    path = out or job.with_suffix(".xlsx")
    _may_write(path, overwrite)
    _write(job, path, template)


AS_JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON for a program to read.")
JOB_FILE = click.argument("job", type=click.Path(path_type=Path, dir_okay=False))


@main.command()
@JOB_FILE
@AS_JSON
@_in_one_sentence
def quantities(job: Path, as_json: bool) -> None:
    """Print net, laid and ordered quantities, the orders, and the price."""
    ledger = estimate(read_job(job))
    found = reports.quantities(ledger)
    if as_json:
        _print_json(found)
        return
    _summary(ledger)
    others = [r for r in found["lines"] if r["standing"] in ("by others", "excluded") and r["net"]]
    if others:
        click.echo("\nCounted, and not bought here:")
    for row in others:
        click.echo(
            f"  {row['label']:<40}{_figure(row['net'], row['unit'])} {row['unit']}"
            f"  {row['standing']}"
        )
    click.echo("\nTo order:")
    for row in found["orders"]:
        click.echo(
            f"  {row['packs'] or 0:>4.0f} × {row['description']}, {row['supplier']}"
            f" (left {row['left'] or 0:.2f} {row['unit']})"
        )
    if found["work"]:
        click.echo("\nWork, preliminaries and fees, as quoted:")
    for row in found["work"]:
        hours = f" ({row['hours']:.2f} hours)" if row["hours"] else ""
        click.echo(f"  {_pounds(row['amount'])}  {row['description']}{hours}")


@main.command()
@JOB_FILE
@AS_JSON
@_in_one_sentence
def check(job: Path, as_json: bool) -> None:
    """Print every detail check; exit code 1 when any of them asks something of somebody."""
    rows = reports.checks(estimate(read_job(job)))
    if as_json:
        _print_json(rows)
    else:
        for row in rows:
            _print_check(row)
        click.echo("\nThese compare; they do not show that anything meets regulations.")
    if reports.findings(rows):
        sys.exit(FINDINGS)


def _print_check(row: reports.Record) -> None:
    given, asked = (
        "no figure" if v is None or isinstance(v, str) else f"{v:g} {row['unit']}"
        for v in (row["given"], row["asked"])
    )
    click.echo(f"{row['state'] or 'no figure':<18}{row['what']}")
    if row["state"] in reports.QUIET:
        return
    given = "nothing" if row["state"] == "not given" else given
    click.echo(f"{'':<18}given {given}, asked {asked} by {row['by']}")
    stop = "stops: its lines are provisional" if row.get("stops") else ""
    for note in (row["regulation"], row["reason"], stop):
        if note:
            click.echo(f"{'':<18}{note}")


@main.command()
@JOB_FILE
@AS_JSON
@_in_one_sentence
def compare(job: Path, as_json: bool) -> None:
    """Print the whole list from each supplier, and what each basis would order and cost."""
    given = read_job(job)
    ledger = estimate(given)
    chosen = reports.plain(ledger.cell("cost_total"))
    suppliers, by_basis = reports.suppliers(ledger), reports.by_basis(given)
    if as_json:
        _print_json({"chosen": chosen, "suppliers": suppliers, "bases": by_basis})
        return
    click.echo(f"As chosen, without VAT, delivered:     {_pounds(chosen)}")
    click.echo("The whole list from one supplier (tape by the sheet really bought):")
    for row in suppliers:
        note = f", {row['note']}: lacks {row['lacks']:g} needs" if row["note"] else ""
        click.echo(f"  {row['supplier']:<36}{_pounds(row['delivered'])}{note}")
    held = f" ({len(given.override)} overrides held)" if given.override else ""
    click.echo(f"\nThe job by each basis{held}:")
    for n, row in enumerate(by_basis, 1):
        why = row["why"] or row["document"].lower()
        click.echo(f"  {n} {row['basis']:<34}{_pounds(row['total'])} {why}")
    numbers = "".join(f"{f'basis {n}':>12}" for n in range(1, len(by_basis) + 1))
    click.echo(f"\n{'ordered':<36}{numbers}")
    for label in by_basis[0]["ordered"]:
        figures = [r["ordered"][label] for r in by_basis]
        if any(f != 0 for f in figures):
            shown = ("#N/A" if f is None else f"{whole.pence(f):.2f}" for f in figures)
            click.echo(f"{label:<36}" + "".join(f"{s:>12}" for s in shown))


def _pounds(value: float | None) -> str:
    return f"{'no total':>12}" if value is None else f"£{value:>11,.2f}"


def _print_json(found: object) -> None:
    click.echo(json.dumps(found, indent=2, ensure_ascii=False))


@main.command()
@click.option(
    "--basis", required=True, help="Whose guidance: " + ", ".join(b.name for b in bases()) + "."
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    default=Path("new.xlsx"),
    show_default=True,
    help="The workbook to write.",
)
@click.option("--replace", "overwrite", is_flag=True, help="Write over a workbook that is there.")
@click.option("--extension", is_flag=True, help="Ask the one-page form for an extension.")
@click.option(
    "--answers",
    type=click.Path(path_type=Path, dir_okay=False),
    help="With --extension: a small job file that holds the answers, and whatever else is known.",
)
@_in_one_sentence
def new(basis: str, out: Path, overwrite: bool, extension: bool, answers: Path | None) -> None:
    """Write a workbook to fill in: blank, or begun with the one-page form for an extension."""
    _may_write(out, overwrite)
    kept = out.with_suffix(".toml") if extension and answers is None else None
    if kept is not None and kept.exists() and not overwrite:
        raise FileError(str(kept), "a file of that name", "a new name, or --replace")
    if answers is not None and not extension:
        raise FileError("--answers", str(answers), "a file only together with --extension")
    job = blank_job(basis)
    if answers is not None:
        job = read_beginning(answers, basis)
    elif extension:
        asked = ask_all(
            lambda text: str(click.prompt(text, default="", show_default=False)), click.echo
        )
        job = replace(job, particulars={**job.particulars, **asked})
    lent = borrowed(bases(), basis) if extension else {}
    job = replace(job, own={**{k: figure for k, (figure, _) in lent.items()}, **job.own})
    ledger = estimate(job, BLANK_ROOM)
    _save(ledger, out, JOB_TEMPLATE, BLANK_ROOM)
    if kept is not None:
        kept.write_text(begun_file(job), "utf-8")
        click.echo(f"\nThe answers are kept in {kept}, a job file that is begun.")
    if extension:
        _print_beginning(ledger)
        _print_borrowed({k: v for k, v in lent.items() if job.own[k] == v[0]}, basis)
    if is_available(ledger.cell("quote_total")):
        _summary(ledger)
    click.echo(f"\n{out} written. Fill in the shaded cells, the Job sheet first.")


def _may_write(path: Path, overwrite: bool) -> None:
    if path.suffix != ".xlsx":
        raise FileError("--out", str(path), "a name ending in .xlsx")
    if path.exists() and not overwrite:
        raise FileError(str(path), "a file of that name", "a new name, or --replace")
    if not path.parent.is_dir():
        raise FileError(str(path.parent), None, "a folder that exists")


def _save(ledger: Ledger, path: Path, template: Path, room: Room) -> None:
    built = build(ledger, template, room)
    try:
        save(built.workbook, built.results, path)
    except OSError as error:
        raise FileError(str(path), error.strerror, "a place that can be written to") from None


def _write(job_path: Path, path: Path, template: Path) -> None:
    if not template.is_file():
        raise FileError(str(template), None, "a template that exists")
    job = read_job(job_path)
    ledger = estimate(job, USUAL_ROOM)
    _save(ledger, path, template, USUAL_ROOM)
    for what in not_carried(template):
        click.echo(f"Not carried over from {template.name}: {what}.", err=True)
    click.echo(f"{path} written.")
    _summary(ledger)


def _summary(ledger: Ledger) -> None:
    found = reports.quantities(ledger)
    _print_materials(found["materials"])
    price = found["price"]
    if price["quote_total"] is not None:
        word = price["document_word"]
        net, total = price["quote_net"], price["quote_total"]
        label = price["vat_total_label"]
        click.echo(f"\n{word}: £{net:,.2f} before VAT. {label}: £{total:,.2f}.")
        for note in found["notes"]:
            click.echo(f"  {note}")
        return
    click.echo("\nNo total can be quoted yet:")
    for entry in found["against"]:
        count = "not known" if entry["count"] is None else f"{entry['count']:g}"
        click.echo(f"  {entry['what']}: {count}")


def _print_materials(rows: list[reports.Record]) -> None:
    click.echo(f"\n{'':<36}{'net':>10}{'laid':>10}{'ordered':>10}")
    for row in rows:
        if row["net"] == row["ordered"] == 0:
            continue
        shown = "".join(_figure(row[c], row["unit"]) for c in ("net", "laid", "ordered"))
        click.echo(f"{row['label']:<36}{shown} {row['unit']}")


def _print_borrowed(lent: dict[str, tuple[float, str]], basis: str) -> None:
    click.echo(
        f"\n{len(lent)} figures that {basis} does not state are typed in as the job's own, "
        "from another document. Look at each on the Allowances sheet:"
    )
    for key, (figure, whose) in lent.items():
        click.echo(f"  {key:<24}{figure:>8g}  {whose}")


def _print_beginning(ledger: Ledger) -> None:
    """What each roll and pack is for, and what has still to be found out."""
    for material, uses in reports.uses(ledger).items():
        click.echo(f"\n{material}")
        for use in uses:
            more = f" + {use['laps']:.2f} laps and turn-ups" if use["laps"] else ""
            standing = "" if use["standing"] == "firm" else f" ({use['standing']})"
            click.echo(
                f"  {use['label']:<40}{_figure(use['net'], use['unit'])} {use['unit']}"
                f"{more}{standing}"
            )
    for note in reports.notes(ledger):
        click.echo(f"\n{note}")
    click.echo("\nStill to be measured or found out:")
    for row in reports.open_questions(ledger):
        click.echo(f"  {row['open']:>3g}  {row['what']}. {row['how']}")
    for key in reports.unstated(ledger):
        click.echo(f"       {key}: no basis states a figure; type your own")
    typed, assumed, blank = (
        ledger.cell(c) for c in ("answers_typed", "figures_assumed", "answers_blank")
    )
    click.echo(
        f"\nOf the form {typed:g} answers are typed and {blank:g} blank; "
        f"{assumed:g} figures are assumed."
    )


def _figure(value: float | None, unit: str) -> str:
    if value is None:
        return f"{'#N/A':>10}"
    return f"{value:>10.0f}" if unit == "nr" else f"{whole.pence(value):>10.2f}"


def _free_name(folder: Path, stem: str) -> Path:
    path, n = folder / f"{stem}.xlsx", 1
    while path.exists():
        n += 1
        path = folder / f"{stem}-{n}.xlsx"
    return path


if __name__ == "__main__":
    main()
