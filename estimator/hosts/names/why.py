"""For each function a second name, with `_WHY` after it: one sentence that says why there is no figure.

It asks what the function asks, in the same order; of allowances that the basis does not state it
names all that are read, also one that plays no part.
"""

from collections.abc import Sequence
from typing import Any

from ...functions import Function
from ...functions.arguments import Argument
from ...language.helpers import given, where
from ...language.tracing import JOINED, Ref, as_ref, function, operation
from ...language.written import NAME
from . import basis_names, parts

FOUND, SAID = "DAMP_FOUND", "DAMP_SAID"
ENDING = "_WHY"
_LONGEST_TEXT = 250  # characters of a text in a formula, with room for doubled signs


def inner() -> list[tuple[str, tuple[str, ...], str]]:
    """What the others call: what was found in a cell, and the sentence about it."""
    cell, words, accepted = (Ref(NAME + n) for n in ("cell", "words", "accepted"))
    found: Any = function("IF", [function("ISTEXT", [cell]), _joined("'", cell, "'"), cell])
    found = function("IF", [function("ISBLANK", [cell]), "a blank cell", found])
    found = function("IF", [function("ISERROR", [cell]), "an error of another cell", found])
    found = function("IF", [basis_names.is_one_cell(cell), found, "a column of cells"])
    said = _joined(words, ": found ", function(FOUND, [cell]), "; accepted: ", accepted, ".")
    return [(FOUND, ("cell",), found.text), (SAID, ("words", "cell", "accepted"), said.text)]


def text_of(function_: Function) -> tuple[tuple[str, ...], str]:
    """The parameters of a function's second name, and its text."""
    arguments, cells = function_.arguments, parts.cells_of(function_)
    said = _of_the_whole(function_, cells)
    for argument, cell in reversed(list(zip(arguments, cells, strict=True))):
        fits = function(
            "IF",
            [
                function("AND", parts.kinds(argument, cell)),
                function("AND", parts.limits(argument, cell)),
                Ref("FALSE"),
            ],
        )
        said = where(fits, said, _sentence(argument, cell, argument.accepted))
    lost = function("ISERROR", [function(function_.name, cells)])
    return tuple(a.name for a in arguments), function("IF", [lost, said, ""]).text


def _of_the_whole(function_: Function, cells: Sequence[Ref]) -> Ref:
    """What does not go together, and what the basis does not state."""
    written, conditions, _, stated = parts.worked_out(function_, cells)
    said = _unstated(stated)
    names = [a.name for a in function_.arguments]
    for holds, held in reversed(conditions):
        at = names.index(held.argument)
        kept = parts.kept(holds, held)
        said = where(kept, said, _sentence(function_.arguments[at], cells[at], held.accepted))
    return Ref(written.expression(said))


def _unstated(stated: dict[str, Ref]) -> Ref:
    silent: list[Any] = [where(given(v), "", f" {key};") for key, v in stated.items()]
    if not silent:
        return as_ref("not available for these figures.")
    head = "basis: it states no figure for"
    return _joined(head, *silent, " give your own after its name, as key=number.")


def _sentence(argument: Argument, cell: Ref, accepted: str) -> Ref:
    words = argument.name.replace("_", " ")
    chunks = [accepted[n : n + _LONGEST_TEXT] for n in range(0, len(accepted), _LONGEST_TEXT)]
    return function(SAID, [words, cell, _joined(*chunks)], holds_text=True)


def _joined(*texts: Any) -> Ref:
    first, *others = texts
    found = as_ref(first)
    for other in others:
        found = operation(found, "&", other, JOINED)
    return Ref(found.text, found.binds, holds_text=True)
