"""A price list, understood row by row and held against the price book.

Nothing is guessed: which row is which product is what the map says. A row that cannot be used is
left out and named, and the price in the book stays.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ..buying.book import BOOK
from ..buying.discount import NET
from ..documents.price_requests.merging import Change, Merge, looks_odd
from ..errors import FileError, JobError, PriceError
from ..language.days import day_number, day_of
from ..language.rounding import pence
from ..model.job import Job, checked_number
from ..model.job_checks import check_packs
from ..model.locations import InJobFile
from ..model.spelling import as_listed
from .amounts import discount_in, price_in
from .headings import MOST_ABOVE, Line, columns_of, lines_of
from .mapping import Match, PriceListMap, text_key
from .pack_sizes import misfit
from .proposal import suggested
from .sheets import Sheet

[_PRICE] = [i for i in BOOK.inputs if i.name == "price"]


@dataclass(frozen=True)
class Row:
    """One row of the list that is a product of the book.

    `listed` is its price in pounds as it stands there, `price` that of the book's pack without
    VAT, and `steps` how the one follows from the other.
    """

    place: str
    code: str
    description: str
    pack: str
    product: str
    listed: float
    steps: str
    price: float
    old: float | None
    taken: bool


@dataclass
class Understood:
    """What a list says, and what it changes in the price book (`merge`)."""

    merge: Merge
    rows: list[Row] = field(default_factory=list)
    unconfirmed: list[str] = field(default_factory=list)  # another pack than the book's
    gone: list[str] = field(default_factory=list)  # in the book and the map, not in the list
    unmapped: dict[str, str] = field(default_factory=dict)  # of the supplier's in the book, by code
    suggested: dict[str, list[str]] = field(default_factory=dict)  # for these, entries of a map
    not_in_map: list[Line] = field(default_factory=list)  # rows of the list, with a price
    not_read: list[str] = field(default_factory=list)  # sheets


def understood(
    job: Job, vat_percent: float, sheets: Sequence[Sheet], how: PriceListMap
) -> Understood:
    """What a list says by its map. `vat_percent` is the rate that suppliers charge the job.

    Raises PriceError where the list has no such columns, FileError where the map names a product
    or a sheet that is not there.
    """
    _check_products(job, how)
    found = Understood(Merge("", how.supplier))
    by_key: dict[str, list[Line]] = defaultdict(list)
    for line in _lines(sheets, how, found):
        keys = [k for k in {text_key(line.code), text_key(line.description)} if k in how.products]
        for key in keys:
            by_key[key].append(line)
        if not keys and line.price != "":
            found.not_in_map.append(line)
    book = {r["code"]: r for r in job.rows["book"]}
    for key, match in how.products.items():
        old = book.get(as_listed(match.product, book))
        lines = by_key[key]
        if not lines:
            if old is not None:
                found.gone.append(f"{_named(old)}: {how.keys[key]} is not in it; {_stays(old)}.")
            continue
        try:
            if len(lines) > 1:
                accepted = f"each once; it is in {lines[1].place.rpartition(': ')[2]} too"
                raise PriceError(lines[0].place, how.keys[key], accepted)
            _take(found, lines[0], match, old, how, vat_percent)
        except PriceError as error:
            found.merge.refused.append(str(error))
    products = {as_listed(m.product, book) for m in how.products.values()}
    left_out = [r for c, r in book.items() if job.seller(r) == how.supplier and c not in products]
    found.unmapped = {row["code"]: f"{_named(row)}: {_stays(row)}." for row in left_out}
    if left_out:
        found.suggested = suggested(left_out, found.not_in_map)
    return found


def _check_products(job: Job, how: PriceListMap) -> None:
    """Whether each product is one that the supplier sells, or comes with what a new one needs."""
    sellers = {r["code"]: job.seller(r) for r in job.rows["book"]}
    for key, match in how.products.items():
        at = f'{how.file}: products."{how.keys[key]}"'
        code = as_listed(match.product, sellers)
        if code in sellers and sellers[code] != how.supplier:
            accepted = f"a product of {how.supplier}; this one is sold by {sellers[code]}"
            raise FileError(at, match.product, accepted)
        if code in sellers:
            continue
        if match.new is None:
            accepted = (
                f"the code of a product that {how.supplier} sells in the price book, or with it "
                "material, description and sizes of a new one"
            )
            raise FileError(at, match.product, accepted)
        try:
            check_packs(Job(job.particulars, {**job.rows, "book": [dict(match.new)]}), _InMap(at))
        except JobError as error:
            raise FileError(error.where, error.found, error.accepted) from None


@dataclass(frozen=True)
class _InMap(InJobFile):
    """The place of a field of a new product, in the map."""

    def field(self, table: str, n: int, row: Mapping[str, Any], key: str) -> str:
        return f"{self.name}.{key}"


def _lines(sheets: Sequence[Sheet], how: PriceListMap, found: Understood) -> list[Line]:
    """The rows of all sheets that are read. Raises PriceError where none has the headings."""
    names = [s.name for s in sheets]
    wanted = how.sheets if names != [""] else ()  # a CSV file has one, without a name
    for name in wanted:
        if name not in names:
            raise FileError(f"{how.file}: sheets", name, "one of " + ", ".join(names))
    lines: list[Line] = []
    headed = False
    headings = ", ".join(" or ".join(h) for h in how.columns.values())
    for sheet in sheets:
        if (wanted and sheet.name not in wanted) or not sheet.rows:
            continue
        if sheet.hidden and not wanted:
            found.not_read.append(f"{sheet.name}: hidden, and not named under sheets in the map.")
            continue
        columns = columns_of(sheet, how)
        if columns is None:
            if wanted or len(sheets) == 1:
                raise _no_headings(sheet, headings)
            found.not_read.append(f"{sheet.name}: no row has the headings {headings}.")
            continue
        headed = True
        lines += lines_of(sheet, columns)
    if not headed:
        file = sheets[0].file if sheets else how.file
        raise PriceError(file, "no sheet with them", f"the headings of the map: {headings}")
    return lines


def _no_headings(sheet: Sheet, headings: str) -> PriceError:
    last = sheet.rows[min(len(sheet.rows), MOST_ABOVE) - 1][0]
    where = sheet.place(sheet.rows[0][0])
    accepted = f"the headings of the map in one of the rows down to {last}: {headings}"
    return PriceError(where, "no row with them", accepted)


def _take(
    found: Understood,
    line: Line,
    match: Match,
    old: Mapping[str, Any] | None,
    how: PriceListMap,
    vat_percent: float,
) -> None:
    """One row of the list as a change, a new row, or a sentence. Raises PriceError with its cell."""
    cell = line.sheet.place(line.row, line.price_at)
    try:
        listed = price_in(line.price, how.decimal_comma, how.in_pence)
    except ValueError as error:
        raise PriceError(cell, _shown(line.price), str(error)) from None
    product = old if old is not None else match.new
    assert product is not None
    if listed is None:
        stays = _stays(old) if old is not None else "it is not put into the book"
        found.merge.left.append(f"{_named(product)}: no price in {cell}; {stays}.")
        return
    pounds, per = listed
    discount = 0.0
    if line.discount_at >= 0:
        at = line.sheet.place(line.row, line.discount_at)
        try:
            discount = discount_in(line.discount, how.discounts, how.decimal_comma)
        except ValueError as error:
            raise PriceError(at, _shown(line.discount), str(error)) from None
    price, steps = _worked_out(pounds, discount, match.times, vat_percent if how.vat_included else None)  # fmt: skip
    try:
        if pounds <= 0:
            raise ValueError(_PRICE.accepted)
        checked_number(price, _PRICE)
    except ValueError as error:
        raise PriceError(cell, _shown(line.price), str(error)) from None
    pack = per or line.pack
    doubt = _doubt(pack, line.description, product, match)
    if doubt is not None:
        found.unconfirmed.append(f"{line.place}: {_named(product)}: {doubt}")
    else:
        _put(found, product, old, price, cell, how)
    found.rows.append(
        Row(
            line.place,
            line.code,
            line.description,
            pack,
            product["code"],
            pounds,
            steps,
            price,
            old["price"] if old is not None else None,
            doubt is None,
        )
    )


def _worked_out(
    pounds: float, discount: float, times: float, vat_percent: float | None
) -> tuple[float, str]:
    """The price of the book's pack without VAT, rounded once, and the steps to it in words."""
    price, steps = pounds, ""
    if discount:
        price *= 1 - discount / 100
        steps += f" less {discount:g} %"
    if times != 1:
        price *= times
        steps += f" × {times:g}"
    if vat_percent:
        price /= 1 + vat_percent / 100
        steps += f" ÷ {1 + vat_percent / 100:g}"
    return pence(price), steps.strip()


def _doubt(pack: str, description: str, product: Mapping[str, Any], match: Match) -> str | None:
    """Why a price cannot be taken for one of the book's pack; None where it can.

    What a person has confirmed in the map holds for as long as the list says the same.
    """
    other = misfit(pack, description, product)
    said = pack if pack and (misfit(pack, "", product) or not description) else description
    if match.listed_as is not None:
        # A pack that says no size, as roll, confirms nothing: the description then has to be said.
        accepted = (pack, description) if other is None else (said,)
        if text_key(match.listed_as) in map(text_key, accepted):
            return None
        if other is None and match.times == 1:
            return None
        return f"the map takes it as {match.listed_as!r}, and the list says {said!r} now. Correct listed_as, and times, in the map."
    if other is None:
        return None
    return (
        f"the list says {said!r} ({other}), which is not the book's pack. If it is, add "
        f"listed_as = {said!r} to it in the map; with times = how many of it one pack of the book "
        "is, if it is a part."
    )


def _put(
    found: Understood,
    product: Mapping[str, Any],
    old: Mapping[str, Any] | None,
    price: float,
    cell: str,
    how: PriceListMap,
) -> None:
    merge = found.merge
    day = None if how.dated is None else day_number(how.dated)
    kind = NET if how.net else None
    if old is None:
        of_list = {"price": price, "priced_on": day, "price_is": kind}
        merge.new_rows.append({**product, **of_list})
        return
    if how.net != (old["price_is"] == NET):
        merge.changes.append(Change("book", old["code"], "price_is", old["price_is"], kind))
    if day is not None and old["priced_on"] != day:
        if old["priced_on"] is not None and day < old["priced_on"]:
            merge.notices.append(
                f"{cell}: {old['code']} has a price of {day_of(old['priced_on'])}, newer than this "
                f"list of {how.dated}."
            )
        merge.changes.append(Change("book", old["code"], "priced_on", old["priced_on"], day))
    merge.notices += looks_odd(old["code"], old["price"], price, cell)
    if price == old["price"]:
        merge.confirmed += 1
    else:
        merge.changes.append(Change("book", old["code"], "price", old["price"], price))


def _named(row: Mapping[str, Any]) -> str:
    return f"{row['code']} ({row['description']})"


def _stays(row: Mapping[str, Any]) -> str:
    return "the book has no price either" if row["price"] is None else f"£{row['price']:,.2f} stays"


def _shown(cell: Any) -> Any:
    return int(cell) if isinstance(cell, float) and cell.is_integer() else cell
