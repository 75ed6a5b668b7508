"""A whole column in Python: arithmetic row by row, as a sheet does inside SUMPRODUCT.

A sum over the rows that meet some conditions is the language's commonest question, asked by
thousands of rows of the same columns. So a condition is kept as the set of rows that meet it (the
bits of a whole number), found through an index made once a column; a product with a condition
keeps only its rows. What comes out is, to the last bit, what row by row would give.
"""

import math
import operator
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator
from functools import cached_property
from itertools import accumulate
from typing import Any

from .missing import NOT_AVAILABLE

FEW = 12  # rows that are cheaper picked off a set one by one
KEPT = 64  # sums and products of a column with a single value that are remembered


class Many:
    """The values of one column, top to bottom. A blank counts as 0, or as "" among texts."""

    def __init__(self, values: Iterable[Any], holds_text: bool = False) -> None:
        blank: Any = "" if holds_text else 0
        given = list(values)
        self._given = [blank if v is None else v for v in given] if None in given else given
        self._done: dict[tuple[Any, ...], Many] = {}

    @cached_property
    def values(self) -> list[Any]:
        """Every row's."""
        return self._given

    def __iter__(self) -> Iterator[Any]:
        return iter(self.values)

    def __len__(self) -> int:
        return len(self.values)

    def __add__(self, other: Any) -> "Many":
        return row_by_row(operator.add, self, other)

    def __radd__(self, other: Any) -> "Many":
        return row_by_row(operator.add, other, self)

    def __sub__(self, other: Any) -> "Many":
        return row_by_row(operator.sub, self, other)

    def __rsub__(self, other: Any) -> "Many":
        return row_by_row(operator.sub, other, self)

    def __mul__(self, other: Any) -> "Many":
        if isinstance(other, Picked):
            return other * self
        return row_by_row(operator.mul, self, other)

    def __rmul__(self, other: Any) -> "Many":
        return row_by_row(operator.mul, other, self)

    def __truediv__(self, other: Any) -> "Many":
        return row_by_row(operator.truediv, self, other)

    def __rtruediv__(self, other: Any) -> "Many":
        return row_by_row(operator.truediv, other, self)

    @cached_property
    def has_gap(self) -> bool:
        """Whether any of its figures is not available: then nothing of all its rows is."""
        return NOT_AVAILABLE in self.values

    def total(self) -> Any:
        """The sum of all rows."""
        return NOT_AVAILABLE if self.has_gap else math.fsum(self.values)

    def largest(self) -> Any:
        """The largest figure, none below 0."""
        return NOT_AVAILABLE if self.has_gap else max((0.0, *self.values))

    def smallest(self, met: "Rows", beyond: float) -> Any:
        """The smallest figure in those rows; where there are none, that of all, so far beyond."""
        if self.has_gap:
            return NOT_AVAILABLE
        if met.rows:
            return min(picked(met, self).kept)
        return beyond + min(self.values) if self.values else beyond

    def same_as(self, value: Any) -> "Many":
        """1 for the rows that hold that text, whatever its capitals, or that whole number."""
        if self.has_gap or value is NOT_AVAILABLE:
            return lost(len(self))
        return Rows(len(self), self._index.get(_plain(value), 0))

    def first_row(self, value: Any) -> Any:
        """The first row that holds that text or whole number, counted from 1; 0 if none."""
        if value is NOT_AVAILABLE:
            return 0
        rows = self._index.get(_plain(value), 0)
        return (rows & -rows).bit_length()

    def below(self, value: Any, hair: float, or_equal: bool) -> "Many":
        """1 for the rows that are less than a value and a hair (below 0 for a hair less)."""
        if self.has_gap or value is NOT_AVAILABLE:
            return lost(len(self))
        ordered, sets = self._in_order(0.0)
        place = (bisect_right if or_equal else bisect_left)(ordered, value + hair)
        return Rows(len(self), sets[place])

    def above(self, value: Any, hair: float, or_equal: bool) -> "Many":
        """1 for the rows that a value is less than, when a hair is added to each row."""
        if self.has_gap or value is NOT_AVAILABLE:
            return lost(len(self))
        ordered, sets = self._in_order(hair)
        place = (bisect_left if or_equal else bisect_right)(ordered, value)
        return Rows(len(self), sets[-1] ^ sets[place])

    @cached_property
    def _index(self) -> dict[Any, int]:
        found: dict[Any, int] = {}
        for n, value in enumerate(self.values):
            key = _plain(value)
            found[key] = found.get(key, 0) | 1 << n
        return found

    def _in_order(self, added: float) -> tuple[list[Any], list[int]]:
        """The values in rising order, each with so much added, and the set of rows before each."""
        if added not in self._orders:
            values = [v + added for v in self.values] if added else self.values
            places = sorted(range(len(values)), key=values.__getitem__)
            sets = [0, *accumulate((1 << n for n in places), operator.or_)]
            self._orders[added] = [values[n] for n in places], sets
        return self._orders[added]

    @cached_property
    def _orders(self) -> dict[float, tuple[list[Any], list[int]]]:
        return {}


class Rows(Many):
    """1 for the rows of a set, 0 for the others: which rows meet a condition."""

    def __init__(self, length: int, rows: int) -> None:
        self.length, self.rows = length, rows
        self._done = {}

    has_gap = False

    @cached_property
    def values(self) -> list[Any]:
        """1 or 0 for every row."""
        if not self.rows:
            return [0.0] * self.length
        return [1.0 if c == "1" else 0.0 for c in f"{self.rows:0{self.length}b}"[::-1]]

    def __len__(self) -> int:
        return self.length

    def total(self) -> Any:
        """How many rows meet it."""
        return float(self.rows.bit_count())

    def largest(self) -> Any:
        """1 where any row meets it."""
        return 1.0 if self.rows else 0.0

    def __mul__(self, other: Any) -> Many:
        if not isinstance(other, Many):
            return row_by_row(operator.mul, self, other)
        _alike(self, other)
        if isinstance(other, Rows):
            return Rows(self.length, self.rows & other.rows)
        if isinstance(other, Picked):
            return other * self
        return lost(self.length) if other.has_gap else picked(self, other)

    def __add__(self, other: Any) -> Many:
        if isinstance(other, Rows) and not self.rows & other.rows:
            return self.either(other)  # no row is of both
        return row_by_row(operator.add, self, other)

    def either(self, other: "Rows") -> "Rows":
        """1 for the rows of one set or the other."""
        _alike(self, other)
        return Rows(self.length, self.rows | other.rows)


class Picked(Many):
    """Some rows of a column, by their numbers; the others are 0."""

    def __init__(self, length: int, rows: list[int], kept: list[Any]) -> None:
        self.length, self.rows, self.kept = length, rows, kept
        self._done = {}

    has_gap = False

    @cached_property
    def values(self) -> list[Any]:
        """Every row's, those that are not picked as 0."""
        found: list[Any] = [0.0] * self.length
        for n, value in zip(self.rows, self.kept, strict=True):
            found[n] = value
        return found

    def __len__(self) -> int:
        return self.length

    def total(self) -> Any:
        """The sum of the rows picked."""
        return math.fsum(self.kept)

    def largest(self) -> Any:
        """The largest of the rows picked, none below 0."""
        return max((0.0, *self.kept))

    def __mul__(self, other: Any) -> Many:
        if not isinstance(other, Many):
            return row_by_row(operator.mul, self, other)
        _alike(self, other)
        if other.has_gap:
            return lost(self.length)
        if isinstance(other, Rows):
            met = other.rows
            pairs = [p for p in zip(self.rows, self.kept, strict=True) if met >> p[0] & 1]
            return Picked(self.length, [n for n, _ in pairs], [v for _, v in pairs])
        values = other.values
        kept = [v * values[n] for n, v in zip(self.rows, self.kept, strict=True)]
        return Picked(self.length, self.rows, kept)


def picked(rows: Rows, column: Many) -> Picked:
    """The rows of a set out of a column."""
    numbers = _numbers(rows.rows)
    values = column.values
    return Picked(rows.length, numbers, [values[n] * 1.0 for n in numbers])


def rows_where(work: Callable[[Any, Any], bool], left: Many, right: Many) -> Many:
    """1 for the rows for which a comparison of two columns holds."""
    _alike(left, right)
    if left.has_gap or right.has_gap:
        return lost(len(left))
    met = "".join(
        "1" if work(a, b) else "0" for a, b in zip(left.values, right.values, strict=True)
    )
    return Rows(len(left), int(met[::-1] or "0", 2))


def lost(length: int) -> Many:
    """A column of which nothing can be said."""
    return Many([NOT_AVAILABLE] * length)


def row_by_row(work: Callable[[Any, Any], Any], left: Any, right: Any) -> Many:
    """`work` on each row; a single value stands beside every row."""
    if isinstance(left, Many) and isinstance(right, Many):
        _alike(left, right)
        if work is operator.mul and isinstance(right, Rows):
            return right * left
        return Many(map(work, left.values, right.values))
    column, value = (left, right) if isinstance(left, Many) else (right, left)
    key = (work, column is left, type(value), value)
    found = column._done.get(key)
    if found is None:
        if column is left:
            found = Many([work(v, value) for v in column.values])
        else:
            found = Many([work(value, v) for v in column.values])
        if len(column._done) >= KEPT:
            column._done.clear()
        column._done[key] = found
    return found


def _alike(one: Many, other: Many) -> None:
    if len(one) != len(other):
        raise ValueError(f"columns of {len(one)} and {len(other)} rows do not stand side by side")


def _plain(value: Any) -> Any:
    return value.lower() if isinstance(value, str) else value


def _numbers(rows: int) -> list[int]:
    if rows.bit_count() > FEW:
        return [n for n, c in enumerate(f"{rows:b}"[::-1]) if c == "1"]
    found = []
    while rows:
        lowest = rows & -rows
        found.append(lowest.bit_length() - 1)
        rows ^= lowest
    return found
