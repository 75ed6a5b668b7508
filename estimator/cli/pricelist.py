"""The command that reads a merchant's own price list into the price book: pricelist."""

import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from ..documents.price_requests.effect import orders_and_totals
from ..documents.price_requests.first_prices import FirstPrice, far_off, first_prices
from ..documents.price_requests.merging import Merge, merged
from ..errors import FileError
from ..files.keeping import write_whole
from ..files.opening import MOST_TEXT, file_bytes
from ..language.ledger import Ledger, is_available
from ..model.estimate import estimate
from ..model.job import Job
from ..model.job_file import price_file_of
from ..model.price_file import with_book
from ..price_lists.mapping import read_map
from ..price_lists.proposal import proposed, supplier_in
from ..price_lists.sheets import Sheet, read_list
from ..price_lists.understood import Understood, understood
from ..pricing.vat import STANDARD_RATE
from .given import Given, given_job, say_differences
from .manners import FINDINGS, print_json
from .pricelist_words import as_data, in_words
from .updating import put

TWICE = (
    "The trade discount on Prices is taken off these prices too. If the list gives what you pay, say "
    'prices_are = "net" in the map.'
)


def pricelist(
    job: Path,
    price_list: Path,
    map_file: Path,
    supplier: str | None,
    taking: bool,
    as_json: bool,
) -> None:
    """Read a merchant's own price list, and show row by row what it changes in the price book.

    Nothing is taken without --take. Exit code 1 when a row cannot be used, or not yet.
    """
    given = given_job(job)
    say_differences(given)
    names = [r["name"] for r in given.job.rows["suppliers"]]
    sheets = read_list(price_list)
    if not os.path.lexists(map_file):
        _propose(given.job, names, sheets, price_list, map_file, supplier, as_json)
        return
    how = read_map(map_file, names)
    if supplier is not None and supplier != how.supplier:
        raise FileError("--supplier", supplier, f"{how.supplier}, as in {how.file}")
    rate = _rate(given.ledger)
    found = understood(given.job, rate, sheets, how)
    after, effect, first = _effect(given, found)
    if as_json:
        print_json({**as_data(found, first, how, rate, price_list.name), **effect})
    else:
        for line in in_words(given.job, found, first, how, rate, effect["lines"]):
            click.echo(line)
    if taking:
        _take(job, given, found.merge, after, as_json)
    elif found.merge.changes or found.merge.new_rows:
        look = "look at what is said under To look at. Then " if found.merge.notices else ""
        said = f"{look}--take puts it into the price book."
        click.echo(f"\nNothing is taken: {said}", err=as_json)
    if found.merge.refused or found.unconfirmed:
        sys.exit(FINDINGS)


def _propose(
    job: Job,
    names: Sequence[str],
    sheets: Sequence[Sheet],
    price_list: Path,
    map_file: Path,
    supplier: str | None,
    as_json: bool,
) -> None:
    """Write a map for a person to correct."""
    if map_file.suffix != ".toml":
        raise FileError("--map", str(map_file), "a name ending in .toml")
    one = supplier if supplier is not None else supplier_in(sheets, price_list.stem, names)
    if one is None or one not in names:
        raise FileError("--supplier", supplier, "one of " + ", ".join(names))
    found = proposed(job, one, sheets)
    write_whole(map_file, found.text.encode(), new=True)
    counts = {"matched": found.matched, "likely": found.likely, "unlike": found.unlike}
    if as_json:
        print_json({"map": str(map_file), "supplier": one, **counts})
    click.echo(
        f"{map_file} written: a proposal of how to read this list. Of the products of {one} in the "
        f"price book {found.matched} are named in it, {found.likely} have likely rows to choose "
        f"from, and {found.unlike} have none. Correct it and give the command once more. Nothing "
        "is taken yet.",
        err=as_json,
    )


def _rate(ledger: Ledger) -> float:
    """The VAT rate that suppliers charge this job, in per cent; the standard one where none is."""
    rate = ledger.cell("used_supplier_vat_percent")
    return float(rate) if is_available(rate) else STANDARD_RATE


def _effect(
    given: Given, found: Understood
) -> tuple[Job, dict[str, Any], Mapping[str, FirstPrice]]:
    """The job with the prices, what follows, and the first prices; those far off are to be looked at.

    Of what follows the trade discount that comes off them comes first.
    """
    after = merged(given.job, found.merge)
    ledger = estimate(after)
    first = first_prices(found.merge, ledger)
    found.merge.notices += far_off(first)
    effect = orders_and_totals(given.ledger, ledger)
    taken = {row.product for row in found.rows if row.taken}
    discounts = zip(ledger.column("book", "code"), ledger.column("book", "discount"), strict=True)
    if any(code in taken and is_available(d) and d for code, d in discounts):
        effect["lines"] = [TWICE, *effect["lines"]]
    return after, effect, first


def _take(path: Path, given: Given, merge: Merge, after: Job, quiet: bool) -> None:
    """Put the prices into the workbook, or into the price file of a job file."""
    if not merge.changes and not merge.new_rows:
        click.echo("No price changes, and nothing was written.", err=quiet)
        return
    if given.returned is None:
        _into_price_file(path, given.job, after, merge.new_rows, quiet)
        return
    from ..workbook.filling import filled

    data = filled(given.returned, {"book": after.rows["book"]})
    put(path, None, data, given.returned.sheets.package.data, quiet)


def _into_price_file(
    job_file: Path, before: Job, after: Job, new_rows: Sequence[Mapping[str, Any]], quiet: bool
) -> None:
    path, layout = price_file_of(job_file)
    was = file_bytes(path, "a price file", MOST_TEXT)
    mark = b"\xef\xbb\xbf" if was.startswith(b"\xef\xbb\xbf") else b""
    changes = {
        new["code"]: {name: new[name] for name in new if new[name] != old[name]}
        for old, new in zip(before.rows["book"], after.rows["book"], strict=False)
        if new != old
    }
    text = was.decode("utf-8-sig")
    data = mark + with_book(text, path.name, changes, new_rows, layout).encode()
    put(path, None, data, was, quiet)
