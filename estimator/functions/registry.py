"""What a function is: a row that says which figure of the plan it gives, from which others.

A row works nothing out itself. Its figure is a column of a list or a named cell; each argument
gives one or more of those it rests on; what plays no part, or is not asked, is fixed.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from ..language import NOT_AVAILABLE
from ..language.asked import Alike, Asked
from ..language.units import Unit
from .arguments import ARGUMENTS, Argument
from .guidance import Guidance, keys
from .plan import ROWS, item_at, plan
from .refusal import CellError, in_words

Figures = Callable[..., Iterator[Any]]
PREFIX = "DAMP_"
BASIS = "basis"


@dataclass(frozen=True)
class Example:
    """A call worked by hand: what is given, what must come out, and how."""

    given: tuple[Any, ...]
    gives: float | str
    working: str


@dataclass(frozen=True)
class Held:
    """What must hold, or the argument is refused: the figure at a place, 1 unless said.

    `fixed` are places that are taken as given for this alone.
    """

    place: str
    argument: str
    accepted: str
    holds: float = 1
    fixed: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Function:
    """A spreadsheet function: its name in a cell, what it takes, and the figure it gives.

    `takes` are names of arguments. One gives the place of its own name, or those after a colon:
    "pipes: number". Places are written as a rule's arguments are found: a column of the figure's
    own list, another list's as "book.width", else a named cell. A basis gives each allowance that
    is read. `fixed` says the rest; a text that begins with "=" is the figure of another place.
    """

    method: str
    group: str
    figure: str | Callable[[str, Guidance], Any]  # what a basis says is no figure of the plan
    takes: tuple[str, ...]
    example: Example
    fixed: Mapping[str, Any] = field(default_factory=dict)
    held: tuple[Held, ...] = ()
    meaning_here: str = ""  # where the column's own words do not read well in a sheet
    detail: str = ""
    unit_here: Unit | None = None

    @property
    def name(self) -> str:
        """The name in a cell."""
        return PREFIX + self.method

    @property
    def meaning(self) -> str:
        """What it gives, in one sentence."""
        return self.meaning_here or item_at(self._figure).help

    @property
    def unit(self) -> Unit:
        """The unit of its figure."""
        return self.unit_here or item_at(self._figure).unit

    @property
    def described(self) -> str:
        """What a function wizard says of it: its group, its meaning and the unit of its result."""
        sign = f" In {self.unit.sign}." if self.unit.sign else ""
        return f"{self.group}: {self.meaning}{sign}"

    @cached_property
    def arguments(self) -> tuple[Argument, ...]:
        """What it takes, in order."""
        return tuple(ARGUMENTS[t.partition(":")[0]] for t in self.takes)

    @cached_property
    def places(self) -> dict[str, tuple[str, ...]]:
        """The columns and cells that each argument gives; a basis is none of them."""
        found = {}
        for taken in () if callable(self.figure) else self.takes:
            name, _, places = taken.partition(":")
            if name != BASIS:
                found[name] = tuple(self._place(p) for p in places.split() or [name])
        return found

    @property
    def rules(self) -> tuple[str, ...]:
        """The rules at work, in their order."""
        return () if callable(self.figure) else self.asked[-1].rules

    @property
    def allowances(self) -> tuple[str, ...]:
        """The allowances that are read from the basis."""
        return () if callable(self.figure) else tuple(self.asked[-1].names)

    @cached_property
    def work(self) -> Callable[..., Any]:
        """Gives the figure for its arguments. Raises CellError where they do not go together."""
        if callable(self.figure):
            return self.figure
        *alone, main = self.asked
        if self.arguments[-1].name != BASIS:
            return self._checked([a.__call__ for a in alone], main.__call__)
        return self._checked([_with_basis(a) for a in alone], _with_basis(main))

    def _checked(self, alone: list[Figures], main: Figures) -> Callable[..., Any]:
        """The figure, after what must hold has been seen to hold, in order."""
        waiting, checks = iter(alone), []
        for held in self.held:
            at = list(self.places).index(held.argument)
            checks.append((next(waiting) if held.fixed else None, at, held))

        def figure(*values: Any) -> Any:
            figures = main(*values)
            for other, at, held in checks:
                found = next(other(*values) if other else figures)
                if found != held.holds and isinstance(found, int | float):
                    words = held.argument.replace("_", " ")
                    raise CellError(words, in_words(values[at]), held.accepted)
            return next(figures)

        return figure

    def unstated(self, *values: Any) -> str:
        """For want of which allowance there is no figure, in a sentence; an empty text for none.

        It is the first that takes the figure away even where all others are stated.
        """
        *own, basis = values
        if not isinstance(basis, Guidance):
            return ""
        if callable(self.figure):
            return basis.unstated(own[0])
        asked = self.asked[-1]
        silent = [k for k in asked.names if basis(k) is NOT_AVAILABLE]
        for key in silent:
            figures = (1 if k in silent and k != key else basis(k) for k in asked.names)
            *_, found = asked(*own, *figures)
            if found is NOT_AVAILABLE:
                return basis.unstated(key)
        return ""

    @cached_property
    def asked(self) -> tuple[Asked, ...]:
        """What is asked of the plan: each condition that fixes more by itself, then all the rest."""
        alone = [self._asking([h.place], h.fixed) for h in self.held if h.fixed]
        rest = [h.place for h in self.held if not h.fixed]
        return *alone, self._asking([*rest, self._figure], {})

    def _asking(self, targets: list[str], more: Mapping[str, Any]) -> Asked:
        fixed = self.fixed_places | {self._place(p): v for p, v in more.items()}
        allowances = keys() if self.arguments[-1].name == BASIS else ()
        targets = [self._place(t) for t in targets]
        return Asked(plan(), targets, self.places.values(), fixed, allowances, ROWS)

    @property
    def fixed_places(self) -> dict[str, Any]:
        """The columns and cells that are fixed, with their values."""
        return {self._place(p): self._fixed(v) for p, v in self.fixed.items()}

    def _fixed(self, value: Any) -> Any:
        if isinstance(value, str) and value.startswith("="):
            return Alike(self._place(value[1:]))
        return value

    @property
    def _figure(self) -> str:
        assert isinstance(self.figure, str), self.method
        return self.figure

    def _place(self, name: str) -> str:
        table = self._figure.partition(".")[0] if "." in self._figure else ""
        own = "." not in name and table and plan().tables[table].has(name)
        return f"{table}.{name}" if own else name


def _with_basis(asked: Asked) -> Figures:
    """The last value is a basis: it gives the allowances that are read."""
    names = asked.names

    def figures(*values: Any) -> Iterator[Any]:
        *own, basis = values
        return asked(*own, *map(basis, names))

    return figures
