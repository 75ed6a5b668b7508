"""Commands that read a job and print what they found: quantities, check, compare."""

import sys
from pathlib import Path

import click

from .. import reports
from ..rules import whole
from .given import given_job, say_differences
from .manners import (
    AS_JSON,
    FINDINGS,
    JOB_FILE,
    figure,
    given_and_asked,
    in_one_sentence,
    pounds,
    print_json,
)
from .summary import print_summary


@click.command()
@JOB_FILE
@AS_JSON
@in_one_sentence
def quantities(job: Path, as_json: bool) -> None:
    """Print net, laid and ordered quantities, the orders, and the price."""
    given = given_job(job)
    say_differences(given)
    ledger = given.ledger
    found = reports.quantities(ledger)
    if as_json:
        print_json(found)
        return
    print_summary(ledger)
    others = [r for r in found["lines"] if r["standing"] in ("by others", "excluded") and r["net"]]
    if others:
        click.echo("\nCounted, and not bought here:")
    for row in others:
        click.echo(
            f"  {row['label']:<40}{figure(row['net'], row['unit'])} {row['unit']}"
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
        click.echo(f"  {pounds(row['amount'])}  {row['description']}{hours}")


@click.command()
@JOB_FILE
@AS_JSON
@in_one_sentence
def check(job: Path, as_json: bool) -> None:
    """Print every detail check; exit code 1 when any of them asks something of somebody."""
    given = given_job(job)
    rows = reports.checks(given.ledger)
    if as_json:
        shown = [d.sentence for d in given.different]
        print_json({"checks": rows, "workbook": shown})
    else:
        for row in rows:
            _print_check(row)
        click.echo("\nThese compare; they do not show that anything meets regulations.")
        say_differences(given, every=True)
    if reports.findings(rows) or given.different:
        sys.exit(FINDINGS)


def _print_check(row: reports.Record) -> None:
    click.echo(f"{row['state'] or 'no figure':<18}{row['what']}")
    if row["state"] in reports.QUIET:
        return
    click.echo(f"{'':<18}{given_and_asked(row)}")
    stop = "stops: its lines are provisional" if row.get("stops") else ""
    for note in (row["regulation"], row["reason"], stop):
        if note:
            click.echo(f"{'':<18}{note}")


@click.command()
@JOB_FILE
@AS_JSON
@in_one_sentence
def compare(job: Path, as_json: bool) -> None:
    """Print the whole list from each supplier, and what each basis would order and cost."""
    found = given_job(job)
    say_differences(found)
    given, ledger = found.job, found.ledger
    chosen = reports.plain(ledger.cell("cost_total"))
    suppliers, by_basis = reports.suppliers(ledger), reports.by_basis(given)
    if as_json:
        print_json({"chosen": chosen, "suppliers": suppliers, "bases": by_basis})
        return
    click.echo(f"As chosen, without VAT, delivered:     {pounds(chosen)}")
    click.echo("The whole list from one supplier (tape by the sheet really bought):")
    for row in suppliers:
        note = f", {row['note']}: lacks {row['lacks']:g} needs" if row["note"] else ""
        click.echo(f"  {row['supplier']:<36}{pounds(row['delivered'])}{note}")
    held = f" ({len(given.override)} overrides held)" if given.override else ""
    click.echo(f"\nThe job by each basis{held}:")
    for n, row in enumerate(by_basis, 1):
        why = row["why"] or row["document"].lower()
        click.echo(f"  {n} {row['basis']:<34}{pounds(row['total'])} {why}")
    numbers = "".join(f"{f'basis {n}':>12}" for n in range(1, len(by_basis) + 1))
    click.echo(f"\n{'ordered':<36}{numbers}")
    for label in by_basis[0]["ordered"]:
        figures = [r["ordered"][label] for r in by_basis]
        if any(f != 0 for f in figures):
            shown = ("#N/A" if f is None else f"{whole.pence(f):.2f}" for f in figures)
            click.echo(f"{label:<36}" + "".join(f"{s:>12}" for s in shown))
