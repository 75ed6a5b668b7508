"""What came back, checked row by row, as changes to the price book: data, and sentences.

Nothing is guessed. A row that cannot be used is left out and named; what was not answered keeps
its present price, and is named too.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple

from ...errors import PriceError
from ...model.job import Job
from .alternatives import Offered, offered_row
from .asked import Line, Request, line_of
from .fields import ASKED, DELIVERY, FREE_OVER, NOTE, NUMBER, OTHER, PRICE, SUPPLIER, VALID
from .returned import Returned, Row, asked_in, figure_in, text_in_cell, words

_VAT = 1.20  # the standard rate: a price that rose by just this may hold it


class Change(NamedTuple):
    """One field of a row that is there: of the `book` by its code, of `suppliers` by the name."""

    table: str
    key: str
    field: str
    old: Any
    new: Any


@dataclass
class Merge:
    """What a returned request changes. `new_rows` are whole rows of the price book."""

    number: str
    supplier: str
    changes: list[Change] = field(default_factory=list)
    new_rows: list[dict[str, Any]] = field(default_factory=list)
    left: list[str] = field(default_factory=list)  # what was not answered, and keeps its price
    refused: list[str] = field(default_factory=list)  # what was answered and cannot be used
    notices: list[str] = field(default_factory=list)  # what a person should look at
    confirmed: int = 0  # prices that came back as they are


def merge(
    job: Job, asked: Sequence[Request], returned: Returned, changed_since: bool = False
) -> Merge:
    """What a returned request changes in that job's prices.

    `asked` are all requests that the job would make now. Raises PriceError when the file is not
    an answer to any of them; with `changed_since`, an answer to what the job asked for earlier is
    taken, as far as its products are still in the price book.
    """
    terms = returned.terms
    supplier, number = words(terms.values[SUPPLIER]), words(terms.values[NUMBER])
    names = [r["name"] for r in job.rows["suppliers"]]
    if supplier not in names:
        raise PriceError(terms.cells[SUPPLIER], supplier, "one of " + ", ".join(names))
    request = next((r for r in asked if (r.number, r.supplier) == (number, supplier)), None)
    if request is None and not changed_since:
        now = sorted({r.number for r in asked if r.supplier == supplier}) or ["none"]
        raise PriceError(
            terms.cells[NUMBER],
            number,
            f"{' or '.join(now)}, the request of this job to {supplier} now. If the job was "
            f"changed after the request, and this is the answer, add --changed-since",
        )
    found = Merge(number, supplier)
    lines = _lines(job, supplier, request)
    book = {r["code"]: r for r in job.rows["book"]}
    codes = [r.code for r in returned.rows]
    for row in returned.rows:
        try:
            code = _known(row, codes, lines, supplier)
            _as_asked(row, lines[code], counted=request is not None)
        except PriceError as error:
            found.refused.append(str(error))
            continue
        _price(found, row, book[code])
        _other(found, row, book[code], job)
    expected = request.lines if request else ()
    for line in expected:
        if line.code not in codes:
            found.left.append(f"{line.code}: its row is gone. The price in the book stays.")
    _terms(found, job, terms)
    return found


def _lines(job: Job, supplier: str, request: Request | None) -> dict[str, Line]:
    if request is not None:
        return {line.code: line for line in request.lines}
    rows = (r for r in job.rows["book"] if job.seller(r) == supplier)
    return {r["code"]: line_of(r, 0) for r in rows}


def _known(row: Row, codes: list[str], lines: Mapping[str, Line], supplier: str) -> str:
    code, cell = row.code, row.cells["code"]
    if code not in lines:
        accepted = (
            f"a code that {supplier} was asked to price. Anything else on offer goes into the row "
            "of what it replaces"
        )
        raise PriceError(cell, code or None, accepted)
    if codes.count(code) > 1:
        raise PriceError(cell, code, f"each code once ({codes.count(code)} rows have it)")
    return code


def _as_asked(row: Row, line: Line, counted: bool) -> None:
    """Whether what we said still stands there; a price is for that, and for nothing else."""
    said = asked_in(row)
    for name in ASKED:
        was = words_of(getattr(line, name))
        if said[name] != was and (counted or name != "packs"):
            raise PriceError(row.cells[name], said[name] or None, f"{was}, as asked")


def words_of(value: Any) -> str:
    """What we said, as it is read back."""
    return f"{value:g}" if isinstance(value, int) else str(value).strip()


def _price(found: Merge, row: Row, old: Mapping[str, Any]) -> None:
    code, cell = old["code"], row.cells[PRICE.name]
    stored = row.values[PRICE.name]
    try:
        price = figure_in(stored, PRICE, cell)
    except PriceError as error:
        found.refused.append(str(error))
        return
    if price is None:
        more = ", something else is offered" if row.offers_other else ""
        stays = "the book has none either"
        if old["price"] is not None:
            stays = f"£{old['price']:,.2f} in the book stays"
        found.left.append(f"{code}: no price came back{more}. {stays[0].upper()}{stays[1:]}.")
        return
    _say_formula(found, row, PRICE.name, price)
    found.notices += looks_odd(code, old["price"], price, cell)
    if price == old["price"]:
        found.confirmed += 1
    else:
        found.changes.append(Change("book", code, "price", old["price"], price))


def looks_odd(code: str, old: float | None, new: float, cell: str) -> Iterator[str]:
    """A sentence where a price is just a fifth higher, below half, or above double."""
    if old is None:
        return
    if abs(new / old - _VAT) < 0.0005:
        yield f"{cell}: {code} rose by just a fifth, from £{old:,.2f} to £{new:,.2f}: is VAT in it?"
    elif not 0.5 <= new / old <= 2:
        yield f"{cell}: {code} went from £{old:,.2f} to £{new:,.2f}: is it for the same pack?"


def _offer_looks_odd(new: Mapping[str, Any], old: Mapping[str, Any], cell: str) -> Iterator[str]:
    """The price for as much as is in the pack that was asked for, against its price."""
    if old["price"] is None:
        return
    sizes = [n for n in ("width", "length", "pieces", "weight") if new[n] and old[n]]
    as_much = new["price"] / math.prod(new[n] / old[n] for n in sizes)
    if not 0.5 <= as_much / old["price"] <= 2:
        yield (
            f"{cell}: {new['code']} comes to £{as_much:,.2f} for as much as a pack of "
            f"{old['code']} holds, at £{old['price']:,.2f}: is it for that pack?"
        )


def _say_formula(found: Merge, row: Row, name: str, value: float) -> None:
    if row.values[name].formula is not None:
        found.notices.append(
            f"{row.cells[name]}: a formula. Its result as stored, {value:g}, is used."
        )


def _other(found: Merge, row: Row, old: Mapping[str, Any], job: Job) -> None:
    """What is offered instead becomes a row of its own, or is refused in one sentence."""
    if not row.offers_other:
        return
    taken = {str(r["code"]).lower() for r in (*job.rows["book"], *found.new_rows)}
    try:
        offer = offered_row(row, old, taken, job)
    except PriceError as error:
        found.refused.append(str(error))
        return
    for name, value in offer.from_formulas.items():
        _say_formula(found, row, name, value)
    there = _already(offer, job.rows["book"])
    found.notices += _offer_looks_odd(offer.row, old, row.cells[OTHER + "price"])
    if there is None:
        found.new_rows.append(offer.row)
    elif there["price"] == offer.row["price"]:
        found.confirmed += 1
    else:
        change = Change("book", there["code"], "price", there["price"], offer.row["price"])
        found.changes.append(change)


def _already(offer: Offered, book: Sequence[Mapping[str, Any]]) -> Mapping[str, Any] | None:
    """The row that an earlier reading of the same answer made, if there is one."""
    same = [k for k in offer.row if k not in ("code", "price", "minimum_packs", "own_packs")]
    for row in book:
        if row["code"].startswith(offer.stem) and all(row[k] == offer.row[k] for k in same):
            return row
    return None


def _terms(found: Merge, job: Job, terms: Row) -> None:
    """Delivery, how long the prices hold, and the note."""
    old = next(r for r in job.rows["suppliers"] if r["name"] == found.supplier)
    for item, column in ((DELIVERY, "delivery"), (FREE_OVER, "free_over")):
        try:
            value = figure_in(terms.values[item.name], item, terms.cells[item.name])
        except PriceError as error:
            found.refused.append(str(error))
            continue
        if value is None:
            was = "none" if old[column] is None else f"£{old[column]:,.2f}"
            found.left.append(f"{item.label}: not answered. As before: {was}.")
            continue
        _say_formula(found, terms, item.name, value)
        if value != old[column]:
            found.changes.append(Change("suppliers", found.supplier, column, old[column], value))
    for item in (VALID, NOTE):
        try:
            text = text_in_cell(terms.values[item.name], item, terms.cells[item.name])
        except PriceError as error:
            found.refused.append(str(error))
            continue
        if text is not None:
            found.notices.append(f"{item.label}: {text}")
        elif item is VALID:
            found.left.append(f"{item.label}: not answered.")


def merged(job: Job, found: Merge) -> Job:
    """The job with those changes in its price book and its suppliers; the old one is untouched.

    A price that changes is no longer of the day that the book has, unless that changes too.
    """
    keys = {"book": "code", "suppliers": "name"}
    rows = {name: [dict(r) for r in listed] for name, listed in job.rows.items()}
    for change in found.changes:
        row = next(r for r in rows[change.table] if r[keys[change.table]] == change.key)
        assert row[change.field] == change.old
        row[change.field] = change.new
    dated = {c.key for c in found.changes if c.field == "priced_on"}
    for change in found.changes:
        if change.field == "price" and change.key not in dated:
            next(r for r in rows["book"] if r["code"] == change.key)["priced_on"] = None
    rows["book"] += [dict(r) for r in found.new_rows]
    return replace(job, rows=rows)
