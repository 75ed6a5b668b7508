"""The plan worked out in Python: rows in, every figure out, each column once and when asked for."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from .helpers import to_six_places
from .many import Many
from .missing import NOT_AVAILABLE
from .plan import Plan, PlanError
from .tables import (
    POSITION,
    Constant,
    Fixed,
    Input,
    Linked,
    NamedCell,
    Offer,
    OwnCell,
    OwnRows,
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
IN_ROW = OwnCell | RowAbove | OwnRows  # what differs from row to row


class Ledger:
    """Every figure of one job. Rows hold what was typed or laid out; the rest is worked out."""

    def __init__(
        self,
        plan: Plan,
        rows: Mapping[str, Sequence[Row]],
        typed: Mapping[str, Any],
        is_sound: Callable[["Ledger", Table, int], bool] = lambda *_: True,
    ) -> None:
        self.plan, self.rows, self.typed = plan, rows, typed
        self.is_sound = is_sound  # whether row n (from 0) can be used; one that cannot has no mark
        self._columns: dict[tuple[str, str], list[Any]] = {}
        self._many: dict[tuple[str, str], Many] = {}
        self._cells: dict[str, Any] = {}
        self._own_rows: dict[tuple[str, str, str], list[slice]] = {}

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
        return as_read(self.typed.get(name), item.unit.text)

    def _alone(self, item: Worked) -> Any:
        """A rule that stands in no row."""
        return item.rule.work(*(self._value(s) for s in self.plan.sources(item, None)))

    def unguarded(self, table: Table, item: Worked, n: int) -> Any:
        """What a rule gives in row n (from 0), whether or not the row is one that can be used."""
        sources = self.plan.sources(item, table)
        return item.rule.work(
            *(
                self._beside(table, s)[n] if isinstance(s, IN_ROW) else self._value(s)
                for s in sources
            )
        )

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
                return [as_read(r.get(name), item.unit.text) for r in rows]
            case Linked():
                return [self._linked(r, name, item.unit.text) for r in rows]
            case Worked() if table.apart and name == table.key_in_use:
                marks = self._by_rule(table, item)
                return [m if self.is_sound(self, table, n) else "" for n, m in enumerate(marks)]
            case Worked():
                group = self.plan.passed_down(table, name)
                return self._row_by_row(table, group, name) if group else self._by_rule(table, item)
            case Varied():
                return [self._alone(item.row(n)) for n in range(1, len(rows) + 1)]
            case Offer():
                return [self._offer(table, item.row(n), n) for n in range(1, len(rows) + 1)]
        raise TypeError(f"{table.name}.{name}: unknown kind of column")

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
        guarded = table.is_guarded(item.name)
        keys = self.column(table.name, table.key_in_use) if guarded else None
        sources = self.plan.sources(item, table)
        own = [(i, s) for i, s in enumerate(sources) if isinstance(s, IN_ROW)]
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
                arguments = [None if isinstance(s, IN_ROW) else self._value(s) for s in sources]
                columns = [(i, self._beside(table, s)) for i, s in own]
            # Rules are pure, so rows alike in what they read are worked out once.
            mine = tuple([column[n] for _, column in columns])
            if mine not in seen:
                for i, column in columns:
                    arguments[i] = column[n]
                seen[mine] = item.rule.work(*arguments)
            results.append(seen[mine])
        return results

    def own_rows(self, table: str, source: OwnRows) -> list[slice]:
        """Which rows of the other list belong to each row of this one: they stand together."""
        key = (table, source.table, source.by)
        if key not in self._own_rows:
            by = self.column(source.table, source.by)
            first = {no: n for n, no in reversed([*enumerate(by)])}
            counts = Counter(by)
            found = [
                slice(first.get(n, 0), first.get(n, 0) + counts[n])
                for n in range(1, len(self.rows[table]) + 1)
            ]
            if any(no != n for n, rows in enumerate(found, 1) for no in by[rows]):
                raise PlanError(f"{source.table}: rows of one {table} stand apart")
            self._own_rows[key] = found
        return self._own_rows[key]

    def _beside(self, table: Table, source: OwnCell | RowAbove | OwnRows) -> list[Any]:
        column = self.column(
            source.table if isinstance(source, OwnRows) else table.name, source.column
        )
        if isinstance(source, OwnRows):
            text = self.plan.tables[source.table].column(source.column).unit.text
            return [Many(column[rows], text) for rows in self.own_rows(table.name, source)]
        return [0, *column] if isinstance(source, RowAbove) else column

    def _row_by_row(self, table: Table, group: Sequence[Worked], name: str) -> list[Any]:
        """Columns that rest on the row above: all of them worked out together, top to bottom."""
        members = {item.name for item in group}
        keys = (
            self.column(table.name, table.key_in_use)
            if any(table.is_guarded(m) for m in members)
            else None
        )
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


def as_read(value: Any, holds_text: bool) -> Any:
    """What a formula reads in that cell: a blank text is the empty text, a blank number stays."""
    return "" if value is None and holds_text else value


def is_available(value: Any) -> bool:
    """Whether a figure could be given."""
    return value is not NOT_AVAILABLE
