"""Rules called by hand from Python: what they are given is checked first, as a job's cells are.

A rule itself checks nothing, since a sheet checks each cell once and not at each formula. So
whoever calls one goes through `checked`; evaluation and tracing never come here.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from ..errors import ArgumentError
from ..guidance.basis import KEYS
from ..language import NOT_AVAILABLE, Input, Item, Rule, Table, Varied, Worked
from ..language.many import Many
from ..language.offering import number_or_nought
from ..language.registry import rule_of
from ..language.tables import IN_USE, NamedCell, OwnCell, Source, WholeColumn
from ..language.units import AMOUNT, EACH, FLAG, Unit, plain
from ..questionnaire.assumed import ASSUMPTIONS
from .job import MAX_NUMBER
from .plan import plan

SLIPS = ((1000, "mm", "m"), (0.001, "m", "mm"))  # what was typed is so many times what is meant


@dataclass(frozen=True)
class Accepted:
    """What an argument takes: between limits, one of some texts, or nothing where it may be blank."""

    unit: Unit
    least: float | None = None
    most: float | None = None
    choices: tuple[str, ...] = ()
    blank: bool = False
    nought: bool = False

    def takes(self, value: Any) -> bool:
        """Whether the argument takes that value."""
        if value is None:
            return self.blank
        if value == "" and not self.unit.text:  # a blank cell; what is worked out may be one too
            return self.blank or self.least is None
        if self.unit is AMOUNT and isinstance(value, str):
            return True  # its column says of some rows that there is no figure
        if self.unit.text:
            if not isinstance(value, str):
                return False
            listed = not self.choices or value.lower() in (c.lower() for c in self.choices)
            return listed or (self.blank and value == "")
        if not isinstance(value, int | float) or (
            isinstance(value, bool) and self.unit is not FLAG
        ):
            return False
        if not abs(value) <= MAX_NUMBER:
            return False
        if self.unit in (EACH, FLAG) and value != math.floor(value):
            return False
        if self.least is None or self.most is None:
            return self.unit.holds(value)
        return self.least <= value <= self.most or (self.nought and value == 0)

    @property
    def said(self) -> str:
        """The same as one phrase."""
        if self.unit.text:
            return "one of " + ", ".join(self.choices) if self.choices else "a text"
        if self.least is None or self.most is None:
            found = self.unit.range
        else:
            sign = f" {self.unit.sign}" if self.unit.sign else ""
            found = f"a number from {plain(self.least)} to {plain(self.most)}{sign}"
            found = f"0, or {found}" if self.nought and self.least > 0 else found
        return found + (", whole" if self.unit in (EACH, FLAG) else "")


def checked(work: Callable[..., Any]) -> Callable[..., Any]:
    """The rule, checking what it is given: each argument by the limits of its column or named cell.

    Where the argument is itself worked out, it is held to what its unit can be on a house
    extension. A whole column is given as a sequence. What comes back is a number in the rule's
    unit, a text, or NOT_AVAILABLE. Raises ArgumentError, a ValueError, in one sentence that names
    the argument, what was found and what is accepted, with its unit.

    >>> from estimator.takeoff.floors import sheet_a
    >>> # 7.2 m, turned up 285 mm at one end and lapped 150 mm at the other: 7.2 + 0.285 + 0.15
    >>> round(checked(sheet_a)(1, 7.2, 285, 150, 0), 3)
    7.635
    >>> checked(sheet_a)(1, 7200, 285, 150, 0)
    Traceback (most recent call last):
    estimator.errors.ArgumentError: sheet_a, extent_a: found 7200; accepted: a number from -50 to 1000 m (was that mm?).
    """
    found = rule_of(work)

    def asked(*given: Any, **named: Any) -> Any:
        values = _by_name(found, given, named)
        accepted = _accepted(found.module, found.name)
        for name, value in values.items():
            _check(f"{found.name}, {name}", value, accepted[name])
        whole = {n: _as_many(v, accepted[n]) for n, v in values.items()}
        return work(*(whole[n] for n in found.arguments), *_several(found, whole))

    asked.__name__, asked.__doc__ = found.name, found.meaning
    return asked


def _by_name(found: Rule, given: Sequence[Any], named: Mapping[str, Any]) -> dict[str, Any]:
    names = found.arguments
    values = dict(zip(names, given, strict=False))
    rest = given[len(names) :]
    if found.several:
        values[found.several] = tuple(named.get(found.several, rest))
        named = {k: v for k, v in named.items() if k != found.several}
    elif rest:
        raise ArgumentError(found.name, f"{len(given)} arguments", ", ".join(names))
    for name, value in named.items():
        if name not in names or name in values:
            raise ArgumentError(found.name, name, "each of these once: " + ", ".join(names))
        values[name] = value
    for name in names:
        if name not in values:
            raise ArgumentError(f"{found.name}, {name}", None, found.units[name].range)
    return values


def _several(found: Rule, values: Mapping[str, Any]) -> Iterable[Any]:
    return tuple(values[found.several]) if found.several else ()


def _check(where: str, value: Any, accepted: Sequence[Accepted]) -> None:
    """Raises ArgumentError where none of the columns the argument may come from takes the value."""
    if value is NOT_AVAILABLE:
        return
    if isinstance(value, list | tuple):
        for n, one in enumerate(value, 1):
            _check(f"{where}[{n}]", one, accepted)
        return
    if any(a.takes(value) for a in accepted):
        return
    phrases = " or ".join(dict.fromkeys(a.said for a in accepted))
    raise ArgumentError(where, value, phrases + _slip(value, accepted))


def _slip(value: Any, accepted: Sequence[Accepted]) -> str:
    if isinstance(value, int | float) and not isinstance(value, bool):
        for times, typed, meant in SLIPS:
            of_unit = [a for a in accepted if a.unit.sign == meant]
            if value and any(a.takes(value / times) for a in of_unit):
                return f" (was that {typed}?)"
    return ""


def _as_many(value: Any, accepted: Sequence[Accepted]) -> Any:
    if isinstance(value, list):
        return Many(value, accepted[0].unit.text)
    return value


@cache
def _columns() -> dict[str, list[tuple[Worked, Table | None]]]:
    """Where each rule of the plan stands: in a list, or as a named cell."""
    found: dict[str, list[tuple[Worked, Table | None]]] = {}
    for column, table in _worked():
        found.setdefault(f"{column.rule.module}.{column.rule.name}", []).append((column, table))
    return found


def _worked() -> Iterator[tuple[Worked, Table | None]]:
    for table in plan().tables.values():
        for item in table:
            if isinstance(item, Worked):
                yield item, table
            elif isinstance(item, Varied):
                yield from ((item.row(n), None) for n in range(1, len(item.rules) + 1))
    for cell in plan().cells.values():
        if isinstance(cell, Worked):
            yield cell, None


@cache
def _accepted(module: str, name: str) -> dict[str, tuple[Accepted, ...]]:
    """What each argument of a rule takes, by the columns and cells it is read from."""
    from ..language import RULES

    found = RULES[f"{module}.{name}"]
    stands = _columns().get(f"{module}.{name}", [])
    taken: dict[str, dict[Accepted, None]] = {a: {} for a in found.units}
    for column, table in stands:
        for argument, source in zip(found.arguments, plan().sources(column, table), strict=False):
            taken[argument][_of_source(source, table, found.units[argument])] = None
    for argument, unit in found.units.items():
        if not taken[argument]:  # a rule of other rules: by what bears the argument's name
            taken[argument] = dict.fromkeys(_of_name(argument, unit)) or {Accepted(unit): None}
    return {argument: tuple(accepted) for argument, accepted in taken.items()}


def _of_source(source: Source, table: Table | None, unit: Unit) -> Accepted:
    match source:
        case OwnCell(column) if table is not None:
            return _of_column(table, column)
        case NamedCell(name):
            return _of_cell(name, unit)
        case WholeColumn(other, column):
            return _of_column(plan().tables[other], column, spare=True)
    return Accepted(unit)


def _of_column(table: Table, column: str, spare: bool = False) -> Accepted:
    """What a column holds; of one that is in use, what is typed. A spare row holds 0 or no text."""
    typed = column.removeprefix(IN_USE)
    item = table.column(typed)
    if not isinstance(item, Input):
        return Accepted(table.column(column).unit, blank=spare)
    used = table.column(column)
    nought = isinstance(used, Worked) and used.rule is rule_of(number_or_nought)
    return _of_input(item, nought=spare or (nought and not item.required), blank=spare)


def _of_cell(name: str, unit: Unit) -> Accepted:
    typed = name.removeprefix(IN_USE)
    item: Item | None = plan().cells.get(typed)
    if isinstance(item, Input):
        return _of_input(item)
    limits = _figures().get(name)
    return Accepted(unit) if limits is None else limits


def _of_input(item: Input, nought: bool = False, blank: bool = False) -> Accepted:
    blank = blank or not item.required
    if item.limits_in or item.percent_in:
        return Accepted(item.unit, blank=blank)
    return Accepted(item.unit, item.least, item.most, item.choices, blank, nought)


@cache
def _figures() -> dict[str, Accepted]:
    """Allowances and figures assumed, which are cells named by their row."""
    found = {k.name: Accepted(k.unit, k.least, k.most) for k in KEYS}
    return found | {a.key: Accepted(a.unit, a.least, a.most) for a in ASSUMPTIONS}


def _of_name(argument: str, unit: Unit) -> Iterator[Accepted]:
    """What bears that name anywhere, in the unit asked for."""
    if argument in _figures():
        yield _figures()[argument]
    items: list[tuple[Table | None, Item]] = [(None, i) for i in plan().cells.values()]
    items += [(t, i) for t in plan().tables.values() for i in t]
    for table, item in items:
        if item.name == argument and isinstance(item, Input) and item.unit.sign == unit.sign:
            yield (_of_input(item) if table is None else _of_column(table, table.in_use(argument)))
