"""The command that cuts what is bought in whole pieces from the cheapest rolls: cut."""

from collections import Counter
from itertools import groupby
from pathlib import Path
from typing import Any

import click

from ..language.units import METRES
from ..model.estimate import estimate
from .figures import digits, money
from .given import given_job, say_differences
from .manners import print_json

RESTS_ON = (
    "Prices of rolls without VAT, less trade discount, before wastage, minimum orders and "
    "delivery. Rolls of the same material and width from the same supplier may be mixed. Nothing is "
    "changed in the job."
)


def cut(job: Path, as_json: bool) -> None:
    """Print what is cut in whole pieces, the cheapest rolls that give it, and how they are cut."""
    read = given_job(job)
    say_differences(read)
    from ..sourcing.stock import MICROMETRES, Stock, cut_from_stock  # loads the solver

    def metres(length: int) -> str:
        return digits(length / MICROMETRES, METRES.decimals)

    def in_words(stock: Stock) -> None:
        click.echo(f"{stock.description} ({stock.code}), from {stock.supplier}")
        if not stock.pence:
            click.echo(f"  as the job stands: {_count(stock.rolls, 'roll')}, price missing")
            return
        click.echo(
            f"  as the job stands: {_count(stock.rolls, 'roll')}, {money(stock.pence / 100)}"
        )
        found = stock.cutting
        if found is None:
            click.echo("  no roll in the price book gives every piece")
            return
        proven = "proven" if found.proven else "not proven to be the least"
        rolls = Counter(cut.roll.name for cut in found.cuts)
        named = ", ".join(f"{n} × {name}" for name, n in rolls.items())
        saves = stock.pence - found.pence
        saved = f"; saves {money(saves / 100)}" if saves > 0 else ""
        click.echo(f"  the least: {named}, {money(found.pence / 100)}, {proven}{saved}")
        for floor, way, laid in zip(stock.floors, found.ways, stock.laid, strict=True):
            click.echo(f"  floor {floor}: strips {way}" + ("" if way == laid else f", now {laid}"))
        for alike, cuts in groupby(found.cuts):
            pieces = ", ".join(
                f"{len(list(same))} × {metres(n)}" for n, same in groupby(alike.pieces)
            )
            times = len(list(cuts))
            click.echo(
                f"  {_count(times, 'roll')} {alike.roll.name} of {metres(alike.roll.length)} m: "
                f"{pieces}; left {metres(alike.left)}" + (" of each" if times > 1 else "")
            )

    def as_row(stock: Stock) -> dict[str, Any]:
        found = stock.cutting
        return {
            "product": stock.code, "supplier": stock.supplier, "rolls": stock.rolls,
            "cost": stock.pence / 100, "least": found and found.pence / 100,
            "proven": found and found.proven,
            "floors": dict(zip(stock.floors, found.ways if found else (), strict=False)),
            "cuts": [
                {"product": cut.roll.name, "length_m": cut.roll.length / MICROMETRES,
                 "pieces_m": [n / MICROMETRES for n in cut.pieces], "left_m": cut.left / MICROMETRES}
                for cut in (found.cuts if found else ())
            ],
        }  # fmt: skip

    stocks = cut_from_stock(estimate(read.job))
    if as_json:
        print_json({"stock": [as_row(stock) for stock in stocks]})
        return
    if not stocks:
        click.echo("The job cuts nothing in whole pieces.")
        return
    for stock in stocks:
        in_words(stock)
    click.echo(RESTS_ON)


def _count(number: int, what: str) -> str:
    return f"{number} {what}" + ("" if number == 1 else "s")
