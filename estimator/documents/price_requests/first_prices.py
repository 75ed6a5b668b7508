"""Prices of products that had none yet: each held against others of its material in the book.

What a price was before tells when the decimal point slips, or a price by the metre is taken for a
roll. A first price has no such price before it, and is used as it stands from then on.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ...buying.materials import MATERIAL_ROWS
from ...language.ledger import Ledger
from ...model.reports import rows_of
from .merging import Merge

FAR = 3  # times dearer or cheaper: a guess of ours, wider than sizes and makers differ
COMPARE = "compare it with the list"
_MATERIALS: dict[Any, dict[str, Any]] = {m["key"]: m for m in MATERIAL_ROWS}
_COLUMNS = ("code", "seller", "material", "width", "content", "net_price")


@dataclass(frozen=True)
class Rate:
    """What a product of the price book costs per m², m, t or piece: pounds, less trade discount."""

    code: str
    seller: str
    material: str
    unit: str
    pounds: float


@dataclass(frozen=True)
class FirstPrice:
    """A first price and the nearest of another supplier's for the same material.

    Where no other supplier has one, `nearest` is the nearest of the same supplier's; None where
    there is none either.
    """

    own: Rate
    nearest: Rate | None

    @property
    def is_far(self) -> bool:
        """Whether the two are more than FAR times apart."""
        if self.nearest is None:
            return False
        return not 1 / FAR <= self.own.pounds / self.nearest.pounds <= FAR

    @property
    def said(self) -> str:
        """The two prices, and what to do where they are far apart or one supplier's."""
        if self.nearest is None:
            return f"first price, {COMPARE}"
        own, other = self.own, self.nearest
        per = f"per {own.unit}" if own.unit != "nr" else "each"
        beside = (
            f"{_pounds(own.pounds)} {per}, {other.code} of {other.seller} {_pounds(other.pounds)}"
        )
        if self.is_far:
            return (
                f"first price, {beside}: is it for the whole pack, and is the decimal point right?"
            )
        if own.seller == other.seller:  # they may be wrong in the same way
            return f"first price, {COMPARE} ({beside})"
        return f"first price, {beside}"


def first_prices(found: Merge, after: Ledger) -> dict[str, FirstPrice]:
    """The first prices among what changes, by the product's code.

    `after` holds the figures of the job with the changes.
    """
    codes = {c.key for c in found.changes if c.field == "price" and c.old is None}
    codes |= {r["code"] for r in found.new_rows if r["price"] is not None}
    if not codes:
        return {}
    rows = rows_of(after, "book", {c: c for c in _COLUMNS})
    rates = [rate for row in rows if (rate := _rate(row)) is not None]
    return {r.code: FirstPrice(r, _nearest(r, rates)) for r in rates if r.code in codes}


def far_off(first: dict[str, FirstPrice]) -> list[str]:
    """A sentence about each that is far off."""
    return [f"{code}: {price.said}" for code, price in first.items() if price.is_far]


def _rate(row: dict[str, Any]) -> Rate | None:
    """None for a product without a price, or whose pack does not say what it holds."""
    material = _MATERIALS.get(row["material"])
    if material is None or not row["net_price"] or not row["content"]:
        return None
    holds, unit = row["content"], str(material["unit"])
    if (material["laps_as_dpc"] or material["laps_as_tray"]) and row["width"]:
        holds, unit = holds * row["width"] / 1000, "m²"  # a roll twice as wide costs about twice
    return Rate(row["code"], row["seller"], row["material"], unit, row["net_price"] / holds)


def _nearest(of: Rate, rates: Sequence[Rate]) -> Rate | None:
    alike = [r for r in rates if (r.material, r.unit) == (of.material, of.unit) and r is not of]
    others = [r for r in alike if r.seller != of.seller] or alike
    apart = {r.code: max(r.pounds / of.pounds, of.pounds / r.pounds) for r in others}
    return min(others, key=lambda r: apart[r.code], default=None)


def _pounds(value: float) -> str:
    """To the penny; less than ten pence to a hundredth of one."""
    return f"£{value:,.2f}" if value >= 0.1 else f"£{value:.4f}"
