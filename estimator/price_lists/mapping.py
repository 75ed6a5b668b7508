"""A supplier's map: the small file in which an office says how to read that merchant's price list."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from pathlib import Path
from typing import Any

from ..buying.book import BOOK, PRICE_KINDS
from ..buying.discount import NET
from ..buying.materials import MATERIAL_ROWS
from ..errors import FileError, JobError
from ..model.job import ROW_MODELS, row_from
from ..model.spelling import folded
from ..model.toml_entries import entries_of, one_of, only, section
from .pack_sizes import is_by_measure

COLUMNS = ("code", "description", "price", "pack", "discount")
VAT = ("included", "excluded")
PENCE = ("pounds", "pence")
DECIMALS = (".", ",")
_FIELDS = ("supplier", "vat", "prices_in", "prices_are", "decimal", "dated", "sheets", "columns",
           "discounts", "products")  # fmt: skip
_BOOK = {i.key: i for i in BOOK.inputs}
# What a new product may say of itself: the price comes from the list, the seller is the map's.
_FROM_LIST = ("code", "supplier", "price", "priced_on", "price_is")
NEW_FIELDS = tuple(k for k in _BOOK if k not in _FROM_LIST)
_MATCH = ("product", "listed_as", "times", *NEW_FIELDS)
MATERIALS = tuple(str(r["key"]) for r in MATERIAL_ROWS)
_MOST_TIMES = 100_000
_FORMULA_SIGNS = ("=", "+", "-", "@")


@dataclass(frozen=True)
class Match:
    """Which product of the book a row of the list is.

    `listed_as`: what the list says the price is for, which a person has said is the book's pack, or
    so many `times` it. `new`: the row of a product that the book has not had, without its price.
    """

    product: str
    listed_as: str | None = None
    times: float = 1
    new: Mapping[str, Any] | None = None


@dataclass(frozen=True)
class PriceListMap:
    """How one supplier's price list is read."""

    file: str
    supplier: str
    vat_included: bool
    columns: Mapping[str, Sequence[str]]  # each column's headings: the first that a sheet has
    products: Mapping[str, Match]  # by the list's code or description, folded
    sheets: Sequence[str] = ()  # none: every sheet that has the headings and is not hidden
    in_pence: bool = False
    net: bool = False  # the prices are what is paid: no trade discount is taken off them
    decimal_comma: bool = False
    dated: date | None = None
    discounts: Mapping[str, float] = field(default_factory=dict)  # by the group, in small letters
    keys: Mapping[str, str] = field(default_factory=dict)  # each key of `products` as it is written


def read_map(path: Path, suppliers: Sequence[str]) -> PriceListMap:
    """The map in a TOML file. Raises FileError at the first entry that cannot be used."""
    given = entries_of(path, "docs/prices.md")
    name = path.name
    only(given, _FIELDS, name)
    supplier = one_of(given.get("supplier"), suppliers, f"{name}: supplier")
    products, keys = _products(section(given, "products", name), supplier, name)
    kind = one_of(given.get("prices_are", PRICE_KINDS[0]), PRICE_KINDS, f"{name}: prices_are")
    decimal = one_of(given.get("decimal", DECIMALS[0]), DECIMALS, f"{name}: decimal")
    return PriceListMap(
        name,
        supplier,
        one_of(given.get("vat"), VAT, f"{name}: vat") == VAT[0],
        _columns(section(given, "columns", name), name),
        products,
        _texts(given.get("sheets", []), f"{name}: sheets"),
        in_pence=one_of(given.get("prices_in", PENCE[0]), PENCE, f"{name}: prices_in") == PENCE[1],
        net=kind == NET,
        decimal_comma=decimal == DECIMALS[1],
        dated=_dated(given.get("dated"), f"{name}: dated"),
        discounts=dict(_discounts(section(given, "discounts", name), name)),
        keys=keys,
    )


def _columns(given: Mapping[str, Any], name: str) -> dict[str, list[str]]:
    only(given, COLUMNS, f"{name}: columns")
    found = {
        c: [given[c]] if isinstance(given[c], str) else _texts(given[c], f"{name}: columns.{c}")
        for c in COLUMNS
        if c in given
    }
    if not found.get("price"):
        raise FileError(f"{name}: columns.price", None, "the heading of the prices")
    if not found.get("code") and not found.get("description"):
        accepted = "the heading of the codes or of the descriptions"
        raise FileError(f"{name}: columns.code", None, accepted)
    return found


def _discounts(given: Mapping[str, Any], name: str) -> Sequence[tuple[str, float]]:
    for group, value in given.items():
        if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < 100:
            raise FileError(f'{name}: discounts."{group}"', value, "a number from 0 to 99.9 %")
    return [(group.strip().casefold(), float(value)) for group, value in given.items()]


def _products(
    given: Mapping[str, Any], supplier: str, name: str
) -> tuple[dict[str, Match], dict[str, str]]:
    found: dict[str, Match] = {}
    keys: dict[str, str] = {}
    for key, entry in given.items():
        at = f'{name}: products."{key}"'
        match = _match(entry, supplier, at)
        if text_key(key) in found:
            raise FileError(at, key, "each code or description once, in capitals or not")
        twice = next((k for k, m in found.items() if m.product == match.product), None)
        if twice is not None:
            accepted = f'each product once; it is also that of "{keys[twice]}"'
            raise FileError(at, match.product, accepted)
        found[text_key(key)], keys[text_key(key)] = match, key
    return found, keys


def _match(entry: Any, supplier: str, at: str) -> Match:
    if isinstance(entry, str):
        entry = {"product": entry}
    if not isinstance(entry, dict):
        accepted = 'the code of a product, or { product = "...", listed_as = "..." }'
        raise FileError(at, entry, accepted)
    only(entry, _MATCH, at)
    product, listed_as = entry.get("product"), entry.get("listed_as")
    if not isinstance(product, str) or not product:
        raise FileError(f"{at}.product", product, "the code of a product of the price book")
    if listed_as is not None and not isinstance(listed_as, str):
        raise FileError(f"{at}.listed_as", listed_as, "the pack as the list writes it")
    times = entry.get("times", 1)
    if isinstance(times, bool) or not isinstance(times, int | float) or not 0 < times <= _MOST_TIMES:  # fmt: skip
        raise FileError(f"{at}.times", times, f"a number above 0, up to {_MOST_TIMES:,}")
    if times != 1 and listed_as is None:
        accepted = "the pack as the list writes it, of which so many are one pack of the book"
        raise FileError(f"{at}.listed_as", None, accepted)
    if times % 1 and listed_as is not None and not is_by_measure(listed_as):
        accepted = (
            f"a whole number, as {listed_as!r} is sold whole: give that pack a row of its own in the "
            f"price book, or type its size in the row of {product} and take times away. Parts only "
            "for a price per m, m², kg or tonne"
        )
        raise FileError(f"{at}.times", times, accepted)
    fields = {k: entry[k] for k in NEW_FIELDS if k in entry}
    if not fields:
        return Match(product, listed_as, float(times))
    return Match(product, listed_as, float(times), _new(product, supplier, fields, at))


def _new(product: str, supplier: str, fields: Mapping[str, Any], at: str) -> dict[str, Any]:
    """The row of a new product, by the model of every row of the book."""
    for key, value in (("product", product), *fields.items()):
        if isinstance(value, str) and value.startswith(_FORMULA_SIGNS):
            accepted = "a text that does not begin with = + - or @"
            raise FileError(f"{at}.{key}", value, accepted)
    if "material" in fields:
        fields = {**fields, "material": one_of(fields["material"], MATERIALS, f"{at}.material")}
    try:
        whole = {"code": product, "supplier": supplier, **fields}
        return row_from(ROW_MODELS["book"], BOOK.inputs, whole, lambda key: f"{at}.{key}")
    except JobError as error:
        raise FileError(error.where, error.found, error.accepted) from None


def text_key(text: str) -> str:
    """A code, heading or description as it is held against another: blanks and capitals are one."""
    return " ".join(folded(text).split())


def _dated(value: Any, at: str) -> date | None:
    if value is None or (isinstance(value, date) and not isinstance(value, datetime)):
        return value
    raise FileError(at, value, "a day without quote marks, such as 2026-03-01")


def _texts(value: Any, at: str) -> list[str]:
    if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
        raise FileError(at, value, 'texts in brackets, such as ["Price list"]')
    return value
