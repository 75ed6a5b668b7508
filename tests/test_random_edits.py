"""A workbook edited at random in LibreOffice, as a tired person would: after each edit the sheet shows
the total that the core works out from what stands there, or none, and says what is to be fixed.

The short run takes one session of ten edits, the long run ten; RANDOM_EDITS asks for more sessions:
a hundred are a thousand edits. `also_gnumeric` sessions start from a file that Gnumeric saved.
"""

import os
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl.utils import column_index_from_string, get_column_letter

from estimator.errors import EstimateError, FileError
from estimator.language import NOT_AVAILABLE
from estimator.language.tables import POSITION
from estimator.model.estimate import estimate
from estimator.model.plan import plan
from estimator.workbook.layout import Layout, Span
from estimator.workbook.reading.inputs import read_checked

from .conftest import LONG
from .hosts import by_gnumeric, drive
from .made import made

pytestmark = pytest.mark.host

SESSIONS = int(os.environ.get("RANDOM_EDITS", "10" if LONG else "1"))
EDITS = 10  # one after another in each session
REFUSED = "#N/A"
LISTS = ("zones", "edges", "walls", "openings", "abutments", "book", "work_lines")
SHIPPED = ("allowances", "lines", "materials", "suppliers")
TYPED = (-3, 0, 0.001, 1, 2.4, 99, 1e6, "oops", "W1", "Z1", "new wall", None, "20%", "=1/0")
FORMULAS = ("=2.4+0.3", "=Walls!$H$9", '=""', "=IF(1=1,3,4)")

Step = list[Any]


class Hand:
    """One person's edits of one workbook, drawn from a seed. Rows are where they stood at first."""

    def __init__(self, layout: Layout, seed: int) -> None:
        self.layout, self.r = layout, random.Random(f"edits {seed}")

    def edit(self) -> list[Step]:
        """The steps of one edit."""
        kinds = (
            *(self.insert, self.delete, self.clear, self.order, self.cut, self.paste),
            *(self.fill_down, self.type_in, self.type_in, self.formula, self.from_elsewhere),
            *(self.order_shipped, self.type_beside),
        )
        return self.r.choice(kinds)()

    def _span(self) -> tuple[str, Span]:
        name = self.r.choice(LISTS)
        return name, self.layout.fronts[name]

    def _row(self, span: Span) -> int:
        return self.r.randint(span.first, span.last)

    def _area(self, name: str, span: Span, first: int, last: int) -> str:
        typed = {i.name for i in plan().tables[name].inputs}
        numbers = sorted(
            column_index_from_string(at) for n, at in span.letters.items() if n in typed
        )
        left = numbers[0]
        right = left
        while right + 1 in numbers:  # those that stand side by side
            right += 1
        return f"{span.sheet}!{get_column_letter(left)}{first}:{get_column_letter(right)}{last}"

    def _cell(self) -> str:
        name, span = self._span()
        item = self.r.choice([i for i in plan().tables[name].inputs if i.name in span.letters])
        return f"{span.sheet}!{span.letters[item.name]}{self._row(span)}"

    def insert(self) -> list[Step]:
        _, span = self._span()
        return [["insert_row", span.sheet, self.r.randint(span.first, span.bottom)]]

    def delete(self) -> list[Step]:
        _, span = self._span()
        return [["delete_row", span.sheet, self._row(span)]]

    def clear(self) -> list[Step]:
        name, span = self._span()
        row = self._row(span)
        cells = self._area(name, span, row, row).partition("!")[2].split(":")
        ends = [column_index_from_string(c.rstrip("0123456789")) for c in cells]
        return [
            ["set", f"{span.sheet}!{get_column_letter(n)}{row}", None]
            for n in range(ends[0], ends[1] + 1)
        ]

    def order(self) -> list[Step]:
        name, span = self._span()
        area = self._area(name, span, span.first, span.last)
        return [["sort", area, self.r.randint(0, 3), self.r.random() < 0.5]]

    def cut(self) -> list[Step]:
        name, span = self._span()
        here, there = self._row(span), self._row(span)
        area = self._area(name, span, here, here)
        return [["move", area, self._area(name, span, there, there)]]

    def paste(self) -> list[Step]:
        name, span = self._span()
        here, there = self._row(span), self._row(span)
        area = self._area(name, span, here, here)
        return [["copy", area, self._area(name, span, there, there)]]

    def fill_down(self) -> list[Step]:
        name, span = self._span()
        item = self.r.choice([i for i in plan().tables[name].inputs if i.name in span.letters])
        letter, row = span.letters[item.name], self.r.randint(span.first, span.last - 1)
        return [["copy", f"{span.sheet}!{letter}{row}", f"{span.sheet}!{letter}{row + 1}"]]

    def type_in(self) -> list[Step]:
        return [["set", self._cell(), self.r.choice(TYPED)]]

    def formula(self) -> list[Step]:
        return [["type", self._cell(), self.r.choice(FORMULAS)]]

    def from_elsewhere(self) -> list[Step]:
        other = self.layout.fronts["lines"]
        row = self.r.randint(other.first, other.last)
        return [["copy", f"{other.sheet}!B{row}:E{row}", self._cell()]]

    def order_shipped(self) -> list[Step]:
        span = self.layout.fronts[self.r.choice(SHIPPED)]
        letters = sorted(span.letters.values(), key=column_index_from_string)
        area = f"{span.sheet}!{letters[0]}{span.first}:{letters[-1]}{span.last}"
        return [["sort", area, 1, self.r.random() < 0.5]]

    def type_beside(self) -> list[Step]:
        name = self.r.choice(SHIPPED)
        span = self.layout.fronts[name]
        item = self.r.choice(plan().tables[name].inputs)
        at = f"{span.sheet}!{span.letters[item.name]}{self._row(span)}"
        return [["set", at, self.r.choice(TYPED)]]


def _core(path: Path) -> Any:
    """The total of what stands in the file, or why the core has none."""
    try:
        total = estimate(read_checked(path).job).cell("quote_total")
    except EstimateError as error:
        return error
    return REFUSED if total is NOT_AVAILABLE else total


def _sessions() -> Iterator[tuple[str, bool, int]]:
    for seed in range(SESSIONS):
        yield ("demo", "form")[seed % 2], seed % 5 == 4, seed


@pytest.mark.parametrize(("name", "also_gnumeric", "seed"), list(_sessions()))
def test_no_total_is_ever_silently_wrong(
    name: str, also_gnumeric: bool, seed: int, tmp_path: Path
) -> None:
    case = made(name)
    start = case.written(tmp_path)
    if also_gnumeric:
        start = by_gnumeric([start], tmp_path / "gnumeric")[case.name]
    hand, steps, done = Hand(case.built.layout, seed), list[Step](), list[str]()
    for n in range(EDITS):
        edit = hand.edit()
        done.append(str(edit))
        steps += [*edit, ["get", "quote_total"], ["get", "problem_count"]]
        steps.append(["save", str(tmp_path / f"{n}.xlsx")])
    answers = [a for a in drive(start, steps) if a is not None]
    for n, (total, problems) in enumerate(zip(answers[::2], answers[1::2], strict=True)):
        core = _core(tmp_path / f"{n}.xlsx")
        told = f"after {done[: n + 1]}: the sheet shows {total}, the core {core}"
        if total == REFUSED:
            assert problems == REFUSED or problems > 0, told
        elif not isinstance(core, FileError):  # the file is damaged, and the core says so
            assert core == total, told


def test_a_hand_does_each_kind_of_edit() -> None:
    """Else the sessions would prove less than they say."""
    hand = Hand(made("demo").built.layout, 0)
    first = {hand.edit()[0][0] for _ in range(200)}
    assert first == {"insert_row", "delete_row", "set", "sort", "move", "copy", "type"}
    assert POSITION in made("demo").built.layout.fronts["allowances"].letters
