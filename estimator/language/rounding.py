"""The only rounding there is.

Spreadsheet programs round on a number's 15 significant digits, half away from zero; so does this.
"""

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

_SIX_PLACES = Decimal("0.000001")
_PENNY = Decimal("0.01")
_ONE = Decimal(1)


def _rounded(value: float, step: Decimal) -> Decimal:
    return Decimal(f"{value:.15g}").quantize(step, ROUND_HALF_UP)


def six_places(value: float) -> float:
    """To six decimals: far below anything that is measured, far above the noise of binary."""
    return float(_rounded(value, _SIX_PLACES))


def to_places(value: float, decimals: int) -> Decimal:
    """To so many decimals, half up, for print; never a nought with a minus before it."""
    return _rounded(value, _ONE.scaleb(-decimals)) + 0


def up(value: float) -> int:
    """To the next whole number away from zero, after six decimals.

    >>> up((0.34 + 0.56) / 0.9)
    1
    """
    exact = _rounded(value, _SIX_PLACES)
    return int(exact.quantize(_ONE, ROUND_CEILING if exact > 0 else ROUND_FLOOR))


def down(value: float) -> int:
    """To the next whole number towards zero, after six decimals."""
    return int(_rounded(value, _SIX_PLACES))


def pence(value: float) -> float:
    """Pounds to the penny, half up.

    >>> pence(12.345), pence(12.3449)
    (12.35, 12.34)
    """
    return float(_rounded(value, _PENNY))
