"""Where a field stands in a workbook: its sheet and cell, and its words."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, ClassVar

from ...language.plan import Plan
from ...language.tables import Input, Table
from ...model.spelling import folded
from ...questionnaire.sources import asked
from ..layout import Layout, on

# The lists that come with the program, by the section of a job file that their entries make.
SECTIONS = {
    "lines": ("lines", "supplier"),
    "line_status": ("lines", "status"),
    "reasons": ("checks", "reason"),
    "hold_points": ("hold_points", "own_notice"),
    "wastage_applies": ("materials", "wastage_applies"),
    "allowances.override": ("allowances", "override"),
    "allowances.own": ("allowances", "own"),
    "assumed": ("assumed", "figure_typed"),
}


@dataclass
class InWorkbook:
    """Places in a workbook, by the rows in which each list's marks were found."""

    by_label: ClassVar[bool] = True
    name: str
    plan: Plan
    layout: Layout
    rows: dict[str, dict[str, int]] = field(default_factory=dict)  # list: {mark: row of the sheet}
    # Of each row that the form fills, by its list and mark: the columns typed over in it.
    over: dict[tuple[str, str], frozenset[str]] = field(default_factory=dict)
    # The job's particulars, the answers to the questions of the form among them.
    answers: Mapping[str, Any] = field(default_factory=dict)

    def cell(self, table: str, row: int, column: str) -> str:
        """As `job.xlsx: Walls!F14 (inner leaf)`."""
        span = self.layout.typed(table)
        label = self.plan.tables[table].column(column).label
        letter = span.letters.get(column)
        at = f"{letter}{row}" if letter else f"row {row}"  # an earlier layout may lack a column
        return f"{self.name}: {on(span.sheet)}!{at} ({label})"

    def behind(self, table: str, n: int, column: str) -> str:
        """As `job.xlsx: e_walls!F14 (inner leaf)`: where the nth row is worked out."""
        span = self.layout.spans[table]
        at = f"{on(span.sheet)}!{span.letters[column]}{span.first + n - 1}"
        return f"{self.name}: {at} ({self.plan.tables[table].column(column).label})"

    def named(self, name: str) -> str:
        """As `job.xlsx: Job!B5 (client)`."""
        item = self.plan.cells.get(name) or self.plan.keyed_items[name]
        if name not in self.layout.cells:  # an earlier layout may lack a cell
            return f"{self.name}: {item.label}, which has no cell in its layout"
        sheet, address = self.layout.cell(name)
        return f"{self.name}: {on(sheet)}!{address.replace('$', '')} ({item.label})"

    def of_named(self, names: Mapping[str, str]) -> Callable[[str], str]:
        """Says where the named cell of a key stands, those names being {key: name}."""
        return lambda key: self.named(names[key])

    def field(self, table: str, n: int, row: Mapping[str, Any], key: str) -> str:
        """A field of a row, found again by the row's mark."""
        listed = self.plan.tables[table]
        at = self.row_of(table, str(row.get(listed.key)))
        if at is None:
            return f"{self.name}: {listed.title}, {row.get(listed.key)}"
        column = _column(listed, key)
        stands = self.cell(table, at, column)
        mark = str(row.get(listed.key))
        if column in self.over.get((table, mark), {column}):
            return stands
        question = asked(
            self.plan, table, mark, column, self.answers,
            lambda i: self.named(i.name).partition(": ")[2],
        )  # fmt: skip
        if question is None:
            return stands
        return f"{self.name}: {question}, by which the form fills {stands.partition(': ')[2]}"

    def row_of(self, table: str, mark: str) -> int | None:
        """The row of the sheet that bears a mark, however its letters are written."""
        places = self.rows.get(table, {})
        if mark in places:
            return places[mark]
        return next((row for m, row in places.items() if folded(m) == folded(mark)), None)

    def entry(self, section: str, key: str) -> str:
        """An entry that stands alone."""
        if section in ("job", "form"):
            names = {i.key: i.name for i in self.plan.cells.values() if isinstance(i, Input)}
            return self.named(names[key])
        table, column = SECTIONS[section]
        for name in (table, "product_checks"):
            if key in self.rows.get(name, {}):
                return self.cell(name, self.rows[name][key], column)
        return f"{self.name}: {self.plan.tables[table].title}"


def _column(table: Table, key: str) -> str:
    return next((i.name for i in table.inputs if i.key == key), table.key)
