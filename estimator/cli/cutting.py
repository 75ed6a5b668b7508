"""The command that cuts what is bought in whole pieces from the cheapest rolls: cut.

Its plan is taken over into the job, and taken out again.
"""

from collections import Counter
from datetime import date
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ..buying.cutting_plan import PLANNED_CUTS
from ..errors import FileError
from ..files.opening import MOST_TEXT, file_bytes
from ..language.days import day_number
from ..language.units import METRES
from ..model.job_text import row_text, with_rows
from .figures import count, digits, money
from .given import Given, given_job, say_differences
from .manners import print_json
from .updating import put

if TYPE_CHECKING:  # loads the solver
    from ..sourcing.cutting_stock import Cutting
    from ..sourcing.stock import Stock

RESTS_ON = (
    "Prices of rolls without VAT, less trade discount, before wastage, minimum orders and "
    "delivery. Rolls of the same material and width from the same supplier may be mixed."
)
SPLAYED = "  floor {} has splays: strips counted {}, exactly {} m"
EXACT = (
    "  all floors as they are laid, the least for strips counted: {}, for exact ones: {}. "
    "For comparison: the job orders what is counted."
)
LAID = (
    "Floors are cut the way the job lays them, which it chooses by itself. A floor that is turned "
    "in the list above was left as it is."
)
JOINED = "  besides, {} m that may be joined: it comes from another {}, and is not counted here"


def cut(job: Path, taking: bool, undoing: bool, as_json: bool) -> None:
    """Print what is cut in whole pieces, the cheapest rolls that give it, and how they are cut."""
    if taking and undoing:
        raise FileError("--undo", "--take too", "one of the two")
    was = file_bytes(job, "a job file or a workbook", MOST_TEXT * 16)
    read = given_job(job)
    say_differences(read)
    if undoing:
        if not read.job.rows[PLANNED_CUTS.name]:
            click.echo("The job has no cutting plan, and nothing was written.")
            return
        _put(job, read, was, [], False)
        return
    from ..sourcing.stock import MICROMETRES, Stock, cut_from_stock  # loads the solver

    def metres(length: int) -> str:
        return digits(length / MICROMETRES, METRES.decimals)

    def in_words(stock: Stock) -> None:
        click.echo(f"{stock.description} ({stock.code}), from {stock.supplier}")
        by = " by its cutting plan" if stock.planned else ""
        price = money(stock.pence / 100) if stock.pence else "price missing"
        click.echo(f"  as the job is now: {count(stock.rolls, stock.pack)}{by}, {price}")
        if stock.joined:
            click.echo(JOINED.format(metres(stock.joined), stock.pack))
        if not stock.pence:
            return
        found = stock.cutting
        if found is None:
            click.echo("  no roll in the price book gives every piece")
            return
        proven = "proven" if found.proven else "not proven to be the least"
        saves = stock.pence - found.pence
        saved = f"; saves {money(saves / 100)}" if saves > 0 else ""
        click.echo(f"  the least: {_rolls_said(found)}, {proven}{saved}")
        for floor, way, laid in zip(stock.floors, found.ways, stock.laid, strict=True):
            click.echo(f"  floor {floor}: strips {way}" + ("" if way == laid else f", now {laid}"))
        for alike, cuts in groupby(found.cuts):
            pieces = ", ".join(
                f"{len(list(same))} × {metres(n)}" for n, same in groupby(alike.pieces)
            )
            times = len(list(cuts))
            click.echo(
                f"  {count(times, stock.pack)} {alike.roll.name} of {metres(alike.roll.length)} m: "
                f"{pieces}; left {metres(alike.left)}" + (" of each" if times > 1 else "")
            )
        for one in stock.splayed:
            lengths = (", ".join(map(metres, n)) for n in (one.strips, one.exact))
            click.echo(SPLAYED.format(one.floor, *lengths))
        if stock.counted and stock.exact:
            click.echo(
                EXACT.format(*(_rolls_said(found) for found in (stock.counted, stock.exact)))
            )

    def as_row(stock: Stock) -> dict[str, Any]:
        found = stock.cutting
        return {
            "product": stock.code, "supplier": stock.supplier, "rolls": stock.rolls,
            "joined_m": stock.joined / MICROMETRES,
            "cost": stock.pence / 100, "least": found and found.pence / 100,
            "proven": found and found.proven, "by_plan": stock.planned,
            "floors": dict(zip(stock.floors, found.ways if found else (), strict=False)),
            "cuts": [
                {"product": cut.roll.name, "length_m": cut.roll.length / MICROMETRES,
                 "pieces_m": [n / MICROMETRES for n in cut.pieces], "left_m": cut.left / MICROMETRES}
                for cut in (found.cuts if found else ())
            ],
            "splayed": [
                {"floor": floor.floor, "strips_m": [n / MICROMETRES for n in floor.strips],
                 "exact_m": [n / MICROMETRES for n in floor.exact]} for floor in stock.splayed
            ],
            "least_by_strips": stock.counted and stock.counted.pence / 100,
            "least_exact": stock.exact and stock.exact.pence / 100,
        }  # fmt: skip

    stocks = cut_from_stock(read.ledger)
    if as_json:
        print_json({"stock": [as_row(stock) for stock in stocks]})
    elif not stocks:
        click.echo("The job cuts nothing in whole pieces.")
    else:
        for stock in stocks:
            in_words(stock)
        click.echo(RESTS_ON)
    if taking:
        _take(job, read, was, stocks, as_json)


def _rolls_said(found: "Cutting") -> str:
    """The rolls of a cutting, and what they cost."""
    rolls = Counter(cut.roll.name for cut in found.cuts)
    named = ", ".join(f"{n} × {name}" for name, n in rolls.items())
    return f"{named}, {money(found.pence / 100)}"


def _take(path: Path, read: Given, was: bytes, stocks: "list[Stock]", quiet: bool) -> None:
    """Write the plan into the job, floors laid as they are."""
    from ..sourcing.plan_taken import plan_taken

    found = plan_taken(read.job, read.ledger, day_number(date.today()))
    for stock in found.idle:
        click.echo(
            f"{stock.code}: not taken. The plan saves nothing with your own packs or the fewest packs "
            "sold at once, or would stop the total.",
            err=quiet,
        )
    if found.rows == [dict(r) for r in read.job.rows[PLANNED_CUTS.name]] or not (
        found.taken or read.job.rows[PLANNED_CUTS.name]
    ):
        click.echo("No plan saves anything, and nothing was written.", err=quiet)
        return
    for stock in found.taken:
        click.echo(f"{stock.description}: the plan is taken over.", err=quiet)
    if any(s.cutting is not None and s.cutting.ways != s.laid for s in stocks):
        click.echo(LAID, err=quiet)
    _put(path, read, was, found.rows, quiet)


def _put(path: Path, read: Given, was: bytes, rows: list[dict[str, Any]], quiet: bool) -> None:
    """Write those rows in place of the plan that is there."""
    name = PLANNED_CUTS.name
    marks = {str(r["mark"]) for r in rows}
    gone = {name: [m for r in read.job.rows[name] if (m := str(r["mark"])) not in marks]}
    if read.returned is None:
        texts = {name: {str(r["mark"]): row_text(PLANNED_CUTS, r) for r in rows}}
        text = with_rows(was.decode("utf-8-sig"), path.name, {name: PLANNED_CUTS}, texts, gone)
        data = text.encode()
        put(path, None, was[:3] + data if was.startswith(b"\xef\xbb\xbf") else data, was, quiet)
        return
    from ..workbook.filling import filled

    package = read.returned.sheets.package.data
    put(path, None, filled(read.returned, {name: rows}, gone), package, quiet)
