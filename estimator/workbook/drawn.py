"""Drawings on a sheet: each view as a chart of the cells that its points are worked out in."""

from typing import Any

from ..language.tables import Table
from ..pens.views import SIDE, Lines, View, Words
from .charts import Area, Drawing, Stroke, Word
from .contents import Contents
from .layout import on


def drawing(view: View, contents: Contents, at: tuple[int, int]) -> Drawing:
    """The view as a chart whose corner is in that row and column, counted from 1."""
    strokes = [_stroke(lines, contents) for lines in view.lines]
    words = [word for each in view.words for word in _words(each, contents)]
    return Drawing(view.title, view.told, strokes, words, at, SIDE)


def _stroke(lines: Lines, contents: Contents) -> Stroke:
    first, last = lines.rows or (1, len(contents.ledger.rows[lines.table]))
    x, y = (_area(lines.table, column, first, last, contents) for column in (lines.x, lines.y))
    return Stroke(lines.name, lines.style, x, y)


def _words(words: Words, contents: Contents) -> list[Word]:
    first, last = words.rows or (1, len(contents.ledger.rows[words.table]))
    found = []
    for row in range(first, last + 1):
        said, x, y = (
            _area(words.table, column, row, row, contents)
            for column in (words.says, words.x, words.y)
        )
        found.append(Word(said, x, y, "r" if words.ahead else "ctr", words.size, words.bold))
    return found


def _area(name: str, column: str, first: int, last: int, contents: Contents) -> Area:
    span = contents.layout.spans[name]
    letter, rows = span.letters[column], (span.first + first - 1, span.first + last - 1)
    cells = f"${letter}${rows[0]}" + (f":${letter}${rows[1]}" if first < last else "")
    table: Table = contents.plan.tables[name]
    values: list[Any] = [c.value for c in contents.column(table, column)[first - 1 : last]]
    return Area(f"{on(span.sheet)}!{cells}", values)
