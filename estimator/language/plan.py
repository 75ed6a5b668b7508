"""All lists and named cells together, and what every argument of every rule refers to."""

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from .tables import (
    ABOVE,
    IN_USE,
    Constant,
    Item,
    NamedCell,
    OwnCell,
    OwnRows,
    RowAbove,
    Source,
    Table,
    TypedCell,
    WholeColumn,
    Worked,
)


class PlanError(LookupError):
    """A rule reads a name that is nowhere in the plan, or two things of it have one name."""


class Plan:
    """All lists and named cells, and what every argument of every rule refers to."""

    def __init__(
        self, tables: Iterable[Table], cells: Iterable[Item], keyed: Mapping[str, Iterable[Item]]
    ) -> None:
        self.tables = {t.name: t for t in tables}
        self.cells: dict[str, Item] = {}
        for cell in cells:
            if cell.name in self.cells:
                raise PlanError(f"{cell.name}: two named cells have this name")
            self.cells[cell.name] = cell
        # Cells of a list that are named by their row: {list: one item per row}.
        self.keyed = {i.name: (t, n) for t, items in keyed.items() for n, i in enumerate(items, 1)}
        self.keyed_items = {i.name: i for items in keyed.values() for i in items}
        self._by_one = sorted(self.tables.values(), key=lambda t: -len(t.one))
        self._found: dict[tuple[int, str], tuple[Worked, tuple[Source, ...]]] = {}
        self._passed_down: dict[str, dict[str, tuple[Worked, ...]]] = {}
        for name in [*self.cells, *self.keyed]:
            check_cell_name(name)

    def sources(self, column: Worked, table: Table | None) -> tuple[Source, ...]:
        """Where each argument of a column's rule comes from, in the rule's order; found once."""
        key = (id(column), table.name if table else "")
        if key not in self._found:
            self._found[key] = column, self._sources(column, table)
        return self._found[key][1]

    def _sources(self, column: Worked, table: Table | None) -> tuple[Source, ...]:
        wanted = column.rule
        found = [self._source(a, column, table) for a in wanted.arguments]
        if wanted.several:
            found += self._several(wanted.several, column, table)
        if len({(s.table, s.by) for s in found if isinstance(s, OwnRows)}) > 1:
            raise PlanError(f"{column.name}: reads own rows of more than one list")
        return tuple(found)

    def _source(self, argument: str, column: Worked, table: Table | None) -> Source:
        if argument in column.bound:
            return self._bound(column.bound[argument], table)
        if column.slot and argument == "slot":
            return Constant(column.slot)
        if table is not None:
            for name in (f"{argument}_{column.slot}", argument):
                if table.has(name):
                    return OwnCell(table.in_use(name))
                if name.startswith(ABOVE) and table.has(name.removeprefix(ABOVE)):
                    return self._above(name.removeprefix(ABOVE), column, table)
        if argument in self.cells or argument in self.keyed:
            return NamedCell(self.cell_in_use(argument))
        for other in self._by_one:
            name = argument.removeprefix(other.one + "_")
            if name != argument and other.has(name):
                return WholeColumn(other.name, other.in_use(name))
        place = table.name if table else "the named cells"
        raise PlanError(f"{place}, {column.name}: nothing is called {argument!r}")

    def _above(self, name: str, column: Worked, table: Table) -> RowAbove:
        if table.column(name).unit.text or column.unit.text or not table.numbered:
            raise PlanError(
                f"{table.name}, {column.name}: only figures of a numbered list pass down"
            )
        return RowAbove(table.in_use(name))

    def passed_down(self, table: Table, name: str) -> tuple[Worked, ...]:
        """The columns that must be worked out row by row with this one, in the order they need.

        They read a row above that rests on themselves; none where the column reads no such row.
        """
        if table.name not in self._passed_down:
            groups = self._groups(table)
            self._passed_down[table.name] = {item.name: group for group in groups for item in group}
        return self._passed_down[table.name].get(name, ())

    def _groups(self, table: Table) -> list[tuple[Worked, ...]]:
        worked_out = {c.name: c for c in table.columns if isinstance(c, Worked)}
        beside, above = (
            {
                name: [s.column for s in self.sources(c, table) if isinstance(s, kind)]
                for name, c in worked_out.items()
            }
            for kind in (OwnCell, RowAbove)
        )
        if not any(above.values()):
            return []

        def reached(name: str) -> set[str]:
            found: set[str] = set()
            ahead = [name]
            while ahead:
                at = ahead.pop()
                new = {*beside.get(at, ()), *above.get(at, ())} - found
                found |= new
                ahead += new
            return found

        all_reached = {name: reached(name) for name in worked_out}
        groups, done = [], set[str]()
        for name in worked_out:
            if name in done or name not in all_reached[name]:
                continue
            members = [m for m in worked_out if name in all_reached[m] and m in all_reached[name]]
            done |= set(members)
            ordered: list[str] = []
            while rest := [m for m in members if m not in ordered]:
                ready = [m for m in rest if not {*beside[m]} & {*rest}]
                if not ready:
                    raise PlanError(f"{table.name}: {', '.join(rest)} wait for each other")
                ordered += ready
            groups.append(tuple(worked_out[m] for m in ordered))
        return groups

    def cell_in_use(self, name: str) -> str:
        """The named cell that rules read for this one: a percentage is read as it is meant."""
        return IN_USE + name if IN_USE + name in self.cells else name

    def _bound(self, value: Any, table: Table | None) -> Source:
        match value:
            case TypedCell():
                return OwnCell(value.column)
            case OwnCell(column) if table is not None:
                return OwnCell(table.in_use(column))
            case OwnRows(other, column, by):
                return OwnRows(other, self.tables[other].in_use(column), by)
            case WholeColumn(other, column):
                return WholeColumn(other, self.tables[other].in_use(column))
            case _:
                return value if isinstance(value, Source) else Constant(value)

    def _several(self, stem: str, column: Worked, table: Table | None) -> Sequence[Source]:
        if stem in column.bound:
            return [self._bound(value, table) for value in column.bound[stem]]
        above = stem.startswith(ABOVE)
        wanted = stem.removeprefix(ABOVE) if above else stem
        names = [c.name for c in table or () if re.fullmatch(rf"{wanted}_\d+", c.name)]
        if not names or table is None:
            raise PlanError(f"no numbered columns are called {wanted!r}")
        if above:
            return [self._above(n, column, table) for n in names]
        return [OwnCell(table.in_use(n)) for n in names]


def check_cell_name(name: str) -> None:
    """A cell's name needs an underscore and no digit, or a host may read it as an address."""
    if not re.fullmatch(r"[a-z]+(_[a-z]+)+", name):
        raise PlanError(f"{name!r}: a cell's name is small letters and at least one underscore")
