"""Prices and discounts as merchants write them: £1,234.50, 1.234,50, 95p, 12.50 per m, 35%."""

import re
from collections.abc import Mapping
from datetime import date

from ..language.percent import percent_of, percent_usable
from .sheets import Cell

A_PRICE = "a price such as 12.50, £1,250.00 or 95p"
A_DISCOUNT = "a discount such as 35, 35% or 0.35"
_PER = re.compile(r"(?P<price>.*?\d\s*p?)\s*(?P<per>(?:per\b|each\b|ea\b|/).*)", re.I | re.S)
_FIGURES, _PRICED = re.compile(r"[\d/. -]+"), re.compile(r"[£.p]")
_POINT = re.compile(r"(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?|\.\d+", re.ASCII)
_COMMA = re.compile(r"(?:\d{1,3}(?:[. ]\d{3})+|\d+)(?:,\d+)?|,\d+", re.ASCII)
_WITH_COMMA = re.compile(r"\d,\d{1,2}$|\.\d{3},\d+$")


def price_in(cell: Cell, decimal_comma: bool, in_pence: bool) -> tuple[float, str] | None:
    """A price in pounds, and what the same cell says it is for ("" where nothing); None for a blank.

    Raises ValueError, saying what is accepted, for anything that can be read in no way or in two.

    >>> price_in("£1,234.50", False, False), price_in("95p per m", False, False)
    ((1234.5, ''), (0.95, 'per m'))
    """
    if isinstance(cell, bool | date):
        raise ValueError(A_PRICE)
    if isinstance(cell, int | float):
        return (cell / 100 if in_pence else float(cell)), ""
    text = " ".join(cell.replace("\xa0", " ").split())
    if not text:
        return None
    per = ""
    if found := _PER.fullmatch(text):
        text, per = found["price"], found["per"].removeprefix("/").strip()
        # 24.10/50 is a price for fifty; 12/03 and 12/03/2026 are days.
        if _FIGURES.fullmatch(per) and ("/" in per or not _PRICED.search(text)):
            raise ValueError(A_PRICE)
    pence = in_pence
    if text.endswith(("p", "P")) and not text.startswith("£"):
        text, pence = text[:-1], True
    text = text.removeprefix("GBP").removesuffix("GBP").strip().removeprefix("£").strip()
    return _figure(text, decimal_comma) / (100 if pence else 1), per


def _figure(text: str, decimal_comma: bool) -> float:
    if decimal_comma and _COMMA.fullmatch(text):
        return float(text.replace(".", "").replace(" ", "").replace(",", "."))
    if not decimal_comma and _POINT.fullmatch(text):
        return float(text.replace(",", ""))
    if looks_decimal_comma(text) and not decimal_comma:
        raise ValueError(f'{A_PRICE}; or decimal = "," in the map')
    raise ValueError(A_PRICE)


def looks_decimal_comma(text: str) -> bool:
    """Whether a price's text can only be one with a decimal comma, as 12,50 or 1.234,50."""
    return _WITH_COMMA.search(text.strip()) is not None


def discount_in(cell: Cell, groups: Mapping[str, float], decimal_comma: bool) -> float:
    """A discount in per cent, 0 for a blank; `groups` says what a merchant's own group stands for.

    A figure without a sign is read as percentages are everywhere here: 35, and 0.35 as well.
    Raises ValueError, saying what is accepted.

    >>> discount_in("A", {"a": 32.5}, False), discount_in(0.35, {}, False)
    (32.5, 35.0)
    """
    accepted = A_DISCOUNT + (f", or one of the groups in the map: {', '.join(groups)}" if groups else "")  # fmt: skip
    if isinstance(cell, bool | date):
        raise ValueError(accepted)
    if isinstance(cell, str):
        text = cell.strip()
        if not text:
            return 0
        if text.casefold() in groups:
            return groups[text.casefold()]
        try:
            typed = _figure(text.removesuffix("%").strip(), decimal_comma)
        except ValueError:
            raise ValueError(accepted) from None
        if text.endswith("%"):
            if typed >= 100:
                raise ValueError(accepted)
            return typed
    else:
        typed = float(cell)
    if not percent_usable(typed, 100) or typed == 100:
        raise ValueError(accepted)
    return float(percent_of(typed))
