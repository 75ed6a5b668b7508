"""A sheet that no one sees, held column by column: most cells of a job's workbook are on such ones.

They have no looks, so they need not be cells of openpyxl: they are written as text.
"""

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import Any

from openpyxl.utils import column_index_from_string

from ..language.formulas import in_row
from ..language.units import Unit
from .cell_text import formula_cell, number_cell, plain, text_cell
from .content import Content, Filled
from .layout import CELLS_FIRST
from .text_door import as_text

_HEADS = CELLS_FIRST - 1
At = tuple[int, int]


class HiddenSheet:
    """In its first cell what it is for; then headings, and under them columns of contents."""

    def __init__(self, words: str) -> None:
        self.words = words
        self.heads: dict[str, str] = {}  # by the letter of the column
        self.columns: dict[str, Sequence[Content]] = {}  # the same, from left to right
        self.results: dict[At, Any] = {}  # of every formula, by row and column
        self.units: dict[At, Unit] = {}

    def add(self, letter: str, contents: Sequence[Content], head: str | None = None) -> None:
        """A column further to the right, from the row CELLS_FIRST down."""
        self.columns[letter] = contents
        if head is not None:
            self.heads[letter] = head
        number = column_index_from_string(letter)
        if isinstance(contents, Filled):
            places = [(row, number) for row in _rows(contents)]
            self.results.update(zip(places, contents.values, strict=True))
            self.units.update(dict.fromkeys(places, contents.unit))
            return
        for row, content in zip(_rows(contents), contents, strict=True):
            if content.formula is not None:
                self.results[row, number] = content.value
                self.units[row, number] = content.unit

    @property
    def area(self) -> str:
        """From the first cell to the last row of the longest column."""
        last = max((len(c) for c in self.columns.values()), default=0) + _HEADS
        return f"A1:{list(self.columns)[-1]}{last}"

    def values(self) -> set[Any]:
        """All that stands there as it is, not worked out."""
        contents = (c for column in self.columns.values() for c in column)
        found = {c.value for c in contents if c.formula is None}
        return {self.words, *self.heads.values(), *found} - {None, ""}

    def rows(self) -> Iterator[str]:
        """Every row as it stands in the file. Raises ValueError for a text that no cell can hold."""
        yield _row(1, text_cell('<c r="A1"', as_text(self.words)))
        heads = (text_cell(f'<c r="{a}{_HEADS}"', as_text(h)) for a, h in self.heads.items())
        if self.heads:
            yield _row(_HEADS, "".join(heads))
        columns = [_written(letter, contents) for letter, contents in self.columns.items()]
        for row, cells in enumerate(zip_longest(*columns, fillvalue=""), CELLS_FIRST):
            yield _row(row, "".join(cells))


def _rows(contents: Sequence[Content]) -> range:
    return range(CELLS_FIRST, CELLS_FIRST + len(contents))


def _row(number: int, inside: str) -> str:
    return f'<row r="{number}">{inside}</row>'


def _written(letter: str, contents: Sequence[Content]) -> list[str]:
    """The cells of a column, from its first row down; nothing for what is blank."""
    if isinstance(contents, Filled):
        formula = plain(contents.formula)
        return [
            formula_cell(f'<c r="{letter}{row}"', in_row(formula, row), value)
            for row, value in zip(_rows(contents), contents.values, strict=True)
        ]
    rows = zip(_rows(contents), contents, strict=True)
    return [_cell(f'<c r="{letter}{row}"', content) for row, content in rows]


def _cell(at: str, content: Content) -> str:
    value = content.value
    if content.formula is not None:
        return formula_cell(at, plain(content.formula), value)
    if value is None or value == "":
        return ""
    return text_cell(at, as_text(value)) if isinstance(value, str) else number_cell(at, value)
