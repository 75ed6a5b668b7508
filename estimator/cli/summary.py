"""The first figures of a job, as they are printed after most commands."""

import click

from ..language.ledger import Ledger
from ..model import reports
from .figures import as_given, figure, money


def print_summary(ledger: Ledger) -> None:
    """Materials net, laid and ordered; then the price, or why there is none."""
    found = reports.quantities(ledger)
    _print_materials(found["materials"])
    price = found["price"]
    if price["quote_total"] is not None:
        word = price["document_word"]
        net, total = price["quote_net"], price["quote_total"]
        label = price["vat_total_label"]
        click.echo(f"\n{word}: {money(net)} before VAT. {label}: {money(total)}.")
        if found["checks"]:
            click.echo(f"  {found['checks']} See `estimator check`.")
        for note in found["notes"]:
            click.echo(f"  {note}")
        return
    click.echo("\nNo total can be quoted yet:")
    for entry in found["against"]:
        count = "not known" if entry["count"] is None else as_given(entry["count"])
        click.echo(f"  {entry['what']}: {count}")
    click.echo("  In the workbook, Start lists the first of them with a link to each list.")


def _print_materials(rows: list[reports.Record]) -> None:
    rows = [r for r in rows if not r["net"] == r["ordered"] == 0]
    if rows:
        click.echo(f"\n{'':<36}{'net':>10}{'laid':>10}{'ordered':>10}")
    for row in rows:
        shown = "".join(figure(row[c], row["unit"]) for c in ("net", "laid", "ordered"))
        click.echo(f"{row['label']:<36}{shown} {row['unit']}")
