"""Packs, cost, price and VAT."""

from ..buying import taking
from ..quote import margin_impossible, price_factor, quote_total
from ..rules import less
from ..rules.many import Many
from ..rules.units import Amount, Each, Percent, Pounds, Text
from ..vat import STANDARD_RATE, VAT_STATUS_ROWS, quote_vat, vat_rate_differs, vat_row
from .refusal import held
from .registry import function

GROUP = "Packs and price"
NAMES = Many((r["name"] for r in VAT_STATUS_ROWS), holds_text=True)
POSITIONS = Many(n for n, _ in enumerate(VAT_STATUS_ROWS, 1))
CHARGED, REASONED, BUSINESS, RATE = (
    Many(r[c] for r in VAT_STATUS_ROWS) for c in ("charged", "reasoned", "business", "rate")
)

RATES = (
    f"a rate that this VAT status can have: standard {STANDARD_RATE} %, zero or reduced less, "
    "reverse charge the rate that the customer accounts for"
)


@function(GROUP, (46, 10, 5, 1), 5, "46 × 1.05 = 48.3; 48.3 ÷ 10, up to 5")
def packs(needed: Amount, pack_holds: Amount, wastage: Percent, fewest_packs: Each) -> Each:
    """Packs that cover what is needed, with wastage; nothing is lapped."""
    needed_packs = taking.packs_needed(
        needed, taking.required(needed, 0, wastage), 0, pack_holds, 0, 0, 0
    )
    return taking.packs(needed_packs, fewest_packs)


@function(GROUP, (7, 18.35), 128.45, "7 × 18.35")
def cost(packs: Each, price: Pounds) -> Pounds:
    """What the supplier charges for the packs, to the penny, without VAT."""
    return taking.cost(packs, price)


@function(GROUP, (1000, "margin on price", 20), 1250, "1000 ÷ (1 − 0.20)")
def price(cost: Pounds, profit_rule: Text, profit_percent: Percent) -> Pounds:
    """What the client is asked for, to the penny, without VAT: markup is on the cost, margin on the price."""
    held(less(margin_impossible(profit_rule, profit_percent), 1), "profit_percent", profit_percent,
         "a margin below 100 %")  # fmt: skip
    return taking.quoted(cost, 1, price_factor(profit_rule, profit_percent))


def _vat(sum_without_vat: Pounds, vat_percent: Percent, vat_status: Text) -> Pounds:
    row = vat_row(vat_status, NAMES, POSITIONS)
    differs = vat_rate_differs(row, vat_percent, RATE, REASONED, BUSINESS)
    held(less(differs, 1), "vat_percent", vat_percent, RATES)
    return quote_vat(sum_without_vat, vat_percent, row, CHARGED)


@function(GROUP, (128.45, 20, "standard"), 25.69, "128.45 × 0.20")
def vat(sum_without_vat: Pounds, vat_percent: Percent, vat_status: Text) -> Pounds:
    """VAT charged on a sum, to the penny; 0 under a reverse charge, or where not registered."""
    return _vat(sum_without_vat, vat_percent, vat_status)


@function(GROUP, (128.45, 20, "standard"), 154.14, "128.45 + 25.69")
def price_with_vat(sum_without_vat: Pounds, vat_percent: Percent, vat_status: Text) -> Pounds:
    """A sum with the VAT that is charged on it."""
    return quote_total(sum_without_vat, _vat(sum_without_vat, vat_percent, vat_status))
