"""Lists and named cells as data: what is typed, what is worked out, and in which order.

A list is an ordered set of columns. A rule's name is its column; the names of its arguments are,
in this order, a column of the same list, a named cell, or a whole column of another list written
`one_column` (`edge_length` is the column `length` of the list whose rows are each one `edge`).
The same plan drives the take-off in Python, the formulas, the validation and the documentation.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from .registry import Rule, rule_of
from .units import EACH, PERCENT, PERCENT_LEAST, TEXT, Unit

OFFERED, IN_USE = "form_", "used_"  # what is offered to a typed column; what is in use
GUARDS = ("wired", "checked")  # what a sheet adds to each row that is typed in
POSITION = "position"  # every list has it: the row's place in its list, counted from 1


@dataclass(frozen=True)
class Item:
    """What every column and named cell has: a name, a printed label, a unit, a line of help.

    `default` is what it holds until somebody says otherwise; None is blank. `since` is the layout
    in which it first stood, and `was` names it had before, each with the last layout that used it.
    """

    name: str
    label: str
    unit: Unit
    help: str = ""
    default: Any = field(default=None, kw_only=True)
    since: int = field(default=1, kw_only=True)
    was: tuple[tuple[str, int], ...] = field(default=(), kw_only=True)


@dataclass(frozen=True)
class Input(Item):
    """Typed by a person. `choices` are fixed texts; `choice_of` names a list's column."""

    required: bool = True
    least: float | None = None
    most: float | None = None
    choices: tuple[str, ...] = ()
    choice_of: str | None = None
    limits_in: tuple[str, str] | None = None  # columns of the same row that hold its limits
    percent_in: tuple[str, str] | None = None  # a percentage where that column says so

    @property
    def key(self) -> str:
        """The field's name in a job file: the unit is in the name."""
        return self._key(self.name)

    def keys_before(self, layout: int) -> tuple[str, ...]:
        """What the field was called in a job file of that layout, where it had another name."""
        return tuple(self._key(name) for name, last in self.was if layout <= last)

    def _key(self, name: str) -> str:
        return name if name.endswith(self.unit.ending) else name + self.unit.ending

    @property
    def accepted(self) -> str:
        """What may be typed, as one phrase."""
        if self.choices:
            return "one of " + ", ".join(self.choices)
        if self.choice_of:
            table, _, column = self.choice_of.partition(".")
            return f"a {column} from the list of {table.replace('_', ' ')}"
        if self.unit.text:
            return "a text of one line"
        if self.limits_in:
            return "a number within the limits of its row"
        if self.unit is PERCENT:
            return f"0, or a percentage from {PERCENT_LEAST:g} to {self.most:g} %"
        sign = f" {self.unit.sign}" if self.unit.sign else ""
        return f"a number from {self.least:g} to {self.most:g}{sign}"

    def is_percent(self, row: Mapping[str, Any]) -> bool:
        """Whether it holds a percentage in that row: everywhere, or where another column says so."""
        if self.percent_in is not None:
            column, says = self.percent_in
            return str(row.get(column)).lower() == says.lower()
        return self.unit is PERCENT


@dataclass(frozen=True)
class Fixed(Item):
    """Set when the list is laid out; never typed, never worked out."""


@dataclass(frozen=True)
class Linked(Item):
    """Read from the row of another list that this row belongs to; the row says which column."""


@dataclass(frozen=True)
class Worked(Item):
    """Worked out by a rule. `bound` gives some of its arguments a fixed value."""

    rule: Rule = field(kw_only=True)
    bound: Mapping[str, Any] = field(default_factory=dict)


def _by(found: Rule | Worked, item: Item) -> Worked:
    """A cell of that column, worked out by a rule, or by one that is bound to its arguments."""
    if isinstance(found, Worked):
        return Worked(
            item.name, item.label, item.unit, found.help, rule=found.rule, bound=found.bound
        )
    return Worked(item.name, item.label, item.unit, found.meaning, rule=found)


@dataclass(frozen=True)
class Varied(Item):
    """Worked out by another rule in each row; the rules read named cells and whole columns only."""

    rules: tuple[Rule | Worked, ...] = field(kw_only=True)

    def row(self, n: int) -> Worked:
        """The column as it is worked out in row n, counted from 1."""
        return _by(self.rules[n - 1], self)


@dataclass(frozen=True)
class Offer(Item):
    """Offered to a typed column by something filled in elsewhere, row by row.

    Row n has the nth rule; rows past the last are offered nothing, and so is a row whose rule
    gives the empty text.
    """

    rules: tuple[Rule | Worked | None, ...] = field(kw_only=True)

    def row(self, n: int) -> Worked | None:
        """The offer as it is worked out in row n, counted from 1; None where there is none."""
        found = self.rules[n - 1] if n <= len(self.rules) else None
        return None if found is None else _by(found, self)


def worked(
    work: Callable[..., Any], label: str | None = None, name: str | None = None, **bound: Any
) -> Worked:
    """The column, or the named cell, of a rule."""
    found = rule_of(work)
    name = name or found.name
    label = label or name.replace("_", " ").capitalize()
    return Worked(name, label, found.unit, found.meaning, rule=found, bound=bound)


def text(name: str, label: str, help: str = "", **more: Any) -> Input:
    """A column for a text."""
    return Input(name, label, TEXT, help, **more)


def number(
    name: str, label: str, unit: Unit, least: float, most: float, help: str = "", **more: Any
) -> Input:
    """A column for a number between two limits."""
    return Input(name, label, unit, help, least=least, most=most, **more)


@dataclass(frozen=True)
class Table:
    """A list. Rows whose `key` is empty are spare: they count nothing, and show nothing."""

    name: str
    one: str
    title: str
    columns: tuple[Item, ...]
    key: str = "mark"
    grows: bool = False  # a person adds rows: it gets spare rows and an end line
    spare: tuple[int, int] = (0, 0)  # spare rows in a usual workbook, and in a blank one
    guarded: bool = True  # rows may be spare
    names: str | None = None  # this column's cells are named by their row's key
    numbered: bool = True  # its rows' numbers stand in the sheet
    since: int = 1  # the layout in which it first stood

    def __iter__(self) -> Iterator[Item]:
        return iter(self.columns)

    def column(self, name: str) -> Item:
        """The column of that name."""
        if name == POSITION:
            return Fixed(POSITION, "No.", EACH)
        return self._by_name[name]

    @cached_property
    def _by_name(self) -> Mapping[str, Item]:
        return {c.name: c for c in self.columns}

    @property
    def key_in_use(self) -> str:
        """The column that holds the key of each row, typed or offered."""
        return self.in_use(self.key)

    def in_use(self, name: str) -> str:
        """The column that other rules read for this one: what is in use, typed or offered."""
        return IN_USE + name if self.has(IN_USE + name) else name

    def offers(self, name: str) -> bool:
        """Whether something else may fill in that typed column."""
        return self.has(OFFERED + name)

    @property
    def rows_offered(self) -> int:
        """How many rows something else may fill in."""
        return max((len(c.rules) for c in self.columns if isinstance(c, Offer)), default=0)

    def has(self, name: str) -> bool:
        """Whether the list has a column of that name."""
        return name == POSITION or name in self._by_name

    @property
    def places(self) -> tuple[str, ...]:
        """Every column that stands in a sheet: the row's number, all columns, the guards."""
        number = (POSITION,) if self.numbered else ()
        return (*number, *(c.name for c in self), *(GUARDS if self.inputs else ()))

    @property
    def inputs(self) -> tuple[Input, ...]:
        """The columns a person types in."""
        return tuple(c for c in self.columns if isinstance(c, Input))

    def is_guarded(self, name: str) -> bool:
        """Whether that column is emptied in a spare row: those that stand after the key."""
        order = [c.name for c in self.columns]
        return self.guarded and name in order and order.index(name) > order.index(self.key_in_use)


# Where the value of a rule's argument comes from.


@dataclass(frozen=True)
class OwnCell:
    """The same row's cell in that column."""

    column: str


@dataclass(frozen=True)
class TypedCell(OwnCell):
    """The same row's cell as a person typed it, whatever else was offered."""


@dataclass(frozen=True)
class NamedCell:
    """A cell known by its name everywhere."""

    name: str


@dataclass(frozen=True)
class WholeColumn:
    """All rows of a column of some list."""

    table: str
    column: str


@dataclass(frozen=True)
class Constant:
    """A value bound when the column was made."""

    value: Any


Source = OwnCell | NamedCell | WholeColumn | Constant


class PlanError(LookupError):
    """A rule reads a name that is nowhere in the plan."""


class Plan:
    """All lists and named cells, and what every argument of every rule refers to."""

    def __init__(
        self, tables: Iterable[Table], cells: Iterable[Item], keyed: Mapping[str, Iterable[Item]]
    ) -> None:
        self.tables = {t.name: t for t in tables}
        self.cells = {c.name: c for c in cells}
        # Cells of a list that are named by their row: {list: one item per row}.
        self.keyed = {i.name: (t, n) for t, items in keyed.items() for n, i in enumerate(items, 1)}
        self.keyed_items = {i.name: i for items in keyed.values() for i in items}
        self._by_one = sorted(self.tables.values(), key=lambda t: -len(t.one))
        self._whole: dict[str, WholeColumn | None] = {}  # by an argument's name, once looked for
        for name in [*self.cells, *self.keyed]:
            check_cell_name(name)

    def sources(self, column: Worked, table: Table | None) -> tuple[Source, ...]:
        """Where each argument of a column's rule comes from, in the rule's order."""
        wanted = column.rule
        found = [self._source(a, column, table) for a in wanted.arguments]
        if wanted.several:
            found += self._several(wanted.several, table)
        return tuple(found)

    def _source(self, argument: str, column: Worked, table: Table | None) -> Source:
        if argument in column.bound:
            return self._bound(column.bound[argument], table)
        if table is not None and table.has(argument):
            return OwnCell(table.in_use(argument))
        if argument in self.cells or argument in self.keyed:
            return NamedCell(self.cell_in_use(argument))
        if argument not in self._whole:
            self._whole[argument] = self._whole_column(argument)
        whole = self._whole[argument]
        if whole is not None:
            return whole
        place = table.name if table else "the named cells"
        raise PlanError(f"{place}, {column.name}: nothing is called {argument!r}")

    def _whole_column(self, argument: str) -> WholeColumn | None:
        for other in self._by_one:
            name = argument.removeprefix(other.one + "_")
            if name != argument and other.has(name):
                return WholeColumn(other.name, other.in_use(name))
        return None

    def cell_in_use(self, name: str) -> str:
        """The named cell that rules read for this one: a percentage is read as it is meant."""
        return IN_USE + name if IN_USE + name in self.cells else name

    def _bound(self, value: Any, table: Table | None) -> Source:
        match value:
            case TypedCell():
                return OwnCell(value.column)
            case OwnCell(column) if table is not None:
                return OwnCell(table.in_use(column))
            case WholeColumn(other, column):
                return WholeColumn(other, self.tables[other].in_use(column))
            case _:
                return value if isinstance(value, Source) else Constant(value)

    def _several(self, stem: str, table: Table | None) -> list[Source]:
        names = [c.name for c in table or () if re.fullmatch(rf"{stem}_\d+", c.name)]
        if not names:
            raise PlanError(f"no numbered columns are called {stem!r}")
        return [OwnCell(table.in_use(n) if table else n) for n in names]


def check_cell_name(name: str) -> None:
    """A cell's name needs an underscore and no digit, or a host may read it as an address."""
    if not re.fullmatch(r"[a-z]+(_[a-z]+)+", name):
        raise PlanError(f"{name!r}: a cell's name is small letters and at least one underscore")
