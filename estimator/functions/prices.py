"""Packs, cost, price and VAT."""

from ..pricing.vat import STANDARD_RATE
from .registry import Example, Function, Held

GROUP = "Packs and price"
# Nothing is lapped, cut into whole pieces or laid in strips.
# Nothing is cut, and so there is no cutting plan.
BY_PACK = {"lap": 0, "laps": 0, "pieces_metres": 0, "pieces_cut": 0, "sheet_taken": 0,
           "packs_counted": "=packs_needed"}  # fmt: skip
_SUM = ("sum_without_vat: quote_net", "vat_percent", "vat_status")
_RATE = Held(
    "vat_rate_differs", "vat_percent",
    f"a rate that this VAT status can have: standard {STANDARD_RATE} %, zero or reduced less, "
    "reverse charge the rate that the customer accounts for",
    holds=0,
)  # fmt: skip

ROWS = (
    Function(
        "PACK_COUNT", GROUP, "book.packs_worked",
        ("needed: net", "pack_holds: content", "wastage", "fewest_packs: minimum_packs"),
        Example((46, 10, 5, 1), 5, "46 × 1.05 = 48.3; 48.3 ÷ 10, up to 5"),
        {**BY_PACK, "by_area": 0},
        meaning_here="Packs that cover what is needed, with wastage. Nothing is lapped.",
    ),
    Function(
        "PACK_COST", GROUP, "book.cost", ("packs", "price: net_price"),
        Example((7, 18.35), 128.45, "7 × 18.35"),
        meaning_here="What the supplier charges for the packs, to the penny, without VAT.",
    ),
    Function(
        "CLIENT_PRICE", GROUP, "book.quoted",
        ("cost", "profit_rule", "profit_percent", "supplier_vat_percent", "vat_status"),
        Example((1000, "margin on price", 20, 20, "not registered"), 1500,
                "1000 × 1.20, the suppliers' VAT not reclaimed; ÷ (1 − 0.20)"),
        held=(Held("margin_impossible", "profit_percent", "a margin below 100 %", holds=0),),
        meaning_here="What the client is asked for, to the penny, without VAT: markup is on the "
        "cost, margin on the price.",
        detail="Who is not registered for VAT bears the suppliers' VAT as a cost. With any other "
        "status it is not counted.",
    ),
    Function(
        "VAT_CHARGED", GROUP, "quote_vat", _SUM,
        Example((128.45, 20, "standard"), 25.69, "128.45 × 0.20"),
        held=(_RATE,),
        meaning_here="VAT charged on a sum, to the penny. 0 under a reverse charge, or where not "
        "registered.",
    ),
    Function(
        "TOTAL_WITH_VAT", GROUP, "quote_total", _SUM,
        Example((128.45, 20, "standard"), 154.14, "128.45 + 25.69"),
        held=(_RATE,),
        meaning_here="A sum with the VAT that is charged on it.",
    ),
)  # fmt: skip
