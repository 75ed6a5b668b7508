"""A whole column in Python: arithmetic row by row, as a sheet does inside SUMPRODUCT."""

import operator
from collections.abc import Callable, Iterable, Iterator
from typing import Any


class Many:
    """The values of one column, top to bottom. A blank counts as 0, or as "" among texts."""

    __slots__ = ("values",)
    __hash__ = None  # type: ignore[assignment]

    def __init__(self, values: Iterable[Any], holds_text: bool = False) -> None:
        blank: Any = "" if holds_text else 0
        self.values = tuple(blank if v is None else v for v in values)

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
        return row_by_row(operator.mul, self, other)

    def __rmul__(self, other: Any) -> "Many":
        return row_by_row(operator.mul, other, self)

    def __truediv__(self, other: Any) -> "Many":
        return row_by_row(operator.truediv, self, other)

    def __rtruediv__(self, other: Any) -> "Many":
        return row_by_row(operator.truediv, other, self)


def row_by_row(work: Callable[[Any, Any], Any], left: Any, right: Any) -> Many:
    """`work` on each row; a single value stands beside every row."""
    if isinstance(left, Many) and isinstance(right, Many):
        return Many(work(a, b) for a, b in zip(left, right, strict=True))
    if isinstance(left, Many):
        return Many(work(a, right) for a in left)
    return Many(work(left, b) for b in right)
