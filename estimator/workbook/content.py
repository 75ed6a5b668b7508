"""What one cell of ours holds, and what a column of them does."""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple, overload

from ..language.formulas import in_row
from ..language.units import Unit


class Content(NamedTuple):
    """A formula without its equals sign and its result; or no formula, and a value."""

    formula: str | None
    value: Any
    unit: Unit
    typed: bool = False  # by a person
    grows: bool = False  # its areas do, with rows that are put in: its text is not what it was


class Filled(Sequence[Content]):
    """A column of one formula: its row is open, and each row has its own result."""

    def __init__(self, formula: str, rows: range, values: Sequence[Any], unit: Unit) -> None:
        count = min(len(rows), len(values))
        self.formula, self.unit = formula, unit
        self.rows, self.values = rows[:count], values[:count]

    def __len__(self) -> int:
        """How many rows have a result."""
        return len(self.rows)

    @overload
    def __getitem__(self, at: int) -> Content: ...

    @overload
    def __getitem__(self, at: slice) -> "Filled": ...

    def __getitem__(self, at: "int | slice") -> "Content | Filled":
        """The content of a row counted from 0, or the column cut to some of its rows."""
        if isinstance(at, slice):
            return Filled(self.formula, self.rows[at], self.values[at], self.unit)
        return Content(in_row(self.formula, self.rows[at]), self.values[at], self.unit)

    def __iter__(self) -> Iterator[Content]:
        """The content of each row, from the first down."""
        for formula, value in self.pairs():
            yield Content(formula, value, self.unit)

    def pairs(self) -> Iterator[tuple[str, Any]]:
        """The formula and the result of each row, which is less than its content."""
        for row, value in zip(self.rows, self.values, strict=True):
            yield in_row(self.formula, row), value
