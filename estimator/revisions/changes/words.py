"""The words of the changes: sentences and names from words.toml, figures as a client reads them."""

import string
import tomllib
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from ...language import rounding
from ...language.days import day_of
from ...language.units import METRES, POUNDS, Unit

FILE = Path(__file__).parent / "words.toml"
_FEWEST_DECIMALS = {POUNDS.sign: 2, METRES.sign: 2}
_BESIDE = ("°",)  # signs that stand against their figure
_COUNTED = ("nr", "")


@cache
def words() -> Mapping[str, Mapping[str, Any]]:
    """All of words.toml, by section."""
    return tomllib.loads(FILE.read_text("utf-8"))


def say(name: str, **filled: object) -> str:
    """A sentence or a part of one, filled in; what fills it is never read as a form itself."""
    form = words()["sentences"].get(name) or words()["parts"][name]
    return string.Formatter().vformat(form, (), filled).strip()


def word(name: str) -> str:
    """A word or two that stand alone."""
    return str(words()["single"][name])


def row_noun(table: str, kind: str | None) -> str:
    """What a row of that list is called; by its kind where its list holds several."""
    noun = str(words()["rows"][table])
    if "{kind}" not in noun:
        return noun
    if kind is None:
        return str(words()["rows_of_any_kind"][table])
    return noun.format(kind=kind[:1].upper() + kind[1:])


def in_sentence(label: str) -> str:
    """A label within a sentence: its first letter small, unless it begins an abbreviation."""
    return label[:1].lower() + label[1:] if label[1:2].islower() else label


def as_typed(value: float, unit: Unit) -> str:
    """A typed figure with its unit, to the last digit that was typed; a day as 2026-03-01."""
    if unit.dated:
        return day_of(value).isoformat()
    exact = Decimal(f"{value:.15g}").normalize()
    exponent = exact.as_tuple().exponent
    typed = -exponent if isinstance(exponent, int) else 0
    return with_unit(exact, max(typed, _FEWEST_DECIMALS.get(unit.sign, 0)), unit.sign)


def as_worked(value: float | None, sign: str) -> str:
    """A figure that was worked out, as quote and quantities print it; or that there is none yet."""
    if value is None:
        return word("no_figure")
    decimals = 0 if sign in _COUNTED else 2
    return with_unit(rounding.to_places(value, decimals), decimals, sign)


def pounds(pence: int | None) -> str:
    """Pounds and pence; or that there is no figure yet."""
    if pence is None:
        return word("no_figure")
    return with_unit(Decimal(pence) / 100, 2, POUNDS.sign)


def with_unit(value: Decimal, decimals: int, sign: str) -> str:
    """A figure with so many decimals and its unit."""
    if sign == POUNDS.sign:
        return f"{'-' if value < 0 else ''}£{abs(value):,.{decimals}f}"
    figure = f"{value:.{decimals}f}"
    if sign in _COUNTED:
        return figure
    return figure + sign if sign in _BESIDE else f"{figure} {sign}"


def noun(number: float, pack: str) -> str:
    """What so many packs are called: roll, rolls; what has no such word, as × 1 t, as it is."""
    one, several = words()["packs"].get(pack, (pack, pack))
    return str(one if number == 1 else several)


def packs(number: float | None, pack: str, content: str = "") -> str:
    """So many rolls or packs, each of that content; or so many times a weight."""
    if number is None:
        return word("no_figure")
    called = noun(number, pack)
    name = "packs_of" if content and called else "packs"
    return say(name, number=f"{number:g}", noun=called, content=content)
