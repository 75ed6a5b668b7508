"""Commands that read a job and print what they found: quantities, check, compare."""

import sys
from pathlib import Path
from textwrap import wrap

import click

from ..checks import NOT_APPLICABLE
from ..model import reports
from .figures import as_given, digits, figure, hours, pounds, quantity
from .given import given_job, say_differences
from .manners import FINDINGS, given_and_asked, print_json, state_said
from .summary import print_summary

_UNKNOWN = "not known"
_ROWS_SAID = 6  # of the rows that one check speaks of


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
    if found["orders"]:
        click.echo("\nTo order:")
    for row in found["orders"]:
        click.echo(
            f"  {digits(row['packs'] or 0, 0):>4} × {row['description']}, {row['supplier']}"
            f" (left {quantity(row['left'] or 0, row['unit'])} {row['unit']})"
        )
    if found["work"]:
        click.echo("\nWork, preliminaries and fees, as quoted:")
    for row in found["work"]:
        taken = f" ({hours(row['hours'])} hours)" if row["hours"] else ""
        click.echo(f"  {pounds(row['amount'])}  {row['description']}{taken}")


def check(job: Path, as_json: bool, listing_all: bool) -> None:
    """Print every detail check. Exit code 1 when any of them still needs an answer."""
    given = given_job(job)
    rows = reports.checks(given.ledger)
    if as_json:
        shown = [d.sentence for d in given.different]
        print_json({"checks": rows, "workbook": shown})
    else:
        shown_rows = [r for r in rows if listing_all or r["state"] != NOT_APPLICABLE]
        for row in shown_rows:
            _print_check(row)
        if apart := len(rows) - len(shown_rows):
            are = "1 check is" if apart == 1 else f"{apart} checks are"
            click.echo(f"{are} not applicable to this job: --all prints them.")
        click.echo("\nA check compares figures. It does not show that anything meets regulations.")
        say_differences(given)
    if reports.findings(rows) or given.different:
        sys.exit(FINDINGS)


def _print_check(row: reports.Record) -> None:
    click.echo(f"{state_said(row):<17} {row['what']}")
    if row["state"] in reports.QUIET and not row["regulation"]:
        return
    click.echo(f"{'':<18}{given_and_asked(row)}")
    stop = "stops: its lines are provisional" if row.get("stops") else ""
    for note in (rows_in_words(row), row["regulation"], row["reason"], stop):
        if note:
            click.echo(f"{'':<18}{note}")


def rows_in_words(row: reports.Record) -> str:
    """The rows that a check speaks of, the worst first; a long list is cut short."""
    names = row["rows"]
    more = f"; and {len(names) - _ROWS_SAID} more" if len(names) > _ROWS_SAID else ""
    return f"{row['list']}: {'; '.join(names[:_ROWS_SAID])}{more}" if names else ""


def compare(job: Path, as_json: bool) -> None:
    """Print the whole list from each supplier, and what each basis would order, cost and come to."""
    found = given_job(job)
    say_differences(found)
    given, ledger = found.job, found.ledger
    lacking = reports.not_priced(ledger)
    chosen = None if lacking else reports.cost_of_all(ledger)
    suppliers, by_basis = reports.suppliers(ledger), reports.by_basis(given, ledger)
    if as_json:
        print_json(
            {"chosen": chosen, "lacking": lacking, "suppliers": suppliers, "bases": by_basis}
        )
        return
    click.echo("Cost of what is ordered, delivered, without VAT:")
    click.echo(f"  {'as chosen':<36}{pounds(chosen, _UNKNOWN)}" + (lacking and f", {lacking}"))
    click.echo("The whole list from one supplier instead (tape for the sheet ordered above):")
    for row in suppliers:
        note = f", {row['note']}" if row["note"] else ""
        note += f": lacks {as_given(row['lacks'])} of what is needed" if row["lacks"] else ""
        if row["unlaid"]:
            note += f" ({as_given(row['unlaid'])}; {reports.rolls_laid_out(ledger)} fit, of all suppliers together)"
        click.echo(f"  {row['supplier']:<36}{pounds(row['delivered'], _UNKNOWN)}{note}")
    _print_bases(by_basis, len(given.override))


def _print_bases(rows: list[reports.Record], held: int) -> None:
    """What each basis would cost, what it would be quoted at, and what it would order."""
    also = f" ({held} overrides held)" if held else ""
    total = str(rows[0]["total_label"]).replace(
        "Total", "total", 1
    )  # of the job, whatever the basis
    width = max(17, len(total) + 2)
    click.echo(f"\nThe job by each document{also}:")
    for cost, price in (("cost of orders", "price to client"), ("without VAT", total)):
        click.echo(f"{'':<36}{cost:>14}{price:>{width}}")
    for n, row in enumerate(rows, 1):
        why = row["why"] or row["document"].lower()
        price = pounds(row["total"])
        *above, name = wrap(f"{n} {row['guidance']}", 33, subsequent_indent="  ")
        for line in above:
            click.echo(f"  {line}")
        cost = pounds(row["cost"], _UNKNOWN)
        click.echo(f"  {name:<34}{cost:>14}{price:>{width}}  {why}")
    numbers = "".join(f"{f'document {n}':>12}" for n in range(1, len(rows) + 1))
    click.echo(f"\n{'ordered':<36}{numbers}")
    for material in rows[0]["ordered"]:
        figures = [r["ordered"][material] for r in rows]
        if any(f != 0 for f in figures):
            unit = rows[0]["units"][material]
            shown = "".join(figure(f, unit, 12) for f in figures)
            click.echo(f"{material:<36}{shown} {unit}")
