"""The plan written as native formulas: each column is traced once, with its row left open."""

from typing import Any, Protocol

from .helpers import same, to_six_places, where
from .plan import Plan
from .tables import (
    POSITION,
    Constant,
    Linked,
    NamedCell,
    OwnCell,
    OwnRows,
    RowAbove,
    Source,
    Table,
    WholeColumn,
    Worked,
)
from .tracing import Ref, as_ref

ROW, ROW_ABOVE = "{r}", "{a}"
FIRST_OWN, LAST_OWN = "{f}", "{l}"  # of the rows of another list that belong to the row at hand


def in_row(formula: str, row: int) -> str:
    """The formula as it stands in that row of the sheet."""
    return formula.replace(ROW, str(row)).replace(ROW_ABOVE, str(row - 1))


def with_own_rows(formula: str, first: int, last: int) -> str:
    """The formula of a row to which those rows of another list belong."""
    return formula.replace(FIRST_OWN, str(first)).replace(LAST_OWN, str(last))


class Addresses(Protocol):
    """Where the workbook put things."""

    def own(self, table: str, column: str) -> str:
        """The cell of the row at hand, as `$D{r}`."""

    def whole(self, table: str, column: str, seen_from: str) -> str:
        """The whole column, end line and all, as `Walls!$D$5:$D$40`."""

    def own_rows(self, table: str, column: str, seen_from: str) -> str:
        """The rows of the column that belong to the row at hand, as `Walls!$D${f}:$D${l}`."""

    def said_at(self, table: str, column: str) -> str | None:
        """The cell that tells a blank from a 0, where the row's own cell does not."""

    def cell_said_at(self, name: str, in_list: bool) -> str | None:
        """The same for a named cell, as a list reads it or another named cell."""


class NamesOnly:
    """Addresses in words, for people: `most(weeps_min, ...)` reads as it is meant."""

    def own(self, table: str, column: str) -> str:
        """The column's name."""
        return column

    def whole(self, table: str, column: str, seen_from: str) -> str:
        """The list's name and the column's."""
        return f"{table}.{column}"

    def own_rows(self, table: str, column: str, seen_from: str) -> str:
        """The list's name and the column's, and that it is some of its rows."""
        return f"own {table}.{column}"

    def said_at(self, table: str, column: str) -> None:
        """People need no other cell."""

    def cell_said_at(self, name: str, in_list: bool) -> None:
        """People need no other cell."""


class Formulas:
    """Formula text for every worked or linked column and named cell of a plan."""

    def __init__(self, plan: Plan, addresses: Addresses) -> None:
        self.plan, self.addresses = plan, addresses

    def column(self, table: Table, item: Worked) -> str:
        """The formula of a worked column, its row left open as {r}, spare rows made empty."""
        body = self.bare(item, table)
        if not table.is_guarded(item.name):
            return body
        return f'IF({self._key(table)}="",{self._blank(item.unit.text)},{body})'

    def linked(self, table: Table, item: Linked, source: tuple[str, str], at: str) -> str:
        """The formula of a linked cell: the row `at` of another list, nothing past its end."""
        column = self.addresses.whole(*source, seen_from=table.name)
        blank = self._blank(item.unit.text)
        ending = '&""' if item.unit.text else ""
        return f"IF({at}>ROWS({column}),{blank},INDEX({column},{at}){ending})"

    def cell(self, item: Worked, in_list: bool = False) -> str:
        """The formula of a named cell, or of a cell of a list that reads no other of its row."""
        return self._formula(item, None, in_list)

    def bare(self, item: Worked, table: Table | None) -> str:
        """The rule alone, as formula text: what is shown as its working."""
        return self._formula(item, table, table is not None)

    def _formula(self, item: Worked, table: Table | None, in_list: bool) -> str:
        sources = self.plan.sources(item, table)
        found = as_ref(item.rule.work(*(self._ref(s, table, in_list) for s in sources)))
        passed_down = table is not None and self.plan.passed_down(table, item.name)
        return to_six_places(found).text if passed_down else found.text

    def _key(self, table: Table) -> str:
        return self.addresses.own(table.name, table.key_in_use)

    @staticmethod
    def _blank(holds_text: bool) -> str:
        return '""' if holds_text else "0"

    def _ref(self, source: Source, table: Table | None, in_list: bool) -> Any:
        match source:
            case Constant(value):
                return value
            case NamedCell(name):
                text = self._named_unit_is_text(name)
                return Ref(
                    name, holds_text=text, said_at=self.addresses.cell_said_at(name, in_list)
                )
            case OwnCell(column) if table is not None:
                text = table.column(column).unit.text
                cell, said_at = (
                    at(table.name, column) for at in (self.addresses.own, self.addresses.said_at)
                )
                return Ref(str(cell), holds_text=text, said_at=said_at)
            case RowAbove(column) if table is not None:
                # The first row has no row above it, but a heading.
                first = same(Ref(self.addresses.own(table.name, POSITION)), 1)
                above = Ref(self.addresses.own(table.name, column).replace(ROW, ROW_ABOVE))
                return where(first, 0, above)
            case WholeColumn(other, column):
                here = table.name if table else ""
                text = self.plan.tables[other].column(column).unit.text
                own = isinstance(source, OwnRows)
                area = self.addresses.own_rows if own else self.addresses.whole
                return Ref(area(other, column, here), many=True, holds_text=text)
        raise TypeError(f"{source} has no row to stand in")

    def _named_unit_is_text(self, name: str) -> bool:
        item = self.plan.cells.get(name) or self.plan.keyed_items.get(name)
        return bool(item and item.unit.text)
