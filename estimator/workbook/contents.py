"""What every cell of ours holds, once it is known where things stand: written anew or refreshed."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from ..checks.counts import blanks_told, shorts_told
from ..language import NOT_AVAILABLE
from ..language.formulas import Formulas, in_row, with_own_rows
from ..language.ledger import AT, FROM, LINKS, Ledger
from ..language.tables import (
    CHECKED,
    FAULT,
    POSITION,
    Fixed,
    Input,
    Item,
    Linked,
    Offer,
    OwnRows,
    Table,
    Varied,
    Worked,
)
from ..language.units import EACH, FLAG, TEXT, Unit
from ..model.faults import TO_FIX, WATCHED
from ..model.places import (
    ENGINE_ROWS,
    PLACES,
    SHOWN_AGAIN,
    STANDS_AT,
    TYPED_CELL,
    place_rows,
)
from ..model.sound_rows import is_cell_usable
from ..pricing.refusals import ROWS_UNCHECKED, start_lists
from . import form_default, usable
from .content import Content, Filled
from .engine import TYPED_ERROR, Engine
from .layout import (
    CELL_ASKED,
    CELL_LED_TO,
    CELL_RAW,
    CELL_SHEET,
    CELL_SOUND,
    CELL_VALUE,
    Layout,
    cells_in_order,
    on,
)
from .watch_rows import PROBLEM_COUNT, link, sheet_named
from .watching import to_fix, unchecked, watched

START_LISTS = start_lists.__name__
_TOLD = f"{shorts_told.__name__}+{blanks_told.__name__}"
FIX = "Fix: "  # before what is wrong with a row, where it is typed


class Contents:
    """The content of each named cell and of each column of each list, row by row."""

    def __init__(self, ledger: Ledger, layout: Layout) -> None:
        self.ledger, self.layout, self.plan = ledger, layout, ledger.plan
        self.formulas = Formulas(self.plan, layout)
        self._engines: dict[str, Engine] = {}
        self._columns: dict[tuple[str, str], Sequence[Content]] = {}
        self._watching: dict[str, list[Content]] | None = None
        self._fixing: dict[str, list[Content]] | None = None

    def cell(self, name: str) -> Content:
        """The content of a named cell where its name is."""
        item = self.plan.cells.get(name) or self.plan.keyed_items[name]
        value = self.ledger.cell(name)
        if isinstance(item, Worked):
            return Content(self.formulas.cell(item), value, item.unit)
        if name == ROWS_UNCHECKED.name and self.layout.is_apart:
            return Content(unchecked(self.layout), value, item.unit)
        if name in self.layout.typed_cells:
            raw = self.layout.beside_cell(name, CELL_RAW)
            if item.unit.text:
                return Content(f'{raw}&""', value, item.unit)
            return Content(f"IF(ISNUMBER({raw}),{raw},0)", value or 0, item.unit)
        return Content(None, value, item.unit, isinstance(item, Input))

    def typed_cell(self, name: str) -> Content:
        """The content of a named cell where it is typed."""
        item = self.plan.cells[name]
        assert isinstance(item, Input)
        value = self._labelled(item, self.ledger.cell(name))
        return Content(None, value, item.unit, typed=True)

    def _labelled(self, item: Input, value: Any) -> Any:
        """A key as it is shown where it is typed: by the text of its list that stands for it."""
        if not item.shown_as:
            return value
        table, _, column = (item.choice_of or "").partition(".")
        keys, labels = (self.ledger.column(table, c) for c in (column, item.shown_as))
        return dict(zip(keys, labels, strict=True)).get(value, value)

    def cells(self) -> Iterator[tuple[str, Sequence[Content]]]:
        """The columns of the sheet of named cells, by their letters."""
        names = cells_in_order(self.plan)
        typed = [n for n in names if n in self.layout.typed_cells]
        yield "A", [Content(None, self.plan.cells[n].label, TEXT) for n in names]
        yield CELL_VALUE, [self.cell(n) for n in names]
        yield CELL_RAW, [self._cell_raw(n) for n in typed]
        yield CELL_SOUND, [self._cell_sound(n) for n in typed]
        asked = [i.asked for n in typed if isinstance(i := self.plan.cells[n], Input)]
        yield CELL_ASKED, [Content(None, words, TEXT) for words in asked]
        yield CELL_LED_TO, [self._cell_led_to(n) for n in typed]
        sheets = [self.layout.typed_cells[n][0] for n in typed]
        yield CELL_SHEET, [Content(None, sheet, TEXT, typed=True) for sheet in sheets]

    def led_to(self, name: str) -> str:
        """Where a named cell is typed, as a link says it."""
        sheet, address = self.layout.typed_cells[name]
        return f"#{on(sheet)}!{address.replace('$', '')}"

    def _cell_led_to(self, name: str) -> Content:
        sheet, address = self.layout.typed_cells[name]
        at, named = f"{on(sheet)}!{address}", self.layout.beside_cell(name, CELL_SHEET)
        formula = link(named, at)
        return Content(formula, self.led_to(name), TEXT)

    def _cell_raw(self, name: str) -> Content:
        sheet, address = self.layout.typed_cells[name]
        at = f"{on(sheet)}!{address}"
        value = self.ledger.cell(name)
        item = self.plan.cells[name]
        assert isinstance(item, Input)
        keyed = self.layout.keyed(item, at)
        formula = f'IFERROR(IF({at}="","",{keyed}),"{TYPED_ERROR}")'
        return Content(formula, "" if value is None else value, self.plan.cells[name].unit)

    def _cell_sound(self, name: str) -> Content:
        item = self.plan.cells[name]
        assert isinstance(item, Input)
        raw = self.layout.beside_cell(name, CELL_RAW)
        formula = f"({usable.formula(item, raw, self.layout)})*1"
        return Content(formula, int(is_cell_usable(item, self.ledger.cell(name))), FLAG)

    def again(self, name: str) -> Content:
        """The content of a cell that shows a named one: nothing where there is no figure."""
        item = self.plan.cells.get(name) or self.plan.keyed_items[name]
        value = self.ledger.cell(name)
        if name == START_LISTS:
            return self._led_to_start(value)
        if not self.layout.is_apart:  # a blank text would read as 0
            return Content(name + ('&""' if item.unit.text else ""), value, item.unit)
        return _shown(name, item.unit, value)

    def _led_to_start(self, value: Any) -> Content:
        """What the first sheet lists, as a link to its list; plain words where it lists nothing."""
        front = self.layout.fronts[TO_FIX.name]
        head = f"{on(front.sheet)}!${front.letters['where']}${front.first - 1}"
        to = link(sheet_named(self.layout, front.sheet), head)
        listed = f"{PROBLEM_COUNT}+{_TOLD}>0"
        formula = f'IF({listed},HYPERLINK({to},{START_LISTS}),{START_LISTS}&"")'
        return Content(formula, value, TEXT)

    def column(self, table: Table, name: str) -> Sequence[Content]:
        """The contents of a column, from the list's first row down to its last."""
        key = table.name, name
        if key not in self._columns:
            self._columns[key] = self._column(table, name)
        return self._columns[key]

    def _column(self, table: Table, name: str) -> Sequence[Content]:
        span = self.layout.spans[table.name]
        rows = range(span.first, span.last + 1)
        if self.layout.is_apart:
            if name == POSITION:
                return [Content(None, n, EACH) for n in range(1, len(rows) + 1)]
            engine = self.engine(table)
            formula = engine.formula(name)
            if formula is not None:
                return Filled(formula, rows, engine.values(name), engine.unit(name))
        if name == POSITION:
            formula = f"ROW()-ROW(${span.letters[POSITION]}${span.first - 1})"
            return Filled(formula, rows, range(1, len(rows) + 1), EACH)
        if table is PLACES:
            return list(self._places(name))[: len(rows)]
        if table is WATCHED:
            return self._watched()[name]
        if table is TO_FIX:
            return self._to_fix()[name]
        return self._item(table, table.column(name), rows)[: len(rows)]

    def front(self, table: Table, name: str) -> list[Content]:
        """The contents of a column of a front, from its first row down to its last."""
        front = self.layout.fronts[table.name]
        rows = range(front.last - front.first + 1)
        item = table.column(name) if table.has(name) else None
        if not isinstance(item, Input):
            return self._beside(table, name, item, len(rows))
        engine, key = self.engine(table), table.column(table.key)
        given = [r.get(name) for r in self.ledger.rows[table.name]][: len(rows)]
        given += [None] * (len(rows) - len(given))
        found = []
        for n, value in enumerate(given):
            default = None
            if value is None and n < table.rows_offered and engine.has_default(item):
                default = form_default.default(self.layout, table, name, n)
                assert isinstance(key, Input)
                value = "" if engine.offered(key, n) == "" else engine.offered(item, n)
            found.append(Content(default, self._labelled(item, value), item.unit, typed=True))
        return found

    def _beside(self, table: Table, name: str, item: Item | None, rows: int) -> list[Content]:
        """What stands beside what is typed: display only. In a list that grows it is found by the
        row it stands in; in one that comes with the program each row has its own."""
        if not table.grows and isinstance(item, Fixed) and table is not TO_FIX:
            values = self.ledger.column(table.name, name)
            return [Content(None, value, item.unit) for value in values]
        front, span = self.layout.fronts[table.name], self.layout.spans[table.name]
        if table.grows:
            at = f"ROW()-ROW(${front.letters[table.key]}${front.first - 1})"

            def read(column: str, n: int) -> str:
                return f"INDEX({self.layout.whole(table.name, column, '')},{at})"
        else:

            def read(column: str, n: int) -> str:
                return f"{on(span.sheet)}!${span.letters[column]}${span.first + n}"

        if name == FAULT:
            return [self._fault(table, read, n) for n in range(rows)]
        if name == POSITION:
            return [Content(at, n, EACH) for n in range(1, rows + 1)]
        if table is TO_FIX and name == "where":
            return [self._link(read, n) for n in range(rows)]
        assert item is not None
        keyed = table.is_guarded(name)
        contents = self.column(table, name)
        keys = self.column(table, table.key_in_use) if keyed else []
        found = []
        for n in range(rows):
            value = contents[n].value if n < len(contents) else ""
            spare = keyed and (n >= len(keys) or keys[n].value in ("", NOT_AVAILABLE))
            shown = _shown(read(name, n), item.unit, "" if spare else value)
            if keyed:
                key = read(table.key_in_use, n)
                formula = f'IFERROR(IF({key}="","",{shown.formula}),"")'
                shown = Content(formula, shown.value, item.unit)
            found.append(shown)
        return found

    def _fault(self, table: Table, read: Callable[[str, int], str], n: int) -> Content:
        faults = self.engine(table).values(FAULT)
        words, said = '""', ""
        if table.said:
            words = f'{read(table.said, n)}&""'
            column = self.ledger.column(table.name, table.said)
            said = column[n] if n < len(column) and column[n] is not NOT_AVAILABLE else ""
        fault = read(FAULT, n)
        formula = f'IFERROR(IF({fault}="",{words},"{FIX}"&{fault}),"")'
        found = faults[n] if n < len(faults) else ""
        return Content(formula, f"{FIX}{found}" if found else said, TEXT)

    def _link(self, read: Callable[[str, int], str], n: int) -> Content:
        """A list with something to fix, as a link that leads there."""
        where, to = read("where", n), read("leads_to", n)
        return Content(
            f'IF({to}="","",HYPERLINK({to},{where}))', self._to_fix()["where"][n].value, TEXT
        )

    def engine(self, table: Table) -> Engine:
        """What a list's engine holds beyond the columns of its rules."""
        if table.name not in self._engines:
            self._engines[table.name] = Engine(table, self.layout, self.ledger)
        return self._engines[table.name]

    def _watched(self) -> dict[str, list[Content]]:
        if self._watching is None:
            engines = [self.engine(t) for t in self.plan.tables.values() if t.inputs]
            self._watching = watched(engines, self)
        return self._watching

    def _to_fix(self) -> dict[str, list[Content]]:
        if self._fixing is None:
            problems = self.ledger.cell(PROBLEM_COUNT)
            self._fixing = to_fix(self._watched(), self.layout, problems)
        return self._fixing

    def _places(self, name: str) -> Iterator[Content]:
        layout = self.layout
        fronts = {name: span.letters for name, span in layout.fronts.items()}
        again = iter(layout.again)
        for row in place_rows(
            self.plan, fronts, layout.typed_cells, [n for n, _, _ in layout.again]
        ):
            listed, column = row["list"], row["column"]
            if name != STANDS_AT:
                yield Content(None, row[name], TEXT)
            elif listed == SHOWN_AGAIN:
                _, sheet, address = next(again)
                yield Content(f"ROWS({on(sheet)}!{address})", 1, EACH)
            elif listed == TYPED_CELL:
                sheet, address = layout.typed_cells[column]
                yield Content(f"ROWS({on(sheet)}!{address})", 1, EACH)
            elif column == ENGINE_ROWS:
                span = layout.spans[listed]
                area = layout.whole(listed, POSITION, "")
                yield Content(f"ROWS({area})", span.bottom - span.first + 1, EACH)
            else:
                front = layout.fronts[listed]
                area = layout.front_area(listed, column)
                yield Content(f"ROWS({area})", front.bottom - front.first + 2, EACH)

    def _item(self, table: Table, item: Item, rows: range) -> Sequence[Content]:
        values = self.ledger.column(table.name, item.name)
        if isinstance(item, Linked):
            return list(self._links(table, item, rows, values))
        if isinstance(item, Varied):
            cells = (
                (self.formulas.cell(item.row(n), in_list=True), v) for n, v in enumerate(values, 1)
            )
            varied = [Content(formula, value, item.unit) for formula, value in cells]
            return self._broken(table, varied) if table.broken else varied
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
            if self.layout.is_apart and table.apart and item.name == table.key_in_use:
                # A row that cannot be used has no mark, and so needs nothing.
                formula = f'IF({self.layout.own(table.name, CHECKED)}=1,{formula},"")'
            filled: Sequence[Content] = Filled(formula, rows, values, item.unit)
            own = [s for s in self.plan.sources(item, table) if isinstance(s, OwnRows)]
            if own:  # of one list, and so the same rows
                filled = self._with_own_rows(table, own[0], filled)
            return self._broken(table, filled) if table.broken else filled
        typed = isinstance(item, Input)
        values = values + [None] * (len(rows) - len(values))
        return [Content(None, value, item.unit, typed) for value in values]

    def _broken(self, table: Table, contents: Sequence[Content]) -> list[Content]:
        """A column whose spare rows are truly empty: a chart goes on with a line over all else."""
        keys = self.ledger.column(table.name, table.key)
        return [
            c if key != "" else Content(None, None, c.unit)
            for key, c in zip(keys, contents, strict=True)
        ]

    def _with_own_rows(
        self, table: Table, source: OwnRows, contents: Sequence[Content]
    ) -> list[Content]:
        """A column whose formula in each row reads rows of another list that are its own."""
        top, found = self.layout.spans[source.table].first, []
        for content, own in zip(contents, self.ledger.own_rows(table.name, source), strict=True):
            assert content.formula is not None
            assert own.stop > own.start
            formula = with_own_rows(content.formula, top + own.start, top + own.stop - 1)
            found.append(content._replace(formula=formula))
        return found

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


def _shown(cell: str, unit: Unit, value: Any) -> Content:
    """What is seen of a figure or text worked out elsewhere: nothing where there is none."""
    ending = '&""' if unit.text else ""
    shown = "" if value is NOT_AVAILABLE else value
    if shown is None:  # a blank
        shown = "" if unit.text else 0
    return Content(f'IFERROR({cell}{ending},"")', shown, unit)
