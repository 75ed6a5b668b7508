"""Lists and named cells as data: what is typed, what is worked out, and in which order.

A list is an ordered set of columns. A rule's name is its column; the names of its arguments are,
in this order, a column of the same list, a named cell, or a whole column of another list written
`one_column` (`edge_length` is the column `length` of the list whose rows are each one `edge`).
The same plan drives the take-off in Python, the formulas, the validation and the documentation.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from .days import day_of
from .registry import Rule, rule_of
from .units import EACH, PERCENT, PERCENT_LEAST, TEXT, Unit, plain

ABOVE = "above_"  # before an argument's name: the figure of the row before, in the same list
# What a person reads where a name of ours is another word.
_SAID = {"mark": "ref", "label": "name"}
_LISTS = {
    table: f"the list of {said}"
    for table, said in {
        "zones": "floors",
        "edges": "edges of floors",
        "walls": "wall runs",
        "abutments": "roof abutments",
        "old_walls": "existing walls",
        "cut_ins": "trays cut into existing walls",
        "bases": "guidance documents",
        "floor_kinds": "build-ups",
        "edge_kinds": "kinds of edge",
        "feature_kinds": "kinds of feature",
        "measuring_lines": "lines to measure on",
        "opening_kinds": "kinds of opening",
        "abutment_kinds": "kinds of abutment",
        "tray_unit_kinds": "kinds of tray unit",
        "old_wall_kinds": "kinds of existing wall",
        "cut_in_kinds": "kinds of tray cut in",
        "work_kinds": "kinds of work",
        "wall_builds": "wall build-ups",
        "floor_builds": "floor build-ups",
        "roof_builds": "roofs",
        "vat_statuses": "VAT statuses",
        "measures": "things counted",
    }.items()
} | {"book": "the price book"}
OFFERED, IN_USE = "form_", "used_"  # what is offered to a typed column; what is in use
CHECKED = "checked"  # in a sheet: 1 in each row that can be used
FAULT = "fault"  # what is wrong with a row, in words
ASSUMED = "_assumed"  # after a column's name: 1 where its figure is one that nobody gave
COUNTED = "_taken"  # the same of a figure that is shown where it is typed all the same
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

    def names_before(self, layout: int) -> tuple[str, ...]:
        """Its names in that layout, where they were others."""
        return tuple(name for name, last in self.was if layout <= last)


@dataclass(frozen=True)
class Input(Item):
    """Typed by a person. `choices` are fixed texts; `choice_of` names a list's column."""

    required: bool = True
    least: float | None = None
    most: float | None = None
    choices: tuple[str, ...] = ()
    choice_of: str | None = None
    shown_as: str | None = None  # in a sheet: the column of that list whose text stands for it
    limits_in: tuple[str, str] | None = None  # columns of the same row that hold its limits
    percent_in: tuple[str, str] | None = None  # a percentage where that column says so
    under: tuple[str, str] | None = None  # only while that named cell says something; in words

    @property
    def key(self) -> str:
        """The field's name in a job file: the unit is in the name."""
        return self._key(self.name)

    def keys_before(self, layout: int) -> tuple[str, ...]:
        """What the field was called in a job file of that layout, where it had another name."""
        return tuple(self._key(name) for name in self.names_before(layout))

    def _key(self, name: str) -> str:
        return name if name.endswith(self.unit.ending) else name + self.unit.ending

    @property
    def accepted(self) -> str:
        """What may be typed, as one phrase."""
        return self._accepted + (f", {self.under[1]}" if self.under else "")

    @property
    def _accepted(self) -> str:
        if self.choices:
            return "one of " + ", ".join(self.choices)
        if self.choice_of:
            table, _, column = self.choice_of.partition(".")
            column = self.shown_as or column
            return (
                f"a {_SAID.get(column, column)} from {_LISTS.get(table) or f'the list of {table}'}"
            )
        if self.unit.text:
            return "a text of one line"
        if self.unit.dated:
            least, most = (day_of(n or 0).isoformat() for n in (self.least, self.most))
            return f"a day from {least} to {most}"
        if self.limits_in:
            return "a number within the limits of its row"
        if self.unit is PERCENT:
            return f"0, or a percentage from {plain(PERCENT_LEAST)} to {plain(self.most)} %"
        sign = f" {self.unit.sign}" if self.unit.sign else ""
        return f"a number from {plain(self.least)} to {plain(self.most)}{sign}"

    @property
    def asked(self) -> str:
        """What is asked of it, as it is told where it is not so."""
        return f"{self.label}: {self.accepted}"

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
    """Worked out by a rule. `bound` gives some of its arguments a fixed value.

    `slot` is its number in a fixed row of columns that all have this rule; 0 where it stands alone.
    """

    rule: Rule = field(kw_only=True)
    bound: Mapping[str, Any] = field(default_factory=dict)
    slot: int = 0


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
        return self._rows[n - 1]

    @cached_property
    def _rows(self) -> tuple[Worked, ...]:
        return tuple(_by(r, self) for r in self.rules)


@dataclass(frozen=True)
class Offer(Item):
    """Offered to a typed column by something filled in elsewhere, row by row.

    Row n has the nth rule; rows past the last are offered nothing, and so is a row whose rule
    gives the empty text.
    """

    rules: tuple[Rule | Worked | None, ...] = field(kw_only=True)

    def row(self, n: int) -> Worked | None:
        """The offer as it is worked out in row n, counted from 1; None where there is none."""
        return self._rows[n - 1] if n <= len(self._rows) else None

    @cached_property
    def _rows(self) -> tuple[Worked | None, ...]:
        return tuple(None if r is None else _by(r, self) for r in self.rules)


def worked(
    work: Callable[..., Any], label: str | None = None, name: str | None = None, **bound: Any
) -> Worked:
    """The column, or the named cell, of a rule."""
    found = rule_of(work)
    name = name or found.name
    label = label or name.replace("_", " ").capitalize()
    return Worked(name, label, found.unit, found.meaning, rule=found, bound=bound)


def slots(
    work: Callable[..., Any], label: str, stem: str, number: int, **bound: Any
) -> tuple[Worked, ...]:
    """A fixed row of columns `stem_1`, `stem_2` ... that have the same rule.

    In it `slot` is the column's own number, and the name of another row of slots is that row's
    column of the same number; `*stem` takes all of a row.
    """
    found = rule_of(work)
    return tuple(
        Worked(f"{stem}_{n}", f"{label} {n}", found.unit, found.meaning, rule=found, bound=bound,
               slot=n)
        for n in range(1, number + 1)
    )  # fmt: skip


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
    broken: bool = False  # its spare rows stay empty: they break a drawn line
    names: str | None = None  # this column's cells are named by their row's key
    numbered: bool = True  # its rows' numbers stand in the sheet
    since: int = 1  # the layout in which it first stood
    shown: tuple[str, ...] = ()  # results that stand beside what is typed
    said: str | None = None  # the column of words that stand there, where there is nothing to fix
    gone: frozenset[str] = frozenset()  # columns it had, which a template may still give a place

    def __iter__(self) -> Iterator[Item]:
        return iter(self.columns)

    @cached_property
    def _by_name(self) -> dict[str, Item]:
        return {POSITION: Fixed(POSITION, "No.", EACH), **{c.name: c for c in self.columns}}

    def column(self, name: str) -> Item:
        """The column of that name. Raises KeyError where there is none."""
        return self._by_name[name]

    @cached_property
    def key_in_use(self) -> str:
        """The column that holds the key of each row, typed or offered."""
        return self.in_use(self.key)

    def in_use(self, name: str) -> str:
        """The column that other rules read for this one: what is in use, typed or offered."""
        return IN_USE + name if self.has(IN_USE + name) else name

    def offers(self, name: str) -> bool:
        """Whether something else may fill in that typed column."""
        return self.has(OFFERED + name)

    @cached_property
    def rows_offered(self) -> int:
        """How many rows something else may fill in."""
        return max((len(c.rules) for c in self.columns if isinstance(c, Offer)), default=0)

    def has(self, name: str) -> bool:
        """Whether the list has a column of that name."""
        return name in self._by_name

    @cached_property
    def places(self) -> tuple[str, ...]:
        """Every column that stands in a document: the row's number, and all columns."""
        number = (POSITION,) if self.numbered else ()
        return (*number, *(c.name for c in self))

    @property
    def apart(self) -> bool:
        """Whether a person adds rows to it, each known by its place; one with a fault has no mark."""
        return self.grows and bool(self.inputs)

    @cached_property
    def inputs(self) -> tuple[Input, ...]:
        """The columns a person types in."""
        return tuple(c for c in self.columns if isinstance(c, Input))

    def is_guarded(self, name: str) -> bool:
        """Whether that column is emptied in a spare row: those that stand after the key."""
        return name in self._guarded

    @cached_property
    def _guarded(self) -> frozenset[str]:
        names = [c.name for c in self.columns] if self.guarded else []
        return frozenset(names[names.index(self.key_in_use) + 1 :] if names else ())


# Where the value of a rule's argument comes from.


@dataclass(frozen=True)
class OwnCell:
    """The same row's cell in that column."""

    column: str


@dataclass(frozen=True)
class TypedCell(OwnCell):
    """The same row's cell as a person typed it, whatever else was offered."""


@dataclass(frozen=True)
class RowAbove:
    """The cell of that column in the row before, in the same list; 0 in the first row."""

    column: str


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
class OwnRows(WholeColumn):
    """Those rows of a column that belong to this row: the fixed column `by` holds its number there.

    They stand one below another, in a list whose rows never move.
    """

    by: str


@dataclass(frozen=True)
class Constant:
    """A value bound when the column was made."""

    value: Any


Source = OwnCell | RowAbove | NamedCell | WholeColumn | Constant
