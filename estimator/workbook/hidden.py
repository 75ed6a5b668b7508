"""A sheet that no one sees, held column by column: most cells of a job's workbook are on such ones.

They have no looks, so they need not be cells of openpyxl: they are written as text. Several lists
stand on one, one under another: a sheet more makes a file slower to open.
"""

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import Any

from openpyxl.utils import column_index_from_string, get_column_letter

from ..language.formulas import in_row
from ..language.units import Unit
from .cell_text import formula_cell, number_cell, plain, text_cell
from .content import Content, Filled
from .layout import WORDS_ABOVE
from .text_door import as_text

At = tuple[int, int]


class Block:
    """One list there: in its first row what it is, then headings, then columns of contents."""

    def __init__(self, sheet: "HiddenSheet", words: str, first: int) -> None:
        self.sheet, self.words, self.first = sheet, words, first
        self.heads: dict[str, str] = {}  # by the letter of the column
        self.columns: dict[str, Sequence[Content]] = {}  # the same, from left to right

    def add(self, letter: str, contents: Sequence[Content], head: str | None = None) -> None:
        """A column further to the right, from the block's first row down."""
        self.columns[letter] = contents
        if head is not None:
            self.heads[letter] = head
        number = column_index_from_string(letter)
        results, units = self.sheet.results, self.sheet.units
        if isinstance(contents, Filled):
            places = [(row, number) for row in self.rows_of(contents)]
            results.update(zip(places, contents.values, strict=True))
            units.update(dict.fromkeys(places, contents.unit))
            return
        for row, content in zip(self.rows_of(contents), contents, strict=True):
            if content.formula is not None:
                results[row, number] = content.value
                units[row, number] = content.unit

    def rows_of(self, contents: Sequence[Content]) -> range:
        """The rows in which a column's contents stand."""
        return range(self.first, self.first + len(contents))

    @property
    def last(self) -> int:
        """The last row of its longest column."""
        return self.first + max((len(c) for c in self.columns.values()), default=0) - 1

    def rows(self) -> Iterator[str]:
        """Every row as it stands in the file."""
        top, heads = self.first - WORDS_ABOVE, self.first - 1
        yield _row(top, text_cell(f'<c r="A{top}"', as_text(self.words)))
        if self.heads:
            cells = (text_cell(f'<c r="{a}{heads}"', as_text(h)) for a, h in self.heads.items())
            yield _row(heads, "".join(cells))
        columns = [self._written(letter, contents) for letter, contents in self.columns.items()]
        for row, found in enumerate(zip_longest(*columns, fillvalue=""), self.first):
            yield _row(row, "".join(found))

    def _written(self, letter: str, contents: Sequence[Content]) -> list[str]:
        """The cells of a column, from its first row down; nothing for what is blank."""
        if isinstance(contents, Filled):
            formula = plain(contents.formula)
            return [
                formula_cell(f'<c r="{letter}{row}"', in_row(formula, row), value)
                for row, value in zip(self.rows_of(contents), contents.values, strict=True)
            ]
        rows = zip(self.rows_of(contents), contents, strict=True)
        return [_cell(f'<c r="{letter}{row}"', content) for row, content in rows]


class HiddenSheet:
    """Blocks one under another."""

    def __init__(self) -> None:
        self.blocks: list[Block] = []
        self.results: dict[At, Any] = {}  # of every formula, by row and column
        self.units: dict[At, Unit] = {}

    def block(self, words: str, first: int) -> Block:
        """A new block, further down, whose contents begin in that row."""
        self.blocks.append(Block(self, words, first))
        return self.blocks[-1]

    @property
    def area(self) -> str:
        """From the first cell to the last row and to the widest block's last column."""
        widest = max(column_index_from_string(list(b.columns)[-1]) for b in self.blocks)
        return f"A1:{get_column_letter(widest)}{self.blocks[-1].last}"

    def values(self) -> set[Any]:
        """All that stands there as it is, not worked out."""
        found: set[Any] = set()
        for block in self.blocks:
            contents = (c for column in block.columns.values() for c in column)
            found |= {c.value for c in contents if c.formula is None}
            found |= {block.words, *block.heads.values()}
        return found - {None, ""}

    def rows(self) -> Iterator[str]:
        """Every row as it stands in the file. Raises ValueError for a text that no cell can hold."""
        for block in self.blocks:
            yield from block.rows()


def _row(number: int, inside: str) -> str:
    return f'<row r="{number}">{inside}</row>'


def _cell(at: str, content: Content) -> str:
    value = content.value
    if content.formula is not None:
        return formula_cell(at, plain(content.formula), value)
    if value is None or value == "":
        return ""
    return text_cell(at, as_text(value)) if isinstance(value, str) else number_cell(at, value)
