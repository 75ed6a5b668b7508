"""What a price list says, in words and as data."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict
from typing import Any

from ..documents.price_requests.asked import pack_in_words
from ..documents.price_requests.first_prices import FirstPrice
from ..language.days import day_of
from ..model.job import Job
from ..price_lists.headings import Line, text_of
from ..price_lists.mapping import PriceListMap
from ..price_lists.understood import Row, Understood
from .figures import as_given, digits, money

MOST_SHOWN = 10  # rows of the list that are not in the map: a merchant's may have 50,000


def in_words(
    job: Job,
    found: Understood,
    first: Mapping[str, FirstPrice],
    how: PriceListMap,
    rate: float,
    effect: Sequence[str],
) -> Iterator[str]:
    """The list row by row, what changes, and what follows from it."""
    yield f"{how.supplier}: {_basis(how, rate)}"
    more = len(found.not_in_map) - MOST_SHOWN
    unmapped = [_in_list(line) for line in found.not_in_map[:MOST_SHOWN]]
    if more > 0:
        unmapped.append(f"and {more:,} more: --json lists them")
    for head, listed in (
        ("Understood:", [_row(r, first.get(r.product)) for r in found.rows if r.taken]),
        ("Cannot be used, and is left out:", found.merge.refused),
        ("Another pack than the book's, and left out:", found.unconfirmed),
        ("Without a price in the list:", found.merge.left),
        ("To look at:", found.merge.notices),
        ("What changes:", list(_changes(job, found, how))),
        ("In the book and no longer in the list:", found.gone),
        (f"In the book and not in {how.file}:", list(_unmapped(found))),
        (f"In the list and not in {how.file}:", unmapped),
        ("Sheets that are not read:", found.not_read),
        ("What follows:", effect),
    ):
        if listed:
            yield f"\n{head}"
            yield from (f"  {line}" for line in listed)


def _basis(how: PriceListMap, rate: float) -> str:
    dated = f", of {how.dated.isoformat()}" if how.dated else ""
    net = "net " if how.net else ""
    if not how.vat_included:
        return f"{net}prices without VAT{dated}."
    return (
        f"{net}prices with VAT{dated}. Each is divided by {as_given(1 + rate / 100)} (the suppliers' VAT rate of "
        f"this job, {as_given(rate)} %) and rounded to the penny, half up."
    )


def _row(row: Row, first: FirstPrice | None) -> str:
    said = ", ".join(t for t in (row.code, row.description, row.pack) if t)
    steps = f" {row.steps}" if row.steps else ""
    listed = f"£{text_of(row.listed)}" if row.listed != round(row.listed, 2) else money(row.listed)
    return f"{row.place.partition(': ')[2] or row.place}: {said}: {listed}{steps} = {money(row.price)} for {row.product}{f'; {first.said}' if first else ''}"


def _changes(job: Job, found: Understood, how: PriceListMap) -> Iterator[str]:
    named = {r["code"]: r["description"] for r in job.rows["book"]}
    for change in found.merge.changes:
        if change.field != "price":
            continue
        old = "no price" if change.old is None else money(change.old)
        yield (
            f"{change.key} ({named[change.key]}): {old} before, {money(change.new)} now, a pack"
            f"{per_cent(change.old, change.new)}."
        )
    for row in found.merge.new_rows:
        yield (
            f"{row['code']} is new in the book: {row['description']}, {pack_in_words(row)}, "
            f"{money(row['price'])} a pack."
        )
    kinds = sum(c.field == "price_is" for c in found.merge.changes)
    if kinds:
        yield (
            f"{kinds} {'price is' if kinds == 1 else 'prices are'} "
            + (
                "net now: no trade discount is taken off."
                if how.net
                else "a list price now: the trade discount is taken off."
                if kinds == 1
                else "list prices now: the trade discount is taken off."
            )
        )
    dated = sum(c.field == "priced_on" for c in found.merge.changes)
    if dated:
        yield f"{dated} {'price is' if dated == 1 else 'prices are'} now of {how.dated}."
    elif how.dated is None and found.merge.changes:
        yield f"No day is said for these prices: {how.file} may say it, as dated."
    if found.merge.confirmed:
        count = found.merge.confirmed
        yield f"{count} {'price is' if count == 1 else 'prices are'} as in the book."


def per_cent(old: float | None, new: float) -> str:
    """How much a price rose or fell, as `, +6.6 %`; nothing where there was none."""
    if not old:
        return ""
    rise = (new / old - 1) * 100
    return f", {'+' if rise > 0 else '-'}{digits(abs(rise), 1)} %"


def _unmapped(found: Understood) -> Iterator[str]:
    """Products that the map leaves out, each with the rows of the list that it may be."""
    for code, said in found.unmapped.items():
        entries = found.suggested.get(code, ())
        yield f"{said} Perhaps, under [products]:" if entries else said
        yield from (f"  {entry}" for entry in entries)


def _in_list(line: Line) -> str:
    place = line.place.partition(": ")[2] or line.place
    said = ", ".join(t for t in (line.code, line.description, line.pack, text_of(line.price)) if t)
    return f"{place}: {said}"


def as_data(
    found: Understood,
    first: Mapping[str, FirstPrice],
    how: PriceListMap,
    rate: float,
    file: str,
) -> dict[str, Any]:
    """The same for a program to read."""
    merge = found.merge
    return {
        "file": file,
        "supplier": how.supplier,
        "prices_are": "net" if how.net else "list",
        "vat": "included" if how.vat_included else "excluded",
        "vat_percent": rate if how.vat_included else None,
        "dated": how.dated.isoformat() if how.dated else None,
        "rows": [asdict(r) for r in found.rows],
        "first_prices": [{**asdict(f), "is_far": f.is_far} for f in first.values()],
        "refused": merge.refused,
        "unconfirmed": found.unconfirmed,
        "without_price": merge.left,
        "notices": merge.notices,
        "changes": [
            {
                **_with_day(c._asdict(), c.field == "priced_on", "old", "new"),
                "per_cent": round((c.new / c.old - 1) * 100, 1)
                if c.field == "price" and c.old
                else None,
            }
            for c in merge.changes
        ],
        "new_rows": [_with_day(row, True, "priced_on") for row in merge.new_rows],
        "confirmed": merge.confirmed,
        "gone": found.gone,
        "not_in_map": list(found.unmapped.values()),
        "suggested": found.suggested,
        "new_in_list": [
            {
                "place": line.place,
                "code": line.code,
                "description": line.description,
                "pack": line.pack,
                "price": text_of(line.price),
            }
            for line in found.not_in_map
        ],
        "not_read": found.not_read,
    }


def _with_day(row: dict[str, Any], is_day: bool, *names: str) -> dict[str, Any]:
    """The row with its days written as 2026-03-01."""
    days = [n for n in names if is_day and row[n] is not None]
    return {**row, **{n: day_of(row[n]).isoformat() for n in days}}
