"""Drawings on a sheet: each view as a chart of the cells that its points are worked out in, or of
points of its own.
"""

from typing import Any

from ..language import rounding
from ..language.ledger import Ledger
from ..language.tables import Table
from ..pens.views import SIDE, Lines, Point, View, Words
from .charts import Area, Drawing, Stroke, Word
from .contents import Contents
from .layout import on


def drawing(view: View, contents: Contents, at: tuple[int, int]) -> Drawing:
    """The view as a chart whose corner is in that row and column, counted from 1."""
    strokes = [_stroke(lines, contents) for lines in view.lines]
    words = [word for each in view.words for word in _words(each, contents)]
    return Drawing(view.title, view.told, strokes, words, at, SIDE)


def still(view: View, ledger: Ledger, title: str, at: tuple[int, int]) -> Drawing:
    """The view as it is now, in a chart that reads no cells; its points to two decimals.

    The longest line is first: LibreOffice 7.4 loses each that has a longer one after it.
    """
    strokes = [
        Stroke(lines.name, lines.style, *_own(*stroke))
        for lines in view.lines
        for stroke in lines.strokes(ledger)
    ]
    strokes.sort(key=lambda stroke: -len(stroke.x.values))
    words = [
        Word(Area("", [text]), *_own(point), _place(words), words.size, words.bold)
        for words in view.words
        for _, point, text in words.each(ledger)
        if text.strip()
    ]
    return Drawing(title, view.told, strokes, words, at, SIDE)


def _own(*points: Point) -> tuple[Area, Area]:
    """How far points are from the left and from below, as figures of the chart's own."""
    across, up = zip(*points, strict=True)
    first, second = (
        Area("", [float(rounding.to_places(v, 2)) for v in each]) for each in (across, up)
    )
    return first, second


def _place(words: Words) -> str:
    return "r" if words.ahead else "ctr"


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
        found.append(Word(said, x, y, _place(words), words.size, words.bold))
    return found


def _area(name: str, column: str, first: int, last: int, contents: Contents) -> Area:
    span = contents.layout.spans[name]
    letter, rows = span.letters[column], (span.first + first - 1, span.first + last - 1)
    cells = f"${letter}${rows[0]}" + (f":${letter}${rows[1]}" if first < last else "")
    table: Table = contents.plan.tables[name]
    values: list[Any] = [c.value for c in contents.column(table, column)[first - 1 : last]]
    return Area(f"{on(span.sheet)}!{cells}", values)
