"""The plan worked out in Python: any figure from what is given, each column once and when asked for.

A ledger is one view of the plan: the rows of each list, what was typed in named cells, and any
columns or cells that are given as they are instead of being worked out. A job's ledger is given
nothing. `evaluate` asks a few figures of a view that has one row in each list.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from .helpers import to_six_places
from .many import Many
from .missing import NOT_AVAILABLE
from .plan import Plan
from .tables import (
    POSITION,
    Constant,
    Fixed,
    Input,
    Linked,
    NamedCell,
    Offer,
    OwnCell,
    RowAbove,
    Source,
    Table,
    Varied,
    WholeColumn,
    Worked,
)

Row = Mapping[str, Any]
LINKS = "links"  # in a row: {linked column: column of the list it comes from, or None}
FROM = "from"  # in a row: the list it belongs to
AT = "at"  # in a row: the row of that list, counted from 1


class NotGivenError(LookupError):
    """A figure was asked for that rests on something typed, and that was not given."""


class Ledger:
    """Every figure of one view. Rows hold what was typed or laid out; the rest is worked out.

    `given` holds whole columns, as ("zones", "side_a"), and named cells that are not worked out.
    """

    def __init__(
        self,
        plan: Plan,
        rows: Mapping[str, Sequence[Row]],
        typed: Mapping[str, Any],
        given: Mapping[tuple[str, str] | str, Any] | None = None,
    ) -> None:
        self.plan, self.rows, self.typed = plan, rows, typed
        self._columns: dict[tuple[str, str], list[Any]] = {}
        self._many: dict[tuple[str, str], Many] = {}
        self._cells: dict[str, Any] = {}
        for place, value in (given or {}).items():
            if isinstance(place, str):
                self._cells[place] = value
            else:
                self._columns[place] = list(value)

    def column(self, table: str, name: str) -> list[Any]:
        """Every figure of a column, top to bottom, spare rows as 0 or an empty text."""
        key = (table, name)
        if key not in self._columns:
            self._columns[key] = self._work_out(self.plan.tables[table], name)
        return self._columns[key]

    def figure(self, table: str, row: int, name: str) -> Any:
        """One figure; rows are counted from 1."""
        return self.column(table, name)[row - 1]

    def cell(self, name: str) -> Any:
        """The figure of a named cell."""
        if name not in self._cells:
            self._cells[name] = self._cell(name)
        return self._cells[name]

    def _cell(self, name: str) -> Any:
        if name in self.plan.keyed:
            table, row = self.plan.keyed[name]
            return self.figure(table, row, self.plan.tables[table].names or "")
        item = self.plan.cells[name]
        if isinstance(item, Worked):
            return self._alone(item)
        return _as_read(self.typed.get(name), item.unit.text)

    def _alone(self, item: Worked) -> Any:
        """A rule that stands in no row."""
        return item.rule.work(*(self._value(s) for s in self.plan.sources(item, None)))

    def lists_read(self, item: Worked) -> tuple[str, ...]:
        """The lists of which a rule that stands in no row reads whole columns, as it names them."""
        found = (s.table for s in self.plan.sources(item, None) if isinstance(s, WholeColumn))
        return tuple(dict.fromkeys(found))

    def as_if_alone(self, item: Worked, table: str, row: int) -> Any:
        """What a rule that stands in no row gives where that list has this row and spare ones only.

        Rows are counted from 1; what the row itself was worked out from stays as it is.
        """
        values = []
        for source in self.plan.sources(item, None):
            value = self._value(source)
            if isinstance(source, WholeColumn) and source.table == table:
                text = self.plan.tables[table].column(source.column).unit.text
                kept = (v if n == row else None for n, v in enumerate(value, 1))
                value = Many(kept, text)
            values.append(value)
        return item.rule.work(*values)

    def _work_out(self, table: Table, name: str) -> list[Any]:
        rows = self.rows[table.name]
        if name == POSITION:
            return list(range(1, len(rows) + 1))
        item = table.column(name)
        match item:
            case Input() | Fixed():
                return [_as_read(self._typed(r, table, item), item.unit.text) for r in rows]
            case Linked():
                return [self._linked(r, name, item.unit.text) for r in rows]
            case Worked():
                group = self.plan.passed_down(table, name)
                return self._row_by_row(table, group, name) if group else self._by_rule(table, item)
            case Varied():
                return [self._alone(item.row(n)) for n in range(1, len(rows) + 1)]
            case Offer():
                return [self._offer(table, item.row(n), n) for n in range(1, len(rows) + 1)]
        raise TypeError(f"{table.name}.{name}: unknown kind of column")

    def _typed(self, row: Row, table: Table, item: Input | Fixed) -> Any:
        return row.get(item.name)

    def _offer(self, table: Table, offer: Worked | None, row: int) -> Any:
        if offer is None:
            return ""
        values = (
            self.column(table.name, s.column)[row - 1] if isinstance(s, OwnCell) else self._value(s)
            for s in self.plan.sources(offer, table)
        )
        return offer.rule.work(*values)

    def _linked(self, row: Row, name: str, holds_text: bool) -> Any:
        blank: Any = "" if holds_text else 0
        source = row[LINKS].get(name)
        if source is None:
            return blank
        column = self.column(row[FROM], self.plan.tables[row[FROM]].in_use(source))
        value = column[row[AT] - 1] if row[AT] <= len(column) else None
        return blank if value is None else value

    def _by_rule(self, table: Table, item: Worked) -> list[Any]:
        blank: Any = "" if item.unit.text else 0
        keys = self._keys(table) if table.is_guarded(item.name) else None
        sources = self.plan.sources(item, table)
        own = [(i, s) for i, s in enumerate(sources) if isinstance(s, OwnCell | RowAbove)]
        # Columns are read only when a row needs them, or two lists would wait for each other.
        arguments: list[Any] | None = None
        columns: list[tuple[int, list[Any]]] = []
        seen: dict[tuple[Any, ...], Any] = {}
        results = []
        for n in range(len(self.rows[table.name])):
            if keys is not None and (keys[n] is NOT_AVAILABLE or keys[n] == ""):
                results.append(keys[n] if keys[n] is NOT_AVAILABLE else blank)
                continue
            if arguments is None:
                arguments = [
                    None if isinstance(s, OwnCell | RowAbove) else self._value(s) for s in sources
                ]
                columns = [(i, self._beside(table, s)) for i, s in own]
            # Rules are pure, so rows alike in what they read are worked out once.
            mine = tuple([column[n] for _, column in columns])
            if mine not in seen:
                for i, column in columns:
                    arguments[i] = column[n]
                seen[mine] = item.rule.work(*arguments)
            results.append(seen[mine])
        return results

    def _beside(self, table: Table, source: OwnCell | RowAbove) -> list[Any]:
        column = self.column(table.name, source.column)
        return [0, *column] if isinstance(source, RowAbove) else column

    def _row_by_row(self, table: Table, group: Sequence[Worked], name: str) -> list[Any]:
        """Columns that rest on the row above: all of them worked out together, top to bottom."""
        members = {item.name for item in group}
        keys = self._keys(table) if any(table.is_guarded(m) for m in members) else None
        columns: dict[str, list[Any]] = {m: [] for m in members}
        for item in group:
            for s in self.plan.sources(item, table):
                if isinstance(s, OwnCell | RowAbove) and s.column not in columns:
                    columns[s.column] = self.column(table.name, s.column)
        for n in range(len(self.rows[table.name])):
            for item in group:
                key = keys[n] if keys is not None and table.is_guarded(item.name) else None
                if key is NOT_AVAILABLE or key == "":
                    columns[item.name].append(key if key is NOT_AVAILABLE else 0)
                    continue
                values = [self._in_row(s, columns, n) for s in self.plan.sources(item, table)]
                columns[item.name].append(to_six_places(item.rule.work(*values)))
        for m in members:
            self._columns[table.name, m] = columns[m]
        return columns[name]

    def _in_row(self, source: Source, columns: Mapping[str, list[Any]], n: int) -> Any:
        match source:
            case OwnCell(column):
                return columns[column][n]
            case RowAbove(column):
                return columns[column][n - 1] if n else 0
        return self._value(source)

    def _keys(self, table: Table) -> list[Any] | None:
        return self.column(table.name, table.key_in_use)

    def _value(self, source: Source) -> Any:
        match source:
            case Constant(value):
                return value
            case NamedCell(name):
                return self.cell(name)
            case WholeColumn(other, name):
                return self._whole(other, name)
        raise TypeError(f"{source} has no row to stand in")

    def _whole(self, table: str, name: str) -> Many:
        key = (table, name)
        if key not in self._many:
            unit = self.plan.tables[table].column(name).unit
            self._many[key] = Many(self.column(table, name), unit.text)
        return self._many[key]


class _Asked(Ledger):
    """A view of which only what is asked for need be given.

    A list whose key is not given has no spare rows.
    """

    def __init__(
        self,
        plan: Plan,
        rows: Mapping[str, Sequence[Row]],
        given: Mapping[tuple[str, str] | str, Any],
    ) -> None:
        super().__init__(plan, rows, {}, given)
        self._shipped = frozenset(rows)
        lengths = {p[0]: len(v) for p, v in given.items() if not isinstance(p, str)}
        self.rows = {t: rows.get(t, [{}] * lengths.get(t, 1)) for t in plan.tables}

    def _typed(self, row: Row, table: Table, item: Input | Fixed) -> Any:
        if table.name not in self._shipped:
            raise NotGivenError(f"{table.name}.{item.name}")
        return row.get(item.name)

    def _keys(self, table: Table) -> list[Any] | None:
        key = (table.name, table.key_in_use)
        return super()._keys(table) if table.name in self._shipped or key in self._columns else None

    def _cell(self, name: str) -> Any:
        if not isinstance(self.plan.cells.get(name), Worked):
            raise NotGivenError(name)
        return super()._cell(name)


def evaluate(
    plan: Plan,
    targets: Iterable[str],
    given: Mapping[str, Any],
    rows: Mapping[str, Sequence[Row]] | None = None,
) -> tuple[Any, ...]:
    """Figures worked out from others by the rules of the plan, and by as many as it takes.

    A target is "list.column", read in the first row, or a named cell. `given` has the same names:
    a list of values is a whole column, one value is that of the only row. What is given is not
    worked out, even where the plan has a rule for it. `rows` are those of the lists that come with
    the program; every other list has one row, or as many as the longest column given of it.

    Raises NotGivenError naming the typed column or cell without which a target cannot be given.
    """
    places: dict[tuple[str, str] | str, Any] = {}
    for name, value in given.items():
        table, dot, column = name.partition(".")
        if dot:
            used = plan.tables[table].in_use(column)
            places[table, used] = value if isinstance(value, list) else [value]
        else:
            places[plan.cell_in_use(name)] = value
    view = _Asked(plan, rows or {}, places)
    return tuple(_first(view, target) for target in targets)


def _first(view: Ledger, target: str) -> Any:
    table, dot, column = target.partition(".")
    return view.figure(table, 1, column) if dot else view.cell(view.plan.cell_in_use(table))


def _as_read(value: Any, holds_text: bool) -> Any:
    """What a formula reads in that cell: a blank text is the empty text, a blank number stays."""
    return "" if value is None and holds_text else value


def is_available(value: Any) -> bool:
    """Whether a figure could be given."""
    return value is not NOT_AVAILABLE
