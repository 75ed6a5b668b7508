"""The engine of a list: a hidden sheet that reads each row of a front by its place, and works it out.

What is typed stands on a front, in rows that a person may put in, take out, sort and paste. Row n
of the engine reads the n-th of them, so nothing that stands beside a typed cell can lose its
wiring. A row with a fault is told and counted, and has no mark here: so it needs nothing, and all
other rows go on being worked out.
"""

from collections.abc import Mapping
from typing import Any

from ..language.ledger import Ledger
from ..language.tables import ASSUMED, CHECKED, FAULT, OFFERED, POSITION, Input, Table
from ..language.units import EACH, FLAG, TEXT, Unit
from ..model.estimate import is_usable
from .guard_columns import is_name, usable
from .layout import RAW, SOUND, Layout

ROW_SOUND = SOUND + "row"
FIRST = 3  # its first row; above it stand the counts of the sheet, and what is asked of each column
_TYPED_ERROR = "?"  # what an error value on the front is read as


def raw(table: Table, item: Input) -> str:
    """The column that holds what stands on the front: a text's own, but for that of the marks."""
    return item.name if item.unit.text and item.name != table.key else RAW + item.name


def columns(table: Table) -> list[str]:
    """The columns of the engine, in their order."""
    read = [raw(table, i) for i in table.inputs]
    kept = [i.name for i in table.inputs if raw(table, i) != i.name]
    tests = [SOUND + i.name for i in table.inputs]
    rest = [c.name for c in table if not isinstance(c, Input)]
    return [POSITION, *read, *kept, *tests, ROW_SOUND, CHECKED, FAULT, *rest]


class Engine:
    """The columns that a list's engine has beyond the rules': their formulas and their results."""

    def __init__(self, table: Table, layout: Layout, ledger: Ledger) -> None:
        self.table, self.layout, self.ledger = table, layout, ledger
        span = layout.spans[table.name]
        self.count = span.last - span.first + 1
        self._by_raw = {raw(table, i): i for i in table.inputs}
        self._by_test = {SOUND + i.name: i for i in table.inputs}
        self._kept = {i.name: i for i in table.inputs if raw(table, i) != i.name}

    def unit(self, name: str) -> Unit:
        """The unit of one of these columns."""
        if name in (FAULT, *self._by_raw):
            return TEXT if name == FAULT else self._by_raw[name].unit
        return self._kept[name].unit if name in self._kept else FLAG if name != POSITION else EACH

    def formula(self, name: str) -> str | None:
        """The formula of one of these columns, its row left open; None where it is not one."""
        if name in self._by_raw:
            return self._raw(self._by_raw[name])
        if name in self._kept:
            own = self._own(RAW + name)
            if name == self.table.key:
                return f'IF({self._own(CHECKED)}=1,{own},"")'
            return f"IF(ISNUMBER({own}),{own},0)"
        if name in self._by_test:
            return self._test(self._by_test[name])
        if name == ROW_SOUND:
            return self._alone()
        if name == CHECKED:
            return f"IF({self._is_spare()},1,PRODUCT({self._tests()}))"
        if name == FAULT:
            asked = self._tests(FIRST - 1)
            return f'IF({self._own(CHECKED)}=1,"",INDEX({asked},MATCH(0,{self._tests()},0)))'
        return None

    def values(self, name: str) -> list[object]:
        """The results of one of these columns, for as many rows as the list has."""
        rows = range(self.count)
        if name in self._by_raw:
            return [self._raw_value(self._by_raw[name], n) for n in rows]
        if name in self._kept:
            if name == self.table.key:
                marks = (self._raw_value(self._kept[name], n) for n in rows)
                return [m if self._is_sound(n) else "" for n, m in enumerate(marks)]
            found = (self._raw_value(self._kept[name], n) for n in rows)
            return [v if isinstance(v, int | float) else 0 for v in found]
        if name in self._by_test:
            return [int(self._passes(self._by_test[name], n)) for n in rows]
        if name == ROW_SOUND:
            return [int(self._has_mark(n)) for n in rows]
        if name == CHECKED:
            return [int(self._is_sound(n)) for n in rows]
        return [self._words(n) for n in rows]

    def beyond(self) -> str:
        """How many cells are typed in rows that are more than the engine has."""
        names = [i.name for i in self.table.inputs]
        typed = [n for n in self.layout.fronts[self.table.name].letters if n in names]
        first, last = (self.layout.front_area(self.table.name, n) for n in (typed[0], typed[-1]))
        ends = f"INDEX({first},{self.count + 2}):INDEX({last},ROWS({last})-1)"
        return f"IF(ROWS({first})-2>{self.count},COUNTA({ends}),0)"

    def asked(self, name: str) -> str:
        """What is asked of a column, as it is told where it is not so."""
        if name in self._by_test:
            item = self._by_test[name]
            return f"{item.label}: {item.accepted}"
        return f"{self.table.column(self.table.key).label}: one of its own for each row"

    # ---- formulas ----

    def _own(self, column: str) -> str:
        return self.layout.own(self.table.name, column)

    def _raw(self, item: Input) -> str:
        area = self.layout.front_area(self.table.name, item.name)
        at = f"INDEX({area},{self._own(POSITION)}+1)"
        blank = f'{at}=""'
        if self.has_default(item):
            blank = f"({blank})+({at}={self._own(OFFERED + item.name)})>0"
        read = f'IF({blank},"",{at})'
        return f'IFERROR(IF({self._own(POSITION)}>ROWS({area})-2,"",{read}),"{_TYPED_ERROR}")'

    def _test(self, item: Input) -> str:
        cell = self._own(raw(self.table, item))
        if item.name == self.table.key:
            found = is_name(cell)
        else:
            found = usable(item, cell, self.table, self.layout) or "1"
        if not self.table.offers(item.name):
            return found
        offered = self._own(OFFERED + item.name)
        by_rule = item.unit.text and not item.choice_of  # one of its choices, or nothing
        there = f'({offered}<>"")*1' if by_rule else usable(item, offered, self.table, self.layout)
        return f'IF({cell}="",{there if item.required else 1},{found})'

    def _alone(self) -> str:
        """The mark is there, and no other row has it."""
        key = self.table.key
        cell = self._own(RAW + key)
        column = self.layout.whole(self.table.name, RAW + key, self.table.name)
        count = f"SUMPRODUCT(({column}={cell})*1)"
        if not self.table.offers(key):
            return f'IF({cell}="",0,({count}=1)*1)'
        offered = self.layout.whole(self.table.name, OFFERED + key, self.table.name)
        count += f"+SUMPRODUCT(({offered}={cell})*1)"
        return f'IF({cell}="",({self._own(OFFERED + key)}<>"")*1,({count}=1)*1)'

    def _is_spare(self) -> str:
        read = [self._own(raw(self.table, i)) for i in self.table.inputs]
        found = f'SUMPRODUCT(({read[0]}:{read[-1]}<>"")*1)=0'
        if self.table.offers(self.table.key):
            return f'({found})*({self._own(OFFERED + self.table.key)}="")=1'
        return found

    def _tests(self, row: int | None = None) -> str:
        letters = self.layout.spans[self.table.name].letters
        first, last = letters[SOUND + self.table.inputs[0].name], letters[ROW_SOUND]
        at = "{r}" if row is None else f"${row}"
        return f"${first}{at}:${last}{at}"

    # ---- results ----

    def has_default(self, item: Input) -> bool:
        """Whether the typed cell itself shows what the form says, until it is typed over."""
        return self.table.offers(item.name) and not self.table.has(item.name + ASSUMED)

    def offered(self, item: Input, n: int) -> object:
        """What the form says there; the empty text where it says nothing."""
        if not self.table.offers(item.name):
            return ""
        offered = self.ledger.column(self.table.name, OFFERED + item.name)
        return offered[n] if n < len(offered) else ""

    def _typed(self, n: int) -> Mapping[str, Any]:
        rows = self.ledger.rows[self.table.name]
        return rows[n] if n < len(rows) else {}

    def _raw_value(self, item: Input, n: int) -> object:
        typed = self._typed(n).get(item.name)
        if typed is None or (self.has_default(item) and typed == self.offered(item, n)):
            return ""
        return typed

    def _passes(self, item: Input, n: int) -> bool:
        if self._raw_value(item, n) == "" and self.offered(item, n) == "":
            # A row without a mark fails in ROW_SOUND: its mark is no wrong one.
            return not item.required or (
                item.name == self.table.key and not self.table.offers(item.name)
            )
        return is_usable(self.ledger, self.table, item, n)

    def _has_mark(self, n: int) -> bool:
        item = self.table.column(self.table.key)
        assert isinstance(item, Input)
        return self._raw_value(item, n) != "" or self.offered(item, n) != ""

    def _is_sound(self, n: int) -> bool:
        typed = any(v is not None for v in self._typed(n).values())
        if not typed and not self._has_mark(n):
            return True
        return self._has_mark(n) and all(self._passes(i, n) for i in self.table.inputs)

    def _words(self, n: int) -> str:
        if self._is_sound(n):
            return ""
        tests = [SOUND + i.name for i in self.table.inputs if not self._passes(i, n)]
        return self.asked((tests or [ROW_SOUND])[0])
