"""A document that leaves the desk, declared: its lists and cells, and what of its subject each shows.

A document is a view. Its subject is a job at one of its issues, or what one supplier is asked. The
plan and the figures in it are both read off the one declaration, so a field is named once, and
nothing leaves that is not named.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Generic, Protocol, TypeVar

from ..language import Fixed, Item, Plan, Table
from ..language.ledger import Ledger
from ..language.units import TEXT, Unit

Of = TypeVar("Of", contravariant=True)


class OfJob(Protocol):
    """A subject with a job's figures."""

    @property
    def job(self) -> Ledger:
        """The figures."""


class Row(Protocol):
    """What a row of a document is filled from: a figure for each name."""

    def __getitem__(self, name: str, /) -> Any: ...


@dataclass(frozen=True)
class JobRow:
    """A row of one of the job's lists, counted from 1; a figure is worked out when it is asked for.

    `other` are figures that are not as they stand there, and more that do not stand there.
    """

    job: Ledger
    table: str
    row: int
    other: Mapping[str, Any] = field(default_factory=dict)

    def __getitem__(self, name: str, /) -> Any:
        if name in self.other:
            return self.other[name]
        return self.job.figure(self.table, self.row, name)


@dataclass(frozen=True)
class Shown(Generic[Of]):
    """A column or a cell, and what stands in it: something of a row, or of the subject."""

    item: Item
    figure: Callable[[Of], Any]


@dataclass(frozen=True)
class Listed(Generic[Of]):
    """A list, the rows that it is filled from, and what of such a row stands in each column."""

    table: Table
    columns: Sequence[Shown[Row]]
    rows: Callable[[Of], Iterable[Row]]


@dataclass(frozen=True)
class Document(Generic[Of]):
    """All that one document says. A bare item is worked out by its rule, or typed by the reader."""

    lists: Sequence[Listed[Of]]
    cells: Sequence[Shown[Of] | Item]

    @cached_property
    def plan(self) -> Plan:
        """Its lists and cells."""
        return Plan([found.table for found in self.lists], map(_item, self.cells), keyed={})

    def ledger(self, of: Of) -> Ledger:
        """Its figures: of every row and of the subject what is declared, and no more."""
        rows = {
            found.table.name: [
                {c.item.name: c.figure(row) for c in found.columns} for row in found.rows(of)
            ]
            for found in self.lists
        }
        typed = {c.item.name: c.figure(of) for c in self.cells if isinstance(c, Shown)}
        return Ledger(self.plan, rows, typed)


def listed(
    name: str,
    one: str,
    title: str,
    *columns: Shown[Row] | Item,
    rows: Callable[[Of], Iterable[Row]],
    numbered: bool = False,
    ended: bool = False,
) -> Listed[Of]:
    """A list; one that is `ended` has an empty line under it, which its ranges take in."""
    items = tuple(map(_item, columns))
    key = items[0].name if items else "mark"
    table = Table(
        *(name, one, title, items, key),
        grows=ended, guarded=False, numbered=numbered,
    )  # fmt: skip
    return Listed(table, [c for c in columns if isinstance(c, Shown)], rows)


def part(name: str, title: str, there: Callable[[Of], Any]) -> Listed[Of]:
    """A part that is there or not. Its words, and the places in them, are the template's."""
    return listed(name, f"{name}_part", title, rows=lambda of: [{}] if there(of) else [])


def column(
    name: str, label: str, unit: Unit = TEXT, of: str | Callable[[Row], Any] | None = None
) -> Shown[Row]:
    """A column with the figure of that name, of another name, or what a function makes of a row."""
    if callable(of):
        return Shown(Fixed(name, label, unit), of)
    there = of or name
    return Shown(Fixed(name, label, unit), lambda row: row[there])


def cell(name: str, label: str, of: Callable[[Of], Any], unit: Unit = TEXT) -> Shown[Of]:
    """A cell with what a function makes of the subject."""
    return Shown(Fixed(name, label, unit), of)


def copied(name: str, label: str, unit: Unit = TEXT) -> Shown[OfJob]:
    """A cell that says what the job's cell of the same name says."""
    return cell(name, label, lambda of: of.job.cell(name), unit)


def in_use(
    table: str, key: str, where: Callable[[JobRow], Any] = lambda _: True
) -> Callable[[OfJob], list[JobRow]]:
    """The rows of a list of the job whose `key` says something, and of these some only."""
    return lambda of: [row for row in rows_in_use(of.job, table, key) if where(row)]


def rows_in_use(job: Ledger, table: str, key: str) -> list[JobRow]:
    """The rows whose `key` says something, spare ones left out."""
    return [JobRow(job, table, n) for n, v in enumerate(job.column(table, key), 1) if v != ""]


def _item(of: Shown[Any] | Item) -> Item:
    return of.item if isinstance(of, Shown) else of
