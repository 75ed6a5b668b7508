"""Helpers for words with figures in them. A length in metres has a point, whatever the host writes."""

from typing import Any

from . import rounding
from .helpers import _helper
from .tracing import ADDED, JOINED, MULTIPLIED, Ref, as_ref, function, operation


def _whole(value: Any) -> Ref:
    return function("ROUND", [value, 0])


def _joined(*parts: Any) -> Ref:
    found = as_ref(parts[0])
    for part in parts[1:]:
        found = operation(found, "&", part, JOINED)
    return Ref(found.text, JOINED, holds_text=True)


def _in_metres(value: Any) -> Ref:
    thousands = _whole(operation(value, "*", 1000, MULTIPLIED))
    metres = function("ROUNDDOWN", [operation(thousands, "/", 1000, MULTIPLIED), 0])
    rest = function("RIGHT", [operation(thousands, "+", 1000, ADDED), 3])
    return _joined(metres, ".", rest)


@_helper(lambda value: _joined(function("ROUND", [value, 1]), ""))
def in_figures(value: float) -> str:
    """A figure as a text, with one decimal where it has one."""
    return f"{rounding.to_places(value, 1):f}".removesuffix(".0")


@_helper(_in_metres)
def in_metres(value: float) -> str:
    """A length in metres as a text, to the millimetre; not of one below 0."""
    thousands = int(rounding.to_places(value * 1000, 0))
    return f"{thousands // 1000}.{thousands % 1000:03d}"


@_helper(lambda value: function("LEN", [value]))
def letters_in(text: str) -> int:
    """How many letters a text has, figures and gaps among them."""
    return len(text)


@_helper(_joined)
def one_text(*texts: str) -> str:
    """Texts, one after another."""
    return "".join(texts)


def so_many(number: float, thing: str) -> str:
    """A number of things in words: 1 line, 2 lines."""
    return f"{number:g} {thing}{'' if number == 1 else 's'}"
