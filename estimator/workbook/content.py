"""What one cell of ours holds."""

from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from ..language.formulas import in_row
from ..language.units import Unit


class Content(NamedTuple):
    """A formula without its equals sign and its result; or no formula, and a value."""

    formula: str | None
    value: Any
    unit: Unit
    typed: bool = False  # by a person


def filled(
    formula: str, rows: Iterable[int], values: Iterable[Any], unit: Unit
) -> Iterator[Content]:
    """A formula whose row is open, in each row with its result."""
    for row, value in zip(rows, values, strict=False):
        yield Content(in_row(formula, row), value, unit)
