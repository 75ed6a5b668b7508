"""What every cell of ours holds, once it is known where things stand: written anew or refreshed."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from ..language import NOT_AVAILABLE
from ..language.formulas import Formulas, in_row
from ..language.ledger import AT, FROM, LINKS, Ledger
from ..language.tables import (
    CHECKED,
    FAULT,
    GUARDS,
    OFFERED,
    POSITION,
    Input,
    Item,
    Linked,
    Offer,
    Table,
    Varied,
    Worked,
)
from ..language.units import EACH, FLAG, TEXT, Unit
from ..model.places import PLACES, SHOWN_AGAIN, STANDS_AT, place_rows
from ..model.plan import TYPED_CELLS
from ..pricing.refusals import ROWS_UNCHECKED, ROWS_UNWIRED
from . import guard_columns
from .engine import Engine
from .layout import Layout, on

FIX = "Fix: "  # before what is wrong with a row, where it is typed


class Content(NamedTuple):
    """A formula without its equals sign and its result; or no formula, and a value."""

    formula: str | None
    value: Any
    unit: Unit
    typed: bool = False  # by a person


class Contents:
    """The content of each named cell and of each column of each list, row by row."""

    def __init__(self, ledger: Ledger, layout: Layout) -> None:
        self.ledger, self.layout, self.plan = ledger, layout, ledger.plan
        self.formulas = Formulas(self.plan, layout)
        self._engines: dict[str, Engine] = {}

    def cell(self, name: str) -> Content:
        """The content of a named cell where it stands."""
        item = self.plan.cells.get(name) or self.plan.keyed_items[name]
        value = self.ledger.cell(name)
        if isinstance(item, Worked):
            return Content(self.formulas.cell(item), value, item.unit)
        if name == ROWS_UNWIRED.name:
            formula = guard_columns.rows_unwired(self.plan, self.layout)
            return Content(formula, value, item.unit)
        if name == ROWS_UNCHECKED.name:
            formula = guard_columns.rows_unchecked(self.plan, self.layout, TYPED_CELLS)
            return Content(formula, value, item.unit)
        return Content(None, value, item.unit, isinstance(item, Input))

    def again(self, name: str) -> Content:
        """The content of a cell that shows a named cell elsewhere; a blank text would read as 0."""
        item = self.plan.cells.get(name) or self.plan.keyed_items[name]
        ending = '&""' if item.unit.text else ""
        return Content(name + ending, self.ledger.cell(name), item.unit)

    def column(self, table: Table, name: str) -> list[Content]:
        """The contents of a column, from the list's first row down to its last."""
        span = self.layout.spans[table.name]
        rows = range(span.first, span.last + 1)
        if table.name in self.layout.fronts:
            engine = self._engine(table)
            if name == POSITION:
                return [Content(None, n, EACH) for n in range(1, len(rows) + 1)]
            formula = engine.formula(name)
            if formula is not None:
                return list(_filled(formula, rows, engine.values(name), engine.unit(name)))
        if name in GUARDS:
            formula = getattr(guard_columns, name)(table, self.layout)
            return list(_filled(formula, rows, [1] * len(rows), FLAG))
        if name == POSITION:
            formula = f"ROW()-ROW(${span.letters[POSITION]}${span.first - 1})"
            return list(_filled(formula, rows, range(1, len(rows) + 1), EACH))
        if table is PLACES:
            return list(self._places(name))[: len(rows)]
        return self._item(table, table.column(name), rows)[: len(rows)]

    def front(self, table: Table, name: str) -> list[Content]:
        """The contents of a column of a front, from its first row down to its last."""
        front, span = self.layout.fronts[table.name], self.layout.spans[table.name]
        engine, rows = self._engine(table), range(front.last - front.first + 1)
        if not table.has(name) or not isinstance(table.column(name), Input):
            return self._shown(table, name)
        item = table.column(name)
        assert isinstance(item, Input)
        given = [r.get(name) for r in self.ledger.rows[table.name]][: len(rows)]
        given += [None] * (len(rows) - len(given))
        found = []
        for n, value in enumerate(given):
            default = None
            if value is None and n < table.rows_offered and engine.has_default(item):
                letter = span.letters[OFFERED + name]
                default = f"{on(span.sheet)}!${letter}${span.first + n}"
                value = engine.offered(item, n)
            found.append(Content(default, value, item.unit, typed=True))
        return found

    def _shown(self, table: Table, name: str) -> list[Content]:
        """A result beside what is typed: display only, found by the row it stands in."""
        front, engine = self.layout.fronts[table.name], self._engine(table)
        if name == FAULT:
            values, unit = engine.values(name), TEXT
        else:
            values, unit = self.ledger.column(table.name, name), table.column(name).unit
        keys = self.ledger.column(table.name, table.key_in_use)
        at = f"ROW()-ROW(${front.letters[table.key]}${front.first - 1})"
        area = self.layout.whole(table.name, name, "")
        if name == FAULT:
            words, said = '""', [""] * len(values)
            if table.said:
                column = self.layout.whole(table.name, table.said, "")
                words = f"INDEX({column},{at})"
                said = [*self.ledger.column(table.name, table.said), *said]
            fault = f"INDEX({area},{at})"
            formula = f'IFERROR(IF({fault}="",{words},"{FIX}"&{fault}),"")'
            values = [f"{FIX}{f}" if f else s for f, s in zip(values, said, strict=False)]
        else:
            key = self.layout.whole(table.name, table.key_in_use, "")
            formula = f'IFERROR(IF(INDEX({key},{at})="","",INDEX({area},{at})),"")'
        blanks = [""] * (front.last - front.first + 1)
        rows = zip([*keys, *blanks], [*values, *blanks], blanks, strict=False)
        gone = ("", NOT_AVAILABLE)
        shown = [
            "" if value is NOT_AVAILABLE or (name != FAULT and key in gone) else value
            for key, value, _ in rows
        ]
        return [Content(formula, value, unit) for value in shown]

    def _engine(self, table: Table) -> Engine:
        if table.name not in self._engines:
            self._engines[table.name] = Engine(table, self.layout, self.ledger)
        return self._engines[table.name]

    def _places(self, name: str) -> Iterator[Content]:
        again = iter(self.layout.again)
        for row in place_rows(self.plan, [n for n, _, _ in self.layout.again]):
            if name != STANDS_AT:
                yield Content(None, row[name], TEXT)
            elif row["list"] == SHOWN_AGAIN:
                _, sheet, address = next(again)
                yield Content(f"ROWS({on(sheet)}!{address})", 1, EACH)
            elif row["list"] in self.layout.fronts and row["column"] != POSITION:
                area = self.layout.front_area(row["list"], row["column"])
                front = self.layout.fronts[row["list"]]
                yield Content(f"ROWS({area})", front.bottom - front.first + 2, EACH)
            else:
                span = self.layout.spans[row["list"]]
                area = self.layout.whole(row["list"], row["column"], "")
                yield Content(f"ROWS({area})", span.bottom - span.first + 1, EACH)

    def _item(self, table: Table, item: Item, rows: range) -> list[Content]:
        values = self.ledger.column(table.name, item.name)
        if isinstance(item, Linked):
            return list(self._links(table, item, rows, values))
        if isinstance(item, Varied):
            cells = ((self.formulas.cell(item.row(n)), v) for n, v in enumerate(values, 1))
            return [Content(formula, value, item.unit) for formula, value in cells]
        if isinstance(item, Offer):
            values = values + [""] * (len(rows) - len(values))
            return [
                Content(self._offer(table, item, n, row), values[n - 1], item.unit)
                for n, row in enumerate(rows, 1)
            ]
        if isinstance(item, Worked):
            blank: Any = "" if item.unit.text else 0
            values = values + [blank] * (len(rows) - len(values))
            formula = self.formulas.column(table, item)
            if table.name in self.layout.fronts and item.name == table.key_in_use:
                # A row that cannot be used has no mark, and so needs nothing.
                formula = f'IF({self.layout.own(table.name, CHECKED)}=1,{formula},"")'
            return list(_filled(formula, rows, values, item.unit))
        typed = isinstance(item, Input)
        values = values + [None] * (len(rows) - len(values))
        return [Content(None, value, item.unit, typed) for value in values]

    def _offer(self, table: Table, item: Offer, n: int, row: int) -> str:
        offer = item.row(n)
        text = '""' if offer is None else self.formulas.bare(offer, table)
        return in_row(text, row)

    def _links(
        self, table: Table, item: Linked, rows: range, values: list[Any]
    ) -> Iterator[Content]:
        at = self.layout.own(table.name, AT)
        texts: dict[tuple[str, str], str] = {}
        for row, given, value in zip(rows, self.ledger.rows[table.name], values, strict=False):
            column = given[LINKS].get(item.name)
            if column is None:
                yield Content(None, 0, item.unit)
                continue
            source = (given[FROM], self.plan.tables[given[FROM]].in_use(column))
            if source not in texts:
                texts[source] = self.formulas.linked(table, item, source, at)
            yield Content(in_row(texts[source], row), value, item.unit)


def _filled(formula: str, rows: range, values: Any, unit: Unit) -> Iterator[Content]:
    for row, value in zip(rows, values, strict=False):
        yield Content(in_row(formula, row), value, unit)
