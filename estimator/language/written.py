"""Figures asked for, written as one expression: each rule's result under a name of its own.

The rules are called with references, in the order in which `Asked` calls them with numbers. What
rests on nothing that is given was worked out beforehand and stands as a figure. What no later
step reads is left out.
"""

import inspect
import re
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from .asked import Asked
from .columns import as_constants
from .many import Many
from .tracing import OneRow, Ref, as_ref

LET, NAME = "_xlfn.LET", "_xlpm."  # as files keep them: the function, and names bound by it
_PLAIN = re.compile(r'[\w.]+|-?\d+(\.\d+)?|"[^"]*"|NA\(\)')


class Written:
    """Results bound one after another. `taken` are names that mean something else already."""

    def __init__(self, taken: Iterable[str]) -> None:
        self._taken = {name.lower() for name in taken}
        self._bound: list[tuple[str, str]] = []
        self._by_text: dict[str, str] = {}

    def figures(self, asked: Asked, values: Sequence[Any]) -> list[Any]:
        """Each figure that is asked for, as a reference, or as the figure that it always is."""
        return list(asked.followed(self._work_out, *values))

    def named(self, name: str, found: Any) -> Any:
        """A result under a name; a figure, a name or a text as it is."""
        if isinstance(found, list):
            return [self.named(name, f) for f in found]
        if isinstance(found, OneRow):
            return OneRow(self.named(name, found.row))
        if not isinstance(found, Ref) or _PLAIN.fullmatch(found.text):
            return found
        if found.text not in self._by_text:
            self._by_text[found.text] = self._free(name)
            self._bound.append((self._by_text[found.text], found.text))
        text = NAME + self._by_text[found.text]
        return Ref(text, many=found.many, holds_text=found.holds_text)

    def expression(self, result: Any) -> str:
        """The result, behind all that it rests on."""
        body = as_ref(result).text
        kept: list[str] = []
        read = body
        for name, text in reversed(self._bound):
            if re.search(rf"{re.escape(NAME + name)}\b", read):
                kept = [NAME + name, text, *kept]
                read += " " + text
        return f"{LET}({','.join((*kept, body))})" if kept else body

    def _work_out(self, work: Callable[..., Any], arguments: Sequence[Any]) -> Any:
        if not any(_is_traced(a) for a in arguments):
            return work(*arguments)
        constants = [as_constants(a) if isinstance(a, Many) else a for a in arguments]
        name = getattr(inspect.unwrap(work), "__name__", "").strip("_")
        return self.named(name, work(*constants))

    def _free(self, name: str) -> str:
        free, number = name, 2
        while free.lower() in self._taken:
            free, number = f"{name}_{number}", number + 1
        self._taken.add(free.lower())
        return free


def _is_traced(value: Any) -> bool:
    return isinstance(value, Ref) or (isinstance(value, list) and any(map(_is_traced, value)))
