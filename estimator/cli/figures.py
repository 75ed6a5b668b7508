"""Figures as they are printed: half up, and with the decimals that the workbook's sheets show."""

from ..language import rounding
from ..language.units import AMOUNT, EACH, POUNDS

QUANTITY_DECIMALS = 2  # as the Quantities sheet shows what is not a number of things


def digits(value: float, decimals: int) -> str:
    """A figure with so many decimals.

    >>> digits(9.975, 2), digits(28.5 * 0.35, 2)
    ('9.98', '9.98')
    """
    return f"{rounding.to_places(value, decimals):,f}"


def money(value: float) -> str:
    """Pounds and pence within a sentence."""
    return f"£{digits(value, POUNDS.decimals)}"


def pounds(value: float | None, unknown: str = "no total") -> str:
    """Pounds in a column of figures."""
    return f"{unknown:>12}" if value is None else f"£{digits(value, POUNDS.decimals):>11}"


def quantity(value: float, unit: str) -> str:
    """A quantity within a sentence, without its unit."""
    return digits(value, EACH.decimals if unit == EACH.sign else QUANTITY_DECIMALS)


def figure(value: float | None, unit: str, width: int = 10) -> str:
    """A quantity in a column of figures."""
    return f"{'#N/A' if value is None else quantity(value, unit):>{width}}"


def count(number: int, what: str) -> str:
    """So many things, in words.

    >>> count(1, "line"), count(2, "roll")
    ('1 line', '2 rolls')
    """
    return f"{number} {what}" + ("" if number == 1 else "s")


def hours(value: float) -> str:
    """Hours within a sentence, as the Labour sheet shows them."""
    return digits(value, AMOUNT.decimals)


def as_given(value: float) -> str:
    """A figure that is shown as it was given: no more decimals than it has, three at the most.

    >>> as_given(150.0), as_given(149.6)
    ('150', '149.6')
    """
    shown = digits(value, AMOUNT.decimals)
    return shown.rstrip("0").rstrip(".")
