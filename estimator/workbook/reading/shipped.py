"""The keys of the lists that come with the program, beside which something may be typed."""

from dataclasses import replace

from ...buying.lines import HOLD_POINTS, LINES
from ...checks import PRODUCT_CHECKS, SITE_CHECKS
from ...guidance.basis import KEYS
from ...language.tables import Input
from ...language.units import AMOUNT, EACH, PERCENT, Unit
from ...model.plan import SHIPPED_ROWS
from ...questionnaire.assumed import ASSUMED_ROWS, ASSUMPTIONS

Limits = tuple[float, float]
# How a row's figure is typed: as a percentage, in whole numbers, or any.
_UNITS: dict[str, Unit] = {k.name: k.unit for k in KEYS} | {a.key: a.unit for a in ASSUMPTIONS}

# Each list's keys, and the least and most that may be typed beside them where the row says so.
SHIPPED: dict[str, dict[str, Limits | None]] = {
    "lines": {line.key: None for line in LINES},
    "checks": {check.key: None for check in SITE_CHECKS},
    "product_checks": {check.key: None for check in PRODUCT_CHECKS},
    "hold_points": dict.fromkeys(HOLD_POINTS),
    "materials": {str(row["key"]): None for row in SHIPPED_ROWS["materials"]},
    "allowances": {key.name: (key.least, key.most) for key in KEYS},
    "assumed": {
        str(row["key"]): (float(str(row["least"])), float(str(row["most"]))) for row in ASSUMED_ROWS
    },
}


def limited(item: Input, table: str, key: str) -> Input:
    """The input as it stands in that row: with the row's own limits, and as a percentage where it is."""
    if not item.limits_in:
        return item
    least, most = SHIPPED[table].get(key) or (0, 0)
    unit = _UNITS.get(key, AMOUNT)
    unit = unit if unit in (PERCENT, EACH) else item.unit
    return replace(item, least=least, most=most, limits_in=None, percent_in=None, unit=unit)
