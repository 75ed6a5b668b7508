"""The engine of a list: a hidden sheet that reads each row of its front, and works it out.

What is typed stands on a front. Of a list that grows, row n of the engine reads the n-th row there,
so that rows may be put in, taken out, sorted and pasted; of one that comes with the program, the row
that bears its number. Nothing that stands beside a typed cell can lose its wiring. A row with a
fault is told and counted. In a list that grows it has no mark here: so it needs nothing, and all
other rows go on being worked out.
"""

from functools import cached_property

from ..language.helpers import where
from ..language.ledger import Ledger
from ..language.tables import ASSUMED, CHECKED, FAULT, OFFERED, POSITION, Input, Table
from ..language.tracing import Ref, as_ref
from ..language.units import EACH, FLAG, TEXT, Unit
from ..model.sound_rows import is_usable
from ..model.usable import is_empty, mark_usable, usable, usable_or_offered
from .layout import RAW, ROW_SOUND, SOUND, STANDS, Layout, raw_of
from .usable import around

TYPED_ERROR = " "  # what an error value on the front is read as: no column can use a blank


class Engine:
    """The columns that a list's engine has beyond the rules': their formulas and their results."""

    def __init__(self, table: Table, layout: Layout, ledger: Ledger) -> None:
        self.table, self.layout, self.ledger = table, layout, ledger
        span = layout.spans[table.name]
        self.count = span.last - span.first + 1
        self._by_raw = {raw_of(table, i): i for i in table.inputs}
        self._by_test = {SOUND + i.name: i for i in table.inputs}
        self._kept = {i.name: i for i in table.inputs if raw_of(table, i) != i.name}
        key = table.column(table.key)
        self._key = key if isinstance(key, Input) else None  # where a person types the marks
        # Results, each worked out once: by the typed column what it reads, what it passes.
        self._raws: dict[str, list[object]] = {}
        self._passed: dict[str, list[bool]] = {}

    def unit(self, name: str) -> Unit:
        """The unit of one of these columns."""
        if name in (FAULT, *self._by_raw):
            return TEXT if name == FAULT else self._by_raw[name].unit
        if name in self._kept:
            return self._kept[name].unit
        return EACH if name in (POSITION, STANDS) else FLAG

    def formula(self, name: str) -> str | None:
        """The formula of one of these columns, its row left open; None where it is not one."""
        if name in self._by_raw:
            return self._raw(self._by_raw[name])
        if name in self._kept:
            return self._kept_formula(self._kept[name])
        if name in self._by_test:
            return self._test(self._by_test[name])
        if not self.table.inputs:
            return None
        if name == STANDS:
            area = self.layout.front_area(self.table.name, POSITION)
            return f"IFERROR(MATCH({self._own(POSITION)},{area},0),0)"
        if name == ROW_SOUND:
            return self._row_sound()
        if name == CHECKED:
            tests = f"PRODUCT({self._tests()})"
            return f"IF({self._is_spare()},1,{tests})" if self._key else tests
        if name == FAULT:
            asked = self._tests(self.layout.spans[self.table.name].first - 1)
            return f'IF({self._own(CHECKED)}=1,"",INDEX({asked},1,MATCH(0,{self._tests()},0)))'
        return None

    def values(self, name: str) -> list[object]:
        """The results of one of these columns, for as many rows as the list has."""
        if name in self._by_raw:
            return self._raw_values(self._by_raw[name])
        if name in self._kept:
            found = self._raw_values(self._kept[name])
            if name != self.table.key:
                return [v if isinstance(v, int | float) else 0 for v in found]
            drops = self.table.apart
            sound = zip(found, self._sound, strict=True)
            return [mark if not drops or is_sound else "" for mark, is_sound in sound]
        if name in self._by_test:
            return [int(passes) for passes in self._passes(self._by_test[name])]
        if name == STANDS:
            # The area begins in the row above the first.
            return [*range(2, self.count + 2)]
        if name == ROW_SOUND:
            return [int(has) for has in self._has_mark]
        if name == CHECKED:
            return [int(is_sound) for is_sound in self._sound]
        return [*self._words]

    def asked(self, name: str) -> str:
        """What is asked of a column, as it is told where it is not so."""
        if name in self._by_test:
            return self._by_test[name].asked
        if not self.table.apart:
            return "the row is gone, or is there twice: take it from an earlier copy of the file"
        return f"{self.table.column(self.table.key).label}: one of its own for each row"

    def faults(self) -> list[tuple[int, str]]:
        """The rows that cannot be used, counted from 1, with what is asked of each."""
        words = zip(self._words, self._sound, strict=True)
        return [(n, asked) for n, (asked, is_sound) in enumerate(words, 1) if not is_sound]

    def shown(self, name: str, n: int) -> object:
        """What a person sees in that column in row n (from 0): typed, offered or as it comes."""
        item = self.table.column(name)
        if not isinstance(item, Input):
            return self.ledger.column(self.table.name, name)[n]
        value = self._raw_values(item)[n]
        return value if value != "" else self.offered(item, n)

    # ---- formulas ----

    def _own(self, column: str) -> str:
        return self.layout.own(self.table.name, column)

    def _raw(self, item: Input) -> str:
        area = self.layout.front_area(self.table.name, item.name)
        if not self.table.apart:
            at = f"INDEX({area},{self._own(STANDS)})"
            read = f'IF({self._own(STANDS)}=0,"",IF({at}="","",{at}))'
            return f'IFERROR({read},"{TYPED_ERROR}")'
        at = f"INDEX({area},{self._own(POSITION)}+1)"
        blank = f'{at}=""'
        if self.has_default(item):
            blank = f"({blank})+({at}={self._own(OFFERED + item.name)})>0"
        read = f'IF({blank},"",{self.layout.keyed(item, at)})'
        return f'IFERROR(IF({self._own(POSITION)}>ROWS({area})-2,"",{read}),"{TYPED_ERROR}")'

    def _kept_formula(self, item: Input) -> str:
        own = self._own(RAW + item.name)
        if item.name != self.table.key:
            return f"IF(ISNUMBER({own}),{own},0)"
        return f'IF({self._own(CHECKED)}=1,{own},"")' if self.table.apart else f'{own}&""'

    def _test(self, item: Input) -> str:
        # As a number: what adds up or multiplies a range takes no notice of TRUE and FALSE.
        return f"({self._true_where_usable(item).text})*1"

    def _true_where_usable(self, item: Input) -> Ref:
        cell = Ref(self._own(raw_of(self.table, item)))
        offers = self.table.offers(item.name)
        offered = Ref(self._own(OFFERED + item.name)) if offers else None
        beside = around(item, self.table, self.layout)
        if item is self._key:
            found = mark_usable(cell, offered)
            if not self.table.apart:
                found = where(is_empty(cell), 1, found)
        elif offered is not None:
            found = usable_or_offered(item, cell, offered, beside)
        else:
            found = usable(item, cell, beside)
        return as_ref(found)

    def _row_sound(self) -> str:
        """The row is there once, and its mark is its own."""
        there = ""
        if not self.table.apart:
            area = self.layout.front_area(self.table.name, POSITION)
            there = f"(SUMPRODUCT(({area}={self._own(POSITION)})*1)=1)"
            if self._key is None:
                return f"{there}*1"
        key = self.table.key
        cell = self._own(RAW + key)
        column = self.layout.whole(self.table.name, RAW + key, self.table.name)
        count = f"SUMPRODUCT(({column}={cell})*1)"
        if there:
            return f'{there}*IF({cell}="",0,({count}=1)*1)'
        if not self.table.offers(key):
            return f'IF({cell}="",0,({count}=1)*1)'
        offered = self.layout.whole(self.table.name, OFFERED + key, self.table.name)
        count += f"+SUMPRODUCT(({offered}={cell})*1)"
        return f'IF({cell}="",({self._own(OFFERED + key)}<>"")*1,({count}=1)*1)'

    def _is_spare(self) -> str:
        read = [self._own(raw_of(self.table, i)) for i in self.table.inputs]
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

    def _raw_values(self, item: Input) -> list[object]:
        if item.name not in self._raws:
            rows = self.ledger.rows[self.table.name][: self.count]
            found = [row.get(item.name) for row in rows]
            found += [None] * (self.count - len(found))
            shows = self.has_default(item)  # what is typed is then what differs from it
            self._raws[item.name] = [
                "" if v is None or (shows and v == self.offered(item, n)) else v
                for n, v in enumerate(found)
            ]
        return self._raws[item.name]

    def _passes(self, item: Input) -> list[bool]:
        if item.name not in self._passed:
            self._passed[item.name] = [
                is_usable(self.ledger, self.table, item, n) for n in range(self.count)
            ]
        return self._passed[item.name]

    @cached_property
    def _has_mark(self) -> list[bool]:
        item = self._key
        if item is None:
            return [True] * self.count
        marks = enumerate(self._raw_values(item))
        return [mark != "" or self.offered(item, n) != "" for n, mark in marks]

    @cached_property
    def _is_typed_in(self) -> list[bool]:
        rows = self.ledger.rows[self.table.name][: self.count]
        found = [any(v is not None for v in row.values()) for row in rows]
        return found + [False] * (self.count - len(found))

    @cached_property
    def _sound(self) -> list[bool]:
        columns = [self._passes(i) for i in self.table.inputs]
        return [
            all(column[n] for column in columns) if has_mark else bool(self._key) and not is_typed
            for n, (has_mark, is_typed) in enumerate(
                zip(self._has_mark, self._is_typed_in, strict=True)
            )
        ]

    @cached_property
    def _words(self) -> list[str]:
        return ["" if is_sound else self._asked_of(n) for n, is_sound in enumerate(self._sound)]

    def _asked_of(self, n: int) -> str:
        tests = [SOUND + i.name for i in self.table.inputs if not self._passes(i)[n]]
        return self.asked((tests or [ROW_SOUND])[0])
