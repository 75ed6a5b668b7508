"""A few figures worked out from others, by the rules of the plan and by as many as it takes.

A job's ledger works out every row of every list. Here a figure is asked for by its place, a column
or a named cell, from the figures of other places: each list has one row, unless it comes with the
program or a longer column of it is given. What is given is never worked out. A place is written
"list.column", read in the first row, or is a cell's name.

Which rules it takes and in which order is found once (`Asked`), so that the same figures can be
asked again and again from other values at little more than the cost of the rules themselves. All
arguments of a rule are worked out, even those that play no part: what they rest on is given too.
"""

from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from operator import itemgetter
from typing import Any

from .columns import column_of
from .ledger import Row, as_read
from .missing import NOT_AVAILABLE
from .plan import Plan, PlanError
from .tables import (
    POSITION,
    Constant,
    Fixed,
    Input,
    Item,
    NamedCell,
    OwnCell,
    OwnRows,
    Source,
    Table,
    Varied,
    WholeColumn,
    Worked,
)

Key = tuple[str, str]  # list and column, or "" and a named cell


class NotGivenError(LookupError):
    """A figure was asked for that rests on something typed, and that was not given."""


@dataclass(frozen=True)
class Alike:
    """In place of a value that is given: that of another place, worked out or given."""

    place: str


# One rule at work: where its figure goes, itself, and what picks its arguments.
_Step = tuple[int, Callable[..., Any], Callable[[list[Any]], Sequence[Any]]]


class Asked:
    """Figures to be asked for, one after the other, from values given in the order of `given`.

    An entry of `given` is a place, or several that all hold that value. `fixed` are places whose
    values are always the same. Cells in `by_name` are given on each call after all others, and
    only those that are read: `names` says which. `rows` are those of the lists that come with the
    program; `tall` says how many rows another list has, if not one.

    Raises NotGivenError naming the typed column or cell without which a figure cannot be given.
    """

    def __init__(
        self,
        plan: Plan,
        targets: Iterable[str],
        given: Iterable[str | Sequence[str]],
        fixed: Mapping[str, Any] | None = None,
        by_name: Container[str] = (),
        rows: Mapping[str, Sequence[Row]] | None = None,
        tall: Mapping[str, int] | None = None,
    ) -> None:
        self._plan, self._rows, self._by_name = plan, rows or {}, by_name
        self._tall = {t: len(r) for t, r in self._rows.items()} | dict(tall or {})
        self._slots: list[Any] = []
        self._at: dict[Key, int] = {}
        self._columns: dict[Key, int] = {}  # whole columns, as rules read them
        self._variable: set[int] = set()
        self._waiting: set[Key] = set()
        self._steps: list[_Step] = []
        self._given: list[int] = []
        self._alike = {self._key(p): v.place for p, v in (fixed or {}).items() if _is_alike(v)}
        self.names: list[str] = []
        for places in given:
            slot = self._new(None, variable=True)
            self._given.append(slot)
            for place in [places] if isinstance(places, str) else places:
                self._put(place, slot)
        for place, value in (fixed or {}).items():
            if not _is_alike(value):
                self._put(place, self._new(value))
        self._stages: list[tuple[list[_Step], int, bool]] = []
        for target in targets:
            key, self._steps = self._key(target), []
            slot = self._slot(key)
            self._stages.append((self._steps, slot, key[0] in self._tall))

    def __call__(self, *values: Any) -> Iterator[Any]:
        """Each figure asked for, worked out only when it is taken."""
        slots = self._slots.copy()
        if len(values) != len(self._given):
            raise TypeError(f"{len(values)} values given for {len(self._given)}")
        for slot, value in zip(self._given, values):  # noqa: B905  just counted
            slots[slot] = value
        for steps, target, tall in self._stages:
            for gives, work, arguments in steps:
                slots[gives] = work(*arguments(slots))
            yield slots[target][0] if tall else slots[target]

    def followed(
        self, work_out: Callable[[Callable[..., Any], Sequence[Any]], Any], *values: Any
    ) -> Iterator[Any]:
        """As when it is called; each rule's figure is what `work_out` makes of it and its arguments."""
        slots = self._slots.copy()
        for slot, value in zip(self._given, values, strict=True):
            slots[slot] = value
        for steps, target, tall in self._stages:
            for gives, work, arguments in steps:
                slots[gives] = work_out(work, arguments(slots))
            yield slots[target][0] if tall else slots[target]

    @property
    def rules(self) -> tuple[str, ...]:
        """The names of the rules that work with what is given, in their order."""
        found = (
            getattr(work, "__name__", "") for steps, _, _ in self._stages for _, work, _ in steps
        )
        return tuple(dict.fromkeys(n for n in found if not n.startswith("_")))

    def _key(self, place: str) -> Key:
        table, dot, column = place.partition(".")
        if not dot:
            return "", self._plan.cell_in_use(place)
        self._plan.tables[table].column(column)
        return table, self._plan.tables[table].in_use(column)

    def _put(self, place: str, slot: int) -> None:
        key = self._key(place)
        if key in self._at or key in self._alike:
            raise PlanError(f"{place} is given twice")
        self._at[key] = slot

    def _new(self, value: Any, variable: bool = False) -> int:
        self._slots.append(value)
        if variable:
            self._variable.add(len(self._slots) - 1)
        return len(self._slots) - 1

    def _step(self, work: Callable[..., Any], arguments: Sequence[int]) -> int:
        """A figure worked out on each call; at once where all that it rests on is fixed."""
        if not self._variable.intersection(arguments):
            return self._new(work(*(self._slots[i] for i in arguments)))
        slot = self._new(None, variable=True)
        self._steps.append((slot, work, _picking(arguments)))
        return slot

    def _slot(self, key: Key) -> int:
        if key not in self._at:
            if key in self._waiting:
                raise PlanError(f"{'.'.join(key)} rests on itself")
            self._waiting.add(key)
            if key in self._alike:
                self._at[key] = self._slot(self._key(self._alike[key]))
            else:
                self._at[key] = self._column(*key) if key[0] else self._cell(key[1])
            self._waiting.remove(key)
        return self._at[key]

    def _cell(self, name: str) -> int:
        item = self._plan.cells.get(name)
        if isinstance(item, Worked):
            return self._alone(item)
        if name not in self._by_name:
            raise NotGivenError(name)
        self.names.append(name)
        self._given.append(self._new(None, variable=True))
        return self._given[-1]

    def _alone(self, item: Worked) -> int:
        """A rule that stands in no row."""
        return self._step(item.rule.work, [self._value(s) for s in self._plan.sources(item, None)])

    def _column(self, table: str, name: str) -> int:
        rows, height = self._rows.get(table), self._tall.get(table)
        if name == POSITION:
            return self._new(1 if height is None else list(range(1, height + 1)))
        item = self._plan.tables[table].column(name)
        match item:
            case Input() | Fixed() if rows is not None:
                return self._new([as_read(r.get(name), item.unit.text) for r in rows])
            case Worked():
                return self._by_rule(self._plan.tables[table], item)
            case Varied():
                cells = [self._alone(item.row(n)) for n in range(1, (height or 1) + 1)]
                return cells[0] if height is None else self._step(_listed, cells)
        raise NotGivenError(f"{table}.{name}")

    def _by_rule(self, table: Table, item: Worked) -> int:
        sources = self._plan.sources(item, table)
        work, height = item.rule.work, self._tall.get(table.name)
        own = [isinstance(s, OwnCell) for s in sources]
        arguments = [
            self._slot((table.name, s.column)) if isinstance(s, OwnCell) else self._value(s)
            for s in sources
        ]
        key = (table.name, table.key_in_use)
        if table.is_guarded(item.name) and (key in self._at or table.name in self._rows):
            work = _guarded(work, item)
            own, arguments = [True, *own], [self._slot(key), *arguments]
        return self._step(work if height is None else _row_by_row(work, own, height), arguments)

    def _value(self, source: Source) -> int:
        match source:
            case Constant(value):
                return self._new(value)
            case NamedCell(name):
                return self._slot(("", name))
            case OwnRows(table, name):
                raise NotGivenError(f"{table}.{name}")
            case WholeColumn(table, name):
                return self._whole(table, name)
        raise PlanError(f"{source} has no row to stand in")

    def _whole(self, table: str, name: str) -> int:
        key = (table, name)
        if key not in self._columns:
            text, one = self._plan.tables[table].column(name).unit.text, table not in self._tall
            self._columns[key] = self._step(_as_many(text, one), [self._slot(key)])
        return self._columns[key]


def _picking(slots: Sequence[int]) -> Callable[[list[Any]], Sequence[Any]]:
    if len(slots) == 1:  # one item is picked bare
        return itemgetter(slice(slots[0], slots[0] + 1))
    return itemgetter(*slots)


def _is_alike(value: Any) -> bool:
    return isinstance(value, Alike)


def _listed(*values: Any) -> list[Any]:
    return list(values)


def _as_many(text: bool, one: bool) -> Callable[[Any], Any]:
    def _many(value: Any) -> Any:
        return column_of([value] if one else value, text)

    return _many


def _guarded(work: Callable[..., Any], item: Item) -> Callable[..., Any]:
    """The rule in a list whose rows may be spare."""

    def _in_row(key: Any, *values: Any) -> Any:
        if key is NOT_AVAILABLE:
            return key
        if key == "":
            return "" if item.unit.text else 0
        return work(*values)

    _in_row.__wrapped__ = work  # type: ignore[attr-defined]
    return _in_row


def _row_by_row(work: Callable[..., Any], own: list[bool], rows: int) -> Callable[..., Any]:
    """The rule in each of the rows: its own cells differ, the rest is the same."""

    def _in_rows(*values: Any) -> list[Any]:
        return [
            work(*(v[n] if mine else v for v, mine in zip(values, own, strict=True)))
            for n in range(rows)
        ]

    _in_rows.__wrapped__ = work  # type: ignore[attr-defined]
    return _in_rows
